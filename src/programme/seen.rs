//! Draws as they stand: kept beside a decision, and looked at again later.

use rustc_hash::FxHashMap;

use super::lists::Names;
use super::{Error, Programme, hashes};
use crate::analysis::{Assessed, row_score};
use crate::model::decisions::DrawSeen;
use crate::model::draw_cells::cells;
use crate::model::trail::sha256;
use crate::model::{DrawRecord, Progress, RuleSet};
use crate::report::two_decimals;
use crate::rules::cards;
use crate::store::columns;
use crate::store::draws::Reader;

/// What became of a draw since somebody decided something about it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DrawNow {
    /// Its row in the judged programme; `None` if there is no such draw any more.
    pub row: Option<u32>,
    /// Whether its record says something else than then.
    pub is_changed: bool,
    /// Whether its verdict or the rules broken on it are others than then.
    pub is_rejudged: bool,
}

impl DrawNow {
    /// Whether it stands as it stood.
    #[must_use]
    pub fn is_same(&self) -> bool {
        self.row.is_some() && !self.is_changed && !self.is_rejudged
    }

    /// What became of it, in words.
    #[must_use]
    pub fn words(&self) -> &'static str {
        match (self.row, self.is_changed, self.is_rejudged) {
            (None, ..) => "not there any more",
            (_, true, true) => "record changed, judged otherwise",
            (_, true, false) => "record changed, judged alike",
            (_, false, true) => "judged otherwise",
            (_, false, false) => "as it stood",
        }
    }
}

impl Programme {
    /// What became of these draws.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn draws_now(&self, assessed: &Assessed, seen: &[DrawSeen]) -> Result<Vec<DrawNow>, Error> {
        let identities: Vec<&str> = seen.iter().map(|seen| seen.draw.as_str()).collect();
        let rows = self.rows_of(assessed, &identities)?;
        seen.iter()
            .zip(rows)
            .map(|(then, row)| {
                let Some(row) = row else {
                    return Ok(DrawNow {
                        row: None,
                        is_changed: false,
                        is_rejudged: false,
                    });
                };
                let now = &self.draws_seen(assessed, &[row])?[0];
                Ok(DrawNow {
                    row: Some(row),
                    is_changed: now.content_sha256 != then.content_sha256,
                    is_rejudged: (&now.verdict, &now.broken) != (&then.verdict, &then.broken),
                })
            })
            .collect()
    }

    /// The full records of these stored rows, also of such that do not count any more, in the
    /// order asked for. Their places of point and technician are not those of any list.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn records_ever(&self, records: &[u32]) -> Result<Vec<DrawRecord>, Error> {
        let names = Names::by_number(self)?;
        let mut reader = self.sql(Reader::by_number(self.store.connection()))?;
        records
            .iter()
            .map(|record| {
                let mut draw = self.sql(reader.record(*record))?;
                names.fill(self, &mut draw)?;
                Ok(draw)
            })
            .collect()
    }

    /// These rows of the judged programme as they stand.
    pub(super) fn draws_seen(
        &self,
        assessed: &Assessed,
        rows: &[u32],
    ) -> Result<Vec<DrawSeen>, Error> {
        let judged = &assessed.judged;
        let records: Vec<u32> = rows
            .iter()
            .map(|row| judged.record[*row as usize])
            .collect();
        let draws = self.records(&records)?;
        let seen = rows.iter().zip(draws).map(|(row, draw)| {
            let row = *row as usize;
            DrawSeen {
                draw: draw.identity(),
                record: draw.facts.record,
                drawn_at: draw.facts.drawn_at,
                verdict: judged.verdict[row].as_str().to_owned(),
                score: row_score(assessed, row)
                    .score
                    .map_or_else(String::new, two_decimals),
                broken: ids(judged.broken[row]),
                unrecorded: ids(judged.unrecorded[row]),
                content_sha256: content_sha256(&draw),
                seen: String::new(),
                wanted: String::new(),
                point: draw.point_id,
                technician: draw.technician_id,
            }
        });
        Ok(seen.collect())
    }

    /// The same with what this rule saw and wanted on each.
    pub(super) fn draws_seen_by(
        &self,
        assessed: &Assessed,
        rows: &[u32],
        rule: usize,
        progress: &Progress,
    ) -> Result<Vec<DrawSeen>, Error> {
        let mut seen = self.draws_seen(assessed, rows)?;
        let mut next = seen.iter_mut();
        self.explain_each(assessed, &rows.to_vec(), progress, &mut |piece| {
            for ((_, explained), seen) in piece.iter().zip(&mut next) {
                let answer = &explained.answers[rule];
                seen.seen = answer.seen.to_string();
                seen.wanted = answer.wanted.to_string();
            }
            Ok(())
        })?;
        Ok(seen)
    }

    /// The rows of the judged programme that bear these identities.
    pub(super) fn rows_of(
        &self,
        assessed: &Assessed,
        identities: &[&str],
    ) -> Result<Vec<Option<u32>>, Error> {
        // Those of all draws are read below; for nothing that takes a while.
        if identities.is_empty() {
            return Ok(Vec::new());
        }
        let key = |identity: &&str| hashes::identity(identity).to_le_bytes();
        let mut rows: FxHashMap<[u8; 16], Option<u32>> = identities
            .iter()
            .map(|identity| (key(identity), None))
            .collect();
        for (row, hash) in (0..).zip(self.identities_in_order(assessed)?) {
            if let Some(found) = rows.get_mut(&hash.to_le_bytes()) {
                *found = Some(row);
            }
        }
        Ok(identities
            .iter()
            .map(|identity| rows[&key(identity)])
            .collect())
    }

    /// The hash of every draw's identity, in the order of the judged programme.
    fn identities_in_order(&self, assessed: &Assessed) -> Result<Vec<u128>, Error> {
        let judged = &assessed.judged;
        let connection = self.store.connection();
        if let Some(head) = self.sql(columns::head(connection))?
            && head.format == columns::FORMAT
        {
            let record: Option<Vec<u32>> =
                self.sql(columns::read(connection, "record", head.draws))?;
            let identity = self.sql(columns::read(connection, "identity", head.draws))?;
            if let (Some(record), Some(identity)) = (record, identity)
                && record == judged.record
            {
                return Ok(identity);
            }
        }
        // A file that can't be written to may hold columns of another state.
        let draws = self.records(&judged.record)?;
        Ok(draws
            .iter()
            .map(|draw| hashes::identity(&draw.identity()))
            .collect())
    }
}

fn ids(rules: RuleSet) -> Vec<String> {
    rules
        .iter()
        .map(|place| cards()[place].id.to_owned())
        .collect()
}

/// SHA-256 over what a record says, as [`DrawSeen::content_sha256`] has it.
pub(super) fn content_sha256(draw: &DrawRecord) -> String {
    let mut text = String::new();
    for (column, value) in cells(draw) {
        text.push_str(column);
        text.push('=');
        text.push_str(&value);
        text.push('\n');
    }
    sha256(text.as_bytes())
}
