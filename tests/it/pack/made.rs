//! Programmes to export from, and what is in a pack.

use std::collections::BTreeMap;
use std::fs;
use std::io::Read as _;
use std::path::{Path, PathBuf};

use fairdraw::analysis::Filter;
use fairdraw::demo::{self, Size};
use fairdraw::model::Progress;
use fairdraw::model::decisions::finding::{Grade, Subject};
use fairdraw::model::decisions::pick::{Outcome, Plan, Verified};
use fairdraw::model::time;
use fairdraw::model::trail::Who;
use fairdraw::programme::{
    Answer, ExportReport, ExportRequest, FindingRequest, ImportRequest, PickRequest, Programme,
};
use tempfile::TempDir;

/// 2026-11-15, 12:00 UTC: after the last draw of the demo.
pub const NOW: i64 = 1_794_744_000;

/// People who decide in these tests; none of them is in the demo.
pub const DECIDERS: [&str; 3] = ["Petra Quillhaven", "Bram Osterveld", "Livia Nordquist"];

/// A folder with a programme in it.
pub struct Desk {
    pub folder: TempDir,
}

impl Desk {
    /// The demo, small, with decisions of every kind.
    pub fn with_demo() -> Self {
        let desk = Desk::of_demo(600);
        desk.decide();
        desk
    }

    /// The demo with so many draws and nothing decided.
    pub fn of_demo(draws: u64) -> Self {
        let folder = TempDir::new().unwrap();
        let size = Size {
            draws,
            points: 40,
            technicians: 8,
            ..Size::default()
        };
        let sheets = folder.path().join("sheets");
        demo::write(&sheets, &size, &Progress::default()).unwrap();
        Desk::of_sheets(folder, &sheets)
    }

    /// These sheets taken in.
    pub fn of_sheets(folder: TempDir, sheets: &Path) -> Self {
        let desk = Desk { folder };
        let mut programme = Programme::open_or_create(&desk.path("programme.db")).unwrap();
        programme.set_clock(NOW);
        let request = ImportRequest {
            sheets: vec![sheets.to_path_buf()],
            zone: time::zone(demo::ZONE),
            ..ImportRequest::default()
        };
        programme.import(&request, &Progress::default()).unwrap();
        desk
    }

    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// The programme, at the time of these tests.
    pub fn programme(&self) -> Programme {
        let programme = Programme::open(&self.path("programme.db")).unwrap();
        programme.set_clock(NOW);
        programme
    }

    /// Findings, a pick with results, a result set aside, with names in all texts.
    fn decide(&self) {
        let mut programme = self.programme();
        let progress = Progress::default();
        let assessed = programme.assess(&progress).unwrap();
        let [petra, bram, livia] = DECIDERS.map(|name| Who::named(name).unwrap());
        let request = PickRequest {
            plan: Plan::Fixed { draws: 20 },
            seed: "spring of Livia Nordquist".to_owned(),
            filter: Filter::default(),
            by: None,
            at_least: 0,
        };
        let pick = programme
            .draw_pick(&petra, &request, &assessed, &progress)
            .unwrap();
        let results = pick
            .drawn
            .draws
            .iter()
            .take(12)
            .zip(0..)
            .map(|(seen, n)| Verified {
                draw: seen.draw.clone(),
                result: [Outcome::Agree, Outcome::Agree, Outcome::Disagree][n % 3],
                representative: Some(n % 2 == 0),
                note: "seen with Bram Osterveld".to_owned(),
            });
        let results = results.collect();
        programme.enter_results(&bram, 1, results, None).unwrap();
        let someone = &assessed.technicians[assessed.judged.technician[0] as usize];
        let raise = |subject, text: &str, due: &str| FindingRequest {
            grade: Grade::Nonconformity,
            subject,
            rule: None,
            text: text.to_owned(),
            owner: "Bram Osterveld".to_owned(),
            due: due.parse().unwrap(),
            filter: Filter::default(),
        };
        let about_pick = raise(
            Subject::Pick { number: 1 },
            "records that Livia Nordquist could not follow",
            "2026-11-01",
        );
        let own = assessed
            .judged
            .verdict
            .iter()
            .position(|verdict| *verdict == fairdraw::model::Verdict::Unrepresentative);
        let person = own.map_or(someone, |row| {
            &assessed.technicians[assessed.judged.technician[row] as usize]
        });
        let about_person = raise(
            Subject::Technician {
                id: person.id.clone(),
            },
            "told to Petra Quillhaven",
            "2026-12-01",
        );
        for request in [about_pick, about_person] {
            programme
                .raise_finding(&petra, &request, &assessed, &progress)
                .unwrap();
        }
        let answer = Answer {
            cause: "Bram Osterveld was away".to_owned(),
            correction: "asked Livia Nordquist".to_owned(),
            action: "Petra Quillhaven looks in".to_owned(),
            by: None,
        };
        programme.answer_finding(&bram, 1, &answer).unwrap();
        let draw = &pick.drawn.draws[0].draw;
        programme
            .set_result_aside(&assessed, &livia, draw, "Bram Osterveld doubts it")
            .unwrap();
    }

    /// Exports all draws.
    pub fn export(&self, to: &str) -> ExportReport {
        self.export_as(&self.request(to))
    }

    /// What exports all draws, noted in the trail.
    pub fn request(&self, to: &str) -> ExportRequest {
        ExportRequest {
            to: self.path(to),
            who: Who::named("Petra Quillhaven"),
            ..ExportRequest::default()
        }
    }

    pub fn export_as(&self, request: &ExportRequest) -> ExportReport {
        let mut programme = self.programme();
        programme.export(request, &Progress::default()).unwrap()
    }

    /// Every file of a pack by its path.
    pub fn pack(&self, name: &str) -> BTreeMap<String, Vec<u8>> {
        files(&self.path(name))
    }

    /// The names in the folder that begin with a dot: what is left of unfinished packs.
    pub fn left_over(&self) -> Vec<String> {
        let entries = fs::read_dir(self.folder.path()).unwrap();
        let names = entries.map(|entry| entry.unwrap().file_name().into_string().unwrap());
        names.filter(|name| name.starts_with('.')).collect()
    }
}

/// Every file in a folder by its path within it.
pub fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut rest = vec![folder.to_path_buf()];
    while let Some(inner) = rest.pop() {
        for entry in fs::read_dir(&inner).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                rest.push(path);
            } else {
                let name = path.strip_prefix(folder).unwrap().to_str().unwrap();
                found.insert(name.replace('\\', "/"), fs::read(&path).unwrap());
            }
        }
    }
    found
}

/// The text of a file of a pack.
pub fn text<'p>(pack: &'p BTreeMap<String, Vec<u8>>, name: &str) -> &'p str {
    std::str::from_utf8(&pack[name]).unwrap()
}

/// A file of a pack as JSON.
pub fn json(pack: &BTreeMap<String, Vec<u8>>, name: &str) -> serde_json::Value {
    serde_json::from_slice(&pack[name]).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// The parts of a ZIP archive by name, from its central directory (PKWARE's APPNOTE 4.3).
pub fn unzipped(archive: &[u8]) -> BTreeMap<String, Vec<u8>> {
    let two = |at: usize| usize::from(u16::from_le_bytes([archive[at], archive[at + 1]]));
    let four = |at: usize| two(at) | two(at + 2) << 16;
    let end = archive
        .windows(4)
        .rposition(|it| it == b"PK\x05\x06")
        .unwrap();
    let mut at = four(end + 16);
    let mut parts = BTreeMap::new();
    for _ in 0..two(end + 10) {
        assert_eq!(&archive[at..at + 4], b"PK\x01\x02");
        let (method, packed, header) = (two(at + 10), four(at + 20), four(at + 42));
        let (name, extra, comment) = (two(at + 28), two(at + 30), two(at + 32));
        let title = String::from_utf8(archive[at + 46..at + 46 + name].to_vec()).unwrap();
        let begin = header + 30 + two(header + 26) + two(header + 28);
        let data = &archive[begin..begin + packed];
        let mut bytes = Vec::new();
        match method {
            0 => bytes.extend_from_slice(data),
            _ => {
                flate2::read::DeflateDecoder::new(data)
                    .read_to_end(&mut bytes)
                    .unwrap();
            }
        }
        parts.insert(title, bytes);
        at += 46 + name + extra + comment;
    }
    parts
}

/// The streams of a PDF, inflated where they are deflated.
pub fn streams(pdf: &[u8]) -> Vec<Vec<u8>> {
    let mut found = Vec::new();
    let mut rest = pdf;
    let place = |bytes: &[u8], word: &[u8]| bytes.windows(word.len()).position(|it| it == word);
    while let Some(begin) = place(rest, b"stream\n") {
        let after = &rest[begin + 7..];
        let end = place(after, b"endstream").unwrap();
        let mut bytes = Vec::new();
        if flate2::read::ZlibDecoder::new(&after[..end])
            .read_to_end(&mut bytes)
            .is_err()
        {
            bytes = after[..end].to_vec();
        }
        found.push(bytes);
        rest = &after[end + 9..];
    }
    found
}
