//! The checked rulebook.
//!
//! Default values live in the rule files. A programme's own file says only what differs.
//! It passes three forms: as written (`written`), checked (`read`), and laid over the
//! default as sets of rules in force, which is all that is left of it.

mod checked;
mod default_text;
mod in_force;
mod read;

use std::fmt::{self, Write as _};

use chrono::NaiveDate;
use rustc_hash::FxHashMap;

pub use crate::written::{Place, Problem};
pub use default_text::default_yaml;
pub use in_force::{InForce, Setting, Standing};

use crate::model::MachineClass;
use crate::rules::registry::cards;
use crate::written::{self, sha256_hex};
use checked::{Change, Checked, What};

/// What such a file is called in problems.
const WHAT: &str = "rulebook";

/// The two cuts of the verdict, in percent of the weight, whole numbers 0 to 100.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cuts {
    /// Below this a draw is unrepresentative (60 by default).
    pub unrepresentative: u32,
    /// Below this a draw is doubtful (85 by default).
    pub doubtful: u32,
}

impl Default for Cuts {
    fn default() -> Self {
        Cuts {
            unrepresentative: 60,
            doubtful: 85,
        }
    }
}

/// A checked rulebook: the default with what a programme's own file changes.
pub struct Rulebook {
    /// Its name.
    pub name: String,
    /// Its revision, as written.
    pub revision: String,
    /// Its date, if it bears one.
    pub date: Option<NaiveDate>,
    /// The distinct sets; the first is the one without any override.
    in_force: Vec<InForce>,
    /// The sites named in overrides, sorted.
    sites: Vec<String>,
    /// For each site, then for all others, one place in `in_force` a machine class, blank
    /// first.
    table: Vec<[usize; CLASSES]>,
    fingerprint: String,
}

impl fmt::Debug for Rulebook {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.debug_struct("Rulebook")
            .field("name", &self.name)
            .field("revision", &self.revision)
            .field("fingerprint", &self.fingerprint)
            .finish_non_exhaustive()
    }
}

/// The machine classes, and blank.
const CLASSES: usize = MachineClass::ALL.len() + 1;

impl Rulebook {
    /// The default rulebook.
    #[must_use]
    pub fn standard() -> Self {
        let nothing_differs = Checked {
            name: "standard".to_owned(),
            revision: "1".to_owned(),
            date: None,
            cuts: Cuts::default(),
            changes: Vec::new(),
            overrides: Vec::new(),
        };
        Rulebook::lay_over_default(nothing_differs, "", &mut Vec::new())
    }

    /// Reads a programme's own rulebook. `file` is how the file is named in problems.
    ///
    /// # Errors
    /// All that is wrong with it, in the order of the file.
    pub fn from_yaml(text: &str, file: &str) -> Result<Self, Vec<Problem>> {
        let root = written::parse(text, file, WHAT).map_err(|problem| vec![problem])?;
        let mut problems = Vec::new();
        let checked = read::check(&root, file, &mut problems);
        let book = checked.map(|checked| Rulebook::lay_over_default(checked, file, &mut problems));
        match book {
            Some(book) if problems.is_empty() => Ok(book),
            _ => {
                problems.sort_by_key(|problem| (problem.line, problem.column));
                Err(problems)
            }
        }
    }

    /// Reads a programme's own rulebook from the bytes of a file.
    ///
    /// # Errors
    /// As [`Self::from_yaml`], or that the bytes are not UTF-8, and where.
    pub fn from_bytes(bytes: &[u8], file: &str) -> Result<Self, Vec<Problem>> {
        let text = written::utf8(bytes, file).map_err(|problem| vec![problem])?;
        Rulebook::from_yaml(text, file)
    }

    /// SHA-256 (hex) over everything that can change a verdict: two rulebooks of equal
    /// fingerprint judge alike.
    #[must_use]
    pub fn fingerprint(&self) -> &str {
        &self.fingerprint
    }

    /// The distinct sets of rules this book can put in force. The first is the one that
    /// holds where no override does.
    #[must_use]
    pub fn all_in_force(&self) -> &[InForce] {
        &self.in_force
    }

    /// The place in [`Self::all_in_force`] of the rules for this machine class and site.
    #[must_use]
    pub fn in_force_at(&self, class: Option<MachineClass>, site: Option<&str>) -> usize {
        let row = site
            .and_then(|site| self.sites.binary_search_by(|s| s.as_str().cmp(site)).ok())
            .unwrap_or(self.sites.len());
        let column = class.map_or(0, |class| usize::from(class.index()) + 1);
        self.table[row][column]
    }

    /// SHA-256 (hex) over the rules at this place of [`Self::all_in_force`]. Draws judged
    /// under an equal one need not be judged again, whatever else changed in the book.
    ///
    /// # Panics
    /// When there is no such place.
    #[must_use]
    pub fn in_force_fingerprint(&self, place: usize) -> &str {
        self.in_force[place].fingerprint()
    }

    fn lay_over_default(checked: Checked, file: &str, problems: &mut Vec<Problem>) -> Self {
        let mut sites: Vec<String> = (checked.overrides.iter())
            .filter_map(|one| one.sites.clone())
            .flatten()
            .collect();
        sites.sort_unstable();
        sites.dedup();
        let mut sets = Sets {
            checked: &checked,
            file,
            problems,
            in_force: Vec::new(),
            by_overrides: FxHashMap::default(),
            by_fingerprint: FxHashMap::default(),
        };
        let _ = sets.with(&[]);
        let rows = sites.iter().map(|site| Some(site.as_str())).chain([None]);
        let table: Vec<[usize; CLASSES]> = rows
            .map(|site| std::array::from_fn(|column| sets.at(class_at(column), site)))
            .collect();
        let in_force = sets.in_force;
        Rulebook {
            fingerprint: fingerprint(&in_force, &sites, &table),
            name: checked.name,
            revision: checked.revision,
            date: checked.date,
            in_force,
            sites,
            table,
        }
    }
}

/// The machine class of a column of the table; the first one is blank.
fn class_at(column: usize) -> Option<MachineClass> {
    column
        .checked_sub(1)
        .and_then(|place| MachineClass::ALL.get(place).copied())
}

/// The sets of rules as they are found, each distinct one once.
struct Sets<'a> {
    checked: &'a Checked,
    file: &'a str,
    problems: &'a mut Vec<Problem>,
    in_force: Vec<InForce>,
    by_overrides: FxHashMap<Vec<usize>, usize>,
    by_fingerprint: FxHashMap<String, usize>,
}

impl Sets<'_> {
    /// The set that holds for this machine class and site.
    fn at(&mut self, class: Option<MachineClass>, site: Option<&str>) -> usize {
        let holding: Vec<usize> = (self.checked.overrides.iter().enumerate())
            .filter(|(_, one)| {
                let here = |sites: &Vec<String>| sites.iter().any(|s| Some(s.as_str()) == site);
                let this =
                    |classes: &Vec<MachineClass>| class.is_some_and(|c| classes.contains(&c));
                one.sites.as_ref().is_none_or(here) && one.classes.as_ref().is_none_or(this)
            })
            .map(|(place, _)| place)
            .collect();
        self.with(&holding)
    }

    /// The set under these overrides.
    fn with(&mut self, overrides: &[usize]) -> usize {
        if let Some(known) = self.by_overrides.get(overrides) {
            return *known;
        }
        let checked = self.checked;
        let changes: Vec<&Change> = (checked.changes.iter())
            .chain(
                overrides
                    .iter()
                    .flat_map(|o| &checked.overrides[*o].changes),
            )
            .collect();
        let mut standings = Standing::defaults();
        for change in &changes {
            change.apply(&mut standings);
        }
        self.check_order(&changes, &standings);
        let built = InForce::build(standings, checked.cuts);
        let next = self.in_force.len();
        let place = *(self.by_fingerprint)
            .entry(built.fingerprint().to_owned())
            .or_insert(next);
        if place == next {
            self.in_force.push(built);
        }
        self.by_overrides.insert(overrides.to_vec(), place);
        place
    }

    /// A lower limit must not lie above its upper one, whichever of the two was changed,
    /// by the book or by several overrides together.
    fn check_order(&mut self, changes: &[&Change], standings: &[Standing]) {
        for (rule, card) in cards().iter().enumerate() {
            for lower in card.parameters {
                let Some(upper) = lower.not_above else {
                    continue;
                };
                let value = |name: &str| standings[rule].settings[name].as_f64();
                if value(lower.name) <= value(upper) {
                    continue;
                }
                let last = changes.iter().rev().find(|change| {
                    let names = [lower.name, upper];
                    change.rule == rule
                        && matches!(change.what, What::Parameter(name, _) if names.contains(&name))
                });
                let message = format!(
                    "{} of {} would be above {upper} here; put them in order",
                    lower.name, card.id
                );
                let at = last.map_or(Place::START, |change| change.at);
                let problem = Problem::new(self.file, at, &message);
                if !self.problems.contains(&problem) {
                    self.problems.push(problem);
                }
            }
        }
    }
}

/// Over what holds where, not over how it was written: a site whose overrides change
/// nothing leaves no trace.
fn fingerprint(in_force: &[InForce], sites: &[String], table: &[[usize; CLASSES]]) -> String {
    let elsewhere = table[sites.len()];
    let mut text = String::new();
    let mut row = |name: &str, sets: &[usize; CLASSES]| {
        let _ = write!(text, "{name}:");
        for set in sets {
            let _ = write!(text, " {}", in_force[*set].fingerprint());
        }
        text.push('\n');
    };
    row("elsewhere", &elsewhere);
    for (site, sets) in sites.iter().zip(table) {
        if *sets != elsewhere {
            row(&format!("site {site:?}"), sets);
        }
    }
    sha256_hex(&text)
}
