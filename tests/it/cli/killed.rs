//! The process killed in the middle of an import: the programme is as before or as after,
//! never in between.

use std::fs;
use std::process::Stdio;
use std::thread;
use std::time::{Duration, Instant};

use super::runner::Room;

/// How often an import is killed.
const KILLS: u32 = 14;

/// What stands in the programme, draw by draw.
fn draws(room: &Room, programme: &str) -> String {
    let run = room.run(&["-p", programme, "score", "--format", "csv"]);
    assert_eq!(run.status, 0, "{}", run.told());
    run.stdout
}

fn invent(room: &Room, folder: &str, draws: &str, seed: &str) {
    let run = room.run(&[
        "demo",
        "--write",
        folder,
        "--draws",
        draws,
        "--points",
        "150",
        "--technicians",
        "12",
        "--seed",
        seed,
    ]);
    assert_eq!(run.status, 0, "{}", run.told());
}

/// Puts a row without point, technician and time in front, so that there are rejects from the
/// first moment on.
fn refuse_a_row(room: &Room, sheet: &str) {
    let text = fs::read_to_string(room.path(sheet)).unwrap();
    let (head, rows) = text.split_once('\n').unwrap();
    fs::write(room.path(sheet), format!("{head}\nD-0\n{rows}")).unwrap();
}

/// Files under a temporary name.
fn beside(room: &Room) -> Vec<String> {
    fs::read_dir(room.path("."))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .filter(|name| name.starts_with(".tmp"))
        .collect()
}

#[test]
fn an_import_killed_at_any_moment_leaves_the_programme_as_before_or_as_after() {
    let room = Room::with_sheets();
    // The second history brings new draws and changes to the points of the first.
    invent(&room, "first", "1500", "1");
    invent(&room, "second", "20000", "2");
    refuse_a_row(&room, "second/draws.csv");
    let taken = room.run(&["-p", "before.db", "import", "first"]);
    assert!(taken.status <= 1, "{}", taken.told());
    fs::copy(room.path("before.db"), room.path("after.db")).unwrap();
    let begun = Instant::now();
    let taken = room.run(&["-p", "after.db", "import", "second"]);
    assert!(taken.status <= 1, "{}", taken.told());
    let whole = begun.elapsed();
    let before = draws(&room, "before.db");
    let after = draws(&room, "after.db");
    assert_ne!(before, after);

    let mut cut_off = 0;
    for kill in 0..KILLS {
        let file = format!("killed-{kill}.db");
        fs::copy(room.path("before.db"), room.path(&file)).unwrap();
        let mut child = room
            .command(&["-p", &file, "import", "second"])
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Spread over the whole import by the golden ratio, with a moment of chance on top.
        let part = (f64::from(kill) * 0.618_034).fract();
        let chance = Duration::from_micros(u64::from(child.id() % 7) * 500);
        thread::sleep(whole.mul_f64(part) + chance);
        child.kill().unwrap();
        let done = child.wait().unwrap().success();

        let check = room.run(&["-p", &file, "check"]);
        assert_eq!(check.status, 0, "kill {kill}: {}", check.told());
        let found = draws(&room, &file);
        assert!(
            found == before || found == after,
            "kill {kill}, {part:.2} of the way: neither as before nor as after"
        );
        if !done && found == before {
            cut_off += 1;
            assert_eq!(beside(&room), Vec::<String>::new(), "kill {kill}");
        }
        // What was cut off can be done again.
        if kill + 1 == KILLS {
            let again = room.run(&["-p", &file, "import", "second"]);
            assert!(again.status <= 1, "{}", again.told());
            assert_eq!(draws(&room, &file), after);
        }
    }
    assert!(cut_off > 0, "no import was killed before it was done");
}
