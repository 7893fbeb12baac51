//! The auditor's day.

use super::{Step, Walk};

pub const WALKS: &[Walk] = &[Walk {
    heading: "The audit day",
    opening: "Are the records so, what was found, was it put right, and what can be taken away as evidence?",
    steps: &[
        Step::new(
            "6",
            "**Findings**: what was raised, who owns it, what is overdue.",
        )
        .picture("findings", "Findings, the overdue ones first"),
        Step::new(
            "Enter",
            "one opened: what was found, the answers, what the draws tell since, and the draws that \
             speak for it as they stood then.",
        ),
        Step::new("Esc Tab", "*Picks*: random samples of draws to be verified."),
        Step::new(
            "Enter",
            "a pick opened: what was verified, the error rate with its exact bound.",
        )
        .picture("pick", "A pick and what came of it"),
        Step::new("Esc", "back to the picks."),
        Step::new(
            "n",
            "draws a new one from the draws in view: its size follows from what it is to show and is told \
             before anything is kept, its seed is kept, so that anybody can draw it again.",
        )
        .expects(&["Would pick 58 of 4,962 draws."]),
        Step::new(
            "Esc w",
            "asks for a file and writes the sheet for the verifier: what each record claims, and columns \
             for what is found.",
        )
        .expects(&["58 of 2,470 draws"]),
        Step::new("Esc", "leaves it."),
        Step::new(
            "7",
            "**Records**: every batch that was taken in, by whom, with fingerprints, and what was refused.",
        )
        .picture("records", "The ledger of what was taken in"),
        Step::new(
            "Tab Tab",
            "*Hard to believe*: records worth asking about, each with honest explanations.",
        ),
        Step::new(
            "6 e",
            "asks for a folder and writes the pack: tables, report and trail, which proves itself \
             complete and unaltered with `fairdraw check --pack`.",
        ),
        Step::new("Esc", "leaves it."),
        Step::new(
            "2 y",
            "any list, row or cell can be copied, and the command line that says the same.",
        )
        .picture("copy", "What can be copied"),
        Step::new("Esc", "and `q` leaves fairdraw."),
    ],
    ends_on: "q quit",
}];
