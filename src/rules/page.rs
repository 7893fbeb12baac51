//! The page of a rule, for people who draw and people who train them: Markdown that also
//! reads well as plain text.

use std::fmt::Write as _;

use super::{COUNT, InForce, Rulebook, cards};
use crate::model::Class;

/// The page of the rule at this place of the order, with its weight and parameters as
/// they stand in `in_force`.
///
/// # Panics
/// When there is no such place.
#[must_use]
pub fn page(place: usize, in_force: &InForce) -> String {
    let card = cards()[place];
    let mut text = format!("## {}\n\n{}\n\n", card.id, card.asks);
    let _ = writeln!(text, "{}\n", standing(place, in_force));
    paragraph(&mut text, "Why it matters", card.why);
    paragraph(&mut text, "Next time", card.next_time);
    if !card.caution.is_empty() {
        let _ = writeln!(text, "> **Caution.** {}\n", card.caution);
    }
    paragraph(&mut text, "How it is judged", card.judged);
    if !card.only_where.is_empty() {
        let _ = writeln!(text, "It applies only where {}.\n", card.only_where);
    }
    text.push_str(&parameters(place, in_force));
    let _ = writeln!(text, "**Where it comes from.** {}", card.source);
    text
}

/// All pages, with a table of the rules before them, as the default rulebook has them.
#[must_use]
pub fn docs_markdown() -> String {
    let book = Rulebook::standard();
    let in_force = &book.all_in_force()[0];
    let mut text = String::from(
        "# The rules\n\n\
         What each rule asks, why it matters and what to do next time. The weights and limits \
         here are those of the default rulebook; a programme may change them in its own \
         ([rulebook.md](rulebook.md)).\n\n\
         A rule answers *met*, *broken*, *unrecorded* or *not applicable*. A blank never passes \
         a rule and never fails one (label-complete alone is there to judge blanks). Rules of \
         class *sample* speak about the sample and make the verdict; *record* is about what was \
         written down; *conduct* is about personal safety and is counted apart. Where a rule is \
         *decisive*, breaking it alone makes the draw unrepresentative.\n\n\
         The pages give the trade's usual cautions. Local codes, the site's permit rules and \
         qualified people come before anything said here.\n\n\
         | rule | class | weight | decisive | kinds | answers to |\n\
         |---|---|---|---|---|---|\n",
    );
    for (place, card) in cards().iter().enumerate() {
        let _ = writeln!(
            text,
            "| [{id}](#{id}) | {} | {} | {} | {} | {} |",
            card.class,
            in_force.weights[place],
            decisive(place, in_force),
            kinds(place),
            card.owner,
            id = card.id,
        );
    }
    for place in 0..COUNT {
        let _ = write!(text, "\n{}", page(place, in_force));
    }
    text
}

/// One line on what the rule is and weighs.
fn standing(place: usize, in_force: &InForce) -> String {
    let card = cards()[place];
    let mut line = format!("*Class {}, weight {}", card.class, in_force.weights[place]);
    if in_force.decisive.has(place) {
        line.push_str(", decisive");
    }
    if !in_force.is_on(place) {
        line.push_str(", switched off");
    }
    let _ = write!(
        line,
        ". Kinds: {}. Answers to: {}.*",
        kinds(place),
        card.owner
    );
    line
}

fn decisive(place: usize, in_force: &InForce) -> &'static str {
    match (cards()[place].class, in_force.decisive.has(place)) {
        (Class::Sample, true) => "yes",
        (Class::Sample, false) => "no",
        _ => "–",
    }
}

fn kinds(place: usize) -> String {
    let kinds: Vec<&str> = cards()[place]
        .kinds
        .iter()
        .map(|kind| kind.as_str())
        .collect();
    kinds.join(", ")
}

fn paragraph(text: &mut String, head: &str, words: &str) {
    let _ = writeln!(text, "**{head}.** {words}\n");
}

fn parameters(place: usize, in_force: &InForce) -> String {
    let settings = in_force.settings(place);
    if settings.is_empty() {
        return String::new();
    }
    let mut text = String::from("| parameter | value | meaning |\n|---|---|---|\n");
    for setting in settings {
        let blank = if setting.unit.is_empty() { "" } else { " " };
        let _ = writeln!(
            text,
            "| {} | {}{blank}{} | {} |",
            setting.name, setting.value, setting.unit, setting.meaning
        );
    }
    text.push('\n');
    text
}
