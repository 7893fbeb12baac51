//! The filter as the header has room for it.

use super::text;
use crate::analysis::Filter;

/// The filter in at most `cells`: all of it, or as many whole terms as fit and how many more
/// there are; never cut in the middle of a term as long as one fits.
pub(crate) fn fitted(filter: &Filter, cells: usize) -> String {
    let terms: Vec<String> = filter.terms().iter().map(ToString::to_string).collect();
    let whole = terms.join(" ");
    if text::cut(&whole, cells) == text::cut(&whole, usize::MAX) {
        return text::cut(&whole, cells);
    }
    let more = |kept: usize| match terms.len() - kept {
        0 => String::new(),
        1 => " + 1 more term".to_owned(),
        left => format!(" + {left} more terms"),
    };
    for kept in (1..terms.len()).rev() {
        let shown = format!(
            "{}{}",
            text::cut(&terms[..kept].join(" "), usize::MAX),
            more(kept)
        );
        if text::width(&shown) <= cells {
            return shown;
        }
    }
    let left = more(1.min(terms.len()));
    let room = cells.saturating_sub(text::width(&left));
    let first = terms.first().map_or("", String::as_str);
    if room < 8 {
        return text::cut(&whole, cells);
    }
    format!("{}{left}", text::cut(first, room))
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn whole_terms_are_kept_and_the_others_counted() {
        let filter = "site:(blank) -crew:Late broken:flush-met class:gearbox";
        for (cells, fitted_to) in [
            (80, filter),
            (54, filter),
            (53, "site:(blank) -crew:Late + 2 more terms"),
            (38, "site:(blank) -crew:Late + 2 more terms"),
            (37, "site:(blank) + 3 more terms"),
            (25, "site:(bla… + 3 more terms"),
            (12, "site:(blank…"),
        ] {
            let filter = Filter::parse(filter).unwrap();
            assert_eq!(fitted(&filter, cells), fitted_to, "{cells}");
        }
        let one = Filter::parse("point:P-1001,P-1002,P-1003").unwrap();
        assert_eq!(fitted(&one, 20), "point:P-1001,P-1002…");
        assert_eq!(fitted(&Filter::default(), 5), "");
    }

    proptest! {
        #[test]
        fn it_always_fits(
            names in proptest::collection::vec("[^\"]{1,20}", 0..6), cells in 0usize..90
        ) {
            let mut filter = Filter::default();
            for name in &names {
                let written = format!("-site:\"{name}\"");
                let term = Filter::parse(&written).unwrap().terms()[0].clone();
                filter = filter.with_term_at(usize::MAX, Some(term));
            }
            prop_assert!(text::width(&fitted(&filter, cells)) <= cells);
        }
    }
}
