//! What is said is said whole, means one thing, and is the same wherever it is said.

use fairdraw::tui::Theme;

use super::desk::Desk;

/// The screen after these keys.
fn shown(keys: &str, (width, height): (u16, u16), theme: Theme) -> String {
    let mut desk = Desk::with(width, height, theme);
    desk.keys(keys);
    desk.text(width, height)
}

fn unicode() -> Theme {
    Theme::new(true, true)
}

/// The lines of the right half below a heading, as far as they are words.
fn below(text: &str, heading: &str, count: usize) -> Vec<String> {
    let lines = text.lines().skip_while(|line| !line.contains(heading));
    let right = |line: &str| line.chars().skip(41).collect::<String>().trim().to_owned();
    lines.take(count).map(right).collect()
}

#[test]
fn the_note_of_the_periods_ends_with_a_sentence() {
    for keys in ["Tab Tab", "Tab Tab j", "t", "t t t", "t t t j j"] {
        let text = shown(keys, (80, 24), unicode());
        let note = below(&text, "Broken most", 3).join(" ");
        assert!(note.trim().ends_with('.'), "{keys}: {note}\n{text}");
    }
}

#[test]
fn shades_of_ascii_are_no_signs_of_a_number() {
    let text = shown("5", (120, 40), Theme::new(true, false));
    let rows = text
        .lines()
        .skip_while(|line| !line.contains("draws to regain"));
    let mut numbers = 0;
    for row in rows.skip(2).take(4) {
        let cells = row.chars().skip(23).take(54).collect::<String>();
        for word in cells.split_whitespace() {
            if word.chars().any(|sign| sign.is_ascii_digit()) {
                assert!(
                    word.starts_with(|sign: char| sign.is_ascii_digit()),
                    "{word}\n{text}"
                );
                numbers += 1;
            }
        }
    }
    assert!(numbers > 4, "{text}");
}

#[test]
fn a_share_of_draws_chosen_by_verdict_tells_nothing() {
    let text = shown(": type:verdict:unrepresentative Enter", (80, 24), unicode());
    assert!(
        text.contains("The filter chose these draws by their verdict"),
        "{text}"
    );
    let other = shown(": type:kind:sump Enter", (80, 24), unicode());
    assert!(!other.contains("by their verdict"), "{other}");
}

/// The headings of the list of a screen.
fn headings(text: &str, first: &str) -> Vec<String> {
    let line = text
        .lines()
        .find(|line| line.trim_start().starts_with(first));
    let line = line.unwrap_or_else(|| panic!("{first}: {text}"));
    let list = line.split('│').next().unwrap_or_default();
    let words = list.split_whitespace();
    let words = words.map(|word| word.trim_matches(['▲', '▼']).to_owned());
    words.collect()
}

#[test]
fn a_wider_screen_shows_no_fewer_columns() {
    let mut faults = Vec::new();
    for (keys, first) in [
        ("2", "verdict"),
        ("3", "name"),
        ("3 v", "name"),
        ("3 s s s s", "name"),
        ("4", "point"),
        ("4 v", "point"),
        ("4 s s s", "point"),
        ("5 Tab", "ask"),
        ("5 Tab Tab", "held"),
        ("6", "no."),
        ("7 Tab Tab", "worth"),
        ("8", "compartment"),
        ("8 s", "compartment"),
    ] {
        let of = |width, height| {
            let mut desk = match keys.starts_with('7') {
                true => Desk::new(width, height),
                false => Desk::on_file(width, height),
            };
            desk.keys(keys);
            headings(&desk.text(width, height), first)
        };
        let small = of(80, 24);
        for size in [
            (100, 30),
            (118, 40),
            (120, 40),
            (139, 40),
            (140, 40),
            (160, 50),
            (200, 60),
        ] {
            let wide = of(size.0, size.1);
            let lost: Vec<&String> = small.iter().filter(|it| !wide.contains(it)).collect();
            if !lost.is_empty() {
                faults.push(format!("{keys} at {size:?}: {lost:?}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn what_is_asked_of_others_begins_with_what_costs_most() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys("5 Tab y l Enter");
    let list = desk.copied.pop().unwrap();
    // Costs, then what is broken or unrecorded.
    let costs = list.lines().skip(1).map(|line| {
        let cells: Vec<&str> = line.split('\t').collect();
        let number = |back: usize| cells[cells.len() - back].parse::<f64>().unwrap();
        (number(1), number(2) + number(3))
    });
    let costs: Vec<(f64, f64)> = costs.collect();
    assert!(costs.len() > 3 && costs[0].1 > costs[1].1, "{list}");
    assert!(costs.windows(2).all(|pair| pair[0] >= pair[1]), "{list}");
    let text = desk.text(120, 40);
    for owner in ["plant", "planner", "dispatch", "desk"] {
        let sums = text.lines().find(|line| line.contains(" · planner"));
        assert!(sums.is_some_and(|sums| sums.contains(owner)), "{text}");
    }
}

#[test]
fn rules_are_sorted_by_what_they_regain() {
    let mut desk = Desk::new(80, 24);
    assert!(desk.text(80, 24).contains("Broken most"));
    desk.keys("s");
    let text = desk.text(80, 24);
    let rules = text
        .lines()
        .skip_while(|line| !line.contains("Regain most"));
    let regained = rules.skip(1).take(5).map(|line| {
        let half: String = line.chars().take(39).collect();
        let last = half
            .trim_end_matches(['┃', ' '])
            .split_whitespace()
            .next_back();
        last.and_then(|word| word.parse::<u64>().ok()).unwrap()
    });
    let regained: Vec<u64> = regained.collect();
    assert!(regained[0] > 0, "{text}");
    assert!(regained.windows(2).all(|pair| pair[0] >= pair[1]), "{text}");
    desk.keys("s");
    assert!(desk.text(80, 24).contains("Broken most"));
}

#[test]
fn a_result_set_aside_shows_in_its_row() {
    let mut desk = Desk::on_file(80, 24);
    desk.keys("2 j");
    let row = |desk: &Desk| desk.text(80, 24).lines().nth(5).unwrap().to_owned();
    assert!(!row(&desk).contains('⊘'));
    desk.keys("a type:tap_was_dirty C-s");
    assert!(row(&desk).contains('⊘'), "{}", desk.text(80, 24));
    let others = desk.text(80, 24).matches('⊘').count();
    assert_eq!(others, 1);
}

#[test]
fn bounds_that_are_the_score_are_not_said_again() {
    let mut desk = Desk::on_file(120, 40);
    desk.keys("2");
    let mut with = 0;
    let mut without = 0;
    for _ in 0..40 {
        let text = desk.text(120, 40);
        let words = text.replace('│', " ");
        assert!(!words.contains("on record ·"), "{text}");
        match words.contains("(at least") {
            true => with += 1,
            false => without += 1,
        }
        desk.keys("j");
    }
    assert!(with > 0 && without > 0, "{with} {without}");
}

#[test]
fn a_key_that_does_nothing_says_what_it_does_elsewhere() {
    let mut desk = Desk::new(80, 24);
    desk.keys("5 Tab d");
    let text = desk.text(80, 24);
    let last = text.lines().last().unwrap();
    assert!(
        last.contains("d does nothing here; elsewhere: picture"),
        "{last}"
    );
    desk.keys("j");
    let text = desk.text(80, 24);
    assert!(!text.contains("does nothing"), "{text}");
    desk.keys("%");
    let text = desk.text(80, 24);
    assert!(text.contains("% does nothing; ? shows the keys."), "{text}");
}

/// What stands on the page that a key shows, from the first line to the last.
fn page(keys: &str) -> String {
    let (width, height) = (80, 24);
    let mut desk = Desk::new(width, height);
    desk.keys(keys);
    let cut = desk.text(width, height);
    assert!(cut.contains("; o shows all"), "{cut}");
    desk.keys("o");
    let mut all = String::new();
    for _ in 0..6 {
        // Without the scroll bar.
        all.push_str(&desk.text(width, height).replace('┃', " "));
        desk.keys("PageDown");
    }
    desk.keys("o");
    assert_eq!(desk.text(width, height), cut);
    assert!(!all.contains("more lines"), "{all}");
    all.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_is_cut_beside_a_list_is_read_on_a_page_of_its_own() {
    for (keys, words) in [
        ("3", "Points served"),
        ("4", "Technicians who serve it"),
        ("5 Tab j", "under the site's permit rules."),
        ("5 Tab Tab", "bad spells pass by themselves."),
    ] {
        let all = page(keys);
        assert!(all.contains(words), "{keys}: {all}");
    }
    // A caution of the chosen topic.
    let all = page("5 j j");
    assert!(all.contains("Caution:"), "{all}");
    assert!(
        all.contains("through the fitting the site provides for it, under its permit rules."),
        "{all}"
    );
}
