//! Finding something by its name, and going there.

use fairdraw::tui::keymap::Zone;
use fairdraw::tui::{Action, Effect, update};
use ratatui::style::{Color, Modifier};

use super::desk::{Desk, styles};
use crate::support::assert_snapshot;

fn screen(desk: &Desk) -> String {
    desk.text(120, 40)
}

fn line(desk: &Desk, at: usize) -> String {
    screen(desk)
        .lines()
        .nth(at)
        .unwrap_or_default()
        .trim()
        .to_owned()
}

fn header(desk: &Desk) -> String {
    line(desk, 1)
}

fn said(desk: &Desk) -> String {
    line(desk, 39)
}

/// What stands in the row that the keys act on: on a ground of its own, or reversed.
fn chosen(desk: &Desk) -> String {
    let buffer = desk.buffer(120, 40);
    let is_chosen = |x: u16, y: u16| {
        let cell = &buffer[(x, y)];
        cell.bg != Color::Reset || cell.modifier.contains(Modifier::REVERSED)
    };
    let cells = (3..40).flat_map(|y| (0..120).map(move |x| (x, y)));
    cells
        .filter(|(x, y)| is_chosen(*x, *y))
        .map(|(x, y)| buffer[(x, y)].symbol().to_owned())
        .collect()
}

#[test]
fn a_technician_is_shown_on_people_and_chosen() {
    for query in ["joan", "T2", "okoro", "jn_okr"] {
        let mut desk = Desk::new(120, 40);
        desk.keys(&format!("/ type:{query} Enter"));
        assert_eq!(desk.app.zone(), Zone::People, "{query}");
        assert!(
            chosen(&desk).contains("Joan Okoro"),
            "{query}: {}",
            chosen(&desk)
        );
        desk.keys("Esc");
        assert!(said(&desk).contains("Back in Share."), "{}", said(&desk));
    }
}

#[test]
fn a_crew_a_point_a_compartment_a_rule_and_a_screen_are_gone_to() {
    let mut desk = Desk::new(120, 40);
    desk.keys("3 / type:night_shift Enter");
    assert!(
        chosen(&desk).contains("Night shift of"),
        "{}",
        screen(&desk)
    );
    desk.keys("/ type:GEAR-2 Enter");
    assert_eq!(desk.app.zone(), Zone::Points);
    assert!(chosen(&desk).contains("GEAR-2"), "{}", chosen(&desk));
    desk.keys("/ type:press_hydraulics Enter");
    assert_eq!(desk.app.zone(), Zone::Draws);
    assert!(header(&desk).contains("compartment:\"Press hydraulics\""));
    desk.keys("Esc / type:fill-level Enter");
    assert!(
        header(&desk).contains("broken:fill-level"),
        "{}",
        header(&desk)
    );
    desk.keys("Esc / type:topics Enter");
    assert_eq!(desk.app.zone(), Zone::Topics);
}

#[test]
fn a_bottle_and_a_draw_are_opened_and_one_step_leads_back() {
    for query in ["b044", "044", "D-0044"] {
        let mut desk = Desk::new(120, 40);
        desk.keys("4 j").keys(&format!("/ type:{query} Enter"));
        assert_eq!(desk.app.zone(), Zone::Opened, "{query}");
        assert!(
            line(&desk, 3).ends_with("D-0044"),
            "{query}: {}",
            screen(&desk)
        );
        desk.keys("Esc");
        assert_eq!(desk.app.zone(), Zone::Points);
        desk.keys(">");
        assert_eq!(desk.app.zone(), Zone::Opened);
        assert!(line(&desk, 3).ends_with("D-0044"));
        desk.keys("<");
        assert_eq!(desk.app.zone(), Zone::Points);
    }
}

#[test]
fn the_order_of_the_list_does_not_matter_to_what_is_opened() {
    for keys in ["2", "2 S", "2 s", "2 s s S"] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys).keys("/ type:b017 Enter");
        assert!(
            line(&desk, 3).ends_with("D-0017"),
            "{keys}: {}",
            screen(&desk)
        );
        // The same draw is the chosen one of the list, which shows when that has the keys.
        desk.keys("Left");
        assert!(
            chosen(&desk).contains("2026-02-04 11:27"),
            "{keys}: {}",
            chosen(&desk)
        );
    }
}

#[test]
fn a_filter_that_hides_it_is_taken_away_and_comes_back() {
    for (query, zone) in [
        ("b001", Zone::Opened),
        ("t5", Zone::People),
        ("tank-m", Zone::Points),
        ("store_tank", Zone::Draws),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(": type:technician:T1_kind:grease Enter");
        desk.keys(&format!("/ type:{query} Enter"));
        assert!(
            said(&desk).contains("Esc brings the filter back"),
            "{query}: {}",
            said(&desk)
        );
        assert_eq!(desk.app.zone(), zone, "{query}");
        assert!(!header(&desk).contains("kind:grease"));
        desk.keys("Esc");
        assert!(
            header(&desk).contains("technician:T1 kind:grease"),
            "{query}"
        );
        assert_eq!(desk.app.zone(), Zone::Share, "{query}");
    }
}

#[test]
fn tab_narrows_and_stays() {
    let mut desk = Desk::new(120, 40);
    desk.keys("4 / type:joan Tab");
    assert_eq!(desk.app.zone(), Zone::Points);
    assert!(header(&desk).contains("technician:T2"));
    desk.keys("/ type:b044 Tab");
    assert!(screen(&desk).contains("No term of a filter says that"));
    assert_eq!(desk.app.zone(), Zone::Find);
}

#[test]
fn arrows_and_the_mouse_choose_among_what_was_found() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:press");
    let before = chosen(&desk);
    desk.keys("C-j");
    let after = chosen(&desk);
    assert_ne!(before, after);
    desk.keys("C-k");
    assert_eq!(chosen(&desk), before);
    desk.act(Action::Wheel(20, 10, 3));
    assert_eq!(chosen(&desk), after);
    let at = screen(&desk)
        .lines()
        .position(|line| line.contains("PRESS-FILT"));
    desk.act(Action::Click(10, at.unwrap() as u16));
    assert_eq!(desk.app.zone(), Zone::Points);
    assert!(chosen(&desk).contains("PRESS-FILT"));
    // A click beside the finds leaves them as they are.
    desk.keys("/ type:press");
    desk.act(Action::Click(10, 38));
    assert_eq!(desk.app.zone(), Zone::Find);
}

#[test]
fn esc_leaves_everything_as_it_was() {
    let mut desk = Desk::new(120, 40);
    desk.keys("3 j");
    let before = screen(&desk);
    desk.keys("/ type:press Down Esc");
    assert_eq!(screen(&desk), before);
}

#[test]
fn what_was_gone_to_is_offered_again() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:joan Enter / type:b044 Enter /");
    let text = screen(&desk);
    let (draw, person) = (text.find("B044"), text.find("Joan Okoro"));
    assert!(draw.unwrap() < person.unwrap(), "{text}");
    assert!(text.contains("where you were"), "{text}");
    desk.keys("Down Enter");
    assert_eq!(desk.app.zone(), Zone::People);
}

/// The effects of a text being typed, none of them carried out.
fn typed(desk: &mut Desk, text: &str) -> Vec<Effect> {
    let signs = text.chars().map(Action::Type);
    signs
        .flat_map(|action| update(&mut desk.app, action))
        .collect()
}

fn asked(effects: &[Effect]) -> usize {
    let is_find = |effect: &&Effect| matches!(effect, Effect::Reckon(it) if it.is_find());
    effects.iter().filter(is_find).count()
}

#[test]
fn letters_never_queue_up_and_enter_waits_for_what_was_typed() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/");
    let effects = typed(&mut desk, "joan");
    assert_eq!(asked(&effects), 1);
    let stops = effects
        .iter()
        .filter(|it| matches!(it, Effect::StopFind))
        .count();
    assert_eq!(stops, 1);
    // Enter comes before anything was found.
    desk.keys("Enter");
    assert_eq!(desk.app.zone(), Zone::Find);
    let first = effects
        .into_iter()
        .find(|it| matches!(it, Effect::Reckon(_)));
    let Some(Effect::Reckon(question)) = first else {
        panic!("nothing was asked");
    };
    let progress = fairdraw::model::Progress::default();
    progress.stop();
    let answer = fairdraw::tui::effect::reckon(&desk.assessed, question, &progress);
    desk.act(Action::Answered(answer));
    assert_eq!(desk.app.zone(), Zone::People);
    assert!(chosen(&desk).contains("Joan Okoro"), "{}", screen(&desk));
    assert!(!desk.app.is_waiting());
}

#[test]
fn until_codes_are_read_everything_else_is_found() {
    let mut desk = Desk::new(120, 40);
    desk.holds_files = true;
    desk.keys("/ type:press");
    let text = screen(&desk);
    assert!(
        text.contains("PRESS-RET") && text.contains("their codes are being read"),
        "{text}"
    );
    assert_snapshot("screens", "find-reading@120x40", &text);
}

#[test]
fn letters_it_was_found_by_stand_out() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:ines");
    let runs = styles(&desk.buffer(120, 40));
    assert_snapshot("screens", "find-styles", &runs.join("\n"));
}

#[test]
fn a_real_programme_knows_the_codes_of_all_its_draws() {
    let mut desk = Desk::on_file(120, 40);
    let assessed = std::sync::Arc::clone(&desk.assessed);
    let programme = desk.programme();
    let progress = fairdraw::model::Progress::default();
    let names = programme.draw_names(&assessed, &progress).unwrap();
    let records = programme.records(&assessed.judged.record).unwrap();
    assert_eq!(names.rows.len(), records.len());
    for (place, row) in names.rows.iter().enumerate() {
        let record = &records[*row as usize];
        assert_eq!(names.draws.get(place), record.draw_id);
        assert_eq!(names.bottles.get(place), record.bottle_id);
    }
    progress.stop();
    assert!(programme.draw_names(&assessed, &progress).is_err());
}

#[test]
fn a_site_a_machine_and_an_area_are_found_and_filtered_by() {
    let mut desk = Desk::new(120, 40);
    desk.keys("/ type:north_pit");
    let shown = screen(&desk);
    assert!(shown.contains("sites  1"), "{shown}");
    desk.keys("Enter");
    assert_eq!(desk.app.zone(), Zone::Draws, "{}", screen(&desk));
    let filtered = header(&desk);
    assert!(filtered.contains("site:\"North pit\""), "{filtered}");
    // A filter that hides all of them is taken away, and that is said.
    desk.keys(": C-u type:site:Harbour Enter / type:north_pit Enter");
    let filtered = header(&desk);
    assert!(filtered.contains("North pit"), "{filtered}");
}

#[test]
fn a_high_screen_shows_more_of_a_kind_than_a_low_one() {
    let count = |height| {
        let mut desk = Desk::on_file(120, height);
        desk.keys("/ type:que-");
        let shown = desk.text(120, height);
        let line = shown
            .lines()
            .find(|line| line.contains("points  "))
            .unwrap();
        let number = line.split("points  ").nth(1).unwrap();
        number.split(' ').next().unwrap().parse::<usize>().unwrap()
    };
    assert_eq!(count(24), 8);
    assert!(count(40) > 8, "{}", count(40));
}
