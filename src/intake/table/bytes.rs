//! The bytes of a file: what kind of file it is, unpacked where it is packed.

use std::fs::File;
use std::io::{self, Read, Seek};
use std::path::Path;
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use flate2::read::MultiGzDecoder;

use crate::intake::digest::{Digest, Digesting};

/// A file that can be read from its beginning as often as needed.
pub(super) struct Bytes {
    file: File,
    /// What its first bytes say.
    pub(super) kind: Kind,
    size: u64,
    read: Arc<AtomicU64>,
    broken: Broken,
    /// The fingerprint of what the present stream has read, where it takes one.
    digest: Arc<Mutex<Option<Digesting>>>,
}

/// Why a stream ended before its end.
type Broken = Arc<Mutex<Option<String>>>;

/// What the first bytes of a file say.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// Anything that is none of the others.
    Text,
    Gzip,
    /// A ZIP package: XLSX, XLSB, ODS.
    Zip,
    /// A compound file: XLS, and workbooks with a password.
    Compound,
}

/// What can be read by one who unpacks or decodes.
pub(super) type Stream = Box<dyn Read + Send>;

impl Bytes {
    /// Opens a file. What can be read only once, such as a pipe, is first copied to a
    /// temporary file.
    pub(super) fn open(path: &Path) -> io::Result<Bytes> {
        let mut file = File::open(path)?;
        if !file.metadata()?.is_file() {
            let mut copy = tempfile::tempfile()?;
            io::copy(&mut file, &mut copy)?;
            file = copy;
        }
        file.rewind()?;
        let mut head = Vec::new();
        (&mut file).take(4).read_to_end(&mut head)?;
        let kind = match head.as_slice() {
            [0x1f, 0x8b, ..] => Kind::Gzip,
            [b'P', b'K', 3 | 5, 4 | 6] => Kind::Zip,
            [0xd0, 0xcf, 0x11, 0xe0] => Kind::Compound,
            _ => Kind::Text,
        };
        Ok(Bytes {
            size: file.metadata()?.len(),
            file,
            kind,
            read: Arc::default(),
            broken: Arc::default(),
            digest: Arc::default(),
        })
    }

    /// The file itself, at its beginning.
    pub(super) fn file(&self) -> io::Result<File> {
        let mut file = self.file.try_clone()?;
        file.rewind()?;
        Ok(file)
    }

    /// The file itself, at its beginning, its bytes counted as they are read.
    pub(super) fn counted(&self) -> io::Result<Counted> {
        self.read.store(0, Ordering::Relaxed);
        Ok(Counted {
            file: self.file()?,
            read: Arc::clone(&self.read),
            digest: Arc::default(),
        })
    }

    /// The text, unpacked, from its beginning. Only one such stream may be in use at a time.
    pub(super) fn stream(&self) -> io::Result<Stream> {
        self.open_stream(None)
    }

    /// As [`Self::stream`], taking the fingerprint of the file on the way.
    pub(super) fn digested_stream(&self) -> io::Result<Stream> {
        self.open_stream(Some(Digesting::default()))
    }

    /// Size and SHA-256 of the file; what the present stream did not read is read now.
    pub(super) fn digest(&self) -> io::Result<Digest> {
        let mut digesting = self.digesting().take().unwrap_or_default();
        let mut file = &self.file;
        file.seek(io::SeekFrom::Start(digesting.bytes()))?;
        digesting.read_rest(file)?;
        Ok(digesting.digest())
    }

    fn digesting(&self) -> MutexGuard<'_, Option<Digesting>> {
        // One who panicked while reading has left nothing half done.
        self.digest.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn open_stream(&self, digesting: Option<Digesting>) -> io::Result<Stream> {
        *self.digesting() = digesting;
        let file = self.file()?;
        self.read.store(0, Ordering::Relaxed);
        let counted = Counted {
            file,
            read: Arc::clone(&self.read),
            digest: Arc::clone(&self.digest),
        };
        if self.kind != Kind::Gzip {
            return Ok(Box::new(counted));
        }
        set(&self.broken, None);
        Ok(Box::new(Unpacked {
            ended: false,
            inner: MultiGzDecoder::new(io::BufReader::with_capacity(1 << 16, counted)),
            broken: Arc::clone(&self.broken),
        }))
    }

    /// Whether the file is unpacked on its way.
    pub(super) fn is_packed(&self) -> bool {
        self.kind == Kind::Gzip
    }

    /// How many bytes of the file the present stream has read; of a file that is read here and
    /// there, never more than it has.
    pub(super) fn read(&self) -> u64 {
        self.read.load(Ordering::Relaxed).min(self.size)
    }

    /// Why the present stream ended before its end, if it did.
    pub(super) fn broken(&self) -> Option<String> {
        let broken = self.broken.lock();
        broken.unwrap_or_else(PoisonError::into_inner).clone()
    }
}

/// A file that counts what is read of it.
pub(super) struct Counted {
    file: File,
    read: Arc<AtomicU64>,
    digest: Arc<Mutex<Option<Digesting>>>,
}

impl Seek for Counted {
    fn seek(&mut self, to: io::SeekFrom) -> io::Result<u64> {
        self.file.seek(to)
    }
}

impl Read for Counted {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let count = self.file.read(buffer)?;
        let mut digest = self.digest.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(digesting) = &mut *digest {
            digesting.update(&buffer[..count]);
        }
        self.read.fetch_add(count as u64, Ordering::Relaxed);
        Ok(count)
    }
}

/// Unpacks; where the packed file is cut off or damaged, it ends there and says why. What was
/// unpacked before stays readable.
struct Unpacked<R> {
    inner: R,
    ended: bool,
    broken: Broken,
}

fn set(broken: &Broken, reason: Option<String>) {
    *broken.lock().unwrap_or_else(PoisonError::into_inner) = reason;
}

impl<R: Read> Read for Unpacked<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.ended {
            return Ok(0);
        }
        match self.inner.read(buffer) {
            Err(error) if error.kind() == io::ErrorKind::UnexpectedEof => {
                self.end("the gzip file is cut off here".to_owned())
            }
            Err(error)
                if matches!(
                    error.kind(),
                    io::ErrorKind::InvalidInput | io::ErrorKind::InvalidData
                ) =>
            {
                self.end(format!("the gzip file is damaged here ({error})"))
            }
            other => other,
        }
    }
}

impl<R> Unpacked<R> {
    fn end(&mut self, reason: String) -> io::Result<usize> {
        self.ended = true;
        set(&self.broken, Some(reason));
        Ok(0)
    }
}
