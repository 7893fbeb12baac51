//! Charts as SVG within a page.

use std::fmt::Write as _;

use super::escape;
use crate::report::document::chart::{Anchor, Chart, Fill, Ink, Mark, Shape, hatching};

/// The chart as an `svg` element; `number` tells it from others on the page.
pub fn svg(chart: &Chart, number: usize) -> String {
    let mut out = String::new();
    // Writing to a text cannot fail.
    let _ = write!(
        out,
        "<svg viewBox=\"0 0 {} {}\" role=\"img\" aria-labelledby=\"chart-{number}-t chart-{number}-d\">\
         <title id=\"chart-{number}-t\">{}</title><desc id=\"chart-{number}-d\">{}</desc>",
        round(chart.width),
        round(chart.height),
        escape(&chart.title),
        escape(&chart.description)
    );
    for shape in &chart.shapes {
        draw(&mut out, shape);
    }
    out.push_str("</svg>");
    out
}

fn draw(out: &mut String, shape: &Shape) {
    let _ = match shape {
        Shape::Line {
            points,
            ink,
            width,
            dashed,
        } => write!(
            out,
            "<polyline class=\"line {}{}\" stroke-width=\"{}\" points=\"{}\"/>",
            class(*ink),
            if *dashed { " dashed" } else { "" },
            round(*width),
            places(points)
        ),
        Shape::Area { points, ink } => write!(
            out,
            "<polygon class=\"area {}\" points=\"{}\"/>",
            class(*ink),
            places(points)
        ),
        Shape::Bar {
            x,
            y,
            width,
            height,
            ink,
            fill,
        } => {
            let full = if *fill == Fill::Full { "area" } else { "box" };
            let _ = write!(
                out,
                "<rect class=\"{full} {}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
                class(*ink),
                round(*x),
                round(*y),
                round(*width),
                round(*height)
            );
            let lines = hatching((*x, *y), (*width, *height), *fill);
            lines.iter().try_for_each(|line| {
                write!(
                    out,
                    "<polyline class=\"line {}\" stroke-width=\"0.7\" points=\"{}\"/>",
                    class(*ink),
                    places(line)
                )
            })
        }
        Shape::Mark {
            at: (x, y),
            radius,
            mark,
            ink,
        } => match mark {
            Mark::Dot | Mark::Ring => write!(
                out,
                "<circle class=\"{} {}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
                if *mark == Mark::Dot { "area" } else { "box" },
                class(*ink),
                round(*x),
                round(*y),
                round(*radius)
            ),
            Mark::Diamond => write!(
                out,
                "<polygon class=\"area {}\" points=\"{}\"/>",
                class(*ink),
                places(&[
                    (x - radius, *y),
                    (*x, y - radius),
                    (x + radius, *y),
                    (*x, y + radius)
                ])
            ),
        },
        Shape::Text {
            at: (x, y),
            size,
            anchor,
            ink,
            bold,
            text,
        } => write!(
            out,
            "<text class=\"{}\" x=\"{}\" y=\"{}\" font-size=\"{}\" text-anchor=\"{}\"{}>{}</text>",
            class(*ink),
            round(*x),
            round(*y),
            round(*size),
            match anchor {
                Anchor::Start => "start",
                Anchor::Middle => "middle",
                Anchor::End => "end",
            },
            if *bold { " font-weight=\"700\"" } else { "" },
            escape(text)
        ),
    };
}

fn class(ink: Ink) -> &'static str {
    match ink {
        Ink::Plain => "plain",
        Ink::Quiet => "quiet",
        Ink::Grid => "grid",
        Ink::Band => "band",
        Ink::Accent => "accent",
        Ink::Alert => "alert",
    }
}

fn places(points: &[(f64, f64)]) -> String {
    let mut text = String::new();
    for (x, y) in points {
        if !text.is_empty() {
            text.push(' ');
        }
        let _ = write!(text, "{},{}", round(*x), round(*y));
    }
    text
}

/// Hundredths of a point are finer than any printer.
fn round(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}
