//! Which compartments to sample again: those whose latest sample can't be trusted.
//!
//! *Whose.* Draws are looked at in the series in which the scoring contract looks for a
//! previous draw: a compartment with circulating oil or a sump is one series; in tanks and
//! grease each point is one.
//!
//! *Latest.* The draws of a series within [`VISIT_HOURS`] before its latest one are one visit:
//! a second fill, or a bottle filled again the same day, does not hide the first. The sample
//! of a visit can be trusted if one of its draws can.
//!
//! *Trusted.* A draw that is representative or doubtful (shown to stand for the machine) and
//! whose result nobody set aside. Asked strictly, a doubtful one is not trusted either. An
//! unproven draw never is: a blank proves nothing.
//!
//! *How much rides on it.* The time since the last draw that can be trusted, against the
//! agreed interval; see [`Standing`].

pub mod at_point;
pub mod due;
pub mod fields;
mod series;

use std::cmp::Ordering;
use std::collections::BTreeSet;

use rustc_hash::FxHashMap;

pub use due::{Counters, Since, Standing};
use series::{Found, SeriesOf};

use super::{Assessed, Selection};
use crate::model::{Kind, Method, RuleSet, Verdict};
use crate::rules::cards;

/// Draws of a series that lie at most so many hours before its latest one belong to the same
/// visit. It is what the default rulebook allows the draws of one tank set.
pub const VISIT_HOURS: i64 = 24;

/// What is asked for.
#[derive(Clone, Debug, Default)]
pub struct Asked {
    /// The present, in seconds since 1970 UTC; later draws are left out.
    pub now: i64,
    /// Whether a doubtful draw is not trusted either.
    pub strict: bool,
    /// Rows of the draws whose results were set aside.
    pub set_aside: BTreeSet<u32>,
}

/// Why a sample can't be trusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Because {
    /// The draw is unrepresentative.
    Unrepresentative,
    /// The laboratory's result was set aside.
    SetAside,
    /// The draw is unproven.
    Unproven,
    /// The draw is doubtful, and the question was strict.
    Doubtful,
}

impl Because {
    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Because::Unrepresentative => "unrepresentative",
            Because::SetAside => "set aside",
            Because::Unproven => "unproven",
            Because::Doubtful => "doubtful",
        }
    }
}

/// A series of draws whose latest sample can't be trusted.
#[derive(Clone, Debug, PartialEq)]
pub struct Resample {
    /// The row of the draw that speaks for the latest visit: of those not set aside before
    /// those that are, the one of the best verdict, of equals the latest.
    pub row: u32,
    /// Why it can't be trusted.
    pub because: Because,
    /// How many draws the visit has.
    pub visit_draws: u32,
    /// The row of the last draw that can be trusted, if there ever was one.
    pub last_trusted: Option<u32>,
    /// The row that the time is counted from: the last trusted draw, else the first of all.
    pub from: u32,
    /// The row of the series' latest draw, and of its earliest in the year before that: what
    /// the machine's counter went on by between them is its pace.
    pub pace: [u32; 2],
    /// Place of the point to draw at: the agreed one.
    pub point: usize,
    /// Further agreed points of the series.
    pub further_points: Vec<usize>,
    /// Whether the point is an agreed one; otherwise it is that of the latest draw.
    pub is_agreed: bool,
    /// The method: the agreed one, else that of the last trusted draw.
    pub method: Option<Method>,
    /// How the time since stands to the interval.
    pub standing: Standing,
}

impl Resample {
    /// Rows of the draws whose counters [`rank`] wants to know.
    #[must_use]
    pub fn counter_rows(&self) -> [u32; 3] {
        [self.from, self.pace[0], self.pace[1]]
    }

    /// Rules to keep better than last time: those broken on the latest draw, those of the
    /// verdict first, heaviest first, then conduct, then record.
    #[must_use]
    pub fn to_mend(&self, assessed: &Assessed) -> Vec<usize> {
        self.in_weight_order(assessed, assessed.judged.broken[self.row as usize])
    }

    /// Rules on which the latest draw's record says nothing, in the same order.
    #[must_use]
    pub fn to_record(&self, assessed: &Assessed) -> Vec<usize> {
        self.in_weight_order(assessed, assessed.judged.unrecorded[self.row as usize])
    }

    fn in_weight_order(&self, assessed: &Assessed, rules: RuleSet) -> Vec<usize> {
        let point = assessed.judged.point[self.row as usize] as usize;
        let book = &assessed.rulebook.all_in_force()[assessed.in_force[point]];
        let mut rules: Vec<usize> = rules.iter().collect();
        rules.sort_by_key(|&rule| {
            let class = match cards()[rule].class {
                crate::model::Class::Sample => 0,
                crate::model::Class::Conduct => 1,
                crate::model::Class::Record => 2,
            };
            let weight = std::cmp::Reverse(book.weights[rule]);
            (class, !book.decisive.has(rule), weight, rule)
        });
        rules
    }
}

/// What was found.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Resamples {
    /// Those to sample again, most urgent first once [`rank`] has been over them.
    pub list: Vec<Resample>,
    /// How many series have draws.
    pub series: usize,
    /// How many draws are dated after the present and were left out.
    pub later: usize,
}

impl Resamples {
    /// Leaves those whose latest draw is in the selection. Which draw is the latest does not
    /// depend on it.
    pub fn narrow(&mut self, selection: &Selection) {
        self.list
            .retain(|found| selection.binary_search(&found.row).is_ok());
    }
}

/// Every series whose latest sample can't be trusted, without the machine's counters, by days
/// alone; [`rank`] puts them in order.
#[must_use]
pub fn find(assessed: &Assessed, asked: &Asked) -> Resamples {
    let series = SeriesOf::points(assessed);
    let trusted = |row: usize| {
        let verdict = assessed.judged.verdict[row];
        let stands = match verdict {
            Verdict::Representative => true,
            Verdict::Doubtful => !asked.strict,
            Verdict::Unrepresentative | Verdict::Unproven => false,
        };
        let number = u32::try_from(row).expect("rows are counted in 32 bits");
        stands && !asked.set_aside.contains(&number)
    };
    let until = assessed
        .judged
        .drawn_at
        .partition_point(|&at| at <= asked.now);
    let found = series.go_over(assessed, until, &trusted, &asked.set_aside);
    let agreed = series.agreed(assessed);
    let list = found
        .iter()
        .zip(&agreed)
        .filter_map(|(found, agreed)| {
            let found = found.as_ref()?;
            (!found.is_trusted()).then(|| resample(assessed, asked, found, agreed))
        })
        .collect();
    Resamples {
        list,
        series: found.iter().flatten().count(),
        later: assessed.judged.len() - until,
    }
}

fn resample(assessed: &Assessed, asked: &Asked, found: &Found, agreed: &[usize]) -> Resample {
    let judged = &assessed.judged;
    let at = |row: u32| judged.drawn_at[row as usize];
    let latest_point = judged.point[found.speaks as usize] as usize;
    // Of several agreed points the one drawn at last time, so that a trend goes on.
    let point = match agreed {
        [] => latest_point,
        agreed if agreed.contains(&latest_point) => latest_point,
        [first, ..] => *first,
    };
    let last_method = |row: Option<u32>| Method::from_index(judged.method[row? as usize]);
    let from = found.last_trusted.unwrap_or(found.first);
    let since = Since {
        seconds: asked.now - at(from),
        ever: found.last_trusted.is_some(),
    };
    let because = match judged.verdict[found.speaks as usize] {
        _ if asked.set_aside.contains(&found.speaks) => Because::SetAside,
        Verdict::Unrepresentative => Because::Unrepresentative,
        Verdict::Unproven => Because::Unproven,
        Verdict::Doubtful | Verdict::Representative => Because::Doubtful,
    };
    Resample {
        row: found.speaks,
        because,
        visit_draws: found.visit_draws,
        last_trusted: found.last_trusted,
        from,
        pace: [found.latest, found.year_ago],
        point,
        further_points: agreed.iter().copied().filter(|it| *it != point).collect(),
        is_agreed: !agreed.is_empty(),
        method: (assessed.points[point].method).or_else(|| last_method(found.last_trusted)),
        standing: Standing::by_days(since, &assessed.points[point]),
    }
}

/// Adds what the machines' counters tell and puts the list in order, most urgent first:
///
/// 1. those that never had a trustworthy sample before those that had one;
/// 2. the greatest ratio of time gone by to interval first, those without an interval last;
/// 3. unrepresentative before set aside, unproven and doubtful;
/// 4. the longest time first; 5. by compartment, then point, in byte order.
///
/// `hours` tells the machine's counter on the draw in a row, if it was recorded.
pub fn rank(
    assessed: &Assessed,
    now: i64,
    list: &mut [Resample],
    hours: &dyn Fn(u32) -> Option<f64>,
) {
    let at = |row: u32| assessed.judged.drawn_at[row as usize];
    for found in list.iter_mut() {
        let counter = |row: u32| Some((at(row), hours(row)?));
        let counters = Counters {
            from: counter(found.from),
            latest: counter(found.pace[0]),
            year_ago: counter(found.pace[1]),
        };
        found.standing = found.standing.with_hours(counters.hours_since(now));
    }
    list.sort_by(|one, other| {
        let place = |found: &Resample| &assessed.points[found.point];
        let (here, there) = (place(one), place(other));
        let urgency = one.standing.urgency(&other.standing);
        (urgency.then_with(|| one.because.cmp(&other.because)))
            .then_with(|| {
                other
                    .standing
                    .since
                    .seconds
                    .cmp(&one.standing.since.seconds)
            })
            .then_with(|| here.compartment.cmp(&there.compartment))
            .then_with(|| here.id.cmp(&there.id))
    });
}

/// How many compartments of a group want sampling again.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct GroupCount {
    /// The site; none if the sheet has none.
    pub key: Option<String>,
    /// How many want sampling again.
    pub resamples: u64,
    /// Of these, how many never had a trustworthy sample.
    pub never: u64,
    /// Of these, for how many more than the interval has gone by.
    pub over: u64,
}

/// The counts by site, most resamples first, then by name with the blank one last.
#[must_use]
pub fn by_site(assessed: &Assessed, list: &[Resample]) -> Vec<GroupCount> {
    let mut groups: FxHashMap<Option<&str>, GroupCount> = FxHashMap::default();
    for found in list {
        let site = assessed.points[found.point].site.as_deref();
        let group = groups.entry(site).or_default();
        group.resamples += 1;
        group.never += u64::from(!found.standing.since.ever);
        group.over += u64::from(found.standing.ratio().is_some_and(|ratio| ratio > 1.0));
    }
    let mut groups: Vec<GroupCount> = groups
        .into_iter()
        .map(|(key, group)| GroupCount {
            key: key.map(str::to_owned),
            ..group
        })
        .collect();
    groups.sort_by(|one, other| {
        let blank_last = |group: &GroupCount| group.key.is_none();
        (other.resamples.cmp(&one.resamples))
            .then_with(|| blank_last(one).cmp(&blank_last(other)))
            .then_with(|| one.key.cmp(&other.key))
    });
    groups
}

/// Whether draws of this kind are looked at compartment by compartment, as the scoring
/// contract does for the previous draw; otherwise point by point.
fn by_compartment(kind: Kind) -> bool {
    matches!(kind, Kind::Circulating | Kind::Sump)
}

fn descending(one: f64, other: f64) -> Ordering {
    other.total_cmp(&one)
}
