//! Values and the words for them: tables read both ways.

/// The word of a value.
pub(super) fn word<T: Copy + PartialEq>(table: &[(&'static str, T)], value: T) -> &'static str {
    let found = table.iter().find(|(_, known)| *known == value);
    found.map_or("", |(word, _)| word)
}

/// The value of a word.
pub(super) fn value<T: Copy>(table: &[(&'static str, T)], word: &str) -> Option<T> {
    let found = table.iter().find(|(known, _)| *known == word);
    found.map(|(_, value)| *value)
}

/// The words of a table.
pub(super) fn words<T>(table: &[(&'static str, T)]) -> Vec<String> {
    table.iter().map(|(word, _)| (*word).to_owned()).collect()
}

/// A yes and a no.
pub(super) const SWITCH: &[(&str, bool)] = &[("off", false), ("on", true)];

/// Whether the highest value comes first.
const DIRECTION: &[(&str, bool)] = &[("up", false), ("down", true)];

/// What a list is sorted by and in which direction, such as `draws down`.
pub(super) fn order<T: Copy + PartialEq>(
    table: &[(&'static str, T)],
    by: T,
    descending: bool,
) -> String {
    format!("{} {}", word(table, by), word(DIRECTION, descending))
}

/// Reads what [`order`] wrote.
pub(super) fn read_order<T: Copy>(table: &[(&'static str, T)], words: &str) -> Option<(T, bool)> {
    let (by, direction) = words.rsplit_once(' ')?;
    Some((value(table, by)?, value(DIRECTION, direction)?))
}

/// Every order of a table.
pub(super) fn orders<T>(table: &[(&'static str, T)]) -> Vec<String> {
    let both = |(word, _): &(&str, T)| [format!("{word} up"), format!("{word} down")];
    table.iter().flat_map(both).collect()
}
