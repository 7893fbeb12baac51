//! Where a pack is put: whole or not at all, never over something else.

use std::fs;
use std::process::Stdio;
use std::thread;
use std::time::{Duration, Instant};

use fairdraw::model::Progress;
use fairdraw::programme::{Error, PackError};

use super::made::Desk;
use crate::cli::runner::command;

fn refused(desk: &Desk, replace: bool) -> PackError {
    let mut request = desk.request("pack");
    request.replace = replace;
    match desk.programme().export(&request, &Progress::default()) {
        Err(Error::Pack(error)) => error,
        other => panic!("{other:?}"),
    }
}

#[test]
fn what_is_there_is_not_written_over() {
    let desk = Desk::of_demo(60);
    fs::create_dir(desk.path("pack")).unwrap();
    fs::write(desk.path("pack/letter.txt"), "dear").unwrap();
    assert!(matches!(refused(&desk, false), PackError::IsThere { .. }));
    // Nor is it replaced, since it is no pack.
    assert!(matches!(refused(&desk, true), PackError::NotOurs { .. }));
    assert_eq!(
        fs::read_to_string(desk.path("pack/letter.txt")).unwrap(),
        "dear"
    );
    assert_eq!(desk.left_over(), Vec::<String>::new());
    fs::remove_file(desk.path("pack/letter.txt")).unwrap();
    // An empty folder is no loss.
    desk.export("pack");
    assert!(matches!(refused(&desk, false), PackError::IsThere { .. }));
}

#[test]
fn a_pack_is_replaced_whole_and_only_if_nothing_else_is_in_it() {
    let desk = Desk::of_demo(60);
    desk.export("pack");
    let older = desk.pack("pack");
    fs::write(desk.path("pack/tables/notes.txt"), "mine").unwrap();
    let error = refused(&desk, true);
    assert!(error.to_string().contains("tables/notes.txt"), "{error}");
    assert_eq!(
        fs::read_to_string(desk.path("pack/tables/notes.txt")).unwrap(),
        "mine"
    );
    fs::remove_file(desk.path("pack/tables/notes.txt")).unwrap();
    let mut request = desk.request("pack");
    request.replace = true;
    desk.export_as(&request);
    let newer = desk.pack("pack");
    // The trail grew by the note of the first export.
    assert_ne!(older["trail/head.txt"], newer["trail/head.txt"]);
    assert_eq!(older.len(), newer.len());
    assert_eq!(desk.left_over(), Vec::<String>::new());
}

#[test]
fn a_file_in_the_place_of_the_folder_is_left_alone() {
    let desk = Desk::of_demo(60);
    fs::write(desk.path("pack"), "file").unwrap();
    assert!(matches!(refused(&desk, true), PackError::NoFolder { .. }));
    assert_eq!(fs::read_to_string(desk.path("pack")).unwrap(), "file");
}

#[test]
fn one_who_asks_to_stop_gets_no_pack_and_no_note() {
    let desk = Desk::of_demo(60);
    let before = desk.programme().trail().unwrap();
    let progress = Progress::default();
    progress.stop();
    let stopped = desk.programme().export(&desk.request("pack"), &progress);
    assert!(matches!(stopped, Err(Error::Stopped)), "{stopped:?}");
    assert!(!desk.path("pack").exists());
    assert_eq!(desk.left_over(), Vec::<String>::new());
    assert_eq!(desk.programme().trail().unwrap(), before);
}

/// Where the folder can't take its name, the note of the export is taken back too.
#[cfg(unix)]
#[test]
fn a_pack_that_cannot_be_put_in_place_is_not_noted() {
    use std::os::unix::fs::PermissionsExt as _;
    let desk = Desk::of_demo(60);
    let before = desk.programme().trail().unwrap();
    fs::create_dir(desk.path("shut")).unwrap();
    fs::set_permissions(desk.path("shut"), fs::Permissions::from_mode(0o555)).unwrap();
    let made = desk
        .programme()
        .export(&desk.request("shut/pack"), &Progress::default());
    // Root may write anywhere: then there is nothing to see here.
    if made.is_err() {
        assert_eq!(desk.programme().trail().unwrap(), before);
        assert!(!desk.path("shut/pack").exists());
    }
    fs::set_permissions(desk.path("shut"), fs::Permissions::from_mode(0o755)).unwrap();
}

#[test]
fn an_export_killed_at_any_moment_leaves_no_folder_that_looks_whole() {
    let desk = Desk::of_demo(4000);
    let run = |to: &str| {
        let mut run = command(
            desk.folder.path(),
            &["-p", "programme.db", "export", "--to", to],
        );
        run.env("FAIRDRAW_AS", "Ada")
            .stdout(Stdio::null())
            .stderr(Stdio::null());
        run
    };
    let begun = Instant::now();
    assert!(run("whole").status().unwrap().success());
    let whole = begun.elapsed();
    let mut cut_off = 0;
    for kill in 0..8 {
        let to = format!("pack-{kill}");
        let mut child = run(&to).spawn().unwrap();
        // Spread over the whole export by the golden ratio.
        thread::sleep(whole.mul_f64((f64::from(kill) * 0.618_034).fract()));
        child.kill().unwrap();
        child.wait().unwrap();
        if desk.path(&to).exists() {
            let check = command(
                desk.folder.path(),
                &["-p", "none.db", "check", "--pack", &to],
            )
            .status()
            .unwrap();
            assert!(check.success(), "{to} is there, but not whole");
        } else {
            cut_off += 1;
        }
        thread::sleep(Duration::from_millis(5));
    }
    assert!(cut_off > 0, "no export was killed before its end");
    // What is left has a name that tells it from a pack, and the programme is sound.
    assert!(
        desk.left_over()
            .iter()
            .all(|name| name.contains(".unfinished-"))
    );
    assert_eq!(desk.programme().check().unwrap(), Vec::<String>::new());
}
