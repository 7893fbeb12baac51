//! Where memories lie, and of which programmes there is none.

use std::path::{Path, PathBuf};

use etcetera::BaseStrategy;

use crate::model::trail::sha256;
use crate::programme::{Error, Programme};

/// Names the folder of memories, or says `off`.
pub const VARIABLE: &str = "FAIRDRAW_STATE";

/// The word that switches remembering off.
const OFF: &str = "off";

/// Why nothing is remembered of a programme.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
pub enum NotKept {
    /// It was switched off.
    #[error("FAIRDRAW_STATE is `off`, so nothing is remembered")]
    Off,
    /// It is made up.
    #[error("of an invented programme nothing is remembered")]
    Invented,
    /// It goes with the temporary files it lies among.
    #[error(
        "of a programme among temporary files nothing is remembered, unless FAIRDRAW_STATE names a folder for it"
    )]
    Temporary,
    /// Nothing was taken in yet by which it could be told from others.
    #[error("of a programme into which nothing was taken in yet nothing is remembered")]
    Empty,
    /// This computer tells no folder for it.
    #[error("this computer tells no folder for what is remembered; name one in FAIRDRAW_STATE")]
    NoFolder,
    /// The programme can't be read.
    #[error("the programme can't be read, so it can't be told what was remembered of it")]
    Unread,
}

/// The file in which this programme is remembered. `variable` reads the environment.
///
/// # Errors
/// Why there is none.
pub fn file_of(
    programme: &Programme,
    variable: &dyn Fn(&str) -> Option<String>,
) -> Result<PathBuf, NotKept> {
    let given = variable(VARIABLE).filter(|given| !given.is_empty());
    if given.as_deref() == Some(OFF) {
        return Err(NotKept::Off);
    }
    if programme.is_invented() {
        return Err(NotKept::Invented);
    }
    let folder = match given {
        Some(folder) => PathBuf::from(folder),
        None if is_temporary(programme) => return Err(NotKept::Temporary),
        None => state_folder().ok_or(NotKept::NoFolder)?,
    };
    let mark = mark_of(programme).map_err(|_| NotKept::Unread)?;
    let mark = mark.ok_or(NotKept::Empty)?;
    Ok(folder.join(format!("{}.json", &mark[..32])))
}

fn is_temporary(programme: &Programme) -> bool {
    let Some(path) = programme.path() else {
        return true;
    };
    let whole = |path: &Path| path.canonicalize().unwrap_or_else(|_| path.to_owned());
    whole(path).starts_with(whole(&std::env::temp_dir()))
}

fn state_folder() -> Option<PathBuf> {
    let strategy = etcetera::choose_base_strategy().ok()?;
    let folder = strategy.state_dir();
    let folder = folder.unwrap_or_else(|| strategy.data_dir());
    Some(folder.join("fairdraw"))
}

/// What tells a programme from every other: its first batch, which is never changed, with the
/// hashes of its sheets. A file that was moved is known again by it, and another file under the
/// same path is not; a copy is the same programme. None before anything was taken in.
fn mark_of(programme: &Programme) -> Result<Option<String>, Error> {
    let imports = programme.imports()?;
    let Some(first) = imports.last() else {
        return Ok(None);
    };
    let mut mark = format!("{}\n{}\n{}\n", first.number, first.taken_at, first.zone);
    for sheet in programme.imported_sheets(first.number)? {
        let hash = sheet.sha256.unwrap_or_default();
        mark.push_str(&format!("{} {} {hash}\n", sheet.kind, sheet.sheet));
    }
    Ok(Some(sha256(mark.as_bytes())))
}
