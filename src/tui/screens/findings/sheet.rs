//! Entering a filled-in verification sheet as a whole: the sheet is chosen, read and shown as
//! it would be entered; only then Enter enters it.

use std::sync::Arc;

use ratatui::Frame;
use ratatui::layout::{Position, Rect};
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Clear, Paragraph};

use super::chosen_pick;
use crate::analysis::picks::Pick;
use crate::model::decisions::pick::{Outcome, Verified};
use crate::programme::VerificationSheet;
use crate::programme::folder::What;
use crate::tui::action::Command;
use crate::tui::app::App;
use crate::tui::decide::Decision;
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::line_edit::LineEdit;
use crate::tui::list::ListPlace;
use crate::tui::panel::{self, Panel};
use crate::tui::plain::{self, Rows, Told};
use crate::tui::screens::import::order::IntakeOrder;
use crate::tui::screens::import::picker::{self, Listing, Picker, Row};
use crate::tui::{forms, layout, moves, text};

/// What has come from outside for a sheet that is being entered.
#[derive(Clone, Debug, Default)]
pub(crate) struct SheetEntry {
    /// What lies in a folder.
    pub(crate) listed: Option<(String, Listing)>,
    /// A sheet that was read, or why it could not be; with its path as it was written.
    pub(crate) read: Option<(String, Result<Arc<VerificationSheet>, String>)>,
}

/// Asks which sheet, if something may be decided.
pub(crate) fn begin(app: &mut App) {
    let Some(number) = chosen_pick(app).map(|pick| pick.drawn.pick) else {
        return;
    };
    if !forms::may_decide(app) || !forms::is_named(app) {
        return;
    }
    app.sheet_entry = SheetEntry::default();
    let picker = Picker::of_one_sheet(&app.beside);
    panel::lay(app, Box::new(ChooseSheet { number, picker }));
}

/// The sheet is being chosen.
#[derive(Clone, Debug)]
struct ChooseSheet {
    /// The pick.
    number: u32,
    picker: Picker,
}

impl ChooseSheet {
    /// Enter: into a folder, or reads the chosen sheet.
    fn open(&mut self, app: &mut App, effects: &mut Vec<Effect>) {
        let rows = self.picker.rows();
        let path = match rows.get(self.picker.list.cursor) {
            Some(Row::Up) => return self.picker.go_up(),
            Some(Row::Entry(entry)) if entry.what == What::Folder => {
                let name = entry.name.clone();
                return self.picker.enter(&name);
            }
            Some(Row::Entry(entry)) => format!("{}{}", self.picker.parts().0, entry.name),
            _ => self.picker.line.text().to_owned(),
        };
        if app.waiting.intake {
            app.message = Some("Something else is being read; try again.".to_owned());
        } else {
            app.waiting.intake = true;
            effects.push(Effect::Intake(IntakeOrder::ReadSheet(self.number, path)));
        }
    }
}

impl Panel for ChooseSheet {
    fn zone(&self) -> Zone {
        Zone::PickSheet
    }

    fn hinted(&self) -> &'static [Command] {
        use Command as C;
        &[C::Open, C::Complete, C::Back, C::DeletePart]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        (command == Command::Open).then_some("look at it")
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        let height = layout::rows_of(picker::list_area(app.size));
        match command {
            Command::Back => return,
            Command::Open => self.open(app, effects),
            Command::Complete => self.picker.complete(),
            Command::DeletePart => self.picker.cut_part(),
            other => match moves::distance(other, height) {
                Some(by) => {
                    let len = self.picker.rows().len();
                    self.picker.list.step(by, len, height);
                }
                None => {
                    self.picker.line.obey(other);
                    self.picker.begin_anew();
                }
            },
        }
        panel::lay(app, self);
    }

    fn insert(mut self: Box<Self>, app: &mut App, text: &str) {
        self.picker.line.insert(text);
        self.picker.begin_anew();
        panel::lay(app, self);
    }

    fn ask(mut self: Box<Self>, app: &mut App, effects: &mut Vec<Effect>) {
        if let Some((folder, listing)) = app.sheet_entry.listed.take() {
            self.picker.keep(folder, listing);
        }
        match app.sheet_entry.read.take() {
            Some((path, Ok(sheet))) => {
                let number = self.number;
                let scroll = ListPlace::default();
                return panel::lay(
                    app,
                    Box::new(SheetRead {
                        number,
                        path,
                        sheet,
                        scroll,
                        sent: false,
                    }),
                );
            }
            Some((_, Err(words))) => app.message = Some(words),
            None => {}
        }
        if self.picker.entries().is_none() && !app.waiting.intake {
            app.waiting.intake = true;
            let folder = self.picker.parts().0.to_owned();
            effects.push(Effect::Intake(IntakeOrder::ListSheets(folder)));
        }
        panel::lay(app, self);
    }

    fn click(mut self: Box<Self>, app: &mut App, at: Position) -> Option<Command> {
        let area = picker::list_area(app.size);
        let (len, height) = (self.picker.rows().len(), layout::rows_of(area));
        let opens = self.picker.list.click(area, (at.x, at.y), len, height);
        panel::lay(app, self);
        opens
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        let len = self.picker.rows().len();
        let height = layout::rows_of(picker::list_area(app.size));
        self.picker.list.scroll(by, len, height);
        panel::lay(app, self);
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        frame.render_widget(Clear, body);
        let about = format!(
            "Choose the filled-in sheet of pick {}. Nothing is entered yet.",
            self.number
        );
        let style = app.theme.plain();
        picker::list_view(app.theme, app.size, &self.picker, (&about, style), frame);
    }

    fn line(&self) -> Option<(&'static str, &LineEdit)> {
        Some((" sheet    ", &self.picker.line))
    }

    fn told(&self, _app: &App) -> Told {
        let mut told = Told::new(&format!(
            "Choosing the filled-in sheet of pick {}",
            self.number
        ));
        told.say(
            "Say the number of a row to choose it, or a name or path to narrow the list; .back \
             leaves. Nothing is entered yet",
        );
        let folder = match self.picker.line.text() {
            "" => "the present folder",
            text => text,
        };
        told.say(&format!("In {folder}"));
        if let Some(Err(words)) = self.picker.entries().map(AsRef::as_ref) {
            told.say(&text::sentence(words));
        }
        let rows = self.picker.rows();
        let empty = "nothing here is called that; .clear begins anew";
        let cursor = self.picker.list.cursor;
        told.rows = Some(Rows::of(
            ("thing", "things"),
            rows.len(),
            cursor,
            empty,
            |at| plain::entry(rows[at]),
        ));
        told
    }

    fn choose(&mut self, _app: &App, row: usize) {
        let len = self.picker.rows().len();
        self.picker.list.choose(row, len, len);
    }
}

/// A sheet that was read, as it would be entered.
#[derive(Clone, Debug)]
struct SheetRead {
    number: u32,
    path: String,
    sheet: Arc<VerificationSheet>,
    scroll: ListPlace,
    sent: bool,
}

/// What entering a result changes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum News {
    New,
    Changed,
    Known,
}

impl News {
    const fn as_str(self) -> &'static str {
        match self {
            News::New => "new",
            News::Changed => "changed",
            News::Known => "known already",
        }
    }

    fn of(pick: &Pick, verified: &Verified) -> Self {
        let place = pick.place_of(&verified.draw);
        match place.and_then(|place| pick.results[place].as_ref()) {
            Some((_, known)) if known == verified => News::Known,
            Some(_) => News::Changed,
            None => News::New,
        }
    }
}

impl SheetRead {
    /// What would be entered, in words.
    fn summary(&self, pick: Option<&Pick>) -> String {
        let sheet = &self.sheet;
        let of = |outcome| {
            let same = sheet.results.iter().filter(|it| it.result == outcome);
            same.count()
        };
        let blank = match sheet.blank {
            0 => String::new(),
            some => format!(
                " {} without a result yet.",
                text::plural(some, "row is", "rows are")
            ),
        };
        let news = pick.map_or_else(String::new, |pick| {
            let count = |news| {
                let same = sheet.results.iter();
                same.filter(|it| News::of(pick, it) == news).count()
            };
            format!(
                " {} new, {} changed, {} known already.",
                count(News::New),
                count(News::Changed),
                count(News::Known)
            )
        });
        format!(
            "{}: {} agree, {} disagree, {} could not be verified.{news}{blank}",
            text::plural(sheet.results.len() as u64, "result", "results"),
            of(Outcome::Agree),
            of(Outcome::Disagree),
            of(Outcome::Unverified)
        )
    }

    fn problems(&self) -> Vec<String> {
        let problems = self.sheet.problems.iter();
        problems.map(ToString::to_string).collect()
    }

    /// Why it is not entered as it stands, if so.
    fn hindrance(&self, pick: Option<&Pick>) -> Option<&'static str> {
        let has_news = |pick: &Pick| {
            let mut results = self.sheet.results.iter();
            results.any(|it| News::of(pick, it) != News::Known)
        };
        if !self.sheet.problems.is_empty() {
            Some("Nothing is entered: put this right in the sheet and choose it again.")
        } else if self.sheet.results.is_empty() {
            Some("There is no result in it yet: write agree, disagree or unverified into `result`.")
        } else if pick.is_some_and(|pick| !has_news(pick)) {
            Some("All of these results were entered already.")
        } else {
            None
        }
    }

    fn lines(&self, app: &App, width: usize) -> Vec<Line<'static>> {
        let theme = app.theme;
        let pick = chosen_pick(app);
        if !self.sheet.problems.is_empty() {
            let problems = self.problems().into_iter();
            let wrapped = problems.flat_map(|words| text::wrap(&words, width));
            return wrapped.map(Line::from).collect();
        }
        let narrow = width < 70;
        let draw = if narrow { 16 } else { 24 };
        let row = |verified: &Verified| {
            let news = pick.map_or(News::New, |pick| News::of(pick, verified));
            let (found, style) = super::pick::found(app, Some(verified));
            let said = format!("{}  ", text::left(news.as_str(), 13));
            let room = width.saturating_sub(draw + 2 + 16 + 2 + 15);
            Line::from(vec![
                Span::raw(format!("{}  ", text::left(&verified.draw, draw))),
                Span::styled(format!("{}  ", text::left(&found, 14)), style),
                Span::styled(said, theme.faint()),
                Span::raw(text::cut(&verified.note, room)),
            ])
        };
        self.sheet.results.iter().map(row).collect()
    }

    /// What stands above the rows.
    fn head(&self, app: &App, width: usize) -> Vec<Line<'static>> {
        let theme = app.theme;
        let pick = chosen_pick(app);
        let mut lines = Vec::new();
        let mut say = |words: &str, style: Style| {
            let wrapped = text::wrap(words, width).into_iter();
            lines.extend(wrapped.map(|part| Line::from(Span::styled(part, style))));
        };
        let title = format!("The sheet of pick {} as it would be entered", self.number);
        say(&title, theme.title());
        say(&self.path, theme.faint());
        say(&self.summary(pick), theme.plain());
        let who = app
            .who
            .as_ref()
            .map_or_else(String::new, ToString::to_string);
        match (self.hindrance(pick), self.sent) {
            (Some(words), _) => say(words, theme.warning()),
            (None, true) => say("Entering.", theme.strong()),
            (None, false) => say(
                &format!("Enter enters it, as {who}; Esc leaves it."),
                theme.strong(),
            ),
        }
        lines.push(Line::default());
        lines
    }

    /// Head and rows in the body.
    fn areas(&self, app: &App) -> (Rect, Rect) {
        let body = layout::body(app.size);
        let width = usize::from(body.width).saturating_sub(1);
        let head = (self.head(app, width).len() as u16).min(body.height / 2);
        let above = Rect {
            height: head,
            ..body
        };
        let below = Rect {
            y: body.y + head,
            height: body.height - head,
            ..body
        };
        (above, below)
    }

    fn scroll_by(&mut self, app: &App, by: isize) {
        let (_, below) = self.areas(app);
        let len = self
            .lines(app, usize::from(below.width).saturating_sub(1))
            .len();
        let most = len.saturating_sub(usize::from(below.height));
        self.scroll.offset = self.scroll.offset.saturating_add_signed(by).min(most);
    }
}

impl Panel for SheetRead {
    fn zone(&self) -> Zone {
        Zone::PickSheetRead
    }

    fn hinted(&self) -> &'static [Command] {
        &[Command::GoOn, Command::Back, Command::PageDown]
    }

    fn hint(&self, command: Command) -> Option<&'static str> {
        match command {
            Command::GoOn => Some("enter it"),
            Command::Back => Some("leave it"),
            _ => None,
        }
    }

    fn obey(mut self: Box<Self>, app: &mut App, command: Command, effects: &mut Vec<Effect>) {
        match command {
            Command::Back => return,
            Command::GoOn if self.sent || self.hindrance(chosen_pick(app)).is_some() => {}
            Command::GoOn => {
                self.sent = true;
                effects.push(Effect::Decide(Decision::EnterSheet {
                    pick: self.number,
                    sheet: Arc::clone(&self.sheet),
                    name: self.path.clone(),
                }));
            }
            other => {
                let (_, below) = self.areas(app);
                if let Some(by) = moves::distance(other, usize::from(below.height)) {
                    self.scroll_by(app, by);
                }
            }
        }
        panel::lay(app, self);
    }

    fn insert(self: Box<Self>, app: &mut App, _text: &str) {
        panel::lay(app, self);
    }

    fn ask(self: Box<Self>, app: &mut App, _effects: &mut Vec<Effect>) {
        panel::lay(app, self);
    }

    fn click(self: Box<Self>, app: &mut App, _at: Position) -> Option<Command> {
        panel::lay(app, self);
        None
    }

    fn wheel(mut self: Box<Self>, app: &mut App, _at: Position, by: isize) {
        self.scroll_by(app, by);
        panel::lay(app, self);
    }

    fn told(&self, app: &App) -> Told {
        let pick = chosen_pick(app);
        let number = self.number;
        let mut told = Told::new(&format!(
            "The sheet of pick {number} as it would be entered"
        ));
        told.say(&self.path);
        told.say(&self.summary(pick));
        let who = app.who.as_ref().map(ToString::to_string);
        match self.hindrance(pick) {
            Some(words) => told.say(words),
            None => told.say(&format!(
                "An empty line enters it, as {}; back leaves it",
                who.unwrap_or_default()
            )),
        }
        let problems = self.problems();
        let results = &self.sheet.results;
        told.rows = Some(match problems.len() {
            0 => Rows::of(("result", "results"), results.len(), 0, "no result", |at| {
                let verified = &results[at];
                let news = pick.map_or(News::New, |pick| News::of(pick, verified));
                let (result, news) = (verified.result.as_str(), news.as_str());
                match verified.note.as_str() {
                    "" => format!("{}: {result}, {news}", verified.draw),
                    note => format!("{}: {result}, {news}, note {note}", verified.draw),
                }
            }),
            many => Rows::of(("problem", "problems"), many, 0, "", |at| {
                problems[at].clone()
            }),
        });
        told
    }

    fn view(&self, app: &App, frame: &mut Frame<'_>, body: Rect) {
        frame.render_widget(Clear, body);
        let (above, below) = self.areas(app);
        let width = usize::from(body.width).saturating_sub(1);
        frame.render_widget(Paragraph::new(self.head(app, width)), above);
        let lines = self.lines(app, width);
        let len = lines.len();
        let shown: Vec<Line<'_>> = lines
            .into_iter()
            .skip(self.scroll.offset)
            .take(usize::from(below.height))
            .collect();
        frame.render_widget(Paragraph::new(shown), below);
        let scroll = self.scroll.offset;
        crate::tui::widgets::table::scrollbar(
            frame,
            below,
            app.theme,
            scroll,
            len.saturating_sub(1),
        );
    }
}
