//! Choosing the period, and one period further or back.

use fairdraw::tui::Action;
use fairdraw::tui::keymap::Zone;

use super::desk::Desk;
use super::made_up::passing;

fn line(desk: &Desk, at: usize) -> String {
    let text = desk.text(120, 40);
    text.lines().nth(at).unwrap_or_default().trim().to_owned()
}

/// The filter and the count in the header.
fn header(desk: &Desk) -> (String, String) {
    let line = line(desk, 1);
    let rest = line.strip_prefix("filter").unwrap_or_default().trim();
    let (filter, count) = rest.split_once("  ").unwrap_or((rest, ""));
    (filter.to_owned(), count.trim().to_owned())
}

fn said(desk: &Desk) -> String {
    line(desk, 39)
}

/// The newest draw of the made-up programme is of 2026-08-20; by hand from the calendar.
#[test]
fn every_period_has_its_letter() {
    for (keys, filter) in [
        ("m t", "from:2026-08 to:2026-08"),
        ("m m", "from:2026-07 to:2026-07"),
        ("m u", "from:2026-04 to:2026-06"),
        ("m y", "from:2025-01 to:2025-12"),
        ("m w", "from:2025-09 to:2026-08"),
        ("m m m a", "no filter"),
        ("m c C-u type:2026-03 Enter", "from:2026-03 to:2026-03"),
        ("m Enter", "no filter"),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(keys);
        let (found, count) = header(&desk);
        assert_eq!(found, filter, "{keys}");
        if filter != "no filter" {
            let all = desk.assessed.judged.len();
            let passing = passing(&desk.assessed, filter);
            assert_eq!(count, format!("{passing} of {all} draws"), "{keys}");
        }
    }
}

#[test]
fn the_counts_on_offer_are_those_of_the_filter_they_would_make() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:sump_from:2026-05 Enter m");
    let text = desk.text(120, 40);
    for (name, filter) in [
        ("this month", "kind:sump from:2026-08 to:2026-08"),
        ("last quarter", "kind:sump from:2026-04 to:2026-06"),
        ("all days", "kind:sump"),
    ] {
        let expected = format!("{} draws", passing(&desk.assessed, filter));
        let line = text.lines().find(|line| line.contains(name)).unwrap();
        assert!(line.contains(&expected), "{line}: {expected}");
    }
}

#[test]
fn a_period_replaces_the_one_before_and_goes_with_one_step_back() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:from:2026-02-03_kind:sump_-to:2025-12 Enter m m");
    assert_eq!(header(&desk).0, "kind:sump from:2026-07 to:2026-07");
    desk.keys("[");
    assert_eq!(header(&desk).0, "kind:sump from:2026-06 to:2026-06");
    desk.keys("] ]");
    assert_eq!(header(&desk).0, "kind:sump from:2026-08 to:2026-08");
    desk.keys("]");
    assert!(
        said(&desk).contains("The newest draw is of"),
        "{}",
        said(&desk)
    );
    desk.keys("Esc Esc Esc Esc");
    assert_eq!(header(&desk).0, "from:2026-02-03 kind:sump -to:2025-12");
}

#[test]
fn without_a_period_there_is_the_last_full_month_and_open_ends_are_said() {
    let mut desk = Desk::new(120, 40);
    desk.keys("3 [");
    assert_eq!(header(&desk).0, "from:2026-07 to:2026-07");
    assert_eq!(desk.app.zone(), Zone::People);
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:from:2026-03 Enter ]");
    assert!(said(&desk).contains("open at one end"), "{}", said(&desk));
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:from:2026-01_to:2026-01 Enter [");
    assert!(
        said(&desk).contains("The oldest draw is of"),
        "{}",
        said(&desk)
    );
}

#[test]
fn days_of_ones_own_are_checked_before_they_are_taken() {
    let mut desk = Desk::new(120, 40);
    desk.keys("m c C-u type:2026-13 Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("\"2026-13\" is no day"), "{text}");
    desk.keys("C-u type:2026-04-10_to_2026-05 Enter");
    assert_eq!(header(&desk).0, "from:2026-04-10 to:2026-05-31");
    desk.keys("]");
    assert_eq!(header(&desk).0, "from:2026-06-01 to:2026-07-22");
    // The line begins with the days in view; Esc leads from it to the list, then away.
    desk.keys("m c");
    assert!(line(&desk, 1).contains("2026-06-01 2026-07-22"));
    desk.keys("Esc");
    assert_eq!(desk.app.zone(), Zone::Period);
    desk.keys("Esc");
    assert_eq!(header(&desk).0, "from:2026-06-01 to:2026-07-22");
}

#[test]
fn the_mouse_chooses_a_period() {
    let mut desk = Desk::new(120, 40);
    desk.keys("m");
    let text = desk.text(120, 40);
    let at = text
        .lines()
        .position(|line| line.contains("last year"))
        .unwrap();
    desk.act(Action::Click(60, at as u16));
    assert_eq!(header(&desk).0, "from:2025-01 to:2025-12");
    desk.keys("m");
    desk.act(Action::Wheel(60, 20, -3));
    desk.keys("Enter");
    assert_eq!(header(&desk).0, "from:2026-04 to:2026-06");
}
