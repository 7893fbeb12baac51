//! Judging what is stale: all of it, or a closed part that is put among the rest.

use rustc_hash::FxHashSet;

use super::ledger::Ledger;
use super::lists::Lists;
use super::merge::Merge;
use super::part::{self, Gathering, Whole, compartments};
use super::verdicts::{is_current, load, load_ledger, save};
use super::{Error, PROGRAM, Programme, rulebook};
use crate::analysis::{Assessed, WorkedOut};
use crate::model::{History, Judged, Point, Progress};
use crate::rules::Rulebook;
use crate::scoring::judge_all;
use crate::store::columns::{self, Head};
use crate::store::draws;

/// A judged programme, with the place in the ledger of every draw.
pub(super) struct Judgement {
    pub(super) judged: Judged,
    pub(super) places: Vec<u32>,
    /// How many draws were judged anew.
    pub(super) count: u64,
}

/// The judged programme, judged anew and kept where it is stale.
pub(super) fn assess(programme: &Programme, progress: &Progress) -> Result<Assessed, Error> {
    let reading = programme.store.begin_reading()?;
    let rulebook = rulebook::current(programme)?;
    let head = programme.sql(columns::head(&reading))?;
    let is_current = match &head {
        Some(head) => is_current(head, &rulebook),
        None => programme.sql(draws::live_count(&reading))? == 0,
    };
    if is_current {
        let lists = Lists::load(programme)?;
        let judged = match &head {
            Some(head) => load(programme, head, &lists)?,
            None => Judged::default(),
        };
        return assessed(programme, lists, judged, rulebook);
    }
    drop(reading);
    let transaction = if programme.is_read_only() {
        programme.store.begin_reading()?
    } else {
        programme.store.begin()?
    };
    let lists = Lists::load(programme)?;
    let (ledger, stored) = load_ledger(programme, &lists)?;
    let redo = stored
        .as_ref()
        .and_then(|stored| {
            changed_rules(programme, &stored.0, &lists, &ledger, &rulebook).transpose()
        })
        .transpose()?;
    let judgement = match (stored, redo) {
        (Some((_, judged)), Some(redo)) => judge_part(
            programme, &lists, &ledger, &judged, &redo, &rulebook, progress,
        )?,
        _ => judge_stored(programme, &lists, &ledger, &rulebook, progress)?,
    };
    if !programme.is_read_only() {
        save(programme, &ledger, &judgement, &rulebook)?;
    }
    let assessed = assessed(programme, lists, judgement.judged, rulebook)?;
    programme.sql(transaction.commit())?;
    Ok(assessed)
}

fn assessed(
    programme: &Programme,
    lists: Lists,
    judged: Judged,
    rulebook: Rulebook,
) -> Result<Assessed, Error> {
    let points: Vec<Point> = lists.points.rows.into_iter().map(|kept| kept.row).collect();
    Ok(Assessed {
        in_force: points
            .iter()
            .map(|point| rulebook.in_force_at(point.machine_class, point.site.as_deref()))
            .collect(),
        points,
        technicians: lists
            .technicians
            .rows
            .into_iter()
            .map(|kept| kept.row)
            .collect(),
        trainings: lists
            .trainings
            .rows
            .into_iter()
            .map(|kept| kept.row)
            .collect(),
        judged,
        rulebook,
        zone: programme.zone()?,
        worked_out: WorkedOut::default(),
    })
}

/// Which draws stand at points whose rules changed; `None` if all must be judged anew.
fn changed_rules(
    programme: &Programme,
    head: &Head,
    lists: &Lists,
    ledger: &Ledger,
    now: &Rulebook,
) -> Result<Option<Vec<bool>>, Error> {
    if head.program != PROGRAM {
        return Ok(None);
    }
    let Some(before) = rulebook::of_fingerprint(programme, &head.rulebook)? else {
        return Ok(None);
    };
    let changed: Vec<bool> = lists
        .points
        .rows
        .iter()
        .map(|point| {
            let (class, site) = (point.row.machine_class, point.row.site.as_deref());
            let rules = |book: &Rulebook| {
                let place = book.in_force_at(class, site);
                book.in_force_fingerprint(place).to_owned()
            };
            rules(&before) != rules(now)
        })
        .collect();
    Ok(Some(
        ledger
            .point
            .iter()
            .map(|point| changed[*point as usize])
            .collect(),
    ))
}

/// Judges a history that holds every live draw.
pub(super) fn judge_history(
    history: &History,
    ledger: &Ledger,
    rulebook: &Rulebook,
    progress: &Progress,
) -> Result<Judgement, Error> {
    let judged = judge_all(history, rulebook, progress).ok_or(Error::Stopped)?;
    let mut place_of = vec![u32::MAX; ledger.last_record as usize + 1];
    for place in ledger.live() {
        place_of[ledger.record[place] as usize] =
            u32::try_from(place).expect("fewer draws than u32 can count");
    }
    Ok(Judgement {
        places: judged
            .record
            .iter()
            .map(|record| place_of[*record as usize])
            .collect(),
        count: judged.len() as u64,
        judged,
    })
}

/// Reads every live draw and judges it.
pub(super) fn judge_stored(
    programme: &Programme,
    lists: &Lists,
    ledger: &Ledger,
    rulebook: &Rulebook,
    progress: &Progress,
) -> Result<Judgement, Error> {
    let gathering = Gathering::of(lists.points(), lists.technicians());
    let history = part::read_all(programme, gathering, ledger.record.len() as u64, progress)?;
    judge_history(&history, ledger, rulebook, progress)
}

/// Judges the draws marked in `redo` and every one that is new; `stored` holds the others.
pub(super) fn judge_part(
    programme: &Programme,
    lists: &Lists,
    ledger: &Ledger,
    stored: &Judged,
    redo: &[bool],
    rulebook: &Rulebook,
    progress: &Progress,
) -> Result<Judgement, Error> {
    let points = lists.points();
    let compartments = compartments(&points);
    let whole = Whole {
        compartments: &compartments,
        point: &ledger.point,
        bottle: &ledger.bottle,
    };
    let wanted = whole.closed(redo, &|place| !ledger.gone[place]);
    // Reading a row by its number costs about twice as much as reading it in passing.
    if wanted.len() > ledger.record.len() / 2 {
        return judge_stored(programme, lists, ledger, rulebook, progress);
    }
    let records: Vec<u32> = wanted.iter().map(|place| ledger.record[*place]).collect();
    let gathering = Gathering::of(points, lists.technicians());
    let history = part::read(programme, gathering, &records, progress)?;
    let part = judge_all(&history, rulebook, progress).ok_or(Error::Stopped)?;
    Merge {
        programme,
        ledger,
        stored,
        redo,
        history: &history,
        place_of: records.iter().copied().zip(0..).collect(),
        row_of: part.record.iter().copied().zip(0..).collect(),
        part: &part,
    }
    .merged()
}

/// Which draws an import makes stale: those of the compartments it touched and those that
/// share a bottle with a draw it added or superseded.
pub(super) fn touched(
    ledger: &Ledger,
    points: &[Point],
    changed_compartments: &FxHashSet<String>,
) -> Vec<bool> {
    let (compartment_of, count) = compartments(points);
    let mut touched = vec![false; count];
    for (place, point) in points.iter().enumerate() {
        let place_number = u32::try_from(place).expect("fewer points than u32 can count");
        if changed_compartments.contains(&point.compartment)
            || ledger.touched_points.contains(&place_number)
        {
            touched[compartment_of[place] as usize] = true;
        }
    }
    (0..ledger.record.len())
        .map(|place| {
            let compartment = compartment_of[ledger.point[place] as usize] as usize;
            !ledger.gone[place]
                && (touched[compartment] || ledger.touched_bottles.contains(&ledger.bottle[place]))
        })
        .collect()
}
