//! The part of docs/doubts.md that is printed from the signals.

use std::fmt::Write as _;

use super::cards;

/// What every signal looks at, how its chance is worked out, what else explains it and what to
/// do next, as Markdown.
#[must_use]
pub fn docs_markdown() -> String {
    let mut text = String::new();
    for card in cards() {
        // Writing to a text cannot fail.
        let _ = write!(
            text,
            "### {}\n\n`{}`. {}\n\n**The chance.** {}\n\n**What else explains it**\n\n{}\n\
             **What to do next**\n\n{}\nSource: {}\n\n",
            card.title,
            card.id,
            card.looks_at,
            card.chance,
            list(card.explanations),
            list(card.next),
            card.source
        );
    }
    text
}

fn list(lines: &[&str]) -> String {
    lines.iter().map(|line| format!("* {line}\n")).collect()
}
