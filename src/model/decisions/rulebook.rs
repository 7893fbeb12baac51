//! A rulebook made the programme's own.

use serde::{Deserialize, Serialize};

use crate::model::trail::Decided;

/// From here on draws are judged by this rulebook.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct RulebookAdopted {
    /// Fingerprint of what it says, as verdicts name it.
    pub fingerprint: String,
    /// Its name.
    pub name: String,
    /// Its revision, as written.
    pub revision: String,
    /// SHA-256 of its text, in hexadecimal.
    pub text_sha256: String,
}

impl Decided for RulebookAdopted {
    const KIND: &'static str = "rulebook adopted";

    fn says(&self) -> String {
        format!(
            "rulebook {}, revision {} (fingerprint {})",
            self.name, self.revision, self.fingerprint
        )
    }
}
