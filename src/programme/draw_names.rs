//! What draws and their bottles are called, all at once, so that they can be searched.

use super::{Error, Programme};
use crate::analysis::Assessed;
use crate::model::Progress;
use crate::model::history::Identities;
use crate::store::draws::NameReader;

/// How many draws are read between two looks whether it is to stop.
const PIECE: usize = 1 << 14;

/// The names of every judged draw in two pieces of memory, in the order of their storing.
#[derive(Clone, Debug, Default)]
pub struct DrawNames {
    /// For each, its row in the judged programme.
    pub rows: Vec<u32>,
    /// The names of the draws; empty where they have none.
    pub draws: Identities,
    /// The codes on their bottles; empty where there is none.
    pub bottles: Identities,
}

impl DrawNames {
    /// Adds the next draw: its row, its name and the code on its bottle.
    pub fn push(&mut self, row: u32, draw_id: &str, bottle_id: &str) {
        self.rows.push(row);
        self.draws.push(draw_id);
        self.bottles.push(bottle_id);
    }
}

impl Programme {
    /// Reads what every judged draw and its bottle are called. A million take about half a
    /// second and 24 MB.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn draw_names(&self, assessed: &Assessed, progress: &Progress) -> Result<DrawNames, Error> {
        let records = &assessed.judged.record;
        let mut stored: Vec<(u32, u32)> = records.iter().copied().zip(0..).collect();
        stored.sort_unstable();
        let mut reader = self.sql(NameReader::new(self.store.connection()))?;
        let mut names = DrawNames::default();
        for piece in stored.chunks(PIECE) {
            if progress.is_stopped() {
                return Err(Error::Stopped);
            }
            let wanted: Vec<u32> = piece.iter().map(|(record, _)| *record).collect();
            let read = reader.read(&wanted, &mut |place, draw_id, bottle_id| {
                names.push(piece[place].1, draw_id, bottle_id);
            });
            self.sql(read)?;
        }
        Ok(names)
    }
}
