//! What one decides about, below the fields of a form: the finding with its story, the draw with
//! its verdict and broken rules, the size of a pick.

use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};

use super::draws::{opened, reasons};
use super::findings::finding;
use crate::model::Outcome;
use crate::model::decisions::finding::Subject;
use crate::programme::OpenedDraw;
use crate::rules;
use crate::tui::app::App;
use crate::tui::forms::{Purpose, Sheet};
use crate::tui::{pick_form, text};

/// The lines, as they are read in this width; none where the form is about nothing that stands
/// on the screen.
pub(crate) fn lines(app: &App, form: &Sheet, width: u16) -> Vec<Line<'static>> {
    match &form.purpose {
        Purpose::Answer(number) | Purpose::Close(number) | Purpose::Withdraw(number) => {
            of_finding(app, *number, width)
        }
        Purpose::SetAside(draw) | Purpose::TakeBack(draw) => of_draw(app, draw, width),
        Purpose::Raise(Subject::Draws { ids }) => match ids.as_slice() {
            [draw] => of_draw(app, draw, width),
            _ => Vec::new(),
        },
        Purpose::Pick => of_pick(app, form, width),
        _ => Vec::new(),
    }
}

/// How many draws would be picked, which that would show, and the command line of the same.
fn of_pick(app: &App, form: &Sheet, width: u16) -> Vec<Line<'static>> {
    let width = usize::from(width).saturating_sub(1);
    let said = pick_form::preview(app, form).into_iter().enumerate();
    let wrapped = said.flat_map(|(at, words)| {
        let style = match at {
            0 => app.theme.strong(),
            _ => app.theme.plain(),
        };
        let parts = text::wrap(&words, width).into_iter();
        parts.map(move |part| Line::from(Span::styled(part, style)))
    });
    wrapped.collect()
}

fn of_finding(app: &App, number: u32, width: u16) -> Vec<Line<'static>> {
    let docket = app.figures.docket.as_ref();
    let found = docket.and_then(|docket| docket.findings.iter().find(|it| it.number() == number));
    let area = Rect {
        width,
        ..Rect::default()
    };
    found.map_or_else(Vec::new, |found| finding::lines(app, found, area))
}

/// The verdict of a draw in a sentence, and the rules that speak against it.
fn of_draw(app: &App, draw: &str, width: u16) -> Vec<Line<'static>> {
    let found = app.opened.as_ref();
    let found = found.filter(|(_, opened)| opened.record.identity() == draw);
    let (Some((row, opened)), Some(assessed)) = (found, &app.data) else {
        return Vec::new();
    };
    let theme = app.theme;
    let width = usize::from(width).saturating_sub(1);
    let place = assessed.judged.point[*row as usize] as usize;
    let cuts = assessed.rulebook.all_in_force()[assessed.in_force[place]].cuts;
    let verdict = opened.explained.verdict;
    let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
    let mut lines = vec![Line::from(vec![
        Span::styled(format!("{} {verdict}", theme.verdict_glyph(verdict)), style),
        Span::styled(format!("  {draw}"), theme.faint()),
    ])];
    let sentence = reasons::verdict_sentence(opened, cuts);
    lines.extend(text::wrap(&sentence, width).into_iter().map(Line::from));
    for place in opened::rules_in_order(opened) {
        if opened.explained.answers[place].outcome == Outcome::Broken {
            lines.extend(broken(app, opened, place, width));
        }
    }
    lines
}

/// A broken rule and what was seen, hanging behind its id.
fn broken(app: &App, opened: &OpenedDraw, place: usize, width: usize) -> Vec<Line<'static>> {
    const ID: usize = 19;
    let theme = app.theme;
    let said = opened.explained.answers[place];
    let ground = opened::ground(said.seen, said.wanted, said.outcome);
    let parts = text::wrap(&ground, width.saturating_sub(ID));
    let mut lines = Vec::new();
    for (at, part) in parts.into_iter().enumerate() {
        let id = match at {
            0 => format!(
                "{} {}",
                theme.outcome_glyph(said.outcome),
                rules::cards()[place].id
            ),
            _ => String::new(),
        };
        lines.push(Line::from(vec![
            Span::styled(text::left(&id, ID), theme.outcome(said.outcome)),
            Span::raw(part),
        ]));
    }
    lines
}
