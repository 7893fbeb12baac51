//! Rules that ask one question of the record: yes, no or blank.

use crate::model::{Answer, Phrase};

/// Yes is met, no is broken, a blank is unrecorded.
#[must_use]
pub fn confirmed(recorded: Option<bool>) -> Answer {
    let wanted = Phrase::YesNo(true);
    match recorded {
        Some(yes) => Answer::met_if(yes, Phrase::YesNo(yes), wanted),
        None => Answer::unrecorded(Phrase::Blank, wanted),
    }
}
