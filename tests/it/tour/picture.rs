//! A drawn screen as an SVG picture: one rectangle for each run of background, one text for
//! each run of like cells, at its column. No font is part of it: `textLength` keeps the columns
//! where the browser's monospaced font is wider or narrower than ours.

use std::fmt::Write as _;

use ratatui::buffer::{Buffer, Cell};
use ratatui::style::{Color, Modifier};
use unicode_width::UnicodeWidthStr;

/// Width and height of a cell, and where in it the text stands, in units of the picture.
const CELL: (usize, usize) = (8, 17);
const BASELINE: usize = 13;
/// Around the screen.
const MARGIN: usize = 8;

/// The terminal's own colours.
#[derive(Clone, Copy, PartialEq, Eq)]
pub struct Ground {
    pub text: u32,
    pub background: u32,
}

/// A dark terminal.
pub const DARK: Ground = Ground {
    text: 0x00d8_d8d8,
    background: 0x0016_181c,
};

/// The screen as a picture with a title for those who can't see it.
pub fn svg(buffer: &Buffer, title: &str, ground: Ground) -> String {
    let (columns, rows) = (
        usize::from(buffer.area.width),
        usize::from(buffer.area.height),
    );
    let (width, height) = (columns * CELL.0 + 2 * MARGIN, rows * CELL.1 + 2 * MARGIN);
    let mut picture = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}\" height=\"{height}\" viewBox=\"0 0 {width} {height}\" role=\"img\">\n<title>{}</title>\n<rect width=\"{width}\" height=\"{height}\" rx=\"6\" fill=\"{}\"/>\n<g font-family=\"ui-monospace, 'DejaVu Sans Mono', Menlo, Consolas, monospace\" font-size=\"13\" xml:space=\"preserve\">\n",
        escaped(title),
        hex(ground.background),
    );
    for y in 0..buffer.area.height {
        let runs = runs(buffer, y);
        for run in &runs {
            let (_, back) = colours(&buffer[(run.start, y)], ground);
            if back != ground.background {
                let _ = writeln!(
                    picture,
                    "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"{}\"/>",
                    MARGIN + usize::from(run.start) * CELL.0,
                    MARGIN + usize::from(y) * CELL.1,
                    usize::from(run.end - run.start) * CELL.0,
                    CELL.1,
                    hex(back)
                );
            }
        }
        for run in &runs {
            text(&mut picture, buffer, run, y, ground);
        }
    }
    picture.push_str("</g>\n</svg>\n");
    picture
}

/// Columns that look alike.
struct Run {
    start: u16,
    end: u16,
}

fn runs(buffer: &Buffer, y: u16) -> Vec<Run> {
    let look = |x: u16| {
        let cell = &buffer[(x, y)];
        (cell.fg, cell.bg, cell.modifier)
    };
    let mut runs: Vec<Run> = Vec::new();
    for x in 0..buffer.area.width {
        match runs.last_mut() {
            Some(run) if look(run.start) == look(x) => run.end = x + 1,
            _ => runs.push(Run {
                start: x,
                end: x + 1,
            }),
        }
    }
    runs
}

fn text(picture: &mut String, buffer: &Buffer, run: &Run, y: u16, ground: Ground) {
    let mut words = String::new();
    let mut x = run.start;
    while x < run.end {
        let symbol = buffer[(x, y)].symbol();
        words.push_str(symbol);
        x += symbol.width().max(1) as u16;
    }
    let cell = &buffer[(run.start, y)];
    let underlined = cell.modifier.contains(Modifier::UNDERLINED);
    let shown = if underlined {
        &*words
    } else {
        words.trim_end()
    };
    let before = shown.len() - shown.trim_start().len();
    let (blank, shown) = if underlined {
        ("", shown)
    } else {
        shown.split_at(before)
    };
    if shown.is_empty() {
        return;
    }
    let (front, _) = colours(cell, ground);
    let mut style = String::new();
    for (modifier, written) in [
        (Modifier::BOLD, " font-weight=\"bold\""),
        (Modifier::ITALIC, " font-style=\"italic\""),
        (Modifier::UNDERLINED, " text-decoration=\"underline\""),
        (Modifier::DIM, " opacity=\"0.66\""),
    ] {
        if cell.modifier.contains(modifier) {
            style.push_str(written);
        }
    }
    let _ = writeln!(
        picture,
        "<text x=\"{}\" y=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\" fill=\"{}\"{style}>{}</text>",
        MARGIN + (usize::from(run.start) + blank.width()) * CELL.0,
        MARGIN + usize::from(y) * CELL.1 + BASELINE,
        shown.width() * CELL.0,
        hex(front),
        escaped(shown)
    );
}

/// The colours of text and background, turned around where the cell says so.
fn colours(cell: &Cell, ground: Ground) -> (u32, u32) {
    let front = rgb(cell.fg).unwrap_or(ground.text);
    let back = rgb(cell.bg).unwrap_or(ground.background);
    if cell.modifier.contains(Modifier::REVERSED) {
        (back, front)
    } else {
        (front, back)
    }
}

/// The 16 colours as xterm has them by default, the others by its formula.
fn rgb(colour: Color) -> Option<u32> {
    const SIXTEEN: [u32; 16] = [
        0x00_0000, 0xcd_0000, 0x00_cd00, 0xcd_cd00, 0x00_00ee, 0xcd_00cd, 0x00_cdcd, 0xe5_e5e5,
        0x7f_7f7f, 0xff_0000, 0x00_ff00, 0xff_ff00, 0x5c_5cff, 0xff_00ff, 0x00_ffff, 0xff_ffff,
    ];
    let number = match colour {
        Color::Reset => return None,
        Color::Rgb(red, green, blue) => {
            return Some(u32::from_be_bytes([0, red, green, blue]));
        }
        Color::Indexed(number) => number,
        Color::Black => 0,
        Color::Red => 1,
        Color::Green => 2,
        Color::Yellow => 3,
        Color::Blue => 4,
        Color::Magenta => 5,
        Color::Cyan => 6,
        Color::Gray => 7,
        Color::DarkGray => 8,
        Color::LightRed => 9,
        Color::LightGreen => 10,
        Color::LightYellow => 11,
        Color::LightBlue => 12,
        Color::LightMagenta => 13,
        Color::LightCyan => 14,
        Color::White => 15,
    };
    Some(match number {
        0..16 => SIXTEEN[usize::from(number)],
        16..232 => {
            let level = |part: u8| match part {
                0 => 0,
                part => 55 + 40 * part,
            };
            let at = number - 16;
            u32::from_be_bytes([0, level(at / 36), level(at / 6 % 6), level(at % 6)])
        }
        grey => u32::from(8 + 10 * (grey - 232)) * 0x01_0101,
    })
}

fn hex(colour: u32) -> String {
    format!("#{colour:06x}")
}

fn escaped(text: &str) -> String {
    text.replace('&', "&amp;")
        .replace('<', "&lt;")
        .replace('>', "&gt;")
}

#[test]
fn a_picture_holds_the_words_at_their_columns_and_escapes_them() {
    let mut buffer = Buffer::empty(ratatui::layout::Rect::new(0, 0, 12, 2));
    buffer.set_string(2, 0, "a<b & 油", ratatui::style::Style::new());
    let bold = ratatui::style::Style::new()
        .fg(Color::Indexed(196))
        .add_modifier(Modifier::BOLD | Modifier::REVERSED);
    buffer.set_string(1, 1, "x", bold);
    let picture = svg(&buffer, "A & B", DARK);
    assert!(picture.contains("<title>A &amp; B</title>"));
    // Column 2 is at 8 + 2 * 8; eight cells wide, for the last sign takes two.
    assert!(picture.contains(
        "<text x=\"24\" y=\"21\" textLength=\"64\" lengthAdjust=\"spacingAndGlyphs\" fill=\"#d8d8d8\">a&lt;b &amp; 油</text>"
    ));
    assert!(
        picture.contains("<rect x=\"16\" y=\"25\" width=\"8\" height=\"17\" fill=\"#ff0000\"/>")
    );
    assert!(picture.contains("fill=\"#16181c\" font-weight=\"bold\">x</text>"));
}

#[test]
fn colours_by_number_are_those_of_xterm() {
    // From xterm's 256colres.h, from memory: 16 is black, 21 blue, 231 white, 244 a grey.
    for (number, expected) in [(16, 0), (21, 0x0000ff), (231, 0xff_ffff), (244, 0x80_8080)] {
        assert_eq!(rgb(Color::Indexed(number)), Some(expected));
    }
}
