//! The mouse: headings sort, panes take the keys, a click beside a list closes it.

use fairdraw::tui::Action;

use super::desk::Desk;

const SIZE: (u16, u16) = (200, 60);

fn line(desk: &Desk, y: u16) -> String {
    let text = desk.text(SIZE.0, SIZE.1);
    text.lines()
        .nth(usize::from(y))
        .unwrap_or_default()
        .to_owned()
}

/// The cell where a word begins in the first line that holds all of the words.
fn place(desk: &Desk, words: &[&str], word: &str) -> (u16, u16) {
    let text = desk.text(SIZE.0, SIZE.1);
    let holds = |line: &&str| words.iter().all(|word| line.contains(word));
    let y = text.lines().position(|line| holds(&line)).unwrap();
    let line = text.lines().nth(y).unwrap();
    let before = &line[..line.find(word).unwrap()];
    (before.chars().count() as u16, y as u16)
}

fn click(desk: &mut Desk, (x, y): (u16, u16)) {
    desk.act(Action::Click(x, y));
}

/// A click on a heading sorts by its column, a second one turns the order.
#[test]
fn headings_sort_and_turn() {
    for (screen, headings, word, first, then) in [
        ("2", ["verdict", "drawn"], "point", "▲", "▼"),
        ("2", ["verdict", "drawn"], "broken", "▼", "▲"),
        ("3", ["name", "judged"], "unrepr.", "▼", "▲"),
        ("3", ["name", "judged"], "crew", "▲", "▼"),
        ("4", ["site", "judged"], "site", "▲", "▼"),
        ("8", ["compartment", "why"], "site", "▲", "▼"),
        ("8", ["compartment", "why"], "days", "▼", "▲"),
    ] {
        let mut desk = Desk::new(SIZE.0, SIZE.1);
        desk.keys(screen);
        let at = place(&desk, &headings, word);
        for arrow in [first, then, first] {
            click(&mut desk, at);
            let shown = line(&desk, at.1);
            let marked = [format!("{word}{arrow}"), format!("{arrow}{word}")];
            assert!(
                marked.iter().any(|marked| shown.contains(marked.as_str())),
                "{screen} {word} {arrow}: {shown}"
            );
        }
    }
}

#[test]
fn the_order_of_the_rows_follows_the_heading() {
    let mut desk = Desk::new(SIZE.0, SIZE.1);
    desk.keys("2");
    let at = place(&desk, &["verdict", "drawn"], "drawn");
    let day = |desk: &Desk| {
        let row = line(desk, at.1 + 1);
        row.chars()
            .skip(usize::from(at.0))
            .take(16)
            .collect::<String>()
    };
    let newest = day(&desk);
    click(&mut desk, at);
    let oldest = day(&desk);
    assert!(oldest < newest, "{oldest} {newest}");
}

#[test]
fn findings_and_columns_sort_by_their_headings() {
    let mut desk = Desk::on_file(SIZE.0, SIZE.1);
    desk.keys("6");
    let at = place(&desk, &["state", "owner"], "owner");
    click(&mut desk, at);
    assert!(
        line(&desk, at.1).contains("owner▲"),
        "{}",
        line(&desk, at.1)
    );
    click(&mut desk, at);
    assert!(
        line(&desk, at.1).contains("owner▼"),
        "{}",
        line(&desk, at.1)
    );
    let mut desk = Desk::new(SIZE.0, SIZE.1);
    desk.keys("7 Tab");
    let at = place(&desk, &["column", "sheet", "settles"], "filled");
    click(&mut desk, at);
    assert!(
        line(&desk, at.1).contains("▲filled"),
        "{}",
        line(&desk, at.1)
    );
}

#[test]
fn a_click_beside_a_list_closes_it_and_the_wheel_moves_in_it() {
    let mut desk = Desk::new(SIZE.0, SIZE.1);
    desk.keys("2 f");
    assert!(desk.text(SIZE.0, SIZE.1).contains("narrow to"));
    let before = super::desk::styles(&desk.buffer(SIZE.0, SIZE.1));
    desk.act(Action::Wheel(100, 30, 3));
    assert_ne!(super::desk::styles(&desk.buffer(SIZE.0, SIZE.1)), before);
    click(&mut desk, (3, 50));
    assert!(!desk.text(SIZE.0, SIZE.1).contains("narrow to"));
    // What lies under it has not taken the click.
    desk.keys("f");
    assert!(desk.text(SIZE.0, SIZE.1).contains("narrow to"));
}

#[test]
fn a_click_in_a_pane_gives_it_the_keys() {
    let mut desk = Desk::new(SIZE.0, SIZE.1);
    desk.keys("8");
    click(&mut desk, (190, 30));
    let last = line(&desk, SIZE.1 - 1);
    assert!(last.contains("to the list"), "{last}");
    click(&mut desk, (3, 6));
    let last = line(&desk, SIZE.1 - 1);
    assert!(!last.contains("to the list"), "{last}");
}

#[test]
fn pages_of_help_are_turned_by_key_and_by_click() {
    let mut desk = Desk::new(80, 24);
    desk.keys("?");
    let first = desk.text(80, 24);
    desk.keys("Tab");
    let second = desk.text(80, 24);
    assert_ne!(first, second);
    let names = first.lines().nth(3).unwrap();
    let x = names.find("Signs").unwrap() as u16;
    desk.act(Action::Click(x, 3));
    assert!(desk.text(80, 24).contains("rule does not apply"));
    desk.act(Action::Wheel(10, 10, 3));
    desk.keys("Esc");
    assert!(!desk.text(80, 24).contains("rule does not apply"));
}
