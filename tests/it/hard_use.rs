//! Full disks, files that can't be written to, damaged files, pipes: a message, never a panic,
//! and the programme as it was.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use fairdraw::model::Progress;
use fairdraw::programme::Programme;

use crate::cli::runner::{Room, command};
use crate::ledger::said;

/// Numbers that look random and are the same every time (SplitMix64, Steele and others 2014).
pub struct Dice(pub u64);

impl Dice {
    pub fn below(&mut self, sides: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (mixed ^ (mixed >> 31)) % sides
    }
}

/// A room with a programme that several batches went into, and sheets for one more.
fn room() -> Room {
    let room = Room::with_programme();
    room.run(&["import", "refused"]);
    let more = [
        "demo", "--write", "more", "--draws", "400", "--points", "20",
    ];
    let run = room.run(&[&more[..], &["--technicians", "5"]].concat());
    assert_eq!(run.status, 0, "{}", run.told());
    room
}

fn stands(file: &Path) -> Vec<String> {
    said(&mut Programme::open(file).unwrap())
}

/// Runs an import under a limit of the shell, such as the greatest size of a file in blocks of
/// 512 bytes.
fn import_under(room: &Room, programme: &str, blocks: u64) -> (i32, String) {
    let program = env!("CARGO_BIN_EXE_fairdraw");
    let script =
        format!("trap '' XFSZ; ulimit -f {blocks}; exec '{program}' -p '{programme}' import more");
    let output = Command::new("sh")
        .args(["-c", &script])
        .current_dir(room.path("."))
        .env_clear()
        .env("LOGNAME", "desk")
        .output()
        .unwrap();
    let told = String::from_utf8_lossy(&output.stderr).into_owned();
    (output.status.code().expect("ended by itself"), told)
}

#[cfg(target_os = "linux")]
#[test]
fn where_nothing_more_can_be_written_nothing_is_lost() {
    let room = room();
    let file = room.path("programme.db");
    let before = stands(&file);
    let size = fs::metadata(&file).unwrap().len();
    let mut failed = 0;
    for step in 0..12 {
        let copy = room.path("full.db");
        fs::copy(&file, &copy).unwrap();
        let (status, told) = import_under(&room, "full.db", (size / 512) * step / 6);
        if status == 3 {
            failed += 1;
            assert!(told.contains("error: the programme file full.db"), "{told}");
            assert!(stands(&copy) == before, "limit {step}: {told}");
            assert_eq!(
                Programme::open(&copy).unwrap().check().unwrap(),
                Vec::<String>::new()
            );
        } else {
            assert!(status <= 1, "{told}");
            assert!(stands(&copy) != before);
        }
        for end in ["", "-wal", "-shm"] {
            let _ = fs::remove_file(room.path(&format!("full.db{end}")));
        }
    }
    assert!(failed >= 2, "no import came to the limit");
    // A first import that finds no room leaves no file behind.
    let (status, told) = import_under(&room, "new.db", 40);
    assert_eq!(status, 3, "{told}");
    assert!(!room.path("new.db").exists());
}

/// A file system of its own that is too small. Only the administrator may make one; elsewhere
/// the test above stands alone.
#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_told_and_the_import_can_be_done_once_there_is_room() {
    let room = room();
    let before = stands(&room.path("programme.db"));
    let size = fs::metadata(room.path("programme.db")).unwrap().len();
    let disk = room.path("disk");
    fs::create_dir(&disk).unwrap();
    let mounted = Command::new("mount")
        .args(["-t", "tmpfs", "-o"])
        .arg(format!("size={}", size + 64 * 1024))
        .arg("none")
        .arg(&disk)
        .stderr(Stdio::null())
        .status();
    if !mounted.is_ok_and(|status| status.success()) {
        println!("no file system could be made; only limits were tried");
        return;
    }
    fs::copy(room.path("programme.db"), disk.join("p.db")).unwrap();
    let import = || room.run(&["-p", "disk/p.db", "import", "more"]);
    let full = import();
    let remount = Command::new("mount")
        .args(["-o", "remount,size=64m"])
        .arg(&disk)
        .status();
    let kept = stands(&disk.join("p.db")) == before;
    let again = import();
    let after = stands(&disk.join("p.db")) != before;
    let _ = Command::new("umount").arg("-l").arg(&disk).status();
    assert_eq!(full.status, 3, "{}", full.told());
    assert!(
        full.stderr
            .contains("no room left for the programme file disk/p.db"),
        "{}",
        full.told()
    );
    assert!(kept, "the programme is as before");
    assert!(remount.unwrap().success());
    assert!(again.status <= 1 && after, "{}", again.told());
}

#[cfg(unix)]
#[test]
fn what_can_not_be_written_to_is_told_and_stays_as_it_was() {
    use std::os::unix::fs::PermissionsExt;
    let room = room();
    let allow = |path: &str, mode: u32| {
        fs::set_permissions(room.path(path), fs::Permissions::from_mode(mode)).unwrap();
    };
    fs::create_dir(room.path("shelf")).unwrap();
    fs::copy(room.path("programme.db"), room.path("shelf/p.db")).unwrap();
    for (place, locked, mode) in [
        ("shelf/p.db", "shelf/p.db", 0o444),
        ("shelf/p.db", "shelf", 0o555),
    ] {
        allow(locked, mode);
        for deed in [
            &["import", "more"][..],
            &["ledger", "take-back", "2", "--because", "x"],
            &["rules", "adopt", "none.yaml"],
        ] {
            let run = room.run(&[&["-p", place], deed].concat());
            assert_eq!(run.status, 3, "{}", run.told());
        }
        let listed = room.run(&["-p", place, "ledger"]);
        assert_eq!(listed.status, 0, "{}", listed.told());
        assert!(stands(&room.path(place)) == stands(&room.path("programme.db")));
        allow(locked, if locked == "shelf" { 0o755 } else { 0o644 });
    }
}

#[test]
fn a_file_that_another_process_writes_to_is_waited_for_and_then_told() {
    let room = room();
    let before = stands(&room.path("programme.db"));
    let holder = rusqlite::Connection::open(room.path("programme.db")).unwrap();
    holder.execute_batch("BEGIN IMMEDIATE").unwrap();
    let begun = Instant::now();
    let run = room.run(&["import", "more"]);
    assert_eq!(run.status, 3, "{}", run.told());
    assert!(
        run.stderr.contains("is in use by another process"),
        "{}",
        run.told()
    );
    assert!(
        begun.elapsed() >= Duration::from_secs(4),
        "it was waited for"
    );
    // Reading needs no waiting.
    assert_eq!(room.run(&["ledger"]).status, 0);
    drop(holder);
    assert!(stands(&room.path("programme.db")) == before);
    assert!(room.run(&["import", "more"]).status <= 1);
}

#[test]
fn a_file_cut_off_anywhere_is_told_and_never_half_believed() {
    let room = room();
    let whole = fs::read(room.path("programme.db")).unwrap();
    let before = stands(&room.path("programme.db"));
    let mut dice = Dice(11);
    let pages = (whole.len() / 8192) as u64;
    let lengths = (0..40)
        .map(|_| dice.below(whole.len() as u64))
        .chain((0..pages).step_by(5).map(|page| page * 8192))
        .chain([0, 1, 15, 16, 99, 100, 101, 8191]);
    for length in lengths {
        let cut = room.path("cut.db");
        fs::write(&cut, &whole[..length as usize]).unwrap();
        look_at(&cut, &before, &format!("cut off at {length}"));
        let run = room.run(&["-p", "cut.db", "score"]);
        assert_eq!(run.status, 3, "cut off at {length}: {}", run.told());
        assert!(run.stderr.starts_with("error: "), "{}", run.told());
    }
}

#[test]
fn a_file_with_bytes_changed_anywhere_is_told_or_says_what_it_said() {
    let room = room();
    let whole = fs::read(room.path("programme.db")).unwrap();
    let before = stands(&room.path("programme.db"));
    let mut dice = Dice(7);
    let mut silent = 0;
    for round in 0..90 {
        let mut changed = whole.clone();
        let place = format!("round {round}");
        if round % 3 == 0 {
            // A page of noise.
            let page = dice.below(changed.len() as u64 / 8192) as usize * 8192;
            changed[page..page + 8192].fill_with(|| dice.below(256) as u8);
        } else {
            for _ in 0..=dice.below(24) {
                let at = dice.below(changed.len() as u64) as usize;
                changed[at] ^= 1 << dice.below(8);
            }
        }
        let file = room.path(&format!("changed-{round}.db"));
        fs::write(&file, changed).unwrap();
        silent += u32::from(look_at(&file, &before, &place));
    }
    assert!(silent < 60, "most changes were not told: {silent} of 90");
}

/// Opens, checks and reads a file that may be damaged; whether nothing was told of it. Then it
/// must say what it said before.
fn look_at(file: &Path, before: &[String], place: &str) -> bool {
    let Ok(mut programme) = Programme::open(file) else {
        return false;
    };
    let wrong = programme.check();
    let assessed = programme.assess(&Progress::default());
    let (Ok(wrong), Ok(assessed)) = (wrong, assessed) else {
        return false;
    };
    let records = programme.records(&assessed.judged.record);
    let _ = programme.batches();
    let _ = programme.write_refused(None, &file.with_extension("refused.csv"));
    if !wrong.is_empty() || records.is_err() {
        return false;
    }
    assert!(
        said(&mut programme) == before,
        "{place}: changed, and not told"
    );
    true
}

#[cfg(unix)]
#[test]
fn a_pipe_is_waited_for_and_the_user_can_end_the_waiting() {
    let room = room();
    let made = Command::new("mkfifo").arg(room.path("draws.pipe")).status();
    assert!(made.unwrap().success());
    let arguments = ["import", "draws.pipe", "--as", "draws"];
    let child = command(&room.path("."), &arguments)
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let rows = "draw_id,point_id,technician_id,drawn_at\nD-77,P-1,T-1,2026-04-01T08:00Z\n";
    fs::write(room.path("draws.pipe"), rows).unwrap();
    let run = room.told(&arguments, &child.wait_with_output().unwrap());
    assert_eq!(run.status, 0, "{}", run.told());
    assert!(
        run.stderr.contains("draws.pipe is a pipe"),
        "{}",
        run.told()
    );
    assert!(
        room.run(&["score", "--format", "csv"])
            .stdout
            .contains("D-77")
    );

    // Nobody writes to it: Ctrl-C, pressed twice, ends the waiting.
    let before = stands(&room.path("programme.db"));
    let mut child = command(&room.path("."), &arguments)
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let begun = Instant::now();
    while child.try_wait().unwrap().is_none() {
        assert!(
            begun.elapsed() < Duration::from_secs(20),
            "it can't be ended"
        );
        std::thread::sleep(Duration::from_millis(150));
        let kill = Command::new("sh")
            .args(["-c", &format!("kill -INT {}", child.id())])
            .status();
        assert!(kill.is_ok());
    }
    assert!(stands(&room.path("programme.db")) == before);
}
