//! The pages of help.

use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};

use super::signs::{self, Mark};
use crate::model::Verdict;
use crate::tui::action::Command;
use crate::tui::keymap::{self, Zone};
use crate::tui::text;
use crate::tui::theme::Theme;

/// A page.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Page {
    /// The keys of the place.
    #[default]
    Here,
    /// The keys of everywhere, or of every line of text.
    Common,
    /// Filter, verdicts, mouse.
    Reading,
    Signs,
    Charts,
}

impl Page {
    pub(crate) const ALL: [Page; 5] = [
        Page::Here,
        Page::Common,
        Page::Reading,
        Page::Signs,
        Page::Charts,
    ];

    /// Its name at the top.
    pub(crate) const fn tab(self, zone: Zone) -> &'static str {
        match self {
            Page::Here => " Keys here ",
            Page::Common if zone.is_text() => " Keys of lines ",
            Page::Common => " Keys everywhere ",
            Page::Reading => " Filter and verdicts ",
            Page::Signs => " Signs ",
            Page::Charts => " Bars ",
        }
    }

    /// The next page, or the one before.
    pub(crate) fn turned(self, forward: bool) -> Self {
        let by = if forward { 1 } else { Self::ALL.len() - 1 };
        Self::ALL[(self as usize + by) % Self::ALL.len()]
    }
}

/// What a verdict means, in one sentence.
pub(crate) const fn meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unrepresentative => "shown not to stand for the machine: don't act on its result",
        Verdict::Unproven => "the record leaves too much open to say",
        Verdict::Doubtful => "stands for the machine, but with faults",
        Verdict::Representative => "shown to stand for the machine",
    }
}

/// What a filter looks like.
pub(crate) const FILTER_HELP: [&str; 3] = [
    "Terms that must all hold, such as  site:\"North pit\" broken:flush-met,fill-level",
    "A comma means or; a minus before a term means not:  -crew:B",
    "from:2026-03-01 to:2026-03-31 chooses days, both included. Tab completes words.",
];

/// What the mouse does.
const MOUSE: [(&str, &str); 5] = [
    ("click", "chooses a row, a pane, a view, a screen"),
    ("click again", "opens what is chosen"),
    (
        "on a heading",
        "sorts by this column; again turns the order",
    ),
    ("on the last row", "does what the key there does"),
    (
        "Shift and drag",
        "selects text to copy, as the terminal does (some want Alt)",
    ),
];

/// The lines of a page of so many cells and, if that can be, no more than so many lines.
pub(super) fn lines(
    page: Page,
    zone: Zone,
    theme: Theme,
    width: usize,
    height: usize,
) -> Vec<Line<'static>> {
    match page {
        Page::Here => {
            let mut lines = keys(zone, theme, width, height);
            // The other pages stand with it: what they do not say is said here.
            let is_said =
                |mark: &&Mark| signs::SIGNS.contains(mark) || signs::CHARTS.contains(mark);
            let own = signs::of(zone).iter().filter(|mark| !is_said(mark));
            let own: Vec<Mark> = own.copied().collect();
            if !own.is_empty() {
                lines.push(Line::default());
                lines.extend(titled(SEEN, &own, theme, width));
            }
            lines
        }
        Page::Common => keys(zone.common(), theme, width, height),
        Page::Reading => reading(theme, width),
        Page::Signs => titled("Signs", signs::SIGNS, theme, width),
        Page::Charts => titled("Bars, lines and numbers", signs::CHARTS, theme, width),
    }
}

fn title(words: &str, theme: Theme) -> Line<'static> {
    Line::from(Span::styled(words.to_owned(), theme.title()))
}

/// How wide keys and signs are.
const KEYS: usize = 18;
const SIGNS: usize = 20;
/// From this width on the page of a place has two columns.
const TWO_COLUMNS: usize = 116;

/// The keys of a zone in full sentences; where that takes too many lines, in a word or two and
/// two columns.
fn keys(zone: Zone, theme: Theme, width: usize, height: usize) -> Vec<Line<'static>> {
    let entries = keymap::entries(zone, theme.is_unicode());
    let mut lines = vec![title(zone.title(), theme)];
    for (keys, command) in &entries {
        let head = (keys.clone(), theme.key());
        entry(&mut lines, head, KEYS, command.text(), width);
    }
    if lines.len() <= height {
        return lines;
    }
    let mut lines = vec![title(zone.title(), theme)];
    let half = entries.len().div_ceil(2);
    let column = width / 2;
    for at in 0..half {
        let mut spans = short(&entries[at], theme, column).to_vec();
        if let Some(beside) = entries.get(at + half) {
            spans.extend(short(beside, theme, column));
        }
        lines.push(Line::from(spans));
    }
    lines
}

fn short((keys, command): &(String, Command), theme: Theme, width: usize) -> [Span<'static>; 2] {
    let keys = format!("  {}", text::left(keys, KEYS - 2));
    let words = text::left(command.hint(), width.saturating_sub(KEYS));
    [Span::styled(keys, theme.key()), Span::raw(words)]
}

/// A word or sign, and what it means, wrapped beside it.
fn entry(
    lines: &mut Vec<Line<'static>>,
    (head, style): (String, Style),
    cells: usize,
    words: &str,
    width: usize,
) {
    // A head that is too long for its column moves the words on, rather than being cut.
    let cells = cells.max(text::width(&head) + 1);
    let parts = text::wrap(words, width.saturating_sub(cells + 2));
    for (at, part) in parts.into_iter().enumerate() {
        let head = if at == 0 { head.as_str() } else { "" };
        lines.push(Line::from(vec![
            Span::raw("  "),
            Span::styled(text::left(head, cells), style),
            Span::raw(part),
        ]));
    }
}

fn titled(words: &str, marks: &[Mark], theme: Theme, width: usize) -> Vec<Line<'static>> {
    let mut lines = vec![title(words, theme)];
    for mark in marks {
        let (sign, words) = mark.meaning(theme);
        entry(&mut lines, (sign, theme.strong()), SIGNS, words, width);
    }
    lines
}

/// What stands on the screen one came from.
const SEEN: &str = "What you see here";

/// What stands on the screen of a zone, with the signs of verdicts; empty where that speaks for
/// itself.
fn seen(zone: Zone, theme: Theme, width: usize) -> Vec<Line<'static>> {
    let mut lines = titled(SEEN, signs::of(zone), theme, width);
    if signs::has_verdicts(zone) {
        verdicts(&mut lines, theme, width);
    }
    if lines.len() == 1 {
        lines.clear();
    }
    lines
}

/// The page of a place where it stands alone: its keys, what is seen there, and, as far as there
/// is room, the keys that hold everywhere. A wide one has two columns.
pub(super) fn here(
    zone: Zone,
    theme: Theme,
    width: usize,
    height: usize,
) -> Vec<Vec<Line<'static>>> {
    let is_wide = width >= TWO_COLUMNS;
    let column = if is_wide { (width - 2) / 2 } else { width };
    let mut first = keys(zone, theme, column, height);
    let mut second = seen(zone, theme, column);
    let add = |to: &mut Vec<Line<'static>>, more: Vec<Line<'static>>| {
        if !to.is_empty() && !more.is_empty() {
            to.push(Line::default());
        }
        to.extend(more);
    };
    if !is_wide {
        add(&mut first, second);
        let room = height.saturating_sub(first.len() + 1);
        add(&mut first, everywhere(zone, theme, column, room));
        return vec![first];
    }
    // Below the keys of the place, or beside them where nothing else is.
    let under = match second.is_empty() {
        true => &mut second,
        false => &mut first,
    };
    let gap = usize::from(!under.is_empty());
    let room = height.saturating_sub(under.len() + gap);
    add(under, everywhere(zone, theme, column, room));
    vec![first, second]
}

/// As many of the keys that hold everywhere as there is room for, the first of them at least;
/// a page of its own has them all.
fn everywhere(zone: Zone, theme: Theme, width: usize, room: usize) -> Vec<Line<'static>> {
    const FEWEST: usize = 4;
    if room < FEWEST {
        return Vec::new();
    }
    let mut lines = keys(zone.common(), theme, width, room);
    lines.truncate(room);
    lines
}

fn verdicts(lines: &mut Vec<Line<'static>>, theme: Theme, width: usize) {
    for verdict in Verdict::ALL {
        let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
        let head = format!("{} {verdict}", theme.verdict_glyph(verdict));
        entry(lines, (head, style), SIGNS, meaning(verdict), width);
    }
}

fn reading(theme: Theme, width: usize) -> Vec<Line<'static>> {
    let mut lines = vec![title("Filter", theme)];
    for words in FILTER_HELP {
        for line in text::wrap(words, width.saturating_sub(2)) {
            lines.push(Line::from(format!("  {line}")));
        }
    }
    lines.push(Line::default());
    lines.push(title("Verdicts", theme));
    verdicts(&mut lines, theme, width);
    lines.push(Line::default());
    lines.push(title("Mouse", theme));
    for (what, words) in MOUSE {
        let head = (what.to_owned(), theme.strong());
        entry(&mut lines, head, SIGNS, words, width);
    }
    lines
}
