//! What is said about a signal wherever it is shown.

/// The facts and texts of a signal.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Card {
    /// Its name in reports and filters.
    pub id: &'static str,
    /// Its name for people.
    pub title: &'static str,
    /// What it looks at.
    pub looks_at: &'static str,
    /// What is counted, to follow "12 of 140": "draws repeat …".
    pub counts: &'static str,
    /// How the chance of seeing it by accident is worked out, and what that rests on.
    pub chance: &'static str,
    /// What else explains it, honest explanations all.
    pub explanations: &'static [&'static str],
    /// What to do next: ask, look, compare.
    pub next: &'static [&'static str],
    /// Where limits come from.
    pub source: &'static str,
}
