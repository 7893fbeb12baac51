//! Findings as a library: due days, evidence, several people at once.

use std::fs;

use fairdraw::analysis::Filter;
use fairdraw::analysis::findings::State;
use fairdraw::demo;
use fairdraw::model::Progress;
use fairdraw::model::decisions::finding::{Grade, Subject};
use fairdraw::model::trail::Who;
use fairdraw::programme::{Answer, EVIDENCE_KEPT, FindingRequest, ImportRequest, Programme};
use fairdraw::report::finding_rows;
use tempfile::TempDir;

const DAY: i64 = 86_400;

/// 2026-03-04T23:30:00Z, which in Auckland is the day after.
const LATE: i64 = 1_772_667_000;

fn invented(draws: u64, zone: &str) -> (TempDir, Programme) {
    let folder = tempfile::tempdir().unwrap();
    let sheets = folder.path().join("sheets");
    let size = demo::Size {
        draws,
        points: 20,
        technicians: 2,
        ..demo::Size::default()
    };
    demo::write(&sheets, &size, &Progress::default()).unwrap();
    let mut programme = Programme::open_or_create(&folder.path().join("p.db")).unwrap();
    let request = ImportRequest {
        sheets: vec![sheets],
        zone: fairdraw::model::time::zone(zone),
        ..ImportRequest::default()
    };
    programme.import(&request, &Progress::default()).unwrap();
    (folder, programme)
}

fn request(subject: Subject, due: &str) -> FindingRequest {
    FindingRequest {
        grade: Grade::Nonconformity,
        subject,
        rule: None,
        text: "text".to_owned(),
        owner: "Bo".to_owned(),
        due: due.parse().unwrap(),
        filter: Filter::default(),
    }
}

fn technician(programme: &mut Programme) -> Subject {
    let assessed = programme.assess(&Progress::default()).unwrap();
    Subject::Technician {
        id: assessed.technicians[0].id.clone(),
    }
}

#[test]
fn days_are_those_of_the_programmes_zone_and_clock() {
    let (_folder, mut programme) = invented(200, "Pacific/Auckland");
    let who = Who::named("Ada").unwrap();
    let subject = technician(&mut programme);
    let assessed = programme.assess(&Progress::default()).unwrap();
    programme.set_clock(LATE);
    assert_eq!(programme.today().unwrap().to_string(), "2026-03-05");
    let request = request(subject, "2026-03-04");
    let finding = programme
        .raise_finding(&who, &request, &assessed, &Progress::default())
        .unwrap();
    assert_eq!(finding.told.at, LATE);
    let today = programme.today().unwrap();
    assert_eq!(finding.overdue(today), Some(1));
    assert_eq!(
        finding_rows::state(&finding, today),
        "! open, overdue 1 day"
    );
    let answer = Answer {
        cause: "a".to_owned(),
        correction: "b".to_owned(),
        action: "c".to_owned(),
        by: Some("2026-03-20".parse().unwrap()),
    };
    let finding = programme.answer_finding(&who, 1, &answer).unwrap();
    assert_eq!(finding.overdue(today), None);
    programme.set_clock(LATE + 20 * DAY);
    let today = programme.today().unwrap();
    assert_eq!(
        finding_rows::state(&finding, today),
        "! answered, overdue 5 days"
    );
    // Answered anew, the last answer holds; the first stays.
    let later = Answer {
        by: Some("2026-04-20".parse().unwrap()),
        ..answer
    };
    let finding = programme.answer_finding(&who, 1, &later).unwrap();
    assert_eq!((finding.answers.len(), finding.overdue(today)), (2, None));
    let closed = programme.close_finding(&who, 1, "seen", None).unwrap();
    assert_eq!((closed.state, closed.overdue(today)), (State::Closed, None));
}

#[test]
fn of_very_many_draws_the_latest_are_kept() {
    let (_folder, mut programme) = invented(1_500, "UTC");
    let who = Who::named("Ada").unwrap();
    let subject = technician(&mut programme);
    let assessed = programme.assess(&Progress::default()).unwrap();
    let request = request(subject, "2030-01-01");
    let finding = programme
        .raise_finding(&who, &request, &assessed, &Progress::default())
        .unwrap();
    let evidence = &finding.raised.evidence;
    assert_eq!(evidence.len(), EVIDENCE_KEPT);
    assert!(finding.raised.draws > EVIDENCE_KEPT as u64);
    assert!(evidence.is_sorted_by(|a, b| a.drawn_at >= b.drawn_at));
    let filter = Filter::parse(&format!(
        "verdict:unrepresentative technician:{}",
        evidence[0].technician
    ));
    let rows = filter.unwrap().select(&assessed);
    assert_eq!(rows.len() as u64, finding.raised.draws);
    let last = assessed.judged.record[*rows.last().unwrap() as usize];
    assert_eq!(evidence[0].record, last);
    let now = programme.draws_now(&assessed, evidence).unwrap();
    assert!(now.iter().all(fairdraw::programme::DrawNow::is_same));
}

/// Two have the file open and raise at the same time: no number is given twice.
#[test]
fn two_who_raise_at_once_get_different_numbers() {
    let (folder, mut first) = invented(200, "UTC");
    let subject = technician(&mut first);
    let assessed = first.assess(&Progress::default()).unwrap();
    let file = folder.path().join("p.db");
    std::thread::scope(|scope| {
        for name in ["Ada", "Bo", "Cleo"] {
            let request = request(subject.clone(), "2030-01-01");
            let (assessed, file) = (&assessed, &file);
            scope.spawn(move || {
                let mut programme = Programme::open(file).unwrap();
                let who = Who::named(name).unwrap();
                for _ in 0..5 {
                    programme
                        .raise_finding(&who, &request, assessed, &Progress::default())
                        .unwrap();
                }
            });
        }
    });
    let findings = first.findings().unwrap();
    let numbers: Vec<u32> = findings.iter().map(|finding| finding.number()).collect();
    assert_eq!(numbers, (1..=15).collect::<Vec<u32>>());
    assert_eq!(first.check().unwrap(), Vec::<String>::new());
}

/// A draw of a batch that was taken back is not there any more; its finding still says what
/// it said.
#[test]
fn evidence_of_a_batch_taken_back_is_told_to_be_gone() {
    let (folder, mut programme) = invented(200, "UTC");
    let quiet = Progress::default();
    let assessed = programme.assess(&quiet).unwrap();
    let draw = programme
        .records(&assessed.judged.record[..1])
        .unwrap()
        .remove(0);
    let sheet = folder.path().join("draws.csv");
    fs::write(
        &sheet,
        format!(
            "draw_id,point_id,technician_id,drawn_at\nextra,{},{},2026-03-04T09:30Z\n",
            draw.point_id, draw.technician_id
        ),
    )
    .unwrap();
    let import = ImportRequest {
        sheets: vec![sheet],
        ..ImportRequest::default()
    };
    let batch = programme.import(&import, &quiet).unwrap().batch;
    let assessed = programme.assess(&quiet).unwrap();
    let who = Who::named("Ada").unwrap();
    let subject = Subject::Draws {
        ids: vec!["extra".to_owned()],
    };
    let request = request(subject, "2030-01-01");
    let finding = programme
        .raise_finding(&who, &request, &assessed, &quiet)
        .unwrap();
    programme.take_back(batch, &who, "a trial", &quiet).unwrap();
    let assessed = programme.assess(&quiet).unwrap();
    let now = programme
        .draws_now(&assessed, &finding.raised.evidence)
        .unwrap();
    assert_eq!(now[0].words(), "not there any more");
    let record = finding.raised.evidence[0].record;
    assert_eq!(
        programme.records_ever(&[record]).unwrap()[0].draw_id,
        "extra"
    );
    assert_eq!(programme.check().unwrap(), Vec::<String>::new());
}
