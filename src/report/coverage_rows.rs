//! The columns of `fairdraw coverage`.

use super::rows::{column, spare};
use super::{Cell, Column};
use crate::analysis::coverage::{Covered, Filled, Sheet, Step};

macro_rules! of_column {
    () => {
        column(
            "column",
            "column",
            "the column as sheets name it; `viscosity` stands for `iso_vg` or both of `viscosity_40_cst` and `viscosity_100_cst`, `interval` for `interval_h` or `interval_days`",
        )
    };
}

macro_rules! of_sheet {
    () => {
        spare(column("sheet", "sheet", "`draws` or `points`"), 3)
    };
}

const SHARES: [Column; 8] = [
    column(
        "asked",
        "asked",
        "draws on which the column has a meaning, such as `set_id` on tanks",
    ),
    spare(
        column(
            "filled",
            "",
            "those on which it is filled; for a column of points, those at points that have it",
        ),
        7,
    ),
    column("share", "filled", "filled / asked"),
    spare(
        column(
            "points_without",
            "points lack",
            "for a column of points: how many points of these draws lack it; blank for one of draws",
        ),
        4,
    ),
    spare(
        column(
            "unproven_without",
            "unproven without",
            "unproven draws on which it is blank",
        ),
        5,
    ),
    column(
        "settles",
        "settles",
        "unproven draws that would be judged if this column alone were filled, whatever was written there",
    ),
    column(
        "settles_if_kept",
        "if kept",
        "the same, if what was written showed that the rules were kept",
    ),
    spare(
        column(
            "rank",
            "rank",
            "which column to record first, second and so on, each given those before it; blank if it is none of the first 12",
        ),
        1,
    ),
];

const TOGETHER: [Column; 2] = [
    column(
        "together",
        "together",
        "unproven draws judged once this column and all of lower rank are filled, whatever was written",
    ),
    spare(
        column(
            "together_if_kept",
            "if kept",
            "the same, if what was written showed that the rules were kept",
        ),
        2,
    ),
];

/// `fairdraw coverage`: one row a column, first those to record, by rank.
pub const COVERAGE: &[Column] = &[
    of_column!(),
    of_sheet!(),
    SHARES[0],
    SHARES[1],
    SHARES[2],
    SHARES[3],
    SHARES[4],
    SHARES[5],
    SHARES[6],
    SHARES[7],
    TOGETHER[0],
    TOGETHER[1],
];

/// `fairdraw coverage --by KEY`: the same for each group.
pub const COVERAGE_BY: &[Column] = &[
    column(
        "key",
        "group",
        "the value of the key; `(blank)` for a blank",
    ),
    of_column!(),
    of_sheet!(),
    SHARES[0],
    SHARES[1],
    SHARES[2],
    SHARES[3],
    SHARES[4],
    SHARES[5],
    SHARES[6],
    SHARES[7],
    TOGETHER[0],
    TOGETHER[1],
];

/// The rows of [`COVERAGE`], or of [`COVERAGE_BY`] if the group is named: columns by rank,
/// then the others by draws they would settle, then in the order of the sheets.
pub fn coverage(group: &Covered, is_named: bool) -> Vec<Vec<Cell<'_>>> {
    let rank = |filled: &Filled| {
        let mut order = group.order.iter();
        order.position(|step| step.column == filled.column)
    };
    let mut columns: Vec<(Option<usize>, &Filled)> = group
        .columns
        .iter()
        .map(|filled| (rank(filled), filled))
        .collect();
    columns.sort_by_key(|(rank, filled)| {
        let settles = filled.settles;
        (
            rank.unwrap_or(usize::MAX),
            std::cmp::Reverse((settles.whatever, settles.if_kept)),
        )
    });
    columns
        .into_iter()
        .map(|(rank, filled)| {
            let mut cells = Vec::with_capacity(COVERAGE_BY.len());
            if is_named {
                cells.push(Cell::text(&group.key));
            }
            cells.extend(row(filled, rank.map(|rank| (rank, &group.order[rank]))));
            cells
        })
        .collect()
}

fn row(filled: &Filled, step: Option<(usize, &Step)>) -> [Cell<'static>; 12] {
    let sheet = filled.column.sheet();
    let together = |of: fn(&Step) -> u64| step.map_or(Cell::Blank, |(_, it)| Cell::Count(of(it)));
    [
        Cell::text(filled.column.as_str()),
        Cell::text(sheet.as_str()),
        Cell::Count(filled.asked),
        Cell::Count(filled.filled),
        Cell::part(filled.share()),
        match sheet {
            Sheet::Draws => Cell::Blank,
            Sheet::Points => Cell::Count(filled.points_without),
        },
        Cell::Count(filled.unproven_without),
        Cell::Count(filled.settles.whatever),
        Cell::Count(filled.settles.if_kept),
        step.map_or(Cell::Blank, |(rank, _)| Cell::Count(rank as u64 + 1)),
        together(|step| step.together.whatever),
        together(|step| step.together.if_kept),
    ]
}
