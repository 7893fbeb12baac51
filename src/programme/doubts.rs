//! Records that are hard to believe.

use rustc_hash::FxHashMap;

use super::{Error, Programme};
use crate::analysis::doubts::Written;
use crate::analysis::{Assessed, Doubts, Selection, doubts};
use crate::model::progress::Stage;
use crate::model::{Draw, Progress};
use crate::store::draws::each_live_labelled;

/// Draws read between two looks at whether someone asked to stop.
const PIECE: u64 = 8192;

impl Programme {
    /// The doubts about selected draws; what is usual is always that of the whole programme.
    /// Reads every draw once.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn doubts(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<Doubts, Error> {
        let written = self.written(assessed, progress)?;
        doubts(assessed, &written, selection, progress).ok_or(Error::Stopped)
    }

    /// The draws of a judged programme as they were written, in its order. A draw that another
    /// process has replaced since stands there with its required columns only.
    fn written(&self, assessed: &Assessed, progress: &Progress) -> Result<Written, Error> {
        let judged = &assessed.judged;
        progress.begin(Stage::Loading, judged.len() as u64);
        let last = judged.record.iter().copied().max();
        let mut row_of = vec![u32::MAX; last.map_or(0, |last| last as usize + 1)];
        for (row, record) in (0..).zip(&judged.record) {
            row_of[*record as usize] = row;
        }
        let bare = |row: usize| {
            Draw::bare(
                judged.point[row],
                judged.technician[row],
                judged.drawn_at[row],
            )
        };
        let mut written = Written {
            draws: (0..judged.len()).map(bare).collect(),
            fluid: vec![0; judged.len()],
            fluids: vec![String::new()],
        };
        let mut grades: FxHashMap<String, u32> = FxHashMap::default();
        let mut done = 0_u64;
        let read = each_live_labelled(self.store.connection(), &mut |draw, fluid| {
            done += 1;
            if done.is_multiple_of(PIECE) {
                progress.advance(PIECE);
                if progress.is_stopped() {
                    return false;
                }
            }
            let row = row_of.get(draw.record as usize).map(|row| *row as usize);
            let Some(place) = row.and_then(|row| written.draws.get_mut(row)) else {
                return true;
            };
            *place = draw;
            if !fluid.is_empty() {
                let known = grades.get(fluid).copied();
                let number = known.unwrap_or_else(|| {
                    let next = u32::try_from(written.fluids.len());
                    let next = next.expect("fewer grades than u32 can count");
                    written.fluids.push(fluid.to_owned());
                    grades.insert(fluid.to_owned(), next);
                    next
                });
                written.fluid[row.unwrap_or_default()] = number;
            }
            true
        });
        self.sql(read)?;
        if progress.is_stopped() {
            return Err(Error::Stopped);
        }
        Ok(written)
    }
}
