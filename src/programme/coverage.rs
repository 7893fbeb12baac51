//! How much of each column is filled, and what its blanks cost.

use super::part::{self, Gathering};
use super::{Error, Programme};
use crate::analysis::{Assessed, Coverage, Key, Selection, coverage};
use crate::model::{History, Progress};

impl Programme {
    /// How much of each column is filled over the selected draws, by a key if one is given,
    /// and which column would settle how many unproven draws. Reads every draw once.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn coverage(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        by: Option<Key>,
        progress: &Progress,
    ) -> Result<Coverage, Error> {
        let [found] = self.coverages(assessed, selection, [by], progress)?;
        Ok(found)
    }

    /// The same by several keys at once; every draw is read once for all of them.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn coverages<const N: usize>(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        keys: [Option<Key>; N],
        progress: &Progress,
    ) -> Result<[Coverage; N], Error> {
        let history = self.whole_history(assessed, progress)?;
        let mut found = std::array::from_fn(|_| Coverage::default());
        for (found, by) in found.iter_mut().zip(keys) {
            *found = coverage(&history, assessed, selection, by, progress).ok_or(Error::Stopped)?;
        }
        Ok(found)
    }

    /// Every draw of the programme as judging needs it.
    fn whole_history(&self, assessed: &Assessed, progress: &Progress) -> Result<History, Error> {
        let gathering = Gathering::of(assessed.points.clone(), assessed.technicians.clone());
        part::read_all(self, gathering, assessed.judged.len() as u64, progress)
    }
}
