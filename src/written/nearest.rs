//! The known word that a mistyped one most likely meant.

/// `; did you mean flush-met?` for the closest known word, or nothing if none is close.
#[must_use]
pub fn suggestion<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> String {
    match nearest(typed, known) {
        Some(word) => format!("; did you mean {word}?"),
        None => String::new(),
    }
}

/// The closest known word, if it differs by no more than a third of what was typed (two
/// letters for short words). Case, blanks and underscores don't count.
fn nearest<'a>(typed: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let typed: Vec<char> = plain(typed).take(64).collect();
    let most = (typed.len() / 3).max(2);
    known
        .into_iter()
        .map(|word| (distance(&typed, &plain(word).collect::<Vec<_>>()), word))
        .filter(|(distance, _)| *distance <= most)
        .min_by_key(|(distance, _)| *distance)
        .map(|(_, word)| word)
}

fn plain(text: &str) -> impl Iterator<Item = char> {
    text.chars().map(|c| match c {
        '_' | ' ' => '-',
        c => c.to_ascii_lowercase(),
    })
}

/// How many letters must be put in, taken out or changed (Levenshtein).
fn distance(from: &[char], to: &[char]) -> usize {
    let mut row: Vec<usize> = (0..=to.len()).collect();
    for (i, a) in from.iter().enumerate() {
        let mut diagonal = row[0];
        row[0] = i + 1;
        for (j, b) in to.iter().enumerate() {
            let changed = diagonal + usize::from(a != b);
            diagonal = row[j + 1];
            row[j + 1] = changed.min(row[j] + 1).min(diagonal + 1);
        }
    }
    row[to.len()]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn slips_of_the_finger_find_their_word_and_nonsense_does_not() {
        let known = ["flush-met", "fresh-tube", "fill-level"];
        assert_eq!(nearest("flush-mett", known), Some("flush-met"));
        assert_eq!(nearest("Flush_Met", known), Some("flush-met"));
        assert_eq!(nearest("tube-fresh", known), None);
        assert_eq!(nearest("", known), None);
        assert_eq!(suggestion("fil-level", known), "; did you mean fill-level?");
        assert_eq!(suggestion("weather", known), "");
    }
}
