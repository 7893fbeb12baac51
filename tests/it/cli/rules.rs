//! The rulebook commands.

use super::runner::Room;

#[test]
fn rules_are_listed_and_shown() {
    Room::with_sheets().journey(
        "rules",
        &[
            &["rules", "list"],
            &["rules", "list", "--format", "csv"],
            &["rules", "show", "flush-met"],
        ],
    );
}

#[test]
fn the_default_rulebook_passes_its_own_check() {
    let room = Room::with_sheets();
    let default = room.run(&["rules", "default"]);
    room.write("default.yaml", &default.stdout);
    let run = room.run(&["rules", "check", "default.yaml"]);
    assert_eq!(run.status, 0, "{}", run.told());
}

#[test]
fn every_problem_of_a_rulebook_is_told_with_its_place() {
    let room = Room::with_programme();
    room.write(
        "faulty.yaml",
        "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\nrules:\n  flush-mett:\n    weight: 3\n  \
         fill-level:\n    min_pct: 90\n    weight: heavy\n",
    );
    room.write("broken.yaml", "name: [ours\n");
    room.journey(
        "rules-check",
        &[
            &["rules", "check", "faulty.yaml"],
            &["rules", "check", "broken.yaml"],
            &["rules", "adopt", "faulty.yaml"],
        ],
    );
}

#[test]
fn an_adopted_rulebook_judges_every_draw() {
    let room = Room::with_programme();
    room.write(
        "ours.yaml",
        "fairdraw_rulebook: 1\nname: ours\nrevision: \"2\"\nrules:\n  flush-met:\n    on: false\n",
    );
    room.journey(
        "rules-adopt",
        &[
            &["rules", "check", "ours.yaml"],
            &["rules", "adopt", "ours.yaml"],
            &["rules", "current"],
            // Without the rule on flushing neither D-2 nor D-3 has a fault.
            &["score", "--where", "point:P-1"],
            &["import", "sheets", "--rulebook", "ours.yaml"],
        ],
    );
    let default = room.run(&["rules", "default"]).stdout;
    room.write("default.yaml", &default);
    assert_eq!(room.run(&["rules", "adopt", "default.yaml"]).status, 0);
    let again = room.run(&[
        "score",
        "--format",
        "csv",
        "--where",
        "verdict:unrepresentative",
    ]);
    assert!(again.stdout.contains("\nD-2,"), "{}", again.told());
}

#[test]
fn a_programme_without_a_rulebook_of_its_own_shows_the_default() {
    let room = Room::with_programme();
    let current = room.run(&["rules", "current"]);
    assert_eq!(current.stdout, room.run(&["rules", "default"]).stdout);
    assert!(current.stderr.contains("default"), "{}", current.told());
}
