//! What judging says: outcomes of rules, classes of rules, the verdict.

use std::fmt;

/// What one rule says about one draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Outcome {
    /// The record shows that the practice was kept.
    Met,
    /// The record shows that it was not.
    Broken,
    /// The record does not say; neither pass nor fail.
    Unrecorded,
    /// The rule does not speak about this draw.
    NotApplicable,
}

impl Outcome {
    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Outcome::Met => "met",
            Outcome::Broken => "broken",
            Outcome::Unrecorded => "unrecorded",
            Outcome::NotApplicable => "not applicable",
        }
    }
}

impl fmt::Display for Outcome {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// What a rule speaks about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Class {
    /// Representativeness: enters the verdict.
    Sample,
    /// Traceability of the record.
    Record,
    /// Personal safety, kept apart from representativeness.
    Conduct,
}

impl Class {
    /// Every class, in the order of the contract.
    pub const ALL: [Class; 3] = [Class::Sample, Class::Record, Class::Conduct];

    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Class::Sample => "sample",
            Class::Record => "record",
            Class::Conduct => "conduct",
        }
    }
}

impl fmt::Display for Class {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// Who can put right what a rule asks for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Owner {
    /// The one who draws.
    Technician,
    /// The plant that fits the points.
    Plant,
    /// The planner of rounds.
    Planner,
    /// Those who send the bottles.
    Dispatch,
    /// The desk where records are kept.
    Desk,
}

impl Owner {
    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Owner::Technician => "technician",
            Owner::Plant => "plant",
            Owner::Planner => "planner",
            Owner::Dispatch => "dispatch",
            Owner::Desk => "desk",
        }
    }
}

impl fmt::Display for Owner {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}

/// What is said of a whole draw.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
#[repr(u8)]
pub enum Verdict {
    /// Shown not to stand for the machine.
    Unrepresentative,
    /// Shown neither way: the record leaves too much open.
    Unproven,
    /// Shown to stand for the machine, with faults.
    Doubtful,
    /// Shown to stand for the machine.
    Representative,
}

impl Verdict {
    /// Every verdict, worst first.
    pub const ALL: [Verdict; 4] = [
        Verdict::Unrepresentative,
        Verdict::Unproven,
        Verdict::Doubtful,
        Verdict::Representative,
    ];

    /// The words used on screens and in files.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Verdict::Unrepresentative => "unrepresentative",
            Verdict::Unproven => "unproven",
            Verdict::Doubtful => "doubtful",
            Verdict::Representative => "representative",
        }
    }

    /// Reads the word in any case; `None` for any other text.
    #[must_use]
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL
            .into_iter()
            .find(|verdict| verdict.as_str().eq_ignore_ascii_case(text))
    }

    /// The verdict stored as this byte.
    #[must_use]
    pub fn from_index(index: u8) -> Option<Self> {
        Self::ALL.get(usize::from(index)).copied()
    }

    /// The byte it is stored as.
    #[must_use]
    pub const fn index(self) -> u8 {
        self as u8
    }
}

impl fmt::Display for Verdict {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(self.as_str())
    }
}
