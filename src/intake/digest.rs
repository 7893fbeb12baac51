//! The fingerprint of a file, taken while it is read.

use std::fs::File;
use std::io::{self, Read};
use std::path::Path;

use sha2::{Digest as _, Sha256};

use crate::model::trail::hexadecimal;

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
        Digested::new(File::open(path)?).finish()
    }
}

/// A reader that takes the fingerprint of all that passes.
#[derive(Debug)]
pub struct Digested<R> {
    inner: R,
    hash: Sha256,
    bytes: u64,
}

impl<R: Read> Digested<R> {
    /// Wraps a reader at its beginning.
    pub fn new(inner: R) -> Self {
        Digested {
            inner,
            hash: Sha256::new(),
            bytes: 0,
        }
    }

    /// Reads what is left and gives the fingerprint of the whole.
    ///
    /// # Errors
    /// What the inner reader returns.
    pub fn finish(&mut self) -> io::Result<Digest> {
        let mut buffer = vec![0; 1 << 16];
        while self.read(&mut buffer)? > 0 {}
        Ok(Digest {
            bytes: self.bytes,
            sha256: hexadecimal(&self.hash.clone().finalize()),
        })
    }
}

impl<R: Read> Read for Digested<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        let count = self.inner.read(buffer)?;
        self.hash.update(&buffer[..count]);
        self.bytes += count as u64;
        Ok(count)
    }
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    /// The one-block message of FIPS 180-2, appendix B.1.
    #[test]
    fn what_was_not_read_counts_too() {
        let mut digested = Digested::new(&b"abc"[..]);
        digested.read_exact(&mut [0; 1]).unwrap();
        assert_eq!(
            digested.finish().unwrap(),
            Digest {
                bytes: 3,
                sha256: "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
                    .to_owned(),
            }
        );
    }
}
