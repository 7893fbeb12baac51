//! `check --pack`: what it names.

use std::fs;
use std::path::Path;

use fairdraw::programme::check_pack::check_pack;
use sha2::{Digest, Sha256};

use super::made::{Desk, files};

/// File and fault of all that is wrong.
fn faults(desk: &Desk, with_programme: bool) -> Vec<(String, String)> {
    let trail = desk.programme().trail().unwrap();
    let trail = with_programme.then_some(&trail[..]);
    let check = check_pack(&desk.path("pack"), trail).unwrap();
    check
        .faults
        .into_iter()
        .map(|it| (it.file, it.fault))
        .collect()
}

/// Writes the list of hashes anew, as a forger would.
fn reseal(folder: &Path) {
    let list: String = files(folder)
        .iter()
        .filter(|(path, _)| *path != "SHA256SUMS")
        .map(|(path, bytes)| {
            let sum = Sha256::digest(bytes);
            let sum: String = sum.iter().map(|byte| format!("{byte:02x}")).collect();
            format!("{sum}  {path}\n")
        })
        .collect();
    fs::write(folder.join("SHA256SUMS"), list).unwrap();
}

#[test]
fn missing_altered_and_extra_files_are_named() {
    let desk = Desk::of_demo(60);
    desk.export("pack");
    assert_eq!(faults(&desk, true), []);
    let draws = desk.path("pack/tables/draws.csv");
    let text = fs::read_to_string(&draws).unwrap();
    fs::write(
        &draws,
        text.replacen("unrepresentative", "representative", 1),
    )
    .unwrap();
    fs::remove_file(desk.path("pack/report.pdf")).unwrap();
    fs::write(desk.path("pack/tables/more.csv"), "x").unwrap();
    let told = |file: &str, fault: &str| (file.to_owned(), fault.to_owned());
    assert_eq!(
        faults(&desk, true),
        [
            told("report.pdf", "missing"),
            told("tables/draws.csv", "altered"),
            told("tables/more.csv", "extra: not in the list of hashes"),
        ]
    );
}

#[test]
fn a_list_that_leads_out_of_the_folder_is_not_followed() {
    let desk = Desk::of_demo(60);
    desk.export("pack");
    fs::write(desk.path("outside.txt"), "x").unwrap();
    let list = fs::read_to_string(desk.path("pack/SHA256SUMS")).unwrap();
    let sum = "0".repeat(64);
    for bad in ["../outside.txt", "/etc/passwd", "a//b", "a\\b", "c:d"] {
        fs::write(
            desk.path("pack/SHA256SUMS"),
            format!("{sum}  {bad}\n{list}"),
        )
        .unwrap();
        let found = faults(&desk, false);
        assert_eq!(found.len(), 1, "{bad}: {found:?}");
        assert_eq!(found[0].0, "SHA256SUMS");
    }
}

#[test]
fn a_pack_of_another_programme_is_told() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let other = Desk::with_demo();
    other.export("other");
    let trail = Desk::of_demo(60).programme().trail().unwrap();
    let check = check_pack(&desk.path("pack"), Some(&trail)).unwrap();
    assert_eq!(check.faults.len(), 1);
    assert_eq!(check.faults[0].file, "trail/head.txt");
}

#[test]
fn the_trail_tells_a_pack_from_one_that_was_forged_with_its_list() {
    let desk = Desk::with_demo();
    desk.export("pack");
    let trail = desk.programme().trail().unwrap();
    let belongs = || {
        check_pack(&desk.path("pack"), Some(&trail))
            .unwrap()
            .belongs
    };
    assert!(belongs().contains("notes this very pack"), "{}", belongs());
    let draws = desk.path("pack/tables/draws.csv");
    let text = fs::read_to_string(&draws).unwrap();
    fs::write(
        &draws,
        text.replacen("unrepresentative", "representative", 1),
    )
    .unwrap();
    reseal(&desk.path("pack"));
    assert_eq!(faults(&desk, false), []);
    assert!(
        belongs().contains("does not note the pack"),
        "{}",
        belongs()
    );
}

#[cfg(unix)]
#[test]
fn a_link_in_place_of_a_file_is_no_file() {
    let desk = Desk::of_demo(60);
    desk.export("pack");
    let copy = desk.path("copy.csv");
    fs::rename(desk.path("pack/tables/draws.csv"), &copy).unwrap();
    std::os::unix::fs::symlink(&copy, desk.path("pack/tables/draws.csv")).unwrap();
    let told = ("tables/draws.csv".to_owned(), "altered".to_owned());
    assert_eq!(faults(&desk, false), [told]);
}
