//! What the pictures of People and Points have in common: whose marks they are, and which of
//! them is chosen.

use super::choose_row;
use crate::analysis::{Share, Tally};
use crate::tui::app::{App, Place};
use crate::tui::screens::funnel::FunnelFigures;
use crate::tui::screens::{people, points};
use crate::tui::subject::Subject;

/// One line of the list as the pictures need it.
pub(crate) struct Compared<'a> {
    pub(crate) name: &'a str,
    /// The id, where it is not the name.
    pub(crate) id: &'a str,
    pub(crate) subject: &'a Subject,
    pub(crate) tally: &'a Tally,
    pub(crate) share: &'a Share,
}

fn of_person(person: &people::Person) -> Compared<'_> {
    Compared {
        name: &person.name,
        id: &person.id,
        subject: &person.subject,
        tally: &person.tally,
        share: &person.share,
    }
}

fn of_point(line: &points::PointLine) -> Compared<'_> {
    Compared {
        name: &line.id,
        id: &line.id,
        subject: &line.subject,
        tally: &line.tally,
        share: &line.share,
    }
}

impl Compared<'_> {
    /// `T2 Joan Okoro`, or the one where both are the same.
    pub(crate) fn full_name(&self) -> String {
        if self.id.is_empty() || self.id == self.name {
            self.name.to_owned()
        } else {
            format!("{} {}", self.id, self.name)
        }
    }
}

/// The lines in the order of the list.
pub(crate) fn lines(app: &App) -> Vec<Compared<'_>> {
    match app.place {
        Place::People => people::lines(app).into_iter().map(of_person).collect(),
        Place::Points => points::lines(app).into_iter().map(of_point).collect(),
        _ => Vec::new(),
    }
}

/// The share of all draws in view.
pub(crate) fn all(app: &App) -> Option<f64> {
    match app.place {
        Place::People => app.figures.people.as_ref()?.1.all,
        _ => app.figures.points.as_ref()?.1.all,
    }
}

/// The row of the list that is chosen.
pub(crate) fn row(app: &App) -> usize {
    match app.place {
        Place::People => app.screens.people.list.cursor,
        _ => app.screens.points.list.cursor,
    }
}

/// What a mark is one of, in the singular.
pub(crate) fn each(app: &App) -> &'static str {
    match app.place {
        Place::People if app.screens.people.crews => "crew",
        Place::People => "technician",
        _ => "point",
    }
}

/// The funnel, and the subject of each of its marks.
pub(crate) fn funnel(app: &App) -> Option<&FunnelFigures> {
    match app.place {
        Place::People => {
            let (_, figures) = app.figures.people.as_ref()?;
            Some(if app.screens.people.crews {
                &figures.funnel_of_crews
            } else {
                &figures.funnel_of_technicians
            })
        }
        Place::Points => Some(&app.figures.points.as_ref()?.1.funnel),
        _ => None,
    }
}

/// Whose a mark of the funnel is.
fn owner(app: &App, mark: usize) -> Option<&Subject> {
    let place = *funnel(app)?.owners.get(mark)?;
    match app.place {
        Place::People => {
            let (_, figures) = app.figures.people.as_ref()?;
            let people = if app.screens.people.crews {
                &figures.crews
            } else {
                &figures.technicians
            };
            people.get(place).map(|person| &person.subject)
        }
        _ => {
            let (_, figures) = app.figures.points.as_ref()?;
            figures.points.get(place).map(|line| &line.subject)
        }
    }
}

/// The mark of a line of the list, if it has a judged draw.
pub(crate) fn mark_of(app: &App, subject: &Subject) -> Option<usize> {
    let marks = funnel(app)?.owners.len();
    (0..marks).find(|mark| owner(app, *mark) == Some(subject))
}

/// Chooses the line of a mark.
pub(crate) fn choose_mark(app: &mut App, mark: usize) {
    let Some(subject) = owner(app, mark).cloned() else {
        return;
    };
    let row = lines(app).iter().position(|line| *line.subject == subject);
    if let Some(row) = row {
        choose_row(app, row);
    }
}
