//! The command line that does what a form does, to be copied.

use super::app::App;
use super::clipboard::Clipboard;
use super::command_line::{CommandLine, quoted};
use super::effect::Effect;
use super::forms::{Purpose, Sheet};
use super::pick_form;
use crate::model::decisions::finding::Subject;

/// Hands the command line of a form to the clipboard, or says why there is none.
pub(crate) fn copy(app: &mut App, form: &Sheet, effects: &mut Vec<Effect>) {
    let Some(line) = of(app, form) else {
        let words = "No command line does what stands here; fill the form in first.";
        app.message = Some(words.to_owned());
        return;
    };
    if app.clipboard == Clipboard::None {
        app.message = Some(format!("This terminal has no clipboard. It is: {line}"));
        return;
    }
    app.message = Some(app.clipboard.said(line.len()));
    effects.push(Effect::Copy(line));
}

/// The command line that does what the form asks for, as it is typed into a shell; none where
/// it is not filled in, or where no command does the same.
pub(crate) fn of(app: &App, form: &Sheet) -> Option<String> {
    let read = |label: &str| Some(form.read(label)).filter(|text| !text.is_empty());
    let line = match &form.purpose {
        Purpose::Pick => pick_form::command_line(app, form)?,
        Purpose::PickSheet(number) => {
            let line = CommandLine::of("pick show").and(&number.to_string());
            let line = line.and("--format").and("csv").typed(app);
            return Some(format!("{line} > {}", quoted(read("file")?)));
        }
        Purpose::Sheets => {
            let line = CommandLine::of("resample --sheets").and(read("folder")?);
            let line = match app.screens.resample.strict {
                true => line.and("--strict"),
                false => line,
            };
            line.on(&app.filter.without_days())
        }
        Purpose::Pack => {
            let mut line = CommandLine::of("export --to").and(read("folder")?);
            if form.read("people") == "by code" {
                line = line.and("--anonymous");
            }
            if form.read("if it is there") == "replace it" {
                line = line.and("--replace");
            }
            line.on(&app.filter)
        }
        Purpose::SetAside(draw) => said(CommandLine::of("set-aside").and(draw), "because", read)?,
        Purpose::TakeBack(draw) => {
            let line = CommandLine::of("set-aside").and(draw).and("--take-back");
            said(line, "because", read)?
        }
        Purpose::Raise(subject) => raise(app, form, subject)?,
        Purpose::Answer(number) => {
            let mut line = CommandLine::of("finding answer").and(&number.to_string());
            for label in ["cause", "correction", "action"] {
                line = said(line, label, read)?;
            }
            match read("done by") {
                Some(day) => line.and(&format!("--by={day}")),
                None => line,
            }
        }
        Purpose::Withdraw(number) => {
            let line = CommandLine::of("finding withdraw").and(&number.to_string());
            said(line, "because", read)?
        }
        Purpose::Enter(number, draw, result) => {
            let line = CommandLine::of("pick enter").and(&number.to_string());
            let mut line = line.and(&format!("--draw={draw}"));
            line = line.and("--result").and(result.as_str());
            if let Some(word @ ("representative" | "unrepresentative")) = read("sample") {
                line = line.and("--verdict").and(word);
            }
            match read("note") {
                Some(note) => line.and(&format!("--note={note}")),
                None => line,
            }
        }
        // What draws tell is worked out while the form is sent.
        Purpose::Close(_) | Purpose::Name => return None,
    };
    Some(line.typed(app))
}

/// The line with the text of a field, in an option of the field's name.
fn said<'a>(
    line: CommandLine,
    label: &str,
    read: impl Fn(&str) -> Option<&'a str>,
) -> Option<CommandLine> {
    // A value that begins with a stroke would be taken for an option.
    Some(line.and(&format!("--{label}={}", read(label)?)))
}

fn raise(app: &App, form: &Sheet, subject: &Subject) -> Option<CommandLine> {
    let line = CommandLine::of("finding raise");
    let (line, is_filtered) = match subject {
        Subject::Technician { id } => (line.and(&format!("--technician={id}")), true),
        Subject::Point { id } => (line.and(&format!("--point={id}")), true),
        Subject::Pick { number } => (line.and(&format!("--pick={number}")), false),
        Subject::Draws { ids } => {
            let draws = ids.iter();
            (
                draws.fold(line, |line, id| line.and(&format!("--draw={id}"))),
                false,
            )
        }
    };
    let mut line = line.and("--grade").and(form.read("grade"));
    for (label, option) in [
        ("rule", "rule"),
        ("what was found", "text"),
        ("owner", "owner"),
        ("due", "due"),
    ] {
        match form.read(label) {
            "" if label == "rule" => {}
            "" => return None,
            text => line = line.and(&format!("--{option}={text}")),
        }
    }
    Some(match is_filtered {
        true => line.on(&app.filter),
        false => line,
    })
}
