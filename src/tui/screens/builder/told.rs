//! The filter builder in words, as linear text.

use super::fields::{Entry, entries};
use super::{Builder, Side};
use crate::tui::app::App;
use crate::tui::plain::{Rows, Told};
use crate::tui::text;

/// The list that has the keys, the filter built so far, and how many draws it would leave.
pub(super) fn told(builder: &Builder, app: &App) -> Told {
    let mut told = match builder.side {
        Side::Fields => fields(builder),
        Side::Values => values(builder),
    };
    let filter = builder.would_be();
    let written = match filter.is_empty() {
        true => "no filter".to_owned(),
        false => filter.to_string(),
    };
    told.say(&format!("It would be: {written}"));
    let all = app.data.as_ref().map_or(0, |it| it.judged.len() as u64);
    if let Some(count) = builder.count {
        let count = text::count(count);
        told.say(&format!(
            "{count} of {} would be in view",
            text::plural(all, "draw", "draws")
        ));
    }
    told
}

/// Terms in force and fields, by number.
fn fields(builder: &Builder) -> Told {
    let mut told = Told::new("Filter builder, fields");
    told.say("A number opens the values of a field or a term; a applies, back leaves it");
    let lines = lines(builder);
    let chosen = lines
        .iter()
        .position(|entry| *entry == builder.fields.chosen);
    let noun = ("term or field", "terms and fields");
    told.rows = Some(Rows::of(
        noun,
        lines.len(),
        chosen.unwrap_or(0),
        "",
        |at| match lines[at] {
            Entry::Term(place) => {
                let terms = builder.draft.filter.terms();
                terms
                    .get(place)
                    .map_or_else(String::new, |term| format!("in force: {term}"))
            }
            Entry::Field(key) => format!("{}: {}", key.title(), key.about()),
            Entry::Heading(words) => words.to_owned(),
        },
    ));
    told
}

/// What can be chosen on the left, without headings.
pub(super) fn lines(builder: &Builder) -> Vec<Entry> {
    let lines = entries(&builder.draft.filter).into_iter();
    lines
        .filter(|entry| !matches!(entry, Entry::Heading(_)))
        .collect()
}

/// The values of the open field with the draws behind each.
fn values(builder: &Builder) -> Told {
    let key = builder.draft.key;
    let mut told = Told::new(&format!("Filter builder, values of {}", key.title()));
    told.say(key.about());
    told.say("A number ticks a value, letters narrow the list, an empty line applies; .fields goes to the fields, .back leaves it");
    let list = &builder.values;
    if !list.sought.text().is_empty() {
        told.say(&format!("Looking for {}", list.sought.text()));
    }
    if builder.draft.excludes() {
        told.say("The term excludes: draws that have none of these values");
    }
    let shown: Vec<_> = list.shown().collect();
    let ticked = builder.draft.ticked();
    let empty = "no value is called that; .clear shows all";
    told.rows = Some(Rows::of(
        ("value", "values"),
        shown.len(),
        list.list.cursor,
        empty,
        |at| {
            let offer = shown[at];
            let name = offer
                .name
                .as_ref()
                .map_or_else(String::new, |name| format!(", {name}"));
            let tick = if ticked.contains(&offer.value) {
                ", ticked"
            } else {
                ""
            };
            let draws = match list.counted {
                true => format!(": {}", text::plural(offer.draws, "draw", "draws")),
                false => String::new(),
            };
            format!("{}{name}{tick}{draws}", offer.text)
        },
    ));
    told
}
