//! Findings: picks to verify, and findings raised, answered, closed.
//!
//! ```text
//! Findings  Picks
//! no.  state     due        what was found │ the chosen one: what, of whom, by when,
//! F-2  ! open    2026-03-01 flushes short  │ its story, the draws that speak for it
//! ```
//!
//! They are shown whatever the filter; the filter says which draws a new one is about.

pub(crate) mod finding;
pub(crate) mod list;
pub(crate) mod pick;
pub(crate) mod sheet;
pub(crate) mod view;

use std::cmp::Reverse;
use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};

use crate::analysis::FilterKey;
use crate::analysis::findings::{Act, Finding, after};
use crate::analysis::picks::Pick;
use crate::model::decisions::DrawSeen;
use crate::model::decisions::finding::Subject;
use crate::model::decisions::pick::Outcome;
use crate::model::time;
use crate::tui::action::Command;
use crate::tui::app::{App, Place};
use crate::tui::command_line::CommandLine;
use crate::tui::decide::{Docket, Evidence};
use crate::tui::effect::{Effect, Fetch};
use crate::tui::frame::Screen;
use crate::tui::keymap::Zone;
use crate::tui::layout;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::screens::{people, points};
use crate::tui::subject;
use crate::tui::update::narrow_to;
use crate::tui::{forms, moves, pick_form};

/// The two views of the screen.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Tab {
    #[default]
    Findings,
    Picks,
}

impl Tab {
    pub(crate) const ALL: [Tab; 2] = [Tab::Findings, Tab::Picks];

    pub(crate) const fn title(self) -> &'static str {
        match self {
            Tab::Findings => " Findings ",
            Tab::Picks => " Picks ",
        }
    }
}

/// What findings can be sorted by.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum By {
    /// What is to be done first: overdue ones, then by the day.
    #[default]
    Due,
    Number,
    State,
    Owner,
}

impl By {
    pub(crate) const ALL: [By; 4] = [By::Due, By::Number, By::State, By::Owner];
}

/// Where the user stands.
#[derive(Clone, Debug, Default)]
pub(crate) struct FindingsState {
    pub(crate) tab: Tab,
    pub(crate) findings: ListPlace,
    pub(crate) by: By,
    pub(crate) descending: bool,
    /// Whether the chosen finding or pick is opened.
    pub(crate) opened: bool,
    /// The first line of the opened finding on screen.
    pub(crate) scroll: usize,
    pub(crate) picks: ListPlace,
    /// The chosen draw of the opened pick.
    pub(crate) draws: ListPlace,
}

impl FindingsState {
    /// Sorts by a column; by the one it is sorted by, the other way round.
    fn sort_or_turn(&mut self, by: By) {
        self.descending = self.by == by && !self.descending;
        self.by = by;
        self.findings = ListPlace::default();
    }
}

/// All findings in the order of the list.
pub(crate) fn findings(app: &App) -> Vec<&Finding> {
    let Some(docket) = &app.figures.docket else {
        return Vec::new();
    };
    let mut findings: Vec<&Finding> = docket.findings.iter().collect();
    let state = &app.screens.findings;
    match state.by {
        // Those that nothing is due of come last, the latest of them first.
        By::Due => findings.sort_by_key(|it| {
            let due = it.due();
            let number = i64::from(it.number());
            (
                !it.state.is_pending(),
                due.is_none(),
                due,
                if it.state.is_pending() {
                    number
                } else {
                    -number
                },
            )
        }),
        By::Number => findings.sort_by_key(|it| Reverse(it.number())),
        By::State => findings.sort_by_key(|it| (it.state as u8, it.number())),
        By::Owner => findings.sort_by_key(|it| (it.raised.owner.to_lowercase(), it.number())),
    }
    if state.descending {
        findings.reverse();
    }
    findings
}

/// All picks, the latest first.
pub(crate) fn picks(app: &App) -> Vec<&Pick> {
    let docket = app.figures.docket.as_ref();
    docket.map_or_else(Vec::new, |docket| docket.picks.iter().rev().collect())
}

pub(crate) fn chosen_finding(app: &App) -> Option<&Finding> {
    let at = app.screens.findings.findings.cursor;
    findings(app).get(at).copied()
}

pub(crate) fn chosen_pick(app: &App) -> Option<&Pick> {
    picks(app).get(app.screens.findings.picks.cursor).copied()
}

/// Takes findings and picks in as they now stand. What was chosen stays so wherever it now
/// stands in the list; a new one is chosen.
pub(crate) fn keep(app: &mut App, docket: Arc<Docket>) {
    let chosen = chosen_finding(app).map(Finding::number);
    let pick = chosen_pick(app).map(|pick| pick.drawn.pick);
    let was = app.figures.docket.replace(Arc::clone(&docket));
    let (findings_were, picks_were) = was.map_or((usize::MAX, usize::MAX), |was| {
        (was.findings.len(), was.picks.len())
    });
    let chosen = if docket.findings.len() > findings_were {
        docket.findings.last().map(Finding::number)
    } else {
        chosen
    };
    let pick = if docket.picks.len() > picks_were {
        docket.picks.last().map(|pick| pick.drawn.pick)
    } else {
        pick
    };
    let at = |number| findings(app).iter().position(|it| it.number() == number);
    let at = chosen.and_then(at);
    let pick_at = pick.and_then(|number| picks(app).iter().position(|it| it.drawn.pick == number));
    let state = &mut app.screens.findings;
    state.findings.cursor = at.unwrap_or(state.findings.cursor);
    state.picks.cursor = pick_at.unwrap_or(state.picks.cursor);
}

/// What became of the evidence of the chosen finding, once it is known.
pub(crate) fn evidence(app: &App) -> Option<&Evidence> {
    let number = chosen_finding(app)?.number();
    let (of, evidence) = app.figures.evidence.as_ref()?;
    (*of == number).then_some(evidence)
}

/// Below the names of the views.
pub(crate) fn below(app: &App) -> Rect {
    let body = layout::body(app.size);
    let gap = if body.height >= 24 { 2 } else { 1 };
    Rect {
        y: body.y + gap,
        height: body.height.saturating_sub(gap),
        ..body
    }
}

/// Where the list and the chosen finding or pick stand; a narrow screen shows an opened one
/// alone.
pub(crate) struct Panes {
    pub(crate) list: Option<Rect>,
    pub(crate) beside: Rect,
}

pub(crate) fn panes(app: &App) -> Panes {
    let below = below(app);
    let state = &app.screens.findings;
    let is_alone = below.width < layout::SIDE_BY_SIDE || state.tab == Tab::Picks;
    if state.opened && is_alone {
        return Panes {
            list: None,
            beside: below,
        };
    }
    let pair = layout::pair_of(below, 52, 75);
    Panes {
        list: Some(pair.list),
        beside: pair.beside,
    }
}

/// The list that the keys act on: how long it is and how many rows are on screen.
fn list_size(app: &App) -> (usize, usize) {
    let state = &app.screens.findings;
    let rows = || panes(app).list.map_or(1, layout::rows_of);
    match (state.tab, state.opened) {
        (Tab::Findings, _) => (findings(app).len(), rows()),
        (Tab::Picks, false) => (picks(app).len(), rows()),
        (Tab::Picks, true) => {
            let len = chosen_pick(app).map_or(0, |pick| pick.drawn.draws.len());
            (len, layout::rows_of(pick::list_area(app)))
        }
    }
}

fn list(app: &mut App) -> &mut ListPlace {
    let state = &mut app.screens.findings;
    match (state.tab, state.opened) {
        (Tab::Findings, _) => &mut state.findings,
        (Tab::Picks, false) => &mut state.picks,
        (Tab::Picks, true) => &mut state.draws,
    }
}

/// The draw of the opened pick that the keys act on.
pub(crate) fn chosen_draw(app: &App) -> Option<&DrawSeen> {
    let at = app.screens.findings.draws.cursor;
    chosen_pick(app)?.drawn.draws.get(at)
}

/// The draws of a point on the day of this one.
fn draw_narrower(app: &App, seen: &DrawSeen) -> Option<Narrower> {
    let zone = app.data.as_ref()?.zone;
    let day = time::local_text(seen.drawn_at, zone);
    let (day, _) = day.split_once(' ')?;
    let point = Narrower::one(FilterKey::Point, &seen.point);
    Some(point.and(FilterKey::From, day).and(FilterKey::To, day))
}

/// The draws that the chosen finding is about.
fn behind(app: &App, finding: &Finding) -> Option<Narrower> {
    let raised = &finding.raised;
    let of = |key, id: &str| {
        let subject = Narrower::one(key, id);
        match raised.rule.as_str() {
            "" => subject.and(FilterKey::Verdict, "unrepresentative"),
            rule => subject.and(FilterKey::Broken, rule),
        }
    };
    match &raised.subject {
        Subject::Technician { id } => Some(of(FilterKey::Technician, id)),
        Subject::Point { id } => Some(of(FilterKey::Point, id)),
        Subject::Draws { .. } | Subject::Pick { .. } => {
            draw_narrower(app, raised.evidence.first()?)
        }
    }
}

fn narrower(app: &App) -> Option<Narrower> {
    let state = &app.screens.findings;
    match (state.tab, state.opened) {
        (Tab::Findings, true) => behind(app, chosen_finding(app)?),
        (Tab::Picks, true) => draw_narrower(app, chosen_draw(app)?),
        _ => None,
    }
}

/// Sets the chosen draw's result aside, or lets it count again, from the list of draws or an
/// opened one.
pub(crate) fn set_aside_chosen(app: &mut App) {
    // Who set it aside is known once the draw is opened up.
    let Some(opened) = app.opened_draw() else {
        app.then_set_aside = app.chosen_row();
        app.message = Some("Reading the draw; Esc leaves it.".to_owned());
        return;
    };
    let (draw, is_aside) = (opened.record.identity(), opened.set_aside.is_some());
    forms::set_aside(app, &draw, is_aside);
}

/// Asks for a finding about what is chosen on another screen.
pub(crate) fn raise_about_chosen(app: &mut App) {
    let person = |person: &people::Person| match &person.subject {
        subject::Subject::Technician(_) => Some(Subject::Technician {
            id: person.id.clone(),
        }),
        _ => None,
    };
    let subject = match app.place {
        Place::Draws | Place::Opened => {
            let identity = match (app.opened_draw(), app.chosen_row()) {
                (Some(opened), _) => Some(opened.record.identity()),
                (None, Some(row)) => app.records.get(&row).map(|record| record.identity()),
                (None, None) => None,
            };
            identity.map(|id| Subject::Draws { ids: vec![id] })
        }
        Place::People => people::chosen(app).and_then(person),
        Place::Points => points::chosen(app).map(|line| Subject::Point {
            id: line.id.clone(),
        }),
        _ => None,
    };
    match subject {
        Some(subject) => forms::raise(app, subject, ""),
        None if app.place == Place::People => {
            let words = "A finding is raised about one technician; c shows technicians.";
            app.message = Some(words.to_owned());
        }
        None => {}
    }
}

/// The Findings screen.
pub(crate) struct Findings;

impl Screen for Findings {
    fn zone(&self, app: &App) -> Zone {
        let state = &app.screens.findings;
        match (state.tab, state.opened) {
            (Tab::Findings, false) => Zone::Findings,
            (Tab::Findings, true) => Zone::Finding,
            (Tab::Picks, false) => Zone::Picks,
            (Tab::Picks, true) => Zone::Pick,
        }
    }

    fn hinted(&self, zone: Zone) -> &'static [Command] {
        use Command as C;
        match zone {
            Zone::Findings => &[
                C::Open,
                C::AnswerFinding,
                C::CloseFinding,
                C::PaneNext,
                C::Export,
                C::SortNext,
                C::WithdrawFinding,
                C::Back,
            ],
            Zone::Finding => &[
                C::Back,
                C::AnswerFinding,
                C::CloseFinding,
                C::Open,
                C::WithdrawFinding,
                C::PageDown,
            ],
            Zone::Picks => &[
                C::Open,
                C::DrawPick,
                C::PickSheet,
                C::PaneNext,
                C::Raise,
                C::Export,
                C::Back,
            ],
            _ => &[
                C::Back,
                C::Agree,
                C::Disagree,
                C::Unverified,
                C::PickSheet,
                C::EnterSheet,
                C::Open,
                C::Raise,
            ],
        }
    }

    fn hint(&self, zone: Zone, command: Command) -> Option<&'static str> {
        match (zone, command) {
            (Zone::Finding | Zone::Pick, Command::Back) => Some("to the list"),
            (Zone::Finding, Command::Open) => Some("its draws"),
            (Zone::Pick, Command::Open) => Some("the draw"),
            (Zone::Findings | Zone::Picks, Command::PaneNext) => Some("next view"),
            (Zone::Picks | Zone::Pick, Command::Raise) => Some("raise"),
            _ => None,
        }
    }

    fn works(&self, app: &App, command: Command) -> Option<bool> {
        works(app, command)
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>) {
        view::view(app, frame);
    }

    fn ask(&self, app: &mut App, effects: &mut Vec<Effect>) {
        if app.unreadable {
            return;
        }
        let number = chosen_finding(app).map(Finding::number);
        let known = app.figures.evidence.as_ref().map(|(of, _)| *of);
        if let Some(number) = number
            && app.screens.findings.tab == Tab::Findings
            && known != Some(number)
            && !app.waiting.evidence
        {
            app.waiting.evidence = true;
            effects.push(Effect::Fetch(Fetch::Evidence(number)));
        }
    }

    fn obey(&self, app: &mut App, command: Command, effects: &mut Vec<Effect>) -> bool {
        let is_opened = app.screens.findings.opened;
        match command {
            Command::Open if is_opened => {
                if let Some(narrower) = narrower(app) {
                    narrow_to(app, &narrower, Place::Draws);
                }
            }
            Command::Open => {
                let tab = app.screens.findings.tab;
                let is_there = match tab {
                    Tab::Findings => chosen_finding(app).is_some(),
                    Tab::Picks => chosen_pick(app).is_some(),
                };
                let state = &mut app.screens.findings;
                state.opened = is_there;
                state.scroll = 0;
                state.draws = ListPlace::default();
            }
            Command::Back if is_opened => app.screens.findings.opened = false,
            Command::Back if app.packing.is_some() => {
                if let Some(packing) = &mut app.packing
                    && !packing.stopping
                {
                    packing.stopping = true;
                    effects.push(Effect::StopPack);
                }
            }
            Command::PaneNext | Command::PaneBack => {
                let state = &mut app.screens.findings;
                state.tab = match state.tab {
                    Tab::Findings => Tab::Picks,
                    Tab::Picks => Tab::Findings,
                };
            }
            Command::SortNext => {
                let state = &mut app.screens.findings;
                let at = By::ALL.iter().position(|by| *by == state.by);
                state.by = By::ALL[(at.unwrap_or(0) + 1) % By::ALL.len()];
                state.descending = false;
                state.findings = ListPlace::default();
            }
            Command::SortTurn => {
                let state = &mut app.screens.findings;
                state.descending ^= true;
                state.findings = ListPlace::default();
            }
            Command::AnswerFinding | Command::CloseFinding | Command::WithdrawFinding => {
                act(app, command);
            }
            Command::DrawPick => pick_form::draw(app),
            Command::PickSheet => {
                if let Some(pick) = chosen_pick(app).cloned() {
                    pick_form::sheet(app, &pick);
                }
            }
            Command::Export => forms::pack(app),
            Command::Agree => enter(app, Outcome::Agree),
            Command::Disagree => enter(app, Outcome::Disagree),
            Command::Unverified => enter(app, Outcome::Unverified),
            Command::EnterSheet => sheet::begin(app),
            Command::Raise => {
                if let Some(number) = chosen_pick(app).map(|pick| pick.drawn.pick) {
                    forms::raise(app, Subject::Pick { number }, "");
                }
            }
            _ => return false,
        }
        true
    }

    fn step(&self, app: &mut App, command: Command) {
        let state = &app.screens.findings;
        if state.tab == Tab::Findings && state.opened {
            let (lines, height) = finding::size(app);
            let most = lines.saturating_sub(height);
            if let Some(by) = moves::distance(command, height) {
                let scroll = app.screens.findings.scroll.saturating_add_signed(by);
                app.screens.findings.scroll = scroll.min(most);
            }
            return;
        }
        let (len, height) = list_size(app);
        if let Some(by) = moves::distance(command, height) {
            list(app).step(by, len, height);
        }
    }

    fn narrower(&self, app: &App) -> Option<Narrower> {
        narrower(app)
    }

    fn command_line(&self, app: &App) -> Option<CommandLine> {
        let state = &app.screens.findings;
        Some(match (state.tab, state.opened) {
            (Tab::Findings, false) => CommandLine::of("finding list"),
            (Tab::Findings, true) => {
                let number = chosen_finding(app)?.number();
                CommandLine::of("finding show").and(&number.to_string())
            }
            (Tab::Picks, false) => CommandLine::of("pick list"),
            (Tab::Picks, true) => {
                let number = chosen_pick(app)?.drawn.pick;
                CommandLine::of("pick show").and(&number.to_string())
            }
        })
    }

    fn choose(&self, app: &mut App, row: usize) {
        let (len, height) = list_size(app);
        list(app).choose(row, len, height);
        app.screens.findings.scroll = 0;
    }

    fn click(&self, app: &mut App, at: Position) -> Option<Command> {
        if at.y == layout::body(app.size).y {
            if let Some(tab) = view::tab_at(app, at.x) {
                let state = &mut app.screens.findings;
                state.opened &= state.tab == tab;
                state.tab = tab;
            }
            return None;
        }
        let state = &app.screens.findings;
        let is_pick = state.tab == Tab::Picks && state.opened;
        let panes = panes(app);
        let area = if is_pick {
            pick::list_area(app)
        } else {
            panes.list?
        };
        let is_findings = state.tab == Tab::Findings;
        if is_findings && panes.beside.contains(at) {
            app.screens.findings.opened = chosen_finding(app).is_some();
            return None;
        }
        if is_findings && area.contains(at) {
            app.screens.findings.opened = false;
        }
        if is_findings && at.y == area.y {
            if let Some(by) = list::heading_at(app, area, at.x) {
                app.screens.findings.sort_or_turn(by);
            }
            return None;
        }
        let (len, height) = list_size(app);
        let was = list(app).cursor;
        let each = match is_findings {
            true => list::lines_each(app, area) as u16,
            false => 1,
        };
        let first = area.y + 1;
        let y = match at.y.checked_sub(first) {
            Some(line) => first + line / each,
            None => at.y,
        };
        let opens = list(app).click(area, (at.x, y), len, height);
        if list(app).cursor != was {
            app.screens.findings.scroll = 0;
        }
        opens
    }

    fn wheel(&self, app: &mut App, _at: Position, by: isize) {
        let state = &app.screens.findings;
        if state.tab == Tab::Findings && state.opened {
            let (lines, height) = finding::size(app);
            let scroll = app.screens.findings.scroll.saturating_add_signed(by);
            app.screens.findings.scroll = scroll.min(lines.saturating_sub(height));
            return;
        }
        let (len, height) = list_size(app);
        list(app).scroll(by, len, height);
    }

    fn settle(&self, app: &mut App) {
        if app.figures.docket.is_none() {
            return;
        }
        let (len, height) = list_size(app);
        list(app).settle(len, height);
        let is_there = match app.screens.findings.tab {
            Tab::Findings => chosen_finding(app).is_some(),
            Tab::Picks => chosen_pick(app).is_some(),
        };
        app.screens.findings.opened &= is_there;
        let (lines, height) = finding::size(app);
        let state = &mut app.screens.findings;
        state.scroll = state.scroll.min(lines.saturating_sub(height));
    }
}

/// What a finding is asked for, where a command asks that.
const fn act_of(command: Command) -> Option<Act> {
    match command {
        Command::AnswerFinding => Some(Act::Answer),
        Command::CloseFinding => Some(Act::Close),
        Command::WithdrawFinding => Some(Act::Withdraw),
        _ => None,
    }
}

fn works(app: &App, command: Command) -> Option<bool> {
    use Command as C;
    let state = &app.screens.findings;
    if let Some(act) = act_of(command) {
        let may = |it: &Finding| after(it.state, it.raised.grade, act).is_ok();
        return Some(!app.read_only && chosen_finding(app).is_some_and(may));
    }
    Some(match (command, state.tab, state.opened) {
        (C::Open, _, true) => narrower(app).is_some(),
        (C::Open, Tab::Findings, false) => chosen_finding(app).is_some(),
        (C::Open, Tab::Picks, false) => chosen_pick(app).is_some(),
        (C::Back, _, true) => true,
        (C::Back, _, false) if app.packing.is_some() => true,
        (C::SortNext | C::SortTurn, ..) => findings(app).len() > 1,
        (C::Raise, ..) => !app.read_only && chosen_pick(app).is_some(),
        (C::PickSheet, ..) => chosen_pick(app).is_some(),
        (C::Agree | C::Disagree | C::Unverified, ..) => {
            !app.read_only && chosen_draw(app).is_some()
        }
        (C::DrawPick, ..) => !app.read_only,
        (C::PageDown, Tab::Findings, true) => {
            let (lines, height) = finding::size(app);
            state.scroll + height < lines
        }
        _ => return None,
    })
}

/// Answers, closes or withdraws the chosen finding, if it may be.
fn act(app: &mut App, command: Command) {
    let Some(finding) = chosen_finding(app).cloned() else {
        return;
    };
    let Some(act) = act_of(command) else { return };
    if let Err(why) = after(finding.state, finding.raised.grade, act) {
        app.message = Some(format!("F-{}: {why}.", finding.number()));
        return;
    }
    match act {
        Act::Answer => forms::answer(app, &finding),
        // The form offers what draws tell only once that is known.
        Act::Close if evidence(app).is_none() && !app.unreadable => {
            app.message = Some("The draws are still being counted; try again.".to_owned());
        }
        Act::Close => {
            let effect = evidence(app).and_then(|evidence| evidence.effect.as_ref());
            let measured = effect.map(finding::effect_words);
            forms::close(app, &finding, measured.as_deref());
        }
        Act::Withdraw => forms::withdraw(app, &finding),
    }
}

fn enter(app: &mut App, result: Outcome) {
    let pick = chosen_pick(app).map(|pick| pick.drawn.pick);
    let draw = chosen_draw(app).map(|seen| seen.draw.clone());
    if let (Some(pick), Some(draw)) = (pick, draw) {
        forms::enter(app, pick, &draw, result);
    }
}
