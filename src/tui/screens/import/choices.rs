//! Choosing one of several values: an answer to a question, a column, a unit.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, BorderType, Paragraph};

use super::Edit;
use crate::tui::app::App;
use crate::tui::list::ListPlace;
use crate::tui::text;
use crate::tui::widgets::boxed;

/// One value on offer.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Offer {
    pub(crate) label: String,
    /// What it means.
    pub(crate) note: String,
    pub(crate) means: Means,
}

/// What choosing it does.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) enum Means {
    /// Puts this value in.
    Value(String),
    /// Leaves the column out.
    LeaveOut,
    /// Asks for a value that is written.
    Write,
}

/// The values on offer and the chosen one.
#[derive(Clone, Debug)]
pub(crate) struct Choices {
    pub(crate) title: String,
    /// The question in full.
    pub(crate) about: String,
    pub(crate) offers: Vec<Offer>,
    pub(crate) edit: Edit,
    /// What is written at first where one is written.
    pub(crate) written: String,
    pub(crate) list: ListPlace,
}

impl Choices {
    fn about_lines(&self, width: usize) -> Vec<String> {
        if self.about.is_empty() {
            return Vec::new();
        }
        text::wrap(&self.about, width)
    }

    /// Where it is drawn: in the middle of the body, no larger than need be.
    pub(crate) fn area(&self, body: Rect) -> Rect {
        let width = body.width.saturating_sub(2).min(76);
        let inner = usize::from(width.saturating_sub(4));
        let about = self.about_lines(inner).len() as u16;
        let gap = u16::from(about > 0);
        let height = (self.offers.len() as u16 + about + gap + 2).min(body.height);
        Rect {
            x: body.x + (body.width - width) / 2,
            y: body.y + (body.height - height) / 2,
            width,
            height,
        }
    }

    /// The offers' part of it.
    pub(crate) fn list_area(&self, body: Rect) -> Rect {
        let area = self.area(body);
        let inner = usize::from(area.width.saturating_sub(4));
        let about = self.about_lines(inner).len() as u16;
        let above = 1 + about + u16::from(about > 0);
        Rect {
            y: area.y + above.min(area.height),
            height: area.height.saturating_sub(above + 1),
            ..area
        }
    }

    /// The offer under a place on screen.
    pub(crate) fn offer_at(&self, body: Rect, x: u16, y: u16) -> Option<usize> {
        let area = self.list_area(body);
        let inside = x >= area.x && x < area.right() && y >= area.y && y < area.bottom();
        let at = usize::from(y.checked_sub(area.y)?) + self.list.offset;
        (inside && at < self.offers.len()).then_some(at)
    }
}

/// Draws it over the body.
pub(crate) fn view(app: &App, choices: &Choices, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let area = choices.area(body);
    let inner = usize::from(area.width.saturating_sub(4));
    let height = usize::from(choices.list_area(body).height);
    let mut place = choices.list;
    place.settle(choices.offers.len(), height);
    let label = choices.offers.iter().map(|offer| text::width(&offer.label));
    let label = label.max().unwrap_or(0).min(inner.saturating_sub(12)) + 2;
    let mut lines: Vec<Line<'_>> = choices
        .about_lines(inner)
        .into_iter()
        .map(|part| Line::from(format!(" {part}")))
        .collect();
    if !lines.is_empty() {
        lines.push(Line::default());
    }
    for (at, offer) in choices
        .offers
        .iter()
        .enumerate()
        .skip(place.offset)
        .take(height)
    {
        let line = Line::from(vec![
            Span::raw(" "),
            Span::raw(text::left(&offer.label, label)),
            Span::styled(
                text::left(&offer.note, inner.saturating_sub(label) + 1),
                theme.faint(),
            ),
        ]);
        lines.push(if at == place.cursor {
            theme.choose(line)
        } else {
            line
        });
    }
    let title = format!(" {} ", text::cut(&choices.title, inner.saturating_sub(2)));
    let block = Block::bordered()
        .border_type(BorderType::Plain)
        .border_style(theme.line())
        .title(Span::styled(title, theme.title()));
    boxed::clear(frame, area);
    frame.render_widget(Paragraph::new(lines).block(block), area);
}
