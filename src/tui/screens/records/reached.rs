//! Below a ledger of few batches: how far the records of each site reach.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::ledger;
use crate::analysis::BLANK;
use crate::analysis::reach::Reach;
use crate::model::time;
use crate::tui::app::App;
use crate::tui::text;
use crate::tui::theme::Theme;

/// Fewer lines than these are not worth a beginning: title, headings, three sites.
const LEAST: usize = 5;

/// The widths of draws, day and days behind, each with two blanks before it.
const DRAWS: usize = 10;
const NEWEST: usize = 13;
const BEHIND: usize = 10;

/// The sites, once they are counted; the one that lags most first.
fn sites(app: &App) -> &[Reach] {
    let reached = app.figures.records.reached.as_ref();
    reached.map_or(&[], |reached| reached.as_slice())
}

/// Draws it below the rows of the ledger, where there is room.
pub(super) fn view(app: &App, frame: &mut Frame<'_>, list: Rect) {
    // A heading, the batches, a blank line.
    let above = (ledger(app).len() + 2).min(usize::from(list.height)) as u16;
    let area = Rect {
        y: list.y + above,
        width: list.width.saturating_sub(2),
        height: list.height - above,
        ..list
    };
    let lines = lines(app, usize::from(area.width), usize::from(area.height));
    frame.render_widget(Paragraph::new(lines), area);
}

fn lines(app: &App, width: usize, height: usize) -> Vec<Line<'static>> {
    let theme = app.theme;
    let sites = sites(app);
    if sites.is_empty() || height < LEAST.min(2 + sites.len()) {
        return Vec::new();
    }
    let months = sites.first().map_or(0, |site| site.months.len());
    let around = DRAWS + NEWEST + BEHIND;
    let longest = sites.iter().map(|site| text::width(name(site)));
    let most = longest.max().unwrap_or(0).max("site".len());
    // Months go where the names of sites would else be cut short.
    let has_months = width >= around + most.min(24) + 2 + months;
    let room = width.saturating_sub(around + if has_months { months + 2 } else { 0 });
    let site = most.min(room);
    let head = |words: String| Line::from(Span::styled(words, theme.faint()));
    let mut headings = format!(
        "{}{}{}{}",
        text::left("site", site),
        text::right("draws", DRAWS),
        text::right("newest", NEWEST),
        text::right("behind", BEHIND),
    );
    if has_months {
        let words = format!("  last {months} months");
        headings.push_str(&text::cut(&words, width.saturating_sub(site + around)));
    }
    let title = "How far the records of each site reach";
    let mut lines = vec![
        Line::from(Span::styled(text::cut(title, width), theme.title())),
        head(headings),
    ];
    let rows = height - lines.len();
    let shown = if sites.len() > rows {
        rows - 1
    } else {
        sites.len()
    };
    lines.extend(sites.iter().take(shown).map(|reach| {
        let behind = match reach.behind {
            0 => theme.pick("·", ".").to_owned(),
            days => format!("{} d", text::count(days.unsigned_abs())),
        };
        let style = if is_behind(reach) {
            theme.strong()
        } else {
            theme.plain()
        };
        let mut spans = vec![
            Span::styled(text::left(name(reach), site), style),
            Span::raw(text::right(&text::count(reach.draws), DRAWS)),
            Span::raw(text::right(&newest(app, reach), NEWEST)),
            Span::styled(text::right(&behind, BEHIND), style),
        ];
        if has_months {
            spans.push(Span::raw("  "));
            spans.push(Span::raw(bars(&reach.months, theme)));
        }
        Line::from(spans)
    }));
    let more = sites.len() - shown;
    if more > 0 {
        let words = text::plural(more as u64, "more site", "more sites");
        lines.push(head(format!("{} {words}", theme.pick("…", "..."))));
    }
    lines
}

/// A month without a draw; then a site has probably not sent its sheets.
const fn is_behind(reach: &Reach) -> bool {
    reach.behind > 31
}

fn name(reach: &Reach) -> &str {
    reach.site.as_deref().unwrap_or(BLANK)
}

fn newest(app: &App, reach: &Reach) -> String {
    let zone = app.data.as_ref().map(|assessed| assessed.zone);
    let text = zone.map_or_else(
        || time::utc_text(reach.newest),
        |zone| time::local_text(reach.newest, zone),
    );
    text.chars().take(10).collect()
}

/// A cell a month against the site's fullest one; a month without draws is a dot.
fn bars(months: &[u64], theme: Theme) -> String {
    const FINE: [&str; 8] = ["▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"];
    const PLAIN: [&str; 8] = [":", ":", ":", "=", "=", "=", "#", "#"];
    let most = months.iter().copied().max().unwrap_or(0);
    let cell = |count: &u64| match count {
        0 => theme.pick("·", "."),
        count => {
            let height = (count * 8).div_ceil(most.max(1)).clamp(1, 8) as usize - 1;
            theme.pick(FINE[height], PLAIN[height])
        }
    };
    months.iter().map(cell).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn months_stand_against_the_fullest_and_none_is_a_dot() {
        let months = [0, 1, 40, 80];
        assert_eq!(bars(&months, Theme::new(true, true)), "·▁▄█");
        assert_eq!(bars(&months, Theme::new(true, false)), ".:=#");
        assert_eq!(bars(&[], Theme::new(true, true)), "");
        assert_eq!(bars(&[0], Theme::new(true, true)), "·");
    }
}
