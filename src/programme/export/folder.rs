//! The folder of a pack while it is made: written aside, whole or not there.

use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, BufWriter, Write};
use std::path::{Path, PathBuf};

use sha2::{Digest, Sha256};
use tempfile::TempDir;

use super::PackError;
use crate::model::trail::hexadecimal;
use crate::programme::check_pack;

/// The list of hashes, in the form of `sha256sum`.
pub const SUMS: &str = "SHA256SUMS";

/// A file of a pack.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PackedFile {
    /// Its path within the pack, with `/`.
    pub path: String,
    /// Rows of the table in it; none where it is no table.
    pub rows: Option<u64>,
    /// Its size.
    pub bytes: u64,
    /// SHA-256 in hexadecimal.
    pub sha256: String,
}

/// A pack being written, in a folder beside its place. Dropped before it is put in place, it
/// leaves nothing.
pub(super) struct Staging {
    folder: TempDir,
    target: PathBuf,
    files: BTreeMap<String, PackedFile>,
}

/// Looks whether a pack may be put at this place.
pub(super) fn may_be_put(target: &Path, replace: bool) -> Result<(), PackError> {
    let failed = |source| PackError::Folder {
        folder: target.to_owned(),
        source,
    };
    let found = match fs::symlink_metadata(target) {
        Ok(found) => found,
        Err(error) if error.kind() == io::ErrorKind::NotFound => return Ok(()),
        Err(error) => return Err(failed(error)),
    };
    if !found.is_dir() {
        return Err(PackError::NoFolder {
            target: target.to_owned(),
        });
    }
    if fs::read_dir(target).map_err(failed)?.next().is_none() {
        return Ok(());
    }
    if !replace {
        return Err(PackError::IsThere {
            target: target.to_owned(),
        });
    }
    match check_pack::foreign(target) {
        Ok(None) => Ok(()),
        Ok(Some(reason)) => Err(PackError::NotOurs {
            target: target.to_owned(),
            reason,
        }),
        Err(error) => Err(failed(error)),
    }
}

impl Staging {
    /// A folder beside the target.
    pub fn beside(target: &Path) -> Result<Self, PackError> {
        let failed = |source| PackError::Folder {
            folder: target.to_owned(),
            source,
        };
        let target = std::path::absolute(target).map_err(failed)?;
        let (Some(parent), Some(name)) = (target.parent(), target.file_name()) else {
            return Err(PackError::NoFolder { target });
        };
        fs::create_dir_all(parent).map_err(failed)?;
        let prefix = format!(".{}.unfinished-", name.to_string_lossy());
        let mut builder = tempfile::Builder::new();
        builder.prefix(&prefix);
        #[cfg(unix)]
        let everyone = std::os::unix::fs::PermissionsExt::from_mode(0o777);
        // As any other folder: what the user's mask leaves of it.
        #[cfg(unix)]
        builder.permissions(everyone);
        let folder = builder.tempdir_in(parent).map_err(failed)?;
        Ok(Staging {
            folder,
            target,
            files: BTreeMap::new(),
        })
    }

    /// Where the files are written meanwhile.
    pub fn folder(&self) -> &Path {
        self.folder.path()
    }

    /// Begins a file, named by its path within the pack.
    pub fn create(&self, path: &str) -> Result<Out, PackError> {
        let file = self.folder.path().join(path);
        let opened = file
            .parent()
            .map_or(Ok(()), fs::create_dir_all)
            .and_then(|()| File::create_new(&file));
        let file = opened.map_err(|source| PackError::unwritten(path, source))?;
        Ok(Out {
            path: path.to_owned(),
            out: BufWriter::with_capacity(1 << 16, Hashed::new(file)),
        })
    }

    /// Makes a file for a library that moves about in it; [`Self::adopt`] takes it in.
    pub fn open(&self, path: &str) -> Result<File, PackError> {
        File::create_new(self.folder().join(path))
            .map_err(|source| PackError::unwritten(path, source))
    }

    /// Takes in a file that was written by other means.
    pub fn adopt(&mut self, path: &str) -> Result<(), PackError> {
        let unwritten = |source| PackError::unwritten(path, source);
        let file = self.folder().join(path);
        File::open(&file)
            .and_then(|file| file.sync_all())
            .map_err(unwritten)?;
        let bytes = fs::metadata(&file).map_err(unwritten)?.len();
        let sha256 = check_pack::hash_of(&file).map_err(unwritten)?;
        let path = path.to_owned();
        let packed = PackedFile {
            path: path.clone(),
            rows: None,
            bytes,
            sha256,
        };
        self.files.insert(path, packed);
        Ok(())
    }

    /// Ends a file.
    pub fn finish(&mut self, out: Out, rows: Option<u64>) -> Result<(), PackError> {
        let Out { path, out } = out;
        let unwritten = |source| PackError::unwritten(&path, source);
        let hashed = out
            .into_inner()
            .map_err(|error| unwritten(error.into_error()))?;
        hashed.file.sync_all().map_err(unwritten)?;
        self.files.insert(
            path.clone(),
            PackedFile {
                path,
                rows,
                bytes: hashed.bytes,
                sha256: hexadecimal(&hashed.hash.finalize()),
            },
        );
        Ok(())
    }

    /// A whole file at once.
    pub fn write(&mut self, path: &str, bytes: &[u8], rows: Option<u64>) -> Result<(), PackError> {
        let mut out = self.create(path)?;
        out.write_all(bytes)
            .map_err(|source| PackError::unwritten(path, source))?;
        self.finish(out, rows)
    }

    /// Writes the list of hashes and gives its own hash.
    pub fn seal(&mut self) -> Result<String, PackError> {
        let mut list = String::new();
        for file in self.files.values() {
            list.push_str(&format!("{}  {}\n", file.sha256, file.path));
        }
        self.write(SUMS, list.as_bytes(), None)?;
        for folder in [self.folder.path().to_owned()]
            .into_iter()
            .chain(self.folders())
        {
            sync_folder(&folder).map_err(|source| PackError::Folder { folder, source })?;
        }
        Ok(self.files[SUMS].sha256.clone())
    }

    fn folders(&self) -> Vec<PathBuf> {
        let inner = self.files.keys().filter_map(|path| path.rsplit_once('/'));
        let mut folders: Vec<&str> = inner.map(|(folder, _)| folder).collect();
        folders.dedup();
        let path = |folder: &str| self.folder.path().join(folder);
        folders.into_iter().map(path).collect()
    }

    /// Puts the pack in its place. What was there is moved aside first and removed once the
    /// new one stands.
    pub fn put_in_place(self) -> Result<(PathBuf, Vec<PackedFile>), PackError> {
        let Staging {
            folder,
            target,
            files,
        } = self;
        let failed = |source| PackError::Folder {
            folder: target.clone(),
            source,
        };
        let parent = target.parent().unwrap_or(Path::new("."));
        let older = target.exists().then(|| {
            let mut name = std::ffi::OsString::from(".");
            name.push(target.file_name().unwrap_or_default());
            name.push(format!(".replaced-{}", std::process::id()));
            parent.join(name)
        });
        if let Some(older) = &older {
            fs::rename(&target, older).map_err(failed)?;
        }
        if let Err(error) = fs::rename(folder.path(), &target) {
            if let Some(older) = &older {
                let _ = fs::rename(older, &target);
            }
            return Err(failed(error));
        }
        // It stands under its name now: nothing temporary is left to be removed.
        let _ = folder.keep();
        sync_folder(parent).map_err(failed)?;
        if let Some(older) = older {
            fs::remove_dir_all(&older).map_err(|source| PackError::Folder {
                folder: older.clone(),
                source,
            })?;
        }
        Ok((target, files.into_values().collect()))
    }
}

/// A folder can only be synced where the system lets one open it.
fn sync_folder(folder: &Path) -> io::Result<()> {
    if cfg!(unix) {
        File::open(folder)?.sync_all()
    } else {
        Ok(())
    }
}

/// A file under way.
pub(super) struct Out {
    path: String,
    out: BufWriter<Hashed>,
}

impl Write for Out {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        self.out.write(bytes)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.out.flush()
    }
}

/// A file whose bytes are hashed as they pass.
struct Hashed {
    file: File,
    hash: Sha256,
    bytes: u64,
}

impl Hashed {
    fn new(file: File) -> Self {
        Hashed {
            file,
            hash: Sha256::new(),
            bytes: 0,
        }
    }
}

impl Write for Hashed {
    fn write(&mut self, bytes: &[u8]) -> io::Result<usize> {
        let written = self.file.write(bytes)?;
        self.hash.update(&bytes[..written]);
        self.bytes += written as u64;
        Ok(written)
    }

    fn flush(&mut self) -> io::Result<()> {
        self.file.flush()
    }
}
