//! Trend, topics, plans and trainings on the command line.

use std::fs;

use super::runner::Room;
use crate::support::assert_snapshot;

#[test]
fn topics_are_the_same_in_every_format() {
    Room::with_programme().journey(
        "topics",
        &[
            &["topics"],
            &["topics", "--by", "crew"],
            &["topics", "--by", "rule"],
            &["topics", "--by", "owner"],
            &["topics", "--format", "csv"],
            &["topics", "--by", "crew", "--format", "json"],
            &["topics", "--by", "rule", "--format", "csv"],
            &["topics", "--by", "owner", "--format", "json"],
            &["topics", "--where", "technician:T-1"],
        ],
    );
}

#[test]
fn the_small_programme_has_the_topic_worked_out_by_hand() {
    // Of the four judged draws (see verdicts.rs) D-2 alone is unrepresentative, by the flush
    // alone: it costs T-2 one draw. T-2's judged draws are D-2 at P-1 and D-4 at P-2. At P-1
    // T-1 has one judged draw, D-1, which costs nothing; at P-2 nobody else drew, nor at
    // another sump of a gearbox, so the others' judged draws anywhere stand in: D-1 and D-5,
    // which cost nothing either.
    let room = Room::with_programme();
    let found = room.run(&["topics", "--format", "json"]).json();
    let rows = found.as_array().unwrap();
    assert_eq!(rows.len(), 1);
    let row = &rows[0];
    assert_eq!(row["technician_id"], "T-2");
    assert_eq!(row["rule"], "flush-met");
    let numbers = [
        "rank",
        "judged",
        "compared",
        "applies",
        "broken",
        "cost",
        "expected",
        "over_peers",
    ];
    assert_eq!(
        numbers.map(|name| row[name].as_f64().unwrap()),
        [1.0, 2.0, 1.0, 2.0, 1.0, 1.0, 0.0, 1.0]
    );
    assert_eq!(row["says"], "few draws");
}

#[test]
fn the_trend_is_the_same_in_every_format() {
    Room::with_programme().journey(
        "trend",
        &[
            &["trend"],
            &["trend", "--every", "week"],
            &["trend", "--every", "quarter", "--format", "json"],
            &["trend", "--format", "csv"],
            &["trend", "--every", "year"],
            &["trend", "--every", "fortnight"],
            &["trend", "--where", "verdict:doubtful"],
            &["trend", "--where", "technician:nobody"],
        ],
    );
}

#[test]
fn trainings_are_the_same_in_every_format() {
    Room::with_programme().journey(
        "trainings",
        &[
            &["trainings"],
            &["trainings", "--format", "csv"],
            &["trainings", "--window", "7", "--format", "json"],
            &["trainings", "--where", "technician:T-1"],
            &["trainings", "--window", "0"],
        ],
    );
}

#[test]
fn a_plan_is_a_page_of_its_own_and_is_never_overwritten() {
    let room = Room::with_programme();
    room.journey(
        "plans",
        &[
            &["topics", "--plans", "plans"],
            &["topics", "--plans", "plans"],
            &[
                "topics",
                "--plans",
                "more",
                "--for",
                "T-1,T-2",
                "--where",
                "from:2026-01",
                "--format",
                "csv",
            ],
            &["topics", "--plans", "other", "--for", "t-2"],
            &[
                "topics",
                "--plans",
                "other",
                "--for",
                "T-1",
                "--where",
                "technician:T-2",
            ],
            &["topics", "--plans", "other", "--where", "technician:T-1"],
            &["topics", "--for", "T-1"],
            &["topics", "--plans", "plans", "--by", "crew"],
        ],
    );
    let page = fs::read_to_string(room.path("plans/plan-T-2.md")).unwrap();
    assert_snapshot("cli", "plan", &page);
    let without = fs::read_to_string(room.path("more/plan-T-1.md")).unwrap();
    assert!(without.contains("There is no topic here"), "{without}");
    assert!(!room.path("other").exists(), "a wrong name writes nothing");
    for (page, other) in [(&page, ["Ada", "T-1"]), (&without, ["Bo Tarn", "T-2"])] {
        assert!(other.iter().all(|name| !page.contains(name)), "{page}");
    }
}

#[test]
fn names_from_sheets_reach_neither_markup_nor_other_folders() {
    let room = Room::with_sheets();
    let hostile = "../T-2";
    let name = "<script>x</script> [a](http://b.c) **d** | `e`";
    for sheet in ["technicians.csv", "draws.csv", "trainings.csv"] {
        let path = room.path("sheets").join(sheet);
        let text = fs::read_to_string(&path).unwrap();
        let text = text.replace("T-2", hostile).replace("Bo Tarn", name);
        fs::write(&path, text).unwrap();
    }
    let path = room.path("sheets").join("technicians.csv");
    let text = fs::read_to_string(&path).unwrap();
    // Two further names that come out alike as a file's name, in another case.
    fs::write(&path, text + "..:t-2,,Late,2025-06-01\n").unwrap();
    let path = room.path("sheets").join("draws.csv");
    let text = fs::read_to_string(&path).unwrap();
    let own = text
        .lines()
        .nth(2)
        .unwrap()
        .replace(hostile, "..:t-2")
        .replace("D-2", "D-9");
    fs::write(&path, format!("{text}{}\n", own.replace("B-2", "B-9"))).unwrap();
    assert_eq!(room.run(&["import", "sheets"]).status, 0);

    let run = room.run(&["topics", "--plans", "plans", "--for", "../T-2,..:t-2"]);
    assert_eq!(run.status, 0, "{}", run.told());
    let mut files: Vec<_> = fs::read_dir(room.path("plans"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    files.sort();
    assert_eq!(files, ["plan-___T-2.md", "plan-___t-2-2.md"]);
    let page = fs::read_to_string(room.path("plans/plan-___T-2.md")).unwrap();
    assert!(
        page.starts_with(
            "# Training plan for &lt;script&gt;x&lt;\\/script&gt; \\[a\\]\\(http\\:\\/\\/b\\.c\\) \
             \\*\\*d\\*\\* \\| \\`e\\` (\\.\\.\\/T-2)\n"
        ),
        "{page}"
    );
    assert!(!page.contains("<script"), "{page}");
}
