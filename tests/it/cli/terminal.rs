//! Tables on a terminal: they fit it, and colour is only an aid.

use std::io::Read;

use portable_pty::{CommandBuilder, PtySize, native_pty_system};

use super::runner::Room;

/// Runs the program on a pseudo-terminal of this width and returns all it wrote.
fn on_terminal(
    room: &Room,
    width: u16,
    environment: &[(&str, &str)],
    arguments: &[&str],
) -> String {
    let size = PtySize {
        rows: 24,
        cols: width,
        ..PtySize::default()
    };
    let pair = native_pty_system().openpty(size).unwrap();
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_fairdraw"));
    command.args(arguments);
    command.cwd(room.path(""));
    command.env_clear();
    command.env("TERM", "xterm-256color");
    for (name, value) in environment {
        command.env(name, value);
    }
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().unwrap();
    let mut written = Vec::new();
    // On Linux the end of a pseudo-terminal is told as an error.
    let _ = reader.read_to_end(&mut written);
    child.wait().unwrap();
    String::from_utf8(written).unwrap()
}

/// The text without colours.
fn plain(text: &str) -> String {
    let mut plain = String::new();
    let mut parts = text.split("\u{1b}[");
    plain.push_str(parts.next().unwrap());
    for part in parts {
        plain.push_str(part.split_once('m').unwrap().1);
    }
    plain
}

#[test]
fn tables_fit_the_terminal() {
    let room = Room::with_programme();
    for width in [40, 60, 80, 120] {
        for arguments in [&["score"][..], &["share", "--by", "rule"]] {
            let text = plain(&on_terminal(&room, width, &[], arguments));
            let table = text
                .lines()
                .take_while(|line| !line.contains("draws; times") && !line.starts_with("share: "));
            for line in table {
                let length = line.trim_end().chars().count();
                assert!(length <= usize::from(width), "{width}: {line}");
            }
        }
    }
    let text = plain(&on_terminal(&room, 80, &[], &["score"]));
    crate::support::assert_snapshot("cli", "score@80", &text.replace('\r', ""));
}

#[test]
fn colour_is_only_an_aid() {
    let room = Room::with_programme();
    let colourful = on_terminal(&room, 100, &[], &["score"]);
    let sober = on_terminal(&room, 100, &[("NO_COLOR", "1")], &["score"]);
    assert!(colourful.contains("\u{1b}["));
    assert!(!sober.contains('\u{1b}'));
    assert_eq!(plain(&colourful), sober);
}

#[test]
fn text_from_sheets_cannot_drive_the_terminal() {
    let room = Room::with_programme();
    room.write(
        "draws.csv",
        "draw_id,bottle_id,point_id,technician_id,drawn_at\n\
         D\u{1b}[2J-66,\u{202e}B,P-1,T-1,2026-04-01T08:00:00Z\n",
    );
    assert_eq!(room.run(&["import", "draws.csv"]).status, 0);
    for format in ["table", "csv", "json"] {
        let arguments = ["score", "--format", format];
        let text = on_terminal(&room, 200, &[("NO_COLOR", "1")], &arguments);
        assert!(text.contains("-66"), "{text}");
        assert!(!text.contains(['\u{1b}', '\u{202e}']), "{text:?}");
    }
}
