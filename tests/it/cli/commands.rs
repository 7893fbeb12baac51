//! Help, completions, the manual page.

use super::runner::Room;

#[test]
fn every_command_explains_itself() {
    // docs/commands.md holds the long help of every command; here it is that each way of
    // asking works.
    Room::with_sheets().journey(
        "help",
        &[
            &[],
            &["-h"],
            &["score", "-h"],
            &["rules", "-h"],
            &["calc", "-h"],
        ],
    );
    let room = Room::with_sheets();
    for command in [
        &["demo"][..],
        &["open"],
        &["import"],
        &["score"],
        &["share"],
        &["attribute"],
        &["trend"],
        &["topics"],
        &["trainings"],
        &["resample"],
        &["set-aside"],
        &["rules"],
        &["rules", "list"],
        &["rules", "show"],
        &["rules", "default"],
        &["rules", "check"],
        &["rules", "adopt"],
        &["rules", "current"],
        &["calc"],
        &["calc", "viscosity"],
        &["calc", "reynolds"],
        &["calc", "dead-volume"],
        &["calc", "settling"],
        &["sheets"],
        &["ledger"],
        &["ledger", "show"],
        &["ledger", "take-back"],
        &["ledger", "refused"],
        &["pick"],
        &["pick", "list"],
        &["pick", "show"],
        &["pick", "enter"],
        &["finding"],
        &["finding", "raise"],
        &["finding", "answer"],
        &["finding", "close"],
        &["finding", "withdraw"],
        &["finding", "list"],
        &["finding", "show"],
        &["trail"],
        &["check"],
        &["completions"],
        &["manual"],
    ] {
        let arguments = [command, &["--help"]].concat();
        let run = room.run(&arguments);
        assert_eq!(run.status, 0, "{}", run.told());
        assert!(run.stdout.contains("Usage: fairdraw"), "{}", run.told());
    }
}

#[test]
fn completions_come_for_every_shell() {
    let room = Room::with_sheets();
    for shell in ["bash", "zsh", "fish", "elvish", "powershell"] {
        let run = room.run(&["completions", shell]);
        assert_eq!(run.status, 0, "{shell}");
        assert!(run.stdout.contains("dead-volume"), "{shell}");
    }
}

#[test]
fn the_manual_has_a_page_for_the_program_and_for_each_command() {
    let room = Room::with_sheets();
    let page = room.run(&["manual"]);
    assert!(page.stdout.contains(".TH fairdraw 1"), "{}", page.stdout);
    let page = room.run(&["manual", "rules", "show"]);
    assert!(
        page.stdout.contains(".TH fairdraw-rules-show 1"),
        "{}",
        page.stdout
    );
}

#[test]
fn the_version_is_told() {
    let run = Room::with_sheets().run(&["--version"]);
    assert_eq!(
        run.stdout,
        concat!("fairdraw ", env!("CARGO_PKG_VERSION"), "\n")
    );
}
