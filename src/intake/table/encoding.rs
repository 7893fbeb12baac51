//! What a text is written in, and its way to UTF-8.

use std::io::{self, Read};

use chardetng::{EncodingDetector, Iso2022JpDetection, Utf8Detection};
use encoding_rs::{DecoderResult, Encoding, UTF_8, UTF_16BE, UTF_16LE, WINDOWS_1252};

use super::bytes::Stream;

/// What a text is written in.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Written {
    pub(super) encoding: &'static Encoding,
    /// Whether nothing but the letters speaks for it.
    pub(super) guessed: bool,
}

const CHUNK: usize = 1 << 18;
/// How far a text is looked through for bytes that are not UTF-8.
const LOOKED_THROUGH: usize = 1 << 30;
/// How many bytes of lines that are not ASCII are enough to guess from.
const EVIDENCE: usize = 1 << 16;
/// With fewer bytes beyond ASCII than this, letters alone do not tell encodings apart.
const FEW: u64 = 24;

/// Finds out what a text is written in: a byte order mark, the zeros of UTF-16, UTF-8 where it
/// is that, otherwise a guess.
///
/// A text in UTF-8 with some damaged bytes must not be taken for one in a code page: there,
/// every byte beyond ASCII is a letter or sign that stands beside others; damage is not.
pub(super) fn find(mut stream: Stream) -> io::Result<Written> {
    let mut buffer = vec![0; CHUNK];
    let mut filled = fill(&mut stream, &mut buffer)?;
    let sure = |encoding| {
        Ok(Written {
            encoding,
            guessed: false,
        })
    };
    if let Some((encoding, _)) = Encoding::for_bom(&buffer[..filled]) {
        return sure(encoding);
    }
    if let Some(encoding) = utf_16(&buffer[..filled]) {
        return Ok(Written {
            encoding,
            guessed: true,
        });
    }
    let mut seen = Seen::default();
    let (mut passed, mut carried) = (0, 0);
    loop {
        let end = filled < buffer.len();
        // The last bytes may be the beginning of a letter.
        let whole = if end {
            filled
        } else {
            last_start(&buffer[..filled])
        };
        seen.look_at(&buffer[..whole]);
        passed += whole - carried;
        if end || passed > LOOKED_THROUGH {
            break;
        }
        carried = filled - whole;
        buffer.copy_within(whole..filled, 0);
        filled = carried + fill(&mut stream, &mut buffer[carried..])?;
    }
    if seen.is_utf_8() {
        return sure(UTF_8);
    }
    Ok(Written {
        encoding: seen.guess(),
        guessed: true,
    })
}

/// Fills the buffer as far as the stream goes.
pub(super) fn fill(stream: &mut impl Read, buffer: &mut [u8]) -> io::Result<usize> {
    let mut filled = 0;
    while filled < buffer.len() {
        match stream.read(&mut buffer[filled..]) {
            Ok(0) => break,
            Ok(count) => filled += count,
            Err(error) if error.kind() == io::ErrorKind::Interrupted => {}
            Err(error) => return Err(error),
        }
    }
    Ok(filled)
}

/// Where the last letter of these bytes begins if it may go on behind them.
fn last_start(bytes: &[u8]) -> usize {
    let tail = bytes.len().saturating_sub(3);
    let start = bytes[tail..].iter().rposition(|byte| *byte >= 0xc0);
    start.map_or(bytes.len(), |place| tail + place)
}

/// UTF-16 without a byte order mark: in Latin text every second byte is zero.
fn utf_16(head: &[u8]) -> Option<&'static Encoding> {
    let head = &head[..head.len().min(4096)];
    let zeros = |from: usize| {
        head[from.min(head.len())..]
            .iter()
            .step_by(2)
            .filter(|byte| **byte == 0)
            .count()
    };
    let (even, odd, half) = (zeros(0), zeros(1), head.len() / 2);
    if half < 2 {
        None
    } else if odd * 2 > half && even * 20 < half {
        Some(UTF_16LE)
    } else if even * 2 > half && odd * 20 < half {
        Some(UTF_16BE)
    } else {
        None
    }
}

/// What was seen of a text that may or may not be UTF-8.
#[derive(Default)]
struct Seen {
    /// Letters of more than one byte that are UTF-8.
    valid: u64,
    /// Bytes that are not.
    invalid: u64,
    /// Those of them that would be letters or signs in their place in a code page.
    plausible: u64,
    zeros: bool,
    evidence: Vec<u8>,
}

impl Seen {
    fn look_at(&mut self, bytes: &[u8]) {
        if bytes.is_ascii() {
            self.zeros |= bytes.contains(&0);
            return;
        }
        self.zeros |= bytes.contains(&0);
        let mut place = 0;
        for chunk in bytes.utf8_chunks() {
            let valid = chunk.valid();
            if !valid.is_ascii() {
                self.valid += valid.chars().filter(|letter| !letter.is_ascii()).count() as u64;
            }
            place += valid.len();
            for at in place..place + chunk.invalid().len() {
                self.invalid += 1;
                self.plausible += u64::from(is_plausible(bytes, at));
            }
            place += chunk.invalid().len();
        }
        if self.invalid > 0 {
            for line in bytes.split(|byte| *byte == b'\n') {
                if self.evidence.len() >= EVIDENCE {
                    break;
                }
                if !line.is_ascii() {
                    self.evidence
                        .extend_from_slice(&line[..line.len().min(4096)]);
                    self.evidence.push(b'\n');
                }
            }
        }
    }

    /// UTF-8, be it with damage.
    fn is_utf_8(&self) -> bool {
        self.invalid == 0
            || self.zeros
            || self.valid * 10 > self.invalid
            || self.plausible * 10 < self.invalid * 9
    }

    fn guess(&self) -> &'static Encoding {
        if self.invalid < FEW {
            return WINDOWS_1252;
        }
        let mut detector = EncodingDetector::new(Iso2022JpDetection::Deny);
        detector.feed(&self.evidence, true);
        detector.guess(None, Utf8Detection::Deny)
    }
}

/// Whether this byte would be a letter within a word, or a sign such as °, µ or a curved quote,
/// in the code pages of personal computers.
fn is_plausible(bytes: &[u8], at: usize) -> bool {
    let is_letter =
        |byte: Option<&u8>| byte.is_some_and(|byte| byte.is_ascii_alphabetic() || *byte >= 0xc0);
    let before = at.checked_sub(1).and_then(|at| bytes.get(at));
    let beside = is_letter(before) || is_letter(bytes.get(at + 1));
    // Signs stand alone: a space that does not break, ©, °, µ, the euro, dashes, curved quotes.
    matches!(bytes[at], 0x80 | 0x82..=0x85 | 0x91..=0x97 | 0xa0..=0xbf) || beside
}

/// Turns a text of any encoding into UTF-8 as it is read. What is no text in that encoding
/// becomes a byte that is none in UTF-8 either, so that its cell is refused in its place.
pub(super) struct Decoded {
    inner: Stream,
    decoder: encoding_rs::Decoder,
    input: Vec<u8>,
    /// What of the input is not yet decoded.
    from: usize,
    to: usize,
    ended: bool,
    output: Vec<u8>,
    given: usize,
}

const NO_TEXT: u8 = 0xff;

impl Decoded {
    pub(super) fn new(inner: Stream, encoding: &'static Encoding) -> Self {
        Decoded {
            inner,
            decoder: encoding.new_decoder_with_bom_removal(),
            input: vec![0; 1 << 16],
            from: 0,
            to: 0,
            ended: false,
            output: Vec::new(),
            given: 0,
        }
    }

    /// Decodes some more.
    fn refill(&mut self) -> io::Result<()> {
        self.output.clear();
        self.given = 0;
        while self.output.is_empty() && !self.ended {
            if self.from == self.to {
                (self.from, self.to) = (0, fill(&mut self.inner, &mut self.input)?);
            }
            let last = self.to < self.input.len();
            let input = &self.input[self.from..self.to];
            let room = self
                .decoder
                .max_utf8_buffer_length_without_replacement(input.len())
                .unwrap_or(input.len() * 4 + 16);
            self.output.resize(room.max(16), 0);
            let (result, read, written) =
                self.decoder
                    .decode_to_utf8_without_replacement(input, &mut self.output, last);
            self.output.truncate(written);
            self.from += read;
            match result {
                DecoderResult::InputEmpty => self.ended = last,
                DecoderResult::OutputFull => {}
                DecoderResult::Malformed(_, _) => self.output.push(NO_TEXT),
            }
        }
        Ok(())
    }
}

impl Read for Decoded {
    fn read(&mut self, buffer: &mut [u8]) -> io::Result<usize> {
        if self.given == self.output.len() {
            self.refill()?;
        }
        let rest = &self.output[self.given..];
        let count = rest.len().min(buffer.len());
        buffer[..count].copy_from_slice(&rest[..count]);
        self.given += count;
        Ok(count)
    }
}
