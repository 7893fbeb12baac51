//! A disk without room while something is decided.
#![cfg(target_os = "linux")]

use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};

use super::{meanwhile, open};
use crate::terminal::{programme, told};

/// A file system of its own, small, which goes with this.
struct Disk(PathBuf);

impl Disk {
    /// None where only the administrator may make one.
    fn make(at: PathBuf, bytes: u64) -> Option<Self> {
        fs::create_dir(&at).unwrap();
        let mounted = Command::new("mount")
            .args(["-t", "tmpfs", "-o"])
            .arg(format!("size={bytes}"))
            .arg("none")
            .arg(&at)
            .stderr(Stdio::null())
            .status();
        mounted
            .is_ok_and(|status| status.success())
            .then_some(Disk(at))
    }

    /// Fills all of its room; the file that does.
    fn fill(&self) -> PathBuf {
        let filler = self.0.join("filler");
        let mut file = fs::File::create(&filler).unwrap();
        let piece = [0; 4096];
        while std::io::Write::write_all(&mut file, &piece).is_ok() {}
        filler
    }
}

impl Drop for Disk {
    fn drop(&mut self) {
        let _ = Command::new("umount").arg("-l").arg(&self.0).status();
    }
}

#[test]
fn a_full_disk_is_told_the_form_stays_and_the_decision_is_kept_once_there_is_room() {
    let folder = tempfile::tempdir().unwrap();
    let made = programme(&folder);
    let size = fs::metadata(&made).unwrap().len();
    let Some(disk) = Disk::make(folder.path().join("disk"), size + 4 * 1024 * 1024) else {
        println!("no file system could be made");
        return;
    };
    let file = disk.0.join("p.db");
    fs::copy(&made, &file).unwrap();
    let mut journey = open(&file);
    journey.press("8").until("to sample again");
    let filler = disk.fill();
    journey.press("a").until("Nobody is to act on");
    journey.press("tap was dirty\r").until_said("no room left");
    // What was written stays in the form, the interface goes on, and nothing is half kept.
    journey.until("tap was dirty");
    journey.press("\r").until_said("no room left");
    fs::remove_file(filler).unwrap();
    meanwhile(&file, &["check"]);
    journey.press("\r").until("is set aside.");
    journey.press("q");
    assert_eq!(journey.end(), 0);
    meanwhile(&file, &["check"]);
    fs::copy(&file, &made).unwrap();
    let set = told(&folder, &["set-aside", "--list"]);
    let set = set.as_array().unwrap();
    assert_eq!(set.len(), 1, "{set:?}");
    assert_eq!(set[0]["because"], "tap was dirty");
}
