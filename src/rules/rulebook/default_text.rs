//! The default rulebook as a commented YAML file, to copy from.

use std::fmt::Write as _;

use super::read::{HEAVIEST, VERSION};
use super::{Cuts, Standing};
use crate::model::Class;
use crate::rules::Card;
use crate::rules::cards;
use crate::rules::parameter::{Form, Parameter};

/// Widest line of the file.
const WIDTH: usize = 88;

/// The default rulebook with every value said and explained. Read back, it judges as the
/// default does.
#[must_use]
pub fn default_yaml() -> String {
    let cuts = Cuts::default();
    let mut text = String::new();
    comment(
        &mut text,
        "",
        "The default rulebook, every value said. A rulebook of your own needs only name, \
         revision and what differs from here; leave the rest out, so that it stays readable.",
    );
    let _ = write!(
        text,
        "\nfairdraw_rulebook: {VERSION} # version of this format\n\
         name: standard\nrevision: \"1\" # any text; raise it with every change\n\
         #date: 2026-03-04\n\n"
    );
    comment(
        &mut text,
        "",
        "The cuts of the verdict, in percent of the weight of the sample rules that apply; \
         whole numbers from 0 to 100, the first not above the second.",
    );
    let _ = write!(
        text,
        "cuts:\n  unrepresentative: {} # below this a draw is unrepresentative\n  \
         doubtful: {} # below this a draw is doubtful\n\n",
        cuts.unrepresentative, cuts.doubtful
    );
    comment(
        &mut text,
        "",
        &format!(
            "Every rule takes on (true or false) and weight (a whole number from 0 to \
             {HEAVIEST}); rules of class sample also decisive (a breach alone makes the draw \
             unrepresentative)."
        ),
    );
    text.push_str("rules:\n");
    for (place, (card, standing)) in cards().iter().zip(Standing::defaults()).enumerate() {
        if place > 0 {
            text.push('\n');
        }
        rule(&mut text, card, &standing);
    }
    text.push('\n');
    comment(
        &mut text,
        "",
        "What holds for some machine classes or sites only. Each entry changes rules as above; \
         where several hold, the later one wins.",
    );
    text.push_str(
        "overrides: []\n\
         #overrides:\n\
         #  - where: {class: [turbine], site: [North pit]} # both must fit\n\
         #    rules:\n\
         #      flush-met: {multiple: 10}\n",
    );
    text
}

fn rule(text: &mut String, card: &Card, standing: &Standing) {
    let kinds: Vec<&str> = card.kinds.iter().map(|kind| kind.as_str()).collect();
    let only_where = match card.only_where {
        "" => String::new(),
        only => format!(" Only where {only}."),
    };
    comment(text, "  ", card.asks);
    let about = format!(
        "Class {}, answers to: {}; {}.{only_where}",
        card.class,
        card.owner,
        kinds.join(", ")
    );
    comment(text, "  ", &about);
    let _ = writeln!(text, "  {}:", card.id);
    let _ = writeln!(text, "    on: {}", standing.on);
    let _ = writeln!(text, "    weight: {}", standing.weight);
    if card.class == Class::Sample {
        let _ = writeln!(text, "    decisive: {}", standing.decisive);
    }
    let mut words_listed: &[&str] = &[];
    for parameter in card.parameters {
        let value = flow(&standing.settings[parameter.name]);
        match parameter.form {
            // One list of words is enough for parameters that share it.
            Form::Words(words) if words == words_listed => {
                comment(text, "    ", parameter.meaning);
            }
            Form::Words(words) => {
                words_listed = words;
                comment(text, "    ", &explained(parameter));
            }
            Form::Number(..) => comment(text, "    ", &explained(parameter)),
        }
        let _ = writeln!(text, "    {}: {value}", parameter.name);
    }
}

/// What may be written for a parameter and what it means.
fn explained(parameter: &Parameter) -> String {
    match parameter.form {
        Form::Number(low, high) => {
            let unit = parameter.unit.suffix();
            format!("{low} to {high}{unit}: {}", parameter.meaning)
        }
        Form::Words(words) => format!("{}; any of {}", parameter.meaning, words.join(", ")),
    }
}

/// A value as YAML on one line.
fn flow(value: &serde_json::Value) -> String {
    match value {
        serde_json::Value::Array(words) => {
            let words: Vec<&str> = words.iter().filter_map(serde_json::Value::as_str).collect();
            format!("[{}]", words.join(", "))
        }
        serde_json::Value::Number(number) => number
            .as_f64()
            .map_or_else(String::new, |number| number.to_string()),
        other => other.to_string(),
    }
}

/// The text as comment lines of bounded width.
fn comment(text: &mut String, indent: &str, words: &str) {
    let start = format!("{indent}#");
    let mut line = start.clone();
    for word in words.split_whitespace() {
        if line.chars().count() + 1 + word.chars().count() > WIDTH {
            text.push_str(&line);
            text.push('\n');
            line.clone_from(&start);
        }
        line.push(' ');
        line.push_str(word);
    }
    text.push_str(&line);
    text.push('\n');
}
