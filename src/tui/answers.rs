//! What answers from outside change in the state.

use std::sync::Arc;

use super::app::{App, Figures, MOST_FITS, Order, Place, Waiting};
use super::effect::{Answer, Effect};
use super::screens::find::{self, FindState};
use super::screens::findings;
use super::screens::records::exam::Examined;
use super::{folder_line, forms, moves, steps, text, undo};
use crate::analysis::Assessed;
use crate::analysis::attribution::NoAnswer;

/// The programme was read and judged, for the first time or again.
pub(crate) fn loaded(app: &mut App, assessed: Arc<Assessed>) {
    let is_first = app.data.is_none();
    let has_draws = !assessed.judged.is_empty();
    if app.data.is_some() && !std::mem::take(&mut app.quiet_reload) {
        app.message = Some("The programme was read again.".to_owned());
    }
    app.data = Some(assessed);
    app.failed = None;
    app.waiting = Waiting::default();
    app.changed_elsewhere = false;
    app.out_of_place = None;
    app.unreadable = false;
    app.turn += 1;
    app.loaded_turn = app.turn;
    app.fits.clear();
    // What is under way is about an older programme; its answer is let go.
    app.examined = Examined {
        under_way: app.examined.under_way,
        stopping: app.examined.stopping,
        ..Examined::default()
    };
    app.figures = Figures::default();
    app.order = Order::default();
    app.selection = Arc::default();
    app.of_any_day = Arc::default();
    app.opened = None;
    app.records.clear();
    app.find = FindState::default();
    if is_first && app.read_only {
        let words = "This file can't be written to: reading works, deciding and taking in don't. \
                     A copy in a folder of your own can be written to.";
        app.message = Some(words.to_owned());
    } else if is_first && !has_draws {
        // A programme without draws can only be filled.
        steps::go(app, Place::Import);
    }
}

/// It could not be read; in words.
pub(crate) fn failed(app: &mut App, words: String) {
    app.waiting.reload = false;
    if app.data.is_some() {
        app.quiet_reload = false;
        app.message = Some(format!(
            "The programme could not be read again: {} What you see is as it was read before; r \
             tries again.",
            text::sentence(&words)
        ));
    } else {
        app.failed = Some(words);
    }
}

/// A question was answered; what comes too late for the filter is let go.
pub(crate) fn answered(app: &mut App, answer: Answer, effects: &mut Vec<Effect>) {
    let turn = app.turn;
    match answer {
        Answer::Selected {
            turn: of,
            selection,
            of_any_day,
        } => {
            app.waiting.select = false;
            if of == turn {
                app.selection = selection;
                app.of_any_day = of_any_day;
                app.selected_turn = of;
                narrow_resamples(app);
            }
        }
        Answer::Ordered {
            turn: of,
            column,
            rows,
        } => {
            app.waiting.order = false;
            if of == turn && column == app.screens.draws.column {
                app.order = Order {
                    turn: of,
                    column,
                    rows,
                };
                moves::settle(app);
            }
        }
        Answer::Counted {
            loaded,
            filter,
            draws,
        } => {
            app.waiting.count = false;
            if loaded == app.loaded_turn {
                app.figures.count = Some((filter, draws));
            }
        }
        Answer::Offers {
            loaded,
            within,
            key,
            offers,
        } => {
            app.waiting.offers = false;
            if loaded == app.loaded_turn {
                app.figures.offers = Some((within, key, offers));
            }
        }
        Answer::Share { turn: of, figures } => {
            app.waiting.share = false;
            if of == turn {
                app.figures.share = Some((of, figures));
                moves::settle(app);
            }
        }
        Answer::People { turn: of, figures } => {
            app.waiting.people = false;
            if of == turn {
                app.figures.people = Some((of, figures));
                moves::settle(app);
            }
        }
        Answer::Points { turn: of, figures } => {
            app.waiting.points = false;
            if of == turn {
                app.figures.points = Some((of, figures));
                moves::settle(app);
            }
        }
        Answer::Topics { turn: of, figures } => {
            app.waiting.topics = false;
            if of == turn {
                let known = app.figures.topics.take().filter(|(known, _)| *known == of);
                let figures = match known {
                    Some((_, known)) => Arc::new(figures.and(&known)),
                    None => figures,
                };
                app.figures.topics = Some((of, figures));
                moves::settle(app);
            }
        }
        Answer::Docket(docket) => {
            app.waiting.docket = false;
            findings::keep(app, docket);
            moves::settle(app);
        }
        Answer::Evidence(finding, evidence) => {
            app.waiting.evidence = false;
            app.figures.evidence = Some((finding, evidence));
        }
        Answer::Resample {
            turn: of,
            strict,
            figures,
            whole,
        } => {
            app.waiting.resample = false;
            app.figures.resample_of_all = Some((strict, whole));
            if of == turn {
                app.figures.resample = Some((of, strict, figures));
                moves::settle(app);
            }
        }
        Answer::Done(outcome) => {
            let outcome = outcome.map(|done| {
                if let Some(deed) = done.deed {
                    undo::note(app, deed);
                }
                // What was decided shows in all of these.
                match done.docket {
                    Some(docket) => findings::keep(app, docket),
                    None => app.figures.docket = None,
                }
                app.figures.evidence = done.evidence;
                app.figures.resample = None;
                app.figures.resample_of_all = None;
                app.opened = None;
                done.words
            });
            forms::answered_by(app, outcome);
            moves::settle(app);
        }
        Answer::Sheets(outcome) => forms::answered_by(app, outcome),
        Answer::Packed(outcome) => forms::packed(app, outcome, effects),
        Answer::Plans(written) => folder_line::answered(app, written),
        Answer::Attribution {
            turn: of,
            filter,
            adjust,
            fitted,
        } => {
            app.fitting = None;
            app.stopping = false;
            let of_fit = (filter, adjust);
            let is_known = app.fits.iter().any(|(known, _)| *known == of_fit);
            if of >= app.loaded_turn && !is_known && *fitted != Err(NoAnswer::Stopped) {
                if app.fits.len() == MOST_FITS {
                    app.fits.remove(0);
                }
                app.fits.push((of_fit, fitted));
                moves::settle(app);
            }
        }
        Answer::Subject {
            turn: of,
            subject,
            figures,
        } => {
            app.waiting.subject = false;
            app.figures.subject = Some((of, subject, figures));
        }
        Answer::Periods(counts) => {
            app.waiting.periods = false;
            app.figures.periods = Some(counts);
        }
        Answer::Found(finds) => find::answered(app, finds),
        Answer::Names(loaded, names) => {
            app.waiting.names = false;
            // Rows are those of the programme as it was read then.
            if loaded == app.loaded_turn {
                app.find.names = Some(names);
            }
        }
        Answer::Saved {
            turn: of,
            text,
            draws,
        } => {
            app.waiting.saved = false;
            if of == app.loaded_turn {
                app.figures.saved.insert(text, draws);
            }
        }
        Answer::Remembered(Ok(memory)) => app.memory = memory,
        Answer::Remembered(Err(why)) => app.message = Some(text::sentence(&why.to_string())),
        Answer::Records(records) => {
            app.waiting.records = false;
            app.records.extend(records);
        }
        Answer::Ledger(ledger, reached) => {
            app.waiting.ledger = false;
            app.figures.records.reached = Some(reached);
            app.figures.records.ledger = Some(ledger);
            moves::settle(app);
        }
        Answer::Refused(batch, refused, brought) => {
            app.waiting.ledger = false;
            app.figures.records.refused = Some((batch, refused));
            app.figures.records.brought = Some((batch, brought));
            moves::settle(app);
        }
        Answer::Draw(row, draw) => {
            app.waiting.draw = false;
            app.opened = Some((row, draw));
            // Whoever has gone elsewhere meanwhile is not asked.
            let then = app.then_set_aside.take_if(|wanted| *wanted == row);
            if then.is_some() {
                app.message = None;
            }
            let is_wanted = then.is_some()
                && app.over.is_none()
                && matches!(app.place, Place::Draws | Place::Opened)
                && app.chosen_row() == Some(row);
            if is_wanted {
                findings::set_aside_chosen(app);
            }
        }
        Answer::Unreadable(words) => {
            app.waiting.records = false;
            app.waiting.draw = false;
            app.waiting.ledger = false;
            app.waiting.docket = false;
            app.waiting.evidence = false;
            app.waiting.resample = false;
            app.then_set_aside = None;
            app.unreadable = true;
            app.message = Some(format!(
                "{} What is not on screen yet can't be read now; r reads the programme again.",
                text::sentence(&words)
            ));
        }
    }
}

/// What to sample again under another filter, where that of the whole programme is known.
fn narrow_resamples(app: &mut App) {
    if let Some((strict, whole)) = &app.figures.resample_of_all {
        let narrowed = Arc::new(whole.narrowed(&app.of_any_day));
        app.figures.resample = Some((app.turn, *strict, narrowed));
        moves::settle(app);
    }
}
