//! How a sheet writes numbers.

use serde::Serialize;

/// The mark between whole and part, and the one between thousands.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize)]
pub struct NumberForm {
    /// `.` or `,`.
    pub decimal: char,
    /// `.`, `,`, a blank (any kind of blank) or `'` (any kind of apostrophe).
    pub thousands: Option<char>,
}

impl Default for NumberForm {
    fn default() -> Self {
        NumberForm {
            decimal: '.',
            thousands: None,
        }
    }
}

impl NumberForm {
    /// Writes a number of a sheet as the canonical sheets have it: a decimal point, no
    /// thousands marks. What is no number comes out as something that is none either.
    ///
    /// # Errors
    /// A mark that the map does not speak of, or thousands that are not groups of three.
    pub fn canonical(self, text: &str) -> Result<String, String> {
        let mut out = String::with_capacity(text.len());
        let (mut since_mark, mut marks, mut in_whole) = (0, 0, true);
        for c in text.chars() {
            if in_whole && self.is_thousands_mark(c) {
                let short = if marks == 0 {
                    !(1..=3).contains(&since_mark)
                } else {
                    since_mark != 3
                };
                if short {
                    return Err(self.misplaced());
                }
                marks += 1;
                since_mark = 0;
            } else if c == self.decimal {
                if in_whole && marks > 0 && since_mark != 3 {
                    return Err(self.misplaced());
                }
                in_whole = false;
                out.push('.');
            } else if matches!(c, '.' | ',') {
                return Err(format!("not a number: {} is expected", self.described()));
            } else {
                if c.is_ascii_digit() {
                    since_mark += 1;
                } else if in_whole && matches!(c, 'e' | 'E') {
                    if marks > 0 && since_mark != 3 {
                        return Err(self.misplaced());
                    }
                    in_whole = false;
                }
                // The minus sign of typesetters.
                out.push(if c == '−' { '-' } else { c });
            }
        }
        if in_whole && marks > 0 && since_mark != 3 {
            return Err(self.misplaced());
        }
        Ok(out)
    }

    fn is_thousands_mark(self, c: char) -> bool {
        match self.thousands {
            None => false,
            Some(' ') => matches!(c, ' ' | '\u{a0}' | '\u{2009}' | '\u{202f}'),
            Some('\'') => matches!(c, '\'' | '’'),
            Some(mark) => c == mark,
        }
    }

    fn misplaced(self) -> String {
        "not a number: a thousands mark does not stand before three digits".to_owned()
    }

    fn described(self) -> String {
        let decimal = match self.decimal {
            ',' => "a decimal comma",
            _ => "a decimal point",
        };
        let thousands = match self.thousands {
            None => "and no thousands mark",
            Some('.') => "with a point between thousands",
            Some(',') => "with a comma between thousands",
            Some('\'') => "with an apostrophe between thousands",
            Some(_) => "with a blank between thousands",
        };
        format!("{decimal} {thousands}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(decimal: char, thousands: Option<char>, text: &str) -> Option<String> {
        let form = NumberForm { decimal, thousands };
        form.canonical(text).ok()
    }

    #[test]
    fn marks_stand_where_they_belong_or_the_number_is_none() {
        let good = [
            (',', None, "12,5", "12.5"),
            (',', Some('.'), "1.234,5", "1234.5"),
            (',', Some('.'), "1.234.567", "1234567"),
            ('.', Some(','), "1,234.5", "1234.5"),
            ('.', Some(' '), "12\u{202f}345.5", "12345.5"),
            ('.', Some('\''), "12’345.5", "12345.5"),
            (',', Some('.'), "-1,5e3", "-1.5e3"),
            (',', None, "−4", "-4"),
            ('.', None, "12.5", "12.5"),
        ];
        for (decimal, thousands, text, canonical) in good {
            assert_eq!(
                read(decimal, thousands, text).as_deref(),
                Some(canonical),
                "{text}"
            );
        }
        let bad = [
            (',', None, "12.5"),
            (',', Some('.'), "12.5"),
            (',', Some('.'), "1.2345"),
            (',', Some('.'), "1234.567"),
            (',', Some('.'), ".567"),
            (',', Some('.'), "1.23,5"),
            ('.', None, "12,5"),
            ('.', Some(','), "1,23"),
        ];
        for (decimal, thousands, text) in bad {
            assert_eq!(read(decimal, thousands, text), None, "{text}");
        }
    }
}
