//! The columns of `fairdraw trainings`.

use super::rows::{column, count, day, part, spare, yes_no};
use super::{Cell, Column};
use crate::analysis::Assessed;
use crate::analysis::training::{Record, Trained};
use crate::rules::cards;

/// `fairdraw trainings`: one row a training.
pub const TRAININGS: &[Column] = &[
    column("technician_id", "technician", "who was trained"),
    column("rule", "in", "the rule it was about"),
    spare(
        day("held_on", "held on", "the day it was held, as `2026-03-04`"),
        5,
    ),
    spare(
        count(
            "before_recorded",
            "",
            "own draws in the window before, on which the rule is met or broken",
        ),
        9,
    ),
    count("before_broken", "", "of these, broken"),
    count(
        "before_unrecorded",
        "",
        "own draws there on which it is unrecorded",
    ),
    spare(
        part(
            "before_share",
            "before",
            "broken / recorded before; blank if nothing is recorded",
        ),
        4,
    ),
    count("after_recorded", "", "as before, in the window after"),
    count("after_broken", "", "as before, in the window after"),
    count("after_unrecorded", "", "as before, in the window after"),
    spare(part("after_share", "after", "broken / recorded after"), 4),
    part(
        "change",
        "change",
        "after_share − before_share; below 0 where fewer are broken than before",
    ),
    spare(
        part(
            "change_low",
            "from",
            "lower end of its 95 % interval (Newcombe)",
        ),
        6,
    ),
    spare(
        part("change_high", "to", "upper end of its 95 % interval"),
        6,
    ),
    count(
        "peers",
        "",
        "how many technicians drew in the windows and had no training in the rule in them",
    ),
    count(
        "peers_before_recorded",
        "",
        "the peers' draws together, as before_recorded",
    ),
    count("peers_before_broken", "", "as before_broken"),
    count("peers_after_recorded", "", "as after_recorded"),
    count("peers_after_broken", "", "as after_broken"),
    spare(
        part("peers_change", "at peers", "the change of the peers' share"),
        3,
    ),
    part(
        "beyond_peers",
        "beyond them",
        "change − peers_change: the difference of the differences",
    ),
    spare(
        part(
            "beyond_low",
            "from",
            "lower end of its 95 % interval (square-and-add of both changes' intervals)",
        ),
        7,
    ),
    spare(
        part("beyond_high", "to", "upper end of its 95 % interval"),
        7,
    ),
    yes_no(
        "over",
        "",
        "whether the programme's draws reach to the end of the window after",
    ),
    column(
        "also",
        "",
        "the technician's other trainings within both windows, as `rule on date`, joined with `; `",
    ),
    column(
        "says",
        "what the numbers say",
        "the comparison in words; they never say that the training was the cause",
    ),
];

/// A row of [`TRAININGS`].
#[must_use]
pub fn trained<'a>(assessed: &'a Assessed, trained: &Trained, is_table: bool) -> Vec<Cell<'a>> {
    let (own, peers) = (trained.own, trained.peers);
    let (change, peers_change) = (own.change(), peers.change());
    let beyond = trained.beyond_peers;
    let also = also(assessed, trained);
    let says = if is_table {
        in_full(trained, &also)
    } else {
        trained.effect.to_string()
    };
    let counts = |record: Record| [Cell::Count(record.recorded), Cell::Count(record.broken)];
    let mut cells = vec![
        Cell::text(&assessed.technicians[trained.technician].id),
        Cell::text(cards()[trained.rule].id),
        Cell::Day(trained.held_on),
    ];
    for record in [own.before, own.after] {
        cells.extend(counts(record));
        cells.push(Cell::Count(record.unrecorded));
        cells.push(Cell::part(record.share()));
    }
    cells.extend([
        Cell::part(change.map(|change| change.difference)),
        Cell::part(change.map(|change| change.low)),
        Cell::part(change.map(|change| change.high)),
        Cell::Count(trained.peer_count as u64),
    ]);
    cells.extend(counts(peers.before));
    cells.extend(counts(peers.after));
    cells.extend([
        Cell::part(peers_change.map(|change| change.difference)),
        Cell::part(beyond.map(|beyond| beyond.difference)),
        Cell::part(beyond.map(|beyond| beyond.low)),
        Cell::part(beyond.map(|beyond| beyond.high)),
        Cell::YesNo(trained.is_over),
        Cell::text(also),
        Cell::text(says),
    ]);
    cells
}

/// The technician's other trainings within the windows.
fn also(assessed: &Assessed, trained: &Trained) -> String {
    let others = trained.also.iter().map(|&place| {
        let other = &assessed.trainings[place];
        format!("{} on {}", other.topic, other.held_on)
    });
    others.collect::<Vec<_>>().join("; ")
}

/// The words with what limits them.
fn in_full(trained: &Trained, also: &str) -> String {
    let mut says = trained.effect.to_string();
    if !trained.is_over {
        says.push_str("; the days after are not over yet");
    }
    if !also.is_empty() {
        says.push_str("; also trained in ");
        says.push_str(also);
    }
    says
}
