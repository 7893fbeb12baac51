//! Laboratory results that people set aside, folded from the trail.

use std::collections::BTreeMap;

use super::trail::writable;
use super::{Error, Programme};
use crate::analysis::Assessed;
use crate::model::decisions::{ResultSetAside, SetAsideTakenBack};
use crate::model::time::utc_text;
use crate::model::trail::{Link, Who};

/// A result that someone set aside.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SetAside {
    /// The identity of the draw.
    pub draw: String,
    /// The point it was drawn at, as it stood then.
    pub point: String,
    /// When it was drawn, in UTC, as it stood then.
    pub drawn_at: String,
    /// The verdict as it stood then.
    pub verdict: String,
    /// Who set it aside, when (in seconds since 1970 UTC), why.
    pub decided: By,
    /// Who took that back, when, why; none while it stands.
    pub taken_back: Option<By>,
}

/// Who decided, when and why.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct By {
    /// The number of the link in the trail.
    pub link: i64,
    /// When, in seconds since 1970 UTC.
    pub at: i64,
    /// Who.
    pub who: String,
    /// Why.
    pub because: String,
}

impl By {
    fn of(link: &Link, because: String) -> Self {
        By {
            link: link.number,
            at: link.at,
            who: link.who.clone(),
            because,
        }
    }
}

/// Every result ever set aside, in the order of the trail; one set aside again after it was
/// taken back stands twice.
#[must_use]
pub fn fold(trail: &[Link]) -> Vec<SetAside> {
    let mut all: Vec<SetAside> = Vec::new();
    let mut standing: BTreeMap<String, usize> = BTreeMap::new();
    for link in trail {
        if let Some(set) = link.decision::<ResultSetAside>() {
            if standing.contains_key(&set.draw) {
                continue;
            }
            standing.insert(set.draw.clone(), all.len());
            all.push(SetAside {
                decided: By::of(link, set.because),
                draw: set.draw,
                point: set.point,
                drawn_at: set.drawn_at,
                verdict: set.verdict,
                taken_back: None,
            });
        } else if let Some(back) = link.decision::<SetAsideTakenBack>()
            && let Some(place) = standing.remove(&back.draw)
        {
            all[place].taken_back = Some(By::of(link, back.because));
        }
    }
    all
}

impl Programme {
    /// Every result ever set aside, also those taken up again, the first first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn set_asides(&self) -> Result<Vec<SetAside>, Error> {
        Ok(fold(&self.trail()?))
    }

    /// The rows whose results are set aside, each with who, when and why. A draw that is not
    /// in the programme any more has none.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn set_aside_rows(&self, assessed: &Assessed) -> Result<BTreeMap<u32, SetAside>, Error> {
        let mut standing = self.set_asides()?;
        standing.retain(|set| set.taken_back.is_none());
        let draws: Vec<&str> = standing.iter().map(|set| set.draw.as_str()).collect();
        let rows = self.rows_of(assessed, &draws)?;
        let found = rows.into_iter().zip(standing);
        Ok(found.filter_map(|(row, set)| Some((row?, set))).collect())
    }

    /// Sets the result of the draw of this identity aside and gives the number of the link.
    ///
    /// # Errors
    /// No such draw, or it is set aside already; a reason that is blank or can't be printed; a
    /// store that can't be written.
    pub fn set_result_aside(
        &mut self,
        assessed: &Assessed,
        who: &Who,
        draw: &str,
        because: &str,
    ) -> Result<i64, Error> {
        writable("the reason", because, false)?;
        let row = self.rows_of(assessed, &[draw])?[0].ok_or_else(|| {
            Error::undecided(format!(
                "there is no draw {draw}; `fairdraw score` lists draws by their identity"
            ))
        })? as usize;
        let judged = &assessed.judged;
        let decision = ResultSetAside {
            draw: draw.to_owned(),
            point: assessed.points[judged.point[row] as usize].id.clone(),
            drawn_at: utc_text(judged.drawn_at[row]),
            verdict: judged.verdict[row].as_str().to_owned(),
            because: because.trim().to_owned(),
        };
        let (link, _) = self.decide_upon(who, |links| match standing(links, draw) {
            None => Ok(decision),
            Some(SetAside { decided, .. }) => Err(Error::undecided(format!(
                "the result of draw {draw} is set aside already, by {}: {}",
                decided.who, decided.because
            ))),
        })?;
        Ok(link)
    }

    /// Lets a result that was set aside count again and gives the number of the link. The draw
    /// itself may be gone from the programme.
    ///
    /// # Errors
    /// It is not set aside; else as [`Self::set_result_aside`].
    pub fn take_back_set_aside(
        &mut self,
        who: &Who,
        draw: &str,
        because: &str,
    ) -> Result<i64, Error> {
        writable("the reason", because, false)?;
        let decision = SetAsideTakenBack {
            draw: draw.to_owned(),
            because: because.trim().to_owned(),
        };
        let (link, _) = self.decide_upon(who, |links| match standing(links, draw) {
            Some(_) => Ok(decision),
            None => Err(Error::undecided(format!(
                "the result of draw {draw} is not set aside; `fairdraw set-aside --list` lists \
                 those that are"
            ))),
        })?;
        Ok(link)
    }
}

/// The set aside of this draw that stands, if any.
pub(super) fn standing(trail: &[Link], draw: &str) -> Option<SetAside> {
    let mut all = fold(trail).into_iter();
    all.find(|set| set.draw == draw && set.taken_back.is_none())
}

#[cfg(test)]
mod tests {
    #![allow(clippy::unwrap_used)]
    use super::*;

    fn trail(steps: &[(&str, bool)]) -> Vec<Link> {
        let who = Who::named("Ada").unwrap();
        let mut links: Vec<Link> = Vec::new();
        for (at, (draw, aside)) in (1..).zip(steps) {
            let draw = (*draw).to_owned();
            let because = format!("reason {at}");
            let link = if *aside {
                let set = ResultSetAside {
                    draw,
                    point: "P-1".to_owned(),
                    drawn_at: "2026-01-01T00:00:00Z".to_owned(),
                    verdict: "representative".to_owned(),
                    because,
                };
                Link::after(links.last(), at, &who, &set)
            } else {
                Link::after(links.last(), at, &who, &SetAsideTakenBack { draw, because })
            };
            links.push(link.unwrap());
        }
        links
    }

    #[test]
    fn what_was_taken_back_stands_as_such_and_can_be_set_aside_again() {
        let folded = fold(&trail(&[
            ("D-1", true),
            ("D-2", true),
            // Neither is possible here; a file written by other means may hold them.
            ("D-1", true),
            ("D-3", false),
            ("D-1", false),
            ("D-1", true),
        ]));
        let told: Vec<_> = folded
            .iter()
            .map(|set| {
                let back = set.taken_back.as_ref().map(|back| back.link);
                (set.draw.as_str(), set.decided.link, back)
            })
            .collect();
        assert_eq!(
            told,
            [("D-1", 1, Some(5)), ("D-2", 2, None), ("D-1", 6, None)]
        );
    }
}
