//! The supervisor's Monday.

use super::{Step, Walk};

pub const WALKS: &[Walk] = &[Walk {
    heading: "The supervisor's Monday",
    opening: "Which results of last week can't be acted on, why, and what to draw again?",
    steps: &[
        Step::new(
            "",
            "**Share** opens: 41 of 100 judged samples can't be trusted, with the interval of chance and \
             with what the unjudged ones could hide. *Broken most* says what it would pay to put right, \
             *Waiting* what has not come.",
        )
        .expects(&["judged draws are unrepresentative", "Broken most"])
        .picture("share", "The share of unrepresentative draws"),
        Step::new(
            "d",
            "the large picture: month by month between the limits of chance. Below it stands in words \
             what the crosshair reads.",
        )
        .expects(&["2026"]),
        Step::new(
            "Left",
            "the crosshair goes to the month before; `Home` and `End` go to the ends.",
        )
        .picture("control-chart", "The control chart with its crosshair"),
        Step::new(
            "Enter",
            "the draws behind that month. The month stands in the header as a filter now, and `Esc` \
             takes it away again.",
        )
        .expects(&["from:2026-09"])
        .picture("draws", "The draws of one month"),
        Step::new(
            "+ Enter",
            "the filter builder begins at the verdicts, with the draws behind each; `Enter` keeps the \
             unrepresentative ones.",
        )
        .expects(&["verdict:unrepresentative"]),
        Step::new(
            "Enter",
            "a draw opened up: each rule with the value seen, the value wanted, why it matters and what \
             to do next time, and the compartment's other draws on an axis of time. `n` opens the next.",
        )
        .picture("opened-draw", "A draw opened up"),
        Step::new(
            "a type:tap_was_dirty Enter",
            "sets the laboratory's result aside, with the reason: nobody is to act on it. It is kept in \
             the trail, and `U` shows how to let it count again.",
        )
        .expects(&["is set aside"]),
        Step::new(
            "8",
            "**Resample**: what to draw again, most urgent first, and beside it what to do differently \
             this time, with the usual cautions.",
        )
        .picture("resample", "What to draw again"),
        Step::new(
            "w",
            "asks for a folder; `Enter` writes a sheet to print for each site.",
        )
        .expects(&["Sheets to print"]),
        Step::new("Esc", "leaves it for now."),
        Step::new(
            "/",
            "finds whatever has a name: a technician, a point, a compartment, a bottle.",
        ),
        Step::new("type:que_01", "a few letters will do; `Enter` goes there.")
            .expects(&["QUE-01A"])
            .picture("find", "Finding a point by a few letters"),
        Step::new(
            "Enter",
            "the point on **Points**, with its physics: the flush it needs, how fast it flows, and \
             whether the point itself is suited.",
        )
        .expects(&["QUE-01A"])
        .picture("point", "A point and its physics"),
    ],
    ends_on: "QUE-01A",
}];
