//! Keys in, state and effects out.

use fairdraw::tui::{Action, App, Effect, Theme, update};
use ratatui::layout::Size;

use super::desk::Desk;
use super::made_up::passing;

fn header(desk: &Desk) -> String {
    let text = desk.text(120, 40);
    text.lines().nth(1).unwrap().trim().to_owned()
}

fn hints(desk: &Desk) -> String {
    let text = desk.text(120, 40);
    text.lines().last().unwrap().trim().to_owned()
}

#[test]
fn opening_a_person_and_going_back_restores_filter_place_and_row() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:kind:sump Enter");
    let before = header(&desk);
    desk.keys("3 j j");
    let people = desk.text(120, 40);
    desk.keys("Enter");
    assert!(
        header(&desk).contains("kind:sump technician:"),
        "{}",
        header(&desk)
    );
    assert!(desk.text(120, 40).contains("verdict"));
    desk.keys("j j Enter Esc Esc");
    assert_eq!(header(&desk), before);
    assert!(hints(&desk).contains("Back in People, with the filter kind:sump"));
    let again = desk.text(120, 40);
    let body = |text: &str| text.lines().take(39).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(body(&again), body(&people));
}

#[test]
fn the_header_counts_what_the_filter_passes() {
    let mut desk = Desk::new(120, 40);
    let all = desk.assessed.judged.len();
    assert!(header(&desk).ends_with(&format!("{all} draws")));
    assert!(header(&desk).contains("no filter"));
    desk.keys("/ type:verdict:unrepresentative Enter");
    let some = passing(&desk.assessed, "verdict:unrepresentative");
    assert!(some > 0 && some < all);
    assert!(header(&desk).ends_with(&format!("{some} of {all} draws")));
}

#[test]
fn every_line_of_share_opens_to_as_many_draws_as_it_says() {
    let desk = Desk::new(120, 40);
    let all = desk.assessed.judged.len();
    for keys in [
        "Enter",
        "j Enter",
        "j j Enter",
        "j j j Enter",
        "Tab Enter",
        "Tab Tab Enter",
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let header = header(&desk);
        let filter = header.strip_prefix("filter").unwrap().trim();
        let (filter, count) = filter.split_once("  ").unwrap();
        let expected = passing(&desk.assessed, filter);
        assert_eq!(count.trim(), format!("{expected} of {all} draws"), "{keys}");
        desk.keys("Esc");
        assert!(self::header(&desk).contains("no filter"), "{keys}");
    }
}

#[test]
fn esc_leaves_a_filter_that_was_being_written_as_it_was() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:kind:sump Enter / C-u type:nonsense Esc");
    assert!(header(&desk).contains("kind:sump"));
}

#[test]
fn a_wrong_filter_is_explained_and_not_applied() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:kind:ocean Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("(column 6)"), "{text}");
    desk.keys("Esc");
    assert!(header(&desk).contains("no filter"));
}

#[test]
fn a_name_that_nothing_has_is_remarked_on() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:crew:Erly Enter");
    assert!(hints(&desk).contains("no crew is called \"Erly\"; the nearest is \"Early\""));
}

#[test]
fn tab_completes_keys_and_values() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:comp Tab type:Pr Tab Enter");
    assert!(
        header(&desk).contains("compartment:\"Press hydraulics\""),
        "{}",
        header(&desk)
    );
    desk.keys("Esc / type:broken:flush-met,fi Tab Enter");
    assert!(
        header(&desk).contains("broken:flush-met,fill-level"),
        "{}",
        header(&desk)
    );
}

#[test]
fn the_last_term_goes_and_comes_back() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:kind:sump_crew:Early Enter x");
    assert!(header(&desk).contains("kind:sump  "));
    assert!(hints(&desk).contains("Taken out: crew:Early"));
    desk.keys("Esc");
    assert!(header(&desk).contains("kind:sump crew:Early"));
    desk.keys("x x x");
    assert!(hints(&desk).contains("no filter to widen"));
}

#[test]
fn a_row_narrows_by_the_value_chosen() {
    let mut desk = Desk::new(120, 40);
    desk.keys("2 f j Enter");
    assert!(header(&desk).contains("point:"));
    let mut desk = Desk::new(120, 40);
    desk.keys("2 c");
    assert!(header(&desk).contains("compartment:"));
    let mut desk = Desk::new(120, 40);
    desk.keys("3 f");
    assert!(header(&desk).contains("technician:"));
}

#[test]
fn the_first_step_has_nothing_before_it() {
    let mut desk = Desk::new(120, 40);
    desk.keys("Esc");
    assert!(!desk.left);
    assert!(hints(&desk).contains("q leaves"));
    desk.keys("q");
    assert!(desk.left);
}

#[test]
fn sorting_shows_an_arrow_and_the_lowest_or_highest_first() {
    let mut desk = Desk::new(80, 24);
    desk.keys("2");
    assert!(desk.text(80, 24).contains("drawn▼"));
    desk.keys("S");
    assert!(desk.text(80, 24).contains("drawn▲"));
    desk.keys("s s s");
    let text = desk.text(80, 24);
    assert!(text.contains("▲score"), "{text}");
    let scores: Vec<f64> = text
        .lines()
        .skip(4)
        .filter_map(|line| {
            line.split_whitespace()
                .find_map(|word| word.contains('.').then(|| word.parse().ok()).flatten())
        })
        .collect();
    assert!(scores.len() > 10 && scores.is_sorted(), "{scores:?}");
}

#[test]
fn n_and_p_step_through_opened_draws() {
    let mut desk = Desk::new(80, 24);
    desk.keys("2 Enter");
    let first = desk.text(80, 24);
    desk.keys("n");
    let second = desk.text(80, 24);
    assert_ne!(first, second);
    desk.keys("p");
    assert_eq!(desk.text(80, 24), first);
}

#[test]
fn a_reload_keeps_the_filter() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:kind:sump Enter");
    desk.act(Action::ChangedElsewhere);
    assert!(hints(&desk).contains("r reads it again"));
    desk.keys("r");
    assert_eq!(desk.reloads, 1);
    assert!(header(&desk).contains("kind:sump"));
    assert!(hints(&desk).contains("read again"));
}

#[test]
fn reading_shows_how_far_it_is_and_can_be_stopped() {
    let size = Size {
        width: 80,
        height: 24,
    };
    let mut app = App::new("made-up.db", Theme::new(true, true), size);
    update(&mut app, Action::Progress("judging", 500, 1000));
    let mut terminal = ratatui::Terminal::new(ratatui::backend::TestBackend::new(80, 24)).unwrap();
    terminal
        .draw(|frame| fairdraw::tui::view(&app, frame))
        .unwrap();
    crate::support::assert_snapshot("screens", "loading", &terminal.backend().to_string());
    let stop = crossterm::event::KeyEvent::from(crossterm::event::KeyCode::Esc);
    let action = app.action_of(stop).unwrap();
    let effects = update(&mut app, action);
    assert!(matches!(effects.as_slice(), [Effect::Quit]));
}

#[test]
fn the_mouse_chooses_rows_and_screens() {
    let mut desk = Desk::new(120, 40);
    desk.act(Action::Click(31, 0));
    assert!(desk.text(120, 40).contains("crew"));
    desk.act(Action::Click(5, 6));
    desk.act(Action::Click(5, 6));
    assert!(header(&desk).contains("technician:"));
    desk.act(Action::Wheel(5, 10, 3));
    desk.act(Action::Click(5, 1));
    assert!(desk.app.zone() == fairdraw::tui::keymap::Zone::FilterLine);
}
