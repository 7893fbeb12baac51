//! The filter language: what it reads, what it refuses, what it writes, what it picks.

use fairdraw::analysis::{Filter, FilterKey, Key, by};
use proptest::prelude::*;

use super::{any_rows, programme, six_draws};

#[test]
fn every_key_picks_its_draws() {
    let assessed = programme(six_draws());
    let cases: [(&str, &[u32]); 44] = [
        ("", &[0, 1, 2, 3, 4, 5]),
        ("  ", &[0, 1, 2, 3, 4, 5]),
        ("verdict:unrepresentative", &[0, 3]),
        ("verdict:Unrepresentative,DOUBTFUL", &[0, 3, 4]),
        ("-verdict:representative", &[0, 1, 3, 4]),
        ("site:North", &[0, 1]),
        // texts are compared as they are
        ("site:north", &[]),
        ("site:\"North pit, upper\"", &[2, 3]),
        ("site:North,\"North pit, upper\"", &[0, 1, 2, 3]),
        ("site:(blank)", &[4, 5]),
        ("site:\"(blank)\"", &[]),
        ("-site:(BLANK)", &[0, 1, 2, 3]),
        ("site:(blank),North", &[0, 1, 4, 5]),
        ("area:Crusher", &[0, 1, 4, 5]),
        ("area:(blank)", &[2, 3]),
        ("machine:\"Crusher 1\"", &[0, 1]),
        ("crew:Early", &[0, 3]),
        ("-crew:Early", &[1, 2, 4, 5]),
        ("crew:(blank)", &[4, 5]),
        // exactly an id: that technician alone, though another is named so
        ("technician:07", &[0, 3]),
        ("technician:\"ina FJELL\"", &[0, 3]),
        ("technician:\"Bo \"\"Bo\"\" Lind\"", &[1, 2]),
        ("point:T-1", &[2, 3]),
        ("compartment:\"gearbox 1\"", &[0, 1, 4, 5]),
        ("class:gearbox", &[0, 1]),
        ("machine-class:gearbox", &[0, 1]),
        ("class:(blank)", &[4, 5]),
        ("kind:tank", &[2, 3]),
        ("place:tank-upper", &[2, 3]),
        ("-place:(blank)", &[0, 1, 2, 3]),
        ("method:thief", &[2]),
        ("method:(blank)", &[3]),
        ("-method:tube-pump", &[2, 3]),
        ("broken:flush-met", &[0]),
        ("broken:flush-met,level-set", &[0, 3]),
        ("broken:flush-met broken:fill-level", &[0]),
        ("-broken:flush-met,level-set", &[1, 2, 4, 5]),
        ("unrecorded:flush-met", &[1]),
        // both days belong to it, in Paris time
        ("from:2026-02-01", &[1, 2, 3, 4, 5]),
        ("to:2026-01-31", &[0]),
        ("from:2026-02 to:2026-02", &[1, 2, 3]),
        ("-from:2026-02", &[0]),
        ("from:2026-05 to:2026-02", &[]),
        ("KIND:Tank crew:Late", &[2]),
    ];
    for (text, rows) in cases {
        let filter = Filter::parse(text).unwrap();
        assert_eq!(filter.select(&assessed), rows, "{text}");
    }
}

#[test]
fn what_is_wrong_is_said_with_its_column() {
    let cases = [
        (
            "north",
            "\"north\" is no term; write KEY:VALUE, for instance site:NORTH (column 1)",
        ),
        (
            "crew:B  -x y",
            "\"-x\" is no term; write KEY:VALUE, for instance site:NORTH (column 9)",
        ),
        (
            "-",
            "\"-\" is no term; write KEY:VALUE, for instance site:NORTH (column 1)",
        ),
        (
            "ste:A",
            "\"ste\" is no key of a filter; the nearest is site; known are verdict, site, area, \
             machine, crew, technician, point, compartment, class, kind, place, method, broken, \
             unrecorded, from, to (column 1)",
        ),
        (
            "crew:Ö -colour:red",
            "\"colour\" is no key of a filter; known are verdict, site, area, machine, crew, \
             technician, point, compartment, class, kind, place, method, broken, unrecorded, \
             from, to (column 9)",
        ),
        (
            "verdict:bad",
            "\"bad\" is no verdict; known are unrepresentative, unproven, doubtful, \
             representative (column 9)",
        ),
        (
            "kind:sump,bucket",
            "\"bucket\" is no kind; known are circulating, sump, tank, grease (column 11)",
        ),
        (
            "method:spoon",
            "\"spoon\" is no method; known are tube-pump, line-valve, sump-valve, drain, thief, \
             grease-needle, grease-purge (column 8)",
        ),
        (
            "class:gear",
            "\"gear\" is no machine class; the nearest is gearbox; known are diesel-engine, \
             gas-engine, gearbox, hydraulic, turbine, compressor, pump, transmission, \
             final-drive, tank, bearing, other (column 7)",
        ),
        (
            "broken:flush-mat",
            "\"flush-mat\" is no rule; the nearest is flush-met (column 8)",
        ),
        (
            "unrecorded:flush",
            "\"flush\" is no rule; the nearest is flush-met (column 12)",
        ),
        (
            "broken:everything",
            "\"everything\" is no rule; \"fairdraw rules list\" names them (column 8)",
        ),
        (
            "site: North",
            "nothing stands for the site of \"site:\"; write site:VALUE without a blank between, \
             or site:(blank) where it is blank (column 6)",
        ),
        (
            "site:A,,B",
            "nothing stands for the site of \"site:\"; write site:VALUE without a blank between, \
             or site:(blank) where it is blank (column 8)",
        ),
        (
            "crew:\"\"",
            "nothing stands for the crew of \"crew:\"; write crew:VALUE without a blank between, \
             or crew:(blank) where it is blank (column 6)",
        ),
        (
            "verdict:(blank)",
            "a verdict is never blank; name a verdict (column 9)",
        ),
        (
            "site:\"North pit",
            "this quote is never closed; put a quote at the end of the value (column 6)",
        ),
        (
            "site:North\"pit\"",
            "quotes must surround the whole value, as in site:\"North pit\" (column 11)",
        ),
        (
            "site:\"A\"B",
            "after the closing quote a blank or a comma must follow; write a quote inside quotes \
             twice (column 9)",
        ),
        (
            "from:04.03.2026",
            "\"04.03.2026\" is no day; write YYYY-MM-DD, or YYYY-MM for a whole month (column 6)",
        ),
        (
            "to:2026-02-30",
            "\"2026-02-30\" is no day; write YYYY-MM-DD, or YYYY-MM for a whole month (column 4)",
        ),
        (
            "from:2026-01,2026-02",
            "\"from:\" takes one day; give only one (column 14)",
        ),
        // nothing of the text may move the cursor
        (
            "\u{1b}[31m",
            "\"\u{fffd}[31m\" is no term; write KEY:VALUE, for instance site:NORTH (column 1)",
        ),
    ];
    for (text, message) in cases {
        assert_eq!(Filter::parse(text).unwrap_err().to_string(), message);
    }
    for day in [
        "2026",
        "2026-3",
        "2026-03-4",
        "0000-01",
        "2026-13",
        "2026-03-04-05",
        "26-03-04",
        "+026-03",
    ] {
        assert!(Filter::parse(&format!("from:{day}")).is_err(), "{day}");
    }
}

#[test]
fn a_filter_is_written_in_one_way() {
    let cases = [
        ("  KIND:Tank   -crew:B ", "kind:tank -crew:B"),
        ("site:\"North\"", "site:North"),
        ("site:\"North pit\",(BLANK)", "site:\"North pit\",(blank)"),
        ("site:\"(blank)\"", "site:\"(blank)\""),
        ("technician:\"a\"\"b\"", "technician:\"a\"\"b\""),
        ("machine-class:pump", "class:pump"),
        ("from:2026-03 to:2026-03-04", "from:2026-03 to:2026-03-04"),
        ("broken:FLUSH-MET,fill-level", "broken:flush-met,fill-level"),
        ("point:a:b-c", "point:a:b-c"),
    ];
    for (text, canonical) in cases {
        assert_eq!(Filter::parse(text).unwrap().to_string(), canonical);
    }
}

#[test]
fn opening_a_row_narrows_and_leaves_out_what_became_superfluous() {
    let open = |text: &str, key, group: &str| {
        let filter = Filter::parse(text).unwrap().opening(key, group).unwrap();
        filter.to_string()
    };
    let cases = [
        (
            "",
            Key::Site,
            "North pit, upper",
            "site:\"North pit, upper\"",
        ),
        ("", Key::Crew, "(blank)", "crew:(blank)"),
        ("kind:sump", Key::Kind, "sump", "kind:sump"),
        ("site:A,B crew:C", Key::Site, "B", "crew:C site:B"),
        ("-site:A crew:C", Key::Site, "B", "crew:C site:B"),
        ("", Key::Month, "2026-03", "from:2026-03 to:2026-03"),
        (
            "from:2026-01 to:2026-12-31",
            Key::Month,
            "2026-12",
            "from:2026-12 to:2026-12",
        ),
        // a month of which the filter lets only a part pass stays that part
        (
            "from:2026-03-10",
            Key::Month,
            "2026-03",
            "from:2026-03-10 from:2026-03 to:2026-03",
        ),
        // one draw can break two rules
        (
            "broken:fill-level",
            Key::Rule,
            "flush-met",
            "broken:fill-level broken:flush-met",
        ),
        (
            "broken:fill-level,flush-met",
            Key::Rule,
            "flush-met",
            "broken:flush-met",
        ),
        (
            "-broken:fill-level",
            Key::Rule,
            "flush-met",
            "-broken:fill-level broken:flush-met",
        ),
    ];
    for (text, key, group, expected) in cases {
        assert_eq!(open(text, key, group), expected, "{text} opened at {group}");
    }
    let filter = Filter::parse("site:A crew:B -site:C").unwrap();
    assert_eq!(filter.without(FilterKey::Site).to_string(), "crew:B");
    assert_eq!(filter.without_term(1).to_string(), "site:A -site:C");
    assert_eq!(filter.without_term(7), filter);
    assert!(filter.with(FilterKey::Kind, "bucket").is_err());
}

#[test]
fn a_name_that_nothing_bears_is_remarked_and_picks_nothing() {
    let assessed = programme(six_draws());
    let filter = Filter::parse("site:Nort,North crew:early technician:zoe,\"INA fjell\"").unwrap();
    let remarks: Vec<String> = filter
        .unknown_values(&assessed)
        .iter()
        .map(ToString::to_string)
        .collect();
    assert_eq!(
        remarks,
        [
            "no site is called \"Nort\"; the nearest is \"North\"",
            "no crew is called \"early\"; the nearest is \"Early\"",
            "no technician is called \"zoe\"",
        ]
    );
    assert!(filter.select(&assessed).is_empty());
}

/// The page for users is held against the code: every key with its line of help, and every
/// example readable as it stands.
#[test]
fn the_page_on_filters_lists_every_key_and_its_examples_are_read() {
    let page = std::fs::read_to_string(crate::support::root().join("docs/filter.md")).unwrap();
    let rows: Vec<String> = page
        .lines()
        .filter(|line| line.starts_with("| `"))
        .map(|line| line.split('|').take(3).collect::<Vec<_>>().join("|"))
        .collect();
    let keys: Vec<String> = (FilterKey::ALL.iter())
        .map(|key| format!("| `{}` | {} ", key.as_str(), key.about()))
        .collect();
    assert_eq!(rows, keys);
    let mut examples = 0;
    for block in page.split("```filter\n").skip(1) {
        for line in block.lines().take_while(|line| *line != "```") {
            assert_eq!(Filter::parse(line).unwrap().to_string(), line);
            examples += 1;
        }
    }
    assert!(examples > 10, "{examples}");
}

fn any_term() -> impl Strategy<Value = String> {
    let text = prop_oneof![
        "[A-Za-z0-9:() -]{1,12}",
        "\\PC{1,8}",
        Just("(blank)".to_owned())
    ];
    let key = prop::sample::select(FilterKey::ALL);
    (
        any::<bool>(),
        key,
        prop::collection::vec((text, 0usize..40), 1..4),
    )
        .prop_map(|(excludes, key, values)| {
            let words = key.words();
            let value = |(text, place): (String, usize)| match &words {
                Some(words) => words[place % words.len()].to_owned(),
                None if key.is_day() && place % 2 == 0 => format!("2026-{:02}", place % 12 + 1),
                None if key.is_day() => format!("2025-{:02}-{:02}", place % 12 + 1, place % 28 + 1),
                None if text == "(blank)" && key.may_be_blank() => text,
                None => format!("\"{}\"", text.replace('"', "\"\"")),
            };
            let one = if key.is_day() { 1 } else { values.len() };
            let values: Vec<String> = values.into_iter().take(one).map(value).collect();
            let sign = if excludes { "-" } else { "" };
            format!("{sign}{}:{}", key.as_str(), values.join(","))
        })
}

proptest! {
    #[test]
    fn the_canonical_text_reads_back_to_the_same(
        terms in prop::collection::vec(any_term(), 0..5),
    ) {
        let filter = Filter::parse(&terms.join(" ")).unwrap();
        let canonical = filter.to_string();
        let again = Filter::parse(&canonical).unwrap();
        prop_assert_eq!(&again, &filter);
        prop_assert_eq!(again.to_string(), canonical);
    }

    #[test]
    fn any_text_is_read_or_refused_at_a_place_in_it(text in "\\PC{0,40}") {
        if let Err(error) = Filter::parse(&text) {
            prop_assert!(error.column >= 1 && error.column <= text.chars().count() + 1);
        }
    }

    #[test]
    fn what_passes_and_what_is_excluded_make_the_whole(rows in any_rows(), term in any_term()) {
        let assessed = programme(rows);
        let term = term.trim_start_matches('-');
        let mut both = Filter::parse(term).unwrap().select(&assessed);
        both.extend(Filter::parse(&format!("-{term}")).unwrap().select(&assessed));
        both.sort_unstable();
        let whole = Filter::default().select(&assessed);
        prop_assert_eq!(both, whole);
    }

    #[test]
    fn two_terms_pick_what_each_alone_picks_of_the_other(
        rows in any_rows(), one in any_term(), other in any_term(),
    ) {
        let assessed = programme(rows);
        let alone = |text: &str| Filter::parse(text).unwrap().select(&assessed);
        let (first, second) = (alone(&one), alone(&other));
        let common: Vec<u32> = first.into_iter().filter(|row| second.contains(row)).collect();
        prop_assert_eq!(alone(&format!("{one} {other}")), common);
    }

    #[test]
    fn opening_a_group_shows_as_many_draws_as_it_counted(
        rows in any_rows(), term in any_term(), key in prop::sample::select(&Key::ALL[..]),
    ) {
        let assessed = programme(rows);
        let filter = Filter::parse(&term).unwrap();
        for group in by(&assessed, &filter.select(&assessed), key) {
            let opened = filter.opening(key, &group.key).unwrap().select(&assessed);
            let counted = match key {
                Key::Rule => group.tally.unrepresentative,
                _ => group.tally.draws,
            };
            prop_assert_eq!(opened.len() as u64, counted, "{} {}", &term, group.key);
        }
    }
}
