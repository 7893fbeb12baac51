//! A header of a sheet: its name and the unit it may bear.

use super::vocabulary::folded_name;
use crate::intake::maps::unit::{self, Quantity, Said};

/// One header, taken apart.
pub struct Heading {
    /// Its whole text, folded.
    pub whole: String,
    /// Without the unit in brackets or at its end, folded; the same where it bears none.
    pub name: String,
    /// The unit in brackets, and its text.
    bracketed: Option<(Said, String)>,
    /// A last word that may be a unit, and its text.
    last: Option<(Said, String)>,
    /// Other words that may be units.
    others: Vec<(Said, String)>,
}

impl Heading {
    /// Takes a header apart.
    pub fn of(text: &str) -> Self {
        let whole = folded_name(text);
        if let Some((before, inner, after)) = bracketed(text)
            && let known @ (Said::Unit(_) | Said::Either(..)) = unit::said(inner)
        {
            return Heading {
                whole,
                name: folded_name(&format!("{before} {after}")),
                bracketed: Some((known, inner.to_owned())),
                last: None,
                others: Vec::new(),
            };
        }
        let last = last_word(text);
        let name = match &last {
            Some((_, word)) => folded_name(text.strip_suffix(word.as_str()).unwrap_or(text)),
            None => whole.clone(),
        };
        Heading {
            whole,
            name,
            bracketed: None,
            last,
            others: unit_words(text),
        }
    }

    /// The unit it bears, if that is one of this quantity, and its text.
    pub fn unit(&self, quantity: Quantity) -> Option<(Said, &str)> {
        let of = |said: &Said| match said {
            Said::Unit(unit) | Said::Either(unit, _) => unit.quantity == quantity,
            Said::Unknown => false,
        };
        let mut found = self.bracketed.iter().chain(&self.last).chain(&self.others);
        found
            .find(|(said, _)| of(said))
            .map(|(said, text)| (*said, text.as_str()))
    }

    /// Whether it bears a unit in brackets.
    pub fn is_measured(&self) -> bool {
        self.bracketed.is_some()
    }
}

/// What stands before, in and behind the last pair of brackets.
fn bracketed(text: &str) -> Option<(&str, &str, &str)> {
    [('(', ')'), ('[', ']')]
        .into_iter()
        .find_map(|(open, close)| {
            let from = text.rfind(open)?;
            let to = from + text[from..].find(close)?;
            Some((&text[..from], &text[from + 1..to], &text[to + 1..]))
        })
}

/// The last word, if it is a unit and other words stand before it. `in` is none: it may be just
/// the word.
fn last_word(text: &str) -> Option<(Said, String)> {
    let text = text.trim_end();
    let at = text.rfind([' ', '_', ',', ';'])?;
    let word = &text[at + 1..];
    if word.eq_ignore_ascii_case("in") {
        return None;
    }
    match unit::said(word) {
        Said::Unknown => None,
        known => Some((known, word.to_owned())),
    }
}

/// Words of three letters or more that are units, as in `Min. since stop`.
fn unit_words(text: &str) -> Vec<(Said, String)> {
    let words = text.split(|c: char| !c.is_alphanumeric());
    let long = words.filter(|word| word.chars().count() >= 3);
    let known = long.map(|word| (unit::said(word), word.to_owned()));
    known.filter(|(said, _)| *said != Said::Unknown).collect()
}

/// How well a heading goes with one of the names of a column, from 0 to 1.
pub fn likeness(heading: &Heading, names: &[String]) -> f64 {
    let best = |text: &str| {
        names
            .iter()
            .map(|name| alike(text, name))
            .fold(0.0, f64::max)
    };
    let whole = best(&heading.whole);
    if heading.name == heading.whole || heading.name.is_empty() {
        return whole;
    }
    whole.max(best(&heading.name))
}

fn alike(text: &str, name: &str) -> f64 {
    if text == name {
        return 1.0;
    }
    let (words, known): (Vec<&str>, Vec<&str>) =
        (text.split(' ').collect(), name.split(' ').collect());
    let holds = |all: &[&str], some: &[&str]| some.iter().all(|word| all.contains(word));
    let letters =
        |words: &[&str]| words.iter().map(|word| word.chars().count()).sum::<usize>() as f64;
    match (holds(&words, &known), holds(&known, &words)) {
        (true, true) => 0.95,
        // The name among other words, or some words of the name.
        (true, false) => 0.5 + 0.4 * letters(&known) / letters(&words),
        (false, true) => 0.4 + 0.4 * letters(&words) / letters(&known),
        (false, false) if text.len() >= 5 && is_slip(text, name) => 0.85,
        _ => 0.0,
    }
}

/// Whether the two differ in one letter of five or more put in, left out or changed.
fn is_slip(one: &str, other: &str) -> bool {
    let (one, other): (Vec<char>, Vec<char>) = (one.chars().collect(), other.chars().collect());
    if one.len().abs_diff(other.len()) > 1 {
        return false;
    }
    let same = one.iter().zip(&other).take_while(|(a, b)| a == b).count();
    let (one, other) = (&one[same..], &other[same..]);
    match one.len().cmp(&other.len()) {
        std::cmp::Ordering::Equal => one.get(1..) == other.get(1..),
        std::cmp::Ordering::Less => other.get(1..) == Some(one),
        std::cmp::Ordering::Greater => one.get(1..) == Some(other),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::intake::maps::unit::named;

    fn unit_of(text: &str, quantity: Quantity) -> Option<&'static str> {
        match Heading::of(text).unit(quantity)?.0 {
            Said::Unit(unit) => Some(unit.name),
            Said::Either(..) => Some("either"),
            Said::Unknown => None,
        }
    }

    #[test]
    fn units_stand_in_brackets_or_at_the_end() {
        use Quantity::{Length, Share, Temperature, Volume};
        assert_eq!(unit_of("Oil temp (°F)", Temperature), Some("°F"));
        assert_eq!(unit_of("Fill [%]", Share), Some("%"));
        assert_eq!(unit_of("oil_temp_f", Temperature), Some("°F"));
        assert_eq!(unit_of("Flush, ml", Volume), Some("mL"));
        assert_eq!(unit_of("Added gal", Volume), Some("either"));
        assert_eq!(unit_of("Oil temp (°F)", Volume), None);
        assert_eq!(unit_of("Tube in", Length), None);
        assert_eq!(unit_of("Min. since stop", Quantity::Duration), Some("min"));
        assert_eq!(unit_of("Temp", Temperature), None);
        assert_eq!(Heading::of("Oil temp (°F)").name, "oil temp");
        assert!(named("°F").is_some());
    }

    #[test]
    fn likeness_falls_from_the_very_name_to_a_word_of_it() {
        let names = vec!["oil temperature".to_owned(), "temp".to_owned()];
        let like = |text: &str| likeness(&Heading::of(text), &names);
        assert!((like("Oil Temperature") - 1.0).abs() < 1e-9);
        assert!((like("Temp (°F)") - 1.0).abs() < 1e-9);
        assert!((like("temperature oil") - 0.95).abs() < 1e-9);
        assert!((like("oil tempersture") - 0.85).abs() < 1e-9);
        assert!(like("oil temperature at draw") > like("temperature"));
        assert!(like("bottle") < 1e-9);
    }
}
