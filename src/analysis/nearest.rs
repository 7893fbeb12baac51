//! The known name nearest to one that is not known, for messages.

/// The candidate nearest to `word` in any case, if it is near enough to be meant: the one
/// of fewest letters changed, at most a third of the word; the first of equals. Else the
/// first that begins with the word.
#[must_use]
pub fn nearest<'a>(
    word: &str,
    candidates: impl Iterator<Item = &'a str> + Clone,
) -> Option<&'a str> {
    let begins = |candidate: &&str| {
        let beginning = candidate.get(..word.len());
        word.len() > 2 && beginning.is_some_and(|it| it.eq_ignore_ascii_case(word))
    };
    by_letters(word, candidates.clone()).or_else(|| candidates.clone().find(begins))
}

fn by_letters<'a>(word: &str, candidates: impl Iterator<Item = &'a str>) -> Option<&'a str> {
    let word: Vec<char> = word.to_lowercase().chars().collect();
    // A longer word is no slip of the fingers, and the work grows with its square.
    if word.len() > 100 {
        return None;
    }
    let at_most = word.len().max(3) / 3;
    candidates
        .filter_map(|candidate| Some((distance(&word, candidate, at_most)?, candidate)))
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, candidate)| candidate)
}

/// How many letters must be changed, added or left out to make the one word from the other
/// (V. I. Levenshtein, Soviet Physics Doklady 10 (1966) 707-710); none if more than
/// `at_most`.
fn distance(word: &[char], candidate: &str, at_most: usize) -> Option<usize> {
    let candidate: Vec<char> = candidate.to_lowercase().chars().collect();
    if word.len().abs_diff(candidate.len()) > at_most {
        return None;
    }
    let mut costs: Vec<usize> = (0..=candidate.len()).collect();
    for (row, letter) in word.iter().enumerate() {
        let mut diagonal = row;
        costs[0] = row + 1;
        for (column, other) in candidate.iter().enumerate() {
            let changed = diagonal + usize::from(letter != other);
            diagonal = costs[column + 1];
            costs[column + 1] = changed.min(costs[column].min(diagonal) + 1);
        }
    }
    costs.last().copied().filter(|&cost| cost <= at_most)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_slip_is_understood_and_another_word_is_not() {
        let rules = ["flush-met", "fill-level", "level-set"];
        let of = |word| nearest(word, rules.into_iter());
        assert_eq!(of("flush-mett"), Some("flush-met"));
        assert_eq!(of("fil-levle"), Some("fill-level"));
        assert_eq!(of("LEVEL-SET"), Some("level-set"));
        assert_eq!(of("level"), Some("level-set"));
        assert_eq!(of("bottle"), None);
        assert_eq!(of(""), None);
    }

    #[test]
    fn the_textbook_distance_is_found() {
        // "kitten" to "sitting" is 3, the standard example of the measure.
        let kitten: Vec<char> = "kitten".chars().collect();
        assert_eq!(distance(&kitten, "sitting", 3), Some(3));
        assert_eq!(distance(&kitten, "sitting", 2), None);
    }
}
