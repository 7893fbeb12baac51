//! A proposed map as rows on screen, and the changes that can be made to each.

use super::ReadHow;
use crate::programme::maps::{Line, Proposal, ProposedSheet, Question, Value, scalar};

/// Where a line stands in a proposal.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct At {
    /// The sheet, counting from 0.
    pub(crate) sheet: usize,
    /// Whether among our columns, not among what holds for all cells.
    pub(crate) in_columns: bool,
    /// The place of the line, then of the line below it, and so on.
    pub(crate) path: Vec<usize>,
}

/// A row on screen.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum MapRow {
    /// How the file is read, which the user may say.
    How(ReadHow),
    /// A title.
    Title(String),
    /// A line of the map.
    Line(At),
    /// A column of theirs that goes nowhere: the sheet, and its place there.
    Aside(usize, usize),
}

/// The rows: open questions first, then how the file is read, then the map.
pub(crate) fn rows(proposal: Option<&Proposal>) -> Vec<MapRow> {
    let mut rows = Vec::new();
    let mut open = Vec::new();
    if let Some(proposal) = proposal {
        each_line(proposal, &mut |at, line| {
            if matches!(line.value, Value::Open(_)) {
                open.push(MapRow::Line(at));
            }
        });
    }
    if !open.is_empty() {
        rows.push(MapRow::Title("To be answered first".to_owned()));
        rows.append(&mut open);
    }
    rows.push(MapRow::Title("How it is read".to_owned()));
    rows.extend(ReadHow::ALL.map(MapRow::How));
    let Some(proposal) = proposal else {
        return rows;
    };
    for (sheet, of) in proposal.sheets.iter().enumerate() {
        let several = proposal.sheets.len() > 1;
        let name = |what: &str| match several {
            true => format!("{what}, {}", of.file),
            false => what.to_owned(),
        };
        let mut section = |title: String, in_columns: bool| {
            let mut own = Vec::new();
            each_of_sheet(sheet, of, in_columns, &mut |at, line| {
                if !matches!(line.value, Value::Open(_)) {
                    own.push(MapRow::Line(at));
                }
            });
            if !own.is_empty() {
                rows.push(MapRow::Title(title));
                rows.append(&mut own);
            }
        };
        section(name("For all its cells"), false);
        section(name(&format!("Columns of {}", of.kind.as_str())), true);
        if !of.aside.is_empty() {
            rows.push(MapRow::Title(name("Kept aside, not judged")));
            rows.extend((0..of.aside.len()).map(|at| MapRow::Aside(sheet, at)));
        }
    }
    rows
}

fn each_line(proposal: &Proposal, on: &mut dyn FnMut(At, &Line)) {
    for (sheet, of) in proposal.sheets.iter().enumerate() {
        each_of_sheet(sheet, of, false, on);
        each_of_sheet(sheet, of, true, on);
    }
}

fn each_of_sheet(
    sheet: usize,
    of: &ProposedSheet,
    in_columns: bool,
    on: &mut dyn FnMut(At, &Line),
) {
    let lines = if in_columns {
        &of.columns
    } else {
        &of.settings
    };
    walk(lines, &mut Vec::new(), &mut |path, line| {
        let at = At {
            sheet,
            in_columns,
            path: path.to_vec(),
        };
        on(at, line);
    });
}

fn walk(lines: &[Line], path: &mut Vec<usize>, on: &mut dyn FnMut(&[usize], &Line)) {
    for (place, line) in lines.iter().enumerate() {
        path.push(place);
        on(path, line);
        if let Value::Lines(below) = &line.value {
            walk(below, path, on);
        }
        path.pop();
    }
}

/// The line at a place.
pub(crate) fn line<'p>(proposal: &'p Proposal, at: &At) -> Option<&'p Line> {
    let sheet = proposal.sheets.get(at.sheet)?;
    let lines = if at.in_columns {
        &sheet.columns
    } else {
        &sheet.settings
    };
    let (first, rest) = at.path.split_first()?;
    rest.iter().try_fold(lines.get(*first)?, |line, place| {
        let Value::Lines(below) = &line.value else {
            return None;
        };
        below.get(*place)
    })
}

/// The keys from the outermost line to the one at a place.
pub(crate) fn keys(proposal: &Proposal, at: &At) -> Vec<String> {
    (1..=at.path.len())
        .filter_map(|len| {
            let above = At {
                path: at.path[..len].to_vec(),
                ..at.clone()
            };
            line(proposal, &above).map(|line| line.key.clone())
        })
        .collect()
}

fn line_mut<'p>(proposal: &'p mut Proposal, at: &At) -> Option<&'p mut Line> {
    let sheet = proposal.sheets.get_mut(at.sheet)?;
    let lines = if at.in_columns {
        &mut sheet.columns
    } else {
        &mut sheet.settings
    };
    let (first, rest) = at.path.split_first()?;
    rest.iter().try_fold(lines.get_mut(*first)?, |line, place| {
        let Value::Lines(below) = &mut line.value else {
            return None;
        };
        below.get_mut(*place)
    })
}

/// The question that a line puts, if it is open.
pub(crate) fn question<'p>(proposal: &'p Proposal, at: &At) -> Option<&'p Question> {
    match &line(proposal, at)?.value {
        Value::Open(question) => Some(question),
        _ => None,
    }
}

/// Puts a value, as YAML, behind a line.
pub(crate) fn set(proposal: &mut Proposal, at: &At, yaml: &str) {
    if let Some(line) = line_mut(proposal, at) {
        // An answer takes its place among what the question has around it.
        if line.answer(0, yaml).is_err() {
            line.reason = "as you say".to_owned();
            line.value = Value::Yaml(yaml.to_owned());
            line.confidence = None;
        }
    }
}

/// Takes a line of our columns out; the column it was made of, if that is one, is kept aside.
pub(crate) fn leave_out(proposal: &mut Proposal, at: &At) -> bool {
    let (true, [place]) = (at.in_columns, at.path.as_slice()) else {
        return false;
    };
    let Some(sheet) = proposal.sheets.get_mut(at.sheet) else {
        return false;
    };
    if *place >= sheet.columns.len() {
        return false;
    }
    let line = sheet.columns.remove(*place);
    for name in made_of(&line) {
        sheet.aside.push((name, format!("was to be {}", line.key)));
    }
    true
}

/// Makes a column of ours of one that was kept aside.
pub(crate) fn take_up(proposal: &mut Proposal, sheet: usize, place: usize, ours: &str) {
    let Some(of) = proposal.sheets.get_mut(sheet) else {
        return;
    };
    if place >= of.aside.len() {
        return;
    }
    let (name, _) = of.aside.remove(place);
    of.columns.push(Line {
        key: ours.to_owned(),
        value: Value::Yaml(scalar(&name)),
        confidence: None,
        reason: "as you say".to_owned(),
    });
}

/// The line below which says what a column is made of; the line itself where it says so.
pub(crate) fn from_line(proposal: &Proposal, at: &At) -> At {
    let below = match line(proposal, at).map(|line| &line.value) {
        Some(Value::Lines(below)) => below.iter().position(|line| line.key == "from"),
        _ => None,
    };
    let mut path = at.path.clone();
    path.extend(below);
    At { path, ..at.clone() }
}

/// The one column of theirs that a line is made of, as a text; none where it is made of several
/// or written in another way.
fn made_of(line: &Line) -> Vec<String> {
    let yaml = match &line.value {
        Value::Yaml(yaml) => yaml,
        Value::Lines(below) => match below.iter().find(|line| line.key == "from") {
            Some(Line {
                value: Value::Yaml(yaml),
                ..
            }) => yaml,
            _ => return Vec::new(),
        },
        Value::Open(_) => return Vec::new(),
    };
    if yaml.starts_with(['[', '{', '"']) {
        return Vec::new();
    }
    vec![yaml.clone()]
}

/// Their columns that one of ours could be made of: those kept aside, then those in use.
pub(crate) fn theirs(sheet: &ProposedSheet) -> Vec<String> {
    let aside = sheet.aside.iter().map(|(name, _)| name.clone());
    let used = sheet.columns.iter().flat_map(made_of);
    let mut names: Vec<String> = Vec::new();
    for name in aside.chain(used) {
        if !name.is_empty() && !names.contains(&name) {
            names.push(name);
        }
    }
    names
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::programme::SheetKind;

    fn proposal() -> Proposal {
        let question = Question {
            text: "which order?".to_owned(),
            choices: Vec::new(),
            is_free: false,
            around: ("[".to_owned(), "]".to_owned()),
        };
        let line = |key: &str, value: Value| Line {
            key: key.to_owned(),
            value,
            confidence: Some(0.9),
            reason: "it says so".to_owned(),
        };
        let yaml = |text: &str| Value::Yaml(text.to_owned());
        let temp = vec![line("from", yaml("Temp (F)")), line("unit", yaml("\"°F\""))];
        Proposal {
            sheets: vec![ProposedSheet {
                file: "log.csv".to_owned(),
                sheet: None,
                kind: SheetKind::Draws,
                kind_reason: (0.9, String::new()),
                settings: vec![line("dates", Value::Open(question))],
                columns: vec![
                    line("bottle_id", yaml("Bottle")),
                    line("oil_temp_c", Value::Lines(temp)),
                ],
                aside: vec![("Weather".to_owned(), "goes nowhere".to_owned())],
            }],
        }
    }

    fn at(in_columns: bool, path: &[usize]) -> At {
        At {
            sheet: 0,
            in_columns,
            path: path.to_vec(),
        }
    }

    #[test]
    fn open_questions_stand_first_and_only_there() {
        let proposal = proposal();
        let rows = rows(Some(&proposal));
        assert_eq!(rows[1], MapRow::Line(at(false, &[0])));
        let same = |row: &&MapRow| **row == rows[1];
        assert_eq!(rows.iter().filter(same).count(), 1);
        assert_eq!(rows.last(), Some(&MapRow::Aside(0, 0)));
        assert_eq!(keys(&proposal, &at(true, &[1, 1])), ["oil_temp_c", "unit"]);
    }

    #[test]
    fn lines_are_changed_left_out_and_taken_up() {
        let mut proposal = proposal();
        set(&mut proposal, &at(false, &[0]), "DD/MM/YYYY");
        assert!(proposal.questions().is_empty());
        assert!(proposal.yaml().contains("dates: [DD/MM/YYYY]"));
        assert_eq!(from_line(&proposal, &at(true, &[1])), at(true, &[1, 0]));
        set(&mut proposal, &at(true, &[1, 1]), "K");
        assert!(proposal.yaml().contains("unit: K  # as you say"));
        assert!(leave_out(&mut proposal, &at(true, &[0])));
        assert!(!leave_out(&mut proposal, &at(false, &[0])));
        assert_eq!(proposal.sheets[0].aside[1].0, "Bottle");
        take_up(&mut proposal, 0, 1, "draw_id");
        assert_eq!(proposal.sheets[0].columns.last().unwrap().key, "draw_id");
        assert_eq!(
            theirs(&proposal.sheets[0]),
            ["Weather", "Temp (F)", "Bottle"]
        );
    }
}
