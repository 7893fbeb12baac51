//! The rules as they stand for one machine class at one site.

use std::fmt::Write as _;
use std::sync::LazyLock;

use serde_json::Value;

use super::Cuts;
use crate::model::phrase::exact;
use crate::model::{Class, Kind, RuleSet};
use crate::rules::registry::{Settings, cards, maker};
use crate::rules::{COUNT, Rule};
use crate::written::sha256_hex;

/// Changes whenever the logic of a rule or of the verdict changes, so that what was judged
/// by the older logic counts as stale.
const LOGIC: u32 = 1;

/// How one rule stands: on or off, its weight, its parameters.
#[derive(Clone, Debug, PartialEq)]
pub struct Standing {
    /// Whether it is applied.
    pub on: bool,
    /// Its weight.
    pub weight: u32,
    /// Whether a breach alone is decisive.
    pub decisive: bool,
    /// Its parameters by name.
    pub settings: Settings,
}

impl Standing {
    /// Every rule as its own file has it.
    #[must_use]
    pub fn defaults() -> Vec<Standing> {
        (cards().iter().enumerate())
            .map(|(place, card)| Standing {
                on: true,
                weight: card.weight,
                decisive: card.decisive,
                settings: (maker(place).defaults)(),
            })
            .collect()
    }
}

/// One parameter of a rule as it stands, for pages and screens.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Setting {
    /// The name of the parameter in rulebooks.
    pub name: &'static str,
    /// Its value as text.
    pub value: String,
    /// Its unit; empty if it has none.
    pub unit: &'static str,
    /// What it means.
    pub meaning: &'static str,
}

/// The rules as they stand for one machine class at one site: overrides applied.
pub struct InForce {
    /// Each rule with its parameters, in the contract's order; `None` where it is off.
    pub rules: [Option<Box<dyn Rule>>; COUNT],
    /// The weight of each rule.
    pub weights: [u32; COUNT],
    /// The rules whose breach alone is decisive (class sample only).
    pub decisive: RuleSet,
    /// The cuts of the verdict.
    pub cuts: Cuts,
    standings: Vec<Standing>,
    by_kind: [RuleSet; 4],
    fingerprint: String,
}

impl InForce {
    /// Builds the rules from how they stand, one standing a rule in the contract's order.
    #[must_use]
    pub fn build(standings: Vec<Standing>, cuts: Cuts) -> Self {
        let mut decisive = RuleSet::NONE;
        let mut by_kind = [RuleSet::NONE; 4];
        for (place, standing) in standings.iter().enumerate() {
            if standing.decisive && cards()[place].class == Class::Sample {
                decisive.insert(place);
            }
            for kind in cards()[place].kinds {
                if standing.on {
                    by_kind[usize::from(kind.index())].insert(place);
                }
            }
        }
        InForce {
            rules: std::array::from_fn(|place| {
                let standing = &standings[place];
                standing
                    .on
                    .then(|| (maker(place).build)(&standing.settings))
            }),
            weights: std::array::from_fn(|place| standings[place].weight),
            decisive,
            cuts,
            by_kind,
            fingerprint: fingerprint(&standings, cuts),
            standings,
        }
    }

    /// The rules that are on and whose kinds list this kind.
    #[must_use]
    pub fn of_kind(&self, kind: Kind) -> RuleSet {
        self.by_kind[usize::from(kind.index())]
    }

    /// The rules of this class.
    #[must_use]
    pub fn of_class(class: Class) -> RuleSet {
        // Asked for once a draw, so worked out but once.
        static BY_CLASS: LazyLock<[RuleSet; 3]> = LazyLock::new(|| {
            Class::ALL.map(|class| {
                let mut rules = RuleSet::NONE;
                for (place, card) in cards().iter().enumerate() {
                    if card.class == class {
                        rules.insert(place);
                    }
                }
                rules
            })
        });
        let [sample, record, conduct] = *BY_CLASS;
        match class {
            Class::Sample => sample,
            Class::Record => record,
            Class::Conduct => conduct,
        }
    }

    /// Whether the rule at this place of the order is on.
    #[must_use]
    pub fn is_on(&self, place: usize) -> bool {
        self.standings[place].on
    }

    /// The parameters of the rule at this place of the order, as they stand.
    #[must_use]
    pub fn settings(&self, place: usize) -> Vec<Setting> {
        (cards()[place].parameters.iter())
            .map(|parameter| Setting {
                name: parameter.name,
                value: value_text(&self.standings[place].settings[parameter.name]),
                unit: parameter.unit.suffix().trim_start(),
                meaning: parameter.meaning,
            })
            .collect()
    }

    /// SHA-256 (hex) over everything here that can change a verdict.
    #[must_use]
    pub fn fingerprint(&self) -> &str {
        &self.fingerprint
    }
}

/// A parameter's value in words: a number, or words with commas between them.
fn value_text(value: &Value) -> String {
    match value {
        Value::Number(number) => number.as_f64().map_or_else(String::new, exact),
        Value::Array(words) => {
            let words: Vec<&str> = words.iter().filter_map(Value::as_str).collect();
            words.join(", ")
        }
        other => other.to_string(),
    }
}

/// One line for the logic and the cuts, one for each rule. What a rule that is off would
/// weigh or ask cannot change a verdict, so it is left out; nor can the order in which
/// parameters were written, since they stand sorted by name.
fn fingerprint(standings: &[Standing], cuts: Cuts) -> String {
    let mut text = format!(
        "logic {LOGIC}; cuts {} {}\n",
        cuts.unrepresentative, cuts.doubtful
    );
    for (card, standing) in cards().iter().zip(standings) {
        let _ = match standing.on {
            false => writeln!(text, "{}: off", card.id),
            true => writeln!(
                text,
                "{}: weight {}, decisive {}, {}",
                card.id,
                standing.weight,
                standing.decisive,
                sorted(&standing.settings)
            ),
        };
    }
    sha256_hex(&text)
}

fn sorted(settings: &Settings) -> String {
    let mut pairs: Vec<String> = settings
        .iter()
        .map(|(name, value)| format!("{name} {value}"))
        .collect();
    pairs.sort_unstable();
    pairs.join(", ")
}
