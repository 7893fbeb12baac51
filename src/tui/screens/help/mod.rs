//! Help: the keys of the place one came from, those of everywhere, what a filter looks like, and
//! what signs mean. A page each, so that one look is enough; where there is room, all at once.

mod pages;
mod signs;

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Modifier;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

pub(crate) use pages::{FILTER_HELP, Page, meaning};

use crate::tui::action::Command;
use crate::tui::app::{App, Over};
use crate::tui::effect::Effect;
use crate::tui::keymap::Zone;
use crate::tui::theme::Theme;
use crate::tui::update::obey;
use crate::tui::widgets::table;
use crate::tui::{layout, moves, text};

/// Where the user stands in it.
#[derive(Debug)]
pub(crate) struct Help {
    /// Whose keys are shown.
    pub(crate) zone: Zone,
    pub(crate) page: Page,
    /// The first line on screen.
    pub(crate) scroll: usize,
    /// What it lies over.
    pub(crate) under: Option<Box<Over>>,
}

/// From this width and height on, all pages stand beside each other.
const ALL_AT_ONCE: (u16, u16) = (150, 40);

fn is_all_at_once(body: Rect) -> bool {
    body.width >= ALL_AT_ONCE.0 && body.height >= ALL_AT_ONCE.1
}

/// The two columns of a wide screen.
const LEFT: [Page; 2] = [Page::Here, Page::Common];
const RIGHT: [Page; 3] = [Page::Reading, Page::Signs, Page::Charts];

/// Where the lines of a page stand: below the names of the pages, where they are named.
fn area(body: Rect) -> Rect {
    let above = match body.height {
        _ if is_all_at_once(body) => 0,
        24.. => 2,
        _ => 1,
    };
    Rect {
        y: body.y + above,
        height: body.height.saturating_sub(above),
        ..body
    }
}

/// The lines of the page, or of the two columns.
fn columns(help: &Help, theme: Theme, body: Rect) -> Vec<Vec<Line<'static>>> {
    let area = area(body);
    let height = usize::from(area.height);
    let width = usize::from(area.width).saturating_sub(1);
    let lines = |page: Page, width| pages::lines(page, help.zone, theme, width, height);
    if !is_all_at_once(body) {
        return match help.page {
            Page::Here => pages::here(help.zone, theme, width, height),
            other => vec![lines(other, width)],
        };
    }
    let width = (width - 2) / 2;
    let column = |pages: &[Page]| {
        let mut all = Vec::new();
        for page in pages {
            if !all.is_empty() {
                all.push(Line::default());
            }
            all.extend(lines(*page, width));
        }
        all
    };
    vec![column(&LEFT), column(&RIGHT)]
}

/// How far it can be scrolled.
fn most(help: &Help, theme: Theme, body: Rect) -> usize {
    let columns = columns(help, theme, body);
    let longest = columns.iter().map(Vec::len).max().unwrap_or(0);
    longest.saturating_sub(usize::from(area(body).height))
}

/// Scrolls by lines.
pub(crate) fn scroll(help: &mut Help, theme: Theme, body: Rect, by: isize) {
    let most = most(help, theme, body);
    help.scroll = help.scroll.saturating_add_signed(by).min(most);
}

/// Whether a command would do something in it.
pub(crate) fn works(app: &App, help: &Help, command: Command) -> bool {
    let body = layout::body(app.size);
    match command {
        Command::PaneNext | Command::PaneBack => !is_all_at_once(body),
        Command::PageDown => help.scroll < most(help, app.theme, body),
        _ => true,
    }
}

/// Does what a key asked for: what is no matter of help closes it and is done below it.
pub(crate) fn act(app: &mut App, mut help: Help, command: Command, effects: &mut Vec<Effect>) {
    let body = layout::body(app.size);
    let page = usize::from(area(body).height);
    match command {
        Command::Back | Command::Help => app.over = help.under.map(|under| *under),
        Command::PaneNext | Command::PaneBack => {
            help.page = help.page.turned(command == Command::PaneNext);
            help.scroll = 0;
            app.over = Some(Over::Help(help));
        }
        other => match moves::distance(other, page) {
            Some(by) => {
                scroll(&mut help, app.theme, body, by);
                app.over = Some(Over::Help(help));
            }
            None if app.data.is_some() => {
                app.over = help.under.map(|under| *under);
                obey(app, other, effects);
            }
            None => app.over = Some(Over::Help(help)),
        },
    }
}

/// A click: on the name of a page it shows the page.
pub(crate) fn click(help: &mut Help, body: Rect, (x, y): (u16, u16)) {
    if is_all_at_once(body) || y != body.y {
        return;
    }
    let mut from = body.x;
    for page in Page::ALL {
        let to = from + text::width(page.tab(help.zone)) as u16;
        if (from..to).contains(&x) {
            (help.page, help.scroll) = (page, 0);
        }
        from = to + 1;
    }
}

/// All of it below each other, for where no programme is open.
pub(crate) fn lines(theme: Theme, zone: Zone, width: usize) -> Vec<Line<'static>> {
    let mut all = Vec::new();
    for page in Page::ALL {
        if page == Page::Common && zone.common() == zone {
            continue;
        }
        if !all.is_empty() {
            all.push(Line::default());
        }
        all.extend(pages::lines(page, zone, theme, width, usize::MAX));
    }
    all
}

/// Draws all of it below each other, where no programme is open.
pub(crate) fn page(theme: Theme, scroll: usize, zone: Zone, frame: &mut Frame<'_>, body: Rect) {
    let lines = lines(theme, zone, usize::from(body.width).saturating_sub(1));
    let height = usize::from(body.height);
    let len = lines.len();
    let scroll = scroll.min(len.saturating_sub(height));
    let lines: Vec<Line<'static>> = lines.into_iter().skip(scroll).take(height).collect();
    frame.render_widget(Paragraph::new(lines), body);
    table::scrollbar(frame, body, theme, scroll, len.saturating_sub(1));
}

/// Draws it in place of the body.
pub(crate) fn view(app: &App, help: &Help, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    if !is_all_at_once(body) {
        tabs(help, theme, frame, body);
    }
    let area = area(body);
    let height = usize::from(area.height);
    let scroll = help.scroll.min(most(help, theme, body));
    let columns = columns(help, theme, body);
    let width = area.width.saturating_sub(1) / columns.len().max(1) as u16;
    let longest = columns.iter().map(Vec::len).max().unwrap_or(0);
    for (at, lines) in columns.into_iter().enumerate() {
        let lines: Vec<Line<'static>> = lines.into_iter().skip(scroll).take(height).collect();
        let column = Rect {
            x: area.x + at as u16 * width,
            width,
            ..area
        };
        frame.render_widget(Paragraph::new(lines), column);
    }
    // The bar counts the lines below the first, as it does below the headings of a list.
    table::scrollbar(frame, area, theme, scroll, longest.saturating_sub(1));
}

fn tabs(help: &Help, theme: Theme, frame: &mut Frame<'_>, body: Rect) {
    let mut spans = Vec::new();
    for page in Page::ALL {
        let style = if page == help.page {
            theme.title().add_modifier(Modifier::UNDERLINED)
        } else {
            theme.faint()
        };
        spans.push(Span::styled(page.tab(help.zone), style));
        spans.push(Span::raw(" "));
    }
    let area = Rect { height: 1, ..body };
    frame.render_widget(Paragraph::new(Line::from(spans)), area);
}
