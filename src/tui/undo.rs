//! What was done in this sitting, and how it is undone: by its honest opposite. What stands in
//! the trail stays there, and its opposite is added to it; what can't be undone says why, and
//! what to do instead. Sorting, columns and filters are not among it: the same key, or a step
//! back, undoes them.

use std::collections::BTreeSet;

use super::app::{App, Place};
use super::effect::Effect;
use super::screens::records::asked;
use super::screens::{findings, records};
use super::{forms, moves, steps, text};
use crate::analysis::findings::{Act, Finding, after};
use crate::model::decisions::pick::Verified;
use crate::programme::remembered::{Change, Changed};

/// More deeds than this are not kept in mind.
pub(crate) const MOST: usize = 20;

/// Something that was done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Deed {
    /// The result of this draw was set aside.
    SetAside(String),
    /// It counts again.
    CountsAgain(String),
    /// The finding of this number was raised.
    Raised(u32),
    /// It was answered.
    Answered(u32),
    /// It was closed.
    Closed(u32),
    /// It was withdrawn.
    Withdrawn(u32),
    /// The pick of this number was drawn.
    Picked(u32),
    /// A result was entered for a draw of a pick.
    Entered {
        /// The number of the pick.
        pick: u32,
        /// The draw.
        draw: String,
        /// What was known of it before.
        before: Option<Box<Verified>>,
    },
    /// So many results were entered for the pick of this number.
    EnteredMany(u32, usize),
    /// The batch of this number was taken in.
    TakenIn(i64),
    /// It was taken back.
    TakenBack(i64),
    /// Who was ticked for plans before and after.
    Ticked(BTreeSet<String>, BTreeSet<String>),
    /// A saved filter was changed.
    Remembered(Changed),
}

/// How something is undone.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    /// At once: what comes of it.
    AtOnce(String),
    /// By a form that asks for a reason.
    Asks(String),
    /// Where it can be undone.
    Leads(String),
    /// Not at all: why, and what to do instead.
    Stays(String),
}

impl Way {
    /// In a word or two, for the list.
    pub(crate) const fn word(&self) -> &'static str {
        match self {
            Way::AtOnce(_) => "at once",
            Way::Asks(_) => "asks first",
            Way::Leads(_) => "leads there",
            Way::Stays(_) => "stays",
        }
    }

    /// In a sentence or two.
    pub(crate) fn words(&self) -> &str {
        match self {
            Way::AtOnce(words) | Way::Asks(words) | Way::Leads(words) | Way::Stays(words) => words,
        }
    }
}

/// Keeps in mind what was done. What it undoes is forgotten; it can be undone in its turn.
pub(crate) fn note(app: &mut App, deed: Deed) {
    app.deeds.retain(|done| !deed.undoes(done));
    app.deeds.push(deed);
    let excess = app.deeds.len().saturating_sub(MOST);
    app.deeds.drain(..excess);
}

impl Deed {
    /// Whether it is the opposite of another deed.
    fn undoes(&self, done: &Deed) -> bool {
        match (self, done) {
            (Deed::CountsAgain(draw), Deed::SetAside(other))
            | (Deed::SetAside(draw), Deed::CountsAgain(other)) => draw == other,
            (Deed::Withdrawn(number), Deed::Raised(other) | Deed::Answered(other)) => {
                number == other
            }
            (Deed::TakenBack(batch), Deed::TakenIn(other)) => batch == other,
            (
                Deed::Entered { pick, draw, .. },
                Deed::Entered {
                    pick: of,
                    draw: other,
                    ..
                },
            ) => pick == of && draw == other,
            _ => false,
        }
    }

    /// What was done, in words.
    pub(crate) fn says(&self) -> String {
        match self {
            Deed::SetAside(draw) => format!("The result of draw {draw} was set aside"),
            Deed::CountsAgain(draw) => format!("The result of draw {draw} was let count again"),
            Deed::Raised(number) => format!("Finding F-{number} was raised"),
            Deed::Answered(number) => format!("Finding F-{number} was answered"),
            Deed::Closed(number) => format!("Finding F-{number} was closed"),
            Deed::Withdrawn(number) => format!("Finding F-{number} was withdrawn"),
            Deed::Picked(number) => format!("Pick {number} was drawn"),
            Deed::Entered { pick, draw, .. } => {
                format!("A result was entered in pick {pick} for draw {draw}")
            }
            Deed::EnteredMany(pick, results) => format!(
                "{} entered in pick {pick}",
                text::plural(*results as u64, "result was", "results were")
            ),
            Deed::TakenIn(batch) => format!("Batch {batch} was taken in"),
            Deed::TakenBack(batch) => format!("Batch {batch} was taken back"),
            Deed::Ticked(before, now) => ticked(before, now),
            Deed::Remembered(changed) => text::capital(&changed.words),
        }
    }

    /// How it is undone as things stand.
    pub(crate) fn way(&self, app: &App) -> Way {
        match self {
            Deed::SetAside(_) => Way::Asks(
                "Enter lets the result count again; it asks why. Both stay in the trail."
                    .to_owned(),
            ),
            Deed::CountsAgain(_) => Way::Asks(
                "Enter sets the result aside again; it asks why. All of it stays in the trail."
                    .to_owned(),
            ),
            Deed::Raised(number) => match stopped(app, *number, Act::Withdraw) {
                None => Way::Asks(format!(
                    "Enter withdraws F-{number}; it asks why. That it was raised stays in the \
                     trail."
                )),
                Some(why) => Way::Stays(format!("F-{number}: {why}.")),
            },
            Deed::Answered(number) => match stopped(app, *number, Act::Answer) {
                None => Way::Asks(format!(
                    "An answer stays in the trail. Enter asks for another one, which then holds; \
                     to withdraw F-{number}, w on Findings."
                )),
                Some(why) => Way::Stays(format!("F-{number}: {why}.")),
            },
            Deed::Closed(number) => Way::Stays(format!(
                "F-{number} stays closed, for others may have acted on it. If what was found comes \
                 back, raise a new finding: F on the draw, technician or point."
            )),
            Deed::Withdrawn(number) => Way::Stays(format!(
                "F-{number} stays withdrawn. If it was right after all, raise it anew: F on the \
                 draw, technician or point."
            )),
            Deed::Picked(number) => Way::Stays(format!(
                "Pick {number} stays as it was drawn, or one could draw until it suits. Draw \
                 another one beside it: n on Findings, Picks."
            )),
            Deed::Entered {
                before: Some(before),
                ..
            } => Way::Asks(format!(
                "Enter asks to enter again what was known before: {}. Both stay in the trail.",
                before.result.as_str()
            )),
            Deed::Entered { .. } => Way::Leads(
                "Nothing was known before, and a result can't be made unsaid. Enter leads to the \
                 pick, where another one takes its place: a, d or u on the draw."
                    .to_owned(),
            ),
            Deed::EnteredMany(..) => Way::Leads(
                "Results can't be made unsaid. Enter leads to the pick, where others take their \
                 place: a, d or u on a draw."
                    .to_owned(),
            ),
            Deed::TakenIn(batch) => Way::Leads(format!(
                "Enter leads to batch {batch} in Records and asks why it is taken back; then the \
                 programme is as if it had never been taken in."
            )),
            Deed::TakenBack(batch) => Way::Stays(format!(
                "To have the rows of batch {batch} again, take its sheets in again: i on Records."
            )),
            Deed::Ticked(before, _) => Way::AtOnce(format!(
                "Enter brings the ticks back as they were: {}.",
                match before.len() {
                    0 => "none".to_owned(),
                    many => format!("{many} ticked"),
                }
            )),
            Deed::Remembered(changed) => Way::AtOnce(back_words(&changed.back)),
        }
    }
}

fn ticked(before: &BTreeSet<String>, now: &BTreeSet<String>) -> String {
    let list = |ids: BTreeSet<&String>| {
        let ids: Vec<&str> = ids.into_iter().map(String::as_str).collect();
        ids.join(", ")
    };
    let (added, gone) = (
        list(now.difference(before).collect()),
        list(before.difference(now).collect()),
    );
    match (added.as_str(), gone.as_str()) {
        (added, "") => format!("Ticked for a plan: {added}"),
        ("", gone) => format!("No longer ticked for a plan: {gone}"),
        (added, gone) => format!("Ticked for a plan: {added}; no longer: {gone}"),
    }
}

fn back_words(back: &Change) -> String {
    match back {
        Change::Save { name, filter, .. } => {
            format!("Enter has {name} saved again as it was: {filter}")
        }
        Change::Forget { name } => format!("Enter forgets the saved filter {name}."),
        Change::Rename { to, .. } => format!("Enter calls it {to} again."),
    }
}

fn finding(app: &App, number: u32) -> Option<&Finding> {
    let docket = app.figures.docket.as_ref()?;
    docket.findings.iter().find(|it| it.number() == number)
}

/// Why an act can't be done on a finding any more.
fn stopped(app: &App, number: u32, act: Act) -> Option<&'static str> {
    let finding = finding(app, number)?;
    after(finding.state, finding.raised.grade, act).err()
}

/// Undoes the deed at this place, or asks, or leads there, or says why not.
pub(crate) fn undo(app: &mut App, at: usize, effects: &mut Vec<Effect>) {
    let Some(deed) = app.deeds.get(at).cloned() else {
        return;
    };
    if let Way::Stays(words) = deed.way(app) {
        app.message = Some(words);
        return;
    }
    match deed {
        Deed::SetAside(draw) => forms::set_aside(app, &draw, true),
        Deed::CountsAgain(draw) => forms::set_aside(app, &draw, false),
        Deed::Raised(number) => match finding(app, number).cloned() {
            Some(finding) => forms::withdraw(app, &finding),
            None => not_known_yet(app),
        },
        Deed::Answered(number) => match finding(app, number).cloned() {
            Some(finding) => forms::answer(app, &finding),
            None => not_known_yet(app),
        },
        Deed::Entered {
            pick,
            before: Some(known),
            ..
        } => forms::enter_again(app, pick, &known),
        Deed::Entered { pick, draw, .. } => lead_to_pick(app, pick, Some(&draw)),
        Deed::EnteredMany(pick, _) => lead_to_pick(app, pick, None),
        Deed::TakenIn(batch) => lead_to_batch(app, batch),
        Deed::Ticked(before, now) => {
            app.deeds.remove(at);
            app.ticked.clone_from(&before);
            app.message = Some(format!("{}.", ticked(&now, &before)));
            note(app, Deed::Ticked(now, before));
        }
        Deed::Remembered(changed) => {
            app.deeds.remove(at);
            change_saved(app, changed.back, effects);
        }
        Deed::Closed(_) | Deed::Withdrawn(_) | Deed::Picked(_) | Deed::TakenBack(_) => {}
    }
}

/// Changes the saved filters, here and where they are kept, and says so; or says why not.
pub(crate) fn change_saved(app: &mut App, change: Change, effects: &mut Vec<Effect>) {
    match change.make(&mut app.memory) {
        Ok(changed) => {
            app.message = Some(text::capital(&changed.words));
            note(app, Deed::Remembered(changed));
            effects.push(Effect::Remember(change));
        }
        Err(why) => app.message = Some(text::sentence(&why.to_string())),
    }
}

fn not_known_yet(app: &mut App) {
    app.message = Some("The findings are still being read; try again.".to_owned());
}

fn lead_to_pick(app: &mut App, number: u32, draw: Option<&str>) {
    steps::go(app, Place::Findings);
    let state = &mut app.screens.findings;
    state.tab = findings::Tab::Picks;
    state.opened = true;
    let place = |pick: &&crate::analysis::picks::Pick| pick.drawn.pick == number;
    let Some(at) = findings::picks(app).iter().position(place) else {
        return not_known_yet(app);
    };
    let pick = findings::picks(app)[at];
    let draw = draw.and_then(|draw| pick.place_of(draw));
    let state = &mut app.screens.findings;
    state.picks.cursor = at;
    state.draws.cursor = draw.unwrap_or(0);
    moves::settle(app);
}

/// To the batch, with the line that asks why it is taken back.
fn lead_to_batch(app: &mut App, number: i64) {
    steps::go(app, Place::Records);
    let state = &mut app.screens.records;
    state.tab = records::Tab::Ledger;
    state.opened = false;
    let at = records::ledger(app)
        .iter()
        .position(|batch| batch.import.number == number);
    let Some(at) = at else {
        // The ledger is read when the screen is first seen.
        app.message = Some(format!(
            "Batch {number} is in this list; b takes it back once it is chosen."
        ));
        return;
    };
    app.screens.records.batches.cursor = at;
    moves::settle(app);
    asked::take_back(app);
}
