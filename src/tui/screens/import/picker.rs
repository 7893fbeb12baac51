//! Choosing what to take in: a line with a path, and below it what lies there.

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Rect, Size};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use crate::programme::folder::{Entry, What, is_taken_with_folder};
use crate::tui::app::App;
use crate::tui::layout;
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;
use crate::tui::text;
use crate::tui::theme::Theme;
use crate::tui::widgets::table::{self, Column as TableColumn, Look};

/// What lies in a folder, or why that is not known.
pub(crate) type Listing = Arc<Result<Vec<Entry>, String>>;

/// Where the user stands in choosing.
#[derive(Clone, Debug, Default)]
pub(crate) struct Picker {
    pub(crate) line: LineEdit,
    /// The folder that was looked into last, as the line wrote it, and what lies there.
    pub(crate) listed: Option<(String, Listing)>,
    pub(crate) list: ListPlace,
    /// One file is chosen, never all of a folder.
    pub(crate) of_one: bool,
    /// Programme files are chosen rather than tables.
    pub(crate) of_programmes: bool,
    /// Enter was pressed before it was known what lies there; it is done once it is.
    pub(crate) enters: bool,
}

/// A row of the list.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Row<'a> {
    /// All tables of the folder itself whose names say what they hold, or all of them where none
    /// does; how many that are, and of how many.
    All(usize, usize),
    /// To the folder that this one lies in.
    Up,
    Entry(&'a Entry),
}

impl Picker {
    /// Begins in this folder.
    pub(crate) fn at(folder: &str) -> Self {
        Picker {
            line: LineEdit::new(folder),
            ..Picker::default()
        }
    }

    /// The same for choosing a programme file.
    pub(crate) fn of_programmes(folder: &str) -> Self {
        Picker {
            of_programmes: true,
            ..Picker::of_one_sheet(folder)
        }
    }

    /// The same for choosing one table.
    pub(crate) fn of_one_sheet(folder: &str) -> Self {
        Picker {
            of_one: true,
            ..Picker::at(folder)
        }
    }

    /// Takes in what lies in a folder. The first file is chosen, or else the first folder.
    pub(crate) fn keep(&mut self, folder: String, listing: Listing) {
        let is_news = self
            .listed
            .as_ref()
            .is_none_or(|(known, _)| *known != folder);
        self.listed = Some((folder, listing));
        if is_news {
            self.begin_anew();
        }
    }

    /// Chooses the first file of those that pass, or else the first folder.
    pub(crate) fn begin_anew(&mut self) {
        let rows = self.rows();
        let find = |wanted: &dyn Fn(&What) -> bool| {
            let entry = |row: &Row<'_>| matches!(row, Row::Entry(entry) if wanted(&entry.what));
            rows.iter().position(entry)
        };
        let typed = !self.parts().1.is_empty();
        let first = match typed {
            true => None,
            false => find(&|what| *what != What::Folder).or_else(|| find(&|_| true)),
        };
        self.list = ListPlace {
            cursor: first.unwrap_or(0),
            offset: 0,
        };
    }

    /// The line up to and with its last stroke between folders, and what follows.
    pub(crate) fn parts(&self) -> (&str, &str) {
        let line = self.line.text();
        let at = line.rfind(std::path::is_separator).map_or(0, |at| at + 1);
        line.split_at(at)
    }

    /// What lies in the folder of the line, once it is known.
    pub(crate) fn entries(&self) -> Option<&Listing> {
        let (folder, listing) = self.listed.as_ref()?;
        (folder == self.parts().0).then_some(listing)
    }

    /// The rows that pass what is typed: the beginning of a name, or else any part of one.
    pub(crate) fn rows(&self) -> Vec<Row<'_>> {
        let Some(Ok(entries)) = self.entries().map(AsRef::as_ref) else {
            return Vec::new();
        };
        let typed = self.parts().1.to_lowercase();
        if typed.is_empty() {
            let tables = entries.iter().filter(|entry| entry.what != What::Folder);
            let of = tables.count();
            let count = match entries.iter().filter(|it| is_taken_with_folder(it)).count() {
                0 => of,
                some => some,
            };
            let all = (count > 1 && !self.of_one).then_some(Row::All(count, of));
            let rows = entries.iter().map(Row::Entry);
            return [Row::Up].into_iter().chain(all).chain(rows).collect();
        }
        let begins = |entry: &&Entry| entry.name.to_lowercase().starts_with(&typed);
        let holds = |entry: &&Entry| entry.name.to_lowercase().contains(&typed);
        let first: Vec<&Entry> = entries.iter().filter(begins).collect();
        let rows = if first.is_empty() {
            entries.iter().filter(holds).collect()
        } else {
            first
        };
        rows.into_iter().map(Row::Entry).collect()
    }

    /// What Tab puts in place of what is typed: the only name, or what all begin with.
    pub(crate) fn complete(&mut self) {
        let rows = self.rows();
        let names: Vec<&Entry> = rows
            .iter()
            .filter_map(|row| match row {
                Row::Entry(entry) => Some(*entry),
                _ => None,
            })
            .collect();
        let typed = self.parts().1;
        let Some((first, rest)) = names.split_first().filter(|_| !typed.is_empty()) else {
            return;
        };
        let mut common = first.name.clone();
        for other in rest {
            let same = common
                .char_indices()
                .zip(other.name.chars())
                .find(|((_, a), b)| !a.to_lowercase().eq(b.to_lowercase()))
                .map_or(common.len().min(other.name.len()), |((at, _), _)| at);
            common.truncate(same);
        }
        if rest.is_empty() && first.what == What::Folder {
            common.push(std::path::MAIN_SEPARATOR);
        }
        if common.len() >= typed.len() {
            let folder = self.parts().0.to_owned();
            self.set(&format!("{folder}{common}"));
        }
    }

    /// Puts another path into the line.
    pub(crate) fn set(&mut self, path: &str) {
        self.line = LineEdit::new(path);
        self.begin_anew();
    }

    /// Goes into a folder of this one.
    pub(crate) fn enter(&mut self, name: &str) {
        let path = format!("{}{name}{}", self.parts().0, std::path::MAIN_SEPARATOR);
        self.set(&path);
    }

    /// Takes the last part of the path away: what is typed, or else the folder.
    pub(crate) fn cut_part(&mut self) {
        let (folder, typed) = self.parts();
        let kept = if typed.is_empty() {
            let inner = folder.trim_end_matches(std::path::is_separator);
            let at = inner.rfind(std::path::is_separator);
            folder[..at.map_or(0, |at| at + 1)].to_owned()
        } else {
            folder.to_owned()
        };
        self.set(&kept);
    }

    /// Goes to the folder that this one lies in.
    pub(crate) fn go_up(&mut self) {
        let folder = self.parts().0;
        let inner = folder.trim_end_matches(std::path::is_separator);
        let last = inner.rsplit(std::path::is_separator).next().unwrap_or("");
        let is_named = !matches!(last, "" | "." | ".." | "~");
        if is_named {
            let folder = folder.to_owned();
            self.set(&folder);
            return self.cut_part();
        }
        let stroke = std::path::MAIN_SEPARATOR;
        let path = match (inner, last) {
            // The root has nothing above it.
            ("", _) if !folder.is_empty() => folder.to_owned(),
            (_, "..") => format!("{inner}{stroke}..{stroke}"),
            ("~", _) => crate::programme::folder::path_of("~")
                .parent()
                .map_or_else(String::new, |above| format!("{}{stroke}", above.display())),
            _ => format!("..{stroke}"),
        };
        self.set(&path);
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Shown {
    Name,
    What,
    Size,
}

const COLUMNS: [TableColumn<Shown>; 3] = [
    TableColumn::new(Shown::Name, "name", 24, 0).grows(1, 52),
    TableColumn::new(Shown::What, "", 10, 1),
    TableColumn::new(Shown::Size, "size", 10, 1).right(),
];

/// How many lines stand above the list.
const ABOVE: u16 = 2;

pub(crate) fn list_area(size: Size) -> Rect {
    let body = layout::body(size);
    Rect {
        y: body.y + ABOVE,
        height: body.height.saturating_sub(ABOVE),
        ..body
    }
}

/// A size in the unit that keeps it short.
pub(crate) fn size(bytes: u64) -> String {
    match bytes {
        0..=999 => format!("{bytes} B"),
        1000..=999_949 => format!("{:.1} kB", bytes as f64 / 1e3),
        999_950..=999_949_999 => format!("{:.1} MB", bytes as f64 / 1e6),
        _ => format!("{:.1} GB", bytes as f64 / 1e9),
    }
}

/// Draws what can be chosen.
pub(crate) fn view(app: &App, picker: &Picker, frame: &mut Frame<'_>) {
    let style = match is_empty(app) {
        true => app.theme.strong(),
        false => app.theme.faint(),
    };
    list_view(app.theme, app.size, picker, (&about(app), style), frame);
}

/// Draws what is said, and below it what can be chosen.
pub(crate) fn list_view(
    theme: Theme,
    size: Size,
    picker: &Picker,
    (about, style): (&str, Style),
    frame: &mut Frame<'_>,
) {
    let body = layout::body(size);
    let width = usize::from(body.width).saturating_sub(1);
    let said = Line::from(Span::styled(text::cut(about, width), style));
    frame.render_widget(Paragraph::new(said), body);
    let area = list_area(size);
    if let Some(Err(words)) = picker.entries().map(AsRef::as_ref) {
        let lines: Vec<Line<'_>> = text::wrap(words, width)
            .into_iter()
            .map(|part| Line::from(Span::styled(part, theme.warning())))
            .collect();
        return frame.render_widget(Paragraph::new(lines), area);
    }
    let rows = picker.rows();
    let columns = table::fit(&COLUMNS, width.saturating_sub(1), |_| false);
    let headings = table::headings(&columns, theme, |_| None);
    let look = Look {
        theme,
        place: picker.list,
        len: rows.len(),
        focused: true,
        marked: true,
        empty: match (picker.entries().is_some(), picker.of_programmes) {
            (false, _) => "looking",
            (true, false) => "nothing here is called that",
            (true, true) => "no programme file here is called that; Enter tries it all the same",
        },
    };
    table::view(frame, area, headings, &look, |at| {
        let mut spans = Vec::new();
        for column in &columns {
            let (value, style) = cell(theme, rows[at], column.0.id);
            spans.extend(table::cell(column, &value, style));
            spans.push(Span::raw(" "));
        }
        Line::from(spans)
    });
}

fn is_empty(app: &App) -> bool {
    app.data
        .as_ref()
        .is_some_and(|assessed| assessed.judged.is_empty())
}

/// What is to be done here.
pub(crate) fn about(app: &App) -> String {
    if app.new_file {
        format!(
            "{} is made once something is taken in. Typing narrows the list.",
            app.title
        )
    } else if is_empty(app) {
        "This programme holds no draws yet. Choose a table to take in; typing narrows the list."
            .to_owned()
    } else {
        "Choose a table to take in; typing narrows the list. Nothing is stored yet.".to_owned()
    }
}

/// How many tables of a folder are taken together.
pub(crate) fn all_here(count: usize, of: usize) -> String {
    match of.saturating_sub(count) {
        0 => format!("all {count} tables here"),
        _ => format!("{count} of the {of} tables here"),
    }
}

fn cell(theme: Theme, row: Row<'_>, column: Shown) -> (String, Style) {
    let stroke = std::path::MAIN_SEPARATOR;
    match (row, column) {
        (Row::Up, Shown::Name) => (format!("..{stroke}"), theme.plain()),
        (Row::All(count, of), Shown::Name) => (all_here(count, of), theme.plain()),
        (Row::All(..), Shown::What) => ("together".to_owned(), theme.faint()),
        (Row::Entry(entry), Shown::Name) if entry.what == What::Folder => {
            (format!("{}{stroke}", entry.name), theme.plain())
        }
        (Row::Entry(entry), Shown::Name) => (entry.name.clone(), theme.plain()),
        (Row::Entry(entry), Shown::What) => (entry.what.as_str().to_owned(), theme.faint()),
        (Row::Entry(entry), Shown::Size) if entry.what != What::Folder => {
            (size(entry.bytes), theme.faint())
        }
        _ => (String::new(), theme.plain()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(name: &str, what: What) -> Entry {
        Entry {
            name: name.to_owned(),
            what,
            bytes: 1,
        }
    }

    fn picker(line: &str) -> Picker {
        let entries = vec![
            entry("drafts", What::Folder),
            entry("old", What::Folder),
            entry("Draws 2025.csv", What::Text),
            entry("draws 2026.csv", What::Text),
            entry("points.xlsx", What::Workbook),
        ];
        let mut picker = Picker::at(line);
        picker.listed = Some((picker.parts().0.to_owned(), Arc::new(Ok(entries))));
        picker
    }

    fn names(picker: &Picker) -> Vec<String> {
        let name = |row: &Row<'_>| match row {
            Row::Entry(entry) => entry.name.clone(),
            Row::All(count, of) => all_here(*count, *of),
            Row::Up => "up".to_owned(),
        };
        picker.rows().iter().map(name).collect()
    }

    #[test]
    fn what_is_typed_narrows_by_beginning_or_else_by_any_part() {
        let all = names(&picker("x/"));
        assert_eq!(all[..3], ["up", "all 3 tables here", "drafts"]);
        assert_eq!(
            names(&picker("x/DRA")),
            ["drafts", "Draws 2025.csv", "draws 2026.csv"]
        );
        assert_eq!(names(&picker("x/2026")), ["draws 2026.csv"]);
        assert_eq!(names(&picker("x/none")), [""; 0]);
    }

    #[test]
    fn only_tables_that_will_be_taken_are_counted() {
        let mut picker = picker("x/");
        let mut silent = |names: &[&str]| {
            let entries = names.iter().map(|name| entry(name, What::Text)).collect();
            picker.listed = Some(("x/".to_owned(), Arc::new(Ok(entries))));
            names_of_all(&picker)
        };
        assert_eq!(
            silent(&["draws.csv", "log.csv", "points.csv"]).as_deref(),
            Some("2 of the 3 tables here")
        );
        assert_eq!(
            silent(&["log.csv", "more.csv"]).as_deref(),
            Some("all 2 tables here")
        );
        assert_eq!(silent(&["draws.csv", "log.csv"]), None);
    }

    fn names_of_all(picker: &Picker) -> Option<String> {
        names(picker)
            .into_iter()
            .find(|name| name.ends_with(" tables here"))
    }

    #[test]
    fn tab_completes_as_far_as_names_agree() {
        for (line, expected) in [
            ("x/draw", "x/Draws 202"),
            ("x/ol", "x/old/"),
            ("x/poi", "x/points.xlsx"),
            ("x/", "x/"),
            ("x/none", "x/none"),
        ] {
            let mut picker = picker(line);
            picker.complete();
            assert_eq!(picker.line.text(), expected);
        }
    }

    #[test]
    fn the_way_up_is_found_from_everywhere() {
        for (line, expected) in [
            ("a/b/", "a/"),
            ("a/", ""),
            ("", "../"),
            ("../", "../../"),
            ("./", "../"),
            ("/", "/"),
            ("/home/", "/"),
            ("a/b/typed", "a/"),
        ] {
            let mut picker = picker(line);
            picker.go_up();
            assert_eq!(picker.line.text(), expected, "{line}");
        }
        let mut picker = picker("a/b/typed");
        picker.cut_part();
        assert_eq!(picker.line.text(), "a/b/");
        picker.cut_part();
        assert_eq!(picker.line.text(), "a/");
    }

    #[test]
    fn sizes_are_short() {
        for (bytes, expected) in [
            (0, "0 B"),
            (999, "999 B"),
            (12_345, "12.3 kB"),
            (999_960, "1.0 MB"),
            (120_000_000, "120.0 MB"),
            (3_000_000_000, "3.0 GB"),
        ] {
            assert_eq!(size(bytes), expected);
        }
    }
}
