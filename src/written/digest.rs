//! Digests of canonical forms.

use std::fmt::Write as _;

use sha2::{Digest, Sha256};

/// SHA-256 of a text in lower-case hexadecimal digits.
#[must_use]
pub fn sha256_hex(text: &str) -> String {
    let mut hex = String::with_capacity(64);
    for byte in Sha256::digest(text.as_bytes()) {
        let _ = write!(hex, "{byte:02x}");
    }
    hex
}
