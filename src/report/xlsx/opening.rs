//! The first sheet, which explains the workbook, and the last, which explains its columns.

use rust_xlsxwriter::{RowNum, Url, Worksheet, XlsxError};

use super::Opening;
use super::sheet::{heading, print_setup};
use super::styles::Styles;
use crate::model::printable::printable;
use crate::report::Place;
use crate::report::pack::Sheet;
use crate::report::wording::count;

/// A sheet with the number of its rows.
pub struct Listed {
    pub sheet: Sheet,
    pub rows: u64,
}

/// What to know of every sheet.
const READING: &[&str] = &[
    "Times are in UTC. Shares are parts of one, shown as percentages; scores are percents.",
    "A blank is not recorded or can't be said; it is never 0, never a pass and never a fail.",
    "Colours only repeat what a word says: a verdict, a signal, how much a number carries.",
    "Shares of people are no ranking. Points differ: see the sheets People and Points.",
    "Where draws are looked at on the spot: hot oil, pressure, moving parts. Local codes, the site's \
     permit rules and qualified people come first.",
];

/// The first sheet.
pub fn first_sheet(
    opening: &Opening<'_>,
    listed: &[Listed],
    styles: &Styles,
) -> Result<Worksheet, XlsxError> {
    let mut sheet = Worksheet::new();
    sheet.set_name("About")?;
    sheet.set_screen_gridlines(false);
    sheet.set_column_width(0, 26)?;
    sheet.set_column_width(1, 92)?;
    sheet.set_column_width(2, 12)?;
    sheet.write_string_with_format(0, 0, opening.title, &styles.title)?;
    sheet.set_row_height(0, 28)?;
    let mut row: RowNum = 2;
    for (label, value) in opening.facts {
        sheet.write_string_with_format(row, 0, *label, &styles.label)?;
        let value = printable(value);
        sheet.write_string_with_format(row, 1, value.as_ref(), &styles.wrapped)?;
        row += 1;
    }
    row += 1;
    for (place, title) in (0..).zip(["Sheet", "What is in it", "Rows"]) {
        sheet.write_string_with_format(row, place, title, &styles.head)?;
    }
    row += 1;
    let columns_sheet = ("Columns", "What every column of every sheet holds.", None);
    let all = listed
        .iter()
        .map(|it| (it.sheet.title, it.sheet.about, Some(it.rows)));
    for (title, about, rows) in all.chain([columns_sheet]) {
        let link = Url::new(format!("internal:'{title}'!A1")).set_text(title);
        sheet.write_url_with_format(row, 0, link, &styles.link)?;
        sheet.write_string_with_format(row, 1, about, &styles.wrapped)?;
        if let Some(rows) = rows {
            sheet.write_number_with_format(
                row,
                2,
                rows as f64,
                styles.of(crate::report::Holds::Count),
            )?;
        }
        row += 1;
    }
    row += 1;
    sheet.write_string_with_format(row, 0, "How to read it", &styles.heading)?;
    row += 1;
    let said = opening.remarks.iter().map(String::as_str);
    for text in READING.iter().copied().chain(said) {
        sheet.merge_range(row, 0, row, 1, &printable(text), &styles.note)?;
        // The merged cells hold some 115 characters a line.
        let lines = text.chars().count().div_ceil(115).max(1);
        sheet.set_row_height(row, 16.0 * lines as f64)?;
        row += 1;
    }
    print_setup(&mut sheet);
    sheet.set_active(true);
    Ok(sheet)
}

/// The last sheet.
pub fn columns_sheet(listed: &[Listed], styles: &Styles) -> Result<Worksheet, XlsxError> {
    let mut sheet = Worksheet::new();
    sheet.set_name("Columns")?;
    for (place, (title, width)) in (0..).zip([
        ("Sheet", 24),
        ("Column", 26),
        ("Name in CSV and JSON", 26),
        ("What it holds", 100),
    ]) {
        sheet.set_column_width(place, width)?;
        sheet.write_string_with_format(0, place, title, &styles.head)?;
    }
    let mut row: RowNum = 1;
    for Listed { sheet: table, .. } in listed {
        for column in table
            .columns
            .iter()
            .filter(|it| it.place == Place::Everywhere)
        {
            let texts = [table.title, &heading(column), column.name, column.meaning];
            for (place, text) in (0..).zip(texts) {
                let text = text.replace('`', "");
                sheet.write_string_with_format(row, place, text, &styles.wrapped)?;
            }
            row += 1;
        }
    }
    sheet.set_freeze_panes(1, 0)?;
    sheet.autofilter(0, 0, row.saturating_sub(1).max(1), 3)?;
    print_setup(&mut sheet);
    sheet.set_repeat_rows(0, 0)?;
    Ok(sheet)
}

/// What is said where the draws are left out.
pub fn left_out(draws: u64) -> String {
    format!(
        "The {} draws are not in this workbook: so many rows would take too long to open. They \
         stand in tables/draws.csv and tables/draws.json.",
        count(draws)
    )
}
