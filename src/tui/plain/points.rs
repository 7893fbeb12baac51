//! Points in words: the share at each point, its physics, what is wrong with the point itself.

use super::people::{beside, compared, footnote};
use super::rows::Rows;
use super::sorted;
use super::told::Told;
use super::voice::labelled;
use crate::analysis::BLANK;
use crate::tui::app::App;
use crate::tui::screens::compared_list::Figures;
use crate::tui::screens::points::{self, PointLine, view};

pub(super) fn told(app: &App) -> Told {
    let mut told = Told::new("Points");
    let Some((_, figures)) = &app.figures.points else {
        return told;
    };
    told.say_all(footnote(app, view::NOTE));
    told.say(&sorted::sentence(app));
    let state = &app.screens.points;
    let lines = points::lines(app);
    let empty = "no draws pass the filter";
    told.rows = Some(Rows::of(
        ("point", "points"),
        lines.len(),
        state.list.cursor,
        empty,
        |at| {
            let line = lines[at];
            let figures = Figures {
                subject: &line.subject,
                tally: &line.tally,
                share: &line.share,
                all: figures.all,
            };
            let suited = view::suited_word(line.suited());
            let itself = labelled(&[
                ("the point itself", suited.to_owned()),
                ("flow, Re", view::flow(line)),
            ]);
            let compared = compared(app, &figures, state.shares);
            let itself = if itself.is_empty() {
                itself
            } else {
                format!("; {itself}")
            };
            format!("{}: {compared}{itself}", name(line))
        },
    ));
    told
}

fn name(line: &PointLine) -> String {
    let known = |text: &str| {
        if text == BLANK {
            String::new()
        } else {
            text.to_owned()
        }
    };
    labelled(&[
        ("", line.id.clone()),
        ("", known(&line.machine)),
        ("site", known(&line.site)),
    ])
}

pub(super) fn more(app: &App) -> Vec<String> {
    let (Some(line), Some((_, figures)), Some(assessed)) =
        (points::chosen(app), &app.figures.points, &app.data)
    else {
        return Vec::new();
    };
    let point = &assessed.points[line.place as usize];
    let mut lines = vec![format!("{}.", name(line))];
    let facts = view::facts(line, point).into_iter();
    lines.extend(facts.map(|(label, words)| format!("{label}: {words}.")));
    lines.extend(beside(app, &line.subject, &line.tally, &figures.funnel));
    lines
}
