//! Choosing which value of a draw to narrow the filter to.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::{Block, BorderType, Clear, Paragraph};

use crate::analysis::{Assessed, BLANK, FilterKey};
use crate::model::{Method, time};
use crate::tui::app::App;
use crate::tui::list::ListPlace;
use crate::tui::narrower::Narrower;
use crate::tui::text;

/// The values on offer and the chosen one.
#[derive(Clone, Debug, Default)]
pub(crate) struct Narrow {
    pub(crate) options: Vec<Choice>,
    pub(crate) list: ListPlace,
}

/// One value on offer.
#[derive(Clone, Debug)]
pub(crate) struct Choice {
    pub(crate) name: &'static str,
    pub(crate) value: String,
    pub(crate) narrower: Narrower,
}

impl Narrow {
    /// The values of the draw in this row.
    pub(crate) fn of_draw(assessed: &Assessed, row: usize) -> Self {
        let judged = &assessed.judged;
        let point = &assessed.points[judged.point[row] as usize];
        let technician = &assessed.technicians[judged.technician[row] as usize];
        let shown = |value: &Option<String>| value.clone().unwrap_or_else(|| BLANK.to_owned());
        let method = Method::from_index(judged.method[row]).map_or(BLANK, Method::as_str);
        let person = technician.name.as_ref().unwrap_or(&technician.id);
        let mut options: Vec<Choice> = [
            (FilterKey::Verdict, judged.verdict[row].as_str().to_owned()),
            (FilterKey::Point, point.id.clone()),
            (FilterKey::Compartment, point.compartment.clone()),
            (FilterKey::Technician, person.clone()),
            (FilterKey::Crew, shown(&technician.crew)),
            (FilterKey::Machine, shown(&point.machine)),
            (FilterKey::Area, shown(&point.area)),
            (FilterKey::Site, shown(&point.site)),
            (FilterKey::Method, method.to_owned()),
        ]
        .into_iter()
        .map(|(key, value)| {
            let sought = match key {
                FilterKey::Technician => &technician.id,
                _ => &value,
            };
            Choice {
                name: key.as_str(),
                narrower: Narrower::one(key, sought),
                value,
            }
        })
        .collect();
        let month = time::month_text(time::month_number(judged.drawn_at[row], assessed.zone));
        options.push(Choice {
            name: "month",
            narrower: Narrower::month(&month),
            value: month,
        });
        Narrow {
            options,
            list: ListPlace::default(),
        }
    }

    /// Where the list is drawn: in the middle of the body, as small as it can be.
    pub(crate) fn area(&self, body: Rect) -> Rect {
        let width = body.width.min(56);
        let height = body.height.min(self.options.len() as u16 + 2);
        Rect {
            x: body.x + (body.width - width) / 2,
            y: body.y + (body.height - height) / 2,
            width,
            height,
        }
    }
}

/// Draws the list over the body.
pub(crate) fn view(app: &App, narrow: &Narrow, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let area = narrow.area(body);
    let inner = usize::from(area.width.saturating_sub(4));
    let lines: Vec<Line<'_>> = narrow
        .options
        .iter()
        .enumerate()
        .map(|(at, option)| {
            let line = Line::from(vec![
                Span::raw(" "),
                Span::styled(text::left(option.name, 13), theme.faint()),
                Span::raw(text::left(&option.value, inner.saturating_sub(12))),
            ]);
            if at == narrow.list.cursor {
                line.style(theme.chosen())
            } else {
                line
            }
        })
        .collect();
    let block = Block::bordered()
        .border_type(BorderType::Plain)
        .title(Span::styled(" narrow to ", theme.title()));
    frame.render_widget(Clear, area);
    frame.render_widget(Paragraph::new(lines).block(block), area);
}
