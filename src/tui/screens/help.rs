//! The keys of the place one came from, the common ones, and what the glyphs mean.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::model::{Outcome, Verdict};
use crate::tui::app::App;
use crate::tui::keymap::{self, Zone};
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::table;

/// What a verdict means, in one sentence.
pub(crate) const fn meaning(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Unrepresentative => "shown not to stand for the machine: don't act on its result",
        Verdict::Unproven => "the record leaves too much open to say",
        Verdict::Doubtful => "stands for the machine, but with faults",
        Verdict::Representative => "shown to stand for the machine",
    }
}

/// The lines of the page.
pub(crate) fn lines(theme: Theme, zone: Zone, width: usize) -> Vec<Line<'static>> {
    let mut lines = Vec::new();
    let unicode = theme.pick("u", "a") == "u";
    let section = |lines: &mut Vec<Line<'static>>, title: &str| {
        if !lines.is_empty() {
            lines.push(Line::default());
        }
        lines.push(Line::from(Span::styled(title.to_owned(), theme.title())));
    };
    let common = Some(zone.common()).filter(|common| *common != zone);
    for zone in [Some(zone), common].into_iter().flatten() {
        section(&mut lines, zone.title());
        for (keys, words) in keymap::listing(zone, unicode) {
            entry(&mut lines, (keys, theme.strong()), 18, words, width);
        }
    }
    section(&mut lines, "Filter");
    for words in FILTER_HELP {
        for line in text::wrap(words, width.saturating_sub(2)) {
            lines.push(Line::from(format!("  {line}")));
        }
    }
    section(&mut lines, "Verdicts");
    for verdict in Verdict::ALL {
        let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
        let head = format!("{} {verdict}", theme.verdict_glyph(verdict));
        entry(&mut lines, (head, style), 20, meaning(verdict), width);
    }
    section(&mut lines, "Signs");
    for (sign, words) in signs(theme) {
        entry(&mut lines, (sign, theme.strong()), 20, words, width);
    }
    lines
}

/// A word or sign, and what it means, wrapped beside it.
fn entry(
    lines: &mut Vec<Line<'static>>,
    (head, style): (String, Style),
    cells: usize,
    words: &str,
    width: usize,
) {
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

/// What a filter looks like.
pub(crate) const FILTER_HELP: [&str; 3] = [
    "Terms that must all hold, such as  site:\"North pit\" broken:flush-met,fill-level",
    "A comma means or; a minus before a term means not:  -crew:B",
    "from:2026-03-01 to:2026-03-31 chooses days, both included. Tab completes words.",
];

fn signs(theme: Theme) -> Vec<(String, &'static str)> {
    let outcome = |outcome: Outcome| theme.outcome_glyph(outcome).to_owned();
    vec![
        (outcome(Outcome::Broken), "rule broken, or point not suited"),
        (
            outcome(Outcome::Unrecorded),
            "unrecorded: neither pass nor fail",
        ),
        (outcome(Outcome::Met), "rule met"),
        (outcome(Outcome::NotApplicable), "rule does not apply"),
        (
            theme.pick("├──●──┤", "[--o--]").to_owned(),
            "a share and its 95 % interval on a line from 0 to 100 %",
        ),
        (
            theme.pick("┊", ":").to_owned(),
            "the share of all draws in view, for comparison",
        ),
        (
            "expected".to_owned(),
            "unrepresentative draws that an average one would have at the same points",
        ),
        (
            theme.pick("··├┼●─┤··", "..[+o-]..").to_owned(),
            "odds ratio with its 95 % interval, 1 in the middle: beyond it means more",
        ),
        (
            theme.pick("◂ ▸", "< >").to_owned(),
            "the interval, or the ratio too, goes on beyond an eighth or eightfold",
        ),
        (
            theme.pick("░ ▒ ▓ █", ". - = #").to_owned(),
            "draws to regain: up to a quarter, half, three quarters, all of the most",
        ),
        (
            "*  ?".to_owned(),
            "more than peers lose; few draws or no peers to compare with",
        ),
        (
            theme.pick("◆", "#").to_owned(),
            "point or method differs from the draw before",
        ),
        (
            theme.pick("○ ◐ ✓ -  !", "o a + -  !").to_owned(),
            "a finding open, answered, closed, withdrawn; overdue",
        ),
        (
            theme.pick("⊘", "/").to_owned(),
            "a laboratory result that someone set aside",
        ),
        (
            "intervals".to_owned(),
            "time since the last trusted sample as a multiple of the agreed interval",
        ),
        (
            "few".to_owned(),
            "fewer than 20 judged draws: read the interval, not the share",
        ),
        (
            "regains".to_owned(),
            "unrepresentative draws that keeping this rule alone would have saved",
        ),
        (
            theme.pick("(··┊·●·)", "(..:.o.)").to_owned(),
            "a period's share between its control limits; the mark is all periods' share",
        ),
        (
            theme.pick("▲ high ▼ low", "^ high v low").to_owned(),
            "a period outside its control limits: look for a cause",
        ),
        (
            theme.pick("△ run  ▽ run", "' run  , run").to_owned(),
            "the eighth or later period in a row above, or below, the share of all",
        ),
        (
            "least-most".to_owned(),
            "the share if every unproven draw were good, or were bad",
        ),
    ]
}

/// Draws the page in place of the body.
pub(crate) fn view(app: &App, scroll: usize, zone: Zone, frame: &mut Frame<'_>, body: Rect) {
    page(app.theme, scroll, zone, frame, body);
}

/// The same where no programme is open.
pub(crate) fn page(theme: Theme, scroll: usize, zone: Zone, frame: &mut Frame<'_>, body: Rect) {
    let area = body;
    let lines = lines(theme, zone, usize::from(area.width).saturating_sub(1));
    let height = usize::from(area.height);
    let len = lines.len();
    let scroll = scroll.min(len.saturating_sub(height));
    let lines: Vec<Line<'static>> = lines.into_iter().skip(scroll).take(height).collect();
    frame.render_widget(Paragraph::new(lines), area);
    table::scrollbar(frame, area, theme, scroll, len.saturating_sub(1));
}
