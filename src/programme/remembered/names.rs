//! What a saved filter may be called.

use crate::model::printable::printable;

/// The most characters a name may have.
pub const NAME_LIMIT: usize = 40;

/// The name without blanks around it, if it can be one: 1 to 40 characters that can be printed,
/// the first of them no `@`, which stands before names on the command line.
///
/// # Errors
/// Why it is none, in words.
pub fn name(text: &str) -> Result<String, String> {
    let name = text.trim();
    if name.is_empty() {
        return Err("a name must not be blank".to_owned());
    }
    if name.chars().count() > NAME_LIMIT {
        return Err(format!("a name has at most {NAME_LIMIT} characters"));
    }
    if printable(name) != name {
        return Err("a name holds nothing that can't be printed".to_owned());
    }
    if name.starts_with('@') {
        return Err("a name does not begin with @, which stands before names".to_owned());
    }
    Ok(name.to_owned())
}

/// Whether two names are the same: they are told apart by letters, not by capitals.
#[must_use]
pub fn is_same(one: &str, other: &str) -> bool {
    one.to_lowercase() == other.to_lowercase()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_can_be_printed_and_typed() {
        for (text, read) in [
            ("north", Some("north")),
            (" night shift ", Some("night shift")),
            ("Öl 46", Some("Öl 46")),
            ("a@b", Some("a@b")),
            ("", None),
            ("  ", None),
            ("@north", None),
            ("a\u{1b}[2J", None),
            ("a\nb", None),
            ("a\u{202e}b", None),
        ] {
            assert_eq!(name(text).ok().as_deref(), read, "{text:?}");
        }
        assert!(name(&"x".repeat(NAME_LIMIT)).is_ok());
        assert!(name(&"x".repeat(NAME_LIMIT + 1)).is_err());
        assert!(is_same("North", "nORTH") && !is_same("North", "North 2"));
    }
}
