//! The written form: a YAML file as a tree in which everything knows its place.
//!
//! All reading of YAML stands here. The tree keeps repeated keys, so that the check can
//! list them with every other mistake; only what is no YAML at all stops the reading.

use std::fmt;

use serde::de::{Deserialize, Deserializer, MapAccess, SeqAccess, Visitor};
use serde_yaml::budget::BudgetBreach;
use serde_yaml::{DuplicateKeyPolicy, NonFiniteFloatPolicy, Spanned};

use super::problem::{Place, Problem};

/// Longest file that is read, in bytes.
pub const LONGEST: usize = 1 << 20;

/// A value with the place it is written at.
#[derive(Clone, Debug)]
pub struct Node {
    /// Where it begins.
    pub at: Place,
    /// What it is.
    pub value: Value,
}

/// What may stand in a YAML file.
#[derive(Clone, Debug)]
pub enum Value {
    /// Nothing, `~` or `null`.
    Null,
    /// `true` or `false`, with the text as written.
    Bool(bool, String),
    /// A number, with the text as written.
    Number(f64, String),
    /// A text.
    Text(String),
    /// A list.
    List(Vec<Node>),
    /// A map, repeated keys included.
    Map(Vec<(Node, Node)>),
}

impl Node {
    /// The value as a text, for columns where `no`, `0123` or `1.10` are texts as well.
    #[must_use]
    pub fn as_text(&self) -> Option<&str> {
        match &self.value {
            Value::Text(text) | Value::Bool(_, text) | Value::Number(_, text) => Some(text),
            _ => None,
        }
    }

    /// What stands here, in words for a message.
    #[must_use]
    pub fn described(&self) -> String {
        match &self.value {
            Value::Null => "nothing".to_owned(),
            Value::Bool(_, text) | Value::Number(_, text) => shortened(text),
            Value::Text(text) => format!("the text {}", quoted(text)),
            Value::List(_) => "a list".to_owned(),
            Value::Map(_) => "a map".to_owned(),
        }
    }
}

/// A text of the file as it is quoted in a message: within quotes, its beginning if it is
/// long.
#[must_use]
pub fn quoted(text: &str) -> String {
    format!("{:?}", shortened(text))
}

fn shortened(text: &str) -> String {
    const LONGEST_QUOTE: usize = 60;
    match text.char_indices().nth(LONGEST_QUOTE) {
        Some((end, _)) => format!("{}…", &text[..end]),
        None => text.to_owned(),
    }
}

/// Reads a YAML text; `what` says what it should be, such as `rulebook`.
///
/// # Errors
/// One problem with its place: too long, no YAML, two documents, or aliases that unfold
/// without end.
pub fn parse(text: &str, file: &str, what: &str) -> Result<Node, Problem> {
    if text.len() > LONGEST {
        let message = format!("longer than 1 MiB, which is more than a {what} has to say");
        return Err(Problem::new(file, Place::START, &message));
    }
    let options = serde_yaml::options! {
        strict_booleans: true,
        underscored_numbers_as_strings: true,
        duplicate_keys: DuplicateKeyPolicy::PassThrough,
        non_finite_float_policy: NonFiniteFloatPolicy::PassThrough,
        with_snippet: false,
        budget: serde_yaml::budget! { max_nodes: 50_000, max_documents: 1 },
    };
    serde_yaml::from_str_with_options::<Spanned<Raw>>(text, options)
        .map(|raw| settle(raw, text))
        .map_err(|error| Problem::new(file, place_of(&error), &said(&error, what)))
}

/// The same tree as the reader hands it over, before texts are cut out of the file.
enum Raw {
    Null,
    Bool(bool),
    Number(f64),
    Text(String),
    List(Vec<Spanned<Raw>>),
    Map(Vec<(Spanned<Raw>, Spanned<Raw>)>),
}

/// Puts places and written texts into the tree.
fn settle(raw: Spanned<Raw>, text: &str) -> Node {
    let at = Place {
        line: count(raw.referenced.line()),
        column: count(raw.referenced.column()),
    };
    let span = raw.defined.span();
    let as_written = || match (span.byte_offset(), span.byte_len()) {
        (Some(from), Some(length)) => usize::try_from(from)
            .ok()
            .zip(usize::try_from(from + length).ok())
            .and_then(|(from, to)| text.get(from..to))
            .unwrap_or_default()
            .to_owned(),
        _ => String::new(),
    };
    let value = match raw.value {
        Raw::Null => Value::Null,
        Raw::Bool(yes) => Value::Bool(yes, as_written()),
        Raw::Number(number) => Value::Number(number, as_written()),
        Raw::Text(text) => Value::Text(text),
        Raw::List(items) => Value::List(items.into_iter().map(|item| settle(item, text)).collect()),
        Raw::Map(entries) => Value::Map(
            entries
                .into_iter()
                .map(|(key, value)| {
                    let (key, mut value) = (settle(key, text), settle(value, text));
                    if matches!(value.value, Value::Null) {
                        // Nothing has no place of its own; its key has.
                        value.at = key.at;
                    }
                    (key, value)
                })
                .collect(),
        ),
    };
    Node { at, value }
}

fn count(number: u64) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

fn place_of(error: &serde_yaml::Error) -> Place {
    error.location().map_or(Place::START, |location| Place {
        line: count(location.line()),
        column: count(location.column()),
    })
}

/// What the reader found wrong, in our words where it is more than a slip of syntax.
fn said(error: &serde_yaml::Error, what: &str) -> String {
    use serde_yaml::Error as E;
    match error.without_snippet() {
        E::Budget {
            breach: BudgetBreach::Documents { .. },
            ..
        }
        | E::MultipleDocuments { .. } => {
            format!("a second document begins here; keep one {what} in one file")
        }
        E::RecursiveReferencesRequireWeakTypes { .. } => {
            "this alias contains itself; write the values out".to_owned()
        }
        E::Budget { .. }
        | E::AliasReplayLimitExceeded { .. }
        | E::AliasExpansionLimitExceeded { .. }
        | E::AliasReplayStackDepthExceeded { .. } => {
            format!(
                "the file unfolds to more than a {what} can hold; use fewer aliases and less nesting"
            )
        }
        E::AliasError { error, .. } => said(error, what),
        other => {
            let text = other.to_string();
            let what = text.split(" at line ").next().unwrap_or_default();
            format!("this is not YAML: {what}")
        }
    }
}

impl<'de> Deserialize<'de> for Raw {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(RawVisitor)
    }
}

struct RawVisitor;

impl<'de> Visitor<'de> for RawVisitor {
    type Value = Raw;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a value")
    }

    fn visit_unit<E>(self) -> Result<Raw, E> {
        Ok(Raw::Null)
    }

    fn visit_none<E>(self) -> Result<Raw, E> {
        Ok(Raw::Null)
    }

    fn visit_bool<E>(self, value: bool) -> Result<Raw, E> {
        Ok(Raw::Bool(value))
    }

    fn visit_i64<E>(self, value: i64) -> Result<Raw, E> {
        Ok(Raw::Number(value as f64))
    }

    fn visit_u64<E>(self, value: u64) -> Result<Raw, E> {
        Ok(Raw::Number(value as f64))
    }

    fn visit_i128<E>(self, value: i128) -> Result<Raw, E> {
        Ok(Raw::Number(value as f64))
    }

    fn visit_u128<E>(self, value: u128) -> Result<Raw, E> {
        Ok(Raw::Number(value as f64))
    }

    fn visit_f64<E>(self, value: f64) -> Result<Raw, E> {
        Ok(Raw::Number(value))
    }

    fn visit_str<E>(self, value: &str) -> Result<Raw, E> {
        Ok(Raw::Text(value.to_owned()))
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut items: A) -> Result<Raw, A::Error> {
        let mut list = Vec::new();
        while let Some(item) = items.next_element()? {
            list.push(item);
        }
        Ok(Raw::List(list))
    }

    fn visit_map<A: MapAccess<'de>>(self, mut entries: A) -> Result<Raw, A::Error> {
        let mut map = Vec::new();
        while let Some(entry) = entries.next_entry()? {
            map.push(entry);
        }
        Ok(Raw::Map(map))
    }
}
