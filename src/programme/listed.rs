//! Draws in long lists: handed over a piece at a time, so that a list of a million needs
//! little memory.

use rayon::prelude::*;

use super::part::{self, Gathering, Whole, compartments};
use super::{Error, Programme};
use crate::analysis::{Assessed, Named, Selection};
use crate::model::progress::Stage;
use crate::model::{History, Progress};
use crate::scoring::{Explained, Explainer};
use crate::store::draws::NameReader;

/// How many draws are named at a time. Their names are read in the order in which they are
/// stored, which mostly is nearly that of the list.
const PIECE: usize = 16_384;

/// How many draws are explained at a time; their answers take some kilobytes each.
const EXPLAINED: usize = 1024;

/// A draw by its name, with every rule's answer.
pub type Answered<'a> = (Named<'a>, Explained);

impl Programme {
    /// Hands over the selected draws with the texts that name them, in order and some
    /// thousands at a time.
    ///
    /// # Errors
    /// A store that can't be read, a stop, or what `each` returns.
    pub fn name_each(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
        each: &mut dyn FnMut(&[Named<'_>]) -> std::io::Result<()>,
    ) -> Result<(), Error> {
        let _reading = self.store.begin_reading()?;
        progress.begin(Stage::Loading, selection.len() as u64);
        let mut names = Names::new(self)?;
        for rows in selection.chunks(PIECE) {
            if progress.is_stopped() {
                return Err(Error::Stopped);
            }
            each(&names.of(assessed, rows)?)?;
            progress.advance(rows.len() as u64);
        }
        Ok(())
    }

    /// Hands over the selected draws with the texts that name them and every rule's answer,
    /// in order and some hundreds at a time.
    ///
    /// # Errors
    /// As [`Self::name_each`].
    pub fn explain_each(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
        each: &mut dyn FnMut(&[Answered<'_>]) -> std::io::Result<()>,
    ) -> Result<(), Error> {
        let _reading = self.store.begin_reading()?;
        let (history, places) = self.history_of(assessed, selection, progress)?;
        let explainer = Explainer::of(&history, &assessed.rulebook, &places);
        progress.begin(Stage::Judging, selection.len() as u64);
        let mut names = Names::new(self)?;
        for (rows, places) in selection.chunks(EXPLAINED).zip(places.chunks(EXPLAINED)) {
            if progress.is_stopped() {
                return Err(Error::Stopped);
            }
            let named = names.of(assessed, rows)?;
            let explained: Vec<Answered<'_>> = named
                .into_par_iter()
                .zip(places)
                .map(|(named, place)| (named, explainer.explain(*place)))
                .collect();
            each(&explained)?;
            progress.advance(rows.len() as u64);
        }
        Ok(())
    }

    /// A history closed around the selected draws, and their places in it.
    fn history_of(
        &self,
        assessed: &Assessed,
        selection: &Selection,
        progress: &Progress,
    ) -> Result<(History, Vec<usize>), Error> {
        let judged = &assessed.judged;
        let mut wanted = vec![false; judged.len()];
        for row in selection {
            wanted[*row as usize] = true;
        }
        let bottle = self.bottles_in_order(assessed)?;
        let compartments = compartments(&assessed.points);
        let whole = Whole {
            compartments: &compartments,
            point: &judged.point,
            bottle: &bottle,
        };
        let closed = whole.closed(&wanted, &|_| true);
        let gathering = Gathering::of(assessed.points.clone(), assessed.technicians.clone());
        let history = if closed.len() > judged.len() / 2 {
            part::read_all(self, gathering, judged.len() as u64, progress)?
        } else {
            let records: Vec<u32> = closed.iter().map(|row| judged.record[*row]).collect();
            part::read(self, gathering, &records, progress)?
        };
        let most = history
            .draws
            .iter()
            .map(|draw| draw.record)
            .max()
            .unwrap_or(0);
        let mut place_of = vec![usize::MAX; most as usize + 1];
        for (place, draw) in history.draws.iter().enumerate() {
            place_of[draw.record as usize] = place;
        }
        let places = selection
            .iter()
            .map(|row| {
                let record = judged.record[*row as usize] as usize;
                place_of
                    .get(record)
                    .copied()
                    .filter(|place| *place != usize::MAX)
            })
            .collect::<Option<Vec<usize>>>()
            .ok_or_else(|| self.store.damaged("a judged draw is not stored any more"))?;
        Ok((history, places))
    }
}

/// Names draws, lending the memory of their texts from one piece to the next.
struct Names<'p> {
    programme: &'p Programme,
    reader: NameReader<'p>,
    /// Record numbers, ascending, each with its place in the piece.
    wanted: Vec<(u32, usize)>,
    texts: String,
    /// For each draw of the piece, where its two texts begin and where the second ends.
    spans: Vec<[usize; 3]>,
}

impl<'p> Names<'p> {
    fn new(programme: &'p Programme) -> Result<Self, Error> {
        let reader = programme.sql(NameReader::new(programme.store.connection()))?;
        Ok(Names {
            programme,
            reader,
            wanted: Vec::new(),
            texts: String::new(),
            spans: Vec::new(),
        })
    }

    fn of(&mut self, assessed: &Assessed, rows: &[u32]) -> Result<Vec<Named<'_>>, Error> {
        let record = |row: &u32| assessed.judged.record[*row as usize];
        self.wanted.clear();
        self.wanted.extend(rows.iter().map(record).zip(0..));
        self.wanted.sort_unstable();
        let records: Vec<u32> = self.wanted.iter().map(|(record, _)| *record).collect();
        self.texts.clear();
        self.spans.clear();
        self.spans.resize(rows.len(), [0; 3]);
        let (wanted, texts, spans) = (&self.wanted, &mut self.texts, &mut self.spans);
        let read = self
            .reader
            .read(&records, &mut |place, draw_id, bottle_id| {
                let begin = texts.len();
                texts.push_str(draw_id);
                let middle = texts.len();
                texts.push_str(bottle_id);
                spans[wanted[place].1] = [begin, middle, texts.len()];
            });
        self.programme.sql(read)?;
        let texts = &self.texts;
        Ok(rows
            .iter()
            .zip(&self.spans)
            .map(|(row, [begin, middle, end])| Named {
                row: *row as usize,
                draw_id: &texts[*begin..*middle],
                bottle_id: &texts[*middle..*end],
            })
            .collect())
    }
}
