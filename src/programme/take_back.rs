//! A batch taken back: the programme is as if it had never been taken in, except for what
//! later batches said.

use std::collections::BTreeSet;

use rustc_hash::{FxHashMap, FxHashSet};

use super::judging::{self, Judgement};
use super::ledger::{Entry, Ledger};
use super::lists::{List, Lists, Names};
use super::report::VerdictCounts;
use super::sayers::{Sayers, settle};
use super::{Batch, Error, PROGRAM, Programme, rulebook, verdicts};
use super::{digest, hashes};
use crate::intake::SheetKind;
use crate::model::decisions::BatchTakenBack;
use crate::model::progress::Stage;
use crate::model::trail::Who;
use crate::model::{Judged, Progress};
use crate::store::columns::Head;
use crate::store::draws::Reader;
use crate::store::imports::{self, Import};
use crate::store::take_back;
use crate::store::{people, points};

/// How many names an error tells.
const NAMES_TOLD: usize = 3;

/// How many draws are looked at between two looks at whether someone asked to stop.
const PIECE: usize = 8192;

/// What taking a batch back did.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TakenBack {
    /// The number of the taking back in the ledger.
    pub batch: i64,
    /// Draws that are not in the programme any more.
    pub draws_out: u64,
    /// Draws that stand again as they were before.
    pub draws_restored: u64,
    /// Points, technicians and trainings that are not known any more.
    pub rows_out: [u64; 3],
    /// The verdicts that stand now.
    pub verdicts: VerdictCounts,
    /// How many draws were judged anew.
    pub judged: u64,
}

impl Programme {
    /// Takes a batch back: in one transaction, kept in the ledger as a batch of its own and in
    /// the trail as a decision.
    ///
    /// # Errors
    /// No such batch, one that can't be taken back, a store that can't be written, a stop.
    pub fn take_back(
        &mut self,
        number: i64,
        who: &Who,
        because: &str,
        progress: &Progress,
    ) -> Result<TakenBack, Error> {
        self.forget();
        let transaction = self.store.begin()?;
        let batches = self.batches_within()?;
        let import = can_be_taken_back(&batches, number)?;
        let before = Lists::load(self)?;
        let (ledger, stored) = verdicts::load_ledger(self, &before)?;
        let rulebook = rulebook::current(self)?;
        let batch = Import {
            taken_at: self.now(),
            program: PROGRAM.to_owned(),
            zone: import.zone.clone(),
            who: Some(who.to_string()),
            rulebook: Some(rulebook.fingerprint().to_owned()),
            takes_back: Some(number),
            because: Some(because.to_owned()),
            ..Import::default()
        };
        let batch = self.sql(imports::begin(&transaction, &batch))?;
        let mut stands: BTreeSet<i64> = (batches.iter())
            .map(|batch| &batch.import)
            .filter(|import| import.stands())
            .map(|import| import.number)
            .collect();
        stands.remove(&number);
        let mut work = Work {
            programme: self,
            taken_back: number,
            batch,
            stands,
            before,
            ledger,
            stored,
            progress,
            restored: Vec::new(),
            retired: Vec::new(),
            aside: 0,
        };
        let rows_out = work.take_back_lists()?;
        work.take_back_draws()?;
        let (draws_out, draws_restored) = (work.retired.len() as u64, work.restored.len() as u64);
        let aside = work.aside;
        let (verdicts, judged) = work.judge(&rulebook)?;
        let decision = BatchTakenBack {
            batch,
            taken_back: number,
            because: because.to_owned(),
            draws_out: draws_out + aside,
            draws_restored,
            brought: digest::of_import(self, batch, digest::Draws::default())?,
        };
        let link = self.append(&transaction, who, &decision)?;
        self.sql(imports::set_link(&transaction, batch, link))?;
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        self.sql(transaction.commit())?;
        self.store.settle();
        Ok(TakenBack {
            batch,
            draws_out,
            draws_restored,
            rows_out,
            verdicts,
            judged,
        })
    }
}

/// The batch of this number, if it can be taken back.
fn can_be_taken_back(batches: &[Batch], number: i64) -> Result<&Import, Error> {
    let mut found = batches.iter().map(|batch| &batch.import);
    let import = found
        .find(|import| import.number == number)
        .ok_or(Error::NoBatch {
            number,
            last: batches.len() as i64,
        })?;
    if let Some(taken_back) = import.takes_back {
        return Err(Error::IsTakingBack { number, taken_back });
    }
    if let Some(by) = import.taken_back_in {
        return Err(Error::TakenBackAlready { number, by });
    }
    let said_again = |batch: &&Batch| {
        batch.import.number > number
            && batch.import.link.is_none()
            && batch.import.taken_back_in.is_none()
            && batch.sum(|sheet| sheet.unchanged) > 0
    };
    let later = in_words(batches.iter().filter(said_again).map(|it| it.import.number));
    match later {
        Some(later) => Err(Error::BeforeLedger { number, later }),
        None => Ok(import),
    }
}

/// The numbers with commas between them; `None` if there are none.
fn in_words(numbers: impl IntoIterator<Item = i64>) -> Option<String> {
    let numbers: BTreeSet<i64> = numbers.into_iter().collect();
    let words: Vec<String> = numbers.iter().map(ToString::to_string).collect();
    (!words.is_empty()).then(|| words.join(", "))
}

/// A taking back under way.
struct Work<'p> {
    programme: &'p Programme,
    taken_back: i64,
    batch: i64,
    /// The batches that stand from now on.
    stands: BTreeSet<i64>,
    before: Lists,
    ledger: Ledger,
    stored: Option<(Head, Judged)>,
    progress: &'p Progress,
    /// Records that are live again, and those that no longer are.
    restored: Vec<u32>,
    retired: Vec<u32>,
    /// Earlier states of those that no batch says any more, as this batch marks too.
    aside: u64,
}

impl Work<'_> {
    fn sayers(&self, kind: SheetKind) -> Result<Sayers, Error> {
        Sayers::of(self.programme, kind, &self.stands)
    }

    /// Points, technicians and trainings; gives how many of each left their list.
    fn take_back_lists(&mut self) -> Result<[u64; 3], Error> {
        let connection = self.programme.store.connection();
        let mut gone = Vec::new();
        for (kind, table) in [
            (SheetKind::Points, points::TABLE),
            (SheetKind::Technicians, people::TECHNICIANS),
            (SheetKind::Trainings, people::TRAININGS),
        ] {
            gone.push(settle(
                self.programme,
                table,
                &self.sayers(kind)?,
                self.batch,
            )?);
            let closed = take_back::close_ranks(connection, table);
            self.programme.sql(closed)?;
        }
        self.check_names(&gone[0], &gone[1])?;
        Ok([0, 1, 2].map(|list| gone[list].len() as u64))
    }

    /// Whether anything that stands names a point or technician that is not known any more.
    fn check_names(&self, points: &[u32], technicians: &[u32]) -> Result<(), Error> {
        if points.is_empty() && technicians.is_empty() {
            return Ok(());
        }
        let connection = self.programme.store.connection();
        let sayers = self.sayers(SheetKind::Draws)?;
        let naming = take_back::draws_naming(connection, points, technicians);
        let naming = self.programme.sql(naming)?;
        let draws = naming
            .into_iter()
            .filter_map(|(record, imported_in)| sayers.first(record, imported_in));
        let trainings = self
            .programme
            .sql(take_back::trainings_of_nobody(connection))?;
        let trainings = trainings.into_iter().map(|batch| {
            // Said by a batch that stands, or it would not be listed.
            if self.stands.contains(&batch) {
                batch
            } else {
                self.batch
            }
        });
        let by: FxHashSet<i64> = draws.chain(trainings).collect();
        match in_words(by) {
            None => Ok(()),
            Some(by) => Err(Error::StillNamed {
                number: self.taken_back,
                by,
                names: self.first_names(points, technicians),
            }),
        }
    }

    fn first_names(&self, points: &[u32], technicians: &[u32]) -> String {
        fn names<'a, T>(
            list: &'a List<T>,
            gone: &'a [u32],
            name: fn(&T) -> &str,
        ) -> impl Iterator<Item = &'a str> {
            let rows = list.rows.iter().zip(&list.numbers);
            let gone = rows.filter(|(_, number)| gone.contains(number));
            gone.map(move |(kept, _)| name(&kept.row))
        }
        let mut names: Vec<&str> = names(&self.before.points, points, |point| &point.id)
            .chain(names(&self.before.technicians, technicians, |one| &one.id))
            .take(NAMES_TOLD)
            .collect();
        if points.len() + technicians.len() > NAMES_TOLD {
            names.push("…");
        }
        names.join(", ")
    }

    /// Draws that no batch says any more go; what they had superseded stands again.
    fn take_back_draws(&mut self) -> Result<(), Error> {
        let connection = self.programme.store.connection();
        let sayers = self.sayers(SheetKind::Draws)?;
        let not_standing: Vec<i64> = (1..self.batch)
            .filter(|batch| !self.stands.contains(batch))
            .collect();
        let states = self
            .programme
            .sql(take_back::draws_of(connection, &not_standing))?;
        let imports = self.programme.sql(imports::all(connection))?;
        let took_back: FxHashSet<i64> = (imports.iter())
            .filter(|import| import.takes_back.is_some())
            .map(|import| import.number)
            .collect();
        for (done, state) in states.iter().enumerate() {
            if done.is_multiple_of(PIECE) && self.progress.is_stopped() {
                return Err(Error::Stopped);
            }
            if state.superseded_in.is_some() || sayers.say(state.record, state.imported_in) {
                continue;
            }
            let gone = take_back::supersede(connection, state.record, Some(self.batch));
            self.programme.sql(gone)?;
            self.retired.push(state.record);
            let mut older = state.supersedes;
            while let Some(record) = older {
                let before = self.programme.sql(take_back::draw(connection, record))?;
                if sayers.say(record, before.imported_in) {
                    let live = take_back::supersede(connection, record, None);
                    self.programme.sql(live)?;
                    self.restored.push(record);
                    break;
                }
                // One that an earlier taking back marked keeps that mark.
                if !before
                    .superseded_in
                    .is_some_and(|by| took_back.contains(&by))
                {
                    let gone = take_back::supersede(connection, record, Some(self.batch));
                    self.programme.sql(gone)?;
                    self.aside += 1;
                }
                // A row only ever supersedes one that was stored before it.
                older = before.supersedes.filter(|older| *older < record);
            }
        }
        Ok(())
    }

    /// Judges what was touched and keeps the verdicts.
    fn judge(mut self, rulebook: &crate::rules::Rulebook) -> Result<(VerdictCounts, u64), Error> {
        let after = Lists::load(self.programme)?;
        self.retire_in_ledger();
        let moved_points = moved(&self.before.points, &after.points);
        let moved_technicians = moved(&self.before.technicians, &after.technicians);
        let relist = |places: &mut Vec<u32>, moved: &[u32]| {
            places
                .iter_mut()
                .for_each(|place| *place = moved[*place as usize]);
        };
        relist(&mut self.ledger.point, &moved_points);
        self.ledger.touched_points = (self.ledger.touched_points.iter())
            .map(|place| moved_points[*place as usize])
            .collect();
        if let Some((_, judged)) = &mut self.stored {
            relist(&mut judged.point, &moved_points);
            relist(&mut judged.technician, &moved_technicians);
        }
        self.restore_in_ledger()?;
        let judgement = self.judgement(&after, rulebook)?;
        self.progress.begin(Stage::Saving, 0);
        verdicts::save(self.programme, &self.ledger, &judgement, rulebook)?;
        Ok((
            VerdictCounts::of(&judgement.judged.verdict),
            judgement.count,
        ))
    }

    fn judgement(
        &mut self,
        after: &Lists,
        rulebook: &crate::rules::Rulebook,
    ) -> Result<Judgement, Error> {
        if self.ledger.live().next().is_none() {
            return Ok(Judgement {
                judged: Judged::default(),
                places: Vec::new(),
                count: 0,
            });
        }
        let (programme, ledger) = (self.programme, &self.ledger);
        match &self.stored {
            Some((head, judged)) if verdicts::is_current(head, rulebook) => {
                let changed = changed_compartments(&self.before, after);
                let redo = judging::touched(ledger, &after.points(), &changed);
                judging::judge_part(
                    programme,
                    after,
                    ledger,
                    judged,
                    &redo,
                    rulebook,
                    self.progress,
                )
            }
            _ => judging::judge_stored(programme, after, ledger, rulebook, self.progress),
        }
    }

    fn retire_in_ledger(&mut self) {
        let retired: FxHashSet<u32> = self.retired.iter().copied().collect();
        for place in 0..self.ledger.old {
            if retired.contains(&self.ledger.record[place]) {
                self.ledger.retire(place);
            }
        }
    }

    fn restore_in_ledger(&mut self) -> Result<(), Error> {
        let names = Names::load(self.programme)?;
        let reader = Reader::new(self.programme.store.connection());
        let mut reader = self.programme.sql(reader)?;
        let mut buffer = Vec::new();
        for record in &self.restored {
            let mut draw = self.programme.sql(reader.record(*record))?;
            names.fill(self.programme, &mut draw)?;
            let entry = Entry {
                point: draw.facts.point,
                identity: hashes::identity(&draw.identity()),
                content: hashes::content(&draw, &mut buffer),
                bottle: hashes::bottle(&draw.bottle_id),
            };
            self.ledger.restore(*record, entry);
        }
        Ok(())
    }
}

/// For every place in a list before, the place of the same row after; 0 for those that are
/// gone, at which no draw is live.
fn moved<T>(before: &List<T>, after: &List<T>) -> Vec<u32> {
    let places: FxHashMap<u32, u32> = after.numbers.iter().copied().zip(0..).collect();
    let place = |number: &u32| places.get(number).copied().unwrap_or_default();
    before.numbers.iter().map(place).collect()
}

/// The compartments in which a point came, went or changed.
fn changed_compartments(before: &Lists, after: &Lists) -> FxHashSet<String> {
    let mut changed = FxHashSet::default();
    for (here, there) in [(before, after), (after, before)] {
        for kept in &here.points.rows {
            let place = there.points.places.get(&kept.row.id);
            let other = place.map(|place| &there.points.rows[*place as usize].row);
            if other != Some(&kept.row) {
                changed.insert(kept.row.compartment.clone());
            }
        }
    }
    changed
}
