//! The trail: what people decided, in order, each link holding the hash of the one before.
//!
//! A link's canonical form is JSON after RFC 8785 (keys sorted, no white space). What goes
//! into a decision is texts, whole numbers, yes/no, lists and objects; other numbers are
//! written as texts, so that no two programs can disagree on how one is spelt.

use std::fmt;

use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::{Value, json};
use sha2::{Digest, Sha256};

/// What stands in place of a previous hash before the first link.
pub const NO_LINK: &str = "0000000000000000000000000000000000000000000000000000000000000000";

/// The most characters a name may have.
const NAME_LIMIT: usize = 100;

/// Who decided: a name that can be printed, without blanks around it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Who(String);

impl Who {
    /// The name, if it is one: 1 to 100 characters, none of them a control character.
    #[must_use]
    pub fn named(name: &str) -> Option<Self> {
        let name = name.trim();
        let fits = (1..=NAME_LIMIT).contains(&name.chars().count());
        (fits && !name.chars().any(char::is_control)).then(|| Who(name.to_owned()))
    }

    /// The name.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Who {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

/// A kind of decision that is kept in the trail.
pub trait Decided: Serialize + DeserializeOwned {
    /// The word that tells it from other kinds, such as `finding raised`.
    const KIND: &'static str;

    /// What was decided, in a line of words, as a list of the trail shows it.
    fn says(&self) -> String;
}

/// One decision in the trail.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// Its number, counting from 1.
    pub number: i64,
    /// When, in seconds since 1970 UTC.
    pub at: i64,
    /// Who decided.
    pub who: String,
    /// The kind of decision.
    pub kind: String,
    /// What was decided, in canonical form.
    pub what: String,
    /// The hash of the link before, [`NO_LINK`] for the first.
    pub previous: String,
    /// The hash of this one.
    pub hash: String,
}

impl Link {
    /// The link that follows `last`.
    ///
    /// # Errors
    /// A decision that can't be written as JSON.
    pub fn after<D: Decided>(
        last: Option<&Link>,
        at: i64,
        who: &Who,
        decision: &D,
    ) -> serde_json::Result<Self> {
        let mut link = Link {
            number: last.map_or(1, |last| last.number + 1),
            at,
            who: who.as_str().to_owned(),
            kind: D::KIND.to_owned(),
            what: canonical(&serde_json::to_value(decision)?),
            previous: last.map_or(NO_LINK, |last| &last.hash).to_owned(),
            hash: String::new(),
        };
        link.hash = link.reckoned_hash();
        Ok(link)
    }

    /// The decision, if it is of this kind and can be read.
    #[must_use]
    pub fn decision<D: Decided>(&self) -> Option<D> {
        (self.kind == D::KIND)
            .then(|| serde_json::from_str(&self.what).ok())
            .flatten()
    }

    /// All that the hash covers beside the hash before, in canonical form.
    #[must_use]
    pub fn canonical(&self) -> String {
        // A decision that is no JSON any more is covered as the text it has become.
        let what =
            serde_json::from_str(&self.what).unwrap_or_else(|_| Value::from(self.what.clone()));
        canonical(&json!({
            "at": self.at,
            "kind": self.kind,
            "number": self.number,
            "what": what,
            "who": self.who,
        }))
    }

    /// SHA-256 over the previous hash, a line feed and the canonical form, in hexadecimal.
    #[must_use]
    pub fn reckoned_hash(&self) -> String {
        let covered = format!("{}\n{}", self.previous, self.canonical());
        sha256(covered.as_bytes())
    }
}

/// SHA-256 of bytes, in hexadecimal.
#[must_use]
pub fn sha256(bytes: &[u8]) -> String {
    hexadecimal(&Sha256::digest(bytes))
}

/// Bytes as lower-case hexadecimal digits.
#[must_use]
pub fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}

/// JSON after RFC 8785: keys in order of their UTF-16 code units, no white space.
fn canonical(value: &Value) -> String {
    match value {
        Value::Object(members) => {
            let mut keys: Vec<&String> = members.keys().collect();
            keys.sort_by_cached_key(|key| key.encode_utf16().collect::<Vec<u16>>());
            let members: Vec<String> = keys
                .into_iter()
                .map(|key| format!("{}:{}", Value::from(key.as_str()), canonical(&members[key])))
                .collect();
            format!("{{{}}}", members.join(","))
        }
        Value::Array(items) => {
            let items: Vec<String> = items.iter().map(canonical).collect();
            format!("[{}]", items.join(","))
        }
        other => other.to_string(),
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use serde::Deserialize;

    #[derive(Debug, PartialEq, Serialize, Deserialize)]
    struct Said {
        text: String,
    }

    impl Decided for Said {
        const KIND: &'static str = "said";

        fn says(&self) -> String {
            self.text.clone()
        }
    }

    fn said(last: Option<&Link>, text: &str) -> Link {
        let who = Who::named("Ada").unwrap();
        let text = text.to_owned();
        Link::after(last, 7, &who, &Said { text }).unwrap()
    }

    /// Recomputed with sha256sum (GNU coreutils) over the printed text.
    #[test]
    fn a_link_is_hashed_as_documented() {
        let link = said(None, "one");
        assert_eq!(
            link.canonical(),
            r#"{"at":7,"kind":"said","number":1,"what":{"text":"one"},"who":"Ada"}"#
        );
        assert_eq!(
            link.hash,
            "26d93a98a7469bdfc7b0ba31282ca01f2d78eb27aaea5a6228a04de48ce7df31"
        );
        assert_eq!(
            link.decision::<Said>(),
            Some(Said {
                text: "one".to_owned()
            })
        );
    }

    #[test]
    fn a_link_holds_the_hash_before_it() {
        let one = said(None, "one");
        let two = said(Some(&one), "two");
        assert_eq!((two.number, &two.previous), (2, &one.hash));
        for changed in [
            Link {
                at: 8,
                ..two.clone()
            },
            Link {
                who: "Bo".into(),
                ..two.clone()
            },
            Link {
                kind: "sad".into(),
                ..two.clone()
            },
            Link {
                what: "{}".into(),
                ..two.clone()
            },
            Link {
                number: 3,
                ..two.clone()
            },
            Link {
                previous: NO_LINK.into(),
                ..two.clone()
            },
        ] {
            assert_ne!(changed.reckoned_hash(), two.hash, "{changed:?}");
        }
    }

    /// The keys of RFC 8785, 3.2.3, in its order.
    #[test]
    fn keys_are_sorted_by_utf_16_code_units() {
        let keys = [
            "\r",
            "1",
            "\u{80}",
            "\u{f6}",
            "\u{20ac}",
            "\u{1f600}",
            "\u{fb33}",
        ];
        let members = keys.iter().rev().map(|key| ((*key).to_owned(), json!(1)));
        let text = canonical(&Value::Object(members.collect()));
        let expected: Vec<String> = keys.iter().map(|key| format!("{}:1", json!(key))).collect();
        assert_eq!(text, format!("{{{}}}", expected.join(",")));
    }

    #[test]
    fn a_name_is_something_that_can_be_printed() {
        assert_eq!(
            Who::named(" Ada ").map(|who| who.to_string()),
            Some("Ada".to_owned())
        );
        for none in ["", "  ", "a\u{1b}[2Jb", &"x".repeat(101)] {
            assert_eq!(Who::named(none), None);
        }
    }
}
