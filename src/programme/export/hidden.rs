//! What stands in the tables of an anonymous pack in place of names and free texts.
//!
//! Tables that come from decisions and imports are named here with the columns of words that
//! may stay; any other column of words is blanked, so that one added later is not told by
//! oversight. Tables of analysis need nothing: their technicians and crews bear codes already.

use super::codes::{Codes, Whose};
use crate::report::pack::Sheet;
use crate::report::{Cell, Holds};

/// The words of one table.
struct Words {
    sheet: &'static str,
    /// Names of those who decided: replaced by codes.
    people: &'static [&'static str],
    /// Ids of technicians as they stood in a decision: replaced by codes.
    technicians: &'static [&'static str],
    /// Words that name nobody: kept.
    kept: &'static [&'static str],
}

const TABLES: &[Words] = &[
    Words {
        sheet: "findings",
        people: &[
            "owner",
            "raised_by",
            "answered_by",
            "closed_by",
            "withdrawn_by",
        ],
        technicians: &[],
        kept: &[
            "finding",
            "state",
            "grade",
            "about",
            "rule",
            "action_by",
            "rulebook",
        ],
    },
    Words {
        sheet: "findings_evidence",
        people: &[],
        technicians: &["technician_id"],
        kept: &[
            "finding",
            "draw_id",
            "point_id",
            "verdict",
            "score",
            "broken",
            "unrecorded",
            "seen",
            "wanted",
            "now",
        ],
    },
    Words {
        sheet: "picks",
        people: &["who"],
        technicians: &[],
        kept: &["plan", "by", "population_sha256", "rulebook"],
    },
    Words {
        sheet: "picks_draws",
        people: &[],
        technicians: &["technician_id"],
        kept: &[
            "draw_id",
            "part",
            "point_id",
            "record_verdict",
            "record_broken",
            "result",
            "verifier",
        ],
    },
    Words {
        sheet: "resamples",
        people: &["set_aside_by"],
        technicians: &[],
        kept: &[
            "compartment_id",
            "machine",
            "site",
            "area",
            "because",
            "draw_id",
            "trusted_draw_id",
            "interval_unit",
            "point_id",
            "further_points",
            "method",
            "flush",
            "window",
            "do_differently",
        ],
    },
    Words {
        sheet: "set_asides",
        people: &["who", "taken_back_by"],
        technicians: &[],
        kept: &["draw_id", "point_id", "drawn_at", "verdict"],
    },
    Words {
        sheet: "imports",
        people: &["who"],
        technicians: &[],
        kept: &["mended_by", "zone", "rulebook", "program"],
    },
    Words {
        sheet: "imports_sheets",
        people: &[],
        technicians: &[],
        kept: &["kind", "sha256", "map"],
    },
    Words {
        sheet: "trail",
        people: &["who"],
        technicians: &[],
        kept: &["kind", "previous", "hash"],
    },
];

/// Replaces names and free texts in a row.
pub(super) fn hide(codes: &Codes, sheet: Sheet, cells: &mut [Cell<'_>]) {
    let Some(words) = TABLES.iter().find(|words| words.sheet == sheet.name) else {
        return;
    };
    for (column, cell) in sheet.columns.iter().zip(cells) {
        let is_words = matches!(column.holds, Holds::Words | Holds::Object | Holds::Items);
        if !is_words || words.kept.contains(&column.name) {
            continue;
        }
        let whose = if words.people.contains(&column.name) {
            Some(Whose::Person)
        } else if words.technicians.contains(&column.name) {
            Some(Whose::Technician)
        } else {
            None
        };
        *cell = match (whose, &*cell) {
            (Some(whose), Cell::Text(name)) if !name.is_empty() => {
                Cell::text(codes.code(whose, name))
            }
            _ => Cell::Blank,
        };
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::report::pack;

    #[test]
    fn every_column_named_here_exists() {
        let sheets = [
            pack::FINDINGS,
            pack::EVIDENCE,
            pack::PICKS,
            pack::PICKED,
            pack::RESAMPLES,
            pack::SET_ASIDES,
            pack::LEDGER,
            pack::LEDGER_SHEETS,
            pack::TRAIL,
        ];
        assert_eq!(sheets.len(), TABLES.len());
        for words in TABLES {
            let found = sheets.iter().find(|sheet| sheet.name == words.sheet);
            let columns = found.map_or(&[][..], |sheet| sheet.columns);
            for name in [words.people, words.technicians, words.kept].concat() {
                let is_there = columns.iter().any(|column| column.name == name);
                assert!(is_there, "{} has no column {name}", words.sheet);
            }
        }
    }
}
