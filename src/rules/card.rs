//! What is said about a rule, apart from judging.

use super::parameter::Parameter;
use crate::model::{Class, Kind, Owner};

/// The fixed facts and texts of a rule. Its page, the screen and the rulebook's default
/// all come from here.
#[derive(Clone, Copy, Debug)]
pub struct Card {
    /// Name in rulebooks, filters and files: lower case with hyphens.
    pub id: &'static str,
    /// What the rule speaks about.
    pub class: Class,
    /// Weight in the default rulebook.
    pub weight: u32,
    /// Whether the default rulebook takes a breach alone as decisive.
    pub decisive: bool,
    /// Who can put it right.
    pub owner: Owner,
    /// The kinds it applies to.
    pub kinds: &'static [Kind],
    /// What a rulebook may set on it, besides weight, decisive and on or off.
    pub parameters: &'static [Parameter],
    /// A further condition on when it applies, in words; empty if there is none.
    pub only_where: &'static str,
    /// What it asks, in one sentence.
    pub asks: &'static str,
    /// How it is judged: when met, broken, unrecorded, not applicable.
    pub judged: &'static str,
    /// Why it matters.
    pub why: &'static str,
    /// What to do next time.
    pub next_time: &'static str,
    /// The caution where handling can hurt; empty if there is none.
    pub caution: &'static str,
    /// Where the practice and its figure come from, with conflicts between sources.
    pub source: &'static str,
}
