//! While the programme is read for the first time, and where that fails.

use ratatui::Frame;
use ratatui::layout::Rect;
use ratatui::style::Style;
use ratatui::text::{Line, Span};
use ratatui::widgets::Paragraph;

use super::action::Command;
use super::app::{App, Loading, Place};
use super::effect::Effect;
use super::layout;
use super::text;
use super::widgets::progress_bar;

/// Does what a key asked for while nothing is read yet.
pub(crate) fn obey(app: &mut App, command: Command, effects: &mut Vec<Effect>) {
    let has_failed = app.failed.is_some();
    match command {
        Command::Reload if has_failed => {
            app.failed = None;
            app.loading = Loading::default();
            app.waiting.reload = true;
            effects.push(Effect::Reload);
        }
        Command::OtherFile if has_failed => effects.push(Effect::OpenAnother),
        Command::Back if has_failed => {
            app.message = Some("r tries again, o opens another programme, q leaves.".to_owned());
        }
        Command::Back => effects.push(Effect::Quit),
        _ => {}
    }
}

/// Draws how far reading has come, or why it failed. What is read in a moment needs no word:
/// nothing is drawn before the first look at the progress.
pub(crate) fn view(app: &App, frame: &mut Frame<'_>, body: Rect) {
    let theme = app.theme;
    let width = usize::from(body.width).saturating_sub(2).min(92);
    let mut lines = Vec::new();
    let mut say = |words: &str, style: Style| {
        let wrapped = text::wrap(words, width).into_iter();
        lines.extend(wrapped.map(|part| Line::from(Span::styled(part, style))));
    };
    if let Some(words) = &app.failed {
        let mark = theme.pick("✗", "x");
        say(
            &format!("{mark} The programme could not be read"),
            theme.warning(),
        );
        say(&app.title, theme.strong());
        say("", theme.plain());
        say(&text::sentence(words), theme.plain());
        say("", theme.plain());
        say(
            "Nothing was changed. Once it is put right, r tries again.",
            theme.plain(),
        );
    } else if app.loading.stage.is_empty() {
        return;
    } else {
        say(under_way(app.loading), theme.title());
        say("", theme.plain());
        let bar = progress_bar::lines(theme, app.loading, width.min(60));
        // What is counted is said by the title; the bar says how much of it is done.
        lines.extend(bar.into_iter().skip(1));
        lines.push(Line::from(Span::styled(
            counted(app.loading),
            theme.faint(),
        )));
    }
    frame.render_widget(Paragraph::new(lines), layout::a_quarter_down(body));
}

/// What a screen still waits for that has nothing to show yet, once that takes longer than a
/// moment.
pub(crate) fn awaited(app: &App) -> Option<&'static str> {
    let figures = &app.figures;
    let is_awaited = match app.place {
        Place::Share => figures.share.is_none(),
        Place::People => figures.people.is_none(),
        Place::Points => figures.points.is_none(),
        Place::Topics => figures.topics.is_none(),
        Place::Findings => figures.docket.is_none(),
        Place::Resample => figures.resample.is_none(),
        _ => false,
    };
    (app.slow && is_awaited).then_some("Reckoning; the other screens and q work meanwhile.")
}

/// What is being done, in words.
fn under_way(loading: Loading) -> &'static str {
    match loading.stage {
        "loading" => "Reading the draws",
        "judging" => "Judging the draws",
        "saving" => "Keeping the verdicts",
        _ => "Opening the programme",
    }
}

fn counted(loading: Loading) -> String {
    if loading.total == 0 {
        return String::new();
    }
    format!(
        "{} of {}",
        text::count(loading.done.min(loading.total)),
        text::plural(loading.total, "draw", "draws")
    )
}
