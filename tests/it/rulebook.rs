//! Rulebooks: what is understood, what is said about mistakes, what changes a verdict.

use std::collections::BTreeSet;
use std::fs;

use fairdraw::model::{Kind, MachineClass};
use fairdraw::rules::{COUNT, Cuts, Rulebook, cards, default_yaml, place_of};
use proptest::prelude::*;

use crate::support::{assert_snapshot, fixture, root};

/// A rulebook with this text behind its head of three lines.
fn book(rest: &str) -> Rulebook {
    let text = format!("fairdraw_rulebook: 1\nname: Test\nrevision: A\n{rest}");
    match Rulebook::from_yaml(&text, "test.yaml") {
        Ok(book) => book,
        Err(problems) => panic!("{problems:#?}\n{text}"),
    }
}

/// What is said about this text, one line a problem.
fn said(text: &str) -> String {
    match Rulebook::from_yaml(text, "book.yaml") {
        Ok(_) => "understood".to_owned(),
        Err(problems) => {
            let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
            lines.join("\n")
        }
    }
}

/// Takes the marks `¦` out of a text and tells where they stood.
fn marked(text: &str) -> (String, Vec<(u32, u32)>) {
    let (mut plain, mut places) = (String::new(), Vec::new());
    let (mut line, mut column) = (1, 1);
    for c in text.chars() {
        match c {
            '¦' => places.push((line, column)),
            '\n' => {
                (line, column) = (line + 1, 1);
                plain.push(c);
            }
            _ => {
                column += 1;
                plain.push(c);
            }
        }
    }
    (plain, places)
}

#[test]
fn every_mistake_is_named_at_its_place() {
    let head = "fairdraw_rulebook: 1\nname: Test\nrevision: A\n";
    let cases: &[(&str, &[&str])] = &[
        (
            "rules:\n  flush-met: {weight: 3}\n  ¦flush-mett: {weight: 3}\n",
            &["unknown rule \"flush-mett\"; did you mean flush-met?"],
        ),
        ("rules:\n  ¦weather: {}\n", &["unknown rule \"weather\""]),
        (
            "¦rule: {}\n",
            &["unknown key \"rule\"; did you mean rules?"],
        ),
        (
            "rules:\n  flush-met:\n    ¦wieght: 3\n    ¦window_min: 3\n",
            &[
                "unknown key \"wieght\"; did you mean weight?",
                "unknown key \"window_min\"",
            ],
        ),
        (
            "rules:\n  ¦12: {}\n  ¦[a]: {}\n",
            &[
                "unknown rule \"12\"",
                "a key of rules is a word, not a list",
            ],
        ),
        (
            "rules: ¦[flush-met]\n",
            &["rules is a map of keys and values, not a list"],
        ),
        (
            "rules: {flush-met: ¦off}\n",
            &["flush-met is a map of keys and values, not the text \"off\""],
        ),
        (
            "rules:\n  flush-met: {on: ¦yes, decisive: ¦1, weight: ¦heavy}\n",
            &[
                "on must be true or false, not the text \"yes\"",
                "decisive must be true or false, not 1",
                "weight must be a whole number from 0 to 1000, not the text \"heavy\"",
            ],
        ),
        (
            "rules:\n  flush-met: {weight: 1, multiple: 2, ¦weight: 3}\n  ¦flush-met: {}\n",
            &[
                "\"weight\" stands here a second time (first in line 5); keep one of the two",
                "\"flush-met\" stands here a second time (first in line 5); keep one of the two",
            ],
        ),
        (
            "¦name: Again\n",
            &["\"name\" stands here a second time (first in line 2); keep one of the two"],
        ),
        (
            "rules:\n  flush-met: {weight: ¦-1}\n  fill-level: {weight: ¦2.5}\n  looked-at: {weight: ¦1001}\n",
            &[
                "weight must be a whole number from 0 to 1000, not -1",
                "weight must be a whole number from 0 to 1000, not 2.5",
                "weight must be a whole number from 0 to 1000, not 1001",
            ],
        ),
        (
            "rules: {flush-met: {weight: ¦1_0}, fill-level: {¦weight: }}\n",
            &[
                "weight must be a whole number from 0 to 1000, not the text \"1_0\"",
                "weight must be a whole number from 0 to 1000, not nothing",
            ],
        ),
        (
            "cuts: {unrepresentative: ¦-1, doubtful: ¦101}\n",
            &[
                "unrepresentative must be a whole number from 0 to 100, not -1",
                "doubtful must be a whole number from 0 to 100, not 101",
            ],
        ),
        (
            "cuts: {doubtful: ¦101}\n",
            &["doubtful must be a whole number from 0 to 100, not 101"],
        ),
        (
            "cuts: {unrepresentative: ¦90}\n",
            &["the cut unrepresentative (90) must not be above the cut doubtful (85)"],
        ),
        (
            "cuts: {doubtful: ¦20, unrepresentative: 30}\n",
            &["the cut unrepresentative (30) must not be above the cut doubtful (20)"],
        ),
        (
            "cuts:\n  doubtful: 85\n  ¦representative: 90\n",
            &["unknown key \"representative\"; did you mean unrepresentative?"],
        ),
        (
            "rules:\n  flush-met: {multiple: ¦-0.5}\n  running-or-hot:\n    window_min: ¦.nan\n    below_normal_c: ¦.inf\n  level-set: {within_h: ¦1e999}\n",
            &[
                "multiple must be a number from 0 to 100, not -0.5",
                "window_min must be a number from 0 to 1440, not .nan",
                "below_normal_c must be a number from 0 to 200, not .inf",
                "within_h must be a number from 0 to 8760, not 1e999",
            ],
        ),
        (
            "rules: {fill-level: {min_pct: ¦81}}\n",
            &["min_pct of fill-level would be above max_pct here; put them in order"],
        ),
        (
            "rules: {fill-level: {max_pct: ¦20, min_pct: ¦101}}\n",
            &[
                "min_pct of fill-level would be above max_pct here; put them in order",
                "min_pct must be a number from 0 to 100, not 101",
            ],
        ),
        (
            "rules:\n  point-suited: {sump: [sump-middle, ¦sump-botom], tank: ¦[], grease: ¦{}}\n",
            &[
                "unknown word \"sump-botom\" for sump; did you mean sump-bottom?",
                "tank must list at least one word",
                "grease must be a list of words, not a map",
            ],
        ),
        (
            "rules: {label-complete: {required: [bottle_id, ¦colour]}}\n",
            &[
                "unknown word \"colour\" for required; known are bottle_id, fluid, machine_hours, oil_hours",
            ],
        ),
        (
            "rules:\n  registered: {decisive: ¦true}\n  safety-confirmed: {decisive: ¦true}\n  bottle-unique: {decisive: false}\n",
            &[
                "a rule of class record can't be decisive, since only class sample enters the verdict; leave decisive out",
                "a rule of class conduct can't be decisive, since only class sample enters the verdict; leave decisive out",
            ],
        ),
        (
            "overrides:\n  - where: {class: [turbine, ¦turbin]}\n    rules: {}\n",
            &["unknown word \"turbin\" for class; did you mean turbine?"],
        ),
        (
            "overrides:\n  - ¦where: {class: turbine}\n  - ¦rules: {}\n",
            &[
                "an override needs where (class, site or both) and rules",
                "an override needs where (class, site or both) and rules",
            ],
        ),
        (
            "overrides:\n  - where: ¦{}\n    rules: {}\n  - where: {¦area: West, site: ¦\"\"}\n    rules: {flush-met: {weight: ¦x}}\n",
            &[
                "where needs class, site or both; what holds everywhere belongs in rules",
                "unknown key \"area\"",
                "site lists words, not the text \"\"",
                "weight must be a whole number from 0 to 1000, not the text \"x\"",
            ],
        ),
        (
            "overrides: ¦{where: {}, rules: {}}\n",
            &["overrides is a list, each entry with where and rules, not a map"],
        ),
        (
            // Neither override alone is out of order; where both hold, they are.
            "rules: {fill-level: {min_pct: 10}}\noverrides:\n  - where: {class: tank}\n    rules: {fill-level: {min_pct: 70}}\n  - where: {site: North}\n    rules: {fill-level: {max_pct: ¦60}}\n",
            &["min_pct of fill-level would be above max_pct here; put them in order"],
        ),
        (
            "date: ¦4 March\n",
            &["date must be a day as in 2026-03-04, not the text \"4 March\""],
        ),
        (
            "date: ¦2026-02-30\n",
            &["date must be a day as in 2026-03-04, not the text \"2026-02-30\""],
        ),
        (
            "rules: {¦größe: {weight: 3}, ¦flüsh-met: {}}\n",
            &[
                "unknown rule \"größe\"",
                "unknown rule \"flüsh-met\"; did you mean flush-met?",
            ],
        ),
    ];
    for (rest, messages) in cases {
        let (text, places) = marked(&format!("{head}{rest}"));
        let problems = Rulebook::from_yaml(&text, "book.yaml")
            .err()
            .unwrap_or_default();
        let found: Vec<String> = problems.iter().map(ToString::to_string).collect();
        let expected: Vec<String> = (places.iter().zip(*messages))
            .map(|((line, column), message)| format!("book.yaml:{line}:{column}: {message}"))
            .collect();
        assert_eq!(places.len(), messages.len(), "{rest}");
        assert_eq!(found, expected, "{rest}");
    }
}

#[test]
fn what_is_missing_or_no_rulebook_at_all_is_said_at_the_top() {
    let cases = [
        (
            "",
            "book.yaml:1:1: the file is empty; a rulebook begins with fairdraw_rulebook: 1",
        ),
        (
            "# nothing\n\n",
            "book.yaml:1:1: the file is empty; a rulebook begins with fairdraw_rulebook: 1",
        ),
        (
            "- 1\n",
            "book.yaml:1:1: a rulebook is a map of keys and values, not a list",
        ),
        (
            "flush\n",
            "book.yaml:1:1: a rulebook is a map of keys and values, not the text \"flush\"",
        ),
        (
            "name: A\nrevision: 1\n",
            "book.yaml:1:1: fairdraw_rulebook is missing; begin the file with fairdraw_rulebook: 1",
        ),
        (
            "fairdraw_rulebook: 2\nname: A\nrevision: 1\n",
            "book.yaml:1:20: fairdraw_rulebook is the version of the format and must be 1, not 2",
        ),
        (
            "fairdraw_rulebook: 1\n",
            "book.yaml:1:1: name is missing; give the rulebook a name, as in name: \"1\"\n\
             book.yaml:1:1: revision is missing; give the rulebook a revision, as in revision: \"1\"",
        ),
        (
            "fairdraw_rulebook: 1\nname:\nrevision: \"  \"\n",
            "book.yaml:2:1: name must be a text, not nothing\n\
             book.yaml:3:11: revision must be a text, not the text \"  \"",
        ),
    ];
    for (text, expected) in cases {
        assert_eq!(said(text), expected, "{text:?}");
    }
}

#[test]
fn what_is_no_yaml_is_said_in_one_line() {
    let head = "fairdraw_rulebook: 1\nname: A\nrevision: 1\n";
    let cases = [
        (
            "---\na: 1\n",
            "4:1: a second document begins here; keep one rulebook in one file",
        ),
        ("rules: {a: 'x\n", "4:12: this is not YAML: unclosed quote"),
        (
            "rules: a: b\n",
            "4:9: this is not YAML: mapping values are not allowed in this context",
        ),
        (
            "rules: *a\n",
            "4:8: this is not YAML: alias references unknown anchor",
        ),
        (
            "rules: &a [*a]\n",
            "4:12: this alias contains itself; write the values out",
        ),
    ];
    for (rest, expected) in cases {
        assert_eq!(
            said(&format!("{head}{rest}")),
            format!("book.yaml:{expected}")
        );
    }
    let long = format!("{head}# {}\n", "x".repeat(1 << 20));
    assert_eq!(
        said(&long),
        "book.yaml:1:1: longer than 1 MiB, which is more than a rulebook has to say"
    );
}

#[test]
fn an_alias_bomb_is_refused_before_it_unfolds() {
    let mut text = "fairdraw_rulebook: 1\na0: &a0 [x, x, x, x, x, x, x, x, x, x]\n".to_owned();
    for level in 1..20 {
        let below = format!("*a{}, ", level - 1).repeat(10);
        text.push_str(&format!("a{level}: &a{level} [{below}]\n"));
    }
    let said = said(&text);
    assert!(
        said.ends_with(
            "the file unfolds to more than a rulebook can hold; use fewer aliases and less nesting"
        ),
        "{said}"
    );
    let deep = format!("fairdraw_rulebook: 1\nrules: {}", "[".repeat(5000));
    assert!(Rulebook::from_yaml(&deep, "deep.yaml").is_err());
}

#[test]
fn bytes_that_are_not_utf_8_are_said_with_their_place() {
    let bytes = b"fairdraw_rulebook: 1\nname: \xc3\x96l \xff\n";
    let problems = Rulebook::from_bytes(bytes, "latin.yaml").err().unwrap();
    assert_eq!(
        problems[0].to_string(),
        "latin.yaml:2:10: the file is not UTF-8 from here on; save it as UTF-8"
    );
    assert!(Rulebook::from_bytes(default_yaml().as_bytes(), "default.yaml").is_ok());
}

#[test]
fn a_problem_never_carries_control_characters() {
    let said = said("fairdraw_rulebook: 1\nname: A\nrevision: 1\n\"\\e[31mred\": 1\n");
    assert!(said.chars().all(|c| !c.is_control()), "{said:?}");
    assert!(said.contains("unknown key"), "{said}");
}

#[test]
fn a_long_text_is_quoted_by_its_beginning() {
    let text = "fairdraw_rulebook: 1\nname: A\nrevision: 1\nrules: {flush-met: {on: LONG}}\n";
    let said = said(&text.replace("LONG", &"ö".repeat(5000)));
    assert!(
        said.ends_with("öö…\"") && said.chars().count() < 200,
        "{said}"
    );
}

#[test]
fn more_overrides_than_can_be_reviewed_are_refused() {
    let one = "  - {where: {site: North}, rules: {flush-met: {weight: 1}}}\n";
    let text = |count| {
        let head = "fairdraw_rulebook: 1\nname: A\nrevision: 1\noverrides:\n";
        format!("{head}{}", one.repeat(count))
    };
    assert_eq!(said(&text(200)), "understood");
    assert_eq!(
        said(&text(201)),
        "book.yaml:205:5: more than 200 overrides; join those that agree"
    );
    let sites: Vec<String> = (0..1001).map(|site| format!("S{site}")).collect();
    let many = text(1).replace("North", &format!("[{}]", sites.join(", ")));
    assert_eq!(
        said(&many),
        "book.yaml:5:3: more than 1000 sites named in overrides"
    );
}

#[test]
fn a_file_with_many_mistakes_lists_them_all() {
    let text = fs::read_to_string(fixture("rulebooks/many-mistakes.yaml")).unwrap();
    let problems = Rulebook::from_yaml(&text, "many-mistakes.yaml")
        .err()
        .unwrap();
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_snapshot("rulebook", "many-mistakes", &lines.join("\n"));
}

#[test]
fn texts_stay_as_written_and_windows_line_ends_do_no_harm() {
    let text = "\u{feff}fairdraw_rulebook: 1\r\nname: no\r\nrevision: 1.10\r\ndate: 2026-03-04\r\n";
    let book = Rulebook::from_yaml(text, "win.yaml").unwrap_or_else(|e| panic!("{e:?}"));
    assert_eq!((book.name.as_str(), book.revision.as_str()), ("no", "1.10"));
    assert_eq!(
        book.date.map(|d| d.to_string()).as_deref(),
        Some("2026-03-04")
    );
    assert_eq!(book.fingerprint(), Rulebook::standard().fingerprint());
}

#[test]
fn the_default_reads_back_as_itself_and_its_print_is_reviewed() {
    let text = default_yaml();
    let book = Rulebook::from_yaml(&text, "default.yaml").unwrap_or_else(|e| panic!("{e:#?}"));
    assert_eq!(book.fingerprint(), Rulebook::standard().fingerprint());
    assert!(text.lines().all(|line| line.chars().count() <= 88));
    assert_snapshot("rulebook", "default", &text);
}

#[test]
fn the_default_is_that_of_the_contract() {
    let book = Rulebook::standard();
    let cuts = Cuts {
        unrepresentative: 60,
        doubtful: 85,
    };
    let rules = &book.all_in_force()[0];
    assert_eq!(rules.cuts, cuts);
    assert_eq!(book.all_in_force().len(), 1);
    assert!(rules.rules.iter().all(Option::is_some));
    let decisive: Vec<&str> = rules
        .decisive
        .iter()
        .map(|place| cards()[place].id)
        .collect();
    assert_eq!(
        decisive,
        ["running-or-hot", "flush-met", "bottle-fit", "grease-midway"]
    );
    // The brackets of the scoring contract.
    let brackets = [
        ("running-or-hot", "window_min", "30"),
        ("running-or-hot", "below_normal_c", "15"),
        ("flush-met", "multiple", "5"),
        ("point-suited", "circulating", "return-line, supply-line"),
        ("point-suited", "sump", "sump-middle"),
        (
            "point-suited",
            "tank",
            "tank-upper, tank-middle, tank-lower",
        ),
        ("point-suited", "grease", "bearing-housing, grease-outlet"),
        ("point-suited", "turbulent_re", "4000"),
        ("tube-depth", "tolerance_cm", "5"),
        ("fill-level", "min_pct", "50"),
        ("fill-level", "max_pct", "80"),
        ("oil-worked-in", "min_oil_hours", "24"),
        ("age-at-dispatch", "max_h", "48"),
        ("level-set", "within_h", "24"),
        (
            "label-complete",
            "required",
            "bottle_id, fluid, machine_hours, oil_hours",
        ),
        ("age-at-receipt", "max_days", "7"),
        ("interval-kept", "late_pct", "10"),
    ];
    let mut listed = Vec::new();
    for (place, card) in cards().iter().enumerate() {
        for setting in rules.settings(place) {
            listed.push((card.id, setting.name, setting.value));
        }
    }
    let expected: Vec<(&str, &str, String)> = brackets
        .iter()
        .map(|(id, name, value)| (*id, *name, (*value).to_owned()))
        .collect();
    assert_eq!(listed, expected);
}

#[test]
fn names_comments_and_order_leave_the_fingerprint_alone() {
    let one = book("rules: {flush-met: {weight: 9, multiple: 4}, fill-level: {min_pct: 40}}\n");
    let two = Rulebook::from_yaml(
        "# another hand\nrevision: 99\nname: Other\nrules:\n  fill-level: {min_pct: 40.0}\n  \
         flush-met: {multiple: 4.0, weight: 9, on: true}\nfairdraw_rulebook: 1\ndate: 2026-01-01\n",
        "two.yaml",
    )
    .unwrap_or_else(|e| panic!("{e:?}"));
    assert_eq!(one.fingerprint(), two.fingerprint());
    let lists = [
        book("rules: {point-suited: {sump: [sump-middle, sump-bottom]}}\n"),
        book("rules: {point-suited: {sump: [SUMP-BOTTOM, sump-middle, sump-bottom]}}\n"),
    ];
    assert_eq!(lists[0].fingerprint(), lists[1].fingerprint());
    let plain = Rulebook::standard();
    let idle = book("overrides: [{where: {site: North}, rules: {flush-met: {multiple: 5}}}]\n");
    assert_eq!(plain.fingerprint(), idle.fingerprint());
    let zero = [
        book("rules: {tube-depth: {tolerance_cm: 0}}\n"),
        book("rules: {tube-depth: {tolerance_cm: -0.0}}\n"),
    ];
    assert_eq!(zero[0].fingerprint(), zero[1].fingerprint());
}

#[test]
fn whatever_can_change_a_verdict_changes_the_fingerprint() {
    let mut seen = BTreeSet::new();
    let mut changes = vec![
        String::new(),
        "cuts: {unrepresentative: 59}\n".to_owned(),
        "cuts: {doubtful: 86}\n".to_owned(),
    ];
    let rules = Rulebook::standard();
    for (place, card) in cards().iter().enumerate() {
        let id = card.id;
        changes.push(format!("rules: {{{id}: {{on: false}}}}\n"));
        changes.push(format!("rules: {{{id}: {{weight: 77}}}}\n"));
        if card.class == fairdraw::model::Class::Sample {
            let turned = !card.decisive;
            changes.push(format!("rules: {{{id}: {{decisive: {turned}}}}}\n"));
        }
        for setting in rules.all_in_force()[0].settings(place) {
            let other = match setting.value.parse::<f64>() {
                Ok(number) => (number + 1.0).to_string(),
                Err(_) if id == "point-suited" => "[after-filter]".to_owned(),
                Err(_) => "[fluid]".to_owned(),
            };
            changes.push(format!("rules: {{{id}: {{{}: {other}}}}}\n", setting.name));
        }
    }
    changes.push("overrides: [{where: {class: pump}, rules: {flush-met: {weight: 1}}}]\n".into());
    changes.push("overrides: [{where: {class: tank}, rules: {flush-met: {weight: 1}}}]\n".into());
    changes.push("overrides: [{where: {site: pump}, rules: {flush-met: {weight: 1}}}]\n".into());
    changes.push("overrides: [{where: {site: Pump}, rules: {flush-met: {weight: 1}}}]\n".into());
    for change in &changes {
        let book = book(change);
        assert_eq!(book.fingerprint().len(), 64);
        assert!(seen.insert(book.fingerprint().to_owned()), "{change}");
    }
}

#[test]
fn overrides_hold_where_they_say_and_later_ones_win() {
    let book = book(
        "rules: {flush-met: {multiple: 4}}\n\
         overrides:\n\
         \x20 - where: {class: [turbine, pump]}\n\
         \x20   rules:\n\
         \x20     flush-met: {multiple: 10, decisive: false}\n\
         \x20     looked-at: {on: false}\n\
         \x20 - where: {site: North pit}\n\
         \x20   rules: {flush-met: {multiple: 7, weight: 3}, same-point: {decisive: true}}\n\
         \x20 - where: {class: pump, site: [South, North pit]}\n\
         \x20   rules: {looked-at: {on: true, weight: 9}}\n",
    );
    let flush = place_of("flush-met").unwrap();
    let looked = place_of("looked-at").unwrap();
    let same_point = place_of("same-point").unwrap();
    let (turbine, pump) = (Some(MachineClass::Turbine), Some(MachineClass::Pump));
    // class, site, multiple, weight of flush-met, flush-met decisive, looked-at on
    let table = [
        (None, None, "4", 16, true, true),
        (
            Some(MachineClass::Gearbox),
            Some("Elsewhere"),
            "4",
            16,
            true,
            true,
        ),
        (turbine, None, "10", 16, false, false),
        (turbine, Some("North pit"), "7", 3, false, false),
        (turbine, Some("north pit"), "10", 16, false, false),
        (None, Some("North pit"), "7", 3, true, true),
        (pump, Some("North pit"), "7", 3, false, true),
        (pump, Some("South"), "10", 16, false, true),
        (pump, Some("East"), "10", 16, false, false),
        (None, Some("South"), "4", 16, true, true),
    ];
    for (class, site, multiple, weight, decisive, looks) in table {
        let rules = &book.all_in_force()[book.in_force_at(class, site)];
        assert_eq!(
            rules.settings(flush)[0].value,
            multiple,
            "{class:?} {site:?}"
        );
        assert_eq!(rules.weights[flush], weight, "{class:?} {site:?}");
        assert_eq!(rules.decisive.has(flush), decisive, "{class:?} {site:?}");
        assert_eq!(rules.rules[looked].is_some(), looks, "{class:?} {site:?}");
        assert_eq!(rules.is_on(looked), looks);
        assert_eq!(rules.of_kind(Kind::Sump).has(looked), looks);
        assert!(!rules.of_kind(Kind::Grease).has(looked));
        assert_eq!(rules.decisive.has(same_point), site == Some("North pit"));
    }
    assert_eq!(book.in_force_at(None, None), 0);
    assert_eq!(book.in_force_at(None, Some("South")), 0);
    assert_eq!(book.all_in_force().len(), 6);
}

#[test]
fn a_changed_override_leaves_the_other_sets_alone() {
    let with = |multiple: u32| {
        book(&format!(
            "overrides: [{{where: {{site: North}}, rules: {{flush-met: {{multiple: {multiple}}}}}}}]\n"
        ))
    };
    let (before, after) = (with(6), with(7));
    let print = |book: &Rulebook, site| {
        let place = book.in_force_at(None, site);
        book.in_force_fingerprint(place).to_owned()
    };
    assert_ne!(before.fingerprint(), after.fingerprint());
    assert_eq!(print(&before, None), print(&after, None));
    assert_eq!(print(&before, None), print(&Rulebook::standard(), None));
    assert_ne!(print(&before, Some("North")), print(&after, Some("North")));
}

#[test]
fn a_rulebook_may_cross_threads() {
    fn crosses<T: Send + Sync>() {}
    crosses::<Rulebook>();
    crosses::<fairdraw::rules::InForce>();
}

#[test]
fn the_example_of_the_guide_is_a_rulebook() {
    let guide = fs::read_to_string(root().join("docs/rulebook.md")).unwrap();
    let examples: Vec<&str> = guide
        .split("```yaml\n")
        .skip(1)
        .filter_map(|rest| rest.split("```").next())
        .collect();
    assert!(!examples.is_empty());
    for example in examples {
        let book = Rulebook::from_yaml(example, "docs/rulebook.md");
        let book = book.unwrap_or_else(|problems| panic!("{problems:#?}"));
        assert_ne!(book.fingerprint(), Rulebook::standard().fingerprint());
    }
    for card in cards() {
        for parameter in card.parameters {
            assert!(guide.contains(parameter.name), "{}", parameter.name);
        }
    }
}

#[test]
fn every_rule_can_be_switched_off_and_every_weight_set() {
    for place in 0..COUNT {
        let id = cards()[place].id;
        let book = book(&format!("rules: {{{id}: {{on: false, weight: 0}}}}\n"));
        let rules = &book.all_in_force()[0];
        assert!(rules.rules[place].is_none() && rules.weights[place] == 0);
        assert!(
            Kind::ALL
                .iter()
                .all(|kind| !rules.of_kind(*kind).has(place))
        );
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn no_text_makes_the_reader_panic(text in "(?s).{0,200}") {
        let _ = Rulebook::from_yaml(&text, "any.yaml");
    }

    /// The default with one piece replaced: either understood, or said with a place
    /// that lies in the file.
    #[test]
    fn a_damaged_rulebook_is_understood_or_refused_at_a_place_in_it(
        from in 0usize..9000, length in 0usize..30, piece in "[ -~\n]{0,12}"
    ) {
        let mut text = default_yaml();
        let from = from.min(text.len());
        let to = (from + length).min(text.len());
        if text.is_char_boundary(from) && text.is_char_boundary(to) {
            text.replace_range(from..to, &piece);
        }
        if let Err(problems) = Rulebook::from_yaml(&text, "damaged.yaml") {
            prop_assert!(!problems.is_empty());
            let lines: Vec<&str> = text.split('\n').collect();
            for problem in problems {
                prop_assert!(problem.line >= 1 && problem.line as usize <= lines.len());
                let line = lines[problem.line as usize - 1];
                prop_assert!(problem.column >= 1);
                prop_assert!(problem.column as usize <= line.chars().count() + 1, "{problem}");
            }
        }
    }
}
