//! The parts that are measured, each meant for a process of its own.
//!
//! A folder holds the sheets (`sheets/`) and the programme file (`programme.db`) that one
//! part leaves for the next.

use std::hint::black_box;
use std::path::Path;
use std::time::Instant;

use fairdraw::analysis::attribution::{Funnel, Side};
use fairdraw::analysis::topics::{Unit, asks, topics};
use fairdraw::analysis::training::WINDOW_DAYS;
use fairdraw::analysis::{
    Adjust, Assessed, Every, Filter, Key, SharedOut, attribute, by, cost, months, tally, trainings,
    trend,
};
use fairdraw::demo::{self, Invented, Size};
use fairdraw::model::{History, Progress, Texts};
use fairdraw::programme::{ImportRequest, Programme};
use fairdraw::rules::Rulebook;
use fairdraw::scoring::judge_all;

use crate::screens;
use crate::table::{Figure, Line};

/// Every part, in the order they build on each other.
pub const ALL: [&str; 7] = [
    "write", "import", "again", "judge", "browse", "records", "screens",
];

/// How often short work is repeated; the middle one of the times counts.
pub const REPEATS: usize = 9;

/// Runs one part and reports to standard output.
pub fn run(part: &str, folder: &Path, size: Size) {
    match part {
        "write" => write(folder, &size),
        "import" => import(folder),
        "again" => import_again(folder),
        "judge" => judge(&size),
        "browse" => browse(folder),
        "records" => records(folder),
        "screens" => screens::measure(folder),
        other => panic!("there is no part called {other}"),
    }
}

fn seconds(name: &str, work: impl FnOnce()) {
    let start = Instant::now();
    work();
    Line::new(name, Figure::Seconds(start.elapsed().as_secs_f64())).report();
}

/// The middle time of several runs.
pub fn middle(mut work: impl FnMut()) -> f64 {
    let mut times = [0.0; REPEATS];
    for time in &mut times {
        let start = Instant::now();
        work();
        *time = start.elapsed().as_secs_f64();
    }
    times.sort_unstable_by(f64::total_cmp);
    times[REPEATS / 2]
}

fn report_middle(name: &str, work: impl FnMut()) {
    Line::new(name, Figure::Seconds(middle(work))).report();
}

/// The largest memory this process has held so far, as Linux keeps it; nothing elsewhere.
pub fn report_peak(name: &str) {
    let status = std::fs::read_to_string("/proc/self/status").unwrap_or_default();
    let kilobytes = status
        .lines()
        .find_map(|line| line.strip_prefix("VmHWM:"))
        .and_then(|rest| rest.trim().strip_suffix(" kB"))
        .and_then(|number| number.trim().parse::<u64>().ok());
    Line::new(name, Figure::Bytes(kilobytes.unwrap_or(0) * 1024)).report();
}

fn write(folder: &Path, size: &Size) {
    let sheets = folder.join("sheets");
    let written = demo::write(&sheets, size, &Progress::default()).unwrap();
    Line::new("draws in the sheets", Figure::Count(written.draws)).report();
    Line::new("points", Figure::Count(written.points)).report();
    Line::new("technicians", Figure::Count(written.technicians)).report();
}

fn request(folder: &Path) -> ImportRequest {
    ImportRequest {
        sheets: vec![folder.join("sheets")],
        ..ImportRequest::default()
    }
}

fn import(folder: &Path) {
    let file = folder.join("programme.db");
    seconds("import: sheets to stored verdicts", || {
        let mut programme = Programme::open_or_create(&file).unwrap();
        black_box(
            programme
                .import(&request(folder), &Progress::default())
                .unwrap(),
        );
    });
    report_peak("import: peak memory");
    let bytes = std::fs::metadata(&file).unwrap().len();
    Line::new("size of the programme file", Figure::Bytes(bytes)).report();
}

fn import_again(folder: &Path) {
    seconds("import of the same sheets again", || {
        let mut programme = Programme::open(&folder.join("programme.db")).unwrap();
        black_box(
            programme
                .import(&request(folder), &Progress::default())
                .unwrap(),
        );
    });
}

/// Judging without sheets and store: the invented draws straight from memory.
fn judge(size: &Size) {
    let history = history(size);
    let book = Rulebook::standard();
    report_middle("judging alone", || {
        black_box(judge_all(&history, &book, &Progress::default()));
    });
}

fn history(size: &Size) -> History {
    let invented = Invented::new(size);
    let mut history = History {
        points: invented.plant.points.clone(),
        technicians: invented.people.technicians.clone(),
        ..History::default()
    };
    let mut texts = Texts::default();
    invented
        .each_draw(&mut |record| {
            let mut draw = record.facts;
            draw.bottle = texts.intern(&record.bottle_id);
            draw.pair_of = texts.intern(&record.pair_of);
            draw.set_id = texts.intern(&record.set_id);
            history.draws.push(draw);
            history.identities.push(&record.identity());
            Ok(())
        })
        .unwrap();
    history
}

/// Opening a judged programme, then what the screens ask.
fn browse(folder: &Path) {
    let file = folder.join("programme.db");
    let open = || {
        let mut programme = Programme::open(&file).unwrap();
        let assessed = programme.assess(&Progress::default()).unwrap();
        (programme, assessed)
    };
    let start = Instant::now();
    let (programme, assessed) = open();
    let first = start.elapsed().as_secs_f64();
    Line::new("opening a judged programme", Figure::Seconds(first)).report();
    change_filters(&assessed);
    ask_for_shares(&assessed);
    tell_people_and_points_apart(&assessed);
    ask_for_topics(&assessed);
    let rows = assessed.judged.len();
    let mut row = 0;
    report_middle("opening one draw", || {
        row = (row + rows / REPEATS) % rows;
        black_box(programme.open_draw(&assessed, row).unwrap());
    });
    report_peak("opened and browsed: peak memory");
}

/// What is asked of every record as it was written: its blanks, and whether it can be believed.
fn records(folder: &Path) {
    let mut programme = Programme::open(&folder.join("programme.db")).unwrap();
    let progress = Progress::default();
    let assessed = programme.assess(&progress).unwrap();
    let all = Filter::default().select(&assessed);
    seconds(
        "how much of each column is filled, and what blanks cost",
        || {
            black_box(
                programme
                    .coverage(&assessed, &all, None, &progress)
                    .unwrap(),
            );
        },
    );
    seconds("the same by technician", || {
        let by = Some(Key::Technician);
        black_box(programme.coverage(&assessed, &all, by, &progress).unwrap());
    });
    report_peak("blanks: peak memory");
    seconds("records that are hard to believe", || {
        black_box(programme.doubts(&assessed, &all, &progress).unwrap());
    });
}

/// Filters as people write them, from one term to many; the slowest counts.
fn change_filters(assessed: &Assessed) {
    let site = assessed.points[0].site.clone().unwrap_or_default();
    let name = assessed.technicians[0].id.clone();
    let texts = [
        "verdict:unrepresentative".to_owned(),
        format!("site:\"{site}\""),
        format!("technician:{name} -verdict:representative"),
        "broken:flush-met,fill-level -unrecorded:looked-at".to_owned(),
        format!("-site:\"{site}\" kind:sump,tank method:tube-pump verdict:doubtful,unproven"),
        "from:2026-01 to:2026-06 -broken:same-point".to_owned(),
    ];
    let slowest = texts
        .iter()
        .map(|text| {
            middle(|| {
                black_box(Filter::parse(text).unwrap().select(assessed));
            })
        })
        .fold(0.0, f64::max);
    Line::new(
        "a changed filter (slowest of six)",
        Figure::Seconds(slowest),
    )
    .report();
}

fn ask_for_shares(assessed: &Assessed) {
    let all = Filter::default().select(assessed);
    report_middle("the share of all draws", || {
        black_box(tally(assessed, &all).share());
    });
    let slowest = Key::ALL
        .iter()
        .map(|key| {
            middle(|| {
                black_box(by(assessed, &all, *key));
            })
        })
        .fold(0.0, f64::max);
    let name = "shares by a key (slowest of twelve)";
    Line::new(name, Figure::Seconds(slowest)).report();
    report_middle("months with control limits", || {
        black_box(months(assessed, &all));
    });
    report_middle("cost of every rule", || {
        black_box(cost(assessed, &all));
    });
}

fn tell_people_and_points_apart(assessed: &Assessed) {
    let all = Filter::default().select(assessed);
    for (name, adjust) in [
        ("people and points told apart", &[][..]),
        (
            "the same, adjusted for method and class",
            &[Adjust::Method, Adjust::Class],
        ),
        ("the same, adjusted for site", &[Adjust::Site]),
    ] {
        seconds(name, || {
            black_box(attribute(assessed, &all, adjust, &mut || true).unwrap());
        });
    }
    report_middle("making cells of draws, and no further", || {
        let mut asked = 0;
        let stopped = attribute(
            assessed,
            &all,
            &[Adjust::Method, Adjust::Class],
            &mut || {
                asked += 1;
                asked < 2
            },
        );
        black_box(stopped.unwrap_err());
    });
    report_middle("the funnel of the points", || {
        black_box(Funnel::of(assessed, &all, Side::Points));
    });
}

fn ask_for_topics(assessed: &Assessed) {
    let all = Filter::default().select(assessed);
    report_middle("sharing every draw out among its rules", || {
        black_box(SharedOut::of(assessed).by_rule(&all));
    });
    report_middle("topics of all technicians", || {
        black_box(topics(assessed, &all, &all, Unit::Technician));
    });
    report_middle("lists of all owners", || {
        black_box(asks(assessed, &all));
    });
    report_middle("before and after every training", || {
        black_box(trainings(assessed, &all, &all, WINDOW_DAYS));
    });
    report_middle("trend by week", || {
        black_box(trend(assessed, &all, Every::Week));
    });
}
