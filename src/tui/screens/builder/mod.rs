//! The filter builder: a filter without syntax. A field is chosen, then its values, with the
//! draws behind each; what it would be typed as stands at the foot.

mod draft;
mod fields;
mod places;
mod told;
mod values;
mod view;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use crate::analysis::{Assessed, Filter, FilterError, FilterKey, Offers, Value};
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::Told;
use crate::tui::steps::{change, list_place};
use crate::tui::update::at_place;
use crate::tui::{filter_line, layout, moves, wants};
use draft::Draft;
use fields::{Entry, FieldList, entries};
use places::{Places, places};
use values::ValueList;

/// Which of the two lists has the keys.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Side {
    Fields,
    Values,
}

/// The filter being built.
#[derive(Clone, Debug)]
pub(crate) struct Builder {
    draft: Draft,
    side: Side,
    fields: FieldList,
    values: ValueList,
    /// How many draws would be in view, once that is known.
    count: Option<u64>,
}

/// Opens the builder on the filter in force, at the values of the first field.
pub(crate) fn open(app: &mut App) {
    let Some(assessed) = app.data.clone() else {
        return;
    };
    let key = FilterKey::Verdict;
    let mut builder = Builder {
        draft: Draft::new(app.filter.clone(), key),
        side: Side::Values,
        fields: FieldList {
            chosen: Entry::Field(key),
            offset: 0,
        },
        values: ValueList::default(),
        count: None,
    };
    builder.list_values(&assessed, here(app));
    let entries = entries(&builder.draft.filter);
    let height = usize::from(here(app).fields.height);
    builder.fields.settle(&entries, height);
    panel::lay(app, Box::new(builder));
}

fn here(app: &App) -> Places {
    places(layout::body(app.size))
}

impl Builder {
    /// Begins a list of the open field's values; they are counted later.
    fn list_values(&mut self, assessed: &Assessed, places: Places) {
        let offers = Offers::known(assessed, self.draft.key);
        let height = usize::from(places.values.height);
        self.values = ValueList::of(self.draft.key, offers, self.draft.ticked(), height);
    }

    /// Opens what is chosen on the left.
    fn open_chosen(&mut self, app: &App) {
        match self.fields.chosen {
            Entry::Term(place) => self.draft.open_term(place),
            Entry::Field(key) => self.draft.open(key),
            Entry::Heading(_) => {}
        }
        if let Some(assessed) = &app.data {
            self.list_values(assessed, here(app));
        }
    }

    /// A day that is typed, and what is wrong with it; none where none is typed.
    fn typed_day(&self) -> Option<Result<Value, FilterError>> {
        let typed = self.values.sought.text().trim();
        let is_typed = self.draft.key.is_day() && !typed.is_empty();
        is_typed.then(|| Value::read(self.draft.key, typed))
    }

    /// The value that the keys act on.
    fn value(&self) -> Option<Value> {
        if self.side == Side::Fields {
            return None;
        }
        match self.typed_day() {
            Some(Ok(value)) => Some(value),
            _ => self.values.chosen().map(|offer| offer.value.clone()),
        }
    }

    /// What Enter applies.
    fn would_be(&self) -> Filter {
        match self.side {
            Side::Fields => self.draft.filter.clone(),
            // A look at what is ticked changes nothing.
            Side::Values if self.draft.place.is_some() && !self.values.has_moved() => {
                self.draft.filter.clone()
            }
            Side::Values => self.draft.with(self.value().as_ref()),
        }
    }

    /// The draws that would be in view where the counts beside the values tell already.
    fn known_count(&self, filter: &Filter) -> Option<u64> {
        let key = self.draft.key;
        if key.is_many() || key.is_day() || self.side == Side::Fields {
            return None;
        }
        let term = match self.draft.place {
            Some(place) => filter.terms().get(place),
            // A new term stands last.
            None if filter.terms().len() == self.draft.filter.terms().len() + 1 => {
                filter.terms().last()
            }
            None => None,
        }?;
        let having = self.values.draws(term.values())?;
        Some(if term.excludes() {
            self.values.offers.within.saturating_sub(having)
        } else {
            having
        })
    }

    fn at_fields(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let height = usize::from(here(app).fields.height);
        let is_changed = self.draft.filter != app.filter;
        match command {
            Command::Open => self.side = Side::Values,
            Command::TakeTermOut => self.take_out(app),
            Command::Exclude if self.draft.place.is_some() => self.draft.turn(None),
            Command::Exclude => app.message = Some(NO_TERM.to_owned()),
            Command::EditFilter => return filter_line::open_with(app, &self.draft.filter),
            other => match moves::distance(other, height) {
                Some(by) => {
                    self.fields.step(by, &entries(&self.draft.filter), height);
                    self.open_chosen(app);
                }
                None if !is_changed => return at_place(app, other, effects),
                None => app.message = Some(NOT_APPLIED.to_owned()),
            },
        }
        panel::lay(app, self);
    }

    fn take_out(&mut self, app: &mut App) {
        if self.draft.place.is_none() {
            app.message = Some(NO_TERM.to_owned());
            return;
        }
        self.draft.take_out();
        if let Entry::Term(place) = self.fields.chosen {
            let terms = self.draft.filter.terms().len();
            self.fields.chosen = match terms.checked_sub(1) {
                Some(last) => Entry::Term(place.min(last)),
                None => Entry::Field(self.draft.key),
            };
        }
        self.open_chosen(app);
        let height = usize::from(here(app).fields.height);
        self.fields.settle(&entries(&self.draft.filter), height);
    }

    fn at_values(mut self: Box<Self>, app: &mut App, command: Command) {
        let height = usize::from(here(app).values.height);
        match command {
            Command::PaneBack => {
                self.side = Side::Fields;
                self.values.sought.clear();
                self.values.typed();
            }
            Command::FieldNext => self.other_field(app, 1),
            Command::FieldBack => self.other_field(app, FilterKey::ALL.len() - 1),
            Command::TickValue => self.tick(app),
            // A day holds strokes.
            Command::Exclude if self.draft.key.is_day() => self.type_in("-"),
            Command::Exclude => self.draft.turn(self.value().as_ref()),
            Command::ValuesInOrder => self.values.turn_order(height),
            other => match moves::distance(other, height) {
                Some(by) => self.values.step(by, height),
                None => {
                    let before = self.values.sought.text().len();
                    self.values.sought.obey(other);
                    if self.values.sought.text().len() != before {
                        self.values.typed();
                    }
                }
            },
        }
        self.settle_fields(app);
        panel::lay(app, self);
    }

    /// The terms above the fields may have become more or fewer.
    fn settle_fields(&mut self, app: &App) {
        let height = usize::from(here(app).fields.height);
        if let Entry::Term(place) = self.fields.chosen
            && self.draft.place != Some(place)
        {
            self.fields.chosen = Entry::Field(self.draft.key);
        }
        self.fields.settle(&entries(&self.draft.filter), height);
    }

    fn tick(&mut self, app: &mut App) {
        match self.value() {
            Some(value) => self.draft.tick(&value),
            None => app.message = Some("There is no value to tick.".to_owned()),
        }
    }

    fn type_in(&mut self, text: &str) {
        self.values.sought.insert(text);
        self.values.typed();
    }

    fn other_field(&mut self, app: &App, by: usize) {
        let keys = FilterKey::ALL;
        let at = keys.iter().position(|key| *key == self.draft.key);
        let next = keys[(at.unwrap_or(0) + by) % keys.len()];
        self.fields.chosen = Entry::Field(next);
        self.open_chosen(app);
    }

    fn apply(self: Box<Self>, app: &mut App) {
        if let Some(Err(error)) = self.typed_day()
            && self.values.len() == 0
            && !self.draft.by_hand
        {
            app.message = Some(error.message);
            return panel::lay(app, self);
        }
        change(app, self.would_be(), list_place(app.place));
    }

    fn close(&self, app: &mut App) {
        if self.draft.filter != app.filter {
            app.message = Some("The filter is as it was; what was built is gone.".to_owned());
        }
    }
}

const NO_TERM: &str = "Choose a term that is in force first.";
const NOT_APPLIED: &str = "Apply what was built with a, or leave it with Esc, first.";

impl Panel for Builder {
    fn zone(&self) -> Zone {
        match self.side {
            Side::Fields => Zone::Builder,
            Side::Values => Zone::Values,
        }
    }

    fn hinted(&self) -> &'static [Command] {
        match self.side {
            Side::Fields => &[
                Command::Open,
                Command::Apply,
                Command::TakeTermOut,
                Command::Exclude,
                Command::EditFilter,
                Command::Back,
            ],
            Side::Values => &[
                Command::Apply,
                Command::TickValue,
                Command::Exclude,
                Command::FieldNext,
                Command::PaneBack,
                Command::ValuesInOrder,
                Command::Back,
            ],
        }
    }

    /// In days a minus is a sign like any other.
    fn works(&self, _app: &App, command: Command) -> bool {
        let is_sign = self.side == Side::Values && self.draft.key.is_day();
        command != Command::Exclude || !is_sign
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::Open => Some("values"),
            Command::PaneBack => Some("fields"),
            Command::EditFilter => Some("type it"),
            Command::Back if !self.values.sought.text().is_empty() => Some("all values"),
            Command::Back => Some("leave it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        match command {
            Command::Back if !self.values.sought.text().is_empty() => {
                self.values.sought.clear();
                self.values.typed();
                panel::lay(app, self);
            }
            Command::Back => self.close(app),
            Command::Apply => self.apply(app),
            Command::BuildFilter => panel::lay(app, self),
            other if self.side == Side::Fields => self.at_fields(app, other, effects),
            other => self.at_values(app, other),
        }
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        if self.side == Side::Values {
            self.type_in(text);
        }
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        let within = self.draft.within();
        let height = usize::from(here(app).values.height);
        if let Some(offers) = wants::offers(app, &within, self.draft.key, effects) {
            let ticked = self.draft.ticked().to_vec();
            if !self.values.counted || self.values.offers != offers {
                self.values.fill(offers, true, &ticked, height);
            }
        }
        let filter = self.would_be();
        self.count = match self.known_count(&filter) {
            Some(count) => Some(count),
            None => wants::count(app, &filter, effects),
        };
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let places = here(app);
        let mut command = None;
        if places.fields.contains(at) {
            let entries = entries(&self.draft.filter);
            let row = self.fields.offset + usize::from(at.y - places.fields.y);
            let entry = entries.get(row).copied();
            if let Some(entry @ (Entry::Term(_) | Entry::Field(_))) = entry {
                self.side = Side::Fields;
                let is_chosen = entry == self.fields.chosen;
                self.fields.chosen = entry;
                self.open_chosen(app);
                command = is_chosen.then_some(Command::Open);
            }
        } else if places.values.contains(at) {
            let row = self.values.list.offset + usize::from(at.y - places.values.y);
            if row < self.values.len() {
                self.side = Side::Values;
                self.values.choose(row, usize::from(places.values.height));
                command = Some(Command::TickValue);
            }
        } else if places.foot.contains(at) {
            command = Some(Command::Apply);
        } else if !places.frame.contains(at) {
            command = Some(Command::Back);
        }
        panel::lay(app, self);
        command
    }

    fn wheel(mut self: Box<Self>, app: &mut App, at: Position, by: isize) {
        let places = here(app);
        if places.fields.contains(at) {
            let height = usize::from(places.fields.height);
            let entries = entries(&self.draft.filter);
            self.fields.scroll(by, &entries, height);
            self.open_chosen(app);
        } else {
            self.values.scroll(by, usize::from(places.values.height));
        }
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        told::told(self, app)
    }

    fn choose(&mut self, app: &App, row: usize) {
        match self.side {
            Side::Fields => {
                if let Some(entry) = told::lines(self).get(row) {
                    self.fields.chosen = *entry;
                    self.open_chosen(app);
                }
            }
            Side::Values => {
                let height = usize::from(here(app).values.height);
                self.values.choose(row, height);
            }
        }
    }

    fn takes(&self) -> Command {
        match self.side {
            Side::Fields => Command::Open,
            Side::Values => Command::TickValue,
        }
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        view::view(self, app, frame, body);
    }
}
