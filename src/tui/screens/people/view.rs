//! Draws the People screen.

use ratatui::Frame;
use ratatui::layout::Rect;

use super::{By, Person, chosen, lines, panes};
use crate::tui::app::App;
use crate::tui::screens::adjust;
use crate::tui::screens::against::{self, Compared};
use crate::tui::screens::compared_list::{self, Figure, Figures, List};
use crate::tui::screens::page::Written;
use crate::tui::screens::{beside, draws};
use crate::tui::subject::Subject;
use crate::tui::text;
use crate::tui::widgets::table::{self, Column as TableColumn};

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Name,
    Crew,
    /// A column that both lists have.
    Figure(Figure),
}

/// Columns that say nothing of a crew.
const fn is_about_technicians(shown: Shown) -> bool {
    matches!(
        shown,
        Shown::Crew | Shown::Figure(Figure::Compared(Compared::Odds | Compared::Bar))
    )
}

const COLUMNS: [TableColumn<Shown>; 13] = [
    TableColumn::new(Shown::Name, "name", 16, 0).grows(6, 28),
    TableColumn::new(Shown::Crew, "crew", 8, 5).grows(3, 20),
    TableColumn::new(Shown::Figure(Figure::Draws), "draws", 7, 6).right(),
    TableColumn::new(Shown::Figure(Figure::Judged), "judged", 7, 0).right(),
    TableColumn::new(Shown::Figure(Figure::Unrepresentative), "unrepr.", 8, 1).right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Expected)),
        "expected",
        9,
        1,
    )
    .right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Difference)),
        "differ",
        7,
        3,
    )
    .right(),
    TableColumn::new(
        Shown::Figure(Figure::Compared(Compared::Odds)),
        "odds",
        8,
        4,
    )
    .right(),
    TableColumn::new(Shown::Figure(Figure::Compared(Compared::Bar)), "", 13, 2).grows(4, 33),
    TableColumn::new(Shown::Figure(Figure::Share), "share", 11, 0).right(),
    TableColumn::new(Shown::Figure(Figure::Interval), "95 %", 12, 2).right(),
    TableColumn::new(Shown::Figure(Figure::Bar), "0 to 100 %", 13, 1).grows(4, 51),
    TableColumn::new(Shown::Figure(Figure::Bounds), "least-most", 12, 7).right(),
];

pub(crate) fn view(app: &App, frame: &mut Frame<'_>) {
    let Some((_, figures)) = &app.figures.people else {
        return;
    };
    let panes = panes(app);
    list(app, figures.all, frame, panes.list);
    footnote(app, frame, panes.list);
    draws::view::divider(app, frame, panes.beside);
    if let Some(written) = beside(app, panes.beside, false) {
        written.view(app, frame, panes.beside);
    }
}

/// What stands beside the chosen person or crew; with `whole` all of it.
pub(crate) fn beside(app: &App, area: Rect, whole: bool) -> Option<Written> {
    let (_, figures) = app.figures.people.as_ref()?;
    let person = chosen(app)?;
    let crew = match &person.subject {
        Subject::Technician(_) if person.name == person.id => person.crew.clone(),
        Subject::Technician(_) => format!("{} · {}", person.id, person.crew),
        _ => "crew".to_owned(),
    };
    let said = beside::Beside {
        subject: &person.subject,
        tally: person.tally,
        all: figures.all,
        head: vec![beside::heading(app, &person.name, &crew, area)],
        funnel: match person.subject {
            Subject::Crew(_) => &figures.funnel_of_crews,
            _ => &figures.funnel_of_technicians,
        },
    };
    Some(beside::written(app, said, area, whole))
}

/// The column that shows what the list is sorted by.
const fn shown(by: By) -> Shown {
    match by {
        By::Name => Shown::Name,
        By::Crew => Shown::Crew,
        By::Draws => Shown::Figure(Figure::Draws),
        By::Unrepresentative => Shown::Figure(Figure::Unrepresentative),
        By::Difference => Shown::Figure(Figure::Compared(Compared::Difference)),
    }
}

/// What a click on this cell of the headings sorts by.
pub(crate) fn heading_at(app: &App, x: u16) -> Option<By> {
    let area = panes(app).list;
    let people = lines(app);
    let wanted = wanted(app, &people, area);
    let found = the_list(app, &wanted, people.len()).heading_at(area, x)?;
    By::ALL.into_iter().find(|by| shown(*by) == found)
}

fn the_list<'a>(app: &App, wanted: &'a [TableColumn<Shown>], len: usize) -> List<'a, Shown> {
    let state = &app.screens.people;
    List {
        wanted,
        by: shown(state.by),
        descending: state.descending,
        bar: Shown::Figure(Figure::Compared(Compared::Bar)),
        place: state.list,
        len,
    }
}

/// The columns, as wide as what stands in them needs where there is room.
fn wanted(app: &App, people: &[&Person], area: Rect) -> Vec<TableColumn<Shown>> {
    let state = &app.screens.people;
    let widest = |words: fn(&Person) -> &str| {
        let widths = people.iter().map(|person| text::width(words(person)));
        widths.max().unwrap_or(0)
    };
    let (name, crew) = (widest(|it| &it.name), widest(|it| &it.crew));
    COLUMNS
        .into_iter()
        .filter(|column| !(state.crews && is_about_technicians(column.id)))
        .map(|mut column| {
            if state.crews && column.id == Shown::Name {
                column.title = "crew";
            }
            // Names take what they need before the lines grow, where there is room.
            let needs = match column.id {
                Shown::Name => name,
                Shown::Crew => crew,
                Shown::Figure(_) => column.width,
            };
            if area.width >= 100 {
                column.width = needs.clamp(column.width, 24);
                column.most = column.most.max(column.width);
            }
            if let Shown::Figure(figure) = column.id {
                column.rank += figure.rank(state.shares);
            }
            column
        })
        .collect()
}

fn list(app: &App, all: Option<f64>, frame: &mut Frame<'_>, area: Rect) {
    let people = lines(app);
    let wanted = wanted(app, &people, area);
    let list = the_list(app, &wanted, people.len());
    compared_list::view(app, &list, frame, area, |at, column| {
        let person = people[at];
        let value = match column.0.id {
            Shown::Name => &person.name,
            Shown::Crew => &person.crew,
            Shown::Figure(figure) => {
                let figures = Figures {
                    subject: &person.subject,
                    tally: &person.tally,
                    share: &person.share,
                    all,
                };
                return figures.cell(app, figure, column);
            }
        };
        table::cell(column, value, app.theme.plain())
    });
}

/// What stands below the list in any case, the longest first.
pub(crate) const NOTES: [&str; 3] = [
    "A share depends on the points served: a high one is no verdict on a person.",
    "Shares depend on the points served; no verdict on a person.",
    "Points differ; a share is no verdict on a person.",
];

fn footnote(app: &App, frame: &mut Frame<'_>, list: Rect) {
    let width = usize::from(list.width).saturating_sub(2);
    // In a small window what is adjusted for stands in the same line.
    let before = adjust::said(app).map_or(0, |words| text::width(&words) + 1);
    let fits = |note: &&str| before + text::width(note) <= width;
    let note = NOTES.into_iter().find(fits).unwrap_or(NOTES[2]);
    against::footnote_view(app, note, frame, list);
}
