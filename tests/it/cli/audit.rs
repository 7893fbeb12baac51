//! Picks, findings and the trail on the command line.

use std::collections::BTreeSet;
use std::fs;

use super::runner::{Room, Run};
use crate::support::assert_snapshot;
use fairdraw::model::time::{Tz, local_text, utc_text};

/// What the runs say, with instants of now, hashes of links and fingerprints of the clock's
/// making replaced.
fn settled(room: &Room, runs: &[Run]) -> String {
    let mut text: String = runs.iter().map(Run::told).collect();
    let trail = room.run(&["trail", "--format", "json"]);
    let mut days = BTreeSet::new();
    for link in trail.json().as_array().unwrap() {
        let canonical: serde_json::Value =
            serde_json::from_str(link["canonical"].as_str().unwrap()).unwrap();
        let at = canonical["at"].as_i64().unwrap();
        let now = local_text(at, Tz::UTC);
        text = text
            .replace(&utc_text(at), "[now, UTC]")
            .replace(&now, "[this very now]");
        days.insert(now[..10].to_owned());
        text = text.replace(link["hash"].as_str().unwrap(), "[hash of a link]");
    }
    for day in days {
        text = text.replace(&day, "[today]");
    }
    text
}

fn journey(name: &str, room: &Room, commands: &[&[&str]]) {
    let runs: Vec<Run> = commands
        .iter()
        .map(|arguments| room.run(arguments))
        .collect();
    assert_snapshot("cli", name, &settled(room, &runs));
}

#[test]
fn a_pick_is_drawn_shown_and_verified() {
    let room = Room::with_programme();
    room.write(
        "found.csv",
        "draw_id;result;verdict;note\nD-3;agree;;\nD-4;Disagree;representative;\"a; b\"\nD-2;;;\n",
    );
    room.write("wrong.csv", "draw_id,result,verdict\nD-9,agree,\nD-3,perhaps,\nD-4,agree,bad\nD-4,agree,\nD-2,,representative\n");
    room.write("empty.csv", "draw,result\n");
    journey(
        "pick",
        &room,
        &[
            &["pick", "--plan", "fixed", "--draws", "4", "--dry-run"],
            &[
                "pick", "--plan", "fixed", "--draws", "4", "--seed", "spring",
            ],
            &[
                "pick",
                "--plan",
                "discovery",
                "--share",
                "40%",
                "--seed",
                "it's",
                "--by",
                "crew",
                "--at-least",
                "1",
                "--where",
                "from:2026-01 to:2026-02",
                "--as",
                "Ada Morn",
            ],
            &[
                "pick",
                "--plan",
                "estimation",
                "--within",
                "20%",
                "--expected",
                "0.3",
                "--confidence",
                "90%",
                "--dry-run",
            ],
            &["pick", "list"],
            &["pick", "list", "--format", "csv"],
            &["pick", "show", "1", "--format", "csv"],
            &["pick", "enter", "1", "wrong.csv"],
            &["pick", "enter", "1", "empty.csv"],
            &["pick", "enter", "1", "none.csv"],
            &["pick", "enter", "1", "found.csv"],
            &["pick", "enter", "1", "found.csv"],
            &[
                "pick",
                "enter",
                "1",
                "--draw",
                "D-2",
                "--result",
                "unverified",
                "--note",
                "no log",
            ],
            &["pick", "enter", "1", "--draw", "D-9", "--result", "agree"],
            &[
                "pick",
                "enter",
                "1",
                "--draw",
                "D-3",
                "--result",
                "agree",
                "--verdict",
                "representative",
            ],
            &["pick", "show", "1"],
            &[
                "pick",
                "show",
                "1",
                "--format",
                "json",
                "--confidence",
                "80%",
            ],
            &["pick", "show", "7"],
        ],
    );
    assert_eq!(room.run(&["check"]).status, 0);
}

#[test]
fn a_plan_that_makes_no_sense_is_told() {
    let room = Room::with_programme();
    room.journey(
        "pick-wrong",
        &[
            &["pick"],
            &["pick", "--plan", "discovery"],
            &["pick", "--plan", "discovery", "--share", "5"],
            &["pick", "--plan", "discovery", "--share", "0%"],
            &["pick", "--plan", "fixed", "--draws", "0"],
            &["pick", "--plan", "fixed", "--draws", "3", "--share", "5%"],
            &[
                "pick",
                "--plan",
                "fixed",
                "--draws",
                "3",
                "--confidence",
                "90%",
            ],
            &["pick", "--plan", "fixed", "--draws", "3", "--at-least", "1"],
            &[
                "pick",
                "--plan",
                "fixed",
                "--draws",
                "3",
                "--where",
                "site:nowhere",
            ],
            &["pick", "--plan", "fixed", "--draws", "3", "--seed", ""],
            &["pick", "enter", "1"],
            &["pick", "show", "1"],
            &["pick", "list"],
        ],
    );
}

#[test]
fn a_fresh_seed_is_told_and_differs_from_the_last() {
    let room = Room::with_programme();
    let seed = || {
        let run = room.run(&[
            "pick", "--plan", "fixed", "--draws", "2", "--format", "json",
        ]);
        let seed = run.json()["pick"]["seed"].as_str().unwrap().to_owned();
        assert!(
            run.stderr.contains(&format!("the seed is {seed}")),
            "{}",
            run.told()
        );
        seed
    };
    assert_ne!(seed(), seed());
}

#[test]
fn a_finding_is_raised_answered_closed_and_withdrawn() {
    let room = Room::with_programme();
    let raise = |subject: [&'static str; 2], more: &[&'static str]| {
        let mut arguments = vec!["finding", "raise"];
        arguments.extend(subject);
        arguments.extend([
            "--text",
            "The log says otherwise",
            "--owner",
            "Desk",
            "--due",
            "2999-01-31",
        ]);
        arguments.extend(more);
        arguments
    };
    journey(
        "finding",
        &room,
        &[
            &["finding", "list"],
            &raise(["--technician", "T-2"], &["--rule", "flush-met"]),
            &raise(
                ["--draw", "D-3"],
                &[
                    "--draw",
                    "D-5",
                    "--grade",
                    "observation",
                    "--as",
                    "Ada Morn",
                ],
            ),
            &raise(["--point", "P-1"], &[]),
            &raise(["--point", "P-3"], &[]),
            &raise(["--technician", "T-9"], &[]),
            &raise(["--draw", "D-99"], &[]),
            &raise(["--pick", "1"], &[]),
            &raise(["--draw", "D-3"], &["--rule", "flush"]),
            &raise(["--draw", "D-3"], &["--point", "P-1"]),
            &raise(["--draw", "D-3"], &["--where", "site:North"]),
            &[
                "finding",
                "raise",
                "--draw",
                "D-3",
                "--text",
                " ",
                "--owner",
                "Desk",
                "--due",
                "2999-01-31",
            ],
            &[
                "finding",
                "raise",
                "--draw",
                "D-3",
                "--text",
                "x",
                "--owner",
                "Desk",
                "--due",
                "31.1.2999",
            ],
            &["finding", "close", "1", "--effect", "seen"],
            &[
                "finding",
                "answer",
                "1",
                "--cause",
                "no jug",
                "--correction",
                "drawn again",
                "--action",
                "a jug",
                "--by",
                "2999-02-28",
            ],
            &[
                "finding",
                "answer",
                "F-9",
                "--cause",
                "a",
                "--correction",
                "b",
                "--action",
                "c",
            ],
            &["finding", "list"],
            &[
                "finding",
                "close",
                "1",
                "--effect",
                "watched two rounds",
                "--from",
                "2026-02-01",
            ],
            &[
                "finding",
                "withdraw",
                "F-3",
                "--because",
                "another point was meant",
            ],
            &[
                "finding",
                "answer",
                "3",
                "--cause",
                "a",
                "--correction",
                "b",
                "--action",
                "c",
            ],
            &["finding", "close", "2", "--effect", "talked through"],
            &["finding", "list"],
            &["finding", "list", "--state", "closed", "--format", "csv"],
            &["finding", "show", "1"],
            &["finding", "show", "F-2", "--format", "csv"],
            &["finding", "show", "3", "--format", "json"],
            &["trail"],
            &["trail", "--kind", "finding answered"],
            &["trail", "--kind", "finding"],
        ],
    );
    assert_eq!(room.run(&["check"]).status, 0);
}

#[test]
fn evidence_is_told_as_it_stood_and_as_it_stands() {
    let room = Room::with_programme();
    let raise = |draw: &str| {
        let run = room.run(&[
            "finding",
            "raise",
            "--draw",
            draw,
            "--text",
            "x",
            "--owner",
            "y",
            "--due",
            "2999-01-31",
        ]);
        assert_eq!(run.status, 0, "{}", run.told());
    };
    for draw in ["D-1", "D-2", "D-4"] {
        raise(draw);
    }
    let now = |finding: &str| {
        let shown = room
            .run(&["finding", "show", finding, "--format", "json"])
            .json();
        let draw = &shown["evidence"][0];
        let word = |name: &str| draw[name].as_str().unwrap().to_owned();
        (word("verdict"), word("now"))
    };
    assert_eq!(now("1"), ("representative".into(), "as it stood".into()));
    // A remark changes the record and nothing else; a full flush makes D-2 representative.
    let sheet = room.path("sheets").join("draws.csv");
    let text = fs::read_to_string(&sheet).unwrap();
    let text: String = text
        .lines()
        .map(|line| match line.split(',').next() {
            Some("D-1") => format!("{line}seen\n"),
            Some("D-2") => format!("{}\n", line.replace(",40,,70,", ",400,,70,")),
            _ => format!("{line}\n"),
        })
        .collect();
    fs::write(&sheet, text).unwrap();
    assert_eq!(room.run(&["import", "sheets"]).status, 0);
    assert_eq!(now("1").1, "record changed, judged alike");
    let (verdict, words) = now("2");
    assert_eq!(
        (verdict.as_str(), words.as_str()),
        ("unrepresentative", "record changed, judged otherwise")
    );
    assert_eq!(now("3").1, "as it stood");
    // Another rulebook judges D-4 otherwise: capping at once is asked no more.
    room.write(
        "ours.yaml",
        "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\nrules:\n  capped-at-once:\n    on: false\n  point-cleaned:\n    on: false\n",
    );
    assert_eq!(room.run(&["rules", "adopt", "ours.yaml"]).status, 0);
    assert_eq!(now("3").1, "judged otherwise");
}

#[test]
fn who_decides_is_told_by_option_variable_or_login() {
    let room = Room::with_programme();
    room.write(
        "ours.yaml",
        "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\n",
    );
    let adopt = |more: &[&str], set: &[(&str, &str)]| {
        let arguments = [&["rules", "adopt", "ours.yaml"][..], more].concat();
        let mut command = room.command(&arguments);
        command.env_clear();
        for (name, value) in set {
            command.env(name, value);
        }
        room.told(&arguments, &command.output().unwrap())
    };
    let last = || {
        let trail = room.run(&["trail", "--format", "json"]).json();
        trail.as_array().unwrap().last().unwrap()["who"]
            .as_str()
            .unwrap()
            .to_owned()
    };
    assert_eq!(
        adopt(&["--as", "Ada Morn"], &[("FAIRDRAW_AS", "x")]).status,
        0
    );
    assert_eq!(last(), "Ada Morn");
    assert_eq!(
        adopt(&[], &[("FAIRDRAW_AS", "Bo Tarn"), ("USER", "x")]).status,
        0
    );
    assert_eq!(last(), "Bo Tarn");
    assert_eq!(adopt(&[], &[("USER", "cleo")]).status, 0);
    assert_eq!(last(), "cleo");
    let nobody = adopt(&[], &[]);
    assert_eq!(nobody.status, 2);
    assert!(nobody.stderr.contains("--as NAME"), "{}", nobody.told());
    let hostile = adopt(&["--as", "a\u{1b}[2J"], &[]);
    assert_eq!(hostile.status, 2);
    assert!(!hostile.stderr.contains('\u{1b}'), "{}", hostile.told());
    assert_eq!(last(), "cleo");
}

/// What is typed is hostile too: nothing that a terminal or a spreadsheet would run.
#[test]
fn texts_of_decisions_reach_neither_terminal_nor_spreadsheet() {
    let room = Room::with_programme();
    let raise = |text: &str, owner: &str| {
        room.run(&[
            "finding",
            "raise",
            "--draw",
            "D-1",
            "--text",
            text,
            "--owner",
            owner,
            "--due",
            "2999-01-31",
        ])
    };
    assert_eq!(raise("a\u{1b}[2Jb", "x").status, 3);
    assert_eq!(raise("two\nlines", "x").status, 3);
    assert_eq!(raise(&"x".repeat(2001), "x").status, 3);
    assert_eq!(raise("=1+1", "@SUM(A1)\u{202e}").status, 0);
    let csv = room.run(&["finding", "list", "--format", "csv"]).stdout;
    assert!(
        csv.contains(",'=1+1,") && csv.contains(",'@SUM(A1)"),
        "{csv}"
    );
    let table = room.run(&["finding", "list"]).stdout;
    assert!(!table.contains('\u{202e}'), "{table}");
}
