//! The opened draw as a text of lines: what is said of it and why, the compartment's other
//! draws, every rule with the value seen and the value wanted, and the record itself.

use std::ops::Range;

use ratatui::style::Modifier;
use ratatui::text::{Line, Span};

use super::{lanes, reasons, strip};
use crate::analysis::{Assessed, BLANK};
use crate::model::{DrawRecord, Method, Moment, Number, Outcome, Phrase, answer, time};
use crate::programme::OpenedDraw;
use crate::rules;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::chart::{as_lines, lanes as chart};

/// The outcomes in the order they are listed.
pub(crate) const GROUPS: [Outcome; 4] = [
    Outcome::Broken,
    Outcome::Unrecorded,
    Outcome::Met,
    Outcome::NotApplicable,
];

/// More ways of drawing than this are shown in the large picture only.
const MOST_LANES: usize = 4;

/// The text, and which of its lines belong to each rule in the order shown.
pub(crate) struct Text {
    pub(crate) lines: Vec<Line<'static>>,
    pub(crate) rules: Vec<(usize, Range<usize>)>,
}

/// The rules of an opened draw in the order shown: by outcome, heaviest first.
pub(crate) fn rules_in_order(opened: &OpenedDraw) -> Vec<usize> {
    let explained = &opened.explained;
    let mut places: Vec<usize> = (0..rules::COUNT).collect();
    places.sort_by_key(|place| {
        let outcome = explained.answers[*place].outcome;
        let group = GROUPS.iter().position(|group| *group == outcome);
        let decisive = explained.decisive.has(*place);
        (
            group,
            !decisive,
            std::cmp::Reverse(explained.weights[*place]),
            *place,
        )
    });
    places
}

/// How the text is to be drawn.
pub(crate) struct Look {
    pub(crate) theme: Theme,
    pub(crate) width: usize,
    pub(crate) height: usize,
    /// The chosen rule, in the order shown.
    pub(crate) chosen: usize,
    /// Whether the keys act on it.
    pub(crate) focused: bool,
}

/// Writes the opened draw.
pub(crate) fn write(assessed: &Assessed, opened: &OpenedDraw, row: u32, look: &Look) -> Text {
    let mut writer = Writer {
        theme: look.theme,
        width: look.width.max(20),
        lines: Vec::new(),
    };
    writer.head(assessed, opened, row);
    writer.blank();
    writer.title(&format!(
        "Draws of compartment {}",
        opened_point(assessed, row).compartment
    ));
    // The axis of time shows them all; those just before are listed.
    let is_drawn = look.height >= 34 && writer.over_time(assessed, opened, row);
    let before = match look.height {
        34.. if is_drawn => 4,
        34.. => 9,
        _ => 3,
    };
    let strip = strip::lines(assessed, opened, row, look.theme, writer.width, before);
    writer.lines.extend(strip);
    let mut spans = Vec::new();
    let order = rules_in_order(opened);
    let mut group = None;
    for (at, place) in order.iter().enumerate() {
        let outcome = opened.explained.answers[*place].outcome;
        if group != Some(outcome) {
            group = Some(outcome);
            let same = |place: &&usize| opened.explained.answers[**place].outcome == outcome;
            let many = order.iter().filter(same).count();
            writer.blank();
            writer.group(outcome, many);
        }
        let start = writer.lines.len();
        writer.rule(opened, *place, at == look.chosen, look.focused);
        spans.push((*place, start..writer.lines.len()));
    }
    writer.blank();
    writer.record(assessed, &opened.record);
    Text {
        lines: writer.lines,
        rules: spans,
    }
}

fn opened_point(assessed: &Assessed, row: u32) -> &crate::model::Point {
    &assessed.points[assessed.judged.point[row as usize] as usize]
}

struct Writer {
    theme: Theme,
    width: usize,
    lines: Vec<Line<'static>>,
}

impl Writer {
    /// An empty line, unless there is one already.
    fn blank(&mut self) {
        if self.lines.last().is_some_and(|line| line.width() > 0) {
            self.lines.push(Line::default());
        }
    }

    fn title(&mut self, title: &str) {
        let title = text::cut(title, self.width);
        self.lines
            .push(Line::from(Span::styled(title, self.theme.title())));
    }

    fn wrapped(&mut self, indent: usize, words: &str, style: ratatui::style::Style) {
        for line in text::wrap(words, self.width.saturating_sub(indent)) {
            self.lines.push(Line::from(vec![
                Span::raw(" ".repeat(indent)),
                Span::styled(line, style),
            ]));
        }
    }

    fn head(&mut self, assessed: &Assessed, opened: &OpenedDraw, row: u32) {
        let theme = self.theme;
        let verdict = opened.explained.verdict;
        let style = theme.verdict(verdict).add_modifier(Modifier::BOLD);
        let said = format!("{} {verdict}", theme.verdict_glyph(verdict));
        let free = self.width.saturating_sub(text::width(&said) + 2);
        let identity = opened.record.identity();
        let identity = text::right(&identity, free);
        self.lines.push(Line::from(vec![
            Span::styled(said, style),
            Span::raw("  "),
            Span::styled(identity, theme.faint()),
        ]));
        let point = opened_point(assessed, row);
        let place = assessed.judged.point[row as usize] as usize;
        let cuts = assessed.rulebook.all_in_force()[assessed.in_force[place]].cuts;
        let sentence = reasons::verdict_sentence(opened, cuts);
        self.wrapped(0, &sentence, theme.strong());
        if let Some(set) = &opened.set_aside {
            let by = &set.decided;
            let words = format!(
                "{} result set aside by {}, {}: {}",
                theme.pick("⊘", "/"),
                by.who,
                time::local_text(by.at, assessed.zone),
                by.because
            );
            self.wrapped(0, &words, theme.caution());
        }
        self.blank();
        let technician = &assessed.technicians[assessed.judged.technician[row as usize] as usize];
        let person = technician.name.as_ref().unwrap_or(&technician.id);
        let crew = match &technician.crew {
            Some(crew) => format!(" ({crew})"),
            None => String::new(),
        };
        let method = opened
            .record
            .facts
            .method
            .map_or("no method on record", Method::as_str);
        let drawn = time::local_text(opened.record.facts.drawn_at, assessed.zone);
        let fill = if opened.record.facts.second_fill {
            ", second fill"
        } else {
            ""
        };
        self.wrapped(
            0,
            &format!("{drawn} by {person}{crew}, {method}{fill}"),
            theme.plain(),
        );
        let mut place = vec![format!("point {}", point.id)];
        place.extend(point.machine.iter().cloned());
        place.extend(point.area.iter().cloned());
        place.extend(point.site.iter().cloned());
        self.wrapped(0, &place.join(" · "), theme.plain());
        let sample = &opened.explained.sample;
        let mut scores = match sample.score {
            Some(score) => format!("score {score:.1}"),
            None => "no score".to_owned(),
        };
        if let (Some(low), Some(high)) = (sample.low, sample.high) {
            let (low, high) = (format!("{low:.1}"), format!("{high:.1}"));
            // What nothing unrecorded leaves open is not said twice.
            if low != high {
                scores.push_str(&format!(" (at least {low}, at most {high})"));
            }
        }
        if let Some(evidence) = sample.evidence {
            scores.push_str(&format!(", evidence {evidence:.0} %"));
        }
        scores.push_str(&format!(
            " · record {} · conduct {}",
            text::score(opened.explained.record.score),
            text::score(opened.explained.conduct.score)
        ));
        self.wrapped(0, &scores, theme.faint());
    }

    /// The draws of the compartment on an axis of time, above those that are listed; `false`
    /// where that would say nothing.
    fn over_time(&mut self, assessed: &Assessed, opened: &OpenedDraw, row: u32) -> bool {
        let rows = &opened.compartment;
        let Some(own) = rows.iter().position(|other| *other == row) else {
            return false;
        };
        let drawn = lanes::drawn(assessed, rows, self.width as u16, self.theme);
        if rows.len() < 2 || drawn.names.len() > MOST_LANES {
            return false;
        }
        let height = usize::from(chart::height(drawn.names.len()));
        let theme = self.theme;
        let picture = as_lines::lines((self.width, height), |buffer, area| {
            drawn.draw(buffer, area, Some(own), theme);
        });
        self.lines.extend(picture);
        self.blank();
        true
    }

    fn group(&mut self, outcome: Outcome, many: usize) {
        let style = self.theme.outcome(outcome).add_modifier(Modifier::BOLD);
        let mut name = outcome.as_str().to_owned();
        if let Some(first) = name.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        self.lines.push(Line::from(vec![
            Span::styled(name, style),
            Span::styled(format!("  {many}"), self.theme.faint()),
        ]));
    }

    fn rule(&mut self, opened: &OpenedDraw, place: usize, chosen: bool, focused: bool) {
        let theme = self.theme;
        let card = rules::cards()[place];
        let said = opened.explained.answers[place];
        let outcome = said.outcome;
        let mark = if chosen { theme.pick("▸", ">") } else { " " };
        let ground = ground(said.seen, said.wanted, outcome);
        let free = self.width.saturating_sub(2 + 2 + 17);
        let fits = text::width(&ground) <= free;
        let shown = if fits { ground.as_str() } else { "" };
        let line = Line::from(vec![
            Span::styled(mark, theme.strong()),
            Span::styled(
                format!("{} ", theme.outcome_glyph(outcome)),
                theme.outcome(outcome),
            ),
            Span::raw(text::left(card.id, 17)),
            Span::raw(" "),
            Span::raw(text::left(shown, free)),
        ]);
        self.lines.push(match (chosen, focused) {
            (true, true) => theme.choose(line),
            (true, false) => line.style(theme.strong()),
            _ => line,
        });
        if !fits {
            self.wrapped(5, &ground, theme.plain());
        }
        if chosen {
            self.card(opened, place);
        }
    }

    fn card(&mut self, opened: &OpenedDraw, place: usize) {
        let explained = &opened.explained;
        let theme = self.theme;
        let card = rules::cards()[place];
        self.wrapped(5, card.asks, theme.strong());
        self.wrapped(5, card.why, theme.plain());
        self.labelled("Next time", card.next_time, theme.strong());
        if !card.caution.is_empty() {
            self.labelled("Caution", card.caution, theme.caution());
        }
        let weight = explained.weights[place];
        let decisive = if explained.decisive.has(place) {
            ", decisive"
        } else {
            ""
        };
        self.labelled(
            "Answers to",
            &format!(
                "{} · class {} · weight {weight}{decisive}",
                card.owner, card.class
            ),
            theme.faint(),
        );
        self.labelled("Source", card.source, theme.faint());
        self.blank();
    }

    /// A word, and a text beside it that is wrapped under itself.
    fn labelled(&mut self, label: &str, words: &str, style: ratatui::style::Style) {
        const INDENT: usize = 17;
        let lines = text::wrap(words, self.width.saturating_sub(INDENT));
        for (at, line) in lines.into_iter().enumerate() {
            let head = if at == 0 { label } else { "" };
            self.lines.push(Line::from(vec![
                Span::raw("     "),
                Span::styled(text::left(head, INDENT - 5), style),
                Span::raw(line),
            ]));
        }
    }

    fn record(&mut self, assessed: &Assessed, record: &DrawRecord) {
        self.title("The record");
        let pairs = record_pairs(assessed, record);
        let columns = if self.width >= 76 { 2 } else { 1 };
        let cell = self.width / columns;
        let half = pairs.len().div_ceil(columns);
        for at in 0..half {
            let mut spans = Vec::new();
            for column in 0..columns {
                let Some((name, value)) = pairs.get(at + column * half) else {
                    continue;
                };
                spans.push(Span::styled(text::left(name, 15), self.theme.faint()));
                spans.push(Span::raw(text::left(value, cell.saturating_sub(16))));
                spans.push(Span::raw(" "));
            }
            self.lines.push(Line::from(spans));
        }
        if !record.remarks.is_empty() {
            self.labelled_flush("remarks", &record.remarks);
        }
        if !record.kept_aside.is_empty() {
            self.labelled_flush("kept aside", &record.kept_aside);
        }
    }

    fn labelled_flush(&mut self, label: &str, words: &str) {
        for (at, line) in text::wrap(words, self.width.saturating_sub(15))
            .into_iter()
            .enumerate()
        {
            let head = if at == 0 { label } else { "" };
            self.lines.push(Line::from(vec![
                Span::styled(text::left(head, 15), self.theme.faint()),
                Span::raw(line),
            ]));
        }
    }
}

/// `seen 20 mL, wanted at least 62.83 mL`; empty where the rule does not apply.
pub(crate) fn ground(seen: Phrase, wanted: Phrase, outcome: Outcome) -> String {
    if outcome == Outcome::NotApplicable {
        return String::new();
    }
    let (seen, wanted) = (seen.to_string(), wanted.to_string());
    match (seen.is_empty(), wanted.is_empty()) {
        (true, true) => String::new(),
        (false, true) => seen,
        (true, false) => format!("wanted: {wanted}"),
        (false, false) if outcome == Outcome::Met => seen,
        (false, false) => format!("{seen}; wanted: {wanted}"),
    }
}

/// What the record holds, field by field; [`BLANK`] where it holds nothing.
pub(crate) fn record_pairs(
    assessed: &Assessed,
    record: &DrawRecord,
) -> Vec<(&'static str, String)> {
    let facts = &record.facts;
    let blank = || BLANK.to_owned();
    let written = |text: &str| {
        if text.is_empty() {
            blank()
        } else {
            text.to_owned()
        }
    };
    let number = |value: Number, unit: &str| {
        value
            .get()
            .map_or_else(blank, |value| format!("{}{unit}", answer::tidy(value)))
    };
    let moment = |value: Moment| {
        value
            .get()
            .map_or_else(blank, |seconds| time::local_text(seconds, assessed.zone))
    };
    let told = |value: Option<bool>| {
        value.map_or_else(blank, |yes| (if yes { "yes" } else { "no" }).to_owned())
    };
    let looks = facts.looks.to_string();
    vec![
        ("bottle", written(&record.bottle_id)),
        ("fluid", written(&record.fluid)),
        (
            "machine",
            facts
                .machine_state
                .map_or_else(blank, |state| state.as_str().to_owned()),
        ),
        ("stopped for", number(facts.stopped_min, " min")),
        ("oil", number(facts.oil_temp_c, " °C")),
        ("machine hours", number(facts.machine_hours, " h")),
        ("oil hours", number(facts.oil_hours, " h")),
        ("topped up", number(record.topped_up_l, " L")),
        ("run off first", number(facts.flushed_ml, " mL")),
        ("tube mark", number(facts.tube_mark_cm, " cm")),
        ("filled", number(facts.fill_pct, " %")),
        ("looks", written(&looks)),
        ("point cleaned", told(facts.point_cleaned)),
        ("tube new", told(facts.tube_new)),
        ("bottle fit", told(facts.bottle_ok)),
        ("capped at once", told(facts.capped_at_once)),
        ("safety", told(facts.safety_confirmed)),
        ("pair of", written(&record.pair_of)),
        ("set", written(&record.set_id)),
        ("typed in", moment(facts.recorded_at)),
        ("registered", moment(facts.registered_at)),
        ("sent", moment(facts.dispatched_at)),
        ("arrived", moment(facts.received_at)),
    ]
}
