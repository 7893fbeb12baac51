//! The filter, typed and built: how both look, and that both come to the same.

use fairdraw::analysis::{Filter, FilterKey};
use fairdraw::tui::{Action, Theme};
use proptest::prelude::*;
use ratatui::style::Color;

use super::desk::{Desk, styles};
use super::made_up::passing;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// What is looked at, and the keys that lead there.
const LOOKS: &[(&str, &str)] = &[
    ("builder", "+"),
    ("builder-ticked", "+ Space Tab Space Down Space -"),
    ("builder-narrowed", "+ Tab Tab Tab Tab Tab type:e"),
    ("builder-no-value", "+ Tab type:zzz"),
    (
        "builder-blank",
        ": type:kind:tank Enter + Tab Tab Tab Tab End",
    ),
    (
        "builder-fields",
        ": type:kind:sump_-crew:Late Enter + Left Up",
    ),
    ("builder-day", "+ Left End Up Enter type:2026-0"),
    ("builder-day-wrong", "+ Left End Enter type:4.3.2026"),
    (
        "builder-days-cross",
        ": type:from:2026-06 Enter + Left End Enter type:2026-01-31",
    ),
    ("filter-keys", ":"),
    ("filter-values", ": type:crew:"),
    ("filter-chosen", ": type:technician: Down Down"),
    ("filter-slip", ": type:crew:Erly"),
    ("filter-elsewhere", ": type:sight:north_kind:su"),
    ("filter-nothing", ": type:kind:"),
    ("filter-wide", ": type:site:油_broken:nonsense Enter"),
];

#[test]
fn both_ways_at_three_sizes() {
    for (name, keys) in LOOKS {
        for (width, height) in SIZES {
            let mut desk = Desk::new(width, height);
            desk.keys(keys);
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
    }
}

#[test]
fn the_smallest_window_has_room_for_both() {
    for (name, keys) in [LOOKS[1], LOOKS[5], LOOKS[11]] {
        let mut desk = Desk::new(60, 20);
        desk.keys(keys);
        let text = desk.text(60, 20);
        assert_snapshot("screens", &format!("{name}@60x20"), &text);
    }
}

#[test]
fn both_ways_in_ascii_and_without_colours() {
    for (name, keys) in LOOKS {
        let mut desk = Desk::with(80, 24, Theme::new(true, false));
        desk.keys(keys);
        let text = desk.text(80, 24);
        assert!(text.is_ascii(), "{keys}\n{text}");
        if ["builder-ticked", "filter-values"].contains(name) {
            assert_snapshot("screens", &format!("{name}-ascii"), &text);
        }
        let mut desk = Desk::with(80, 24, Theme::new(false, true));
        desk.keys(keys);
        for cell in desk.buffer(80, 24).content() {
            assert_eq!((cell.fg, cell.bg), (Color::Reset, Color::Reset), "{keys}");
        }
    }
}

#[test]
fn the_chosen_row_and_the_mistake_stand_out() {
    for (name, keys) in [("builder", "+ Down"), ("filter-wrong", ": type:a:b Enter")] {
        let mut desk = Desk::new(80, 24);
        desk.keys(keys);
        let runs = styles(&desk.buffer(80, 24));
        assert_snapshot("screens", &format!("{name}-styles"), &runs.join("\n"));
    }
}

fn row(desk: &Desk, row: usize) -> String {
    let text = desk.text(120, 40);
    text.lines().nth(row).unwrap().trim().to_owned()
}

/// The filter in the header, and how many draws it says pass.
fn header(desk: &Desk) -> (String, String) {
    let header = row(desk, 1);
    let header = header.strip_prefix("filter").unwrap().trim();
    let (filter, count) = header.rsplit_once("  ").unwrap();
    (filter.trim().to_owned(), count.trim().to_owned())
}

fn hints(desk: &Desk) -> String {
    row(desk, 39)
}

#[test]
fn two_keys_lead_to_what_cannot_be_trusted() {
    let mut desk = Desk::new(120, 40);
    desk.keys("+ Enter");
    let (filter, count) = header(&desk);
    assert_eq!(filter, "verdict:unrepresentative");
    let some = passing(&desk.assessed, &filter);
    let all = desk.assessed.judged.len();
    assert_eq!(count, format!("{some} of {all} draws"));
}

/// Every value of every field says how many draws are left, and so many are.
#[test]
fn every_value_leaves_as_many_draws_as_it_says() {
    for within in ["", "-verdict:representative kind:sump,tank"] {
        for (place, key) in FilterKey::ALL.iter().enumerate() {
            for down in 0..6 {
                let mut desk = Desk::new(120, 40);
                if !within.is_empty() {
                    desk.keys(&format!(": type:{} Enter", within.replace(' ', "_")));
                }
                let mut keys = vec!["+"];
                keys.extend(vec!["Tab"; place]);
                keys.extend(vec!["Down"; down]);
                desk.keys(&keys.join(" "));
                let text = desk.text(120, 40);
                let said = text.lines().find(|line| line.contains("would be in view"));
                let said = said.unwrap_or_else(|| panic!("{key:?}\n{text}"));
                let said = said.split(['│', '|']).nth(1).unwrap().trim().to_owned();
                desk.keys("Enter");
                let (filter, count) = header(&desk);
                if filter == "no filter" || filter == within {
                    continue;
                }
                let some = passing(&desk.assessed, &filter);
                let all = desk.assessed.judged.len();
                assert_eq!(count, format!("{some} of {all} draws"), "{filter}");
                assert_eq!(
                    said,
                    format!("{some} of {all} draws would be in view"),
                    "{filter}"
                );
            }
        }
    }
}

#[test]
fn values_are_ticked_excluded_and_joined_over_fields() {
    let mut desk = Desk::new(120, 40);
    desk.keys("+ Space Down Space Tab Tab Tab Tab Space - Enter");
    let (filter, _) = header(&desk);
    let terms: Vec<&str> = filter.split(' ').collect();
    assert_eq!(terms[0], "verdict:unrepresentative,unproven");
    assert!(terms[1].starts_with("-crew:"), "{filter}");
    // What is in force is ticked when its field is opened again; nothing changes by a look.
    desk.keys("+ Enter");
    assert_eq!(header(&desk).0, filter);
    // Another value takes its place unless values are ticked.
    desk.keys("+ Down Down Enter");
    assert!(header(&desk).0.starts_with("verdict:doubtful -crew:"));
}

#[test]
fn terms_are_turned_taken_out_and_applied_on_the_left() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:sump_crew:Late Enter + Left Up - Up x a");
    assert_eq!(header(&desk).0, "-crew:Late");
    desk.keys("Esc");
    assert_eq!(header(&desk).0, "kind:sump crew:Late");
    desk.keys("+ Left Up x Esc");
    assert_eq!(header(&desk).0, "kind:sump crew:Late");
    assert!(
        hints(&desk).contains("what was built is gone"),
        "{}",
        hints(&desk)
    );
    // Keys that would leave it do not lose what was built.
    desk.keys("+ Left Up x 2");
    assert!(
        hints(&desk).contains("Apply what was built"),
        "{}",
        hints(&desk)
    );
    desk.keys("a");
    assert_eq!(header(&desk).0, "kind:sump");
    desk.keys("+ Left x");
    assert!(hints(&desk).contains("Choose a term"), "{}", hints(&desk));
}

#[test]
fn a_term_can_be_typed_further() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:sump Enter + Left Up : type:crew:Late Enter");
    assert_eq!(header(&desk).0, "kind:sump crew:Late");
}

#[test]
fn days_are_typed_and_checked() {
    let mut desk = Desk::new(120, 40);
    desk.keys("+ Left End Up Enter type:2026-03-15 Enter");
    assert_eq!(header(&desk).0, "from:2026-03-15");
    desk.keys("+ Left End Enter type:31.03.2026 Enter");
    assert!(hints(&desk).contains("is no day"), "{}", hints(&desk));
    desk.keys("Esc type:2026-02 Enter");
    let said = header(&desk).0;
    assert_eq!(said, "from:2026-03-15 to:2026-02");
}

#[test]
fn the_mouse_ticks_and_applies() {
    let mut desk = Desk::new(120, 40);
    desk.act(Action::Click(20, 1));
    let text = desk.text(120, 40);
    let find = |words: &str| {
        let place = text.lines().enumerate().find_map(|(y, line)| {
            let at = line.find(words)?;
            Some((line[..at].chars().count() as u16, y as u16))
        });
        place.unwrap_or_else(|| panic!("{words}\n{text}"))
    };
    let (x, y) = find("[ ] doubtful");
    desk.act(Action::Click(x, y));
    let (x, y) = find("would be in view");
    desk.act(Action::Click(x, y));
    assert_eq!(header(&desk).0, "verdict:doubtful");
    desk.act(Action::Click(20, 1));
    desk.act(Action::Click(119, 38));
    assert!(!desk.text(120, 40).contains("would be in view"));
}

#[test]
fn the_caret_stands_below_the_mistake_also_after_wide_characters() {
    for (typed, cells) in [
        ("sight:north", 0),
        ("kind:sump_-sight:x", 11),
        ("kind:sump,ocean", 10),
        // Two characters of two cells each.
        ("site:油田_kind:ocean", 15),
    ] {
        let mut desk = Desk::new(120, 40);
        desk.keys(&format!(": type:{typed}"));
        let caret = row(&desk, 2).chars().position(|sign| sign == '^');
        assert_eq!(caret, Some(10 + cells), "{typed}");
    }
    let mut desk = Desk::new(120, 40);
    desk.keys(": type:kind:sump_");
    assert_eq!(row(&desk, 2).find('^'), None);
}

#[test]
fn words_are_chosen_below_the_line() {
    let mut desk = Desk::new(120, 40);
    desk.keys(": Down Down Down Enter");
    assert!(row(&desk, 1).ends_with("area:"), "{}", row(&desk, 1));
    desk.keys("C-u type:kind: Down Down Up Enter Enter");
    let (filter, _) = header(&desk);
    assert!(filter.starts_with("kind:"), "{filter}");
    // The nearest is offered for a slip.
    desk.keys(": C-u type:crew:Erly Tab");
    assert!(desk.text(120, 40).contains("did you mean this?"));
    desk.keys("Tab Enter");
    assert_eq!(header(&desk).0, "crew:Early");
}

#[test]
fn earlier_filters_come_back_on_up() {
    let mut desk = Desk::new(120, 40);
    for filter in ["kind:sump", "crew:Late", "kind:tank"] {
        desk.keys(&format!(": C-u type:{filter} Enter"));
    }
    desk.keys(": C-u type:si Up");
    let line = |desk: &Desk| row(desk, 1).replace("filter", "").trim().to_owned();
    assert_eq!(line(&desk), "kind:tank");
    desk.keys("Up Up Up Up");
    assert_eq!(line(&desk), "kind:sump");
    desk.keys("Down");
    assert_eq!(line(&desk), "crew:Late");
    desk.keys("Down Down");
    assert_eq!(line(&desk), "si");
    desk.keys("C-u Up Up Enter");
    assert_eq!(header(&desk).0, "crew:Late");
}

#[test]
fn a_pasted_filter_may_hold_line_breaks() {
    let mut desk = Desk::new(120, 40);
    desk.keys(":");
    desk.act(Action::Paste("kind:sump\r\n-crew:Late\n".to_owned()));
    desk.keys("Enter");
    assert_eq!(header(&desk).0, "kind:sump -crew:Late");
}

#[test]
fn a_long_filter_is_counted_in_the_header_and_whole_in_the_builder() {
    let mut desk = Desk::new(80, 24);
    let filter = "kind:sump,tank -crew:(blank) broken:flush-met from:2026-01 to:2026-12";
    desk.keys(&format!(": type:{} Enter", filter.replace(' ', "_")));
    let text = desk.text(80, 24);
    let header = text.lines().nth(1).unwrap();
    assert!(header.contains("kind:sump,tank + 4 more terms"), "{header}");
    desk.keys("+ Left");
    let text = desk.text(80, 24);
    for words in [
        "kind of point is sump or ta",
        "crew is not blank",
        "to:2026-12",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
}

#[derive(Clone, Debug)]
enum Press {
    Key(&'static str),
    Typed(String),
}

fn any_press() -> impl Strategy<Value = Press> {
    let keys = [
        "Tab",
        "Down",
        "Up",
        "Space",
        "-",
        "Left",
        "Enter",
        "x",
        "End",
        "Backspace",
    ];
    prop_oneof![
        9 => (0..keys.len()).prop_map(move |at| Press::Key(keys[at])),
        1 => "[a-z0-9-]{1,4}".prop_map(Press::Typed),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    /// Whatever is built, the header's filter reads back and passes the draws it counts.
    #[test]
    fn what_is_built_passes_the_draws_it_counts(
        presses in proptest::collection::vec(any_press(), 1..40)
    ) {
        let mut desk = Desk::new(250, 40);
        desk.keys("+");
        for press in presses {
            match press {
                Press::Key(key) => desk.keys(key),
                Press::Typed(text) => desk.keys(&format!("type:{text}")),
            };
            if !desk.text(250, 40).contains("would be in view") {
                desk.keys("+");
            }
        }
        desk.keys("Esc Esc");
        let text = desk.text(250, 40);
        let header = text.lines().nth(1).unwrap().trim();
        let header = header.strip_prefix("filter").unwrap().trim();
        let (filter, count) = header.rsplit_once("  ").unwrap();
        let all = desk.assessed.judged.len();
        if filter.trim() == "no filter" {
            prop_assert_eq!(count.trim(), format!("{all} draws"));
        } else if !filter.contains(" + ") {
            let read = Filter::parse(filter.trim()).unwrap();
            prop_assert_eq!(read.to_string(), filter.trim());
            let some = passing(&desk.assessed, filter.trim());
            prop_assert_eq!(count.trim(), format!("{some} of {all} draws"));
        }
    }
}
