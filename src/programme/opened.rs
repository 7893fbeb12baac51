//! Draws opened up: the record, every rule's answer, the draws around it.

use rayon::prelude::*;

use super::part::{self, Gathering};
use super::set_aside::{SetAside, standing};
use super::{Error, Programme};
use crate::analysis::Assessed;
use crate::model::{DrawRecord, Progress};
use crate::scoring::{Explained, Explainer};
use crate::store::columns::{self, FORMAT};
use crate::store::draws;

use super::hashes;

/// How many draws a strip shows at most, and how many of them follow the draw itself.
const STRIP: usize = 12;
const STRIP_AFTER: usize = 3;

/// A draw opened up.
#[derive(Clone, Debug)]
pub struct OpenedDraw {
    /// The whole record.
    pub record: DrawRecord,
    /// Every rule's answer, scores, verdict.
    pub explained: Explained,
    /// The draws of the same compartment up to and around this one, oldest first, as rows
    /// of the assessed programme with their records (at most 12, this one included).
    pub strip: Vec<(u32, DrawRecord)>,
    /// All draws of the same compartment, oldest first, as rows of the assessed programme.
    pub compartment: Vec<u32>,
    /// Who set its result aside, when and why, if someone did and did not take it back.
    pub set_aside: Option<SetAside>,
    /// The previous draw as the contract defines it, as a row of the assessed programme.
    pub previous: Option<u32>,
}

/// Which records bear which bottle.
#[derive(Debug)]
pub(super) struct Bottles {
    record: Vec<u32>,
    hash: Vec<u64>,
}

impl Programme {
    /// Opens the draw in this row of the assessed programme.
    ///
    /// # Errors
    /// A store that can't be read.
    ///
    /// # Panics
    /// When there is no such row.
    pub fn open_draw(&self, assessed: &Assessed, row: usize) -> Result<OpenedDraw, Error> {
        let judged = &assessed.judged;
        let compartment = &assessed.points[judged.point[row] as usize].compartment;
        let inside: Vec<bool> = assessed
            .points
            .iter()
            .map(|point| point.compartment == *compartment)
            .collect();
        let rows: Vec<usize> = (0..judged.len())
            .into_par_iter()
            .filter(|row| inside[judged.point[*row] as usize])
            .collect();
        let here = rows.partition_point(|other| *other < row);

        let first = here.saturating_sub(STRIP - 1 - STRIP_AFTER);
        let last = (first + STRIP).min(rows.len());
        let first = last.saturating_sub(STRIP);
        let strip = &rows[first..last];
        let records: Vec<u32> = strip.iter().map(|row| judged.record[*row]).collect();
        let records = self.records(&records)?;
        let record = records[here - first].clone();

        let mut wanted: Vec<u32> = rows.iter().map(|row| judged.record[*row]).collect();
        for bearer in self.bearers(&record.bottle_id)? {
            if !wanted.contains(&bearer) {
                wanted.push(bearer);
            }
        }
        let gathering = Gathering::of(assessed.points.clone(), assessed.technicians.clone());
        let history = part::read(self, gathering, &wanted, &Progress::default())?;
        let explained = Explainer::of(&history, &assessed.rulebook, &[here]).explain(here);
        let number = |row: usize| u32::try_from(row).expect("fewer draws than u32 can count");
        Ok(OpenedDraw {
            set_aside: standing(&self.trail()?, &record.identity()),
            record,
            previous: explained.previous.map(|place| number(rows[place])),
            explained,
            compartment: rows.iter().map(|row| number(*row)).collect(),
            strip: strip.iter().map(|row| number(*row)).zip(records).collect(),
        })
    }

    /// The records of the live draws that bear this bottle.
    fn bearers(&self, bottle_id: &str) -> Result<Vec<u32>, Error> {
        if bottle_id.is_empty() {
            return Ok(Vec::new());
        }
        let hash = hashes::bottle(bottle_id);
        self.with_bottles(|bottles| {
            let bears = bottles.hash.iter().zip(&bottles.record);
            bears
                .filter(|(other, _)| **other == hash)
                .map(|(_, record)| *record)
                .collect()
        })
    }

    /// The hash of every draw's bottle, in the order of the assessed programme.
    pub(super) fn bottles_in_order(&self, assessed: &Assessed) -> Result<Vec<u64>, Error> {
        self.with_bottles(|bottles| {
            if bottles.record == assessed.judged.record {
                return bottles.hash.clone();
            }
            let most = bottles.record.iter().copied().max().unwrap_or(0);
            let mut hash_of = vec![0; most as usize + 1];
            for (record, hash) in bottles.record.iter().zip(&bottles.hash) {
                hash_of[*record as usize] = *hash;
            }
            let hash = |record: &u32| hash_of.get(*record as usize).copied().unwrap_or(0);
            assessed.judged.record.iter().map(hash).collect()
        })
    }

    fn with_bottles<T>(&self, each: impl FnOnce(&Bottles) -> T) -> Result<T, Error> {
        let mut kept = self.bottles.borrow_mut();
        let bottles = match &mut *kept {
            Some(bottles) => bottles,
            none => none.insert(self.load_bottles()?),
        };
        Ok(each(bottles))
    }

    fn load_bottles(&self) -> Result<Bottles, Error> {
        let connection = self.store.connection();
        if let Some(head) = self.sql(columns::head(connection))?
            && head.format == FORMAT
        {
            let record = self.sql(columns::read(connection, "record", head.draws))?;
            let hash = self.sql(columns::read(connection, "bottle", head.draws))?;
            if let (Some(record), Some(hash)) = (record, hash) {
                return Ok(Bottles { record, hash });
            }
        }
        let (mut record, mut hash) = (Vec::new(), Vec::new());
        let read = draws::each_live(connection, &mut |draw, texts| {
            record.push(draw.record);
            hash.push(hashes::bottle(texts.bottle_id));
            true
        });
        self.sql(read)?;
        Ok(Bottles { record, hash })
    }
}
