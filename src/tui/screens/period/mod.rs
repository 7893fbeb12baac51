//! Choosing the period: the list that lies over a screen, and one period further or back.
//!
//! A period is terms of the filter (`from:` and `to:`) like any other, so that all screens and
//! the command line know it. *Last* is told from the newest draw, not from the clock.

mod offers;
mod own;
mod view;

use chrono::NaiveDate;
use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use self::offers::{Offer, last_month, offers};
use crate::analysis::{Assessed, Days, Filter};
use crate::model::time;
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::{Effect, Question};
use crate::tui::keymap::Zone;
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{Rows, Told};
use crate::tui::steps::{change, list_place};
use crate::tui::update::at_place;
use crate::tui::widgets::boxed;
use crate::tui::{layout, moves};

/// The list of periods, and the line for days of one's own.
#[derive(Clone, Debug)]
pub(crate) struct Period {
    newest: NaiveDate,
    offers: Vec<Offer>,
    list: ListPlace,
    /// Days of one's own while they are written.
    line: Option<LineEdit>,
    /// Whether the line was to be applied with a mistake in it.
    tried: bool,
}

/// How many draws lie in periods.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PeriodCounts {
    /// The filter's number; of days in the filter nothing is heeded.
    pub(crate) turn: u64,
    pub(crate) periods: Vec<Days>,
    /// The draws in each.
    pub(crate) draws: Vec<usize>,
}

impl PeriodCounts {
    pub(crate) fn of(assessed: &Assessed, turn: u64, filter: &Filter, periods: Vec<Days>) -> Self {
        let count = |days: &Days| filter.with_days(days).select(assessed).len();
        PeriodCounts {
            turn,
            draws: periods.iter().map(count).collect(),
            periods,
        }
    }
}

/// The days of the oldest and of the newest draw; none without draws.
fn ends(assessed: &Assessed) -> Option<(NaiveDate, NaiveDate)> {
    let drawn_at = &assessed.judged.drawn_at;
    let day = |at: &i64| time::day_of(*at, assessed.zone);
    Some((day(drawn_at.first()?), day(drawn_at.last()?)))
}

/// Lays the list over the screen.
pub(crate) fn choose(app: &mut App) {
    let Some((_, newest)) = app.data.as_ref().and_then(|assessed| ends(assessed)) else {
        app.message = Some("There are no draws yet, so there is no period to choose.".to_owned());
        return;
    };
    let offers = offers(newest);
    let present = app.filter.days();
    let own = offers.len() - 1;
    let chosen = offers.iter().position(|offer| offer.days == Some(present));
    let period = Period {
        newest,
        list: ListPlace {
            cursor: chosen.unwrap_or(own),
            offset: 0,
        },
        offers,
        line: None,
        tried: false,
    };
    panel::lay(app, Box::new(period));
}

/// Goes one period on or back, by the length of the one in the filter.
pub(crate) fn shift(app: &mut App, later: bool) {
    let Some((oldest, newest)) = app.data.as_ref().and_then(|assessed| ends(assessed)) else {
        return;
    };
    let present = app.filter.days();
    if present.is_open() {
        return apply(app, &last_month(newest));
    }
    let Some(days) = present.shifted(later) else {
        let words = "The period is open at one end; m gives it both.";
        app.message = Some(words.to_owned());
        return;
    };
    if days.first > Some(newest) {
        app.message = Some(format!("The newest draw is of {newest}; nothing is later."));
    } else if days.last < Some(oldest) {
        app.message = Some(format!(
            "The oldest draw is of {oldest}; nothing is earlier."
        ));
    } else {
        apply(app, &days);
    }
}

fn apply(app: &mut App, days: &Days) {
    let filter = app.filter.with_days(days);
    if filter == app.filter {
        app.message = Some("That is the period in view.".to_owned());
    } else {
        change(app, filter, list_place(app.place));
    }
}

impl Period {
    fn area(&self, body: Rect) -> Rect {
        boxed::area(body, view::WIDTH, self.offers.len() as u16 + view::AROUND)
    }

    /// What is counted: every offer, or the days that are written.
    fn counted(&self) -> Vec<Days> {
        match &self.line {
            Some(line) => own::read(line.text()).ok().flatten().into_iter().collect(),
            None => self.offers.iter().filter_map(|offer| offer.days).collect(),
        }
    }

    /// How many draws each of what is counted holds, once that is known.
    fn draws<'a>(&self, app: &'a App) -> Option<&'a [usize]> {
        let counts = app.figures.periods.as_ref()?;
        let is_same = counts.turn == app.turn && counts.periods == self.counted();
        is_same.then_some(&counts.draws)
    }

    /// Chooses an offer; days of one's own are asked for.
    fn take(mut self: Box<Self>, app: &mut App, at: usize) {
        match self.offers[at].days {
            Some(days) => apply(app, &days),
            None => {
                let present = app.filter.days();
                let text = match (present.first, present.last) {
                    (Some(first), Some(last)) => format!("{first} {last}"),
                    _ => String::new(),
                };
                self.list.cursor = at;
                self.line = Some(LineEdit::new(&text));
                self.tried = false;
                panel::lay(app, self);
            }
        }
    }

    fn obey_line(mut self: Box<Self>, app: &mut App, command: Command) {
        let Some(line) = &mut self.line else { return };
        match command {
            Command::Back => self.line = None,
            Command::Apply => {
                if let Ok(Some(days)) = own::read(line.text()) {
                    return apply(app, &days);
                }
                self.tried = true;
                return panel::lay(app, self);
            }
            other => line.obey(other),
        }
        self.tried = false;
        panel::lay(app, self);
    }
}

impl Panel for Period {
    fn zone(&self) -> Zone {
        match self.line {
            Some(_) => Zone::PeriodLine,
            None => Zone::Period,
        }
    }

    fn works(&self, _app: &App, command: Command) -> bool {
        match (command, &self.line) {
            (Command::Up, None) => self.list.cursor > 0,
            (Command::Down, None) => self.list.cursor + 1 < self.offers.len(),
            // What can't be read is said once.
            (Command::Apply, Some(line)) => match own::read(line.text()) {
                Ok(days) => days.is_some(),
                Err(_) => !self.tried,
            },
            (Command::DeleteAll, Some(line)) => !line.text().is_empty(),
            _ => true,
        }
    }

    fn hinted(&self) -> &'static [Command] {
        match self.line {
            Some(_) => &[Command::Apply, Command::Back, Command::DeleteAll],
            None => &[Command::Open, Command::Down, Command::Up, Command::Back],
        }
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match (command, &self.line) {
            (Command::Open, _) => Some("choose (or its letter)"),
            (Command::Apply, _) => Some("choose these days"),
            (Command::Back, Some(_)) => Some("to the list"),
            (Command::Back, None) => Some("leave it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        if self.line.is_some() {
            return self.obey_line(app, command);
        }
        let len = self.offers.len();
        let by_letter = self.offers.iter().position(|it| it.command == command);
        match (command, by_letter) {
            (_, Some(at)) => self.take(app, at),
            (Command::Back, _) => {}
            (Command::Open, _) => {
                let at = self.list.cursor;
                self.take(app, at);
            }
            (other, _) => match moves::distance(other, len) {
                Some(by) => {
                    self.list.step(by, len, len);
                    panel::lay(app, self);
                }
                None => at_place(app, other, effects),
            },
        }
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        if let Some(line) = &mut self.line {
            line.insert(text);
            self.tried = false;
        }
        panel::lay(app, self);
    }

    fn ask(self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        let periods = self.counted();
        if self.draws(app).is_none() && !app.waiting.periods && !periods.is_empty() {
            app.waiting.periods = true;
            effects.push(Effect::Reckon(Question::Periods {
                turn: app.turn,
                filter: app.filter.clone(),
                periods,
            }));
        }
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let area = self.area(layout::body(app.size));
        let row = boxed::line_at(area, at).and_then(|line| line.checked_sub(view::ABOVE));
        let row = row.filter(|row| *row < self.offers.len() && self.line.is_none());
        self.list.cursor = row.unwrap_or(self.list.cursor);
        panel::lay(app, self);
        row.map(|_| Command::Open)
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let len = self.offers.len();
        self.list.step(by.signum(), len, len);
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let mut told = Told::new("Period");
        told.say(&format!(
            "The newest draw is of {}; this and last are told from it",
            self.newest
        ));
        if let Some(line) = &self.line {
            if let Some(words) = own::read(line.text()).err().filter(|_| self.tried) {
                told.notice(&words.message);
            }
            told.say(own::HOW);
            return told;
        }
        let counts = self.draws(app);
        let len = self.offers.len();
        told.rows = Some(Rows::of(
            ("period", "periods"),
            len,
            self.list.cursor,
            "",
            |at| {
                let draws = counts.and_then(|counts| counts.get(at)).copied();
                view::said(&self.offers[at], draws)
            },
        ));
        told
    }

    fn choose(&mut self, _app: &App, row: usize) {
        let len = self.offers.len();
        self.list.choose(row, len, len);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        view::view(self, app, frame, body);
    }

    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        let line = self.line.as_ref()?;
        Some((" days     ", line))
    }
}
