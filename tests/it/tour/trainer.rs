//! The trainer's month.

use super::{Step, Walk};

pub const WALKS: &[Walk] = &[Walk {
    heading: "The trainer's month",
    opening: "Whom to train in what, so that most samples are regained, and did the last training help?",
    steps: &[
        Step::new(
            "5",
            "**Topics**: rules by technicians. The denser the shade, the more draws would be regained; \
             a star says that it is more than chance explains. Beside it stands what the chosen person \
             needs, and what to do next time.",
        )
        .expects(&["draws to regain"])
        .picture("topics", "Rules by technicians"),
        Step::new("Space", "ticks the chosen technician for a plan.").expects(&["1 ticked"]),
        Step::new("Right Space", "and the next one.").expects(&["2 ticked"]),
        Step::new(
            "w",
            "asks for a folder; `Enter` writes a page to practise from for each who is ticked.",
        )
        .expects(&["never overwritten"]),
        Step::new("Esc", "leaves it for now; the ticks stay."),
        Step::new(
            "Tab Tab",
            "*After training*: how often the rule was broken before and after each training, beside \
             peers who had none.",
        )
        .picture("trainings", "What came after trainings"),
        Step::new(
            "3",
            "**People**: observed against expected, with intervals. Nobody is ranked by the raw share: \
             the points that one is sent to are taken into account.",
        )
        .picture("people", "Technicians, observed against expected"),
        Step::new(
            "d",
            "the funnel: who lies outside the limits of chance. Arrows go from mark to mark, `Tab` turns \
             to the intervals.",
        )
        .picture("funnel", "The funnel of technicians"),
        Step::new("d", "back to the list."),
        Step::new(
            "c",
            "the same for crews: a habit of a whole crew is no one's own fault.",
        )
        .expects(&["crew"]),
        Step::new(
            "m m",
            "the same for last month alone; `[` goes to the month before, `]` to the one after.",
        )
        .expects(&["from:2026-09"])
        .picture("crews", "Crews in one month"),
    ],
    ends_on: "from:2026-09",
}];
