//! The last row: every key it names does something at that moment, and a click on it does the
//! same.

use fairdraw::tui::Action;
use ratatui::buffer::Buffer;
use ratatui::style::Modifier;

use super::desk::Desk;
use super::looks::SCREENS;

/// A key named in the last row, and its first cell.
struct Named {
    key: String,
    at: u16,
}

fn desk(keys: &str, (width, height): (u16, u16)) -> Desk {
    let mut desk = Desk::new(width, height);
    if !keys.is_empty() {
        desk.keys(keys);
    }
    desk
}

/// Keys stand out from the words beside them. None where a message stands in their place.
fn named(buffer: &Buffer) -> Vec<Named> {
    let area = buffer.area;
    let y = area.height - 1;
    let is_key = |x: u16| {
        let cell = &buffer[(x, y)];
        cell.modifier.contains(Modifier::BOLD) && cell.fg != ratatui::style::Color::Reset
    };
    let mut found: Vec<Named> = Vec::new();
    for x in 0..area.width {
        let symbol = buffer[(x, y)].symbol();
        match found.last_mut() {
            Some(named) if is_key(x) && x > 0 && is_key(x - 1) => named.key.push_str(symbol),
            _ if is_key(x) => found.push(Named {
                key: symbol.to_owned(),
                at: x,
            }),
            _ => {}
        }
    }
    found
}

/// The key as the desk is told it.
fn pressed(label: &str) -> String {
    match label {
        "↑" => "Up".to_owned(),
        "↓" => "Down".to_owned(),
        "→" => "Right".to_owned(),
        "←" => "Left".to_owned(),
        "PgDn" => "PageDown".to_owned(),
        other => match other.strip_prefix("Ctrl-") {
            Some(letter) => format!("C-{}", letter.to_lowercase()),
            None => other.to_owned(),
        },
    }
}

/// The screen without its last row, where what can't be done is said.
fn above(desk: &Desk, (width, height): (u16, u16)) -> String {
    let text = desk.text(width, height);
    let lines: Vec<&str> = text.lines().take(usize::from(height) - 1).collect();
    let styles = super::desk::styles(&desk.buffer(width, height));
    let last = format!("{}:", height - 1);
    let styles: Vec<&String> = styles
        .iter()
        .filter(|run| !run.starts_with(&last))
        .collect();
    format!("{}\n{styles:?}", lines.join("\n"))
}

fn keys_of_the_last_row_work(size: (u16, u16)) {
    let mut looked_at = 0;
    let mut faults = Vec::new();
    for (name, keys) in SCREENS {
        let before = desk(keys, size);
        let shown = above(&before, size);
        for hint in named(&before.buffer(size.0, size.1)) {
            let mut by_key = desk(keys, size);
            by_key.keys(&pressed(&hint.key));
            let after = above(&by_key, size);
            if after == shown && !by_key.left && by_key.reloads == 0 {
                faults.push(format!("{name}: {} does nothing", hint.key));
            }
            let mut by_click = desk(keys, size);
            by_click.act(Action::Click(hint.at, size.1 - 1));
            if above(&by_click, size) != after || by_click.left != by_key.left {
                faults.push(format!("{name}: a click on {} does not", hint.key));
            }
            looked_at += 1;
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(looked_at > 4 * SCREENS.len(), "{looked_at}");
}

#[test]
fn every_key_of_the_last_row_works_on_a_small_screen() {
    keys_of_the_last_row_work((80, 24));
}

#[test]
fn every_key_of_the_last_row_works_on_a_wide_screen() {
    keys_of_the_last_row_work((200, 60));
}

#[test]
fn what_can_not_be_done_is_not_named() {
    let last = |desk: &Desk| desk.text(200, 60).lines().last().unwrap().to_owned();
    let mut desk = Desk::new(200, 60);
    let begun = last(&desk);
    assert!(
        !begun.contains("widen") && !begun.contains("back"),
        "{begun}"
    );
    desk.keys("2 f Enter");
    assert!(last(&desk).contains("widen"), "{}", last(&desk));
    assert!(last(&desk).contains("back"), "{}", last(&desk));
    desk.keys("5");
    assert!(!last(&desk).contains("plans"), "{}", last(&desk));
    desk.keys("Space");
    assert!(last(&desk).contains("plans"), "{}", last(&desk));
}

#[test]
fn a_click_on_a_message_takes_it_away_and_does_nothing_else() {
    let mut desk = Desk::new(80, 24);
    desk.keys("x");
    let text = desk.text(80, 24);
    assert!(text.contains("There is no filter to widen."), "{text}");
    let shown = above(&desk, (80, 24));
    for x in [1, 12, 40, 72] {
        desk.keys("x");
        desk.act(Action::Click(x, 23));
        assert_eq!(above(&desk, (80, 24)), shown, "{x}");
        assert!(!desk.text(80, 24).contains("There is no filter"), "{x}");
    }
}

#[test]
fn hints_say_where_a_key_leads_from_here() {
    let last = |desk: &Desk| desk.text(200, 60).lines().last().unwrap().to_owned();
    for (begin, key, before, after) in [
        ("3", "c", "c crews", "c technicians"),
        ("3", "v", "v shares", "v expected"),
        ("4", "v", "v shares", "v expected"),
        ("8", "t", "t doubtful too", "t without doubtful"),
    ] {
        let mut desk = Desk::new(200, 60);
        desk.keys(begin);
        assert!(last(&desk).contains(before), "{begin}: {}", last(&desk));
        desk.keys(key);
        assert!(last(&desk).contains(after), "{begin}: {}", last(&desk));
    }
}

#[test]
fn lists_and_forms_without_a_second_one_name_no_key_for_it() {
    let last = |desk: &Desk| desk.text(200, 60).lines().last().unwrap().to_owned();
    let mut desk = Desk::new(200, 60);
    desk.keys("*");
    assert!(!last(&desk).contains("Enter"), "{}", last(&desk));
    assert!(!last(&desk).contains("forget"), "{}", last(&desk));
    let mut desk = Desk::on_file(200, 60);
    desk.keys("2 a");
    assert!(!last(&desk).contains("field before"), "{}", last(&desk));
    desk.keys("Esc F");
    assert!(last(&desk).contains("field before"), "{}", last(&desk));
    let mut desk = Desk::new(200, 60);
    desk.keys("7 i type:har Enter");
    assert!(last(&desk).contains("Enter change"), "{}", last(&desk));
}
