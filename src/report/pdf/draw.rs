//! Filled pages as a PDF.

use std::num::NonZeroU16;

use chrono::{DateTime, Datelike, Timelike};
use krilla::Document as Pdf;
use krilla::color::rgb;
use krilla::destination::XyzDestination;
use krilla::geom::{PathBuilder, Point};
use krilla::metadata::{DateTime as PdfTime, Metadata};
use krilla::num::NormalizedF32;
use krilla::outline::{Outline, OutlineNode};
use krilla::page::PageSettings;
use krilla::paint::{Fill as Paint, FillRule, Stroke, StrokeDash};
use krilla::surface::Surface;
use krilla::tagging::{
    Artifact, ArtifactType, ContentTag, Identifier, Node, SpanTag, TableHeaderScope, Tag, TagGroup,
    TagKind, TagTree,
};

use super::PdfError;
use super::face::Faces;
use super::pages::{PAGE, Page, Pages, Part, PartNumber};
use crate::report::document::Document;
use crate::report::document::chart::{Anchor, Fill, Ink, Mark, Shape, hatching};

/// Draws the pages.
pub fn file(document: &Document, pages: Pages<'_>) -> Result<Vec<u8>, PdfError> {
    let mut pdf = Pdf::new();
    let mut marked: Vec<Vec<Identifier>> = vec![Vec::new(); pages.parts.len()];
    for page in &pages.pages {
        draw_page(&mut pdf, pages.faces, page, &mut marked)?;
    }
    pdf.set_metadata(metadata(document));
    pdf.set_outline(outline(&pages));
    pdf.set_tag_tree(tags(&pages, marked));
    pdf.finish().map_err(|error| PdfError(format!("{error:?}")))
}

fn metadata(document: &Document) -> Metadata {
    let mut metadata = Metadata::new()
        .title(document.title.clone())
        .description(document.subtitle.clone())
        .language("en".to_owned())
        .creator("fairdraw".to_owned());
    if let Some(made) = DateTime::from_timestamp(document.made_at, 0)
        && let Ok(year) = u16::try_from(made.year())
    {
        let small = |number: u32| u8::try_from(number).unwrap_or_default();
        metadata = metadata.creation_date(
            PdfTime::new(year)
                .month(small(made.month()))
                .day(small(made.day()))
                .hour(small(made.hour()))
                .minute(small(made.minute()))
                .second(small(made.second()))
                .utc_offset_hour(0)
                .utc_offset_minute(0),
        );
    }
    metadata
}

fn outline(pages: &Pages<'_>) -> Outline {
    let mut outline = Outline::new();
    let mut open: Option<OutlineNode> = None;
    for heading in pages.outline.iter().filter(|heading| heading.level > 1) {
        let to = XyzDestination::new(heading.page, point((0.0, heading.y - 6.0)));
        let node = OutlineNode::new(heading.text.clone(), to);
        match (heading.level, &mut open) {
            (3, Some(section)) => section.push_child(node),
            _ => {
                if let Some(section) = open.replace(node) {
                    outline.push_child(section);
                }
            }
        }
    }
    if let Some(section) = open {
        outline.push_child(section);
    }
    outline
}

/// The parts as a tree, each with what was drawn of it.
fn tags(pages: &Pages<'_>, mut marked: Vec<Vec<Identifier>>) -> TagTree {
    let mut groups: Vec<Option<TagGroup>> = (pages.parts.iter().zip(&mut marked))
        .map(|((part, _), marks)| {
            let children = std::mem::take(marks).into_iter().map(Node::from);
            Some(TagGroup::with_children(kind(part), children.collect()))
        })
        .collect();
    let mut tree = TagTree::new().with_lang(Some("en".to_owned()));
    // Parts stand behind those they are in; the other way round, each is whole when it moves.
    let mut tops = Vec::new();
    for number in (0..groups.len()).rev() {
        let Some(group) = groups[number].take() else {
            continue;
        };
        match pages.parts[number].1 {
            Some(within) => {
                if let Some(outer) = &mut groups[within] {
                    outer.children.insert(0, Node::from(group));
                }
            }
            None => tops.push(group),
        }
    }
    for group in tops.into_iter().rev() {
        tree.push(group);
    }
    tree
}

fn kind(part: &Part) -> TagKind {
    match part {
        Part::Heading(level, text) => {
            let level = NonZeroU16::new(*level).unwrap_or(NonZeroU16::MIN);
            Tag::Hn(level, Some(text.clone())).into()
        }
        Part::Paragraph => Tag::P.into(),
        Part::Figure(description) => Tag::Figure(Some(description.clone())).into(),
        Part::Table => Tag::Table.into(),
        Part::Row => Tag::TR.into(),
        Part::Head => Tag::TH(TableHeaderScope::Column).into(),
        Part::Cell => Tag::TD.into(),
    }
}

fn draw_page(
    pdf: &mut Pdf,
    faces: &Faces,
    shapes: &Page,
    marked: &mut [Vec<Identifier>],
) -> Result<(), PdfError> {
    let settings = PageSettings::from_wh(PAGE.0 as f32, PAGE.1 as f32)
        .ok_or_else(|| PdfError("a page of no size".to_owned()))?;
    let mut page = pdf.start_page_with(settings);
    let mut surface = page.surface();
    let mut rest = shapes.as_slice();
    while let Some((part, _)) = rest.first() {
        let together = rest.iter().take_while(|(other, _)| other == part).count();
        let (now, later) = rest.split_at(together);
        mark(&mut surface, *part, marked);
        for (_, shape) in now {
            draw(&mut surface, faces, shape);
        }
        surface.end_tagged();
        rest = later;
    }
    surface.finish();
    page.finish();
    Ok(())
}

fn mark(surface: &mut Surface<'_>, part: Option<PartNumber>, marked: &mut [Vec<Identifier>]) {
    match part {
        Some(part) => {
            let identifier = surface.start_tagged(ContentTag::Span(SpanTag::empty()));
            marked[part].push(identifier);
        }
        None => {
            let decoration = Artifact::with_kind(ArtifactType::Other);
            surface.start_tagged(ContentTag::Artifact(decoration));
        }
    }
}

fn draw(surface: &mut Surface<'_>, faces: &Faces, shape: &Shape) {
    match shape {
        Shape::Line {
            points,
            ink,
            width,
            dashed,
        } => stroke(surface, points, (*ink, *width, *dashed), false),
        Shape::Area { points, ink } => fill(surface, points, *ink),
        Shape::Bar {
            x,
            y,
            width,
            height,
            ink,
            fill: how,
        } => {
            let corners = [
                (*x, *y),
                (x + width, *y),
                (x + width, y + height),
                (*x, y + height),
            ];
            if *how == Fill::Full {
                return fill(surface, &corners, *ink);
            }
            for line in hatching((*x, *y), (*width, *height), *how) {
                stroke(surface, &line, (*ink, 0.7, false), false);
            }
            stroke(surface, &corners, (*ink, 0.8, false), true);
        }
        Shape::Mark {
            at,
            radius,
            mark,
            ink,
        } => draw_mark(surface, *at, *radius, *mark, *ink),
        Shape::Text {
            at: (x, y),
            size,
            anchor,
            ink,
            bold,
            text,
        } => {
            let face = faces.face(*bold);
            let wide = face.width(text) * size;
            let left = match anchor {
                Anchor::Start => *x,
                Anchor::Middle => x - wide / 2.0,
                Anchor::End => x - wide,
            };
            surface.set_stroke(None);
            surface.set_fill(Some(paint(*ink)));
            let glyphs = face.glyphs(text);
            let font = face.font.clone();
            surface.draw_glyphs(point((left, *y)), &glyphs, font, text, *size as f32, false);
        }
    }
}

fn draw_mark(surface: &mut Surface<'_>, (x, y): (f64, f64), radius: f64, mark: Mark, ink: Ink) {
    if mark == Mark::Diamond {
        let corners = [
            (x - radius, y),
            (x, y - radius),
            (x + radius, y),
            (x, y + radius),
        ];
        return fill(surface, &corners, ink);
    }
    // Four arcs as cubics; 0.5523 is the usual length of their handles, 4/3·(√2 − 1).
    let handle = radius * 0.552_285;
    let mut path = PathBuilder::new();
    let at = |u: f64, v: f64| ((x + u) as f32, (y + v) as f32);
    let (start_x, start_y) = at(radius, 0.0);
    path.move_to(start_x, start_y);
    for [(a, b), (c, d), (e, f)] in [
        [(radius, handle), (handle, radius), (0.0, radius)],
        [(-handle, radius), (-radius, handle), (-radius, 0.0)],
        [(-radius, -handle), (-handle, -radius), (0.0, -radius)],
        [(handle, -radius), (radius, -handle), (radius, 0.0)],
    ] {
        let ((a, b), (c, d), (e, f)) = (at(a, b), at(c, d), at(e, f));
        path.cubic_to(a, b, c, d, e, f);
    }
    path.close();
    let Some(path) = path.finish() else { return };
    match mark {
        Mark::Ring => {
            surface.set_fill(Some(paint_of(rgb::Color::new(255, 255, 255))));
            surface.set_stroke(Some(line(ink, 0.9, false)));
        }
        _ => {
            surface.set_fill(Some(paint(ink)));
            surface.set_stroke(None);
        }
    }
    surface.draw_path(&path);
}

fn stroke(
    surface: &mut Surface<'_>,
    points: &[(f64, f64)],
    (ink, width, dashed): (Ink, f64, bool),
    closed: bool,
) {
    if let Some(path) = path(points, closed) {
        surface.set_fill(None);
        surface.set_stroke(Some(line(ink, width, dashed)));
        surface.draw_path(&path);
    }
}

fn fill(surface: &mut Surface<'_>, points: &[(f64, f64)], ink: Ink) {
    if let Some(path) = path(points, true) {
        surface.set_stroke(None);
        surface.set_fill(Some(paint(ink)));
        surface.draw_path(&path);
    }
}

fn path(points: &[(f64, f64)], closed: bool) -> Option<krilla::geom::Path> {
    let ((x, y), rest) = points.split_first()?;
    let mut path = PathBuilder::new();
    path.move_to(*x as f32, *y as f32);
    for (x, y) in rest {
        path.line_to(*x as f32, *y as f32);
    }
    if closed {
        path.close();
    }
    path.finish()
}

fn line(ink: Ink, width: f64, dashed: bool) -> Stroke {
    Stroke {
        paint: colour(ink).into(),
        width: width as f32,
        opacity: NormalizedF32::ONE,
        dash: dashed.then(|| StrokeDash {
            array: vec![4.0, 3.0],
            offset: 0.0,
        }),
        ..Stroke::default()
    }
}

fn paint(ink: Ink) -> Paint {
    paint_of(colour(ink))
}

fn paint_of(colour: rgb::Color) -> Paint {
    Paint {
        paint: colour.into(),
        opacity: NormalizedF32::ONE,
        rule: FillRule::NonZero,
    }
}

/// Colours that differ in lightness too, so that they do on a printer without colours.
fn colour(ink: Ink) -> rgb::Color {
    let (red, green, blue) = match ink {
        Ink::Plain => (27, 36, 48),
        Ink::Quiet => (86, 97, 112),
        Ink::Grid => (217, 223, 229),
        Ink::Band => (230, 238, 242),
        Ink::Accent => (28, 93, 120),
        Ink::Alert => (166, 60, 12),
    };
    rgb::Color::new(red, green, blue)
}

fn point((x, y): (f64, f64)) -> Point {
    Point::from_xy(x as f32, y as f32)
}
