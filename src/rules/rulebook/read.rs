//! From the written form to the checked one: every mistake is collected, with its place.

use super::checked::{Change, Checked, Override, What};
use super::{Cuts, WHAT};
use crate::model::{Class, MachineClass};
use crate::rules::parameter::{Form, Parameter};
use crate::rules::registry::{cards, place_of};
use crate::written::{Node, Place, Problem, Reader, Value, find};

/// The version of the format.
pub const VERSION: u32 = 1;

/// Greatest weight of a rule; far above any use, and small enough to be summed safely.
pub const HEAVIEST: u32 = 1000;

/// Most overrides in one rulebook, and most sites named in them.
const MOST_OVERRIDES: usize = 200;
const MOST_SITES: usize = 1000;

/// Checks the written form. The problems go to `problems`; what was understood is handed
/// back even if there are some, so that later checks can find more.
pub fn check(root: &Node, file: &str, problems: &mut Vec<Problem>) -> Option<Checked> {
    Reader::new(file, WHAT, problems).book(root)
}

impl Reader<'_> {
    fn book(&mut self, root: &Node) -> Option<Checked> {
        const KEYS: [&str; 7] = [
            "fairdraw_rulebook",
            "name",
            "revision",
            "date",
            "cuts",
            "rules",
            "overrides",
        ];
        if matches!(root.value, Value::Null) {
            let message = "the file is empty; a rulebook begins with fairdraw_rulebook: 1";
            self.problem(Place::START, message);
            return None;
        }
        let entries = self.map(root, "a rulebook", &KEYS)?;
        match find(&entries, KEYS[0]) {
            None => self.problem(
                root.at,
                "fairdraw_rulebook is missing; begin the file with fairdraw_rulebook: 1",
            ),
            Some(node) if !is_version(node) => {
                let message = format!(
                    "fairdraw_rulebook is the version of the format and must be {VERSION}, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
            }
            Some(_) => {}
        }
        let name = self.required_text(root.at, &entries, "name");
        let revision = self.required_text(root.at, &entries, "revision");
        let date = find(&entries, "date").and_then(|node| self.date(node));
        let cuts = match find(&entries, "cuts") {
            Some(node) => self.cuts(node),
            None => Cuts::default(),
        };
        let changes = match find(&entries, "rules") {
            Some(node) => self.rules(node),
            None => Vec::new(),
        };
        let overrides = match find(&entries, "overrides") {
            Some(node) => self.overrides(node),
            None => Vec::new(),
        };
        Some(Checked {
            name,
            revision,
            date,
            cuts,
            changes,
            overrides,
        })
    }

    fn cuts(&mut self, node: &Node) -> Cuts {
        let mut cuts = Cuts::default();
        let known = ["unrepresentative", "doubtful"];
        let Some(entries) = self.map(node, "cuts", &known) else {
            return cuts;
        };
        let before = self.noted();
        for (name, _, value) in &entries {
            match (*name, self.whole(value, name, 100)) {
                ("unrepresentative", Some(cut)) => cuts.unrepresentative = cut,
                ("doubtful", Some(cut)) => cuts.doubtful = cut,
                _ => {}
            }
        }
        let all_read = self.noted() == before;
        if all_read && cuts.unrepresentative > cuts.doubtful {
            let message = format!(
                "the cut unrepresentative ({}) must not be above the cut doubtful ({})",
                cuts.unrepresentative, cuts.doubtful
            );
            let at = entries.first().map_or(node.at, |(_, _, value)| value.at);
            self.problem(at, &message);
        }
        cuts
    }

    fn rules(&mut self, node: &Node) -> Vec<Change> {
        let ids: Vec<&str> = cards().iter().map(|card| card.id).collect();
        let mut changes = Vec::new();
        for (id, _, value) in self.map(node, "rules", &ids).unwrap_or_default() {
            if let Some(rule) = place_of(id) {
                self.rule(rule, value, &mut changes);
            }
        }
        changes
    }

    fn rule(&mut self, rule: usize, node: &Node, changes: &mut Vec<Change>) {
        let card = cards()[rule];
        let mut known = vec!["on", "weight", "decisive"];
        known.extend(card.parameters.iter().map(|parameter| parameter.name));
        for (name, _, value) in self.map(node, card.id, &known).unwrap_or_default() {
            let what = match name {
                "on" => self.truth(value, name).map(What::On),
                "weight" => self.whole(value, name, HEAVIEST).map(What::Weight),
                "decisive" => self.decisive(card.class, value).map(What::Decisive),
                _ => (card.parameters.iter())
                    .find(|parameter| parameter.name == name)
                    .and_then(|parameter| self.parameter(parameter, value)),
            };
            if let Some(what) = what {
                let at = value.at;
                changes.push(Change { rule, what, at });
            }
        }
    }

    fn decisive(&mut self, class: Class, node: &Node) -> Option<bool> {
        let decisive = self.truth(node, "decisive")?;
        if decisive && class != Class::Sample {
            let message = format!(
                "a rule of class {class} can't be decisive, since only class sample enters the \
                 verdict; leave decisive out"
            );
            self.problem(node.at, &message);
            return None;
        }
        Some(decisive)
    }

    fn overrides(&mut self, node: &Node) -> Vec<Override> {
        let items = match &node.value {
            Value::List(items) => items.as_slice(),
            Value::Null => &[],
            _ => {
                let message = format!(
                    "overrides is a list, each entry with where and rules, not {}",
                    node.described()
                );
                self.problem(node.at, &message);
                return Vec::new();
            }
        };
        if items.len() > MOST_OVERRIDES {
            let message = format!("more than {MOST_OVERRIDES} overrides; join those that agree");
            self.problem(items[MOST_OVERRIDES].at, &message);
            return Vec::new();
        }
        let overrides: Vec<Override> = items
            .iter()
            .filter_map(|item| self.one_override(item))
            .collect();
        let sites: usize = (overrides.iter())
            .map(|one| one.sites.as_ref().map_or(0, Vec::len))
            .sum();
        if sites > MOST_SITES {
            let message = format!("more than {MOST_SITES} sites named in overrides");
            self.problem(node.at, &message);
            return Vec::new();
        }
        overrides
    }

    /// The value of a parameter, as it is kept.
    fn parameter(&mut self, parameter: &Parameter, node: &Node) -> Option<What> {
        let name = parameter.name;
        let value = match parameter.form {
            Form::Number(low, high) => {
                let number = self.number(node, name, low, high)?;
                serde_json::Value::from(number)
            }
            Form::Words(words) => {
                let chosen = self.words(node, name, words, |text| {
                    words
                        .iter()
                        .position(|word| word.eq_ignore_ascii_case(text))
                })?;
                // Kept in the order of the vocabulary, so that equal lists are equal.
                let sorted: Vec<&str> = (words.iter().enumerate())
                    .filter(|(place, _)| chosen.contains(place))
                    .map(|(_, word)| *word)
                    .collect();
                serde_json::Value::from(sorted)
            }
        };
        Some(What::Parameter(name, value))
    }

    fn one_override(&mut self, node: &Node) -> Option<Override> {
        let entries = self.map(node, "an override", &["where", "rules"])?;
        let (Some(place), Some(rules)) = (find(&entries, "where"), find(&entries, "rules")) else {
            let message = "an override needs where (class, site or both) and rules";
            self.problem(node.at, message);
            return None;
        };
        let changes = self.rules(rules);
        let known = self.map(place, "where", &["class", "site"])?;
        if known.is_empty() {
            let message = "where needs class, site or both; what holds everywhere belongs in rules";
            self.problem(place.at, message);
            return None;
        }
        let names: Vec<&str> = MachineClass::ALL.iter().map(|word| word.as_str()).collect();
        let mut found = Override {
            classes: None,
            sites: None,
            changes,
        };
        for (name, _, value) in known {
            if name == "class" {
                found.classes = Some(self.words(value, name, &names, MachineClass::parse)?);
            } else {
                let site = |text: &str| (!text.is_empty()).then(|| text.to_owned());
                found.sites = Some(self.words(value, name, &[], site)?);
            }
        }
        Some(found)
    }
}

fn is_version(node: &Node) -> bool {
    matches!(node.value, Value::Number(number, _) if number == f64::from(VERSION))
}
