//! The funnel of People and Points: its figures, and what to read from it.

use ratatui::text::{Line, Span};
use rayon::prelude::*;

use super::share::view::FEW;
use crate::analysis::Tally;
use crate::analysis::attribution::Funnel;
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::widgets::chart::{as_lines, funnel as chart, legend};

/// The limits of chance, one mark for each line of a list.
#[derive(Clone, Debug, Default)]
pub(crate) struct FunnelFigures {
    limits: Option<Funnel>,
    pub(crate) drawn: chart::Funnel,
    /// Which line of the list each mark is of, by place in the figures.
    pub(crate) owners: Vec<usize>,
}

/// At so many numbers of draws the limits are worked out; between them they are drawn
/// straight.
const STEPS: u32 = 96;

/// The limits reach so much farther than the marks on either side.
const MARGIN: f64 = 1.12;

impl FunnelFigures {
    /// Marks for these counts, between the limits around the share of all draws in view.
    pub(crate) fn of(limits: Option<Funnel>, tallies: impl Iterator<Item = Tally>) -> Self {
        let marks = tallies.enumerate().filter_map(|(owner, tally)| {
            let share = tally.share().share?;
            Some((owner, (tally.judged(), share)))
        });
        let (owners, dots): (Vec<usize>, Vec<(u64, f64)>) = marks.unzip();
        let drawn = limits.as_ref().map(|limits| chart::Funnel {
            centre: limits.centre,
            curve: curve(limits, &dots),
            dots,
        });
        FunnelFigures {
            drawn: drawn.unwrap_or_default(),
            limits,
            owners,
        }
    }
}

fn curve(limits: &Funnel, dots: &[(u64, f64)]) -> Vec<(u64, chart::Limits)> {
    let trials = || dots.iter().map(|(trials, _)| *trials);
    let (Some(least), Some(most)) = (trials().min(), trials().max()) else {
        return Vec::new();
    };
    let least = ((least as f64 / MARGIN).floor() as u64).max(1);
    let most = (most as f64 * MARGIN).ceil() as u64;
    let (from, to) = ((least as f64).ln(), (most as f64).ln());
    let mut at: Vec<u64> = (0..=STEPS)
        .map(|step| from + (to - from) * f64::from(step) / f64::from(STEPS))
        .map(|log| (log.exp().round() as u64).clamp(least, most))
        .collect();
    at.dedup();
    at.into_par_iter()
        .filter_map(|trials| {
            let it = limits.limits_at(trials)?;
            Some((trials, [it.low_998, it.low_95, it.high_95, it.high_998]))
        })
        .collect()
}

/// What to read from the picture about one mark.
pub(crate) fn words(figures: &FunnelFigures, tally: &Tally) -> String {
    let judged = tally.judged();
    let (Some(share), Some(funnel)) = (tally.share().share, &figures.limits) else {
        return "No judged draw, so no mark in the picture.".to_owned();
    };
    let Some(limits) = funnel.limits_at(judged) else {
        return "All draws in view are alike, so there are no limits to draw.".to_owned();
    };
    let clamped = |limit: f64| Some(limit.clamp(0.0, 1.0));
    let range = text::percent_range(clamped(limits.low_95), clamped(limits.high_95));
    if judged < FEW {
        let draws = text::plural(judged, "judged draw is", "judged draws are");
        format!("{draws} few: chance alone reaches over {range}.")
    } else if limits.outside_95(share).is_none() {
        format!("Within {range}, where chance alone would put it.")
    } else if share <= limits.high_998 && share >= limits.low_998 {
        format!("Outside {range}, where one in twenty lies by chance.")
    } else {
        "Beyond the 99.8 % limits; but which points are hard only the odds ratio knows.".to_owned()
    }
}

/// What is said where marks spread far wider than chance would have it.
pub(crate) fn spread(figures: &FunnelFigures) -> Option<String> {
    let phi = figures.limits.as_ref()?.phi_winsorised?;
    (phi > 2.0).then(|| {
        format!(
            "The marks spread {:.1} times as wide as by chance, so many lie outside: that tells \
             of a spread, not of a fault of each.",
            phi.sqrt()
        )
    })
}

/// The picture with a title above, what its signs mean and what to read from it below.
pub(crate) fn block(
    app: &App,
    figures: &FunnelFigures,
    tally: &Tally,
    (width, height): (usize, usize),
) -> Vec<Line<'static>> {
    let theme = app.theme;
    let mut said = text::wrap(&words(figures, tally), width);
    said.truncate(if height < 10 { 2 } else { 3 });
    if height >= 20 {
        said.extend(
            spread(figures)
                .iter()
                .flat_map(|words| text::wrap(words, width)),
        );
    }
    let mut signs = figures.drawn.legend("each one", theme);
    // The title has one line beside it for the legend; the large picture has all of it.
    signs.retain(|(_, words)| !words.contains("to 4") && !words.contains("place"));
    let title = "Funnel  ";
    let beside = legend::row(&signs, width.saturating_sub(title.len()), theme);
    let room = height.saturating_sub(said.len() + 1);
    let own = tally.share().share.map(|share| (tally.judged(), share));
    let chosen = figures.drawn.dots.iter().position(|dot| Some(*dot) == own);
    let picture = as_lines::lines((width, room), |buffer, area| {
        let chosen = chosen.map(|dot| (dot, ""));
        figures.drawn.draw(buffer, area, chosen, theme);
    });
    let mut lines = Vec::new();
    let is_there = !figures.drawn.is_empty() && room > 5 && width > 20;
    if is_there {
        let mut spans = vec![Span::styled(title, theme.title())];
        spans.extend(beside.spans);
        lines.push(Line::from(spans));
        lines.extend(picture);
    }
    lines.extend(said.into_iter().map(Line::from));
    lines.truncate(height);
    lines
}
