//! How cells are read, for a whole sheet or for one column: marks of numbers, forms of dates,
//! texts that mean yes, no or nothing.

use crate::intake::maps::dates::DateForm;
use crate::intake::maps::number::NumberForm;
use crate::intake::maps::recipe::{Manner, folded};
use crate::written::{Entry, Node, Reader, find, quoted};

/// The keys that say how cells are read, for a whole sheet or for one column.
pub(super) const MANNER: [&str; 7] = [
    "decimal",
    "thousands",
    "dates",
    "pivot",
    "yes",
    "no",
    "blank",
];

/// A pivot that no map can write: none was said.
const NO_YEAR_SAID: u32 = u32::MAX;

impl Reader<'_> {
    /// How cells are read, where nothing is said as in `usual`.
    pub(super) fn manner(&mut self, entries: &[Entry<'_>], usual: &Manner) -> Manner {
        let mut manner = usual.clone();
        for (name, _, value) in entries {
            match *name {
                "decimal" => self.decimal(value, &mut manner.numbers),
                "thousands" => self.thousands(value, &mut manner.numbers),
                "pivot" => manner.pivot = self.pivot(value).unwrap_or(manner.pivot),
                "yes" | "no" => {
                    let how = format!("list the texts that mean {name}, as in [{name}, x]");
                    if !self.is_asked(value, name, &how) {
                        let texts = self.texts(value, name);
                        if *name == "yes" {
                            manner.yes = texts;
                        } else {
                            manner.no = texts;
                        }
                    }
                }
                "blank" => manner.blank = self.texts(value, name),
                _ => {}
            }
        }
        if let Some(dates) = find(entries, "dates") {
            manner.dates = self.dates(dates, manner.pivot);
        }
        // What the sheet says is told there, not again for every column.
        let numbers = manner.numbers;
        let marks = find(entries, "thousands").or(find(entries, "decimal"));
        if let Some(node) = marks
            && numbers.thousands == Some(numbers.decimal)
        {
            let message = "the same mark can't stand for the decimal and between thousands";
            self.problem(node.at, message);
        }
        let both = (manner.yes.iter())
            .find(|text| manner.no.iter().any(|other| folded(other) == folded(text)));
        if let (Some(text), Some(node)) = (both, find(entries, "no").or(find(entries, "yes"))) {
            let message = format!("{} can't mean both yes and no", quoted(text));
            self.problem(node.at, &message);
        }
        manner
    }

    fn decimal(&mut self, node: &Node, numbers: &mut NumberForm) {
        if self.is_asked(node, "decimal", "write point or comma") {
            return;
        }
        let mark = |text: &str| match text {
            "." | "point" => Some('.'),
            "," | "comma" => Some(','),
            _ => None,
        };
        if let Some(mark) = self.one_word(node, "decimal", &["point", "comma"], mark) {
            numbers.decimal = mark;
            if numbers.thousands == Some(mark) {
                numbers.thousands = None;
            }
        }
    }

    fn thousands(&mut self, node: &Node, numbers: &mut NumberForm) {
        const WORDS: [&str; 5] = ["none", "point", "comma", "blank", "apostrophe"];
        let mark = |text: &str| match text {
            "none" => Some(None),
            "." | "point" => Some(Some('.')),
            "," | "comma" => Some(Some(',')),
            "blank" => Some(Some(' ')),
            "'" | "apostrophe" => Some(Some('\'')),
            _ => None,
        };
        if let Some(mark) = self.one_word(node, "thousands", &WORDS, mark) {
            numbers.thousands = mark;
        }
    }

    fn pivot(&mut self, node: &Node) -> Option<u32> {
        let how = "two-digit years from it on are 19.., those before it 20..; write 0 to 100";
        if self.is_asked(node, "pivot", how) {
            return None;
        }
        self.whole(node, "pivot", 100)
    }

    fn dates(&mut self, node: &Node, pivot: u32) -> Vec<DateForm> {
        let how = "write the form, as in [DD/MM/YYYY] with the day first or [MM/DD/YYYY] with the month first";
        if self.is_asked(node, "dates", how) {
            return Vec::new();
        }
        let mut forms: Vec<DateForm> = Vec::new();
        for item in self.items(node, "dates") {
            let Some(text) = self.text(item, "dates") else {
                continue;
            };
            match DateForm::parse(&text) {
                Err(reason) => {
                    let message = format!("{} is no form of a date: {reason}", quoted(&text));
                    self.problem(item.at, &message);
                }
                Ok(form) => {
                    if form.has_short_year() && pivot == NO_YEAR_SAID {
                        let message = "YY needs pivot: two-digit years from it on are 19.., those before it 20..";
                        self.problem(item.at, message);
                    }
                    if let Some(other) = forms.iter().find(|other| other.conflicts(&form)) {
                        let message = format!(
                            "{} and {} would read one text as two different days; keep one of them, or give each column its own",
                            other.written, form.written
                        );
                        self.problem(item.at, &message);
                    }
                    forms.push(form);
                }
            }
        }
        forms
    }
}

impl Manner {
    pub(super) fn default_of_sheet() -> Self {
        Manner {
            pivot: NO_YEAR_SAID,
            ..Manner::default()
        }
    }
}
