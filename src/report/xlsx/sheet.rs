//! One table as a sheet.

use std::borrow::Cow;

use rust_xlsxwriter::{
    ColNum, Color, ConditionalFormatCell, ConditionalFormatCellRule, ConditionalFormatDataBar,
    ExcelDateTime, Format, RowNum, Worksheet, XlsxError,
};

use super::styles::Styles;
use crate::model::Verdict;
use crate::model::formula::is_formula;
use crate::model::printable::printable;
use crate::report::pack::Sheet;
use crate::report::{Cell, Column, Holds, Place, two_decimals};

/// The narrowest and the widest a column is made, in characters.
const NARROWEST: usize = 8;
const WIDEST: usize = 60;
/// The sign of a filter beside a heading.
const FILTER: usize = 3;
/// So many rows are looked at for the widths of a long table.
const MEASURED: RowNum = 5000;
/// The most characters a cell of a workbook can hold are 32,767.
const LONGEST: usize = 32_000;

/// Words of cells that are coloured beside the verdicts, and what they are like.
const TELLING: &[(&str, Telling)] = &[
    ("above the limit", Telling::Alert),
    ("eight or more in a row above the centre", Telling::Alert),
    ("below the limit", Telling::Good),
    ("eight or more in a row below the centre", Telling::Good),
    ("more than peers", Telling::Alert),
    ("overdue", Telling::Alert),
    ("open", Telling::Doubtful),
    ("answered", Telling::Good),
    ("closed", Telling::Open),
    ("withdrawn", Telling::Open),
    ("disagree", Telling::Alert),
];

#[derive(Clone, Copy)]
enum Telling {
    Alert,
    Doubtful,
    Good,
    Open,
}

/// A sheet being filled.
pub struct Filling {
    worksheet: Worksheet,
    next: RowNum,
    /// The longest text of each shown column so far.
    longest: Vec<usize>,
}

/// The columns that a workbook shows, with their places among all.
fn shown(sheet: Sheet) -> impl Iterator<Item = (usize, &'static Column)> {
    let columns = sheet.columns.iter().enumerate();
    columns.filter(|(_, column)| column.place == Place::Everywhere)
}

/// Whether the workbook can show anything of the table.
pub fn has_columns(sheet: Sheet) -> bool {
    shown(sheet).next().is_some()
}

/// The heading of a column: its name in words.
pub fn heading(column: &Column) -> String {
    let mut words = column.name.replace('_', " ");
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    if column.holds == Holds::Time {
        words.push_str(" (UTC)");
    }
    words
}

impl Filling {
    /// A sheet with its headings.
    pub fn new(mut worksheet: Worksheet, sheet: Sheet, styles: &Styles) -> Result<Self, XlsxError> {
        worksheet.set_name(sheet.title)?;
        let mut longest = Vec::new();
        for (place, (_, column)) in (0..).zip(shown(sheet)) {
            let words = heading(column);
            worksheet.write_string_with_format(0, place, &words, &styles.head)?;
            // A heading may take two lines.
            let longest_word = words.split(' ').map(str::len).max().unwrap_or(0);
            longest.push((words.len().div_ceil(2)).max(longest_word) + FILTER);
        }
        Ok(Filling {
            worksheet,
            next: 1,
            longest,
        })
    }

    /// Adds a row.
    pub fn row(
        &mut self,
        sheet: Sheet,
        cells: &[Cell<'_>],
        styles: &Styles,
    ) -> Result<(), XlsxError> {
        for (at, (place, column)) in (0..).zip(shown(sheet)) {
            let long = self.cell(at, &cells[place], column.holds, styles)?;
            if self.next <= MEASURED {
                let longest = &mut self.longest[usize::from(at)];
                *longest = (*longest).max(long);
            }
        }
        self.next += 1;
        Ok(())
    }

    /// Writes a cell and says how many characters it shows.
    fn cell(
        &mut self,
        at: ColNum,
        cell: &Cell<'_>,
        holds: Holds,
        styles: &Styles,
    ) -> Result<usize, XlsxError> {
        let row = self.next;
        let format = styles.of(holds);
        match cell {
            Cell::Blank | Cell::Fields(_) | Cell::Items(_) => Ok(0),
            Cell::Text(text) => self.words(at, text, styles),
            Cell::Exact(text) => self.words(at, text, styles),
            Cell::Verdict(verdict) => self.words(at, verdict.as_str(), styles),
            Cell::List(items) => self.words(at, &items.join("; "), styles),
            Cell::Count(count) => self.number(at, *count as f64, format),
            Cell::Quantity(value) | Cell::Rounded(value, _) | Cell::Part(value) => {
                self.number(at, *value, format)
            }
            // As everywhere: two decimals, the half rounded up.
            Cell::Score(score) => {
                let rounded = two_decimals(*score).parse().unwrap_or(*score);
                self.number(at, rounded, format)
            }
            Cell::YesNo(yes) => {
                self.worksheet
                    .write_boolean_with_format(row, at, *yes, format)?;
                Ok(5)
            }
            Cell::Time(seconds) => match ExcelDateTime::from_timestamp(*seconds) {
                Ok(time) => {
                    self.worksheet
                        .write_datetime_with_format(row, at, &time, format)?;
                    Ok(16)
                }
                // A year that no workbook can hold is told in words.
                Err(_) => self.words(at, &crate::model::time::utc_text(*seconds), styles),
            },
            Cell::Day(day) => match ExcelDateTime::parse_from_str(&day.to_string()) {
                Ok(time) => {
                    self.worksheet
                        .write_datetime_with_format(row, at, &time, format)?;
                    Ok(10)
                }
                Err(_) => self.words(at, &day.to_string(), styles),
            },
        }
    }

    fn number(&mut self, at: ColNum, value: f64, format: &Format) -> Result<usize, XlsxError> {
        if !value.is_finite() {
            return Ok(0);
        }
        self.worksheet
            .write_number_with_format(self.next, at, value, format)?;
        let digits = format!("{:.0}", value.abs()).len();
        Ok(digits + digits / 3 + 5)
    }

    fn words(&mut self, at: ColNum, text: &str, styles: &Styles) -> Result<usize, XlsxError> {
        if text.is_empty() {
            return Ok(0);
        }
        let text = fitting(text);
        let format = styles.words(is_formula(&text));
        self.worksheet
            .write_string_with_format(self.next, at, text.as_ref(), format)?;
        Ok(text.chars().count())
    }

    /// Sets up what concerns the whole sheet; gives it with the number of its rows.
    pub fn finish(mut self, sheet: Sheet, styles: &Styles) -> Result<(Worksheet, u64), XlsxError> {
        let worksheet = &mut self.worksheet;
        let last = self.next - 1;
        let columns = ColNum::try_from(self.longest.len()).unwrap_or(ColNum::MAX);
        for (at, longest) in (0..).zip(&self.longest) {
            let width = (longest + 1).clamp(NARROWEST, WIDEST);
            worksheet.set_column_width(at, width as f64)?;
        }
        worksheet.set_freeze_panes(1, 1)?;
        worksheet.autofilter(0, 0, last.max(1), columns.saturating_sub(1))?;
        if last > 0 {
            for (at, (_, column)) in (0..).zip(shown(sheet)) {
                colour(worksheet, at, last, column, styles)?;
            }
        }
        print_setup(worksheet);
        worksheet.set_repeat_rows(0, 0)?;
        Ok((self.worksheet, u64::from(last)))
    }
}

/// A page of A4, landscape, one page wide, numbered.
pub fn print_setup(worksheet: &mut Worksheet) {
    worksheet
        .set_paper_size(9)
        .set_landscape()
        .set_print_fit_to_pages(1, 0)
        .set_margins(0.5, 0.5, 0.7, 0.7, 0.3, 0.3)
        .set_header("&L&A")
        .set_footer("&L&F&RPage &P of &N");
}

/// Colours what the words of a column say, and puts bars behind shares.
fn colour(
    worksheet: &mut Worksheet,
    at: ColNum,
    last: RowNum,
    column: &Column,
    styles: &Styles,
) -> Result<(), XlsxError> {
    let mut when = |word: &str, format: &Format| {
        let rule = ConditionalFormatCellRule::EqualTo(word.to_owned());
        let rule = ConditionalFormatCell::new()
            .set_rule(rule)
            .set_format(format);
        worksheet
            .add_conditional_format(1, at, last, at, &rule)
            .map(|_| ())
    };
    match (column.holds, column.name) {
        (Holds::Verdict, _) => {
            for (verdict, format) in [
                (Verdict::Unrepresentative, &styles.alert),
                (Verdict::Doubtful, &styles.doubtful),
                (Verdict::Representative, &styles.good),
                (Verdict::Unproven, &styles.open),
            ] {
                when(verdict.as_str(), format)?;
            }
        }
        (Holds::Words, "signal" | "says" | "status" | "state" | "result") => {
            for (word, telling) in TELLING {
                let format = match telling {
                    Telling::Alert => &styles.alert,
                    Telling::Doubtful => &styles.doubtful,
                    Telling::Good => &styles.good,
                    Telling::Open => &styles.open,
                };
                when(word, format)?;
            }
        }
        (Holds::Part, "share") => {
            let bar = ConditionalFormatDataBar::new()
                .set_fill_color(Color::RGB(0x00BF_D7E2))
                .set_solid_fill(true)
                .set_minimum(rust_xlsxwriter::ConditionalFormatType::Number, 0)
                .set_maximum(rust_xlsxwriter::ConditionalFormatType::Number, 1);
            worksheet.add_conditional_format(1, at, last, at, &bar)?;
        }
        _ => {}
    }
    Ok(())
}

/// The text as a workbook can hold it: no control characters, none that XML forbids, not
/// longer than a cell.
fn fitting(text: &str) -> Cow<'_, str> {
    let text = printable(text);
    let is_forbidden = |c: char| matches!(c, '\u{fffe}' | '\u{ffff}');
    if text.len() <= LONGEST && !text.contains(is_forbidden) {
        return text;
    }
    let mut units = 0;
    let fits = text.chars().take_while(|c| {
        units += c.len_utf16();
        units < LONGEST
    });
    let mut cut: String = fits
        .map(|c| if is_forbidden(c) { '\u{fffd}' } else { c })
        .collect();
    if units >= LONGEST {
        cut.push('…');
    }
    Cow::Owned(cut)
}
