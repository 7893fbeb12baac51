//! Picks drawn, their verification entered.

use std::collections::BTreeMap;
use std::path::Path;

use super::{Error, Programme};
use crate::analysis::picks::{self, Parted, Pick, allot, lowest, population_sha256, size};
use crate::analysis::{Assessed, BLANK, Filter};
use crate::intake::verification::{self, Sheet};
use crate::model::Progress;
use crate::model::decisions::pick::{PickDrawn, PickVerified, Plan, Stratum, Verified};
use crate::model::trail::Who;

/// The most characters a seed may have.
const SEED_LIMIT: usize = 200;

/// What to pick.
#[derive(Clone, Debug)]
pub struct PickRequest {
    /// How the size is settled.
    pub plan: Plan,
    /// The seed by which draws are ranked: 1 to 200 characters that can be printed.
    pub seed: String,
    /// The draws to pick from.
    pub filter: Filter,
    /// What they are parted by, if by anything.
    pub by: Option<Parted>,
    /// How many of each part at least; counts only where they are parted.
    pub at_least: u64,
}

/// The draws of a filter as a pick was drawn from them, or would be now.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Population {
    /// How many.
    pub draws: u64,
    /// See [`PickDrawn::population_sha256`].
    pub sha256: String,
    /// Whether every identity is written in CSV as it is: without commas, quotes, line
    /// breaks, and not begun by what a spreadsheet would run.
    pub is_plain: bool,
}

impl Programme {
    /// Every pick, the first first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn picks(&self) -> Result<Vec<Pick>, Error> {
        Ok(picks::fold(&self.trail()?).0)
    }

    /// The pick of this number.
    ///
    /// # Errors
    /// There is none; a store that can't be read.
    pub fn pick(&self, number: u32) -> Result<Pick, Error> {
        find(self.picks()?, number)
    }

    /// Picks draws and keeps them in the trail.
    ///
    /// # Errors
    /// A plan that has no size, a seed that can't be printed, nothing to pick from, a stop, a
    /// store that can't be written.
    pub fn draw_pick(
        &mut self,
        who: &Who,
        request: &PickRequest,
        assessed: &Assessed,
        progress: &Progress,
    ) -> Result<Pick, Error> {
        let fits = (1..=SEED_LIMIT).contains(&request.seed.chars().count());
        if !fits || request.seed.chars().any(char::is_control) {
            return Err(Error::undecided(format!(
                "the seed must have 1 to {SEED_LIMIT} characters, none of them a control character"
            )));
        }
        let rows = request.filter.select(assessed);
        let size = size(&request.plan, rows.len() as u64).map_err(Error::undecided)?;
        let identities = self.identities(assessed, &rows, progress)?;
        let texts: Vec<&str> = identities.iter().map(String::as_str).collect();
        let parts = parts(assessed, &rows, request.by);
        let sizes: Vec<u64> = parts.values().map(|places| places.len() as u64).collect();
        let at_least = request.by.map_or(0, |_| request.at_least);
        let picked = allot(&sizes, size.size, at_least);
        let (mut strata, mut chosen) = (Vec::new(), Vec::new());
        for ((name, places), count) in parts.iter().zip(picked) {
            let inside: Vec<&str> = places.iter().map(|place| texts[*place]).collect();
            let lowest = lowest(&request.seed, &inside, count as usize);
            chosen.extend(lowest.into_iter().map(|place| rows[places[place]]));
            strata.push(Stratum {
                name: name.clone(),
                draws: places.len() as u64,
                picked: count,
            });
        }
        let drawn = PickDrawn {
            pick: 0,
            plan: request.plan.clone(),
            seed: request.seed.clone(),
            filter: request.filter.to_string(),
            by: request.by.map_or("", Parted::as_str).to_owned(),
            at_least,
            population: rows.len() as u64,
            population_sha256: population_sha256(&texts),
            rulebook: assessed.rulebook.fingerprint().to_owned(),
            strata,
            draws: self.draws_seen(assessed, &chosen)?,
        };
        let (_, drawn) = self.decide_upon(who, |links| {
            let (known, _) = picks::fold(links);
            let pick = next_number(known.len());
            Ok(PickDrawn { pick, ..drawn })
        })?;
        self.pick(drawn.pick)
    }

    /// The draws of a pick's filter as they are now.
    ///
    /// # Errors
    /// A store that can't be read, or a stop.
    pub fn population(
        &self,
        assessed: &Assessed,
        filter: &Filter,
        progress: &Progress,
    ) -> Result<Population, Error> {
        let rows = filter.select(assessed);
        let identities = self.identities(assessed, &rows, progress)?;
        let texts: Vec<&str> = identities.iter().map(String::as_str).collect();
        Ok(Population {
            draws: rows.len() as u64,
            sha256: population_sha256(&texts),
            is_plain: texts.iter().all(|text| is_plain(text)),
        })
    }

    /// Reads a sheet of results for a pick. Nothing is kept yet.
    ///
    /// # Errors
    /// No such pick, or a sheet that can't be read.
    pub fn read_verification(&self, number: u32, sheet: &Path) -> Result<Sheet, Error> {
        let pick = self.pick(number)?;
        let is_in = |identity: &str| pick.place_of(identity).is_some();
        Ok(verification::read(sheet, &is_in)?)
    }

    /// Keeps results of a verification in the trail, those left out that say what is known
    /// already; `sheet` is the file they came from, with
    /// the SHA-256 of its bytes.
    ///
    /// # Errors
    /// No such pick, a draw that is not in it, no result at all, a store that can't be
    /// written.
    pub fn enter_results(
        &mut self,
        who: &Who,
        number: u32,
        results: Vec<Verified>,
        sheet: Option<(&str, &str)>,
    ) -> Result<Pick, Error> {
        let (name, sha256) = sheet.unwrap_or_default();
        let mut entered = PickVerified {
            pick: number,
            results,
            sheet: name.to_owned(),
            sheet_sha256: sha256.to_owned(),
        };
        self.decide_upon(who, |links| {
            let pick = find(picks::fold(links).0, number)?;
            if entered.results.is_empty() {
                return Err(Error::undecided("there is no result to enter"));
            }
            // A sheet that grows is entered again and again; what is known is not said twice.
            let known: Vec<&Verified> = pick.results.iter().flatten().map(|(_, it)| it).collect();
            entered
                .results
                .retain(|verified| !known.contains(&verified));
            if entered.results.is_empty() {
                return Err(Error::undecided(
                    "all of these results were entered already",
                ));
            }
            for verified in &entered.results {
                super::trail::writable("the note", &verified.note, true)?;
                if pick.place_of(&verified.draw).is_none() {
                    return Err(Error::undecided(format!(
                        "draw {} is not in pick {number}; `fairdraw pick show {number}` lists its \
                         draws",
                        verified.draw
                    )));
                }
            }
            Ok(entered)
        })?;
        self.pick(number)
    }

    /// The identities of these rows, in their order.
    fn identities(
        &self,
        assessed: &Assessed,
        rows: &Vec<u32>,
        progress: &Progress,
    ) -> Result<Vec<String>, Error> {
        let mut identities = Vec::with_capacity(rows.len());
        self.name_each(assessed, rows, progress, &mut |piece| {
            identities.extend(piece.iter().map(|named| named.identity(assessed)));
            Ok(())
        })?;
        Ok(identities)
    }
}

/// The places among `rows` of each part's draws, by name.
fn parts(assessed: &Assessed, rows: &[u32], by: Option<Parted>) -> BTreeMap<String, Vec<usize>> {
    let judged = &assessed.judged;
    let mut parts: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
    for (place, row) in rows.iter().enumerate() {
        let row = *row as usize;
        let point = &assessed.points[judged.point[row] as usize];
        let technician = &assessed.technicians[judged.technician[row] as usize];
        let name = match by {
            None => "all",
            Some(Parted::Technician) => &technician.id,
            Some(Parted::Crew) => technician.crew.as_deref().unwrap_or(BLANK),
            Some(Parted::Site) => point.site.as_deref().unwrap_or(BLANK),
            Some(Parted::Point) => &point.id,
        };
        parts.entry(name).or_default().push(place);
    }
    parts
        .into_iter()
        .map(|(name, places)| (name.to_owned(), places))
        .collect()
}

fn find(picks: Vec<Pick>, number: u32) -> Result<Pick, Error> {
    let count = picks.len();
    let mut picks = picks.into_iter();
    picks.find(|pick| pick.drawn.pick == number).ok_or_else(|| {
        Error::undecided(match count {
            0 => format!("there is no pick {number}; `fairdraw pick --plan …` draws one"),
            _ => format!("there is no pick {number}; `fairdraw pick list` shows them all"),
        })
    })
}

/// The number after so many.
pub(super) fn next_number(known: usize) -> u32 {
    u32::try_from(known + 1).expect("fewer decisions than u32 can count")
}

fn is_plain(identity: &str) -> bool {
    !identity.starts_with(['=', '+', '-', '@', '\t', '\r'])
        && !identity.contains([',', '"', '\n', '\r'])
        && !identity.starts_with(' ')
        && !identity.is_empty()
}
