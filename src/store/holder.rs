//! Who is in the way when a file can't be written to.

use std::path::Path;

#[cfg(target_os = "linux")]
use crate::model::printable::printable;

/// Who holds a lock to write on this file or on the memory of its log, in words; by name and
/// number where the operating system tells.
#[must_use]
pub fn of(file: &Path) -> String {
    #[cfg(target_os = "linux")]
    if let Ok(locks) = std::fs::read_to_string("/proc/locks") {
        let numbers = [number(file), number(&beside(file))];
        return match writer(&locks, &numbers) {
            None => "another process".to_owned(),
            Some(process) if process == std::process::id() => {
                "other work of this program".to_owned()
            }
            Some(process) => named(process),
        };
    }
    let _ = file;
    "another process".to_owned()
}

#[cfg(target_os = "linux")]
fn named(process: u32) -> String {
    let name = std::fs::read_to_string(format!("/proc/{process}/comm")).unwrap_or_default();
    let name = printable(name.trim());
    let comma = if name.is_empty() { "" } else { ", " };
    format!("another process ({name}{comma}number {process})")
}

/// The memory that connections to a write-ahead log share; locks stand on it, too.
#[cfg(target_os = "linux")]
fn beside(file: &Path) -> std::path::PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push("-shm");
    name.into()
}

#[cfg(target_os = "linux")]
fn number(file: &Path) -> Option<u64> {
    use std::os::unix::fs::MetadataExt as _;
    Some(std::fs::metadata(file).ok()?.ino())
}

/// The process that holds a lock to write on one of these files, from the lines of
/// `/proc/locks` (proc(5)): number, kind, rigour, access, process, `device:device:file`, range.
#[cfg(any(target_os = "linux", test))]
fn writer(locks: &str, numbers: &[Option<u64>]) -> Option<u32> {
    locks.lines().find_map(|line| {
        let words: Vec<&str> = line.split_whitespace().collect();
        let &[_, "POSIX" | "OFDLCK", _, "WRITE", process, place, ..] = &words[..] else {
            return None;
        };
        let process: u32 = process.parse().ok()?;
        let file: u64 = place.rsplit(':').next()?.parse().ok()?;
        numbers.contains(&Some(file)).then_some(process)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn who_writes_is_found_among_the_locks() {
        // As proc(5) shows them; a line that begins with an arrow waits for a lock.
        let locks = "\
            1: FLOCK  ADVISORY  WRITE 510 00:1a:77 0 EOF\n\
            2: POSIX  ADVISORY  READ  511 00:1a:77 1073741826 1073742335\n\
            3: POSIX  ADVISORY  WRITE 512 00:1a:78 120 120\n\
            3: -> POSIX  ADVISORY  WRITE 513 00:1a:78 120 120\n\
            4: POSIX  ADVISORY  WRITE 514 00:1a:79 120 120\n";
        assert_eq!(writer(locks, &[Some(77), Some(78)]), Some(512));
        assert_eq!(writer(locks, &[Some(77), None]), None);
    }
}
