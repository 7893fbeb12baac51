//! Column maps on the command line: checked, shown, proposed, used.

use std::fs;
use std::io::{Read, Write};
use std::sync::mpsc;
use std::time::{Duration, Instant};

use portable_pty::{CommandBuilder, PtySize, native_pty_system};

use super::runner::Room;

const LOG: &str = "Nr;Probenahme am;Stelle;Techniker;Öltemperatur;Spülmenge;Aussehen\n\
                   1;04.03.2026 09:30;P-1;T-1;61,5;100 ml;klar\n\
                   2;14.03.2026 10:05;P-1;T-9;999;1,2 l;klar/Wasser\n";

const MAP: &str = "fairdraw_columns: 1
name: Log
revision: \"2\"
sheets:
  - kind: draws
    files: [log*]
    zone: Europe/Lisbon
    decimal: comma
    dates: [DD.MM.YYYY HH:mm]
    columns:
      draw_id: Nr
      drawn_at: Probenahme am
      point_id: Stelle
      technician_id: Techniker
      oil_temp_c: Öltemperatur
      flushed_ml: {from: Spülmenge, unit_in_cell: true}
      looks: {from: Aussehen, split: /, words: {klar: clear, Wasser: water}}
";

#[test]
fn a_log_is_tried_out_by_its_map_and_taken_in() {
    let room = Room::with_programme();
    room.write("log.csv", LOG);
    room.write("columns.yaml", MAP);
    room.write(
        "wrong.yaml",
        &MAP.replace("point_id", "point").replace("comma", "coma"),
    );
    room.journey(
        "maps",
        &[
            &["maps", "check", "columns.yaml"],
            &["maps", "check", "wrong.yaml"],
            &["maps", "check", "none.yaml"],
            &["import", "log.csv", "--map", "wrong.yaml"],
            &["import", "log.csv", "--map", "columns.yaml", "--dry-run"],
            &[
                "import",
                "log.csv",
                "--map",
                "columns.yaml",
                "--format",
                "csv",
            ],
            &["maps", "show", "technicians"],
        ],
    );
}

#[test]
fn without_a_terminal_questions_are_written_down_and_the_status_says_so() {
    let room = Room::with_programme();
    room.write("log.csv", LOG);
    let run = room.run(&["import", "log.csv", "--propose-map"]);
    assert_eq!(run.status, 1, "{}", run.told());
    assert!(
        run.stdout.contains("zone: ask  # no time says its zone"),
        "{}",
        run.stdout
    );
    assert!(
        run.stderr.contains("not answered yet: log.csv: zone:"),
        "{}",
        run.stderr
    );
    let with_zone = [
        "import",
        "log.csv",
        "--propose-map",
        "--zone",
        "Europe/Lisbon",
        "--to",
        "new.yaml",
    ];
    let run = room.run(&with_zone);
    assert!(
        run.stdout.is_empty() && run.stderr.contains("new.yaml is written"),
        "{}",
        run.told()
    );
    let again = room.run(&with_zone);
    assert_eq!(again.status, 3);
    assert!(
        again.stderr.contains("name another file"),
        "{}",
        again.stderr
    );
    assert_eq!(
        room.run(&["import", "log.csv", "--propose-map", "--dry-run"])
            .status,
        2
    );
    assert!(!room.path("log.csv.db").exists());
}

/// The program asks on a terminal, and what is answered stands in the map.
#[test]
fn on_a_terminal_questions_are_asked() {
    let room = Room::with_programme();
    room.write("log.csv", LOG);
    let pair = native_pty_system().openpty(PtySize::default()).unwrap();
    let mut command = CommandBuilder::new(env!("CARGO_BIN_EXE_fairdraw"));
    command.args(["import", "log.csv", "--propose-map", "--to", "asked.yaml"]);
    command.cwd(room.path(""));
    command.env_clear();
    command.env("TERM", "xterm-256color");
    let mut child = pair.slave.spawn_command(command).unwrap();
    drop(pair.slave);
    let mut reader = pair.master.try_clone_reader().unwrap();
    let mut writer = pair.master.take_writer().unwrap();
    let (send, receive) = mpsc::channel();
    std::thread::spawn(move || {
        let mut bytes = [0; 4096];
        while let Ok(count) = reader.read(&mut bytes) {
            if count == 0 || send.send(bytes[..count].to_vec()).is_err() {
                break;
            }
        }
    });
    let mut seen = Vec::new();
    let mut wait_for = |wanted: &str, times: usize| {
        let end = Instant::now() + Duration::from_secs(60);
        loop {
            let text = String::from_utf8_lossy(&seen).into_owned();
            if text.matches(wanted).count() >= times {
                return;
            }
            assert!(Instant::now() < end, "no {wanted:?} in {text}");
            if let Ok(more) = receive.recv_timeout(Duration::from_millis(100)) {
                seen.extend(more);
            }
        }
    };
    let prompt = "blank to leave it open: ";
    wait_for(prompt, 1);
    writer.write_all(b"Mars/Olympus\n").unwrap();
    wait_for("there is no zone Mars/Olympus", 1);
    wait_for(prompt, 2);
    writer.write_all(b"Europe/Lisbon\n").unwrap();
    wait_for("asked.yaml is written", 1);
    assert!(child.wait().unwrap().success());
    let map = fs::read_to_string(room.path("asked.yaml")).unwrap();
    assert!(
        map.contains("zone: Europe/Lisbon  # your answer to:"),
        "{map}"
    );
    assert!(!map.contains(": ask"), "{map}");
}
