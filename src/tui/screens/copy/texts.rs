//! What there is to copy: the texts, or why there is none.

use super::listing::Listing;
use super::lists;
use crate::report::copied;
use crate::tui::app::App;
use crate::tui::clipboard::MOST;
use crate::tui::command_line;
use crate::tui::text;

/// No row of draws has fewer bytes: verdict 8, time 16, three names of 1, ten tabs and the end.
const LEAST_ROW: usize = 8 + 16 + 3 + 10 + 1;

/// So many rows of draws may be copied: of those the records are read.
pub(super) const MOST_ROWS: usize = MOST / LEAST_ROW;

/// The texts as they are copied, and what is said of them.
#[derive(Clone, Debug)]
pub(super) struct Texts {
    pub(super) cell: Result<String, String>,
    pub(super) about_cell: String,
    pub(super) row: Result<String, String>,
    pub(super) about_row: String,
    pub(super) list: Result<String, String>,
    pub(super) about_list: String,
    /// How many rows of the list a clipboard does not take.
    pub(super) left_out: usize,
    /// The command line that writes all of the list.
    pub(super) export: Option<String>,
    pub(super) filter: Result<String, String>,
    pub(super) command: Result<String, String>,
    /// How many cells the row has.
    pub(super) cells: usize,
    /// The cell that is chosen at first.
    pub(super) first_cell: usize,
}

impl Texts {
    /// Of what is on screen, with this cell of the row chosen.
    pub(super) fn of(app: &App, cell: Option<usize>) -> Self {
        let mut texts = Texts {
            cell: Err("no row is chosen".to_owned()),
            about_cell: String::new(),
            row: Err("no row is chosen".to_owned()),
            about_row: String::new(),
            list: Err("there is no list here".to_owned()),
            about_list: String::new(),
            left_out: 0,
            export: command_line::of(app)
                .map(|line| line.and("--format").and("csv"))
                .map(|line| line.typed(app)),
            filter: Ok(app.filter.to_string()),
            command: command_line::of(app)
                .map(|line| line.typed(app))
                .ok_or_else(|| "no command line tells what is on screen here".to_owned()),
            cells: 0,
            first_cell: 0,
        };
        if app.filter.is_empty() {
            texts.filter = Err("there is no filter; every draw is in view".to_owned());
        }
        if let Some(listing) = lists::of(app) {
            texts.first_cell = listing.first_cell;
            texts.take_row(&listing, cell.unwrap_or(listing.first_cell));
            texts.take_list(&listing);
        }
        texts
    }

    fn take_row(&mut self, listing: &Listing<'_>, cell: usize) {
        let Some(cells) = listing.chosen_row() else {
            return;
        };
        self.cells = cells.len();
        let heading = listing.headings.get(cell);
        if let (Some(cell_words), Some(heading)) = (cells.get(cell).map(copied::words), heading) {
            self.about_cell = format!("{heading}, {} of {}", cell + 1, cells.len());
            self.cell = match cell_words.as_str() {
                "" => Err(format!("{heading} is blank")),
                _ => Ok(cell_words),
            };
        }
        let cells = text::plural(cells.len() as u64, "cell", "cells");
        self.about_row = format!("{cells} with headings, tabs between them");
        let line = copied::line(&listing.chosen_row().unwrap_or_default());
        self.row = Ok(format!("{}\n{line}\n", listing.heading_line()));
    }

    /// The rows from the first, as many as a clipboard takes.
    fn take_list(&mut self, listing: &Listing<'_>) {
        if listing.len == 0 {
            self.list = Err("the list is empty".to_owned());
            return;
        }
        let mut list = format!("{}\n", listing.heading_line());
        let mut rows = 0;
        while rows < listing.len {
            let line = copied::line(&(listing.row)(rows));
            if list.len() + line.len() + 1 > MOST {
                break;
            }
            list.push_str(&line);
            list.push('\n');
            rows += 1;
        }
        self.about_list = if rows == listing.len {
            let rows = text::plural(rows as u64, "row", "rows");
            format!("all {rows} with headings")
        } else {
            let all = text::plural(listing.len as u64, "row", "rows");
            let first = text::count(rows as u64);
            format!("the first {first} of {all}, all that a terminal takes")
        };
        self.left_out = listing.len - rows;
        self.list = Ok(list);
    }
}
