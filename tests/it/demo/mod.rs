//! The demo programme: its sheets, its sizes, its stories.

mod sheets;
mod sizes;
mod stories;
mod topics;

use std::path::PathBuf;

use fairdraw::analysis::doubts::Written;
use fairdraw::analysis::{Assessed, Filter, Selection, Tally, WorkedOut, tally};
use fairdraw::demo::{Invented, Size, ZONE};
use fairdraw::model::history::Identities;
use fairdraw::model::{DrawRecord, History, Progress, Texts, time};
use fairdraw::rules::Rulebook;
use fairdraw::scoring::judge_all;

use crate::support::root;

/// Where the sheets that ship with the program are.
fn shipped() -> PathBuf {
    root().join("demo-data")
}

/// Every record of an invented programme.
fn records(size: &Size) -> (Invented, Vec<DrawRecord>) {
    let invented = Invented::new(size);
    let mut records = Vec::new();
    invented
        .each_draw(&mut |record| {
            records.push(record.clone());
            Ok(())
        })
        .unwrap();
    (invented, records)
}

/// The programme judged by the default rulebook.
fn judged(size: &Size) -> Assessed {
    let (invented, records) = records(size);
    let mut texts = Texts::default();
    let mut identities = Identities::default();
    let mut draws = Vec::new();
    for (number, record) in (1..).zip(&records) {
        let mut facts = record.facts;
        facts.record = number;
        facts.bottle = texts.intern(&record.bottle_id);
        facts.pair_of = texts.intern(&record.pair_of);
        facts.set_id = texts.intern(&record.set_id);
        identities.push(&record.identity());
        draws.push(facts);
    }
    let history = History {
        points: invented.plant.points,
        technicians: invented.people.technicians,
        draws,
        identities,
    };
    let rulebook = Rulebook::standard();
    let judged = judge_all(&history, &rulebook, &Progress::default()).unwrap();
    let in_force = history
        .points
        .iter()
        .map(|point| rulebook.in_force_at(point.machine_class, point.site.as_deref()))
        .collect();
    Assessed {
        points: history.points,
        technicians: history.technicians,
        trainings: invented.people.trainings,
        judged,
        rulebook,
        in_force,
        zone: time::zone(ZONE).unwrap(),
        worked_out: WorkedOut::default(),
    }
}

/// The programme judged by the default rulebook, with its draws as they were written.
pub fn written(size: &Size) -> (Assessed, Written) {
    let assessed = judged(size);
    let (_, records) = records(size);
    let mut written = Written {
        fluids: vec![String::new()],
        ..Written::default()
    };
    for record in &assessed.judged.record {
        let record = &records[*record as usize - 1];
        let known = written.fluids.iter().position(|it| *it == record.fluid);
        let place = known.unwrap_or_else(|| {
            written.fluids.push(record.fluid.clone());
            written.fluids.len() - 1
        });
        written.draws.push(record.facts);
        written.fluid.push(u32::try_from(place).unwrap());
    }
    (assessed, written)
}

/// The draws that pass a filter.
fn selected(assessed: &Assessed, filter: &str) -> Selection {
    Filter::parse(filter).unwrap().select(assessed)
}

/// The verdicts of the draws that pass a filter.
fn counted(assessed: &Assessed, filter: &str) -> Tally {
    tally(assessed, &selected(assessed, filter))
}

/// The share of unrepresentative draws among the judged ones that pass a filter.
fn share(assessed: &Assessed, filter: &str) -> f64 {
    counted(assessed, filter).share().share.unwrap()
}
