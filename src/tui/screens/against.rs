//! Observed against expected: what the model that tells people and points apart says of a
//! technician, a crew or a point, in columns and in words.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::analysis::attribution::{Attribution, Caution, NoAnswer, Side, Unit};
use crate::analysis::{Assessed, BLANK, Tally};
use crate::tui::app::{App, Place};
use crate::tui::screens::adjust;
use crate::tui::subject::Subject;
use crate::tui::text;
use crate::tui::widgets::odds_bar::{self, Odds};
use crate::tui::widgets::table::{self, Column};

/// The model's answer for the present filter.
#[derive(Clone, Copy)]
pub(crate) enum Fit<'a> {
    /// It is under way.
    Fitting,
    /// There is none, and why.
    None(&'a NoAnswer),
    /// Here it is.
    There(&'a Attribution),
}

/// The answer as far as it is known.
pub(crate) fn fit(app: &App) -> Fit<'_> {
    // Figures of another filter may still stand on the screen; its fit is not theirs.
    let shown = match app.place {
        Place::Points => app.figures.points.as_ref().map(|(of, _)| *of),
        _ => app.figures.people.as_ref().map(|(of, _)| *of),
    };
    if shown != Some(app.turn) {
        return Fit::Fitting;
    }
    match app.fitted().map(AsRef::as_ref) {
        None => Fit::Fitting,
        Some(Err(why)) => Fit::None(why),
        Some(Ok(attribution)) => Fit::There(attribution),
    }
}

/// What tells the model's answer from another one while both are kept; 0 while there is none.
pub(crate) fn fit_key(app: &App) -> usize {
    match fit(app) {
        Fit::There(attribution) => std::ptr::from_ref(attribution).addr(),
        Fit::Fitting | Fit::None(_) => 0,
    }
}

/// Observed against expected of one technician, crew or point.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Against {
    pub(crate) draws: u64,
    pub(crate) observed: u64,
    pub(crate) expected: f64,
    /// The model's unit; a crew is none.
    pub(crate) unit: Option<Unit>,
}

impl Against {
    /// None without a judged draw.
    pub(crate) fn of(
        assessed: &Assessed,
        attribution: &Attribution,
        subject: &Subject,
    ) -> Option<Self> {
        match subject {
            Subject::Technician(place) => attribution.technicians.unit(*place).map(Self::of_unit),
            Subject::Point(place) => attribution.points.unit(*place).map(Self::of_unit),
            Subject::Crew(name) => {
                let crew = |unit: &&Unit| {
                    let technician = &assessed.technicians[unit.place as usize];
                    technician.crew.as_deref().unwrap_or(BLANK) == name
                };
                let units = attribution.technicians.units.iter().filter(crew);
                let sum = units.map(Self::of_unit).reduce(|a, b| Against {
                    draws: a.draws + b.draws,
                    observed: a.observed + b.observed,
                    expected: a.expected + b.expected,
                    unit: None,
                })?;
                Some(Against { unit: None, ..sum })
            }
        }
    }

    fn of_unit(unit: &Unit) -> Self {
        Against {
            draws: unit.draws,
            observed: unit.unrepresentative,
            expected: unit.expected,
            unit: Some(*unit),
        }
    }

    /// Observed less expected, in draws.
    pub(crate) fn difference(&self) -> f64 {
        self.observed as f64 - self.expected
    }

    fn odds(&self) -> Option<Odds> {
        self.unit.map(|unit| Odds {
            ratio: unit.odds_ratio,
            low: unit.low,
            high: unit.high,
        })
    }
}

/// Sorts by difference, equal ones in the order they had; what has none comes last.
pub(crate) fn sort_by_difference<'a, T>(
    app: &App,
    lines: &mut Vec<T>,
    descending: bool,
    subject: impl Fn(&T) -> &'a Subject,
) {
    let (Fit::There(attribution), Some(assessed)) = (fit(app), &app.data) else {
        return;
    };
    let mut keyed: Vec<(f64, T)> = lines
        .drain(..)
        .map(|line| {
            let against = Against::of(assessed, attribution, subject(&line));
            let difference = against.map(|against| against.difference());
            let key = match difference {
                Some(difference) if descending => -difference,
                Some(difference) => difference,
                None => f64::INFINITY,
            };
            (key, line)
        })
        .collect();
    keyed.sort_by(|(a, _), (b, _)| a.total_cmp(b));
    lines.extend(keyed.into_iter().map(|(_, line)| line));
}

/// A column about the comparison.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Compared {
    Expected,
    Difference,
    Odds,
    Bar,
}

/// A difference in draws with its sign.
fn signed(difference: f64) -> String {
    if difference.abs() < 0.05 {
        "0.0".to_owned()
    } else {
        format!("{difference:+.1}").replace('-', "−")
    }
}

/// An odds ratio with two figures behind the point where it is small.
fn ratio(ratio: f64) -> String {
    if ratio < 10.0 {
        format!("{ratio:.2}")
    } else {
        format!("{ratio:.0}")
    }
}

/// One cell of a column about the comparison.
pub(crate) fn cell<Id>(
    app: &App,
    subject: &Subject,
    what: Compared,
    column: &(Column<Id>, usize),
) -> Vec<Span<'static>> {
    let theme = app.theme;
    let attribution = match (fit(app), what) {
        (Fit::There(attribution), _) => attribution,
        (Fit::Fitting, Compared::Expected) => {
            return table::cell(column, "fitting…", theme.faint());
        }
        _ => return table::cell(column, "", theme.faint()),
    };
    let against = app
        .data
        .as_ref()
        .and_then(|assessed| Against::of(assessed, attribution, subject));
    let value = match (what, against) {
        (Compared::Bar, against) => {
            return odds_bar::spans(against.and_then(|it| it.odds()), column.1, theme);
        }
        (_, None) => "–".to_owned(),
        (Compared::Expected, Some(against)) => format!("{:.1}", against.expected),
        (Compared::Difference, Some(against)) => signed(against.difference()),
        (Compared::Odds, Some(against)) => match against.unit {
            None => "–".to_owned(),
            Some(unit) if unit.is_few() => format!("few {}", ratio(unit.odds_ratio)),
            Some(unit) => ratio(unit.odds_ratio),
        },
    };
    let style = match against.and_then(|against| against.unit) {
        Some(unit) if unit.stands_out() => theme.strong(),
        _ => theme.plain(),
    };
    table::cell(column, &value, style)
}

/// What the comparison says of one line, then the odds ratio with its interval.
pub(crate) fn words(app: &App, subject: &Subject, width: usize) -> Vec<Line<'static>> {
    if matches!(fit(app), Fit::Fitting) {
        let words = text::cut(FITTING, width);
        return vec![Line::from(Span::styled(words, app.theme.faint()))];
    }
    let said = reading(app, subject);
    let lines = said.iter().flat_map(|words| text::wrap(words, width));
    lines.map(Line::from).collect()
}

const FITTING: &str = "Telling people and points apart: fitting…";

/// The same as sentences.
pub(crate) fn reading(app: &App, subject: &Subject) -> Vec<String> {
    let attribution = match fit(app) {
        Fit::Fitting => return vec![FITTING.to_owned()],
        Fit::None(why) => return vec![format!("Not compared: {why}.")],
        Fit::There(attribution) => attribution,
    };
    let Some(assessed) = &app.data else {
        return Vec::new();
    };
    let Some(against) = Against::of(assessed, attribution, subject) else {
        return vec!["Not compared: no draw of it is judged.".to_owned()];
    };
    let side = match subject {
        Subject::Point(_) => Side::Points,
        _ => Side::Technicians,
    };
    let Some(unit) = &against.unit else {
        return vec![format!(
            "{} of {} judged draws unrepresentative, {:.1} expected of average technicians at \
             the same points ({}). {}. The model is about technicians, so a crew has no odds ratio.",
            text::count(against.observed),
            text::count(against.draws),
            against.expected,
            signed(against.difference()),
            share_words(&against)
        )];
    };
    vec![
        attribution.reading_of(assessed, side, unit),
        format!("{}, {}", share_words(&against), odds_words(unit)),
    ]
}

/// The odds ratio of a line with its interval, where the model has one.
pub(crate) fn odds(app: &App, subject: &Subject) -> Option<Odds> {
    let Fit::There(attribution) = fit(app) else {
        return None;
    };
    Against::of(app.data.as_ref()?, attribution, subject)?.odds()
}

/// `1.23, 0.50–3.02`.
pub(crate) fn odds_in_figures(odds: &Odds) -> String {
    format!(
        "{}, {}–{}",
        ratio(odds.ratio),
        ratio(odds.low),
        ratio(odds.high)
    )
}

/// Whether [`words`] says how many of how many draws are unrepresentative, and the share.
pub(crate) fn says_share(app: &App, subject: &Subject) -> bool {
    match (fit(app), &app.data) {
        (Fit::There(attribution), Some(assessed)) => {
            Against::of(assessed, attribution, subject).is_some()
        }
        _ => false,
    }
}

fn share_words(against: &Against) -> String {
    let tally = Tally {
        draws: against.draws,
        unrepresentative: against.observed,
        representative: against.draws - against.observed,
        ..Tally::default()
    };
    let share = tally.share();
    format!(
        "Share {} ({})",
        text::percent(share.share),
        text::percent_range(share.low, share.high)
    )
}

fn odds_words(unit: &Unit) -> String {
    format!(
        "differs {}, odds ratio {} ({}–{}), q {}",
        signed(unit.excess()),
        ratio(unit.odds_ratio),
        ratio(unit.low),
        ratio(unit.high),
        if unit.q < 0.001 {
            "below 0.001".to_owned()
        } else {
            format!("{:.3}", unit.q)
        }
    )
}

/// Islands in few words, for a screen without room for the whole caution.
fn short(caution: &Caution) -> Option<String> {
    match caution {
        Caution::Islands { count, .. } => Some(format!(
            "{count} parts of the programme never meet: compare within a part only."
        )),
        _ => None,
    }
}

/// What stands below a list: that nobody is judged by it, what the model says of people and
/// points together, and what to know before believing it.
pub(crate) fn footnote(app: &App, note: &str, width: usize, height: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let faint = |words: &str| -> Vec<Line<'static>> {
        let styled = |line| Line::from(Span::styled(line, theme.faint()));
        text::wrap(words, width).into_iter().map(styled).collect()
    };
    let Fit::There(attribution) = fit(app) else {
        return faint(note).into_iter().take(height).collect();
    };
    let adjusted = adjust::said(app);
    if height < 4 {
        let caution = attribution.cautions.iter().find_map(short);
        let mut lines = match &adjusted {
            Some(words) => vec![Line::from(vec![
                Span::raw(format!("{words} ")),
                Span::styled(
                    text::cut(note, width.saturating_sub(text::width(words) + 1)),
                    theme.faint(),
                ),
            ])],
            None => faint(note),
        };
        if let Some(caution) = caution {
            lines.insert(0, Line::from(text::cut(&caution, width)));
        }
        lines.truncate(height);
        return lines;
    }
    let mut reading = attribution.reading();
    if let Some(words) = &adjusted {
        reading = format!("{words} {reading}");
    }
    let mut lines: Vec<Line<'static>> = text::wrap(&reading, width)
        .into_iter()
        .map(Line::from)
        .collect();
    lines.extend(faint(note));
    for caution in &attribution.cautions {
        let words = match caution {
            Caution::NotAdjusted { .. } if adjusted.is_none() => {
                format!("{caution} Press a for it.")
            }
            _ => caution.to_string(),
        };
        let words = text::wrap(&words, width.saturating_sub(9));
        if lines.len() + words.len() > height {
            if let Some(words) = short(caution).filter(|_| lines.len() < height) {
                lines.push(Line::from(words));
            }
            continue;
        }
        for (at, words) in words.into_iter().enumerate() {
            let head = if at == 0 { "Caution  " } else { "         " };
            lines.push(Line::from(vec![
                Span::styled(head, theme.caution()),
                Span::raw(words),
            ]));
        }
    }
    lines.truncate(height);
    lines
}

/// Draws the footnote at the bottom of a list, one line below the rows.
pub(crate) fn footnote_view(app: &App, note: &str, frame: &mut Frame<'_>, list: Rect) {
    let height = footnote_height(list.height).saturating_sub(1);
    let width = usize::from(list.width).saturating_sub(2);
    let lines = footnote(app, note, width, usize::from(height));
    let area = Rect {
        y: list.bottom().saturating_sub(height),
        height,
        ..list
    };
    frame.render_widget(Paragraph::new(lines), area);
}

/// The headings with the ends of the line of odds ratios over it.
pub(crate) fn with_bar_heading<Id: Copy>(
    mut headings: Line<'static>,
    columns: &[(Column<Id>, usize)],
    is_bar: impl Fn(Id) -> bool,
) -> Line<'static> {
    if let Some(at) = columns.iter().position(|(column, _)| is_bar(column.id)) {
        // A blank follows each heading.
        headings.spans[2 * at].content = odds_bar::heading(columns[at].1).into();
    }
    headings
}

/// How many lines below a list of this height are the footnote's.
pub(crate) const fn footnote_height(list: u16) -> u16 {
    match list {
        0..24 => 2,
        24..44 => 9,
        _ => 12,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn parts_that_never_meet_are_said_in_few_words() {
        let islands = Caution::Islands {
            count: 3,
            technicians: 4,
            points: 9,
        };
        assert!(short(&islands).is_some_and(|words| words.starts_with("3 parts")));
        assert_eq!(short(&Caution::OnePoint), None);
    }

    #[test]
    fn differences_carry_their_sign_and_ratios_two_figures() {
        assert_eq!(signed(7.66), "+7.7");
        assert_eq!(signed(-7.66), "−7.7");
        assert_eq!(signed(-0.01), "0.0");
        assert_eq!(ratio(0.482), "0.48");
        assert_eq!(ratio(13.4), "13");
    }
}
