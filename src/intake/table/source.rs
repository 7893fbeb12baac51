//! The bytes of a sheet on their way to the CSV reader.
//!
//! The CSV reader does not say on which physical line a row begins once lines are empty or
//! end in a lone carriage return, nor whether the last quote was ever closed. Both are seen
//! from the raw bytes, so the bytes of the row being read are kept here.

use std::io::{self, Read};

/// How many bytes may pile up behind the row being read before they are let go.
const SLACK: usize = 1 << 20;

/// The most bytes that one row may have. Behind a quote that is never closed the rest of the
/// file would otherwise be held in memory as one row.
const LONGEST_ROW: u64 = 64 << 20;

/// A reader that keeps what has passed since the row now being read.
#[derive(Debug)]
pub struct Source<R> {
    inner: R,
    kept: Vec<u8>,
    /// Offset in the file of the first byte kept.
    base: u64,
    /// Bytes read in all.
    total: u64,
    ended: bool,
    /// Where the row being read begins, or a row before it.
    row: u64,
    /// Whether the reading ended because a row was too long.
    pub cut: bool,
}

impl<R: Read> Source<R> {
    /// Wraps a reader at its beginning.
    pub fn new(inner: R) -> Self {
        Source {
            inner,
            kept: Vec::new(),
            base: 0,
            total: 0,
            ended: false,
            row: 0,
            cut: false,
        }
    }

    /// Whether everything up to this offset was read and nothing follows.
    pub fn ends_at(&self, offset: u64) -> bool {
        self.ended && offset >= self.total
    }

    /// The bytes from this offset on that were read so far.
    pub fn from(&self, offset: u64) -> &[u8] {
        let start = usize::try_from(offset - self.base).unwrap_or(usize::MAX);
        self.kept.get(start..).unwrap_or(&[])
    }

    /// Lets go of what stands before this offset, now or later.
    pub fn release(&mut self, offset: u64) {
        self.row = offset;
        let passed = usize::try_from(offset - self.base).unwrap_or(0);
        if passed > SLACK {
            self.kept.drain(..passed.min(self.kept.len()));
            self.base = offset;
        }
    }
}

impl<R: Read> Read for Source<R> {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.total - self.row > LONGEST_ROW {
            (self.cut, self.ended) = (true, true);
            return Ok(0);
        }
        let count = self.inner.read(buffer)?;
        self.kept.extend_from_slice(&buffer[..count]);
        self.total += count as u64;
        self.ended |= count == 0 && !buffer.is_empty();
        Ok(count)
    }
}

/// How many line ends there are: `\n`, `\r\n` and a lone `\r` count once each.
pub fn line_ends(bytes: &[u8]) -> u64 {
    let count = |wanted: u8| bytes.iter().filter(|byte| **byte == wanted).count() as u64;
    let returns = count(b'\r');
    let pairs = if returns == 0 {
        0
    } else {
        bytes.windows(2).filter(|pair| pair == b"\r\n").count() as u64
    };
    count(b'\n') + returns - pairs
}

/// Where in a row's raw bytes the quote stands that is still open at their end, and in
/// which field, counting from 0. Follows the CSV reader: a quote opens only at the start
/// of a field, a doubled one inside stands for itself.
pub fn open_quote(raw: &[u8], delimiter: u8, quote: u8) -> Option<(usize, usize)> {
    let (mut open, mut field, mut at_start) = (None, 0, true);
    let mut place = 0;
    while let Some(byte) = raw.get(place) {
        match (open, byte) {
            (Some(_), byte) if *byte == quote && raw.get(place + 1) == Some(&quote) => place += 1,
            (Some(_), byte) if *byte == quote => open = None,
            (Some(_), _) => {}
            (None, byte) if *byte == quote && at_start => open = Some((place, field)),
            (None, byte) if *byte == delimiter => field += 1,
            (None, _) => {}
        }
        at_start = open.is_none() && *byte == delimiter;
        place += 1;
    }
    open
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_three_line_ends_count_once() {
        assert_eq!(line_ends(b"a\nb\r\nc\rd\r\r\n"), 5);
        assert_eq!(line_ends(b""), 0);
    }

    #[test]
    fn an_open_quote_is_found_where_it_began() {
        let cases = [
            (&b"a,b"[..], None),
            (&b"a,\"b\""[..], None),
            (&b"a,\"b\n,c"[..], Some((2, 1))),
            (&b"\"a\"\",b"[..], Some((0, 0))),
            (&b"\"a\"\"\",b"[..], None),
            (&b"a\"b,c"[..], None),
            (&b"\"a\"x\"b,c"[..], None),
            (&b"\"\""[..], None),
            (&b"\"a\",\""[..], Some((4, 1))),
        ];
        for (raw, expected) in cases {
            assert_eq!(
                open_quote(raw, b',', b'"'),
                expected,
                "{}",
                String::from_utf8_lossy(raw)
            );
        }
    }
}
