//! The scores of one draw from the columns in memory, for lists that show and sort them.

use super::Assessed;
use crate::model::{Class, draw};
use crate::rules::InForce;
use crate::scoring::{self, Scores};

/// The scores of class sample of the draw in this row.
///
/// # Panics
/// When there is no such row.
#[must_use]
pub fn row_score(assessed: &Assessed, row: usize) -> Scores {
    class_score(assessed, row, Class::Sample)
}

/// The scores of this class of the draw in this row.
///
/// # Panics
/// When there is no such row.
#[must_use]
pub fn class_score(assessed: &Assessed, row: usize, class: Class) -> Scores {
    let judged = &assessed.judged;
    let book = assessed.in_force[judged.point[row] as usize];
    scoring::scores(
        &assessed.rulebook.all_in_force()[book],
        InForce::of_class(class),
        judged.applicable[row],
        judged.broken[row],
        judged.unrecorded[row],
    )
}

/// A judged draw with the texts that name it, which are not kept in memory.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Named<'a> {
    /// Its row of the judged programme.
    pub row: usize,
    /// Unique name of the draw; may be blank.
    pub draw_id: &'a str,
    /// Code on the bottle; may be blank.
    pub bottle_id: &'a str,
}

impl Named<'_> {
    /// The identity of the draw: its `draw_id`, or `bottle_id@point_id@drawn_at`.
    ///
    /// # Panics
    /// When it is no draw of this programme.
    #[must_use]
    pub fn identity(&self, assessed: &Assessed) -> String {
        let judged = &assessed.judged;
        let point = &assessed.points[judged.point[self.row] as usize];
        let drawn_at = judged.drawn_at[self.row];
        draw::identity(self.draw_id, self.bottle_id, &point.id, drawn_at)
    }
}
