//! Records: from a column to the draws that lack it, what a batch brought.

use fairdraw::tui::Theme;

use super::desk::Desk;

/// Presses `j` until the chosen column is this one.
fn choose_column(desk: &mut Desk, named: &str) {
    for _ in 0..60 {
        let shown = desk.text(120, 40);
        let is_chosen = |line: &str| line.contains(&format!("│ {named} ")) && line.contains(".csv");
        if shown.lines().any(is_chosen) {
            return;
        }
        desk.keys("j");
    }
    panic!("no column {named}");
}

#[test]
fn enter_on_a_column_leads_to_the_draws_without_it_or_says_why_not() {
    let mut desk = Desk::new(120, 40);
    desk.keys("7 Tab");
    choose_column(&mut desk, "place");
    assert!(desk.text(120, 40).contains("Enter draws without it"));
    desk.keys("Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains("place:(blank)"), "{shown}");
    let mut desk = Desk::new(120, 40);
    desk.keys("7 Tab");
    choose_column(&mut desk, "flushed_ml");
    for key in ["Enter", "f"] {
        desk.keys(key);
        let shown = desk.text(120, 40);
        assert!(
            shown.contains("No filter tells where flushed_ml"),
            "{shown}"
        );
    }
    desk.keys("Home");
    choose_column(&mut desk, "oil_hours");
    desk.keys("Enter");
    let shown = desk.text(120, 40);
    assert!(
        shown.contains("oil_hours is blank on no draw in view."),
        "{shown}"
    );
}

#[test]
fn what_is_nearly_filled_differs_by_what_is_blank() {
    let mut desk = Desk::with(120, 40, Theme::new(false, false));
    desk.keys("7 Tab");
    let shown = desk.text(120, 40);
    let of = |name: &str| {
        let line = shown.lines().find(|line| line.contains(name)).unwrap();
        line.split('%')
            .nth(1)
            .unwrap()
            .split_whitespace()
            .next()
            .unwrap()
            .to_owned()
    };
    assert!(of("oil_temp_c").chars().all(|sign| sign == '.'), "{shown}");
    assert!(
        of("dead_extra_ml").chars().all(|sign| sign == '#'),
        "{shown}"
    );
    assert!(of("registered_at").contains(['=', '#']), "{shown}");
    assert!(of("registered_at").contains('.'), "{shown}");
    assert!(shown.contains("settles: unproven draws"), "{shown}");
}

#[test]
fn a_batch_says_what_it_brought_and_why_rows_were_refused() {
    let mut desk = Desk::new(120, 40);
    desk.keys("7 j j j");
    let shown = desk.text(120, 40);
    assert!(shown.contains("50 draws of 2026-"), "{shown}");
    desk.keys("Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains("judged ones unrepresentative."), "{shown}");
    assert!(
        shown.contains("1 × point_id this point is not known"),
        "{shown}"
    );
}

#[test]
fn the_ledger_has_no_column_without_a_word() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys("7");
    let shown = desk.text(120, 40);
    assert!(!shown.contains("since then"), "{shown}");
    assert!(shown.contains("243 draws of"), "{shown}");
}
