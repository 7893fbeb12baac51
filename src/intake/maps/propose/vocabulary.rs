//! What sheets call our columns and words: `synonyms.txt`, read once.

use std::sync::LazyLock;

use rustc_hash::{FxHashMap, FxHashSet};

use crate::intake::SheetKind;

/// The names and words that are known.
pub struct Vocabulary {
    /// By kind and our column: folded names.
    columns: FxHashMap<(SheetKind, &'static str), Vec<String>>,
    /// By our column: their word to ours.
    words: FxHashMap<&'static str, FxHashMap<String, &'static str>>,
    /// Texts that mean yes, no, nothing; texts that begin a row of totals.
    pub yes: FxHashSet<String>,
    pub no: FxHashSet<String>,
    pub blank: FxHashSet<String>,
    pub total: FxHashSet<String>,
}

/// The vocabulary of this program.
pub static KNOWN: LazyLock<Vocabulary> =
    LazyLock::new(|| Vocabulary::read(include_str!("synonyms.txt")));

impl Vocabulary {
    fn read(text: &'static str) -> Self {
        let mut known = Vocabulary {
            columns: FxHashMap::default(),
            words: FxHashMap::default(),
            yes: FxHashSet::default(),
            no: FxHashSet::default(),
            blank: FxHashSet::default(),
            total: FxHashSet::default(),
        };
        for line in text.lines() {
            let Some((what, texts)) = line.split_once(": ").filter(|_| !line.starts_with('#'))
            else {
                continue;
            };
            let texts = texts.split(", ").map(str::trim);
            match what.split(' ').collect::<Vec<_>>()[..] {
                ["column", kind, column] => {
                    let names: Vec<String> = texts.chain([column]).map(folded_name).collect();
                    for sheet in SheetKind::ALL {
                        if kind == "*" || kind == sheet.as_str() {
                            known.columns.insert((sheet, column), names.clone());
                        }
                    }
                }
                ["word", column, ours] => {
                    let words = known.words.entry(column).or_default();
                    words.extend(texts.map(|theirs| (key(theirs), ours)));
                }
                ["yes"] => known.yes.extend(texts.map(key)),
                ["no"] => known.no.extend(texts.map(key)),
                ["blank"] => known.blank.extend(texts.map(key)),
                ["total"] => known.total.extend(texts.map(key)),
                _ => {}
            }
        }
        known
    }

    /// The folded names of one of our columns.
    pub fn names(&self, kind: SheetKind, column: &'static str) -> &[String] {
        (self.columns.get(&(kind, column))).map_or(&[], Vec::as_slice)
    }

    /// Our word for a text, if it is known.
    pub fn word(&self, column: &str, text: &str) -> Option<&'static str> {
        self.words.get(column)?.get(&key(text)).copied()
    }

    /// Whether a text means that nothing was recorded.
    pub fn is_blank(&self, text: &str) -> bool {
        self.blank.contains(&key(text))
    }

    /// The word of totals that a text begins with.
    pub fn total<'t>(&self, text: &'t str) -> Option<&'t str> {
        let word = text.split([' ', ':', ',']).next()?;
        self.total.contains(&key(word)).then_some(word)
    }
}

/// A name as names are compared: letters and digits in lower case without accents, one blank
/// between words.
pub fn folded_name(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    for c in text.chars().flat_map(char::to_lowercase) {
        let plain = plain_letter(c);
        if plain.is_empty() {
            if !out.ends_with(' ') && !out.is_empty() {
                out.push(' ');
            }
        } else {
            out.push_str(plain.encode(&mut [0; 4]));
        }
    }
    out.truncate(out.trim_end().len());
    out
}

/// A text as words are compared, in whatever order they stand; signs alone stay as they are.
pub fn key(text: &str) -> String {
    let name = folded_name(text);
    if name.is_empty() {
        return text.trim().to_lowercase();
    }
    let mut words: Vec<&str> = name.split(' ').collect();
    words.sort_unstable();
    words.join(" ")
}

/// A letter without its accent, as one or two letters; nothing for what is neither letter nor
/// digit.
#[derive(Clone, Copy)]
enum Plain {
    Nothing,
    One(char),
    Two(&'static str),
}

impl Plain {
    fn is_empty(self) -> bool {
        matches!(self, Plain::Nothing)
    }

    fn encode(self, buffer: &mut [u8; 4]) -> &str {
        match self {
            Plain::Nothing => "",
            Plain::One(c) => c.encode_utf8(buffer),
            Plain::Two(text) => text,
        }
    }
}

fn plain_letter(c: char) -> Plain {
    Plain::One(match c {
        'à' | 'á' | 'â' | 'ã' | 'ä' | 'å' | 'ą' => 'a',
        'ç' | 'ć' => 'c',
        'è' | 'é' | 'ê' | 'ë' | 'ę' => 'e',
        'ì' | 'í' | 'î' | 'ï' => 'i',
        'ł' => 'l',
        'ñ' | 'ń' => 'n',
        'ò' | 'ó' | 'ô' | 'õ' | 'ö' | 'ø' => 'o',
        'ś' => 's',
        'ù' | 'ú' | 'û' | 'ü' => 'u',
        'ź' | 'ż' => 'z',
        'ß' => return Plain::Two("ss"),
        'œ' => return Plain::Two("oe"),
        'æ' => return Plain::Two("ae"),
        // Number signs stand for the word.
        '№' | '#' => return Plain::Two("no"),
        c if c.is_alphanumeric() => c,
        _ => return Plain::Nothing,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::intake::columns::Reading;

    #[test]
    fn names_lose_case_accents_and_signs() {
        for (text, name) in [
            ("Öltemperatur (°C)", "oltemperatur c"),
            ("Date de prélèvement", "date de prelevement"),
            ("POINT_ID", "point id"),
            ("Füllgröße", "fullgrosse"),
            ("Próbka #", "probka no"),
            ("№ 5", "no 5"),
            ("✓", ""),
        ] {
            assert_eq!(folded_name(text), name);
        }
        assert_eq!(key(" ✓ "), "✓");
        assert_eq!(key("Valve (line)"), key("line valve"));
    }

    #[test]
    fn every_column_has_names_and_every_word_is_ours() {
        for kind in SheetKind::ALL {
            for column in kind.columns() {
                assert!(
                    !KNOWN.names(kind, column.name).is_empty(),
                    "{}",
                    column.name
                );
            }
        }
        for (column, words) in &KNOWN.words {
            let columns = SheetKind::ALL.iter().flat_map(|kind| kind.columns());
            let mut ours = columns.filter(|known| known.name == *column);
            let ours = ours.find_map(|column| match column.reading {
                Reading::Word(words) | Reading::Words(words) => Some(words()),
                _ => None,
            });
            let ours = ours.unwrap_or_default();
            for word in words.values() {
                assert!(ours.contains(word), "{column} {word}");
            }
            for word in ours {
                let known = words.values().any(|known| *known == word);
                assert!(known, "{column} has no names for {word}");
            }
        }
    }

    #[test]
    fn no_text_means_both_yes_and_no() {
        assert_eq!(KNOWN.yes.intersection(&KNOWN.no).next(), None);
        assert_eq!(KNOWN.yes.intersection(&KNOWN.blank).next(), None);
    }
}
