//! docs/doubts.md says what the signals say.

use std::fs;

use fairdraw::analysis::doubts::{cards, page};

use crate::docs::same;
use crate::support::root;

#[test]
fn the_page_of_doubts_says_what_the_signals_say() {
    let path = "docs/doubts.md";
    let text = fs::read_to_string(root().join(path)).unwrap();
    let (opening, rest) = text.split_once("<!-- signals -->\n").unwrap();
    let (_, closing) = rest.split_once("<!-- end of signals -->\n").unwrap();
    let signals = page::docs_markdown();
    same(
        path,
        &format!("{opening}<!-- signals -->\n{signals}<!-- end of signals -->\n{closing}"),
    );
    for card in cards() {
        let row = format!("| `{}` |", card.id);
        assert!(
            text.contains(&row),
            "{path}: no measured power of {}",
            card.id
        );
    }
}

#[test]
fn every_signal_offers_honest_explanations_and_something_to_do() {
    for card in cards() {
        assert!(card.explanations.len() >= 2, "{}", card.id);
        assert!(card.next.len() >= 2, "{}", card.id);
        for text in [card.title, card.looks_at, card.chance, card.counts] {
            for harsh in [
                "fraud", "cheat", "lied", "fake", "guilt", "offend", "suspect",
            ] {
                assert!(!text.to_lowercase().contains(harsh), "{}: {harsh}", card.id);
            }
        }
    }
}
