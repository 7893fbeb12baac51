//! What the state asks to be done outside: questions to the judged programme in memory and
//! to the programme file. `run/` carries them out on threads of their own; tests do so
//! at once. Either way the answer comes back as an action.

use std::collections::BTreeSet;
use std::path::PathBuf;
use std::sync::Arc;

use rayon::prelude::*;

use super::decide::{Decision, Docket, Done, Evidence, Paper, ResampleFigures};
use super::screens::draws::columns::Column;
use super::screens::find::Finds;
use super::screens::import::order::IntakeOrder;
use super::screens::people::PeopleFigures;
use super::screens::period::PeriodCounts;
use super::screens::points::PointsFigures;
use super::screens::records::MOST_REFUSED;
use super::screens::records::brought::Brought;
use super::screens::records::exam::ExamOrder;
use super::screens::share::ShareFigures;
use super::screens::topics::{Part, TopicsFigures};
pub use super::shelf::Shelf;
use super::subject::{Subject, SubjectFigures};
use crate::analysis::attribution::{self, Attribution, NoAnswer};
use crate::analysis::reach::{Reach, reach};
use crate::analysis::topics::{Plan, Unit, peers_of, plan, topics};
use crate::analysis::{
    Adjust, Assessed, Days, Filter, FilterKey, Offers, Selection, all_point_facts,
};
use crate::model::{DrawRecord, Progress};
use crate::programme::remembered::{CantChange, Change, Memory};
use crate::programme::{Batch, DrawNames, Error, OpenedDraw, Refused, plans};

/// Something to be done outside.
#[derive(Clone)]
pub enum Effect {
    /// A question to the judged programme in memory.
    Reckon(Question),
    /// A question to the programme file.
    Fetch(Fetch),
    /// Stop the question that takes long; its answer is no longer wanted.
    StopLong,
    /// Stop looking for what was typed before.
    StopFind,
    /// Write retraining plans to a folder.
    WritePlans(PlansOrder),
    /// Examine the records.
    Examine(ExamOrder),
    /// Stop examining; the answer is no longer wanted.
    StopExam,
    /// Something to do with a table to take in.
    Intake(IntakeOrder),
    /// Stop what is under way with it.
    StopIntake,
    /// Keep a decision in the trail.
    Decide(Decision),
    /// Write something to a folder.
    WriteOut(Paper),
    /// Stop what was asked for last by a form.
    StopDeciding,
    /// Stop writing retraining plans.
    StopPlans,
    /// Stop writing the findings pack.
    StopPack,
    /// Hand this text to the terminal's clipboard.
    Copy(String),
    /// Change the saved filters where they are kept.
    Remember(Change),
    /// Read the programme file again.
    Reload,
    /// Hand the terminal back and sleep until woken.
    Suspend,
    /// Leave this programme and ask for another.
    OpenAnother,
    /// Leave.
    Quit,
}

/// A question to the judged programme. `turn` numbers the filter it belongs to, so that an
/// answer that comes too late is known.
#[derive(Clone)]
pub enum Question {
    /// Which draws pass.
    Select {
        /// The filter's number.
        turn: u64,
        /// The filter.
        filter: Filter,
    },
    /// How many draws would pass a filter that is not applied yet.
    Count {
        /// The number of the reading of the programme.
        loaded: u64,
        /// The filter so far.
        filter: Filter,
    },
    /// The values of a key, counted within a filter.
    Offers {
        /// The number of the reading of the programme.
        loaded: u64,
        /// Counted over the draws that pass it.
        within: Filter,
        /// What is chosen by.
        key: FilterKey,
    },
    /// The draws in order of a column.
    Order {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
        /// By what.
        column: Column,
    },
    /// The figures of the Share screen.
    Share {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
    },
    /// The figures of the People screen.
    People {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
    },
    /// The figures of the Points screen.
    Points {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
    },
    /// A part of the figures of the Topics screen.
    Topics {
        /// The filter's number.
        turn: u64,
        /// The filter.
        filter: Filter,
        /// The draws.
        selection: Arc<Selection>,
        /// Which.
        part: Part,
    },
    /// People and points told apart.
    Attribution {
        /// The filter's number.
        turn: u64,
        /// The filter.
        filter: Filter,
        /// What it is adjusted for.
        adjust: Vec<Adjust>,
        /// The draws.
        selection: Arc<Selection>,
    },
    /// What stands beside one technician, crew or point.
    Subject {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
        /// Whose.
        subject: Subject,
    },
    /// How many draws lie in periods, the days of the filter put aside.
    Periods {
        /// The filter's number.
        turn: u64,
        /// The filter.
        filter: Filter,
        /// The periods.
        periods: Vec<Days>,
    },
    /// What bears a name like this.
    Find {
        /// What is sought, as it was typed.
        query: String,
        /// The names of draws and bottles, once they are read.
        names: Option<Arc<DrawNames>>,
    },
    /// How many draws pass a saved filter, of the programme as it was when the filter of this
    /// number was set.
    Saved {
        /// That number.
        turn: u64,
        /// The saved filter, as it is typed.
        text: String,
    },
}

impl Question {
    /// Whether it may take seconds; such a question is put to a thread of its own, one at a
    /// time, and can be stopped.
    #[must_use]
    pub const fn takes_long(&self) -> bool {
        matches!(self, Question::Attribution { .. })
    }

    /// Whether it follows the keys of finding something; such a question is put to a thread of
    /// its own and stopped when another letter is typed.
    #[must_use]
    pub const fn is_find(&self) -> bool {
        matches!(self, Question::Find { .. })
    }
}

/// Whose plans are written where.
#[derive(Clone, Debug)]
pub struct PlansOrder {
    /// Where to; `~/` at its beginning is the user's own folder.
    pub folder: PathBuf,
    /// The ids of technicians.
    pub technicians: BTreeSet<String>,
    /// The filter that chose the draws.
    pub filter: Filter,
    /// The draws.
    pub selection: Arc<Selection>,
}

/// Plans that were written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Written {
    /// How many.
    pub plans: usize,
    /// Technicians who were asked for and have no draw in view.
    pub left_out: usize,
    /// Where the pages are.
    pub folder: String,
}

/// A question to the programme file.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Fetch {
    /// The records of these rows of the judged programme.
    Records(Vec<u32>),
    /// One draw opened up.
    Draw(u32),
    /// Every batch that was taken in.
    Ledger,
    /// What the batch of this number refused.
    Refused(i64),
    /// Findings and picks.
    Docket,
    /// What became of the evidence of the finding of this number.
    Evidence(u32),
    /// What to sample again.
    Resample {
        /// The filter's number.
        turn: u64,
        /// The draws.
        selection: Arc<Selection>,
        /// Whether doubtful samples count as ones that can't be trusted.
        strict: bool,
    },
    /// What every draw and its bottle are called; the filter's number when the programme was
    /// read. Takes about half a second at a million draws.
    Names(u64),
}

/// An answer to a question.
#[derive(Clone)]
pub enum Answer {
    /// To [`Question::Select`].
    Selected {
        /// The filter's number.
        turn: u64,
        /// The draws that pass.
        selection: Arc<Selection>,
        /// The draws that pass it but for its days; the same ones where it names none.
        of_any_day: Arc<Selection>,
    },
    /// To [`Question::Count`].
    Counted {
        /// The number of the reading of the programme.
        loaded: u64,
        /// The filter.
        filter: Filter,
        /// How many draws pass.
        draws: u64,
    },
    /// To [`Question::Offers`].
    Offers {
        /// The number of the reading of the programme.
        loaded: u64,
        /// Counted over the draws that pass it.
        within: Filter,
        /// What is chosen by.
        key: FilterKey,
        /// The values.
        offers: Arc<Offers>,
    },
    /// To [`Question::Order`].
    Ordered {
        /// The filter's number.
        turn: u64,
        /// By what.
        column: Column,
        /// The draws, lowest value first.
        rows: Arc<Vec<u32>>,
    },
    /// To [`Question::Share`].
    Share {
        /// The filter's number.
        turn: u64,
        /// The figures.
        figures: Arc<ShareFigures>,
    },
    /// To [`Question::People`].
    People {
        /// The filter's number.
        turn: u64,
        /// The figures.
        figures: Arc<PeopleFigures>,
    },
    /// To [`Question::Points`].
    Points {
        /// The filter's number.
        turn: u64,
        /// The figures.
        figures: Arc<PointsFigures>,
    },
    /// To [`Question::Topics`].
    Topics {
        /// The filter's number.
        turn: u64,
        /// The figures.
        figures: Arc<TopicsFigures>,
    },
    /// To [`Question::Attribution`].
    Attribution {
        /// The filter's number.
        turn: u64,
        /// The filter.
        filter: Filter,
        /// What it is adjusted for.
        adjust: Vec<Adjust>,
        /// What the model says, or why it says nothing.
        fitted: Arc<Result<Attribution, NoAnswer>>,
    },
    /// To [`Question::Subject`].
    Subject {
        /// The filter's number.
        turn: u64,
        /// Whose.
        subject: Subject,
        /// The figures.
        figures: Arc<SubjectFigures>,
    },
    /// To [`Question::Periods`].
    Periods(PeriodCounts),
    /// To [`Question::Find`]; `None` where it was stopped.
    Found(Option<Arc<Finds>>),
    /// To [`Fetch::Names`]: with the number that was given, the names, or in words why not.
    Names(u64, Result<Arc<DrawNames>, String>),
    /// To [`Question::Saved`].
    Saved {
        /// The number.
        turn: u64,
        /// The saved filter.
        text: String,
        /// How many draws pass; none where it can't be read.
        draws: Option<usize>,
    },
    /// To [`Effect::Remember`]: what is saved now, or why it is not kept.
    Remembered(Result<Memory, CantChange>),
    /// To [`Fetch::Records`].
    Records(Vec<(u32, DrawRecord)>),
    /// To [`Fetch::Draw`].
    Draw(u32, Arc<OpenedDraw>),
    /// To [`Fetch::Ledger`]: the latest batch first, and how far the records of each site reach.
    Ledger(Arc<Vec<Batch>>, Arc<Vec<Reach>>),
    /// To [`Fetch::Refused`]: the first refusals of this batch, and what it brought.
    Refused(i64, Arc<Vec<Refused>>, Arc<Brought>),
    /// To [`Fetch::Docket`].
    Docket(Arc<Docket>),
    /// To [`Fetch::Evidence`].
    Evidence(u32, Arc<Evidence>),
    /// To [`Fetch::Resample`].
    Resample {
        /// The filter's number.
        turn: u64,
        /// Whether doubtful samples count.
        strict: bool,
        /// What was found among the draws.
        figures: Arc<ResampleFigures>,
        /// What was found in the whole programme, from which other filters are answered.
        whole: Arc<ResampleFigures>,
    },
    /// To [`Effect::Decide`]: what was done, or why not; in words.
    Done(Result<Done, String>),
    /// To [`Effect::WriteOut`] of sheets: where they are, or why not; in words.
    Sheets(Result<String, String>),
    /// To [`Effect::WriteOut`] of the findings pack: where it is, or why not; in words.
    Packed(Result<String, String>),
    /// To [`Effect::WritePlans`]: where the plans are, or why they are not; in words.
    Plans(Result<Written, String>),
    /// The programme file could not be read; in words.
    Unreadable(String),
}

/// Answers a question to the judged programme. One that takes long looks now and then
/// whether it is to stop.
#[must_use]
pub fn reckon(assessed: &Assessed, question: Question, progress: &Progress) -> Answer {
    match question {
        Question::Select { turn, filter } => {
            let selection = Arc::new(filter.select(assessed));
            let of_any_day = match filter.days_alone().is_empty() {
                true => Arc::clone(&selection),
                false => Arc::new(filter.without_days().select(assessed)),
            };
            Answer::Selected {
                turn,
                selection,
                of_any_day,
            }
        }
        Question::Count { loaded, filter } => Answer::Counted {
            loaded,
            draws: filter.select(assessed).len() as u64,
            filter,
        },
        Question::Offers {
            loaded,
            within,
            key,
        } => Answer::Offers {
            loaded,
            offers: Arc::new(Offers::of(assessed, &within, key)),
            within,
            key,
        },
        Question::Order {
            turn,
            selection,
            column,
        } => Answer::Ordered {
            turn,
            column,
            rows: Arc::new(order(assessed, &selection, column)),
        },
        Question::Share { turn, selection } => Answer::Share {
            turn,
            figures: Arc::new(ShareFigures::of(assessed, &selection)),
        },
        Question::People { turn, selection } => Answer::People {
            turn,
            figures: Arc::new(PeopleFigures::of(assessed, &selection)),
        },
        Question::Points { turn, selection } => Answer::Points {
            turn,
            figures: Arc::new(PointsFigures::of(assessed, &selection)),
        },
        Question::Topics {
            turn,
            filter,
            selection,
            part,
        } => Answer::Topics {
            turn,
            figures: Arc::new(TopicsFigures::of(assessed, &selection, &filter, part)),
        },
        Question::Attribution {
            turn,
            filter,
            adjust,
            selection,
        } => {
            let mut keep_going = || !progress.is_stopped();
            let fitted = attribution::attribute(assessed, &selection, &adjust, &mut keep_going);
            Answer::Attribution {
                turn,
                filter,
                adjust,
                fitted: Arc::new(fitted),
            }
        }
        Question::Subject {
            turn,
            selection,
            subject,
        } => Answer::Subject {
            turn,
            figures: Arc::new(SubjectFigures::of(assessed, &selection, &subject)),
            subject,
        },
        Question::Periods {
            turn,
            filter,
            periods,
        } => Answer::Periods(PeriodCounts::of(assessed, turn, &filter, periods)),
        Question::Find { query, names } => {
            let finds = Finds::of(assessed, names.as_deref(), &query, progress);
            Answer::Found(finds.map(Arc::new))
        }
        Question::Saved { turn, text } => Answer::Saved {
            turn,
            draws: Filter::parse(&text)
                .ok()
                .map(|filter| filter.select(assessed).len()),
            text,
        },
    }
}

/// The selected rows by a column, lowest first; equal ones stay in order of time.
fn order(assessed: &Assessed, selection: &Selection, column: Column) -> Vec<u32> {
    let ranks = column.ranks(assessed);
    // Key and row in one number: half the memory to move, and one comparison.
    let mut keyed: Vec<u64> = selection
        .par_iter()
        .map(|row| {
            let key = column.key(assessed, &ranks, *row as usize);
            u64::from(key) << 32 | u64::from(*row)
        })
        .collect();
    keyed.par_sort_unstable();
    keyed.into_iter().map(|keyed| keyed as u32).collect()
}

/// Writes the plans that are asked for and says where they are.
#[must_use]
pub fn write_plans(
    shelf: &dyn Shelf,
    assessed: &Assessed,
    order: &PlansOrder,
    progress: &Progress,
) -> Answer {
    Answer::Plans(written(shelf, assessed, order, progress))
}

fn written(
    shelf: &dyn Shelf,
    assessed: &Assessed,
    order: &PlansOrder,
    progress: &Progress,
) -> Result<Written, String> {
    let selection = &order.selection;
    let peers = peers_of(&order.filter).select(assessed);
    let plans: Vec<Plan> = topics(assessed, selection, &peers, Unit::Technician)
        .iter()
        .filter(|of| order.technicians.contains(&of.key))
        .map(|of| plan(assessed, selection, of))
        .collect();
    if plans.is_empty() {
        return Err(
            "None of those who are ticked has a draw in view; widen the filter.".to_owned(),
        );
    }
    let folder = match (order.folder.strip_prefix("~"), std::env::home_dir()) {
        (Ok(rest), Some(home)) => home.join(rest),
        _ => order.folder.clone(),
    };
    let shown = shelf.shown_in_plans(assessed, &plans::examples(&plans), progress);
    let shown = shown.map_err(|error| error.to_string())?;
    let files = plans::write(&folder, assessed, &plans, &shown, &order.filter.to_string());
    let files = files.map_err(|error| error.to_string())?;
    Ok(Written {
        plans: files.len(),
        left_out: order.technicians.len() - files.len(),
        folder: folder.display().to_string(),
    })
}

/// Answers a question to the programme file.
#[must_use]
pub fn fetch(shelf: &dyn Shelf, assessed: &Assessed, question: &Fetch) -> Answer {
    match question {
        Fetch::Records(rows) => {
            let stored: Vec<u32> = rows
                .iter()
                .map(|row| assessed.judged.record[*row as usize])
                .collect();
            match shelf.records(&stored) {
                Ok(records) => Answer::Records(rows.iter().copied().zip(records).collect()),
                Err(error) => Answer::Unreadable(error.to_string()),
            }
        }
        Fetch::Draw(row) => match shelf.open_draw(assessed, *row as usize) {
            Ok(opened) => Answer::Draw(*row, Arc::new(opened)),
            Err(error) => Answer::Unreadable(error.to_string()),
        },
        Fetch::Ledger => match shelf.ledger() {
            Ok(ledger) => Answer::Ledger(Arc::new(ledger), Arc::new(reach(assessed))),
            Err(error) => Answer::Unreadable(error.to_string()),
        },
        Fetch::Docket => match shelf.docket(assessed) {
            Ok(docket) => Answer::Docket(Arc::new(docket)),
            Err(error) => Answer::Unreadable(error.to_string()),
        },
        Fetch::Evidence(finding) => match shelf.evidence(assessed, *finding) {
            Ok(evidence) => Answer::Evidence(*finding, Arc::new(evidence)),
            Err(error) => Answer::Unreadable(error.to_string()),
        },
        Fetch::Resample {
            turn,
            selection,
            strict,
        } => match to_resample(shelf, assessed, *strict) {
            Ok(whole) => Answer::Resample {
                turn: *turn,
                strict: *strict,
                figures: Arc::new(whole.narrowed(selection)),
                whole: Arc::new(whole),
            },
            Err(error) => Answer::Unreadable(error.to_string()),
        },
        Fetch::Names(loaded) => {
            let names = shelf.draw_names(assessed).map(Arc::new);
            Answer::Names(*loaded, names.map_err(|error| error.to_string()))
        }
        Fetch::Refused(batch) => {
            let refused = shelf.refused(*batch, MOST_REFUSED);
            let draws = shelf.draws_of_batch(assessed, *batch);
            match refused.and_then(|refused| Ok((refused, draws?))) {
                Ok((refused, draws)) => Answer::Refused(
                    *batch,
                    Arc::new(refused),
                    Arc::new(Brought::of(assessed, &draws)),
                ),
                Err(error) => Answer::Unreadable(error.to_string()),
            }
        }
    }
}

/// What to sample again in the whole programme: which draw of a compartment is the latest does
/// not hang on the filter, so that the file is read once.
fn to_resample(
    shelf: &dyn Shelf,
    assessed: &Assessed,
    strict: bool,
) -> Result<ResampleFigures, Error> {
    let draws = u32::try_from(assessed.judged.len()).expect("rows are counted in 32 bits");
    let every: Selection = (0..draws).collect();
    Ok(ResampleFigures {
        to_resample: shelf.to_resample(assessed, &every, strict)?,
        facts: Arc::new(all_point_facts(assessed)),
    })
}
