//! Laboratory results that people set aside, folded from the trail.

use std::collections::BTreeMap;

use super::{Error, Programme};
use crate::analysis::Assessed;
use crate::model::decisions::{ResultSetAside, SetAsideTakenBack};
use crate::model::time::utc_text;
use crate::model::trail::{Link, Who};

/// The most characters a reason may have.
pub const REASON_LIMIT: usize = 2000;

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

/// Why a result was not set aside or taken up again.
#[derive(Debug, thiserror::Error)]
pub enum SetAsideError {
    /// A reason that can't stand in the trail.
    #[error(
        "the reason is to be 1 to {REASON_LIMIT} characters on one line, without control characters"
    )]
    Reason,
    /// No such draw.
    #[error("there is no draw {draw}; `fairdraw score` lists them")]
    NoSuchDraw {
        /// The identity asked for.
        draw: String,
    },
    /// It is set aside already.
    #[error("the result of draw {draw} is set aside already, by {who}: {because}")]
    Already {
        /// The identity of the draw.
        draw: String,
        /// Who set it aside.
        who: String,
        /// Why.
        because: String,
    },
    /// It is not set aside.
    #[error(
        "the result of draw {draw} is not set aside; `fairdraw set-aside --list` lists those that are"
    )]
    NotSetAside {
        /// The identity of the draw.
        draw: String,
    },
    /// The programme file.
    #[error(transparent)]
    Programme(#[from] Error),
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

/// The reason as it is kept; none if it can't be.
fn reason(text: &str) -> Result<String, SetAsideError> {
    let text = text.trim();
    let fits = (1..=REASON_LIMIT).contains(&text.chars().count());
    if fits && !text.chars().any(char::is_control) {
        Ok(text.to_owned())
    } else {
        Err(SetAsideError::Reason)
    }
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
    /// See [`SetAsideError`].
    pub fn set_result_aside(
        &mut self,
        assessed: &Assessed,
        who: &Who,
        draw: &str,
        because: &str,
    ) -> Result<i64, SetAsideError> {
        let because = reason(because)?;
        let row = self.rows_of(assessed, &[draw])?[0].ok_or_else(|| SetAsideError::NoSuchDraw {
            draw: draw.to_owned(),
        })? as usize;
        let judged = &assessed.judged;
        let decision = ResultSetAside {
            draw: draw.to_owned(),
            point: assessed.points[judged.point[row] as usize].id.clone(),
            drawn_at: utc_text(judged.drawn_at[row]),
            verdict: judged.verdict[row].as_str().to_owned(),
            because,
        };
        let transaction = self.store.begin().map_err(Error::from)?;
        if let Some(set) = self.standing(draw)? {
            return Err(SetAsideError::Already {
                draw: set.draw,
                who: set.decided.who,
                because: set.decided.because,
            });
        }
        let link = self.append(&transaction, who, &decision)?;
        self.sql(transaction.commit())?;
        Ok(link)
    }

    /// Lets a result that was set aside count again and gives the number of the link. The draw
    /// itself may be gone from the programme.
    ///
    /// # Errors
    /// See [`SetAsideError`].
    pub fn take_back_set_aside(
        &mut self,
        who: &Who,
        draw: &str,
        because: &str,
    ) -> Result<i64, SetAsideError> {
        let decision = SetAsideTakenBack {
            draw: draw.to_owned(),
            because: reason(because)?,
        };
        let transaction = self.store.begin().map_err(Error::from)?;
        if self.standing(draw)?.is_none() {
            return Err(SetAsideError::NotSetAside {
                draw: draw.to_owned(),
            });
        }
        let link = self.append(&transaction, who, &decision)?;
        self.sql(transaction.commit())?;
        Ok(link)
    }

    /// The set aside of this draw that stands, if any.
    fn standing(&self, draw: &str) -> Result<Option<SetAside>, Error> {
        let mut all = self.set_asides()?.into_iter();
        Ok(all.find(|set| set.draw == draw && set.taken_back.is_none()))
    }
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

    #[test]
    fn a_reason_is_a_line_of_words() {
        assert_eq!(reason(" dirt in the tap ").unwrap(), "dirt in the tap");
        for text in [
            "",
            "  ",
            "a\nb",
            "a\u{1b}[2Jb",
            &"x".repeat(REASON_LIMIT + 1),
        ] {
            assert!(reason(text).is_err(), "{text:?}");
        }
    }
}
