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
    desk.keys(": type:kind:sump Enter");
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
    desk.keys(": type:verdict:unrepresentative Enter");
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
    desk.keys(": type:kind:sump Enter : C-u type:nonsense Esc");
    assert!(header(&desk).contains("kind:sump"));
}

#[test]
fn a_wrong_filter_is_explained_and_not_applied() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:ocean Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("(column 6)"), "{text}");
    desk.keys("Esc");
    assert!(header(&desk).contains("no filter"));
}

#[test]
fn a_name_that_nothing_has_is_remarked_on() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:crew:Erly Enter");
    assert!(hints(&desk).contains("no crew is called \"Erly\"; the nearest is \"Early\""));
}

#[test]
fn tab_completes_keys_and_values() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:comp Tab type:Pr Tab Enter");
    assert!(
        header(&desk).contains("compartment:\"Press hydraulics\""),
        "{}",
        header(&desk)
    );
    desk.keys("Esc : type:broken:flush-met,fi Tab Enter");
    assert!(
        header(&desk).contains("broken:flush-met,fill-level"),
        "{}",
        header(&desk)
    );
}

#[test]
fn the_last_term_goes_and_comes_back() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:sump_crew:Early Enter x");
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
    desk.keys(": type:kind:sump Enter");
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
    assert!(desk.app.zone() == fairdraw::tui::keymap::Zone::Values);
}

#[test]
fn a_fit_is_asked_for_once_a_filter_and_stopped_when_the_filter_changes() {
    let mut desk = Desk::new(120, 40);
    let asked = |effects: &[Effect]| {
        let long =
            |effect: &&Effect| matches!(effect, Effect::Reckon(question) if question.takes_long());
        effects.iter().filter(long).count()
    };
    let is_stop = |effect: &Effect| matches!(effect, Effect::StopLong);
    let effects = press(&mut desk, "3");
    assert_eq!(asked(&effects), 1);
    assert!(
        desk.text(120, 40).contains("fitting"),
        "{}",
        desk.text(120, 40)
    );
    // Moving about while it is under way asks for nothing more and stops nothing.
    for key in ["j", "4", "3"] {
        let effects = press(&mut desk, key);
        assert_eq!(asked(&effects), 0, "{key}");
        assert!(!effects.iter().any(is_stop), "{key}");
    }
    // Another filter stops it, once; what comes late is asked for anew.
    let effects = press(&mut desk, "f");
    assert_eq!(effects.iter().filter(|it| is_stop(it)).count(), 1);
    assert_eq!(asked(&effects), 0);
    let effects = press(&mut desk, "j");
    assert!(!effects.iter().any(is_stop));
    desk.act(stopped(&desk));
    assert!(!desk.app.is_waiting());
    assert!(!desk.text(120, 40).contains("fitting"));
}

/// Presses a key and carries out all that follows but what takes long.
fn press(desk: &mut Desk, key: &str) -> Vec<Effect> {
    let sign = key.chars().next().unwrap();
    let event = crossterm::event::KeyEvent::from(crossterm::event::KeyCode::Char(sign));
    let action = desk.app.action_of(event).unwrap();
    let mut seen = Vec::new();
    let mut effects = update(&mut desk.app, action);
    while let Some(effect) = effects.pop() {
        seen.push(effect.clone());
        let Effect::Reckon(question) = effect else {
            continue;
        };
        if !question.takes_long() {
            let progress = fairdraw::model::Progress::default();
            let answer = fairdraw::tui::effect::reckon(&desk.assessed, question, &progress);
            effects.extend(update(&mut desk.app, Action::Answered(answer)));
        }
    }
    seen
}

/// The answer of a fit that was asked to stop.
fn stopped(desk: &Desk) -> Action {
    let progress = fairdraw::model::Progress::default();
    progress.stop();
    let question = fairdraw::tui::effect::Question::Attribution {
        turn: 1,
        filter: fairdraw::analysis::Filter::default(),
        adjust: Vec::new(),
        selection: std::sync::Arc::new((0..desk.assessed.judged.len() as u32).collect()),
    };
    let answer = fairdraw::tui::effect::reckon(&desk.assessed, question, &progress);
    Action::Answered(answer)
}

#[test]
fn where_nothing_can_be_compared_the_reason_stands_and_no_numbers() {
    let mut desk = Desk::new(120, 40);
    desk.keys("3 f");
    let text = desk.text(120, 40);
    assert!(text.contains("Not compared"), "{text}");
    assert!(!text.contains("odds ratio 1"), "{text}");
    // Back at the former filter its answer is known.
    desk.keys("Esc");
    assert!(desk.text(120, 40).contains("odds ratio"));
}

#[test]
fn a_cell_of_topics_opens_to_the_unrepresentative_draws_behind_it() {
    let mut desk = Desk::new(120, 40);
    desk.keys("5 l Enter");
    let header = header(&desk);
    assert!(header.contains("technician:T2 broken:"), "{header}");
    assert!(header.contains("verdict:unrepresentative"), "{header}");
    desk.keys("Esc Tab Enter");
    let text = desk.text(120, 40);
    assert!(
        text.contains("broken:") || text.contains("unrecorded:"),
        "{text}"
    );
    desk.keys("Esc Tab Enter");
    assert!(self::header(&desk).contains("technician:"));
}

#[test]
fn ticks_stay_while_filters_come_and_go_and_plans_are_never_overwritten() {
    let mut desk = Desk::new(120, 40);
    desk.keys("5 w");
    assert!(hints(&desk).contains("Nobody is ticked"));
    desk.keys("s Space l Space 1 : type:kind:sump Enter 5");
    assert!(desk.text(120, 40).contains("2 ticked"));
    let folder = tempfile::tempdir().unwrap();
    let to = folder.path().join("plans");
    let write = |desk: &mut Desk| {
        desk.keys("w C-u");
        desk.act(Action::Paste(to.display().to_string()));
        desk.keys("Enter");
    };
    write(&mut desk);
    let text = desk.text(200, 40);
    assert!(text.contains("2 plans are in"), "{text}");
    let page = std::fs::read_to_string(to.join("plan-T1.md")).unwrap();
    assert!(page.starts_with("# Training plan for Ines Falk"), "{page}");
    assert!(page.contains("Only draws that pass: kind\\:sump"), "{page}");
    std::fs::write(to.join("plan-T2.md"), "kept").unwrap();
    std::fs::remove_file(to.join("plan-T1.md")).unwrap();
    write(&mut desk);
    assert!(desk.text(120, 40).contains("no plan was written"));
    assert!(!to.join("plan-T1.md").exists());
    assert_eq!(
        std::fs::read_to_string(to.join("plan-T2.md")).unwrap(),
        "kept"
    );
    desk.keys("Esc Space l Space");
    assert!(!desk.text(120, 40).contains("2 ticked"));
}

#[test]
fn periods_turn_and_open_to_their_days() {
    let mut desk = Desk::new(120, 40);
    desk.keys("t Enter");
    assert!(
        header(&desk).contains("from:2026-07 to:2026-09"),
        "{}",
        header(&desk)
    );
    desk.keys("Esc t Enter");
    assert!(
        header(&desk).contains("from:2026-01 to:2026-12"),
        "{}",
        header(&desk)
    );
    desk.keys("Esc t Enter");
    assert!(header(&desk).contains("from:2026-08-"), "{}", header(&desk));
}

/// A key that is bound but has nothing to do is answered, and changes nothing.
#[test]
fn a_key_that_has_nothing_to_do_says_why() {
    for (keys, key, words) in [
        ("5", "w", "Nobody is ticked yet"),
        ("2 Enter", "p", "This is the first draw of the list."),
        ("8 Enter", "p", "This is the first compartment of the list."),
        (
            ": type:kind:sump_kind:tank Enter 2",
            "s",
            "Fewer than two lines",
        ),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let before = desk.text(120, 40);
        desk.keys(key);
        assert!(
            hints(&desk).contains(words),
            "{keys} {key}: {}",
            hints(&desk)
        );
        let body = |text: &str| text.lines().take(38).map(str::to_owned).collect::<Vec<_>>();
        assert_eq!(body(&desk.text(120, 40)), body(&before), "{keys} {key}");
    }
    // What only moves is silent at the end of a list.
    let mut desk = Desk::new(120, 40);
    desk.keys("2 k");
    assert!(hints(&desk).contains("open"), "{}", hints(&desk));
}

#[test]
fn what_is_adjusted_for_is_said_and_taken_back() {
    let mut desk = Desk::new(120, 40);
    desk.keys("3 a j j j j Enter");
    assert!(hints(&desk).contains("Adjusted for crew."));
    desk.keys("4 3");
    assert!(desk.text(120, 40).contains("Adjusted for crew."));
    desk.keys("a k k k k Enter 4 3");
    assert!(!desk.text(120, 40).contains("Adjusted for"));
}
