//! Closed pipes, signals, colours, terminals that are none.

use std::process::Stdio;

use super::runner::Room;

#[test]
fn a_closed_pipe_is_quiet() {
    let room = Room::with_programme();
    for arguments in [
        &["score"][..],
        &["score", "--format", "json"],
        &["score", "--format", "csv"],
        &["share", "--by", "rule"],
        &["rules", "list"],
        &["rules", "default"],
        &["rules", "show", "flush-met"],
        &["manual"],
        &["completions", "bash"],
        &["--help"],
        &["calc", "viscosity", "--iso-vg", "46", "--temp", "70"],
    ] {
        let mut child = room
            .command(arguments)
            .stdout(Stdio::piped())
            .stderr(Stdio::piped())
            .spawn()
            .unwrap();
        // The reader leaves before anything is written.
        drop(child.stdout.take());
        let output = child.wait_with_output().unwrap();
        let run = room.told(arguments, &output);
        assert_eq!(run.status, 0, "{}", run.told());
        assert!(!run.stderr.contains("error"), "{}", run.told());
        assert!(!run.stderr.contains("panicked"), "{}", run.told());
    }
}

#[test]
fn nothing_but_text_goes_into_a_pipe() {
    let room = Room::with_programme();
    for arguments in [
        &["score"][..],
        &["share", "--by", "crew"],
        &["rules", "list"],
    ] {
        let output = room
            .command(arguments)
            .env("TERM", "xterm-256color")
            .env("COLORTERM", "truecolor")
            .output()
            .unwrap();
        assert!(!output.stdout.contains(&0x1b), "{arguments:?}");
        assert!(!output.stderr.contains(&0x1b), "{arguments:?}");
    }
}

#[test]
fn the_interface_asks_for_a_terminal() {
    let room = Room::with_programme();
    room.journey(
        "no-terminal",
        &[
            &["open"],
            &["open", "programme.db"],
            &["programme.db"],
            &["open", "none.db"],
            &["none.db"],
        ],
    );
}

#[test]
fn an_import_stopped_by_the_user_leaves_the_programme_as_it_was() {
    let room = Room::with_programme();
    let before = room.run(&["score", "--format", "csv"]).stdout;
    let many = [
        "demo",
        "--write",
        "many",
        "--draws",
        "60000",
        "--points",
        "200",
        "--technicians",
        "20",
    ];
    assert_eq!(room.run(&many).status, 0);
    let arguments = ["import", "many"];
    // The file is made after the program has begun to listen for the signal.
    let mut child = room
        .command(&["-p", "new.db", "import", "many"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    while !room.path("new.db").exists() {
        assert!(child.try_wait().unwrap().is_none(), "ended before it began");
        std::thread::yield_now();
    }
    let kill = std::process::Command::new("sh")
        .args(["-c", &format!("kill -INT {}", child.id())])
        .status()
        .unwrap();
    assert!(kill.success());
    let run = room.told(&arguments, &child.wait_with_output().unwrap());
    assert_eq!(run.status, 3, "{}", run.told());
    assert!(run.stderr.contains("stopped"), "{}", run.told());
    // As it was: there was no such file.
    assert!(!room.path("new.db").exists());
    assert_eq!(room.run(&["score", "--format", "csv"]).stdout, before);
}
