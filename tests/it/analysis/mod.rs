//! Questions asked of small made-up programmes whose answers were worked out by hand.

mod attribution;
mod breakdown;
mod cost;
mod coverage;
mod filter;
mod months;
mod reach;
mod resample;
mod topics;
mod trainings;
mod trend;

use fairdraw::analysis::{Assessed, WorkedOut};
use fairdraw::model::{
    Judged, Kind, MachineClass, Method, Place, Point, RuleSet, Technician, Verdict, time,
};
use fairdraw::rules::{Rulebook, place_of};
use proptest::prelude::*;

/// One judged draw as the tests write it.
#[derive(Clone, Debug)]
pub struct Row {
    pub point: u32,
    pub technician: u32,
    pub drawn_at: i64,
    pub method: Option<Method>,
    pub verdict: Verdict,
    pub broken: RuleSet,
    pub unrecorded: RuleSet,
    pub met: RuleSet,
}

/// The rules with these ids.
pub fn rules(ids: &[&str]) -> RuleSet {
    ids.iter().fold(RuleSet::NONE, |set, id| {
        set.or(RuleSet::of(place_of(id).unwrap()))
    })
}

/// An instant written as in the sheets, in UTC.
pub fn utc(text: &str) -> i64 {
    text.parse::<chrono::DateTime<chrono::Utc>>()
        .unwrap()
        .timestamp()
}

/// Three points, three technicians, these draws, the default rulebook, Paris time.
pub fn programme(mut rows: Vec<Row>) -> Assessed {
    rows.sort_by_key(|row| row.drawn_at);
    let rulebook = Rulebook::standard();
    let points = points();
    let in_force = points
        .iter()
        .map(|point| rulebook.in_force_at(point.machine_class, point.site.as_deref()))
        .collect();
    let mut judged = Judged::default();
    for (record, row) in (1..).zip(rows) {
        judged.record.push(record);
        judged.point.push(row.point);
        judged.technician.push(row.technician);
        judged.drawn_at.push(row.drawn_at);
        judged
            .method
            .push(row.method.map_or(255, |method| method.index()));
        judged.verdict.push(row.verdict);
        judged
            .applicable
            .push(row.met.or(row.broken).or(row.unrecorded));
        judged.broken.push(row.broken);
        judged.unrecorded.push(row.unrecorded);
    }
    Assessed {
        points,
        technicians: technicians(),
        trainings: Vec::new(),
        judged,
        rulebook,
        in_force,
        zone: time::zone("Europe/Paris").unwrap(),
        worked_out: WorkedOut::default(),
    }
}

fn points() -> Vec<Point> {
    let mut gearbox = Point::bare("G-1", "gearbox 1", Kind::Sump);
    gearbox.site = Some("North".to_owned());
    gearbox.area = Some("Crusher".to_owned());
    gearbox.machine = Some("Crusher 1".to_owned());
    gearbox.machine_class = Some(MachineClass::Gearbox);
    gearbox.place = Some(Place::SumpMiddle);
    let mut tank = Point::bare("T-1", "tank 1", Kind::Tank);
    tank.site = Some("North pit, upper".to_owned());
    tank.machine_class = Some(MachineClass::Tank);
    tank.place = Some(Place::TankUpper);
    let mut other = Point::bare("G-2", "gearbox 1", Kind::Sump);
    other.area = Some("Crusher".to_owned());
    vec![gearbox, tank, other]
}

fn technicians() -> Vec<Technician> {
    let technician = |id: &str, name: Option<&str>, crew: Option<&str>| Technician {
        id: id.to_owned(),
        name: name.map(str::to_owned),
        crew: crew.map(str::to_owned),
        active_from: None,
    };
    vec![
        technician("07", Some("Ina Fjell"), Some("Early")),
        technician("08", Some("Bo \"Bo\" Lind"), Some("Late")),
        // named like the first one's id
        technician("09", Some("07"), None),
    ]
}

/// Six draws: each test says what it expects of them by number, 0 to 5.
pub fn six_draws() -> Vec<Row> {
    use Verdict::*;
    let row = |point, technician, drawn_at: &str, verdict| Row {
        point,
        technician,
        drawn_at: utc(drawn_at),
        method: Some(Method::TubePump),
        verdict,
        broken: RuleSet::NONE,
        unrecorded: RuleSet::NONE,
        met: rules(&["same-point", "bottle-fit"]),
    };
    vec![
        Row {
            broken: rules(&["flush-met", "fill-level"]),
            ..row(0, 0, "2026-01-31T22:59:59Z", Unrepresentative)
        },
        // midnight in Paris: already February
        Row {
            unrecorded: rules(&["flush-met"]),
            ..row(0, 1, "2026-01-31T23:00:00Z", Unproven)
        },
        Row {
            method: Some(Method::Thief),
            ..row(1, 1, "2026-02-10T08:00:00Z", Representative)
        },
        Row {
            method: None,
            broken: rules(&["level-set"]),
            ..row(1, 0, "2026-02-28T22:59:59Z", Unrepresentative)
        },
        Row {
            broken: rules(&["fill-level"]),
            ..row(2, 2, "2026-04-01T00:00:00Z", Doubtful)
        },
        row(2, 2, "2026-04-01T00:00:00Z", Representative),
    ]
}

/// The row with the verdict that its rules give.
pub fn as_judged(row: Row) -> Row {
    let rulebook = Rulebook::standard();
    let applicable = row.met.or(row.broken).or(row.unrecorded);
    let verdict = fairdraw::scoring::verdict(
        &rulebook.all_in_force()[0],
        applicable,
        row.broken,
        row.unrecorded,
    );
    Row { verdict, ..row }
}

prop_compose! {
    pub fn any_row()(
        point in 0u32..3,
        technician in 0u32..3,
        drawn_at in 1_700_000_000i64..1_780_000_000,
        method in prop::option::of(prop::sample::select(Method::ALL)),
        verdict in prop::sample::select(&Verdict::ALL[..]),
        sets in any::<[u32; 3]>(),
    ) -> Row {
        let all = (1 << fairdraw::rules::COUNT) - 1;
        let [broken, unrecorded, met] = sets.map(|set| RuleSet(set & all));
        Row {
            point,
            technician,
            drawn_at,
            method,
            verdict,
            broken,
            unrecorded: unrecorded.without(broken),
            met: met.without(broken).without(unrecorded),
        }
    }
}

/// Some draws of any kind.
pub fn any_rows() -> impl Strategy<Value = Vec<Row>> {
    prop::collection::vec(any_row(), 0..60)
}
