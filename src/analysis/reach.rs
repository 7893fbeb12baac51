//! How far the records of each site reach: a site that has stopped sending its sheets shows
//! nothing wrong on any other list.

use super::Assessed;
use super::breakdown::Names;
use super::zone::Months;
use crate::model::time;

/// Months that are counted, the last of them that of the newest draw.
pub const MONTHS: usize = 12;

/// The records of one site.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The site; none for points without one.
    pub site: Option<String>,
    /// All its draws.
    pub draws: u64,
    /// When the newest of them was drawn, in seconds since 1970 UTC.
    pub newest: i64,
    /// Whole days of the programme's zone between that and the newest draw of all; 0 and more.
    pub behind: i64,
    /// Its draws in each of the last [`MONTHS`] months; fewer where the history is shorter.
    pub months: Vec<u64>,
}

/// Each site with a draw: the one whose newest draw is oldest first, then by name.
#[must_use]
pub fn reach(assessed: &Assessed) -> Vec<Reach> {
    let judged = &assessed.judged;
    let times = || judged.drawn_at.iter().copied();
    let (Some(oldest), Some(newest)) = (times().min(), times().max()) else {
        return Vec::new();
    };
    let months = Months::between(oldest, newest, assessed.zone);
    let ends: Vec<i64> = months.each_with_end().map(|(_, end)| end).collect();
    let first = ends.len().saturating_sub(MONTHS);
    let mut names = Names::default();
    let points = assessed.points.iter();
    let site_of: Vec<usize> = points.map(|it| names.of(it.site.as_deref())).collect();
    let mut sites: Vec<Reach> = (names.texts.iter())
        .map(|site| Reach {
            site: site.map(str::to_owned),
            draws: 0,
            newest: oldest,
            behind: 0,
            months: vec![0; ends.len() - first],
        })
        .collect();
    for (drawn_at, point) in times().zip(&judged.point) {
        let reach = &mut sites[site_of[*point as usize]];
        reach.draws += 1;
        reach.newest = reach.newest.max(drawn_at);
        let month = ends.partition_point(|end| *end <= drawn_at);
        if let Some(count) = month
            .checked_sub(first)
            .and_then(|at| reach.months.get_mut(at))
        {
            *count += 1;
        }
    }
    let day = |seconds| time::day_of(seconds, assessed.zone);
    sites.retain(|reach| reach.draws > 0);
    for reach in &mut sites {
        reach.behind = (day(newest) - day(reach.newest)).num_days();
    }
    sites.sort_by(|a, b| (a.newest, &a.site).cmp(&(b.newest, &b.site)));
    sites
}
