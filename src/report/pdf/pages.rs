//! Pages being filled: shapes with the part of the text they belong to, page by page.

use super::face::Faces;
use super::lines::broken;
use crate::report::document::chart::{Anchor, Ink, Shape};

/// A4 in points.
pub const PAGE: (f64, f64) = (595.28, 841.89);
/// The left edge of the text.
pub const LEFT: f64 = 49.64;
/// The width of the text.
pub const WIDTH: f64 = 496.0;
/// The upper edge of the text.
const TOP: f64 = 54.0;
/// The lower edge of the text.
const BOTTOM: f64 = PAGE.1 - 64.0;

/// How a text is set: size, distance of lines, ink, bold or not.
#[derive(Clone, Copy)]
pub struct Style {
    pub size: f64,
    pub leading: f64,
    pub ink: Ink,
    pub bold: bool,
}

/// What a part of the text is, for those who have it read to them.
#[derive(Clone, Debug, PartialEq)]
pub enum Part {
    Heading(u16, String),
    Paragraph,
    Figure(String),
    Table,
    Row,
    Head,
    Cell,
}

/// The number of a part.
pub type PartNumber = usize;

/// One page: each shape with its part; none for what is only decoration.
pub type Page = Vec<(Option<PartNumber>, Shape)>;

/// A heading, for the outline: level, text, page and height on it.
pub struct Outlined {
    pub level: u16,
    pub text: String,
    pub page: usize,
    pub y: f64,
}

/// Pages, the last of them being filled.
pub struct Pages<'f> {
    pub faces: &'f Faces,
    pub pages: Vec<Page>,
    /// Parts with the part they stand in.
    pub parts: Vec<(Part, Option<PartNumber>)>,
    pub outline: Vec<Outlined>,
    /// How far the page is filled.
    pub y: f64,
}

impl<'f> Pages<'f> {
    pub fn new(faces: &'f Faces) -> Self {
        Pages {
            faces,
            pages: vec![Vec::new()],
            parts: Vec::new(),
            outline: Vec::new(),
            y: TOP,
        }
    }

    /// A new part of the text.
    pub fn part(&mut self, part: Part, within: Option<PartNumber>) -> PartNumber {
        self.parts.push((part, within));
        self.parts.len() - 1
    }

    /// How much room is left on the page.
    pub fn left(&self) -> f64 {
        BOTTOM - self.y
    }

    /// How much room a page has.
    pub const fn whole() -> f64 {
        BOTTOM - TOP
    }

    /// Turns the page.
    pub fn turn(&mut self) {
        self.pages.push(Vec::new());
        self.y = TOP;
    }

    /// Turns the page if less than this is left and a new one has more.
    pub fn need(&mut self, height: f64) {
        if self.left() < height && self.y > TOP {
            self.turn();
        }
    }

    /// Leaves room, but none at the top of a page.
    pub fn space(&mut self, height: f64) {
        if self.y > TOP {
            self.y += height;
        }
    }

    /// Draws on the page.
    pub fn draw(&mut self, part: Option<PartNumber>, shape: Shape) {
        if let Some(page) = self.pages.last_mut() {
            page.push((part, shape));
        }
    }

    /// One line of text, its foot at `y`.
    pub fn text(
        &mut self,
        part: Option<PartNumber>,
        (at, anchor): ((f64, f64), Anchor),
        style: Style,
        text: &str,
    ) {
        let shape = Shape::Text {
            at,
            size: style.size,
            anchor,
            ink: style.ink,
            bold: style.bold,
            text: text.to_owned(),
        };
        self.draw(part, shape);
    }

    /// A text in lines from here on, over pages if need be. Two lines at least stay together.
    /// Gives the page of the first line and its foot.
    pub fn lines(
        &mut self,
        part: PartNumber,
        style: Style,
        (x, width): (f64, f64),
        text: &str,
    ) -> (usize, f64) {
        let text = self.faces.shown(text);
        let lines = broken(self.faces.face(style.bold), &text, style.size, width);
        let together = if lines.len() <= 3 { lines.len() } else { 2 };
        self.need(style.leading * together as f64);
        let count = lines.len();
        let mut first = None;
        for (place, line) in lines.iter().enumerate() {
            // The last line is not left alone on the next page.
            let follows = if place + 2 == count { 2.0 } else { 1.0 };
            self.need(style.leading * follows);
            let foot = self.y + style.leading * 0.5 + style.size * 0.34;
            self.text(Some(part), ((x, foot), Anchor::Start), style, line);
            first.get_or_insert((self.pages.len() - 1, foot));
            self.y += style.leading;
        }
        first.unwrap_or((self.pages.len() - 1, self.y))
    }
}
