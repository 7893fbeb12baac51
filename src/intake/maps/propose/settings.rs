//! From the pairs of a sheet to its lines: what holds for all of its cells, then its columns.

use super::super::number::NumberForm;
use super::fit::{LEAST, our_word};
use super::lines::{Line, Question, Value, list, scalar};
use super::marks::{Marks, Verdict};
use super::measure::{is_imperial, measure};
use super::sample::Sample;
use super::times::{Dates, Order};
use super::vocabulary::{KNOWN, key};
use super::words::{asked_blanks, words};
use super::{Pair, Pairs, ProposedSheet, Said, is_dated, theirs};
use crate::intake::columns::{Column, Reading};

/// Two-digit years from this one on are taken for the 20th century.
const PIVOT: u32 = 70;

/// A column with the dates it holds, put together from day and time where they stand apart.
struct Dated {
    /// The place of the pair.
    pair: usize,
    /// The column of the time of day, where that stands apart.
    clock: Option<usize>,
    dates: Dates,
    is_serial: bool,
}

/// The entry of a sheet.
pub fn sheet(
    file: &str,
    sample: &Sample,
    said: &Said<'_>,
    pairs: Pairs,
    kind_reason: (f64, String),
) -> ProposedSheet {
    let ours = pairs.kind.columns();
    let dated = dated(sample, &pairs);
    let mut settings = Vec::new();
    settings.extend(zone(&dated, said, &pairs));
    let (marks_lines, usual_marks) = marks(sample, &pairs);
    settings.extend(marks_lines);
    let plan = plan(&dated);
    settings.extend(plan.lines());
    let imperial = sample.columns.iter().any(is_imperial);

    let (mut yes, mut no, mut blanks, mut asked) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
    let mut columns: Vec<(usize, Line)> = Vec::new();
    for (place, pair) in pairs.pairs.iter().enumerate() {
        let column = &ours[pair.ours];
        let sampled = &sample.columns[pair.theirs];
        let (mut confidence, rival) = pairs.confidence(pair, sample);
        let mut reason = pair.fit.reason.clone();
        let mut details = Vec::new();
        let own = dated.iter().find(|dated| dated.pair == place);
        let measured = measure(sampled, column, imperial);
        if matches!(column.reading, Reading::Number(_)) {
            confidence *= measured.doubt;
            details.extend(own_marks(&sampled.marks, usual_marks));
        }
        details.extend(measured.lines);
        let found = words(sampled, column);
        asked.extend(asked_blanks(&found).into_iter().map(str::to_owned));
        details.extend(found.lines);
        yes.extend(found.yes);
        no.extend(found.no);
        blanks.extend(sampled.blanks.iter().cloned());
        if let Some(own) = own {
            details.extend(plan.of_column(own));
        }
        for more in [(!measured.told.is_empty()).then_some(measured.told), rival]
            .into_iter()
            .flatten()
        {
            reason.push_str("; ");
            reason.push_str(&more);
        }
        let from = from(sample, pair, own, column, &mut reason);
        columns.push((
            pair.ours,
            column_line(column.name, from, details, confidence, reason),
        ));
    }
    columns.extend(split(sample, &pairs));
    let ticks = ticks(sample, &pairs, &dated);
    let ticked: Vec<usize> = ticks.iter().map(|(place, _, _)| *place).collect();
    columns.extend(looks_of_ticks(sample, &pairs, &ticks));
    columns.extend(lacking(sample, &pairs));
    columns.sort_by_key(|(place, _)| *place);
    settings.extend(word_settings(yes, no, blanks, &asked));
    settings.extend(skip(sample));
    let aside = aside(sample, &pairs, &dated, &ticked);
    ProposedSheet {
        file: file.to_owned(),
        sheet: None,
        kind: pairs.kind,
        kind_reason,
        settings,
        columns: columns.into_iter().map(|(_, line)| line).collect(),
        aside,
    }
}

fn column_line(
    name: &str,
    from: Line,
    details: Vec<Line>,
    confidence: f64,
    reason: String,
) -> Line {
    let is_plain = details.is_empty();
    match from.value {
        Value::Yaml(yaml) if is_plain => Line::new(name, yaml, confidence, reason),
        value => {
            let mut lines = vec![Line { value, ..from }];
            lines.extend(details);
            Line {
                key: name.to_owned(),
                value: Value::Lines(lines),
                confidence: Some(confidence),
                reason,
            }
        }
    }
}

/// Where a column comes from: one of theirs, or a day and a time of day.
fn from(
    sample: &Sample,
    pair: &Pair,
    own: Option<&Dated>,
    column: &Column,
    reason: &mut String,
) -> Line {
    let day = theirs(sample, pair.theirs);
    let is_time = matches!(column.reading, Reading::Time);
    match own {
        Some(Dated {
            clock: Some(clock), ..
        }) if is_time => {
            reason.push_str("; the time of day stands apart");
            let clock = theirs(sample, *clock);
            let pieces = [day, clock].map(in_a_list);
            Line::plain("from", format!("[{}]", pieces.join(", ")))
        }
        Some(own) if is_time && own.dates.timed == 0 && own.dates.all > 0 && !own.is_serial => {
            let text = "only days are written here. Which time of day shall stand for it (as in 12:00)? Rules about minutes and hours then judge by it; leave the column out if none is right.";
            let mut question = Question::of(text, [("noon".to_owned(), "\"12:00\"".to_owned())]);
            question.is_free = true;
            question.around = (format!("[{}, {{always: ", in_a_list(day)), "}]".to_owned());
            Line::open("from", question)
        }
        _ => Line::plain("from", day),
    }
}

/// A name in a list in one line, where brackets and commas are marks.
fn in_a_list(yaml: String) -> String {
    if yaml.contains([',', '[', ']', '{', '}']) && !yaml.starts_with(['"', '{']) {
        return quoted(&yaml);
    }
    yaml
}

/// The lines of headers that name two of our columns.
fn split(sample: &Sample, pairs: &Pairs) -> Vec<(usize, Line)> {
    let ours = pairs.kind.columns();
    let halves = pairs.split.iter().flat_map(|(place, between, both)| {
        let both = both.iter().enumerate();
        both.map(move |(half, column)| (*place, *between, half + 1, *column))
    });
    halves
        .map(|(place, between, part, column)| {
            let details = vec![
                Line::plain("split", scalar(between)),
                Line::plain("part", part.to_string()),
            ];
            let reason = "the header names two columns, and its cells are cut alike".to_owned();
            let from = Line::plain("from", theirs(sample, place));
            (
                column,
                column_line(ours[column].name, from, details, 0.85, reason),
            )
        })
        .collect()
}

/// Free columns of ticks whose headers are looks: place, tick, look.
fn ticks(
    sample: &Sample,
    pairs: &Pairs,
    dated: &[Dated],
) -> Vec<(usize, Vec<String>, &'static str)> {
    let Some((place, looks)) = looks_column(pairs) else {
        return Vec::new();
    };
    if pairs.is_made(place) {
        return Vec::new();
    }
    let free = (0..sample.columns.len()).filter(|place| {
        pairs.is_free(*place) && !dated.iter().any(|dated| dated.clock == Some(*place))
    });
    let ticked = free.filter_map(|place| {
        let theirs = &sample.columns[place];
        let look = our_word(looks, &theirs.name)?;
        let all_yes = theirs
            .distinct
            .iter()
            .all(|(text, _)| KNOWN.yes.contains(&key(text)));
        let ticks = theirs
            .distinct
            .iter()
            .map(|(text, _)| text.clone())
            .collect();
        (all_yes && !theirs.values.is_empty()).then_some((place, ticks, look))
    });
    let ticked: Vec<_> = ticked.collect();
    // One such column alone may be about anything.
    if ticked.len() < 2 { Vec::new() } else { ticked }
}

fn looks_column(pairs: &Pairs) -> Option<(usize, &'static Column)> {
    let columns = pairs.kind.columns().iter().enumerate();
    let mut looks = columns.filter(|(_, column)| matches!(column.reading, Reading::Words(_)));
    looks.next()
}

/// The line of looks that are ticked, a column a look.
fn looks_of_ticks(
    sample: &Sample,
    pairs: &Pairs,
    ticks: &[(usize, Vec<String>, &'static str)],
) -> Option<(usize, Line)> {
    let (place, column) = looks_column(pairs).filter(|_| !ticks.is_empty())?;
    let pieces = ticks.iter().map(|(place, texts, look)| {
        let words: Vec<String> = texts
            .iter()
            .map(|text| format!("{}: {look}", quoted(text)))
            .collect();
        let source = match theirs(sample, *place) {
            letter if letter.starts_with('{') => letter.trim_matches(['{', '}']).to_owned(),
            name => format!("name: {}", in_a_list(name)),
        };
        format!("{{{source}, words: {{{}}}}}", words.join(", "))
    });
    let pieces: Vec<String> = pieces.collect();
    let from = Line::plain("from", format!("[{}]", pieces.join(", ")));
    let details = vec![Line::plain("join", "\";\"".to_owned())];
    let reason = "ticks under headers that are looks".to_owned();
    Some((place, column_line(column.name, from, details, 0.8, reason)))
}

/// A text in quotes, as JSON and YAML both read it.
fn quoted(text: &str) -> String {
    match scalar(text) {
        plain if !plain.starts_with('"') => format!("\"{plain}\""),
        quoted => quoted,
    }
}

/// Required columns that nothing goes to: a question each.
fn lacking(sample: &Sample, pairs: &Pairs) -> Vec<(usize, Line)> {
    let free = (0..sample.columns.len()).filter(|place| pairs.is_free(*place));
    let free: Vec<usize> = free.collect();
    let ours = pairs.kind.columns().iter().enumerate();
    ours.filter(|(place, column)| column.required && !pairs.is_made(*place))
        .map(|(place, column)| {
            let choices = free
                .iter()
                .map(|at| (sample.columns[*at].name.clone(), theirs(sample, *at)));
            let text = format!(
                "which of their columns says {}: {}?",
                column.name, column.meaning
            );
            let mut question = Question::of(text, choices);
            question.is_free = true;
            (place, Line::open(column.name, question))
        })
        .collect()
}

/// Their columns that go nowhere.
fn aside(
    sample: &Sample,
    pairs: &Pairs,
    dated: &[Dated],
    ticked: &[usize],
) -> Vec<(String, String)> {
    let ours = pairs.kind.columns();
    let free = (0..sample.columns.len()).filter(|place| {
        pairs.is_free(*place)
            && !ticked.contains(place)
            && !dated.iter().any(|dated| dated.clock == Some(*place))
    });
    free.map(|place| {
        let best = pairs.fits[place].iter().enumerate();
        let best = best.max_by(|(_, one), (_, other)| one.score.total_cmp(&other.score));
        let reason = match best.filter(|(_, fit)| fit.score >= LEAST) {
            None => "goes with none of our columns".to_owned(),
            Some((place, _)) => {
                let taken = pairs.pairs.iter().find(|pair| pair.ours == place);
                let by = taken.map_or("", |pair| sample.columns[pair.theirs].name.as_str());
                format!("would go to {}, but {by:?} fits better", ours[place].name)
            }
        };
        (sample.columns[place].name.clone(), reason)
    })
    .collect()
}

/// The columns of dates, each with the time of day beside it.
fn dated(sample: &Sample, pairs: &Pairs) -> Vec<Dated> {
    let ours = pairs.kind.columns();
    let mut taken: Vec<usize> = pairs.pairs.iter().map(|pair| pair.theirs).collect();
    let mut found = Vec::new();
    for (place, pair) in pairs
        .pairs
        .iter()
        .enumerate()
        .filter(|(_, pair)| is_dated(&ours[pair.ours]))
    {
        let column = &sample.columns[pair.theirs];
        let is_serial = column
            .share(column.serials)
            .is_some_and(|share| share > 0.9);
        let is_time = matches!(ours[pair.ours].reading, Reading::Time);
        let is_whole = is_serial && column.values.iter().all(|value| !value.contains('.'));
        let lacks_clock =
            is_time && column.dates.all > 0 && (column.dates.timed == 0 && !is_serial || is_whole);
        let clock = if lacks_clock {
            clock_of(sample, pair.theirs, &taken)
        } else {
            None
        };
        let dates = match clock {
            Some(clock) if !is_serial => {
                taken.push(clock);
                let joined: Vec<String> = (sample.rows.iter())
                    .filter(|row| !row[pair.theirs].is_empty() && !row[clock].is_empty())
                    .map(|row| format!("{} {}", row[pair.theirs], row[clock]))
                    .collect();
                Dates::of(joined.iter().map(String::as_str))
            }
            Some(clock) => {
                taken.push(clock);
                column.dates.clone()
            }
            None => column.dates.clone(),
        };
        found.push(Dated {
            pair: place,
            clock,
            dates,
            is_serial,
        });
    }
    found
}

/// The free column of times of day that stands nearest behind a day, else before it.
fn clock_of(sample: &Sample, day: usize, taken: &[usize]) -> Option<usize> {
    let is_clock = |place: &usize| {
        let column = &sample.columns[*place];
        column.share(column.clocks).is_some_and(|share| share > 0.9)
    };
    let free = (0..sample.columns.len()).filter(|place| !taken.contains(place));
    let distance = |place: &usize| match place.checked_sub(day) {
        Some(behind) => behind,
        None => day - place + 3,
    };
    free.filter(is_clock)
        .min_by_key(distance)
        .filter(|place| distance(place) <= 4)
}

/// The zone of clocks that do not say theirs.
fn zone(dated: &[Dated], said: &Said<'_>, pairs: &Pairs) -> Option<Line> {
    let ours = pairs.kind.columns();
    let is_local = dated.iter().any(|one| {
        let is_time = matches!(ours[pairs.pairs[one.pair].ours].reading, Reading::Time);
        is_time && (one.dates.is_local || one.is_serial || one.dates.timed == 0)
    });
    if !is_local {
        return None;
    }
    Some(match said.zone {
        Some(zone) => Line::new("zone", scalar(zone.name()), 1.0, "as you say"),
        None => {
            let text = "no time says its zone. Which zone do the clocks of this sheet tell (as in Europe/Berlin)?";
            let mut question = Question::of(text, [("UTC".to_owned(), "UTC".to_owned())]);
            question.is_free = true;
            Line::open("zone", question)
        }
    })
}

/// The lines of decimal and thousands marks, and the form that then holds for the sheet.
fn marks(sample: &Sample, pairs: &Pairs) -> (Vec<Line>, NumberForm) {
    let ours = pairs.kind.columns();
    let is_number = |pair: &&Pair| matches!(ours[pair.ours].reading, Reading::Number(_));
    let numbers = pairs.pairs.iter().filter(is_number);
    let together = Marks::together(numbers.map(|pair| &sample.columns[pair.theirs].marks));
    let usual = NumberForm::default();
    match together.verdict() {
        Verdict::Form(form) => {
            let mut lines = Vec::new();
            if form.decimal != usual.decimal {
                let reason = "the numbers can't be read otherwise";
                lines.push(Line::new("decimal", "comma".to_owned(), 0.95, reason));
            }
            if let Some(mark) = form.thousands {
                let reason = "marks stand before groups of three digits";
                lines.push(Line::new(
                    "thousands",
                    thousands_word(mark).to_owned(),
                    0.9,
                    reason,
                ));
            }
            (lines, form)
        }
        Verdict::Open => {
            let text = format!(
                "in {} the mark may stand for the decimal or between thousands. Which mark stands for the decimal?",
                together.example
            );
            // The mark that is not the decimal stands between thousands then.
            let thousands = |word: &str, other: &str, is_seen: bool| match is_seen {
                true => (
                    format!("{word}, with a second line thousands: {other}"),
                    format!("{word}\n    thousands: {other}"),
                ),
                false => (word.to_owned(), word.to_owned()),
            };
            let (has_comma, has_point) = together.open_marks();
            let choices = [
                thousands("point", "comma", has_comma),
                thousands("comma", "point", has_point),
            ];
            (
                vec![Line::open("decimal", Question::of(text, choices))],
                usual,
            )
        }
        Verdict::Both => (Vec::new(), usual),
    }
}

/// The marks of a column that differ from those of the sheet.
fn own_marks(marks: &Marks, usual: NumberForm) -> Vec<Line> {
    let Verdict::Form(form) = marks.verdict() else {
        return Vec::new();
    };
    let mut lines = Vec::new();
    let whole = NumberForm::default();
    if form == whole || form == usual {
        return lines;
    }
    if form.decimal != usual.decimal {
        let word = if form.decimal == ',' {
            "comma"
        } else {
            "point"
        };
        lines.push(Line::plain("decimal", word.to_owned()));
    }
    if form.thousands.is_some() && form.thousands != usual.thousands {
        let word = form.thousands.map_or("none", thousands_word);
        lines.push(Line::plain("thousands", word.to_owned()));
    }
    lines
}

fn thousands_word(mark: char) -> &'static str {
    match mark {
        '.' => "point",
        ',' => "comma",
        ' ' => "blank",
        _ => "apostrophe",
    }
}

/// How the dates of a sheet are written.
struct Plan {
    /// The forms of the whole sheet; empty where each column has its own.
    usual: Vec<&'static str>,
    /// The same with the month first, where the order is not known.
    month_first: Option<(Vec<&'static str>, String)>,
    order: Order,
    has_serial: bool,
    proven: Option<Order>,
}

fn plan(dated: &[Dated]) -> Plan {
    let proofs: Vec<Order> = dated.iter().filter_map(|one| one.dates.proven()).collect();
    let proven = match (proofs.contains(&Order::Day), proofs.contains(&Order::Month)) {
        (true, false) => Some(Order::Day),
        (false, true) => Some(Order::Month),
        _ => None,
    };
    let order = proven.unwrap_or(Order::Day);
    let open = dated
        .iter()
        .find(|one| one.dates.is_ambiguous && proven.is_none());
    let union = |order: Order| {
        let mut forms: Vec<&'static str> = Vec::new();
        for form in dated.iter().flat_map(|one| one.dates.written(order)) {
            if !forms.contains(&form) {
                forms.push(form);
            }
        }
        forms
    };
    Plan {
        usual: union(order),
        month_first: open.map(|one| (union(Order::Month), one.dates.example.clone())),
        order,
        has_serial: dated.iter().any(|one| one.is_serial),
        proven,
    }
}

impl Plan {
    fn lines(&self) -> Vec<Line> {
        let mut lines = Vec::new();
        let mut usual = self.usual.clone();
        if self.has_serial {
            usual.push("serial 1900");
        }
        if self.conflicts() {
            return lines;
        }
        if let Some((month_first, example)) = &self.month_first {
            let text = format!("{example}: is the day first, or the month?");
            let choices = [
                ("day first".to_owned(), list(&usual)),
                ("month first".to_owned(), list(month_first)),
            ];
            lines.push(Line::open("dates", Question::of(text, choices)));
        } else if !usual.is_empty() {
            let reason = match (self.proven, self.has_serial) {
                (Some(Order::Day), _) => "a day above 12 stands first",
                (Some(Order::Month), _) => "a day above 12 stands second",
                (_, true) => {
                    "days as spreadsheets count them; serial 1904 if four years are missing"
                }
                _ => "the values can't be read otherwise",
            };
            lines.push(Line::new("dates", list(&usual), 0.95, reason));
        }
        if usual
            .iter()
            .any(|form| form.contains("YY") && !form.contains("YYYY"))
        {
            let reason = format!(
                "two-digit years: {PIVOT} to 99 are 19.., 00 to {} are 20..",
                PIVOT - 1
            );
            lines.push(Line::new("pivot", PIVOT.to_string(), 0.8, reason));
        }
        lines
    }

    /// Whether the forms of some columns contradict those of others.
    fn conflicts(&self) -> bool {
        let forms: Vec<_> = (self.usual.iter())
            .filter_map(|form| super::super::dates::DateForm::parse(form).ok())
            .collect();
        let mut pairs = forms.iter().enumerate();
        pairs.any(|(place, one)| forms[place + 1..].iter().any(|other| one.conflicts(other)))
    }

    /// The forms of one column, where the sheet has none for all.
    fn of_column(&self, own: &Dated) -> Vec<Line> {
        if !self.conflicts() || own.dates.forms.is_empty() {
            return Vec::new();
        }
        if own.dates.is_ambiguous {
            let text = format!("{}: is the day first, or the month?", own.dates.example);
            let choices = [
                ("day first".to_owned(), list(&own.dates.written(Order::Day))),
                (
                    "month first".to_owned(),
                    list(&own.dates.written(Order::Month)),
                ),
            ];
            return vec![Line::open("dates", Question::of(text, choices))];
        }
        vec![Line::plain("dates", list(&own.dates.written(self.order)))]
    }
}

/// The lines of yes, no and blank.
fn word_settings(
    yes: Vec<String>,
    no: Vec<String>,
    blanks: Vec<String>,
    asked: &[String],
) -> Vec<Line> {
    let once = |texts: Vec<String>| {
        let mut kept: Vec<String> = Vec::new();
        for text in texts {
            if !kept
                .iter()
                .any(|other| super::super::folded(other) == super::super::folded(&text))
            {
                kept.push(text);
            }
        }
        kept
    };
    let mut lines = Vec::new();
    for (key, texts, reason) in [
        ("yes", once(yes), "words that mean yes"),
        ("no", once(no), "words that mean no"),
    ] {
        if !texts.is_empty() {
            lines.push(Line::new(key, list(&texts), 0.9, reason));
        }
    }
    let mut blanks = once(blanks);
    blanks.retain(|text| !asked.contains(text));
    if !blanks.is_empty() {
        let reason = "texts that say nothing was recorded";
        lines.push(Line::new("blank", list(&blanks), 0.85, reason));
    }
    lines
}

/// The line of rows to pass over.
fn skip(sample: &Sample) -> Option<Line> {
    let (place, word) = sample.totals.as_ref()?;
    let column = in_a_list(theirs(sample, *place));
    let value = format!("[{{column: {column}, begins: {}}}]", list(&[word]));
    Some(Line::new(
        "skip",
        value,
        0.9,
        "rows of totals are no records",
    ))
}
