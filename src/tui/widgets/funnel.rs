//! A funnel: shares against the number of trials behind them, with the limits of chance.

use ratatui::style::Style;
use ratatui::text::{Line, Span};

use super::cells::{self, Cells};
use crate::tui::text;
use crate::tui::theme::Theme;

/// The limits of chance at a number of trials: 99.8 % and 95 % below, 95 % and 99.8 % above.
pub(crate) type Limits = [f64; 4];

/// What is drawn.
#[derive(Clone, Debug, Default, PartialEq)]
pub(crate) struct Funnel {
    /// The share of all together, from 0 to 1.
    pub(crate) centre: f64,
    /// One mark each: trials, share.
    pub(crate) dots: Vec<(u64, f64)>,
    /// The limits at growing numbers of trials from the least to the most of the dots.
    pub(crate) curve: Vec<(u64, Limits)>,
}

/// The ends of both axes; trials as their logarithm.
struct Axes {
    left: f64,
    right: f64,
    bottom: f64,
    top: f64,
}

impl Funnel {
    /// Nothing to draw without dots and limits.
    pub(crate) fn is_empty(&self) -> bool {
        self.dots.is_empty() || self.curve.is_empty()
    }

    fn axes(&self) -> Axes {
        let logs = || self.curve.iter().map(|(trials, _)| (*trials as f64).ln());
        let (left, right) = (logs().fold(f64::MAX, f64::min), logs().fold(0.0, f64::max));
        // Limits of few trials reach from none to all; they are cut off.
        let middle = self.curve[self.curve.len() / 2].1;
        let shares = || self.dots.iter().map(|(_, share)| *share);
        let most = shares().fold(middle[3], f64::max);
        let least = shares().fold(middle[0], f64::min);
        let bottom = ((least * 10.0).floor() / 10.0).clamp(0.0, 0.9);
        Axes {
            left,
            right: right.max(left + 0.1),
            bottom,
            top: ((most * 10.0).ceil() / 10.0).clamp(bottom + 0.1, 1.0),
        }
    }

    /// The limits at a number of trials given by its logarithm.
    fn limits(&self, log: f64) -> Option<Limits> {
        let after = self
            .curve
            .partition_point(|(trials, _)| (*trials as f64).ln() < log);
        let (trials, high) = *self.curve.get(after).or(self.curve.last())?;
        let (before, low) = self.curve[after.saturating_sub(1).min(self.curve.len() - 1)];
        let (from, to) = ((before as f64).ln(), (trials as f64).ln());
        let part = if to > from {
            ((log - from) / (to - from)).clamp(0.0, 1.0)
        } else {
            1.0
        };
        let mut limits = high;
        for (limit, low) in limits.iter_mut().zip(low) {
            *limit = low + part * (*limit - low);
        }
        Some(limits)
    }
}

/// How wide the shares on the left are.
const LABEL: usize = 6;

/// The picture, `height` lines of at most `width` cells, the last one with the numbers of
/// trials. The chosen dot has a mark of its own.
pub(crate) fn lines(
    funnel: &Funnel,
    chosen: Option<(u64, f64)>,
    (width, height): (usize, usize),
    theme: Theme,
) -> Vec<Line<'static>> {
    let (across, down) = (width.saturating_sub(LABEL), height.saturating_sub(1));
    if funnel.is_empty() || across < 8 || down < 3 {
        return Vec::new();
    }
    let axes = funnel.axes();
    let mut rows = curves(funnel, &axes, (across, down), theme);
    let mut put = |(trials, share): (u64, f64), glyph: &'static str, style: Style| {
        let across_part = ((trials as f64).ln() - axes.left) / (axes.right - axes.left);
        let down_part = (axes.top - share) / (axes.top - axes.bottom);
        let (x, y) = (
            cells::place(across_part, across),
            cells::place(down_part, down),
        );
        rows[y][x] = (glyph, style);
    };
    for dot in &funnel.dots {
        put(*dot, theme.pick("•", "o"), theme.plain());
    }
    if let Some(dot) = chosen {
        put(dot, theme.pick("◆", "#"), theme.title());
    }
    let label = |at: usize| {
        let share = match at {
            0 => axes.top,
            at if at + 1 == down => axes.bottom,
            _ => return " ".repeat(LABEL),
        };
        text::right(&format!("{:.0} % ", share * 100.0), LABEL)
    };
    let mut lines: Vec<Line<'static>> = (rows.into_iter().enumerate())
        .map(|(at, row)| {
            let mut spans = vec![Span::styled(label(at), theme.faint())];
            spans.extend(cells::spans(row));
            Line::from(spans)
        })
        .collect();
    lines.push(trials_line(&axes, across, theme));
    lines
}

/// The numbers of trials below the picture: the least, one between, the most.
fn trials_line(axes: &Axes, across: usize, theme: Theme) -> Line<'static> {
    let count = |part: f64| {
        let trials = (axes.left + part * (axes.right - axes.left)).exp();
        text::count(trials.round() as u64)
    };
    let (left, middle, right) = (count(0.0), count(0.5), format!("{} judged", count(1.0)));
    let half = across / 2 + middle.len() / 2;
    let mut words = left;
    if words.len() + 1 + middle.len() < half && half + 2 + right.len() < across {
        let gap = half - words.len();
        words.push_str(&text::right(&middle, gap));
    }
    let rest = across.saturating_sub(words.len());
    Line::from(Span::styled(
        format!("{}{words}{}", " ".repeat(LABEL), text::right(&right, rest)),
        theme.faint(),
    ))
}

/// So many heights within a cell can be told apart.
const LEVELS: usize = 3;

/// The limits as dots, high, in the middle or low in their cells, the outer ones with gaps,
/// and the centre as dashes.
fn curves(
    funnel: &Funnel,
    axes: &Axes,
    (across, down): (usize, usize),
    theme: Theme,
) -> Vec<Cells> {
    let faint = theme.faint();
    let mut rows: Vec<Cells> = vec![vec![(" ", faint); across]; down];
    let dots: [&'static str; LEVELS] = [
        theme.pick("˙", "'"),
        theme.pick("·", "'"),
        theme.pick(".", "."),
    ];
    let level_of = |share: f64| {
        let part = (axes.top - share) / (axes.top - axes.bottom);
        let inside = (0.0..=1.0).contains(&part);
        inside.then(|| cells::place(part, down * LEVELS))
    };
    if let Some(level) = level_of(funnel.centre) {
        for cell in &mut rows[level / LEVELS] {
            cell.0 = theme.pick("╌", "-");
        }
    }
    let mut before: [Option<usize>; 4] = [None; 4];
    let columns = (0..across).filter_map(|x| {
        let part = x as f64 / (across - 1) as f64;
        let log = axes.left + part * (axes.right - axes.left);
        Some((x, funnel.limits(log)?))
    });
    for (x, limits) in columns {
        for (which, limit) in limits.into_iter().enumerate() {
            let level = level_of(limit);
            let is_gap = (which == 0 || which == 3) && x % 3 > 0;
            if let Some(level) = level.filter(|_| !is_gap) {
                // Where a limit falls steeply the dots below each other close the gap.
                let from = before[which].unwrap_or(level);
                for level in (from.min(level)..from.max(level)).chain([level]) {
                    rows[level / LEVELS][x].0 = dots[level % LEVELS];
                }
            }
            before[which] = level;
        }
    }
    rows
}

#[cfg(test)]
mod tests {
    use super::*;

    fn funnel() -> Funnel {
        Funnel {
            centre: 0.4,
            dots: vec![(10, 0.2), (100, 0.4), (1000, 0.45)],
            curve: vec![
                (10, [-0.1, 0.1, 0.7, 0.9]),
                (100, [0.25, 0.3, 0.5, 0.55]),
                (1000, [0.35, 0.37, 0.43, 0.45]),
            ],
        }
    }

    #[test]
    fn every_dot_stands_where_it_belongs() {
        let drawn = |theme| {
            lines(&funnel(), Some((100, 0.4)), (47, 9), theme)
                .iter()
                .map(ToString::to_string)
                .collect::<Vec<_>>()
        };
        for (theme, dot, chosen) in [
            (Theme::new(true, true), '•', '◆'),
            (Theme::new(true, false), 'o', '#'),
        ] {
            let drawn = drawn(theme);
            assert_eq!(drawn.len(), 9);
            let all: String = drawn.concat();
            assert_eq!(all.matches(dot).count(), 2);
            assert_eq!(all.matches(chosen).count(), 1);
            assert!(drawn.iter().all(|line| text::width(line) <= 47));
            // 100 is in the middle between 10 and 1000 where equal factors are equally far.
            let row = drawn.iter().find(|line| line.contains(chosen));
            let at = row.map(|row| row.chars().position(|sign| sign == chosen));
            assert_eq!(at.flatten(), Some(LABEL + 20));
            assert!(drawn[8].contains("10") && drawn[8].contains("1,000 judged"));
        }
    }

    #[test]
    fn without_room_or_dots_nothing_is_drawn() {
        let theme = Theme::new(true, true);
        assert!(lines(&funnel(), None, (10, 9), theme).is_empty());
        assert!(lines(&funnel(), None, (40, 3), theme).is_empty());
        assert!(lines(&Funnel::default(), None, (40, 9), theme).is_empty());
    }

    #[test]
    fn one_number_of_trials_is_enough() {
        let one = Funnel {
            centre: 0.5,
            dots: vec![(7, 0.5)],
            curve: vec![(7, [0.0, 0.1, 0.9, 1.0])],
        };
        assert_eq!(lines(&one, None, (40, 9), Theme::new(true, true)).len(), 9);
    }
}
