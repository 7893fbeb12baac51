//! Searching the codes of a million draws and bottles between two keystrokes.
//!
//! Codes are short and mostly digits, so that plain bytes in any case are enough: a code is
//! found if it holds what was typed, or holds it with at most [`MOST_LEFT_OUT`] signs
//! between (`B697423` finds `B0697423`). The newest draws come first.

use std::cmp::Reverse;

use rayon::prelude::*;

use super::best::Best;
use super::pattern::Tier;
use crate::model::Progress;
use crate::model::history::Identities;

/// How many codes one thread looks at between two looks whether it is to stop.
const PIECE: usize = 1 << 15;

/// So many signs of a code may lie between those that were typed.
const MOST_LEFT_OUT: usize = 2;

/// How well a code fits: how it lies, how much longer the code is, the newest row.
pub(super) type CodeFit = (Tier, usize, Reverse<u32>);

/// The codes that fit: the best, and how many in all. `None` if it was stopped.
pub(super) fn search(
    codes: &Identities,
    rows: &[u32],
    query: &str,
    progress: &Progress,
) -> Option<Best<CodeFit>> {
    let typed = query.to_ascii_lowercase().into_bytes();
    if typed.is_empty() {
        return Some(Best::default());
    }
    let found = (0..codes.len())
        .into_par_iter()
        .step_by(PIECE)
        .map(|start| {
            let mut best = Best::default();
            if progress.is_stopped() {
                return best;
            }
            let piece = &rows[start..codes.len().min(start + PIECE)];
            for (place, row) in (start..).zip(piece) {
                let code = codes.get(place).as_bytes();
                if let Some((tier, _)) = lies(&typed, code) {
                    let longer = code.len() - typed.len();
                    best.add((tier, longer, Reverse(*row)), place);
                }
            }
            best
        })
        .reduce(Best::default, Best::join);
    (!progress.is_stopped()).then_some(found)
}

/// The graphemes of a code that it is found by.
pub(super) fn marks(query: &str, code: &str) -> Vec<u32> {
    use unicode_segmentation::UnicodeSegmentation;
    let typed = query.to_ascii_lowercase().into_bytes();
    let Some((_, bytes)) = lies(&typed, code.as_bytes()) else {
        return Vec::new();
    };
    let places = code.grapheme_indices(true).zip(0..);
    let is_marked = |at: usize, grapheme: &str| {
        let mut own = bytes.clone();
        own.any(|byte| byte >= at && byte < at + grapheme.len())
    };
    places
        .filter(|((at, grapheme), _)| is_marked(*at, grapheme))
        .map(|(_, place)| place)
        .collect()
}

/// How what was typed (in lower case) lies in a code, and from which byte to which.
fn lies(typed: &[u8], code: &[u8]) -> Option<(Tier, std::ops::Range<usize>)> {
    let end = end_of(typed, code)?;
    let same = |part: &[u8]| part.eq_ignore_ascii_case(typed);
    if typed.len() == code.len() {
        return Some((Tier::Whole, 0..code.len()));
    }
    if same(&code[..typed.len()]) {
        return Some((Tier::Beginning, 0..typed.len()));
    }
    if let Some(start) = code.windows(typed.len()).position(same) {
        return Some((Tier::Within, start..start + typed.len()));
    }
    // Back from the end the signs lie as close as they can.
    let mut start = end;
    for sign in typed.iter().rev() {
        start = code[..start]
            .iter()
            .rposition(|it| it.to_ascii_lowercase() == *sign)?;
    }
    let is_close = end - start <= typed.len() + MOST_LEFT_OUT;
    is_close.then_some((Tier::Scattered, start..end))
}

/// Where the signs that were typed have all been met in order; most codes end here.
fn end_of(typed: &[u8], code: &[u8]) -> Option<usize> {
    let mut met = 0;
    for (at, sign) in code.iter().enumerate() {
        let wanted = typed.get(met)?;
        met += usize::from(sign.to_ascii_lowercase() == *wanted);
        if met == typed.len() {
            return Some(at + 1);
        }
    }
    None
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::*;

    fn codes(all: &[&str]) -> (Identities, Vec<u32>) {
        let mut codes = Identities::default();
        for code in all {
            codes.push(code);
        }
        (codes, (0..all.len() as u32).collect())
    }

    #[test]
    fn codes_are_found_whole_from_the_beginning_within_and_with_signs_left_out() {
        let (codes, rows) = codes(&[
            "B0697423",
            "b069742",
            "XB0697423",
            "B-0697423",
            "",
            "B7",
            "Ö-1",
        ]);
        let found = |query: &str| {
            let best = search(&codes, &rows, query, &Progress::default()).unwrap();
            let places: Vec<usize> = best.list.iter().map(|(_, place)| *place).collect();
            (best.count, places)
        };
        assert_eq!(found("b0697423"), (3, vec![0, 2, 3]));
        assert_eq!(found("B069742"), (4, vec![1, 0, 2, 3]));
        assert_eq!(found("b697423"), (3, vec![0, 3, 2]));
        assert_eq!(found("B97423"), (2, vec![0, 2]));
        assert_eq!(found("Ö-1"), (1, vec![6]));
        assert_eq!(found("nothing"), (0, vec![]));
        assert_eq!(found(""), (0, vec![]));
    }

    #[test]
    fn a_stopped_search_answers_nothing() {
        let (codes, rows) = codes(&["B1"]);
        let progress = Progress::default();
        progress.stop();
        assert!(search(&codes, &rows, "b", &progress).is_none());
    }

    #[test]
    fn marks_cover_what_was_typed() {
        assert_eq!(marks("697", "B0697423"), [2, 3, 4]);
        assert_eq!(marks("Ö-", "aÖ-1"), [1, 2]);
        assert_eq!(marks("z", "B1"), [0u32; 0]);
    }

    proptest! {
        #[test]
        fn a_code_that_holds_what_was_typed_is_always_found(
            before in "[A-Z0-9]{0,5}", typed in "[a-z0-9]{1,4}", after in "[A-Z0-9]{0,5}"
        ) {
            let code = format!("{before}{typed}{after}");
            let (tier, range) = lies(typed.as_bytes(), code.as_bytes()).unwrap();
            prop_assert!(tier <= Tier::Within);
            prop_assert!(code[range].eq_ignore_ascii_case(&typed));
        }

        #[test]
        fn the_best_do_not_depend_on_how_the_work_is_shared_out(
            all in proptest::collection::vec("[AB][0-2]{1,3}", 1..60), typed in "[ab0-2]{1,3}"
        ) {
            let all: Vec<&str> = all.iter().map(String::as_str).collect();
            let (codes, rows) = codes(&all);
            let found = search(&codes, &rows, &typed, &Progress::default()).unwrap();
            let mut expected: Vec<(CodeFit, usize)> = all.iter().enumerate()
                .filter_map(|(place, code)| {
                    let (tier, _) = lies(typed.as_bytes(), code.as_bytes())?;
                    Some(((tier, code.len() - typed.len(), Reverse(place as u32)), place))
                })
                .collect();
            expected.sort();
            prop_assert_eq!(found.count, expected.len());
            expected.truncate(found.list.len());
            prop_assert_eq!(found.list, expected);
        }
    }
}
