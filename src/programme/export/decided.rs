//! What people decided, as it goes into a pack: findings, picks, resamples, results set
//! aside, imports. Where the pack is narrowed, decisions stay in it if any of their draws do,
//! and only these draws are shown with them.

use rustc_hash::FxHashSet;

use super::Content;
use super::codes::{Codes, Whose};
use super::tables::Put;
use crate::analysis::findings::{self, Finding};
use crate::analysis::picks::{self, Pick, outcome, rank};
use crate::analysis::{Assessed, Selection, all_point_facts};
use crate::model::Progress;
use crate::model::decisions::finding::Subject;
use crate::model::trail::{Link, hexadecimal};
use crate::programme::resamples::ToResample;
use crate::programme::set_aside::{self, By, SetAside};
use crate::programme::{Batch, Error, Programme, sheet_row};
use crate::report::pack::{self, decided_rows};
use crate::report::resample_rows::{self, Row};
use crate::report::{finding_rows, ledger_rows, pick_rows};

/// What people decided.
pub(super) struct Decided {
    pub findings: Vec<Finding>,
    pub picks: Vec<Pick>,
    pub set_asides: Vec<SetAside>,
    pub resamples: ToResample,
    pub batches: Vec<Batch>,
}

impl Decided {
    /// All that was decided on these draws; names in it are replaced where there are codes.
    pub fn of(
        programme: &Programme,
        (assessed, selection): (&Assessed, &Selection),
        trail: &[Link],
        codes: Option<&Codes>,
        progress: &Progress,
    ) -> Result<Self, Error> {
        let mut decided = Decided {
            findings: findings::fold(trail).0,
            picks: picks::fold(trail).0,
            set_asides: set_aside::fold(trail),
            resamples: programme.resamples(
                assessed,
                selection,
                programme.now(),
                false,
                progress,
            )?,
            batches: programme.batches()?,
        };
        if selection.len() < assessed.judged.len() {
            decided.narrow(programme, assessed, selection)?;
        }
        if let Some(codes) = codes {
            decided.hide(codes);
        }
        Ok(decided)
    }

    /// Leaves only draws of the selection, and decisions on them.
    fn narrow(
        &mut self,
        programme: &Programme,
        assessed: &Assessed,
        selection: &Selection,
    ) -> Result<(), Error> {
        let evidence = self
            .findings
            .iter()
            .flat_map(|finding| &finding.raised.evidence);
        let picked = self.picks.iter().flat_map(|pick| &pick.drawn.draws);
        let seen = evidence.chain(picked).map(|seen| seen.draw.as_str());
        let set_aside = self.set_asides.iter().map(|set| set.draw.as_str());
        let names: Vec<&str> = seen.chain(set_aside).collect();
        let rows = programme.rows_of(assessed, &names)?;
        let mut is_selected = vec![false; assessed.judged.len()];
        for row in selection {
            is_selected[*row as usize] = true;
        }
        let inside: FxHashSet<String> = (names.iter().zip(rows))
            .filter(|(_, row)| row.is_some_and(|row| is_selected[row as usize]))
            .map(|(name, _)| (*name).to_owned())
            .collect();
        self.findings.retain_mut(|finding| {
            let evidence = &mut finding.raised.evidence;
            evidence.retain(|seen| inside.contains(&seen.draw));
            !evidence.is_empty()
        });
        // A pick is kept whole: what it found speaks for all its draws together.
        self.picks.retain(|pick| {
            pick.drawn
                .draws
                .iter()
                .any(|seen| inside.contains(&seen.draw))
        });
        self.set_asides.retain(|set| inside.contains(&set.draw));
        Ok(())
    }

    /// Replaces people by codes where names stand inside other texts; whole columns of names
    /// and free texts are seen to when rows are written.
    fn hide(&mut self, codes: &Codes) {
        for finding in &mut self.findings {
            if let Subject::Technician { id } = &mut finding.raised.subject {
                *id = codes.code(Whose::Technician, id);
            }
        }
        for pick in &mut self.picks {
            let whose = match pick.drawn.by.as_str() {
                "technician" => Whose::Technician,
                "crew" => Whose::Crew,
                _ => continue,
            };
            for part in &mut pick.drawn.strata {
                part.name = codes.code(whose, &part.name);
            }
        }
    }
}

impl Content<'_> {
    /// The tables of what people decided.
    pub(super) fn decided(&self, put: Put<'_>) -> Result<(), Error> {
        self.findings(put)?;
        self.picks(put)?;
        self.resamples(put)?;
        let zone = self.assessed.zone;
        let batches = &self.decided.batches;
        let rows = batches
            .iter()
            .map(|batch| ledger_rows::batch(&batch.row(), zone));
        put(pack::LEDGER, rows.collect())?;
        let sheets = batches.iter().flat_map(|batch| {
            let number = batch.import.number;
            let sheets = batch.sheets.iter().enumerate();
            sheets.map(move |(place, sheet)| ledger_rows::sheet(number, place, &sheet_row(sheet)))
        });
        put(pack::LEDGER_SHEETS, sheets.collect())
    }

    fn findings(&self, put: Put<'_>) -> Result<(), Error> {
        let findings = &self.decided.findings;
        let rows = findings
            .iter()
            .map(|finding| finding_rows::finding(finding, self.today));
        put(pack::FINDINGS, rows.collect())?;
        let mut rows = Vec::new();
        for finding in findings {
            let evidence = &finding.raised.evidence;
            let now = self.programme.draws_now(self.assessed, evidence)?;
            let (number, zone) = (finding.number(), self.assessed.zone);
            rows.extend(
                evidence
                    .iter()
                    .zip(now)
                    .map(|(seen, now)| decided_rows::evidence(number, seen, now.words(), zone)),
            );
        }
        put(pack::EVIDENCE, rows)
    }

    fn picks(&self, put: Put<'_>) -> Result<(), Error> {
        let picks = &self.decided.picks;
        let found: Vec<_> = picks
            .iter()
            .map(|pick| {
                let confidence = pick.drawn.plan.confidence().parse().unwrap_or(0.95);
                (pick, outcome(pick, confidence))
            })
            .collect();
        let zone = self.assessed.zone;
        let rows = found
            .iter()
            .map(|(pick, outcome)| pick_rows::pick(pick, &outcome.counts, zone));
        put(pack::PICKS, rows.collect())?;
        let rows = found
            .iter()
            .map(|(pick, outcome)| decided_rows::outcome(pick, outcome));
        put(pack::OUTCOMES, rows.collect())?;
        let rows = picks.iter().flat_map(|pick| {
            let parts = pick
                .drawn
                .strata
                .iter()
                .flat_map(|part| std::iter::repeat_n(part.name.as_str(), part.picked as usize));
            let draws = pick.drawn.draws.iter().zip(parts).zip(&pick.results);
            draws.map(|((seen, part), result)| {
                let rank = hexadecimal(&rank(&pick.drawn.seed, &seen.draw));
                let verified = result.as_ref().map(|(_, verified)| verified);
                decided_rows::picked(pick, seen, (part, rank), verified)
            })
        });
        put(pack::PICKED, rows.collect())
    }

    fn resamples(&self, put: Put<'_>) -> Result<(), Error> {
        let found = &self.decided.resamples;
        let facts = all_point_facts(self.assessed);
        let rows = found.found.list.iter().map(|resample| {
            let row = Row {
                assessed: self.assessed,
                found: resample,
                latest: found.latest(resample),
                trusted: (resample.last_trusted)
                    .and_then(|row| found.identities.get(&row))
                    .map(String::as_str),
                set_aside: (found.set_aside.get(&resample.row))
                    .map(|set| (set.decided.who.as_str(), set.decided.because.as_str())),
                facts: &facts[resample.point],
            };
            row.cells()
        });
        put(pack::RESAMPLES, rows.collect())?;
        let zone = self.assessed.zone;
        let rows = self.decided.set_asides.iter().map(|set| {
            let draw = [&set.draw, &set.point, &set.drawn_at, &set.verdict].map(String::as_str);
            let back = set.taken_back.as_ref().map(decision);
            resample_rows::set_aside(draw, decision(&set.decided), back, zone)
        });
        put(pack::SET_ASIDES, rows.collect())
    }
}

fn decision(by: &By) -> resample_rows::Decision<'_> {
    (&by.who, by.at, &by.because, by.link)
}
