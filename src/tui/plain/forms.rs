//! What lies over a place and wants text or a choice, told field by field.

use super::rows::Rows;
use super::told::{Told, WIDE};
use super::{voice, words};
use crate::model::Verdict;
use crate::tui::app::App;
use crate::tui::folder_line::FolderEdit;
use crate::tui::form::{Field, Value};
use crate::tui::forms::{Purpose, Sheet};
use crate::tui::keymap::Zone;
use crate::tui::screens::decided_on;
use crate::tui::screens::help::{FILTER_HELP, meaning};
use crate::tui::screens::import::choices::Choices;
use crate::tui::screens::records::asked::{Asked, said};
use crate::tui::text;

/// How a line of text is left and kept.
const KEEPS: &str = "an empty line keeps it.";

/// A form: what it is about, then the field whose turn it is.
pub(super) fn form(app: &App, form: &Sheet) -> Told {
    let mut told = Told::new(&form.title);
    told.say(&form.about);
    let who = form.purpose.decides().then_some(app.who.as_ref()).flatten();
    if let Some(who) = who {
        told.say(&format!("Kept in the trail as {who}."));
    }
    let about = voice::all_words(&decided_on::lines(app, form, WIDE));
    // The number and the state of a finding stand in the title already.
    let is_finding = matches!(
        form.purpose,
        Purpose::Answer(_) | Purpose::Close(_) | Purpose::Withdraw(_)
    );
    told.say_all(about.into_iter().skip(usize::from(is_finding)));
    if let Some(words) = &form.said {
        told.notice(&format!("Not done: {words}"));
    }
    for field in &form.fields {
        if let Some(words) = &field.said {
            told.notice(&format!(
                "Mistake in {}: {}",
                field.label,
                text::sentence(words)
            ));
        }
    }
    if form.leaving {
        told.notice(
            "What is written here is not sent. .back again leaves it, any other line stays",
        );
    }
    if let Some(field) = form.fields.get(form.at) {
        told.say(&wanted(field, form.at, form.fields.len()));
    }
    told
}

/// What a field wants and what stands in it.
fn wanted(field: &Field, at: usize, of: usize) -> String {
    let place = if of > 1 {
        format!("Field {} of {of}, {}", at + 1, field.label)
    } else {
        text::sentence(field.label).trim_end_matches('.').to_owned()
    };
    let mut words = place;
    if !field.hint.is_empty() {
        words.push_str(&format!(": {}", field.hint));
    }
    if !words.ends_with('.') {
        words.push('.');
    }
    match &field.value {
        Value::Text(line) if line.text().is_empty() => words.push_str(" It is blank."),
        Value::Text(line) => words.push_str(&format!(" Now: {}; {KEEPS}", line.text())),
        Value::Choice(choices, at) => {
            let choices: Vec<String> = (1..)
                .zip(choices)
                .map(|(number, word)| format!("{number} {word}"))
                .collect();
            let held = field.held();
            words.push_str(&format!(
                " One of: {}. Now: {} {held}.",
                choices.join(", "),
                at + 1
            ));
        }
    }
    words
}

/// The place among the words of a choice that is meant: by number, by the word, or by what one
/// of them alone begins with.
pub(super) fn choice(words: &[&'static str], meant: &str) -> Option<usize> {
    let meant = meant.trim().to_lowercase();
    if let Ok(number) = meant.parse::<usize>() {
        return number.checked_sub(1).filter(|at| *at < words.len());
    }
    if let Some(at) = words.iter().position(|word| *word == meant) {
        return Some(at);
    }
    let mut begins = (0..words.len()).filter(|at| words[*at].starts_with(&meant));
    let first = begins.next()?;
    (!meant.is_empty() && begins.next().is_none()).then_some(first)
}

/// A line that is asked for before something is done.
pub(super) fn asked(app: &App, asked: &Asked) -> Told {
    let mut told = Told::new(asked.title().trim());
    let (about, state) = said(app, asked);
    told.say_all(about);
    told.say(&state);
    if !asked.line.text().is_empty() && !asked.busy {
        told.say(&format!("Now: {}; {KEEPS}", asked.line.text()));
    }
    told
}

/// Values on offer.
pub(super) fn choices(choices: &Choices) -> Told {
    let mut told = Told::new(&choices.title);
    told.say(&choices.about);
    let offers = &choices.offers;
    told.rows = Some(Rows::of(
        ("value", "values"),
        offers.len(),
        choices.list.cursor,
        "",
        |at| {
            let offer = &offers[at];
            match offer.note.as_str() {
                "" => offer.label.clone(),
                note => format!("{}, {note}", offer.label),
            }
        },
    ));
    told
}

/// A mistake in a filter, and the words at its place.
pub(crate) fn mistake(text: &str, error: &crate::analysis::FilterError) -> String {
    let at: String = text
        .chars()
        .skip(error.column.saturating_sub(1))
        .take(24)
        .collect();
    let at = match at.trim() {
        "" => "at the end".to_owned(),
        at => format!("at \"{at}\""),
    };
    let words = text::sentence(&error.message);
    format!("{words} It is in column {}, {at}.", error.column)
}

/// The folder that plans are written to.
pub(super) fn folder(app: &App, edit: &FolderEdit) -> Told {
    let mut told = Told::new("Folder for plans");
    let ids: Vec<&str> = app.ticked.iter().map(String::as_str).collect();
    let count = text::plural(ids.len() as u64, "plan", "plans");
    told.say(&format!(
        "{count}, of the draws in view: {}.",
        ids.join(", ")
    ));
    told.say("A file that is there already is never overwritten.");
    if let Some(words) = &edit.said {
        told.say(&text::sentence(words));
    }
    told.say(&format!(
        "Folder, now: {}. An empty line writes there, .back leaves.",
        edit.line.text()
    ));
    told
}

/// How to speak here, what holds in this place, filters, and what verdicts mean.
pub(super) fn help(app: &App, zone: Zone) -> Told {
    let mut told = Told::new("Help");
    let own = words::listing(zone);
    told.say_all(GENERAL.iter().map(|words| (*words).to_owned()));
    if !own.is_empty() {
        told.say(&format!("Here ({}):", zone.title()));
        told.say_all(own);
    }
    told.say("Everywhere:");
    told.say_all(words::listing(zone.common()));
    told.say("A filter:");
    told.say_all(
        FILTER_HELP
            .iter()
            .map(|words| words.replace(" Tab completes words.", "")),
    );
    if app.data.is_some() {
        told.say("Verdicts:");
        told.say_all(Verdict::ALL.map(|verdict| format!("{verdict}: {}.", meaning(verdict))));
    }
    told
}

/// How to speak to this face.
pub(super) const GENERAL: [&str; 10] = [
    "One command a line: a word, or the key that does the same on the screens.",
    "Screens go by name or key: share, draws, people, points, topics, findings, records, resample, or 1 to 8.",
    "Rows are numbered. open 3 opens row 3, item 3 chooses it, more 3 tells all of it; a number above 9 alone chooses that row; an empty line opens the chosen one.",
    "next and before turn ten rows, page 4 goes to a page; sort date sorts, S turns the order; view NAME turns to another view.",
    "filter site:North narrows all screens, filter alone says it, x takes the last term away, unfilter takes all away.",
    "narrow 3 narrows to what row 3 is. back goes a step back.",
    "again says the place again, more tells all of the chosen row, where tells what can be done here.",
    "Where text is wanted a line is that text: an empty line keeps what stands there, .back leaves, .up goes a field up, .send sends, .clear empties.",
    "Ctrl-C stops what takes long; where nothing is under way it leaves.",
    "quit leaves, and so does the end of the input.",
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::analysis::Filter;

    #[test]
    fn a_choice_is_made_by_number_word_or_beginning() {
        let words = ["nonconformity", "observation", "opportunity"];
        for (meant, at) in [
            ("2", Some(1)),
            ("0", None),
            ("4", None),
            ("Observation", Some(1)),
            ("non", Some(0)),
            ("o", None),
            ("", None),
        ] {
            assert_eq!(choice(&words, meant), at, "{meant}");
        }
    }

    #[test]
    fn a_field_says_what_it_wants_and_what_stands_in_it() {
        let field = Field::choice("grade", &["low", "high"], 1, "how much weight it has");
        assert_eq!(
            wanted(&field, 1, 5),
            "Field 2 of 5, grade: how much weight it has. One of: 1 low, 2 high. Now: 2 high."
        );
        let field = Field::text("because", "", "in one line");
        assert_eq!(wanted(&field, 0, 1), "Because: in one line. It is blank.");
    }

    #[test]
    fn a_mistake_in_a_filter_is_told_with_its_place() {
        let text = "crew:B sitee:North";
        let error = Filter::parse(text).expect_err("there is no such key");
        let said = mistake(text, &error);
        assert!(said.contains("in column 8, at \"sitee:North\""), "{said}");
    }
}
