//! A rulebook of any bytes: it is read, or its problems are told with their places.
#![no_main]

use fairdraw::rules::Rulebook;
use libfuzzer_sys::fuzz_target;

fuzz_target!(|data: &[u8]| match Rulebook::from_bytes(data, "rulebook.yaml") {
    Ok(book) => assert!(!book.fingerprint().is_empty()),
    Err(problems) => assert!(!problems.is_empty()),
});
