//! Taking tables in: what is left aside, what is refused, and keys that come early.

use std::path::Path;

use fairdraw::tui::Action;
use fairdraw::tui::screens::import::order::{IntakeOrder, carry_out};

use super::desk::Desk;
use crate::support::assert_snapshot;

/// Draws of which two are refused, and lists of which nothing is, in a folder of their own.
fn folder() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    for (name, rows) in [
        ("points.csv", "point_id,compartment_id,kind\nP-1,C-1,sump\n"),
        ("technicians.csv", "technician_id,crew\nT-1,North\n"),
        (
            "draws.csv",
            "draw_id,point_id,technician_id,drawn_at\nD-1,P-1,T-1,2026-03-04T09:30Z\n\
             D-2,P-9,T-1,2026-03-04T09:40Z\nD-3,P-8,T-1,2026-03-04T09:50Z\n",
        ),
    ] {
        std::fs::write(folder.path().join(name), rows).unwrap();
    }
    folder
}

fn choose(desk: &mut Desk, path: &Path) {
    desk.keys("7 i C-u");
    desk.act(Action::Paste(path.display().to_string()));
}

#[test]
fn what_is_left_aside_is_named_before_and_after() {
    let mut desk = Desk::new(120, 40);
    desk.keys("7 i");
    assert!(desk.text(120, 40).contains("3 of the 4 tables here"));
    let words = "Left aside: harbour log 2026.csv: its name does not say what it holds";
    desk.keys("Up Up Enter");
    let shown = desk.text(120, 40);
    assert!(shown.contains(words), "{shown}");
    desk.keys("t");
    let shown = desk.text(120, 40);
    assert!(shown.contains("Taken in as batch"), "{shown}");
    assert!(shown.contains(words), "{shown}");
}

#[test]
fn the_view_of_what_is_refused_begins_where_something_is() {
    let folder = folder();
    let mut desk = Desk::new(120, 40);
    choose(&mut desk, &folder.path().join(""));
    desk.keys("Up Enter Tab");
    let shown = desk.text(120, 40);
    assert!(shown.contains("draws.csv"), "{shown}");
    assert!(shown.contains("no such point is known"), "{shown}");
    assert!(!shown.contains("nothing would be refused"), "{shown}");
}

#[test]
fn draws_before_points_say_what_to_take_in_first() {
    let folder = folder();
    let mut desk = Desk::on_file(120, 40);
    desk.without_points();
    choose(&mut desk, &folder.path().join("draws.csv"));
    desk.keys("Enter");
    let shown = desk
        .text(120, 40)
        .replace(&folder.path().display().to_string(), "[folder]");
    assert!(shown.contains("No point is known yet"), "{shown}");
    assert!(shown.contains("no such point is known"), "{shown}");
    assert_snapshot("screens", "import-without-points@120x40", &shown);
    // No row of it would be stored: no columns without values are shown.
    desk.keys("Tab Tab");
    let shown = desk.text(120, 40);
    assert!(shown.contains("no row of it would be stored"), "{shown}");
    choose(&mut desk, &folder.path().join("points.csv"));
    desk.keys("Enter t");
    let shown = desk.text(120, 40);
    assert!(shown.contains("Take a table of them in next"), "{shown}");
}

#[test]
fn enter_is_not_lost_where_the_folder_is_not_listed_yet() {
    let folder = folder();
    let listing = |folder: &Path| {
        let order = IntakeOrder::List(folder.join("").display().to_string());
        Action::Intake(carry_out(Path::new("none.db"), &order, &Default::default()))
    };
    let mut desk = Desk::new(120, 40);
    desk.keys("7 i");
    desk.holds = true;
    desk.keys("C-u");
    desk.act(Action::Paste(
        folder.path().join("points.csv").display().to_string(),
    ));
    desk.keys("Enter");
    desk.act(listing(folder.path()));
    assert!(desk.text(120, 40).contains("Looking at it"));
    // Whoever writes on meant another path.
    let mut desk = Desk::new(120, 40);
    desk.keys("7 i");
    desk.holds = true;
    desk.keys("C-u");
    desk.act(Action::Paste(
        folder.path().join("po").display().to_string(),
    ));
    desk.keys("Enter type:i");
    desk.act(listing(folder.path()));
    let shown = desk.text(120, 40);
    assert!(
        shown.contains("points.csv") && !shown.contains("Looking at it"),
        "{shown}"
    );
}
