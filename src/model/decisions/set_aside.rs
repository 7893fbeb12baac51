//! A laboratory result set aside, and taken up again.

use serde::{Deserialize, Serialize};

use crate::model::trail::Decided;

/// Nobody is to act on the laboratory's result of this draw.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct ResultSetAside {
    /// The identity of the draw.
    pub draw: String,
    /// The point it was drawn at, as it stood then.
    pub point: String,
    /// When it was drawn, in UTC, as it stood then.
    pub drawn_at: String,
    /// Its verdict, as it stood then.
    pub verdict: String,
    /// Why.
    pub because: String,
}

/// The result of this draw, set aside before, counts again.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct SetAsideTakenBack {
    /// The identity of the draw.
    pub draw: String,
    /// Why.
    pub because: String,
}

impl Decided for ResultSetAside {
    const KIND: &'static str = "result set aside";

    fn says(&self) -> String {
        format!("result of draw {} set aside: {}", self.draw, self.because)
    }
}

impl Decided for SetAsideTakenBack {
    const KIND: &'static str = "set aside taken back";

    fn says(&self) -> String {
        format!(
            "result of draw {} counts again: {}",
            self.draw, self.because
        )
    }
}
