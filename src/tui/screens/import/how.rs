//! What the user may say about how a table is read, instead of having it found out.

use super::choices::{Means, Offer};
use crate::model::time;
use crate::programme::{Format, How, ImportRequest, SheetKind, read_as};

/// A thing to be said.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum ReadHow {
    Kind,
    Delimiter,
    Encoding,
    Sheet,
    HeaderRow,
    Zone,
}

impl ReadHow {
    pub(crate) const ALL: [ReadHow; 6] = [
        ReadHow::Kind,
        ReadHow::Delimiter,
        ReadHow::Encoding,
        ReadHow::Sheet,
        ReadHow::HeaderRow,
        ReadHow::Zone,
    ];

    pub(crate) const fn name(self) -> &'static str {
        match self {
            ReadHow::Kind => "what it holds",
            ReadHow::Delimiter => "between fields",
            ReadHow::Encoding => "letters",
            ReadHow::Sheet => "sheet",
            ReadHow::HeaderRow => "header in row",
            ReadHow::Zone => "clocks tell",
        }
    }

    /// What it means, in a sentence.
    pub(crate) const fn about(self) -> &'static str {
        match self {
            ReadHow::Kind => "Whether the table holds draws, points, technicians or trainings.",
            ReadHow::Delimiter => {
                "The character between two fields of a text table: comma, semicolon, tab, pipe, space, or another."
            }
            ReadHow::Encoding => {
                "How letters are written as bytes: a label of the WHATWG Encoding Standard such as utf-8, utf-16le, windows-1252."
            }
            ReadHow::Sheet => "The sheet of a workbook, by its name or its number.",
            ReadHow::HeaderRow => "The row in which the names of the columns stand, from 1.",
            ReadHow::Zone => {
                "The zone of times that name none, as Europe/Lisbon: a name of the IANA time zone database."
            }
        }
    }

    /// What is said, in words; none where it is found out.
    pub(crate) fn said(self, request: &ImportRequest) -> Option<String> {
        let read = &request.read_as;
        match self {
            ReadHow::Kind => request.kind.map(|kind| kind.as_str().to_owned()),
            ReadHow::Delimiter => read.delimiter.map(|mark| delimiter_word(char::from(mark))),
            ReadHow::Encoding => read.encoding.map(|of| of.name().to_ascii_lowercase()),
            ReadHow::Sheet => read.sheet.as_ref().map(|sheet| match sheet {
                read_as::SheetChoice::Name(name) => name.clone(),
                read_as::SheetChoice::Number(number) => number.to_string(),
            }),
            ReadHow::HeaderRow => read.header_row.map(|row| row.to_string()),
            ReadHow::Zone => request.zone.map(|zone| zone.name().to_owned()),
        }
    }

    /// What was found out about the files, where it is the same for all.
    pub(crate) fn found(self, files: &[How]) -> Option<String> {
        let of = |how: &How| match self {
            ReadHow::Delimiter => how.delimiter.map(delimiter_word),
            ReadHow::Encoding => how.encoding.map(str::to_owned),
            ReadHow::Sheet => how.sheet.clone(),
            ReadHow::HeaderRow => match (how.header_row, how.header_rows) {
                (0, _) => None,
                (row, 2) => Some(format!("{row} and {}, joined", row + 1)),
                (row, _) => Some(row.to_string()),
            },
            ReadHow::Kind | ReadHow::Zone => None,
        };
        let first = files.first().and_then(of);
        first.filter(|first| files.iter().all(|how| of(how).as_ref() == Some(first)))
    }

    /// How sure what was found is.
    pub(crate) fn whence(self, files: &[How]) -> &'static str {
        match self {
            ReadHow::Encoding if files.iter().any(|how| how.encoding_guessed) => "a guess",
            _ => "found out",
        }
    }

    /// What stands where nothing is said and nothing alike was found.
    pub(crate) fn if_not_found(self, files: &[How]) -> &'static str {
        match self {
            ReadHow::Zone => "as the map says, else UTC",
            ReadHow::Sheet if files.iter().all(|how| how.format == Format::Text) => {
                "none: text has no sheets"
            }
            _ => "found out",
        }
    }

    /// The values on offer.
    pub(crate) fn offers(self) -> Vec<Offer> {
        let offer = |label: &str, note: &str, means| Offer {
            label: label.to_owned(),
            note: note.to_owned(),
            means,
        };
        let value = |text: &str, note: &str| offer(text, note, Means::Value(text.to_owned()));
        let found_out = match self {
            ReadHow::Zone => "as the map says, else UTC",
            ReadHow::Sheet => "all that go with something",
            _ => "from the table itself",
        };
        let mut offers = vec![offer("found out", found_out, Means::Value(String::new()))];
        match self {
            ReadHow::Kind => {
                offers.extend(SheetKind::ALL.map(|kind| value(kind.as_str(), "")));
                return offers;
            }
            ReadHow::Delimiter => offers.extend(
                [
                    ("comma", ","),
                    ("semicolon", ";"),
                    ("tab", ""),
                    ("pipe", "|"),
                ]
                .map(|(name, note)| value(name, note)),
            ),
            ReadHow::Encoding => offers.extend(
                [
                    ("utf-8", "most of what is written today"),
                    ("windows-1252", "western Europe, older spreadsheets"),
                    ("windows-1250", "central Europe"),
                    ("utf-16le", "\"Unicode text\" of spreadsheets"),
                ]
                .map(|(name, note)| value(name, note)),
            ),
            ReadHow::Sheet | ReadHow::HeaderRow => {
                offers.extend(["1", "2", "3"].map(|number| value(number, "")));
            }
            ReadHow::Zone => offers.push(value("UTC", "")),
        }
        offers.push(offer("another", "written by hand", Means::Write));
        offers
    }

    /// Puts what is said into the request; nothing has it found out.
    ///
    /// # Errors
    /// It can't be that; in words.
    pub(crate) fn say(self, request: &mut ImportRequest, text: &str) -> Result<(), String> {
        let text = text.trim();
        let some = (!text.is_empty()).then_some(text);
        let read = &mut request.read_as;
        match self {
            ReadHow::Kind => {
                request.kind = match some {
                    None => None,
                    Some(word) => Some(
                        SheetKind::parse(word)
                            .ok_or_else(|| format!("There is no kind {word}."))?,
                    ),
                };
            }
            ReadHow::Delimiter => read.delimiter = some.map(read_as::delimiter).transpose()?,
            ReadHow::Encoding => read.encoding = some.map(read_as::encoding).transpose()?,
            ReadHow::Sheet => read.sheet = some.map(read_as::sheet).transpose()?,
            ReadHow::HeaderRow => {
                let row = some.map(str::parse::<u64>).transpose();
                let row = row.ok().filter(|row| *row != Some(0));
                read.header_row = row.ok_or("Rows are numbered from 1.")?;
            }
            ReadHow::Zone => {
                request.zone = match some {
                    None => None,
                    Some(name) => Some(time::zone(name).ok_or_else(|| {
                        format!("There is no zone {name}; give a name such as Europe/Paris.")
                    })?),
                };
            }
        }
        Ok(())
    }
}

fn delimiter_word(mark: char) -> String {
    match mark {
        ',' => "comma".to_owned(),
        ';' => "semicolon".to_owned(),
        '\t' => "tab".to_owned(),
        '|' => "pipe".to_owned(),
        ' ' => "space".to_owned(),
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_guess_is_not_told_as_found_out() {
        let mut files = [How {
            encoding: Some("windows-1252"),
            ..How::default()
        }];
        let told = |files: &[How]| {
            let found = ReadHow::Encoding.found(files);
            (found.unwrap_or_default(), ReadHow::Encoding.whence(files))
        };
        assert_eq!(told(&files), ("windows-1252".to_owned(), "found out"));
        files[0].encoding_guessed = true;
        assert_eq!(told(&files), ("windows-1252".to_owned(), "a guess"));
        assert_eq!(ReadHow::Delimiter.whence(&files), "found out");
    }

    #[test]
    fn what_is_said_is_read_back_and_taken_back() {
        for (how, text, wrong) in [
            (ReadHow::Kind, "draws", "sketches"),
            (ReadHow::Delimiter, "semicolon", "ab"),
            (ReadHow::Encoding, "windows-1252", "klingon"),
            (ReadHow::Sheet, "Draws 2026", "0"),
            (ReadHow::HeaderRow, "3", "0"),
            (ReadHow::Zone, "Europe/Lisbon", "Atlantis/Main"),
        ] {
            let mut request = ImportRequest::default();
            assert_eq!(how.said(&request), None);
            assert_eq!(how.say(&mut request, text), Ok(()));
            assert_eq!(how.said(&request).as_deref(), Some(text));
            assert!(how.say(&mut request, wrong).is_err(), "{wrong}");
            assert_eq!(how.said(&request).as_deref(), Some(text));
            assert_eq!(how.say(&mut request, ""), Ok(()));
            assert_eq!(how.said(&request), None);
        }
    }
}
