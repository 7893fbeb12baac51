//! The fingerprint of a file, taken while it is read.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use sha2::{Digest as _, Sha256};

use crate::model::trail::hexadecimal;

/// How much is read at a time.
const BUFFER: usize = 1 << 16;

/// Size and SHA-256 of a file as it stood.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Digest {
    /// Size in bytes.
    pub bytes: u64,
    /// SHA-256 in hexadecimal.
    pub sha256: String,
}

impl Digest {
    /// Reads a file through.
    ///
    /// # Errors
    /// What the operating system says.
    pub fn of_file(path: &Path) -> io::Result<Self> {
        let mut digesting = Digesting::default();
        digesting.read_rest(File::open(path)?)?;
        Ok(digesting.digest())
    }
}

/// A fingerprint being taken.
#[derive(Debug, Default)]
pub(super) struct Digesting {
    hash: Sha256,
    bytes: u64,
}

impl Digesting {
    /// Adds what was read.
    pub(super) fn update(&mut self, bytes: &[u8]) {
        self.hash.update(bytes);
        self.bytes += bytes.len() as u64;
    }

    /// How much was added.
    pub(super) fn bytes(&self) -> u64 {
        self.bytes
    }

    /// Adds what is left to be read.
    pub(super) fn read_rest(&mut self, mut from: impl Read) -> io::Result<()> {
        let mut buffer = vec![0; BUFFER];
        loop {
            match from.read(&mut buffer)? {
                0 => return Ok(()),
                count => self.update(&buffer[..count]),
            }
        }
    }

    /// The fingerprint of all that was added.
    pub(super) fn digest(self) -> Digest {
        Digest {
            bytes: self.bytes,
            sha256: hexadecimal(&self.hash.finalize()),
        }
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// The one-block message of FIPS 180-2, appendix B.1.
    #[test]
    fn what_was_read_and_what_is_left_count() {
        let mut digesting = Digesting::default();
        digesting.update(b"a");
        digesting.read_rest(&b"bc"[..]).unwrap();
        assert_eq!(
            digesting.digest(),
            Digest {
                bytes: 3,
                sha256: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
                    .to_owned(),
            }
        );
    }
}
