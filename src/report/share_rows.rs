//! Shares of groups: the columns of `fairdraw share` and how a row is made.

use super::rows::{column, count, part, spare};
use super::{Cell, Column};
use crate::analysis::{Share, Tally};

/// `fairdraw share`: one row a group.
pub const SHARE: &[Column] = &[
    column(
        "key",
        "group",
        "the value of the key the draws are grouped by; `all` without `--by`, `(blank)` for a blank",
    ),
    count(
        "draws",
        "draws",
        "all draws of the group (by rule: draws the rule applies to)",
    ),
    spare(count("judged", "judged", "draws less the unproven ones"), 3),
    spare(
        count(
            "unrepresentative",
            "unrepresentative",
            "draws with this verdict (by rule: draws that break it)",
        ),
        5,
    ),
    spare(
        count(
            "doubtful",
            "doubtful",
            "draws with this verdict (by rule: always 0)",
        ),
        6,
    ),
    spare(
        count(
            "representative",
            "representative",
            "draws with this verdict (by rule: draws that meet it)",
        ),
        7,
    ),
    spare(
        count(
            "unproven",
            "unproven",
            "draws with this verdict (by rule: draws on which it is unrecorded)",
        ),
        4,
    ),
    part(
        "share",
        "share",
        "unrepresentative / judged; blank if nothing is judged",
    ),
    part(
        "share_low",
        "from",
        "lower end of the 95 % Wilson interval of the share",
    ),
    part(
        "share_high",
        "to",
        "upper end of the 95 % Wilson interval of the share",
    ),
    spare(
        part(
            "least",
            "least",
            "unrepresentative / draws: the least the share of all draws can be, whatever the unproven ones hide",
        ),
        2,
    ),
    spare(
        part(
            "most",
            "most",
            "(unrepresentative + unproven) / draws: the most it can be",
        ),
        1,
    ),
];

/// `fairdraw share --by rule`: the fields of [`SHARE`], with the headings a rule asks for.
pub const SHARE_BY_RULE: &[Column] = &{
    let mut columns = [column("", "", ""); SHARE.len()];
    let titles = [
        "rule",
        "applies",
        "recorded",
        "broken",
        "",
        "met",
        "unrecorded",
        "share",
        "from",
        "to",
        "least",
        "most",
    ];
    let mut place = 0;
    while place < SHARE.len() {
        columns[place] = Column {
            title: titles[place],
            ..SHARE[place]
        };
        place += 1;
    }
    columns
};

/// A row of [`SHARE`] or [`SHARE_BY_RULE`].
#[must_use]
pub fn share<'a>(key: &'a str, tally: &Tally) -> Vec<Cell<'a>> {
    let Share {
        share,
        low,
        high,
        least,
        most,
    } = tally.share();
    vec![
        Cell::text(key),
        Cell::Count(tally.draws),
        Cell::Count(tally.judged()),
        Cell::Count(tally.unrepresentative),
        Cell::Count(tally.doubtful),
        Cell::Count(tally.representative),
        Cell::Count(tally.unproven),
        Cell::part(share),
        Cell::part(low),
        Cell::part(high),
        Cell::part(least),
        Cell::part(most),
    ]
}
