//! Aligned text that fits the terminal.

use std::fmt::Write as _;
use std::io::{self, Write};

use anstyle::{AnsiColor, Style};
use unicode_segmentation::UnicodeSegmentation;
use unicode_width::UnicodeWidthStr;

use super::{Cell, Column, Place, Writer, two_decimals};
use crate::model::Verdict;
use crate::model::answer::tidy;
use crate::model::printable::printable;
use crate::model::time::utc_text;

/// Rows looked at before the widths of a table are fixed. A longer table keeps them.
const ROWS_MEASURED: usize = 1000;
/// Columns of text are not made narrower than this; rather, one is left out.
const NARROWEST: usize = 8;
/// Blanks between two columns.
const GAP: usize = 2;

/// What the output is looked at with.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Look {
    width: Option<usize>,
    colour: bool,
}

impl Look {
    /// A file or a pipe: any width, no colour.
    #[must_use]
    pub const fn file() -> Self {
        Look {
            width: None,
            colour: false,
        }
    }

    /// A terminal of so many columns.
    #[must_use]
    pub const fn terminal(width: usize, colour: bool) -> Self {
        Look {
            width: Some(width),
            colour,
        }
    }

    /// Whether a terminal will interpret what is written.
    #[must_use]
    pub const fn is_terminal(self) -> bool {
        self.width.is_some()
    }
}

/// Writes rows as an aligned table. Keeps the first rows back to measure them.
pub struct TableWriter<'w> {
    columns: &'static [Column],
    look: Look,
    out: &'w mut dyn Write,
    measured: Vec<Vec<Piece>>,
    widths: Option<Vec<Option<usize>>>,
}

/// The text of one cell and how it is set.
struct Piece {
    text: String,
    right: bool,
    style: Style,
}

impl<'w> TableWriter<'w> {
    /// A table on to this output.
    pub fn new(columns: &'static [Column], look: Look, out: &'w mut dyn Write) -> Self {
        TableWriter {
            columns,
            look,
            out,
            measured: Vec::new(),
            widths: None,
        }
    }

    fn write_measured(&mut self) -> io::Result<()> {
        if self.widths.is_none() {
            let widths = fit(self.columns, &self.measured, self.look.width);
            let right = |place: usize| {
                let mut cells = self.measured.iter().map(|row| &row[place]);
                cells.any(|piece| piece.right)
                    && self
                        .measured
                        .iter()
                        .all(|row| row[place].right || row[place].text.is_empty())
            };
            let heading: Vec<Piece> = (self.columns.iter().enumerate())
                .map(|(place, column)| Piece {
                    text: column.title.to_owned(),
                    right: right(place),
                    style: Style::new().bold(),
                })
                .collect();
            line(self.out, &heading, &widths, self.look.colour)?;
            self.widths = Some(widths);
        }
        let widths = self.widths.as_deref().unwrap_or_default();
        for row in self.measured.drain(..) {
            line(self.out, &row, widths, self.look.colour)?;
        }
        Ok(())
    }
}

impl Writer for TableWriter<'_> {
    fn row(&mut self, cells: &[Cell<'_>]) -> io::Result<()> {
        self.measured.push(cells.iter().map(piece).collect());
        if self.widths.is_some() || self.measured.len() == ROWS_MEASURED {
            self.write_measured()?;
        }
        Ok(())
    }

    fn finish(mut self: Box<Self>) -> io::Result<()> {
        self.write_measured()
    }
}

/// A cell in words, without control characters.
pub(super) fn words(cell: &Cell<'_>) -> String {
    piece(cell).text
}

fn piece(cell: &Cell<'_>) -> Piece {
    let (text, right) = match cell {
        Cell::Blank | Cell::Fields(_) | Cell::Items(_) => (String::new(), false),
        Cell::Text(text) => (printable(text).into_owned(), false),
        Cell::Exact(text) => (printable(text).into_owned(), false),
        Cell::Count(count) => (count.to_string(), true),
        Cell::Quantity(value) => (significant(*value), true),
        Cell::Rounded(value, decimals) => (rounded(*value, *decimals), true),
        Cell::Score(score) => (two_decimals(*score), true),
        Cell::Part(part) => (percent(*part), true),
        Cell::YesNo(yes) => ((if *yes { "yes" } else { "no" }).to_owned(), false),
        Cell::Time(at) => (utc_text(*at), false),
        Cell::Day(day) => (day.to_string(), false),
        Cell::Verdict(verdict) => (verdict.to_string(), false),
        Cell::List(items) => (items.join(" "), false),
    };
    let style = match cell {
        Cell::Verdict(verdict) => verdict_style(*verdict),
        _ => Style::new(),
    };
    Piece { text, right, style }
}

/// A percentage with one decimal.
pub(super) fn percent(part: f64) -> String {
    format!("{:.1} %", part * 100.0)
}

/// So many decimals; what rounds to 0 has no sign.
fn rounded(value: f64, decimals: usize) -> String {
    let text = format!("{value:.decimals$}");
    match text.strip_prefix('-') {
        Some(zero) if zero.bytes().all(|byte| matches!(byte, b'0' | b'.')) => zero.to_owned(),
        _ => text,
    }
}

/// Two decimals where they say something, four figures where the value is small.
fn significant(value: f64) -> String {
    let size = value.abs();
    if value == 0.0 || size >= 1.0 {
        tidy(value)
    } else if size >= 1e-4 {
        let decimals = 3 - size.log10().floor() as i32;
        format!("{value:.*}", usize::try_from(decimals).unwrap_or(4))
    } else {
        format!("{value:.3e}")
    }
}

/// The word says it; the colour only helps to find it.
fn verdict_style(verdict: Verdict) -> Style {
    match verdict {
        Verdict::Unrepresentative => Style::new().bold().fg_color(Some(AnsiColor::Red.into())),
        Verdict::Unproven => Style::new().fg_color(Some(AnsiColor::Cyan.into())),
        Verdict::Doubtful => Style::new().fg_color(Some(AnsiColor::Yellow.into())),
        Verdict::Representative => Style::new(),
    }
}

/// The width of each column, `None` for one that is left out. Where the table is too wide,
/// the widest columns of text give way first, then spare columns go.
fn fit(columns: &[Column], rows: &[Vec<Piece>], limit: Option<usize>) -> Vec<Option<usize>> {
    let natural = |place: usize| {
        let cells = rows.iter().map(|row| row[place].text.width());
        cells.chain([columns[place].title.width()]).max()
    };
    let is_text = |place: usize| !rows.iter().any(|row| row[place].right);
    let mut widths: Vec<Option<usize>> = (0..columns.len())
        .map(|place| {
            let shown = !columns[place].title.is_empty() && columns[place].place != Place::JsonOnly;
            shown.then(|| natural(place)).flatten()
        })
        .collect();
    let Some(limit) = limit else { return widths };
    while total(&widths) > limit {
        let widest = (0..columns.len())
            .filter(|place| is_text(*place))
            .filter_map(|place| widths[place].map(|width| (width, place)))
            .max();
        let sparest = (0..columns.len())
            .filter(|place| widths[*place].is_some() && columns[*place].spare > 0)
            .max_by_key(|place| columns[*place].spare);
        let excess = total(&widths) - limit;
        match (widest, sparest) {
            (Some((width, place)), _) if width > 2 * NARROWEST => {
                widths[place] = Some((width - excess.min(width)).max(2 * NARROWEST));
            }
            (_, Some(place)) => widths[place] = None,
            (Some((width, place)), None) if width > NARROWEST => {
                widths[place] = Some((width - excess.min(width)).max(NARROWEST));
            }
            _ => break,
        }
    }
    widths
}

fn total(widths: &[Option<usize>]) -> usize {
    let shown = widths.iter().flatten();
    let gaps = shown.clone().count().saturating_sub(1) * GAP;
    shown.sum::<usize>() + gaps
}

/// Writes one row. Words that do not fit are cut, but in the last column they go on below.
fn line(
    out: &mut dyn Write,
    row: &[Piece],
    widths: &[Option<usize>],
    colour: bool,
) -> io::Result<()> {
    let last = widths.iter().rposition(Option::is_some);
    let mut text = String::new();
    let mut pending = 0;
    let mut used = 0;
    let mut below = Vec::new();
    for (place, (piece, width)) in row.iter().zip(widths).enumerate() {
        let Some(width) = *width else { continue };
        let shown = if Some(place) == last && !piece.right {
            below = wrapped(&piece.text, width);
            if below.is_empty() {
                String::new()
            } else {
                below.remove(0)
            }
        } else {
            cut(&piece.text, width)
        };
        let pad = width - shown.width().min(width);
        let before = if piece.right { pad } else { 0 };
        text.extend(std::iter::repeat_n(' ', pending + before));
        if colour && piece.style != Style::new() {
            // Writing to a text cannot fail.
            let _ = write!(text, "{}{shown}{:#}", piece.style, piece.style);
        } else {
            text.push_str(&shown);
        }
        pending = GAP + pad - before;
        used += if Some(place) == last { 0 } else { width + GAP };
    }
    text.truncate(text.trim_end_matches(' ').len());
    text.push('\n');
    for further in below {
        // Writing to a text cannot fail.
        let _ = writeln!(text, "{:used$}{further}", "");
    }
    out.write_all(text.as_bytes())
}

/// The text in lines of at most this width, broken between words.
pub(super) fn wrapped(text: &str, width: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.width() + 1 + word.width() <= width => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(cut(word, width)),
        }
    }
    lines
}

/// The text, cut to a width with an ellipsis; whole characters as a reader sees them.
fn cut(text: &str, width: usize) -> String {
    if text.width() <= width {
        return text.to_owned();
    }
    let mut kept = String::new();
    let mut used = 0;
    for cluster in text.graphemes(true) {
        let next = cluster.width();
        if used + next + 1 > width {
            break;
        }
        used += next;
        kept.push_str(cluster);
    }
    kept.push('…');
    kept
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;
    use crate::report::{Format, Holds, writer};

    const COLUMNS: &[Column] = &[
        Column {
            name: "id",
            title: "draw",
            meaning: "",
            holds: Holds::Words,
            place: Place::Everywhere,
            spare: 0,
        },
        Column {
            name: "remarks",
            title: "remarks",
            meaning: "",
            holds: Holds::Words,
            place: Place::Everywhere,
            spare: 0,
        },
        Column {
            name: "score",
            title: "score",
            meaning: "",
            holds: Holds::Number,
            place: Place::Everywhere,
            spare: 1,
        },
    ];

    fn written(rows: &[[Cell<'_>; 3]], look: Look) -> String {
        let mut out = Vec::new();
        let mut table = writer(Format::Table, COLUMNS, look, &mut out).unwrap();
        for row in rows {
            table.row(row).unwrap();
        }
        table.finish().unwrap();
        String::from_utf8(out).unwrap()
    }

    #[test]
    fn numbers_stand_right_and_words_left() {
        let rows = [
            [Cell::text("D-1"), Cell::text("Öl"), Cell::Score(100.0)],
            [Cell::text("D-200"), Cell::Blank, Cell::Score(5.0)],
        ];
        assert_eq!(
            written(&rows, Look::file()),
            "draw   remarks   score\nD-1    Öl       100.00\nD-200             5.00\n"
        );
    }

    #[test]
    fn a_narrow_terminal_cuts_text_and_leaves_spare_columns_out() {
        let long = "a remark that goes on and on for much too long";
        let rows = [[Cell::text("D-1"), Cell::text(long), Cell::Score(50.0)]];
        let fitted = written(&rows, Look::terminal(40, false));
        assert!(fitted.lines().all(|line| line.width() <= 40), "{fitted}");
        assert!(fitted.contains("…") && fitted.contains("50.00"));
        let narrow = written(&rows, Look::terminal(24, false));
        assert!(narrow.lines().all(|line| line.width() <= 24), "{narrow}");
        assert!(!narrow.contains("50.00"));
    }

    #[test]
    fn words_of_the_last_column_go_on_below() {
        let mut out = Vec::new();
        let look = Look::terminal(24, false);
        let mut table = writer(Format::Table, &COLUMNS[..2], look, &mut out).unwrap();
        table
            .row(&[
                Cell::text("D-1"),
                Cell::text("flush-met fill-level looked-at"),
            ])
            .unwrap();
        table.finish().unwrap();
        assert_eq!(
            String::from_utf8(out).unwrap(),
            "draw  remarks\nD-1   flush-met\n      fill-level\n      looked-at\n"
        );
    }

    #[test]
    fn what_rounds_to_nothing_has_no_sign() {
        let rounded = [(-0.04, "0.0"), (-0.06, "-0.1"), (12.345, "12.3")];
        for (value, text) in rounded {
            assert_eq!(super::rounded(value, 1), text);
        }
    }

    #[test]
    fn wide_characters_are_never_cut_in_half() {
        assert_eq!(cut("油油油", 5), "油油…");
        assert_eq!(cut("油油油", 4), "油…");
    }

    #[test]
    fn text_from_files_cannot_drive_the_terminal() {
        let rows = [[Cell::text("a\u{1b}[2Jb"), Cell::Blank, Cell::Blank]];
        let text = written(&rows, Look::terminal(80, true));
        assert!(!text.contains("\u{1b}[2J"));
    }
}
