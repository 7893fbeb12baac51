//! The chosen compartment: why it is to be sampled again, where and how, what to do
//! differently this time, and what to write down.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::{chosen, figures, panes, view};
use crate::analysis::resample::Resample;
use crate::analysis::resample::at_point;
use crate::analysis::resample::fields::{FIELDS, lacking_at_point};
use crate::model::Owner;
use crate::programme::OpenedDraw;
use crate::rules::cards;
use crate::tui::app::App;
use crate::tui::text;

/// The usual cautions; what is said of a rule goes further.
const CAUTION: &str = "Hot oil, pressure and moving parts can hurt. The site's permits and rules, \
                       local codes and qualified people decide whether a point may be drawn from.";

/// How many lines there are, and how many are on screen.
pub(crate) fn size(app: &App) -> (usize, usize) {
    let area = panes(app).beside;
    let lines = chosen(app).map_or(0, |found| lines(app, found, area).len());
    (lines, usize::from(area.height))
}

pub(crate) fn view(app: &App, frame: &mut Frame<'_>, area: Rect) {
    let Some(found) = chosen(app) else {
        return;
    };
    let lines = lines(app, found, area);
    let height = usize::from(area.height);
    let scroll = app.screens.resample.scroll;
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
    fn title(&mut self, words: &str) {
        self.lines.push(Line::default());
        let words = text::cut(words, self.width);
        let title = Span::styled(words, self.app.theme.title());
        self.lines.push(Line::from(title));
    }

    fn words(&mut self, indent: usize, words: &str, style: Style) {
        for part in text::wrap(words, self.width.saturating_sub(indent)) {
            self.lines.push(Line::from(vec![
                Span::raw(" ".repeat(indent)),
                Span::styled(part, style),
            ]));
        }
    }

    fn fact(&mut self, name: &str, words: &str) {
        const NAME: usize = 25;
        let name_width = NAME.min(self.width / 2);
        // A long name before a short value takes less room in one line than wrapped.
        let whole = text::width(name) + 2 + text::width(words);
        let is_short = text::width(name) >= name_width && whole <= self.width;
        let name_width = match is_short {
            true => text::width(name) + 2,
            false => name_width,
        };
        let names = text::wrap(name, name_width - 1);
        let parts = text::wrap(words, self.width.saturating_sub(name_width));
        for at in 0..names.len().max(parts.len()) {
            let name = names.get(at).map_or("", String::as_str);
            let part = parts.get(at).cloned().unwrap_or_default();
            self.lines.push(Line::from(vec![
                Span::styled(text::left(name, name_width), self.app.theme.faint()),
                Span::raw(part),
            ]));
        }
    }
}

/// The compartment line by line.
pub(crate) fn lines(app: &App, found: &Resample, area: Rect) -> Vec<Line<'static>> {
    let theme = app.theme;
    let (Some(figures), Some(assessed)) = (figures(app), &app.data) else {
        return Vec::new();
    };
    let point = &assessed.points[found.point];
    let width = usize::from(area.width).saturating_sub(1);
    let (why, style) = view::because(app, found);
    let gap = width.saturating_sub(text::width(&why) + 1);
    let mut writer = Writer {
        app,
        width,
        lines: vec![Line::from(vec![
            Span::styled(text::left(&point.compartment, gap), theme.strong()),
            Span::styled(format!(" {why}"), style),
        ])],
    };
    let place: Vec<&str> = [&point.machine, &point.area, &point.site]
        .into_iter()
        .filter_map(|text| text.as_deref())
        .collect();
    if !place.is_empty() {
        writer.words(0, &place.join(", "), theme.faint());
    }
    let latest = figures.to_resample.latest(found);
    let verdict = assessed.judged.verdict[found.row as usize];
    let day = view::day(app, found.row);
    writer.words(
        0,
        &format!("Latest draw {latest} of {day}: {verdict}."),
        theme.plain(),
    );
    if let Some(set) = figures.to_resample.set_aside.get(&found.row) {
        let words = format!(
            "Its result was set aside by {}: {}",
            set.decided.who, set.decided.because
        );
        writer.words(0, &words, theme.strong());
    }
    let since = match found.last_trusted {
        Some(row) => format!("Last sample that can be trusted: {}", view::day(app, row)),
        None => format!(
            "No sample that can be trusted so far; first drawn on {}",
            view::day(app, found.from)
        ),
    };
    writer.words(
        0,
        &format!("{since}: {}.", found.standing.words()),
        theme.plain(),
    );
    writer.title("Where and how");
    writer.words(0, CAUTION, theme.caution());
    let agreed = if found.is_agreed {
        "agreed point"
    } else {
        "point, as last time"
    };
    let sits = point
        .place
        .map_or_else(String::new, |place| format!(", {place}"));
    writer.fact(agreed, &format!("{}{sits}", point.id));
    match found.method {
        Some(method) if point.method.is_some() => writer.fact("agreed method", method.as_str()),
        Some(method) => writer.fact("method, as last time", method.as_str()),
        None => writer.fact("method", "none is agreed; write down the one used"),
    }
    for (name, words) in at_point::facts(point, &figures.facts[found.point]) {
        writer.fact(name, &words);
    }
    if let Some((_, opened)) = app.opened.as_ref().filter(|(row, _)| *row == found.row) {
        differently(&mut writer, found, opened);
        write_down(&mut writer, found, opened);
    }
    writer.lines
}

fn differently(writer: &mut Writer<'_>, found: &Resample, opened: &OpenedDraw) {
    let theme = writer.app.theme;
    let Some(assessed) = &writer.app.data else {
        return;
    };
    let mend = found.to_mend(assessed);
    if mend.is_empty() {
        return;
    }
    writer.title("Differently this time");
    for rule in mend {
        let (card, answer) = (cards()[rule], opened.explained.answers[rule]);
        let asks = match card.owner {
            Owner::Technician => String::new(),
            owner => format!(" (asks the {owner})"),
        };
        let words = format!(
            "{}{asks}: last time {}; wanted {}",
            card.id, answer.seen, answer.wanted
        );
        writer.words(0, &words, theme.strong());
        writer.words(2, card.next_time, theme.plain());
        if !card.caution.is_empty() {
            writer.words(2, card.caution, theme.caution());
        }
    }
}

/// What was blank last time.
fn write_down(writer: &mut Writer<'_>, found: &Resample, opened: &OpenedDraw) {
    let theme = writer.app.theme;
    let Some(assessed) = &writer.app.data else {
        return;
    };
    let outcomes = opened.explained.answers.map(|answer| answer.outcome);
    let point = &assessed.points[found.point];
    let asked = FIELDS.iter().filter(|field| {
        field.is_asked(point.kind, found.method) && field.was_missing(&opened.record, &outcomes)
    });
    let blank: Vec<&str> = asked.map(|field| field.label).collect();
    let lacking = lacking_at_point(point, &opened.record, &outcomes);
    if blank.is_empty() && lacking.is_empty() {
        return;
    }
    writer.title("Write down, blank last time");
    for label in blank {
        let mark = theme.pick("□", "[ ]");
        writer.words(0, &format!("{mark} {label}"), theme.plain());
    }
    for what in lacking {
        let words =
            format!("Not known of this point: {what}. Measure it once, for the list of points.");
        writer.words(0, &words, theme.plain());
    }
}
