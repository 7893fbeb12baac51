//! Copying, saved filters, undoing, and screens as they were left: how the panels look and what
//! comes of their keys.

use fairdraw::model::trail::Who;
use fairdraw::programme::remembered::{Change, Keeper, NotKept};
use fairdraw::tui::clipboard::Clipboard;
use fairdraw::tui::{Action, App, Theme};
use ratatui::layout::Size;

use super::desk::Desk;
use crate::support::assert_snapshot;

const SIZES: [(u16, u16); 3] = [(80, 24), (120, 40), (200, 60)];

/// Saves a filter and is back at the list of saved ones.
const SAVE: &str = ": type:verdict:doubtful Enter * a type:doubtful_ones Enter a C-u type:the_same_again Enter Esc";

/// Panels on the made-up programme, and the keys that lead there.
const PANELS: &[(&str, &str)] = &[
    ("copy-row", "2 j y"),
    ("copy-cell", "2 j y c Right Right"),
    ("copy-list", "3 y l"),
    ("copy-filter", "2 : type:verdict:doubtful Enter y f"),
    ("copy-no-filter", "y f"),
    ("copy-command", "4 : type:verdict:doubtful Enter v y o"),
    ("copy-heat", "5 l l y c"),
    ("saved-none", "*"),
    ("saved-none-narrowed", ": type:verdict:doubtful Enter *"),
    ("saved", "SAVE *"),
    (
        "saved-naming",
        ": type:verdict:doubtful Enter * a type:our_crew",
    ),
    (
        "saved-taken",
        "SAVE : C-u type:verdict:unproven Enter * a type:Doubtful_ones Enter",
    ),
    (
        "saved-blank-name",
        ": type:verdict:doubtful Enter * a type:@x Enter",
    ),
    ("saved-renaming", "SAVE * j n"),
    ("saved-forgotten", "SAVE * Delete"),
    ("undo-none", "U"),
    ("undo-ticks", "5 Space l Space U j"),
    ("undo-forgotten", "SAVE * Delete Esc U"),
];

/// Panels on a programme file, where decisions are kept.
const DECIDED: &[(&str, &str)] = &[
    ("undo-set-aside", "2 j Enter a type:tap_was_dirty Enter U"),
    (
        "undo-all",
        "2 j Enter a type:tap_was_dirty Enter Esc RAISE Enter ANSWER c type:Four_rounds_watched \
         Enter Enter 6 Tab n C-s Enter a C-s U j j j",
    ),
];

fn keys(desk: &mut Desk, keys: &str) {
    for part in keys.split_whitespace() {
        match part {
            "SAVE" => desk.keys(SAVE),
            "RAISE" => desk
                .keys("3 F type:Flushes_short Enter Enter type:flush-met Enter type:Bo_Tarn Enter"),
            "ANSWER" => desk.keys(
                "6 a type:No_jug_at_the_points Enter type:Drawn_again Enter \
                 type:A_jug_at_every_point Enter type:2026-12-15 Enter",
            ),
            other => desk.keys(other),
        };
    }
}

#[test]
fn every_panel_at_three_sizes() {
    for (width, height) in SIZES {
        for (name, pressed) in PANELS {
            let mut desk = Desk::new(width, height);
            keys(&mut desk, pressed);
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
        for (name, pressed) in DECIDED {
            let mut desk = Desk::on_file(width, height);
            keys(&mut desk, pressed);
            let text = desk.text(width, height);
            assert_snapshot("screens", &format!("{name}@{width}x{height}"), &text);
        }
    }
}

#[test]
fn panels_are_plain_where_the_terminal_is() {
    for (name, pressed) in PANELS {
        let mut desk = Desk::with(60, 20, Theme::new(false, false));
        keys(&mut desk, pressed);
        let text = desk.text(60, 20);
        assert!(text.is_ascii(), "{name}:\n{text}");
    }
}

#[test]
fn what_the_panel_shows_is_what_is_copied() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "3 y");
    let shown = desk.text(120, 40);
    keys(&mut desk, "Enter");
    let copied = desk.copied.last().unwrap().clone();
    let (headings, row) = copied.trim_end().split_once('\n').unwrap();
    assert_eq!(headings.split('\t').count(), row.split('\t').count());
    assert!(headings.starts_with("technician\tname\tcrew\tdraws\tjudged"));
    let first: Vec<&str> = row.split('\t').take(3).collect();
    assert!(shown.contains(&first.join(" ⇥ ")), "{shown}");
    let text = desk.text(120, 40);
    assert!(
        text.contains(&format!("Sent {} bytes", copied.len())),
        "{text}"
    );
    assert!(!text.contains(" copy ─"), "the panel is closed:\n{text}");
    // The same by `y` twice.
    keys(&mut desk, "y y");
    assert_eq!(desk.copied, [copied.clone(), copied]);
}

#[test]
fn a_cell_is_chosen_by_its_column() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "2 y Right Right Right Enter");
    keys(&mut desk, "y c Left Enter");
    let [point, draw]: [String; 2] = desk.copied.clone().try_into().unwrap();
    keys(&mut desk, "y r Enter");
    let row = desk.copied.last().unwrap();
    let cells: Vec<&str> = row.lines().nth(1).unwrap().split('\t').collect();
    assert_eq!((point.as_str(), draw.as_str()), (cells[2], cells[10]));
}

#[test]
fn a_terminal_without_a_clipboard_gets_nothing_and_the_panel_stays() {
    let mut desk = Desk::new(120, 40);
    let size = Size {
        width: 120,
        height: 40,
    };
    desk.app = App::new("made-up.db", Theme::new(true, true), size)
        .with_clipboard(Clipboard::None)
        .with_who(Who::named("Ines Falk"));
    desk.act(Action::Loaded(desk.assessed.clone()));
    keys(&mut desk, "2 y Enter");
    assert!(desk.copied.is_empty());
    let text = desk.text(120, 40);
    assert!(
        text.contains("no clipboard") && text.contains(" copy ─"),
        "{text}"
    );
}

#[test]
fn a_list_is_cut_where_a_terminal_takes_no_more() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "2 y l");
    let said = desk.text(120, 40);
    keys(&mut desk, "Enter");
    let copied = desk.copied.last().unwrap();
    assert!(copied.len() <= 74_994);
    let rows = copied.lines().count() - 1;
    let all = desk.assessed.judged.len();
    let says_all = said.contains(&format!("all {rows} rows"));
    assert!(
        rows == all && says_all || said.contains(&format!("the first {rows} of")),
        "{said}"
    );
    // Records of rows that were never on screen are there too.
    let headings: Vec<&str> = copied.lines().next().unwrap().split('\t').collect();
    let bottle = headings.iter().position(|it| *it == "bottle").unwrap();
    let with_bottle = copied.lines().skip(1).filter(|line| {
        let cell = line.split('\t').nth(bottle);
        cell.is_some_and(|cell| !cell.is_empty())
    });
    assert!(with_bottle.count() > rows / 2, "{copied}");
}

#[test]
fn what_is_left_out_of_a_long_list_is_told_with_the_command_that_writes_all_of_it() {
    let mut desk = Desk::of_file(crate::tour::demo(), 120, 40, Theme::new(true, true));
    desk.keys("2 y l");
    let said = desk.text(120, 40);
    desk.keys("Enter");
    let copied = desk.copied.last().unwrap().clone();
    let rows = copied.lines().count() - 1;
    // As many as fit, to the last row; every row with its bottle or draw, seen or not.
    assert!(
        (74_500..=74_994).contains(&copied.len()),
        "{}",
        copied.len()
    );
    assert!(
        copied
            .lines()
            .all(|line| line.split('\t').nth(10) != Some(""))
    );
    assert!(
        said.contains(&format!("the first {rows} of 4,962 rows")),
        "{said}"
    );
    let text = desk.text(120, 40);
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let left = format!(
        "{},{:03} rows are left out.",
        (4962 - rows) / 1000,
        (4962 - rows) % 1000
    );
    assert!(text.contains(&left), "{text}");
    assert!(text.contains("score --format csv"), "{text}");
}

#[test]
fn the_command_line_of_a_form_is_copied() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "6 Tab n C-y");
    let text = desk.text(120, 40);
    assert!(
        text.contains("Draw a pick") && text.contains("Sent "),
        "{text}"
    );
    let line = desk.copied.last().unwrap();
    assert!(
        line.contains(" pick --plan discovery --share 0.05 --confidence 0.95"),
        "{line}"
    );
    // Nothing to copy before the form is filled in.
    keys(&mut desk, "Esc 2 Enter a C-y");
    let text = desk.text(120, 40);
    assert!(
        text.contains("No command line does what stands here"),
        "{text}"
    );
    keys(&mut desk, "type:tap's_dirty C-y");
    let line = desk.copied.last().unwrap();
    assert!(line.ends_with("'--because=tap'\\''s dirty'"), "{line}");
}

#[test]
fn a_saved_filter_is_applied_replaced_and_brought_back() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "SAVE");
    let filters = desk.keeper.memory().filters.clone();
    assert_eq!(filters.len(), 2);
    assert_eq!(filters[0].name, "doubtful ones");
    // Without a filter it is applied from anywhere.
    keys(&mut desk, "x");
    assert!(desk.text(120, 40).contains("no filter"));
    keys(&mut desk, "3 * Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("verdict:doubtful"), "{text}");
    assert!(text.contains("doubtful ones: verdict:doubtful"), "{text}");
    // Another filter under the same name is asked about once.
    keys(
        &mut desk,
        ": C-u type:verdict:unproven Enter * a type:doubtful_Ones Enter",
    );
    assert!(
        desk.text(120, 40)
            .contains("There is a filter doubtful ones already")
    );
    assert_eq!(desk.keeper.memory().filters, filters);
    keys(&mut desk, "Enter Esc");
    assert_eq!(
        desk.keeper.memory().saved("doubtful ones").unwrap().filter,
        "verdict:unproven"
    );
    keys(&mut desk, "U Enter");
    assert_eq!(desk.keeper.memory().filters, filters);
    // Forgotten, and brought back.
    keys(&mut desk, "* Delete");
    assert!(desk.text(120, 40).contains("U brings it back"));
    assert_eq!(desk.keeper.memory().filters.len(), 1);
    keys(&mut desk, "Esc U Enter");
    assert_eq!(desk.keeper.memory().filters, filters);
}

#[test]
fn what_is_set_aside_counts_again_and_the_trail_grows() {
    let mut desk = Desk::on_file(120, 40);
    keys(&mut desk, "2 j Enter a type:tap_was_dirty Enter");
    let links = desk.programme().trail().unwrap().len();
    keys(&mut desk, "U");
    assert!(desk.text(120, 40).contains("lets the result count again"));
    keys(&mut desk, "Enter");
    assert!(desk.text(120, 40).contains("Say why it counts after all"));
    keys(&mut desk, "type:the_tap_was_clean Enter");
    let set_asides = desk.programme().set_asides().unwrap();
    assert_eq!(set_asides.len(), 1);
    let back = set_asides[0].taken_back.as_ref().unwrap();
    assert_eq!(back.because, "the tap was clean");
    assert_eq!(desk.programme().trail().unwrap().len(), links + 1);
    // The opposite stands in the list instead, and is undone in its turn.
    keys(&mut desk, "U");
    let text = desk.text(120, 40);
    assert!(text.contains("was let count again"), "{text}");
    assert!(!text.contains("was set aside"), "{text}");
    keys(&mut desk, "Enter type:dirty_after_all Enter");
    assert_eq!(desk.programme().set_asides().unwrap().len(), 2);
}

#[test]
fn a_finding_raised_is_withdrawn_and_one_closed_stays() {
    let mut desk = Desk::on_file(120, 40);
    keys(
        &mut desk,
        "RAISE Enter U Enter type:the_jug_was_there Enter",
    );
    let findings = desk.programme().findings().unwrap();
    assert_eq!(findings[0].state.as_str(), "withdrawn");
    let links = desk.programme().trail().unwrap().len();
    keys(&mut desk, "U");
    let text = desk.text(120, 40);
    assert!(text.contains("raise it anew"), "{text}");
    keys(&mut desk, "Enter");
    assert!(desk.text(120, 40).contains("F-1 stays withdrawn"));
    assert_eq!(desk.programme().trail().unwrap().len(), links);
}

#[test]
fn a_result_entered_anew_is_undone_to_what_was_known_before() {
    let mut desk = Desk::on_file(120, 40);
    keys(
        &mut desk,
        "6 Tab n C-s Enter a type:seen C-s Up d type:counter_reads_less C-s",
    );
    let first = |desk: &mut Desk| {
        let pick = desk.programme().pick(1).unwrap();
        let (_, verified) = pick.results[0].clone().unwrap();
        (verified.result.as_str().to_owned(), verified.note)
    };
    assert_eq!(
        first(&mut desk),
        ("disagree".to_owned(), "counter reads less".to_owned())
    );
    keys(&mut desk, "U Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("seen"), "{text}");
    keys(&mut desk, "C-s");
    assert_eq!(first(&mut desk), ("agree".to_owned(), "seen".to_owned()));
}

#[test]
fn a_batch_taken_in_leads_to_where_it_is_taken_back() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "7 i type:draws Enter t Esc 1 U");
    let text = desk.text(120, 40);
    assert!(text.contains("was taken in"), "{text}");
    keys(&mut desk, "Enter");
    let text = desk.text(120, 40);
    assert!(text.contains("Takes batch 2 back"), "{text}");
}

#[test]
fn ticks_are_undone_at_once_and_again() {
    let mut desk = Desk::new(120, 40);
    keys(&mut desk, "5 Space l Space U Enter");
    assert!(
        desk.text(120, 40).contains("1 ticked"),
        "{}",
        desk.text(120, 40)
    );
    keys(&mut desk, "U Enter");
    assert!(
        desk.text(120, 40).contains("2 ticked"),
        "{}",
        desk.text(120, 40)
    );
}

/// An interface that finds its screens as they were left.
fn found(keeper: &Keeper) -> Desk {
    let mut desk = Desk::new(120, 40);
    let size = Size {
        width: 120,
        height: 40,
    };
    desk.app = App::new("made-up.db", Theme::new(true, true), size)
        .with_memory(keeper)
        .as_it_was_left(keeper);
    desk.act(Action::Loaded(desk.assessed.clone()));
    desk
}

#[test]
fn screens_are_found_as_they_were_left_without_the_filter() {
    let mut keeper = Keeper::nowhere(NotKept::Off);
    let layout = [
        ("screen", "people"),
        ("people.order", "draws up"),
        ("people.crews", "on"),
        ("people.shares", "on"),
        ("draws.order", "score up"),
        ("share.periods", "quarter"),
        ("weather", "wet"),
        ("points.order", "sideways"),
    ];
    let layout = layout.map(|(name, word)| (name.to_owned(), word.to_owned()));
    keeper.leave(&layout.into(), &["verdict:doubtful".to_owned()]);
    keeper
        .change(&Change::Save {
            name: "ours".to_owned(),
            filter: "verdict:unproven".to_owned(),
            replace: false,
        })
        .unwrap();
    let mut desk = found(&keeper);
    let text = desk.text(120, 40);
    assert!(
        text.contains("As you left it last time: People. 1 leads to Share."),
        "{text}"
    );
    assert!(
        text.contains("▲draws") && text.contains("no filter"),
        "{text}"
    );
    assert_snapshot("screens", "left-as-it-was@120x40", &text);
    keys(&mut desk, "2");
    assert!(desk.text(120, 40).contains("▲score"));
    keys(&mut desk, "1");
    assert!(
        desk.text(120, 40).contains("Quarter"),
        "{}",
        desk.text(120, 40)
    );
    keys(&mut desk, "*");
    assert!(desk.text(120, 40).contains("ours"));
}

#[test]
fn a_programme_left_on_share_opens_without_a_word() {
    let keeper = Keeper::nowhere(NotKept::Off);
    let text = found(&keeper).text(120, 40);
    assert!(!text.contains("As you left it"), "{text}");
}
