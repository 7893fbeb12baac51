//! Charts as shapes in points of 1/72 inch, y downwards: worked out once, drawn as SVG and as
//! paths of a PDF. Nothing is told by colour alone: marks differ in shape, areas in their
//! hatching, and words stand beside both.

/// A chart.
#[derive(Clone, Debug)]
pub struct Chart {
    /// What it shows, in a line that stands above it.
    pub title: String,
    /// What can be seen in it, for those who can't see it.
    pub description: String,
    /// Its width.
    pub width: f64,
    /// Its height.
    pub height: f64,
    /// What is drawn, the first first.
    pub shapes: Vec<Shape>,
}

/// What a line or an area stands for; each form has its own colours for it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Ink {
    /// Words and marks.
    Plain,
    /// Words that step back.
    Quiet,
    /// Lines to read by.
    Grid,
    /// Where values are looked for: a band of limits.
    Band,
    /// What is shown.
    Accent,
    /// What stands out.
    Alert,
}

/// How an area is filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Fill {
    /// All over.
    Full,
    /// With rising lines on the ground of the page.
    Rising,
    /// With dots of short lines: crossed lines.
    Crossed,
    /// Not at all.
    Empty,
}

/// A mark at a value.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Mark {
    /// A filled disc.
    Dot,
    /// A ring.
    Ring,
    /// A filled square on its corner.
    Diamond,
}

/// To which side of its place a text stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    /// It begins there.
    Start,
    /// Its middle is there.
    Middle,
    /// It ends there.
    End,
}

/// One thing that is drawn.
#[derive(Clone, Debug)]
pub enum Shape {
    /// Straight lines from place to place.
    Line {
        /// The places.
        points: Vec<(f64, f64)>,
        /// What it stands for.
        ink: Ink,
        /// How thick it is.
        width: f64,
        /// Whether it is broken.
        dashed: bool,
    },
    /// An area.
    Area {
        /// Its corners.
        points: Vec<(f64, f64)>,
        /// What it stands for.
        ink: Ink,
    },
    /// A box with a rim.
    Bar {
        /// Left edge.
        x: f64,
        /// Upper edge.
        y: f64,
        /// Width.
        width: f64,
        /// Height.
        height: f64,
        /// What it stands for.
        ink: Ink,
        /// How it is filled.
        fill: Fill,
    },
    /// A mark.
    Mark {
        /// Its middle.
        at: (f64, f64),
        /// Half its width.
        radius: f64,
        /// Its shape.
        mark: Mark,
        /// What it stands for.
        ink: Ink,
    },
    /// Words on a line.
    Text {
        /// Where: the foot of the letters.
        at: (f64, f64),
        /// The size of the letters.
        size: f64,
        /// To which side it stands.
        anchor: Anchor,
        /// What it stands for.
        ink: Ink,
        /// Whether it is bold.
        bold: bool,
        /// The words.
        text: String,
    },
}

/// The distance of hatching lines.
const HATCH: f64 = 4.0;

/// The lines of a hatched box, each from end to end.
#[must_use]
pub fn hatching(
    (x, y): (f64, f64),
    (width, height): (f64, f64),
    fill: Fill,
) -> Vec<[(f64, f64); 2]> {
    let rising = |lines: &mut Vec<[(f64, f64); 2]>, falls: bool| {
        // Lines u + v = const over the box, from its upper left corner.
        let mut sum = HATCH / 2.0;
        while sum < width + height {
            let from = (sum.min(width), (sum - width).max(0.0));
            let to = ((sum - height).max(0.0), sum.min(height));
            let place = |(u, v): (f64, f64)| {
                let v = if falls { height - v } else { v };
                (x + u, y + v)
            };
            lines.push([place(from), place(to)]);
            sum += HATCH;
        }
    };
    let mut lines = Vec::new();
    match fill {
        Fill::Full | Fill::Empty => {}
        Fill::Rising => rising(&mut lines, false),
        Fill::Crossed => {
            rising(&mut lines, false);
            rising(&mut lines, true);
        }
    }
    lines
}

/// A text.
pub(super) fn text(at: (f64, f64), anchor: Anchor, ink: Ink, text: impl Into<String>) -> Shape {
    Shape::Text {
        at,
        size: 8.0,
        anchor,
        ink,
        bold: false,
        text: text.into(),
    }
}

/// A line between two places.
pub(super) fn line(from: (f64, f64), to: (f64, f64), ink: Ink) -> Shape {
    Shape::Line {
        points: vec![from, to],
        ink,
        width: 0.6,
        dashed: false,
    }
}

/// Round values on an axis from 0 that reaches to at least `most`: the step and how many.
#[must_use]
pub fn steps(most: f64, wanted: f64) -> (f64, usize) {
    let rough = (most / wanted).max(1e-9);
    let power = 10_f64.powf(rough.log10().floor());
    let step = [1.0, 2.0, 5.0, 10.0]
        .into_iter()
        .map(|times| times * power)
        .find(|step| *step >= rough * 0.999_999)
        .unwrap_or(10.0 * power);
    let count = (most / step - 1e-9).ceil().max(1.0);
    (step, count as usize)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_axis_has_round_steps_and_reaches_to_the_greatest_value() {
        for (most, wanted, expected) in [
            (0.23, 5.0, (0.05, 5)),
            (1.0, 5.0, (0.2, 5)),
            (0.01, 5.0, (0.002, 5)),
            (87.0, 5.0, (20.0, 5)),
        ] {
            let (step, count) = steps(most, wanted);
            assert!((step - expected.0).abs() < 1e-12, "{most}: {step}");
            assert_eq!(count, expected.1);
            assert!(step * count as f64 >= most);
        }
    }

    #[test]
    fn hatching_stays_within_its_box() {
        for fill in [Fill::Rising, Fill::Crossed] {
            let lines = hatching((10.0, 20.0), (33.0, 9.0), fill);
            assert!(lines.len() > 5);
            for (x, y) in lines.into_iter().flatten() {
                assert!((10.0..=43.0).contains(&x) && (20.0..=29.0).contains(&y));
            }
        }
    }
}
