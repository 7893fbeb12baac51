//! The form of a date as a map writes it, in letters or as strftime does.

use super::Part;

/// Friendly notation, the longest first.
const NOTATION: &[(&str, Part)] = &[
    ("YYYY", Part::Year),
    ("YY", Part::ShortYear),
    ("MMMM", Part::MonthName),
    ("MMM", Part::MonthName),
    ("MM", Part::Month),
    ("M", Part::Month),
    ("dddd", Part::Weekday),
    ("ddd", Part::Weekday),
    ("DD", Part::Day),
    ("D", Part::Day),
    ("HH", Part::Hour),
    ("H", Part::Hour),
    ("hh", Part::HalfDayHour),
    ("h", Part::HalfDayHour),
    ("mm", Part::Minute),
    ("ss", Part::Second),
    ("A", Part::HalfDay),
    ("Z", Part::Offset),
];

/// The same parts as strftime writes them.
const PERCENT: &[(&str, &[Part])] = &[
    ("Y", &[Part::Year]),
    ("y", &[Part::ShortYear]),
    ("m", &[Part::Month]),
    ("b", &[Part::MonthName]),
    ("h", &[Part::MonthName]),
    ("B", &[Part::MonthName]),
    ("d", &[Part::Day]),
    ("e", &[Part::Day]),
    ("a", &[Part::Weekday]),
    ("A", &[Part::Weekday]),
    ("H", &[Part::Hour]),
    ("k", &[Part::Hour]),
    ("I", &[Part::HalfDayHour]),
    ("l", &[Part::HalfDayHour]),
    ("M", &[Part::Minute]),
    ("S", &[Part::Second]),
    ("p", &[Part::HalfDay]),
    ("P", &[Part::HalfDay]),
    ("z", &[Part::Offset]),
    (":z", &[Part::Offset]),
    ("%", &[Part::Mark('%')]),
    (
        "F",
        &[
            Part::Year,
            Part::Mark('-'),
            Part::Month,
            Part::Mark('-'),
            Part::Day,
        ],
    ),
    (
        "T",
        &[
            Part::Hour,
            Part::Mark(':'),
            Part::Minute,
            Part::Mark(':'),
            Part::Second,
        ],
    ),
    ("R", &[Part::Hour, Part::Mark(':'), Part::Minute]),
];

pub(super) fn notation(text: &str) -> Result<Vec<Part>, String> {
    let (mut parts, mut rest) = (Vec::new(), text);
    while let Some(c) = rest.chars().next() {
        if let Some(inner) = rest.strip_prefix('[') {
            let end = inner
                .find(']')
                .ok_or("a bracket [ is never closed; it holds letters that stand as they are")?;
            parts.extend(inner[..end].chars().map(Part::Mark));
            rest = &inner[end + 1..];
        } else if let Some((letters, part)) = NOTATION
            .iter()
            .find(|(letters, _)| rest.starts_with(letters))
        {
            parts.push(*part);
            rest = &rest[letters.len()..];
        } else if c.is_whitespace() {
            parts.push(Part::Blank);
            rest = rest.trim_start();
        } else if c.is_alphabetic() && c != 'T' {
            return Err(format!(
                "the letter {c} is none of YYYY YY MM MMM DD ddd HH hh mm ss A Z; put letters that stand \
                 as they are into brackets, as in HH[h]mm"
            ));
        } else {
            parts.push(Part::Mark(c));
            rest = &rest[c.len_utf8()..];
        }
    }
    Ok(parts)
}

pub(super) fn percent(text: &str) -> Result<Vec<Part>, String> {
    let (mut parts, mut rest) = (Vec::new(), text);
    while let Some(c) = rest.chars().next() {
        rest = &rest[c.len_utf8()..];
        if c == '%' {
            // Paddings do not matter to reading.
            rest = rest.trim_start_matches(['-', '_', '0']);
            let known = PERCENT
                .iter()
                .find(|(letter, _)| rest.starts_with(letter))
                .ok_or_else(|| {
                    let letter: String = rest.chars().take(1).collect();
                    format!("%{letter} is not known; known are %Y %y %m %b %d %a %H %I %M %S %p %z %F %T %R")
                })?;
            parts.extend_from_slice(known.1);
            rest = &rest[known.0.len()..];
        } else if c.is_whitespace() {
            parts.push(Part::Blank);
            rest = rest.trim_start();
        } else {
            parts.push(Part::Mark(c));
        }
    }
    Ok(parts)
}

/// Whether the parts say one day and at most one time.
pub(super) fn complete(parts: &[Part]) -> Result<(), String> {
    let count = |wanted: &[Part]| parts.iter().filter(|part| wanted.contains(part)).count();
    let once = [
        ("a year (YYYY or YY)", count(&[Part::Year, Part::ShortYear])),
        (
            "a month (MM or MMM)",
            count(&[Part::Month, Part::MonthName]),
        ),
        ("a day (DD)", count(&[Part::Day])),
    ];
    for (what, count) in once {
        if count != 1 {
            return Err(format!("{what} must stand in it once, not {count} times"));
        }
    }
    let (hour, half) = (count(&[Part::Hour]), count(&[Part::HalfDayHour]));
    let (minute, second) = (count(&[Part::Minute]), count(&[Part::Second]));
    if hour + half > 1 || minute > 1 || second > 1 || count(&[Part::Offset]) > 1 {
        return Err("hours, minutes, seconds and Z may stand in it once".to_owned());
    }
    if half != count(&[Part::HalfDay]) {
        return Err("hh and A (am or pm) go together; hours from 0 to 23 are HH".to_owned());
    }
    if minute > hour + half || second > minute {
        return Err("minutes need hours, and seconds need minutes".to_owned());
    }
    Ok(())
}
