//! Where records come from: what the interface asks of a programme file.

use std::collections::BTreeMap;

use super::decide::{Docket, Evidence, measured};
use super::screens::records::coverage::Coverages;
use crate::analysis::{Assessed, Doubts, Key, Selection};
use crate::model::{DrawRecord, Progress};
use crate::programme::resamples::ToResample;
use crate::programme::{Batch, DrawNames, Error, OpenedDraw, Programme, Refused};
use crate::report::plan::Shown;

/// Where records come from: a programme file.
pub trait Shelf {
    /// The full records of these stored rows, in the order asked for.
    ///
    /// # Errors
    /// They can't be read.
    fn records(&self, stored: &[u32]) -> Result<Vec<DrawRecord>, Error>;

    /// The draw in this row opened up.
    ///
    /// # Errors
    /// It can't be read.
    fn open_draw(&self, assessed: &Assessed, row: usize) -> Result<OpenedDraw, Error>;

    /// The draws in these rows as plans show them.
    ///
    /// # Errors
    /// They can't be read.
    fn shown_in_plans(
        &self,
        assessed: &Assessed,
        rows: &Selection,
        progress: &Progress,
    ) -> Result<BTreeMap<u32, Shown>, Error>;

    /// Every batch that was taken in, the latest first.
    ///
    /// # Errors
    /// They can't be read.
    fn ledger(&self) -> Result<Vec<Batch>, Error>;

    /// What a batch refused, in order, at most so many.
    ///
    /// # Errors
    /// They can't be read.
    fn refused(&self, batch: i64, at_most: u32) -> Result<Vec<Refused>, Error>;

    /// The draws that stand as a batch brought them.
    ///
    /// # Errors
    /// They can't be read.
    fn draws_of_batch(&self, assessed: &Assessed, batch: i64) -> Result<Selection, Error>;

    /// How much of each column is filled over these draws, by site and by month.
    ///
    /// # Errors
    /// They can't be read, or a stop.
    fn coverage(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Coverages, Error>;

    /// Findings, picks and what is set aside, as they stand.
    ///
    /// # Errors
    /// They can't be read.
    fn docket(&self, assessed: &Assessed) -> Result<Docket, Error>;

    /// What became of the evidence of the finding of this number.
    ///
    /// # Errors
    /// It can't be read.
    fn evidence(&self, assessed: &Assessed, finding: u32) -> Result<Evidence, Error>;

    /// What to sample again of the selected draws.
    ///
    /// # Errors
    /// It can't be read.
    fn to_resample(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        strict: bool,
    ) -> Result<ToResample, Error>;

    /// What every draw and its bottle are called.
    ///
    /// # Errors
    /// They can't be read.
    fn draw_names(&self, assessed: &Assessed) -> Result<DrawNames, Error>;

    /// What is hard to believe about these draws.
    ///
    /// # Errors
    /// They can't be read, or a stop.
    fn doubts(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Doubts, Error>;
}

impl Shelf for Programme {
    fn records(&self, stored: &[u32]) -> Result<Vec<DrawRecord>, Error> {
        Programme::records(self, stored)
    }

    fn open_draw(&self, assessed: &Assessed, row: usize) -> Result<OpenedDraw, Error> {
        Programme::open_draw(self, assessed, row)
    }

    fn shown_in_plans(
        &self,
        assessed: &Assessed,
        rows: &Selection,
        progress: &Progress,
    ) -> Result<BTreeMap<u32, Shown>, Error> {
        Programme::shown_in_plans(self, assessed, rows, progress)
    }

    fn ledger(&self) -> Result<Vec<Batch>, Error> {
        let mut batches = self.batches()?;
        batches.reverse();
        Ok(batches)
    }

    fn refused(&self, batch: i64, at_most: u32) -> Result<Vec<Refused>, Error> {
        self.refusals(batch, at_most)
    }

    fn draws_of_batch(&self, assessed: &Assessed, batch: i64) -> Result<Selection, Error> {
        Programme::draws_of_batch(self, assessed, batch)
    }

    fn coverage(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Coverages, Error> {
        let keys = [None, Some(Key::Site), Some(Key::Month)];
        let [all, sites, months] = self.coverages(assessed, selection, keys, progress)?;
        Ok(Coverages { all, sites, months })
    }

    fn docket(&self, assessed: &Assessed) -> Result<Docket, Error> {
        Ok(Docket {
            findings: self.findings()?,
            picks: self.picks()?,
            set_aside: self.set_aside_rows(assessed)?.into_keys().collect(),
            today: self.today()?,
        })
    }

    fn evidence(&self, assessed: &Assessed, finding: u32) -> Result<Evidence, Error> {
        let finding = self.finding(finding)?;
        Ok(Evidence {
            now: self.draws_now(assessed, &finding.raised.evidence)?,
            effect: measured(assessed, &finding),
        })
    }

    fn to_resample(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        strict: bool,
    ) -> Result<ToResample, Error> {
        let progress = Progress::default();
        self.resamples(assessed, selection, self.now(), strict, &progress)
    }

    fn draw_names(&self, assessed: &Assessed) -> Result<DrawNames, Error> {
        Programme::draw_names(self, assessed, &Progress::default())
    }

    fn doubts(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Doubts, Error> {
        Programme::doubts(self, assessed, selection, progress)
    }
}
