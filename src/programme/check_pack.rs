//! What is wrong with an exported pack: files against its list of hashes, its trail against
//! that of the programme.

use std::collections::{BTreeMap, BTreeSet};
use std::fs::{self, File};
use std::io::{self, Read};
use std::path::Path;

use sha2::{Digest, Sha256};

use super::export::{ABOUT, HEAD, SUMS};
use crate::model::decisions::PackExported;
use crate::model::trail::{Link, NO_LINK, hexadecimal};

/// The longest list of hashes that is read, in bytes; a pack has some fifty files.
const LONGEST_LIST: u64 = 1 << 20;

/// One thing that is wrong with a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackFault {
    /// The file within the pack; empty where it is about all of it.
    pub file: String,
    /// What is wrong.
    pub fault: String,
}

/// What a check of a pack found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PackCheck {
    /// What is wrong; empty if the pack is as it was exported.
    pub faults: Vec<PackFault>,
    /// Files that were looked at.
    pub files: usize,
    /// How the pack stands to the programme, in words; empty if there was none to compare with.
    pub belongs: String,
}

impl PackCheck {
    fn wrong(&mut self, file: &str, fault: impl Into<String>) {
        self.faults.push(PackFault {
            file: file.to_owned(),
            fault: fault.into(),
        });
    }
}

/// Checks a pack, and if a trail is given, whether it came from that programme.
///
/// # Errors
/// The folder or a file in it can't be read.
pub fn check_pack(folder: &Path, trail: Option<&[Link]>) -> io::Result<PackCheck> {
    let mut check = PackCheck::default();
    let there = files_in(folder)?;
    let Some(list) = read_list(folder)? else {
        check.wrong(SUMS, "missing: without it nothing can be checked");
        return Ok(check);
    };
    for (number, line) in (1..).zip(list.lines()) {
        if listed(line).is_none() {
            check.wrong(SUMS, format!("line {number} is no hash and path"));
        }
    }
    let sums: BTreeMap<&str, &str> = list.lines().filter_map(listed).collect();
    check.files = sums.len();
    for (path, sum) in &sums {
        if !there.contains(*path) {
            check.wrong(path, "missing");
        } else if hash_of(&folder.join(path))? != **sum {
            check.wrong(path, "altered");
        }
    }
    for path in &there {
        if path != SUMS && !sums.contains_key(path.as_str()) {
            check.wrong(path, "extra: not in the list of hashes");
        }
    }
    if let Some(trail) = trail {
        belongs(folder, &list, trail, &mut check)?;
    }
    Ok(check)
}

/// Whether the pack's head stands in the trail, and whether the trail notes this very pack.
fn belongs(folder: &Path, list: &str, trail: &[Link], check: &mut PackCheck) -> io::Result<()> {
    let head = match fs::read_to_string(folder.join(HEAD)) {
        Ok(head) => head,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) if error.kind() == io::ErrorKind::InvalidData => String::new(),
        Err(error) => return Err(error),
    };
    let parts = head.trim_end().split_once(' ');
    let Some((number, hash)) =
        parts.and_then(|(number, hash)| Some((number.parse::<usize>().ok()?, hash)))
    else {
        check.wrong(HEAD, "is no number and hash");
        return Ok(());
    };
    let is_ours = match number {
        0 => hash == NO_LINK,
        number => trail.get(number - 1).is_some_and(|link| link.hash == hash),
    };
    if !is_ours {
        check.wrong(
            HEAD,
            format!(
                "the trail of this programme has no link {number} of this hash: the pack is of \
                 another programme, or one of both was altered"
            ),
        );
        return Ok(());
    }
    let sums_sha256 = hexadecimal(&Sha256::digest(list.as_bytes()));
    let noted = trail.iter().find(|link| {
        let exported = link.decision::<PackExported>();
        exported.is_some_and(|exported| exported.sums_sha256 == sums_sha256)
    });
    check.belongs = match (noted, number) {
        (Some(link), _) => format!("link {} of the trail notes this very pack", link.number),
        (None, 0) => "the pack has no decisions in its trail, and the programme's trail does not \
                      note it, so nothing shows that it came from this programme"
            .to_owned(),
        (None, number) => format!(
            "its head is link {number} of this programme's trail; the trail does not note the \
             pack itself (as of one made from a read-only file)"
        ),
    };
    Ok(())
}

/// Why a folder is not just a pack of ours; `None` if it is.
///
/// # Errors
/// It can't be read.
pub(super) fn foreign(folder: &Path) -> io::Result<Option<String>> {
    let Some(list) = read_list(folder)? else {
        return Ok(Some(format!("it has no {SUMS}")));
    };
    let sums: BTreeMap<&str, &str> = list.lines().filter_map(listed).collect();
    let about = fs::read(folder.join(ABOUT)).unwrap_or_default();
    let about: serde_json::Value = serde_json::from_slice(&about).unwrap_or_default();
    if !sums.contains_key(ABOUT) || about["fairdraw_pack"].as_u64().is_none() {
        return Ok(Some(format!("its {ABOUT} is missing or is no pack's")));
    }
    let there = files_in(folder)?;
    let extra = there
        .iter()
        .find(|path| *path != SUMS && !sums.contains_key(path.as_str()));
    Ok(extra.map(|path| format!("{path} is in no list of the pack's files")))
}

/// The list of hashes; none if there is none.
fn read_list(folder: &Path) -> io::Result<Option<String>> {
    let file = match File::open(folder.join(SUMS)) {
        Ok(file) => file,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(None),
        Err(error) => return Err(error),
    };
    let mut bytes = Vec::new();
    file.take(LONGEST_LIST).read_to_end(&mut bytes)?;
    Ok(Some(String::from_utf8_lossy(&bytes).into_owned()))
}

/// A line of the list: path and hash. Only paths that stay within the folder are taken.
fn listed(line: &str) -> Option<(&str, &str)> {
    let (sum, path) = line.split_once("  ")?;
    let is_sum = sum.len() == 64 && sum.bytes().all(|byte| byte.is_ascii_hexdigit());
    let stays = path.split('/').all(|part| !matches!(part, "" | "." | ".."));
    (is_sum && stays && !path.contains(['\\', ':'])).then_some((path, sum))
}

/// The paths of all files in a folder and those within, with `/`. Links are files here: they
/// are never followed.
fn files_in(folder: &Path) -> io::Result<BTreeSet<String>> {
    let mut files = BTreeSet::new();
    let mut rest = vec![(folder.to_owned(), String::new())];
    while let Some((folder, path)) = rest.pop() {
        for entry in fs::read_dir(folder)? {
            let entry = entry?;
            let path = format!("{path}{}", entry.file_name().to_string_lossy());
            if entry.file_type()?.is_dir() {
                rest.push((entry.path(), format!("{path}/")));
            } else {
                files.insert(path);
            }
        }
    }
    Ok(files)
}

/// SHA-256 of a file; of anything that is no plain file, nothing that could be in a list.
pub(super) fn hash_of(file: &Path) -> io::Result<String> {
    if !fs::symlink_metadata(file)?.is_file() {
        return Ok(String::new());
    }
    let (mut file, mut hash) = (File::open(file)?, Sha256::new());
    let mut piece = vec![0; 1 << 16];
    loop {
        match file.read(&mut piece)? {
            0 => return Ok(hexadecimal(&hash.finalize())),
            read => hash.update(&piece[..read]),
        }
    }
}
