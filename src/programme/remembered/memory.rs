//! What is remembered of a programme, as plain data. It is read from a file that anyone may have
//! written, so it is taken in piece by piece: what is no piece of it is left out.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::names::{self, is_same};
use crate::analysis::nearest;

/// The version of what this program writes. What a newer one wrote is left alone.
pub const VERSION: u64 = 1;

/// A file of more bytes than this is none of ours.
pub const FILE_LIMIT: u64 = 4 << 20;

/// The most filters that can be saved.
pub const MOST_SAVED: usize = 200;

/// The most filters of lately that are kept.
pub const MOST_LATELY: usize = 50;

/// The most bytes of a filter, as long as the line in which it is typed.
const FILTER_LIMIT: usize = 4096;

/// The most entries of a layout, and the most bytes of a name or a word in it.
const MOST_ENTRIES: usize = 200;
const WORD_LIMIT: usize = 200;

/// How the screens were left: words by name. What they mean is the screens' own affair; a name
/// or word that they don't know is passed over.
pub type Layout = BTreeMap<String, String>;

/// A filter under a name.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SavedFilter {
    /// Its name.
    pub name: String,
    /// The filter as it is typed. A newer program may have saved one that this one can't read.
    pub filter: String,
}

/// What is remembered of one programme.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Memory {
    /// Where the programme file was when it was left, for those who look into the folder.
    pub programme: String,
    /// How the screens were left.
    pub layout: Layout,
    /// The saved filters, in the order of their names.
    pub filters: Vec<SavedFilter>,
    /// The filters used last, the latest last.
    pub lately: Vec<String>,
}

/// What a file of a memory turned out to be.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Read {
    /// A memory.
    Memory(Memory),
    /// One that a newer program wrote; it is not to be written over.
    Newer,
    /// Something else.
    Unreadable,
}

impl Memory {
    /// Reads what stands in a file.
    #[must_use]
    pub fn read(bytes: &[u8]) -> Read {
        let Ok(Value::Object(fields)) = serde_json::from_slice(bytes) else {
            return Read::Unreadable;
        };
        match fields.get("version").and_then(Value::as_u64) {
            Some(VERSION) => {}
            Some(newer) if newer > VERSION => return Read::Newer,
            _ => return Read::Unreadable,
        }
        let text = |name: &str| fields.get(name).and_then(Value::as_str);
        let list = |name: &str| fields.get(name).and_then(Value::as_array);
        let mut memory = Memory {
            programme: text("programme").unwrap_or_default().to_owned(),
            ..Memory::default()
        };
        if let Some(Value::Object(layout)) = fields.get("layout") {
            memory.layout = layout.iter().filter_map(entry).take(MOST_ENTRIES).collect();
        }
        for saved in list("filters").into_iter().flatten() {
            if let Some(saved) = saved_filter(saved) {
                memory.keep(saved);
            }
        }
        for filter in list("lately").into_iter().flatten() {
            if let Some(filter) = filter.as_str() {
                memory.used(filter);
            }
        }
        Read::Memory(memory)
    }

    /// As it stands in a file.
    #[must_use]
    pub fn write(&self) -> String {
        let value = serde_json::json!({
            "version": VERSION,
            "programme": self.programme,
            "layout": self.layout,
            "filters": self.filters,
            "lately": self.lately,
        });
        format!("{value:#}\n")
    }

    /// The saved filter of this name, in any capitals.
    #[must_use]
    pub fn saved(&self, name: &str) -> Option<&SavedFilter> {
        let name = name.trim();
        self.filters.iter().find(|saved| is_same(&saved.name, name))
    }

    /// The name nearest to one that is not there, if any is near.
    #[must_use]
    pub fn nearest(&self, name: &str) -> Option<&str> {
        nearest(name, self.filters.iter().map(|saved| saved.name.as_str()))
    }

    /// Puts a filter among the saved ones, in place of one of its name. One too many is let go.
    pub(super) fn keep(&mut self, saved: SavedFilter) {
        self.filters.retain(|it| !is_same(&it.name, &saved.name));
        if self.filters.len() == MOST_SAVED {
            return;
        }
        self.filters.push(saved);
        self.filters
            .sort_by_cached_key(|saved| (saved.name.to_lowercase(), saved.name.clone()));
    }

    /// Notes that a filter was used; one used before moves to the end.
    pub fn used(&mut self, filter: &str) {
        note(&mut self.lately, filter);
    }
}

/// Notes a filter as the one used last.
pub fn note(lately: &mut Vec<String>, filter: &str) {
    if filter.trim().is_empty() || !fits(filter) {
        return;
    }
    lately.retain(|used| used != filter);
    lately.push(filter.to_owned());
    let excess = lately.len().saturating_sub(MOST_LATELY);
    lately.drain(..excess);
}

/// Whether a text can stand in the line of a filter.
pub(super) fn fits(filter: &str) -> bool {
    filter.len() <= FILTER_LIMIT && !filter.chars().any(char::is_control)
}

fn entry((name, word): (&String, &Value)) -> Option<(String, String)> {
    let word = word.as_str()?;
    let fits = |text: &str| text.len() <= WORD_LIMIT && !text.chars().any(char::is_control);
    (fits(name) && fits(word)).then(|| (name.clone(), word.to_owned()))
}

fn saved_filter(value: &Value) -> Option<SavedFilter> {
    let saved: SavedFilter = serde_json::from_value(value.clone()).ok()?;
    let name = names::name(&saved.name).ok()?;
    fits(&saved.filter).then_some(SavedFilter { name, ..saved })
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn saved(name: &str, filter: &str) -> SavedFilter {
        SavedFilter {
            name: name.to_owned(),
            filter: filter.to_owned(),
        }
    }

    fn full() -> Memory {
        let mut memory = Memory {
            programme: "/plants/north.db".to_owned(),
            ..Memory::default()
        };
        memory.layout.insert("screen".into(), "people".into());
        memory.keep(saved("south", "site:\"South pit\""));
        memory.keep(saved("North", "site:North"));
        memory.used("crew:B");
        memory.used("crew:A");
        memory
    }

    #[test]
    fn what_is_written_is_read_again() {
        let memory = full();
        assert_eq!(memory.filters[0].name, "North", "in the order of names");
        let text = memory.write();
        assert_eq!(Memory::read(text.as_bytes()), Read::Memory(memory));
        assert!(text.contains("\"version\": 1"), "{text}");
    }

    #[test]
    fn a_newer_memory_is_told_from_one_that_cannot_be_read() {
        for (text, read) in [
            ("{\"version\": 2, \"layout\": []}", Read::Newer),
            ("{\"version\": 1}", Read::Memory(Memory::default())),
            ("{\"version\": 0}", Read::Unreadable),
            ("{\"version\": \"1\"}", Read::Unreadable),
            ("{}", Read::Unreadable),
            ("[1]", Read::Unreadable),
            ("", Read::Unreadable),
            ("\u{0}\u{0}", Read::Unreadable),
        ] {
            assert_eq!(Memory::read(text.as_bytes()), read, "{text}");
        }
        let deep = "[".repeat(100_000);
        assert_eq!(Memory::read(deep.as_bytes()), Read::Unreadable);
    }

    #[test]
    fn what_is_no_piece_of_it_is_left_out() {
        let text = r#"{"version": 1, "colour": "teal", "programme": 7,
            "layout": {"screen": "people", "size": 3, "a\u001bb": "x", "c": "d\u0007"},
            "filters": [{"name": "a", "filter": "site:North"}, {"name": "", "filter": ""},
                        {"name": "A", "filter": "site:South"}, {"name": "b"}, 4,
                        {"name": "c\u001b[2J", "filter": "x:y"},
                        {"name": "later", "filter": "weather:wet"}],
            "lately": ["crew:A", 5, "", "crew:B", "crew:A"]}"#;
        let Read::Memory(memory) = Memory::read(text.as_bytes()) else {
            panic!("it is a memory");
        };
        assert_eq!(memory.programme, "");
        assert_eq!(
            memory.layout,
            Layout::from([("screen".into(), "people".into())])
        );
        assert_eq!(
            memory.filters,
            [saved("A", "site:South"), saved("later", "weather:wet")]
        );
        assert_eq!(memory.lately, ["crew:B", "crew:A"]);
        assert_eq!(memory.saved(" LATER "), Some(&memory.filters[1]));
        assert_eq!(memory.nearest("latr"), Some("later"));
    }

    #[test]
    fn it_never_grows_without_end() {
        let mut memory = Memory::default();
        for number in 0..MOST_SAVED + 20 {
            memory.keep(saved(&format!("name {number:03}"), "site:North"));
            memory.used(&format!("crew:{number}"));
        }
        assert_eq!(memory.filters.len(), MOST_SAVED);
        assert_eq!(memory.lately.len(), MOST_LATELY);
        let last = memory.lately.last().cloned();
        assert_eq!(last, Some(format!("crew:{}", MOST_SAVED + 19)));
        // The longest that can be kept, every sign of it escaped, still fits its file.
        let mut memory = Memory::default();
        let long = "\"".repeat(FILTER_LIMIT - 3);
        for number in 0..MOST_SAVED {
            let name = format!("{number:03}{}", "ö".repeat(names::NAME_LIMIT - 3));
            memory.keep(saved(&name, &long));
        }
        for number in 0..MOST_LATELY {
            memory.used(&format!("{number:03}{long}"));
        }
        assert_eq!(memory.filters.len(), MOST_SAVED);
        let text = memory.write();
        assert!((text.len() as u64) < FILE_LIMIT, "{}", text.len());
        assert_eq!(Memory::read(text.as_bytes()), Read::Memory(memory));
    }

    proptest! {
        #[test]
        fn any_bytes_are_read_without_harm(bytes in proptest::collection::vec(any::<u8>(), 0..200)) {
            let _ = Memory::read(&bytes);
        }

        #[test]
        fn a_memory_cut_or_changed_anywhere_is_read_without_harm(at in 0usize..400, byte in any::<u8>()) {
            let mut bytes = full().write().into_bytes();
            let at = at % bytes.len();
            let _ = Memory::read(&bytes[..at]);
            bytes[at] = byte;
            if let Read::Memory(read) = Memory::read(&bytes) {
                // Whatever was read can be written and read again.
                prop_assert_eq!(Memory::read(read.write().as_bytes()), Read::Memory(read));
            }
        }

        #[test]
        fn any_memory_comes_back_as_it_was(
            words in proptest::collection::btree_map("[a-z.]{1,20}", "[ -~]{0,40}", 0..20),
            names in proptest::collection::vec("[a-zA-Z0-9äöü][a-zA-Z0-9 äöü]{0,30}", 0..20),
            filters in proptest::collection::vec("[ -~ö]{1,60}", 0..30),
        ) {
            let mut memory = Memory { layout: words, ..Memory::default() };
            for (name, filter) in names.iter().zip(&filters) {
                memory.keep(saved(name.trim(), filter));
            }
            for filter in &filters {
                memory.used(filter);
            }
            prop_assert_eq!(Memory::read(memory.write().as_bytes()), Read::Memory(memory));
        }
    }
}
