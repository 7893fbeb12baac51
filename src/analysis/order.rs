//! Selections in the order of time.

use std::borrow::Cow;

/// The rows in the order of the judged draws, which is that of time. Filters give them so;
/// others are sorted.
pub(super) fn in_order(selection: &[u32]) -> Cow<'_, [u32]> {
    let mut rows = Cow::Borrowed(selection);
    if !rows.is_sorted() {
        rows.to_mut().sort_unstable();
    }
    rows
}
