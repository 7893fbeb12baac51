//! The command line that tells what is on screen, so that the screens teach it.

use super::app::{App, Place};
use super::frame;
use super::narrower::Narrower;
use super::screens::against::{Fit, fit};
use super::screens::share;
use super::screens::share::Section;
use super::screens::topics::Tab;
use crate::analysis::{Every, Filter, FilterKey};
use crate::model::time;

/// What stands after `fairdraw` and the programme file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct CommandLine(Vec<String>);

impl CommandLine {
    /// These words, separated by blanks.
    pub(crate) fn of(words: &str) -> Self {
        CommandLine(words.split(' ').map(str::to_owned).collect())
    }

    /// The same with one more word as it is.
    pub(crate) fn and(mut self, word: &str) -> Self {
        self.0.push(word.to_owned());
        self
    }

    /// The same on the draws of a filter.
    pub(crate) fn on(self, filter: &Filter) -> Self {
        if filter.is_empty() {
            return self;
        }
        self.and("--where").and(&filter.to_string())
    }

    /// As it is typed into a shell, with the programme of the state.
    pub(crate) fn typed(&self, app: &App) -> String {
        let mut line = "fairdraw".to_owned();
        let own = ["-p", &app.file];
        for word in own.into_iter().chain(self.0.iter().map(String::as_str)) {
            line.push(' ');
            line.push_str(&quoted(word));
        }
        line
    }
}

/// A word as a POSIX shell takes it for one: as it is where no sign of it means anything there,
/// else between single quotes.
pub(crate) fn quoted(word: &str) -> String {
    let plain = |sign: char| sign.is_ascii_alphanumeric() || "-_./:=@%+,".contains(sign);
    // A tilde at the beginning and an equals sign in the first word mean something; neither can
    // come to stand so.
    if !word.is_empty() && word.chars().all(plain) {
        return word.to_owned();
    }
    format!("'{}'", word.replace('\'', "'\\''"))
}

/// The command line that tells what is on screen; none where there is none.
pub(crate) fn of(app: &App) -> Option<CommandLine> {
    match app.place {
        Place::Share => share_line(app),
        Place::Draws => Some(CommandLine::of("score").on(&app.filter)),
        Place::Opened => opened(app),
        Place::People => Some(compared(
            app,
            app.screens.people.shares,
            match app.screens.people.crews {
                true => "crew",
                false => "technician",
            },
        )),
        Place::Points => Some(compared(app, app.screens.points.shares, "point")),
        Place::Topics => Some(topics(app)),
        other => frame::screen(other)?.command_line(app),
    }
}

fn share_line(app: &App) -> Option<CommandLine> {
    let filter = &app.filter;
    // The large picture is that of the periods.
    let section = match app.screens.share.picture {
        true => Section::Months,
        false => app.screens.share.section,
    };
    Some(match section {
        Section::Verdicts => CommandLine::of("share").on(filter),
        Section::Rules => CommandLine::of("share --by rule").on(filter),
        Section::Months => {
            let every = match app.screens.share.every {
                Every::Month => "trend",
                Every::Quarter => "trend --every quarter",
                Every::Year => "trend --every year",
                Every::Week => "trend --every week",
            };
            CommandLine::of(every).on(filter)
        }
        // The draws that wait for what the chosen line says.
        Section::Waiting if share::is_resample_chosen(app) => {
            CommandLine::of("resample").on(&filter.without_days())
        }
        Section::Waiting => {
            let waiting = share::chosen(app)?.narrow(filter).ok()?;
            CommandLine::of("score").on(&waiting)
        }
    })
}

/// The draws at the point of the opened one on its day, with what every rule saw; there is no
/// filter by draw.
fn opened(app: &App) -> Option<CommandLine> {
    let assessed = app.data.as_ref()?;
    let row = app.chosen_row()? as usize;
    let judged = &assessed.judged;
    let drawn = time::local_text(judged.drawn_at[row], assessed.zone);
    let (day, _) = drawn.split_once(' ')?;
    let point = &assessed.points[judged.point[row] as usize].id;
    let technician = &assessed.technicians[judged.technician[row] as usize].id;
    let narrower = Narrower::one(FilterKey::Point, point)
        .and(FilterKey::Technician, technician)
        .and(FilterKey::From, day)
        .and(FilterKey::To, day);
    let filter = narrower.narrow(&Filter::default()).ok()?;
    Some(CommandLine::of("score --format json").on(&filter))
}

/// Observed against expected where that is shown and known, else shares.
fn compared(app: &App, shares: bool, by: &str) -> CommandLine {
    let is_told_apart = by != "crew" && !shares && matches!(fit(app), Fit::There(_));
    let words = match is_told_apart {
        true => adjusted(app, CommandLine::of("attribute")),
        false => CommandLine::of("share --by").and(by),
    };
    words.on(&app.filter)
}

fn adjusted(app: &App, line: CommandLine) -> CommandLine {
    let words: Vec<&str> = app.adjust.iter().map(|it| it.as_str()).collect();
    match words.is_empty() {
        true => line,
        false => line.and("--adjust").and(&words.join(",")),
    }
}

fn topics(app: &App) -> CommandLine {
    let words = match app.screens.topics.tab {
        Tab::Heat if app.screens.topics.crews => "topics --by crew",
        Tab::Heat => "topics",
        Tab::Asks => "topics --by owner",
        Tab::Trainings => "trainings",
    };
    CommandLine::of(words).on(&app.filter)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_shell_takes_a_quoted_word_for_one() {
        for (word, typed) in [
            ("north.db", "north.db"),
            ("/plants/north-2.db", "/plants/north-2.db"),
            ("site:North", "site:North"),
            ("2026-03", "2026-03"),
            ("", "''"),
            ("two words", "'two words'"),
            ("a'b", "'a'\\''b'"),
            ("$HOME", "'$HOME'"),
            ("`x`;y|z&", "'`x`;y|z&'"),
            ("crew:(blank)", "'crew:(blank)'"),
            ("~/a", "'~/a'"),
            ("site:\"North pit\"", "'site:\"North pit\"'"),
            ("Öl", "'Öl'"),
            ("a\\b", "'a\\b'"),
            ("*", "'*'"),
            ("-crew:B", "-crew:B"),
        ] {
            assert_eq!(quoted(word), typed);
        }
    }
}
