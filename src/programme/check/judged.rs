//! Whether the verdicts, and what is kept of the draws beside them, fit the rows.

use super::states::names;
use super::{Error, Programme};
use crate::model::{Judged, Progress};
use crate::programme::lists::Lists;
use crate::programme::verdicts::{self, stamp};
use crate::programme::{judging, rulebook};
use crate::store::columns::{self, FORMAT};
use crate::store::draws;

/// Names draws that are not what is kept of them, and verdicts that the rulebook does not
/// give.
pub(super) fn check(programme: &Programme, wrong: &mut Vec<String>) -> Result<(), Error> {
    let connection = programme.store.connection();
    let lists = Lists::load(programme)?;
    let live = programme.sql(draws::live_count(connection))?;
    let Some(head) = programme.sql(columns::head(connection))? else {
        if live > 0 {
            wrong.push("the draws were never judged; opening the programme judges them".into());
        }
        return Ok(());
    };
    if head.format != FORMAT {
        wrong.push("the verdicts are of another layout; opening the programme judges anew".into());
        return Ok(());
    }
    if head.draws != live {
        wrong.push(format!(
            "{} draws were judged, {live} are stored",
            head.draws
        ));
        return Ok(());
    }
    let (ledger, stored) = verdicts::load_ledger(programme, &lists)?;
    let Some((head, stored)) = stored else {
        wrong.push("the columns by which draws are recognised are missing".into());
        return Ok(());
    };
    if stamp(&stored.record, ledger.content.iter().copied()) != head.stamp {
        wrong.push("the stamp of the verdicts does not fit the draws".into());
    }
    let rows = verdicts::ledger_of_rows(programme, ledger.last_record)?;
    let order = |records: &[u32]| {
        let mut places: Vec<usize> = (0..records.len()).collect();
        places.sort_unstable_by_key(|place| records[*place]);
        places
    };
    let differing: Vec<u32> = order(&ledger.record)
        .into_iter()
        .zip(order(&rows.record))
        .filter(|(kept, row)| {
            ledger.record[*kept] != rows.record[*row]
                || ledger.identity[*kept] != rows.identity[*row]
                || ledger.content[*kept] != rows.content[*row]
                || ledger.bottle[*kept] != rows.bottle[*row]
        })
        .map(|(_, row)| rows.record[row])
        .collect();
    if !differing.is_empty() {
        wrong.push(format!(
            "draws that are not what is kept of them: {}; import them into a new file",
            names(programme, &differing)?
        ));
    }
    let Some(book) = rulebook::of_fingerprint(programme, &head.rulebook)? else {
        wrong.push(format!(
            "the rulebook {} of the verdicts is not known",
            head.rulebook
        ));
        return Ok(());
    };
    let again = judging::judge_stored(programme, &lists, &ledger, &book, &Progress::default())?;
    let differing = differing_verdicts(&stored, &again.judged);
    if !differing.is_empty() {
        wrong.push(format!(
            "verdicts that the rulebook does not give: of {}; adopt it again to judge anew",
            names(programme, &differing)?
        ));
    }
    Ok(())
}

/// The records of the rows in which two judged programmes of equal length differ.
fn differing_verdicts(one: &Judged, other: &Judged) -> Vec<u32> {
    if one == other {
        return Vec::new();
    }
    (0..one.len())
        .filter(|row| {
            let of = |judged: &Judged| {
                (
                    judged.record[*row],
                    (judged.point[*row], judged.technician[*row]),
                    (judged.drawn_at[*row], judged.method[*row]),
                    judged.verdict[*row],
                    (
                        judged.applicable[*row],
                        judged.broken[*row],
                        judged.unrecorded[*row],
                    ),
                )
            };
            of(one) != of(other)
        })
        .map(|row| other.record[row])
        .collect()
}
