//! The verdicts as the programme file keeps them: written, read back, and whether they hold.

use super::judging::Judgement;
use super::ledger::Ledger;
use super::lists::{Lists, Names};
use super::{Error, PROGRAM, Programme, hashes};
use crate::model::{Judged, RuleSet, Verdict};
use crate::rules::Rulebook;
use crate::store::bytes::{Fixed, pack};
use crate::store::columns::{self, FORMAT, Head};
use crate::store::draws;

/// Whether stored verdicts are what this program would say by this rulebook.
pub(super) fn is_current(head: &Head, rulebook: &Rulebook) -> bool {
    head.format == FORMAT && head.program == PROGRAM && head.rulebook == rulebook.fingerprint()
}

/// Writes the columns anew.
pub(super) fn save(
    programme: &Programme,
    ledger: &Ledger,
    judgement: &Judgement,
    rulebook: &Rulebook,
) -> Result<(), Error> {
    let connection = programme.store.connection();
    let Judgement { judged, places, .. } = judgement;
    let write = |name, bytes: &[u8]| programme.sql(columns::write(connection, name, bytes));
    fn ordered<T: Fixed>(places: &[u32], numbers: &[T]) -> Vec<u8> {
        pack(places.iter().map(|place| numbers[*place as usize]))
    }
    let rules = |sets: &[RuleSet]| pack(sets.iter().map(|set| set.0));
    write("record", &pack(judged.record.iter().copied()))?;
    write("point", &pack(judged.point.iter().copied()))?;
    write("technician", &pack(judged.technician.iter().copied()))?;
    write("drawn_at", &pack(judged.drawn_at.iter().copied()))?;
    write("method", &pack(judged.method.iter().copied()))?;
    write(
        "verdict",
        &pack(judged.verdict.iter().map(|verdict| verdict.index())),
    )?;
    write("applicable", &rules(&judged.applicable))?;
    write("broken", &rules(&judged.broken))?;
    write("unrecorded", &rules(&judged.unrecorded))?;
    write("identity", &ordered(places, &ledger.identity))?;
    write("content", &ordered(places, &ledger.content))?;
    write("bottle", &ordered(places, &ledger.bottle))?;
    let head = Head {
        format: FORMAT,
        draws: judged.len() as u64,
        rulebook: rulebook.fingerprint().to_owned(),
        program: PROGRAM.to_owned(),
        stamp: stamp(
            &judged.record,
            places.iter().map(|place| ledger.content[*place as usize]),
        ),
    };
    programme.sql(columns::write_head(connection, &head))
}

/// A hash over which rows were judged and what they said.
pub(super) fn stamp(records: &[u32], contents: impl ExactSizeIterator<Item = u64>) -> i64 {
    let records = hashes::bytes(&pack(records.iter().copied()));
    let contents = hashes::bytes(&pack(contents));
    hashes::bytes(&pack([records, contents].into_iter())).cast_signed()
}

/// Reads the judged columns and checks that they fit.
pub(super) fn load(programme: &Programme, head: &Head, lists: &Lists) -> Result<Judged, Error> {
    fn column<T: Fixed>(programme: &Programme, name: &str, head: &Head) -> Result<Vec<T>, Error> {
        let read = columns::read(programme.store.connection(), name, head.draws);
        programme.sql(read)?.ok_or_else(|| {
            let reason = format!("the column {name} of the verdicts does not fit the draws");
            programme.store.damaged(&reason).into()
        })
    }
    let rules = |name| -> Result<Vec<RuleSet>, Error> {
        Ok(column::<u32>(programme, name, head)?
            .into_iter()
            .map(RuleSet)
            .collect())
    };
    let verdicts: Vec<u8> = column(programme, "verdict", head)?;
    let judged = Judged {
        record: column(programme, "record", head)?,
        point: column(programme, "point", head)?,
        technician: column(programme, "technician", head)?,
        drawn_at: column(programme, "drawn_at", head)?,
        method: column(programme, "method", head)?,
        verdict: verdicts
            .iter()
            .map_while(|byte| Verdict::from_index(*byte))
            .collect(),
        applicable: rules("applicable")?,
        broken: rules("broken")?,
        unrecorded: rules("unrecorded")?,
    };
    let below = |numbers: &[u32], length: usize| {
        numbers
            .iter()
            .copied()
            .max()
            .is_none_or(|most| (most as usize) < length)
    };
    let fits = judged.verdict.len() == judged.len()
        && below(&judged.point, lists.points.rows.len())
        && below(&judged.technician, lists.technicians.rows.len())
        && judged.drawn_at.is_sorted();
    if !fits {
        let reason = "the verdicts name what is not there";
        return Err(programme.store.damaged(reason).into());
    }
    Ok(judged)
}

/// The ledger of the stored draws, and their verdicts with how they came about. Where the
/// columns are missing or laid out otherwise, the ledger is made from the rows, without
/// verdicts.
pub(super) fn load_ledger(
    programme: &Programme,
    lists: &Lists,
) -> Result<(Ledger, Option<(Head, Judged)>), Error> {
    let connection = programme.store.connection();
    let last_record = programme.sql(draws::last_record(connection))?;
    if let Some(head) = programme.sql(columns::head(connection))?
        && head.format == FORMAT
    {
        let judged = load(programme, &head, lists)?;
        let identity = programme.sql(columns::read(connection, "identity", head.draws))?;
        let content = programme.sql(columns::read(connection, "content", head.draws))?;
        let bottle = programme.sql(columns::read(connection, "bottle", head.draws))?;
        if let (Some(identity), Some(content), Some(bottle)) = (identity, content, bottle) {
            let (record, point) = (judged.record.clone(), judged.point.clone());
            let ledger = Ledger::of(record, point, identity, content, bottle, last_record);
            return Ok((ledger, Some((head, judged))));
        }
    }
    Ok((ledger_of_rows(programme, last_record)?, None))
}

/// The ledger made from the rows themselves, in order of their record numbers.
pub(super) fn ledger_of_rows(programme: &Programme, last_record: u32) -> Result<Ledger, Error> {
    let names = Names::load(programme)?;
    let (mut record, mut point) = (Vec::new(), Vec::new());
    let (mut identity, mut content, mut bottle) = (Vec::new(), Vec::new(), Vec::new());
    let (mut buffer, mut wrong) = (Vec::new(), None);
    let read = draws::each_live_record(programme.store.connection(), &mut |mut draw| {
        if let Err(error) = names.fill(programme, &mut draw) {
            wrong = Some(error);
            return;
        }
        record.push(draw.facts.record);
        point.push(draw.facts.point);
        identity.push(hashes::identity(&draw.identity()));
        content.push(hashes::content(&draw, &mut buffer));
        bottle.push(hashes::bottle(&draw.bottle_id));
    });
    programme.sql(read)?;
    match wrong {
        Some(error) => Err(error),
        None => Ok(Ledger::of(
            record,
            point,
            identity,
            content,
            bottle,
            last_record,
        )),
    }
}
