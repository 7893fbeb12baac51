//! The chosen finding: what was found, of whom and by when, its story, and the draws that speak
//! for it, as they stood and as they stand.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::{Modifier, Style};
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{chosen_finding, evidence, list, panes};
use crate::analysis::effect::change;
use crate::analysis::findings::Finding;
use crate::analysis::told::Told;
use crate::model::decisions::DrawSeen;
use crate::model::decisions::finding::Effect;
use crate::model::{Verdict, time};
use crate::programme::DrawNow;
use crate::rules::{cards, place_of};
use crate::tui::app::App;
use crate::tui::screens::beside::heading;
use crate::tui::screens::topics::trainings::points;
use crate::tui::text;
use crate::tui::theme::Theme;

/// An instant as the programme's zone writes it, to the minute.
pub(crate) fn when(app: &App, seconds: i64) -> String {
    app.data.as_ref().map_or_else(
        || time::utc_text(seconds),
        |assessed| time::local_text(seconds, assessed.zone),
    )
}

/// How many lines the finding takes, and how many are on screen.
pub(crate) fn size(app: &App) -> (usize, usize) {
    let area = panes(app).beside;
    let lines = chosen_finding(app).map_or(0, |finding| lines(app, finding, area).len());
    (lines, usize::from(area.height))
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let Some(finding) = chosen_finding(app) else {
        return;
    };
    let state = &app.screens.findings;
    let lines = lines(app, finding, area);
    let height = usize::from(area.height);
    let scroll = if state.opened { state.scroll } else { 0 };
    let scroll = scroll.min(lines.len().saturating_sub(height));
    let below = lines.len().saturating_sub(scroll + height);
    let mut shown: Vec<Line<'_>> = lines.into_iter().skip(scroll).take(height).collect();
    if below > 0
        && let Some(last) = shown.last_mut()
    {
        let words = format!("{} {} lines below", app.theme.pick("…", "..."), below + 1);
        *last = Line::from(Span::styled(words, app.theme.faint()));
    }
    frame.render_widget(Paragraph::new(shown), area);
}

struct Writer<'a> {
    app: &'a App,
    width: usize,
    lines: Vec<Line<'static>>,
}

impl Writer<'_> {
    fn blank(&mut self) {
        self.lines.push(Line::default());
    }

    fn title(&mut self, words: &str) {
        let words = text::cut(words, self.width);
        let title = Span::styled(words, self.app.theme.title());
        self.lines.push(Line::from(title));
    }

    fn words(&mut self, words: &str, style: Style) {
        for part in text::wrap(words, self.width) {
            self.lines.push(Line::from(Span::styled(part, style)));
        }
    }

    /// A name, and behind it what is said, hanging.
    fn said(&mut self, name: &str, words: &str) {
        const NAME: usize = 12;
        let theme = self.app.theme;
        let parts = text::wrap(words, self.width.saturating_sub(NAME));
        for (at, part) in parts.into_iter().enumerate() {
            let name = if at == 0 { name } else { "" };
            self.lines.push(Line::from(vec![
                Span::styled(text::left(name, NAME), theme.faint()),
                Span::raw(part),
            ]));
        }
    }

    fn step(&mut self, what: &str, told: &Told) {
        self.blank();
        let words = format!("{what} {} by {}", when(self.app, told.at), told.who);
        self.title(&words);
    }
}

/// The finding line by line.
pub(crate) fn lines(app: &App, finding: &Finding, area: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let raised = &finding.raised;
    let title = format!("F-{} {}", finding.number(), raised.grade);
    let (state, style) = list::state_words(app, finding);
    let mut writer = Writer {
        app,
        width: usize::from(area.width).saturating_sub(1),
        lines: vec![heading(app, &title, "", area)],
    };
    let width = writer.width;
    let gap = width.saturating_sub(text::width(&title));
    writer.lines = vec![Line::from(vec![
        Span::styled(text::cut(&title, width), theme.strong()),
        Span::styled(text::right(&format!(" {state}"), gap), style),
    ])];
    writer.words(&raised.text, theme.plain());
    writer.blank();
    writer.said("about", &raised.subject.to_string());
    if let Some(place) = place_of(&raised.rule) {
        let card = cards()[place];
        writer.said("rule", &format!("{}: {}", card.id, card.asks));
    }
    if !raised.filter.is_empty() {
        writer.said("draws", &raised.filter);
    }
    writer.said("owner", &raised.owner);
    let due = finding.due();
    match (due, list::overdue(app, finding)) {
        (Some(day), Some(days)) => {
            let late = text::plural(days.unsigned_abs(), "day", "days");
            let late = format!("! overdue by {late}");
            let (day, name) = (day.to_string(), text::left("due", 12));
            let is_one_line = 12 + text::width(&day) + 2 + text::width(&late) <= width;
            let mut line = vec![Span::styled(name, theme.faint()), Span::raw(day)];
            if !is_one_line {
                writer.lines.push(Line::from(std::mem::take(&mut line)));
            }
            let gap = if is_one_line { 2 } else { 12 };
            line.push(Span::raw(" ".repeat(gap)));
            line.push(Span::styled(late, theme.warning()));
            writer.lines.push(Line::from(line));
        }
        (Some(day), None) => writer.said("due", &day.to_string()),
        (None, _) => {}
    }
    let told = format!("{} by {}", when(app, finding.told.at), finding.told.who);
    writer.said("raised", &told);
    for (told, answer) in &finding.answers {
        writer.step("Answered", told);
        writer.said("cause", &answer.cause);
        writer.said("correction", &answer.correction);
        writer.said("action", &answer.action);
        if !answer.by.is_empty() {
            writer.said("done by", &answer.by);
        }
    }
    let kept = finding.closed.as_ref();
    let kept = kept.and_then(|(_, closed)| closed.measured.as_ref());
    if let Some((told, closed)) = &finding.closed {
        writer.step("Closed", told);
        writer.said("effect", &closed.effect);
        if let Some(effect) = kept {
            writer.said("draws", &effect_words(effect));
        }
    }
    if let Some((told, withdrawn)) = &finding.withdrawn {
        writer.step("Withdrawn", told);
        writer.said("because", &withdrawn.because);
    }
    let known = evidence(app);
    if finding.state.is_pending()
        && !finding.answers.is_empty()
        && let Some(effect) = known.and_then(|known| known.effect.as_ref())
    {
        writer.blank();
        writer.title("So far");
        writer.words(&effect_words(effect), theme.plain());
    }
    speaks(
        &mut writer,
        finding,
        known.map(|known| known.now.as_slice()),
    );
    writer.lines
}

/// The draws that speak for the finding.
fn speaks(writer: &mut Writer<'_>, finding: &Finding, now: Option<&[DrawNow]>) {
    let raised = &finding.raised;
    writer.blank();
    let shown = raised.evidence.len() as u64;
    let count = text::plural(raised.draws, "draw speaks", "draws speak");
    writer.title(&match raised.draws > shown {
        true => format!("{count} for it; the latest {shown} as they stood"),
        false => format!("{count} for it, as they stood"),
    });
    for (at, seen) in raised.evidence.iter().enumerate() {
        let now = now.and_then(|now| now.get(at));
        spoken(writer, seen, now);
    }
}

/// How wide [`verdict`] is.
pub(super) const VERDICT: usize = 2 + 2 + 17;

/// The verdict that a draw had, with the glyph that stands for it; a word of another time as it
/// is.
pub(super) fn verdict(theme: Theme, word: &str) -> [Span<'static>; 2] {
    let (glyph, style) = match Verdict::parse(word) {
        Some(verdict) => {
            let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
            (theme.verdict_glyph(verdict), style)
        }
        None => (" ", theme.plain()),
    };
    [
        Span::styled(format!("  {glyph} "), style),
        Span::raw(text::left(word, VERDICT - 4)),
    ]
}

fn spoken(writer: &mut Writer<'_>, seen: &DrawSeen, now: Option<&DrawNow>) {
    let theme = writer.app.theme;
    let day: String = when(writer.app, seen.drawn_at).chars().take(10).collect();
    let changed = now.filter(|now| !now.is_same()).map(DrawNow::words);
    let changed = changed.map_or_else(String::new, |words| format!("  ! {words}"));
    let room_beside = |verdict: usize| {
        let taken = 12 + verdict + text::width(&changed);
        writer.width.saturating_sub(taken)
    };
    // Where not even the number of the draw has room, the glyph stands for its verdict.
    let is_narrow = room_beside(VERDICT) < text::width(&seen.draw);
    let room = room_beside(if is_narrow { 4 } else { VERDICT });
    // The technician, then the point is left out where there is no room, rather than cut to nothing.
    let about = [
        format!("{}  {}  {}", seen.draw, seen.point, seen.technician),
        format!("{}  {}", seen.draw, seen.point),
    ];
    let fits = |about: &String| text::width(about) <= room;
    let about = about.into_iter().find(fits);
    let about = about.unwrap_or_else(|| seen.draw.clone());
    let [glyph, verdict] = verdict(theme, &seen.verdict);
    let mut spans = vec![
        Span::styled(text::left(&day, 12), theme.faint()),
        Span::raw(text::left(&about, room)),
        glyph,
    ];
    spans.extend((!is_narrow).then_some(verdict));
    spans.push(Span::styled(changed, theme.warning()));
    writer.lines.push(Line::from(spans));
    if !seen.seen.is_empty() {
        let words = format!("seen {}; wanted {}", seen.seen, seen.wanted);
        writer.said("", &words);
    }
}

/// Before and after, in words.
pub(crate) fn effect_words(effect: &Effect) -> String {
    if effect.before.recorded == 0 && effect.after.recorded == 0 {
        return "no draws to compare yet".to_owned();
    }
    let counts = format!(
        "broken on {} of {} draws before, {} of {} after",
        effect.before.broken, effect.before.recorded, effect.after.broken, effect.after.recorded
    );
    match change(effect) {
        None => counts,
        Some(change) => format!(
            "{counts}: {} points (95 % interval {} to {})",
            points(change.difference),
            points(change.low),
            points(change.high)
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::model::decisions::finding::Broken;

    #[test]
    fn before_and_after_are_told_with_a_minus_or_not_at_all() {
        let counted = |broken, recorded| Broken { broken, recorded };
        let effect = |before, after| Effect {
            filter: String::new(),
            from: 0,
            before,
            after,
        };
        let none = effect(counted(0, 0), counted(0, 0));
        assert_eq!(effect_words(&none), "no draws to compare yet");
        let less = effect(counted(80, 100), counted(10, 100));
        let words = effect_words(&less);
        assert!(words.contains(": −70.0 points (95 % interval −"), "{words}");
        assert!(!words.contains(" -"), "{words}");
    }
}
