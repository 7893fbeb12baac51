//! The parts of a report, one after the other, on pages.

use super::pages::{LEFT, Outlined, PAGE, Pages, Part, Style, WIDTH};
use super::table::table;
use crate::report::document::chart::{Anchor, Chart, Fill, Ink, Shape};
use crate::report::document::{Block, Document, Figure};

const fn style(size: f64, leading: f64, ink: Ink, bold: bool) -> Style {
    Style {
        size,
        leading,
        ink,
        bold,
    }
}

const TITLE: Style = style(25.0, 31.0, Ink::Plain, true);
const SUBTITLE: Style = style(10.5, 15.0, Ink::Quiet, false);
const SECTION: Style = style(15.0, 20.0, Ink::Plain, true);
const HEADING: Style = style(11.0, 16.0, Ink::Plain, true);
const LEAD: Style = style(12.5, 18.0, Ink::Plain, false);
const BODY: Style = style(9.5, 13.6, Ink::Plain, false);
const REMARK: Style = style(8.5, 12.0, Ink::Quiet, false);
const LABEL: Style = style(9.5, 13.6, Ink::Quiet, false);
const SMALL: Style = style(8.0, 11.0, Ink::Quiet, false);
const FIGURE: Style = style(19.0, 25.0, Ink::Plain, true);
const CAPTION: Style = style(9.5, 14.0, Ink::Plain, true);

/// Text is easier to read in lines that are not too long.
const MEASURE: f64 = 430.0;

/// Sets the whole report.
pub fn set(pages: &mut Pages<'_>, document: &Document) {
    opening(pages, document);
    for section in &document.sections {
        pages.space(24.0);
        let first = section.blocks.first();
        pages.need(SECTION.leading + 10.0 + first.map_or(0.0, beginning));
        heading(pages, 2, SECTION, section.title);
        rule(pages, Ink::Grid, 0.6);
        pages.y += 9.0;
        for (place, block) in section.blocks.iter().enumerate() {
            let next = section.blocks.get(place + 1);
            set_block(pages, block, next);
        }
    }
    if pages.faces.lacks_characters() {
        pages.space(10.0);
        let part = pages.part(Part::Paragraph, None);
        let said = "□ stands for a character that can't be shown in this file; the report as HTML \
                    and the tables hold it.";
        pages.lines(part, REMARK, (LEFT, MEASURE), said);
    }
}

/// The foot of every page, once their number is known.
pub fn feet(pages: &mut Pages<'_>, foot: &str) {
    let foot = pages.faces.shown(foot);
    let most = (WIDTH - 70.0) / SMALL.size;
    let face = pages.faces.face(false);
    let mut foot = foot.into_owned();
    while face.width(&foot) > most {
        foot.pop();
    }
    let count = pages.pages.len();
    let y = PAGE.1 - 34.0;
    for (number, page) in (1..).zip(&mut pages.pages) {
        let text = |x, anchor, text: String| Shape::Text {
            at: (x, y),
            size: SMALL.size,
            anchor,
            ink: SMALL.ink,
            bold: false,
            text,
        };
        page.push((None, text(LEFT, Anchor::Start, foot.clone())));
        let said = format!("Page {number} of {count}");
        page.push((None, text(LEFT + WIDTH, Anchor::End, said)));
    }
}

fn opening(pages: &mut Pages<'_>, document: &Document) {
    let part = pages.part(Part::Paragraph, None);
    pages.lines(part, SUBTITLE, (LEFT, WIDTH), &document.subtitle);
    heading(pages, 1, TITLE, &document.title);
    pages.y += 6.0;
    let facts = document.facts.iter();
    let facts: Vec<(&str, &str)> = facts
        .map(|(label, value)| (*label, value.as_str()))
        .collect();
    set_facts(pages, &facts);
    pages.y += 8.0;
    rule(pages, Ink::Plain, 1.2);
}

fn heading(pages: &mut Pages<'_>, level: u16, style: Style, text: &str) {
    let part = pages.part(Part::Heading(level, text.to_owned()), None);
    pages.outline.push(Outlined {
        level,
        text: text.to_owned(),
        page: pages.pages.len() - 1,
        y: pages.y,
    });
    pages.lines(part, style, (LEFT, WIDTH), text);
    pages.y += 2.0;
}

/// How much of a block should stand below its heading.
fn beginning(block: &Block) -> f64 {
    match block {
        Block::Chart(chart) => chart.height + 24.0,
        Block::Table(_) => 80.0,
        Block::Figures(_) => 80.0,
        _ => 3.0 * BODY.leading,
    }
}

fn set_block(pages: &mut Pages<'_>, block: &Block, next: Option<&Block>) {
    let running = |pages: &mut Pages<'_>, style: Style, after: f64, text: &str| {
        let part = pages.part(Part::Paragraph, None);
        pages.lines(part, style, (LEFT, MEASURE), text);
        pages.y += after;
    };
    match block {
        Block::Heading(text) => {
            pages.space(8.0);
            pages.need(HEADING.leading + next.map_or(0.0, beginning));
            heading(pages, 3, HEADING, text);
        }
        Block::Lead(text) => {
            let part = pages.part(Part::Paragraph, None);
            pages.lines(part, LEAD, (LEFT, WIDTH), text);
            pages.y += 10.0;
        }
        Block::Paragraph(text) => running(pages, BODY, 7.0, text),
        Block::Remark(text) => running(pages, REMARK, 7.0, text),
        Block::Caution(text) => caution(pages, text),
        Block::Points(points) => {
            for point in points {
                let part = pages.part(Part::Paragraph, None);
                let (page, foot) = pages.lines(part, BODY, (LEFT + 12.0, MEASURE), point);
                let sign = Shape::Text {
                    at: (LEFT + 2.0, foot),
                    size: BODY.size,
                    anchor: Anchor::Start,
                    ink: BODY.ink,
                    bold: false,
                    text: "•".to_owned(),
                };
                pages.pages[page].push((None, sign));
                pages.y += 3.0;
            }
            pages.y += 5.0;
        }
        Block::Facts(facts) => {
            let facts: Vec<(&str, &str)> = (facts.iter())
                .map(|(label, value)| (label.as_str(), value.as_str()))
                .collect();
            set_facts(pages, &facts);
            pages.y += 8.0;
        }
        Block::Figures(figures) => set_figures(pages, figures),
        Block::Table(rows) => {
            pages.space(4.0);
            table(pages, rows);
        }
        Block::Chart(chart) => set_chart(pages, chart),
        Block::Signatures(signers) => signatures(pages, signers),
    }
}

fn rule(pages: &mut Pages<'_>, ink: Ink, width: f64) {
    let y = pages.y;
    pages.draw(
        None,
        Shape::Line {
            points: vec![(LEFT, y), (LEFT + WIDTH, y)],
            ink,
            width,
            dashed: false,
        },
    );
}

fn set_facts(pages: &mut Pages<'_>, facts: &[(&str, &str)]) {
    const WIDE: f64 = 116.0;
    for (label, value) in facts {
        let part = pages.part(Part::Paragraph, None);
        pages.need(BODY.leading);
        let foot = pages.y + BODY.leading * 0.5 + BODY.size * 0.34;
        let label = pages.faces.shown(label).into_owned();
        pages.text(Some(part), ((LEFT, foot), Anchor::Start), LABEL, &label);
        pages.lines(part, BODY, (LEFT + WIDE, WIDTH - WIDE), value);
    }
}

fn caution(pages: &mut Pages<'_>, text: &str) {
    let part = pages.part(Part::Paragraph, None);
    let said = format!("Caution. {text}");
    let lines = said.len() as f64 / 90.0;
    pages.need((lines.ceil() + 1.0) * BODY.leading + 8.0);
    let top = pages.y;
    pages.y += 4.0;
    pages.lines(part, BODY, (LEFT + 14.0, MEASURE), &said);
    pages.y += 4.0;
    let height = pages.y - top;
    pages.draw(
        None,
        Shape::Bar {
            x: LEFT,
            y: top,
            width: 3.0,
            height,
            ink: Ink::Plain,
            fill: Fill::Full,
        },
    );
    pages.y += 8.0;
}

fn set_figures(pages: &mut Pages<'_>, figures: &[Figure]) {
    const GAP: f64 = 10.0;
    const HEIGHT: f64 = 66.0;
    pages.need(HEIGHT + 10.0);
    let count = figures.len().max(1) as f64;
    let width = (WIDTH - GAP * (count - 1.0)) / count;
    let top = pages.y;
    for (place, figure) in figures.iter().enumerate() {
        let left = LEFT + place as f64 * (width + GAP);
        pages.draw(
            None,
            Shape::Bar {
                x: left,
                y: top,
                width,
                height: HEIGHT,
                ink: Ink::Grid,
                fill: Fill::Empty,
            },
        );
        let part = pages.part(Part::Paragraph, None);
        for (down, style, text) in [
            (16.0, SMALL, figure.label),
            (40.0, FIGURE, figure.value.as_str()),
            (55.0, SMALL, figure.detail.as_str()),
        ] {
            let text = pages.faces.shown(text).into_owned();
            let at = (left + 10.0, top + down);
            pages.text(Some(part), (at, Anchor::Start), style, &text);
        }
    }
    pages.y = top + HEIGHT + 14.0;
}

fn set_chart(pages: &mut Pages<'_>, chart: &Chart) {
    pages.space(4.0);
    pages.need(chart.height + CAPTION.leading + 6.0);
    let title = pages.part(Part::Paragraph, None);
    pages.lines(title, CAPTION, (LEFT, WIDTH), &chart.title);
    pages.y += 4.0;
    let part = pages.part(Part::Figure(chart.description.clone()), None);
    let top = pages.y;
    for shape in &chart.shapes {
        let moved = moved(pages, shape, (LEFT, top));
        pages.draw(Some(part), moved);
    }
    pages.y = top + chart.height + 10.0;
}

/// The shape at another place, its text as it can be shown.
fn moved(pages: &Pages<'_>, shape: &Shape, (right, down): (f64, f64)) -> Shape {
    let place = |(x, y): (f64, f64)| (x + right, y + down);
    let mut shape = shape.clone();
    match &mut shape {
        Shape::Line { points, .. } | Shape::Area { points, .. } => {
            for point in points {
                *point = place(*point);
            }
        }
        Shape::Bar { x, y, .. } => (*x, *y) = place((*x, *y)),
        Shape::Mark { at, .. } => *at = place(*at),
        Shape::Text { at, text, .. } => {
            *at = place(*at);
            *text = pages.faces.shown(text).into_owned();
        }
    }
    shape
}

fn signatures(pages: &mut Pages<'_>, signers: &[&str]) {
    const HEIGHT: f64 = 76.0;
    pages.space(12.0);
    pages.need(HEIGHT);
    let count = signers.len().max(1) as f64;
    let width = (WIDTH - 30.0 * (count - 1.0)) / count;
    let top = pages.y;
    for (place, signer) in signers.iter().enumerate() {
        let left = LEFT + place as f64 * (width + 30.0);
        let part = pages.part(Part::Paragraph, None);
        pages.text(
            Some(part),
            ((left, top + 10.0), Anchor::Start),
            BODY,
            signer,
        );
        pages.draw(
            None,
            Shape::Line {
                points: vec![(left, top + 58.0), (left + width, top + 58.0)],
                ink: Ink::Plain,
                width: 0.7,
                dashed: false,
            },
        );
        let at = ((left, top + 69.0), Anchor::Start);
        pages.text(Some(part), at, SMALL, "Name, date, signature");
    }
    pages.y = top + HEIGHT;
}
