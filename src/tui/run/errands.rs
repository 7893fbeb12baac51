//! Carries out what the state asks to be done outside: hands it to the thread that does it.

use std::path::Path;
use std::sync::Arc;
use std::sync::mpsc::Sender;
use std::thread::JoinHandle;

use super::keeper::{self, Order};
use super::own_file::OwnFile;
use super::wake::Wake;
use super::workers::{
    self, Asked, Examine, Intake, Name, Write, Writing, clerk, examiner, namer, reckoner,
};
use crate::analysis::Assessed;
use crate::model::Progress;
use crate::programme::Programme;
use crate::programme::remembered::Keeper as Remembered;
use crate::tui::action::Action;
use crate::tui::app::{App, Loading};
use crate::tui::decide::Paper;
use crate::tui::effect::{Answer, Effect, Fetch, Question};
use crate::tui::error::Error;
use crate::tui::remember;

/// Where work of one kind goes, and the means to stop it and to see how far it has come.
struct Hand<T> {
    orders: Sender<T>,
    progress: Arc<Progress>,
}

impl<T> Hand<T> {
    fn new(orders: Sender<T>) -> Self {
        Hand {
            orders,
            progress: Arc::default(),
        }
    }

    /// Gives an order, with means of its own to stop it.
    fn order(&mut self, order: impl FnOnce(Arc<Progress>) -> T) {
        self.progress = Arc::default();
        let _ = self.orders.send(order(Arc::clone(&self.progress)));
    }

    fn how_far(&self) -> Loading {
        how_far(&self.progress)
    }
}

fn how_far(progress: &Progress) -> Loading {
    let (stage, done, total) = progress.read();
    Loading {
        stage: stage.as_str(),
        done,
        total,
    }
}

/// The threads that work for the interface.
pub(super) struct Errands {
    keeper: Hand<Order>,
    /// How far reading and judging the programme have come.
    reading: Arc<Progress>,
    quick: Sender<Asked>,
    long: Hand<Asked>,
    finder: Hand<Asked>,
    namer: Sender<Name>,
    examiner: Hand<Examine>,
    intake: Hand<Intake>,
    packer: Hand<Write>,
    sheets: Hand<Write>,
    plans: Hand<Write>,
    memory: Sender<remember::Order>,
    /// Those that have files open; they end when they get no more orders.
    threads: Vec<JoinHandle<()>>,
}

impl Errands {
    pub(super) fn begin(
        programme: Programme,
        path: &Path,
        reading: Arc<Progress>,
        remembered: Remembered,
        wake: &Sender<Wake>,
    ) -> Self {
        let file = OwnFile::new(path, &programme);
        let (keeper, kept) =
            keeper::keeper(programme, file.clone(), Arc::clone(&reading), wake.clone());
        let (intake, taken_in) = clerk(file.clone(), wake.clone());
        let wakes = wake.clone();
        let (memory, left) = remember::thread(remembered, move |changed| {
            let answer = Action::Answered(Answer::Remembered(changed));
            wakes.send(Wake::Did(answer)).is_ok()
        });
        let writer = || workers::writer(file.clone(), wake.clone());
        let [(packer, packed), (sheets, printed), (plans, planned)] =
            [writer(), writer(), writer()];
        Errands {
            keeper: Hand::new(keeper),
            reading,
            quick: reckoner(wake.clone()),
            long: Hand::new(reckoner(wake.clone())),
            finder: Hand::new(reckoner(wake.clone())),
            namer: namer(file.clone(), wake.clone()),
            examiner: Hand::new(examiner(file.clone(), wake.clone())),
            intake: Hand::new(intake),
            packer: Hand::new(packer),
            sheets: Hand::new(sheets),
            plans: Hand::new(plans),
            memory,
            threads: vec![kept, taken_in, packed, printed, planned, left],
        }
    }

    /// Stops what is under way and waits until every file is closed in order.
    ///
    /// # Errors
    /// A thread came to grief.
    pub(super) fn end(self) -> Result<(), Error> {
        let Errands {
            keeper,
            reading,
            long,
            finder,
            examiner,
            intake,
            packer,
            sheets,
            plans,
            memory,
            threads,
            ..
        } = self;
        for progress in [
            &keeper.progress,
            &reading,
            &long.progress,
            &finder.progress,
            &examiner.progress,
            &intake.progress,
            &packer.progress,
            &sheets.progress,
            &plans.progress,
        ] {
            progress.stop();
        }
        drop((keeper, intake, packer, sheets, plans, memory));
        let mut ended = Ok(());
        for thread in threads {
            ended = ended.and(thread.join().map_err(|_| Error::Mistake));
        }
        ended
    }

    /// Has it kept how the screens are left.
    pub(super) fn remember(&self, app: &App) {
        let order = remember::Order::Leave(remember::layout(app), app.history.clone());
        let _ = self.memory.send(order);
    }

    /// Tells the thread that owns the programme file.
    pub(super) fn keeper(&self, order: Order) {
        let _ = self.keeper.orders.send(order);
    }

    /// Whether something is under way of which it is shown how far it has come.
    pub(super) fn is_busy(&self, app: &App) -> bool {
        app.data.is_none()
            || app.waiting.reload
            || app.is_taking_in()
            || app.is_examining()
            || app.is_packing()
            || app.is_writing()
    }

    /// How far things have come, where that is news.
    pub(super) fn progress(&self, app: &App) -> Vec<Action> {
        let told = |is_wanted: bool, known: Loading, now: Loading| {
            (is_wanted && known != now).then_some(now)
        };
        let mut news = Vec::new();
        let reads = app.data.is_none() || app.waiting.reload;
        if let Some(now) = told(reads, app.loading, how_far(&self.reading)) {
            news.push(Action::Progress(now.stage, now.done, now.total));
        }
        let exam = self.examiner.how_far();
        if let Some(now) = told(app.is_examining(), app.examined.progress, exam) {
            news.push(Action::ExamProgress(now.stage, now.done, now.total));
        }
        let intake = self.intake.how_far();
        if let Some(now) = told(app.is_taking_in(), app.import.progress, intake) {
            news.push(Action::IntakeProgress(now.stage, now.done, now.total));
        }
        let packing = app.packing.as_ref().map(|packing| packing.progress);
        let pack = self.packer.how_far();
        if let Some(now) = told(packing.is_some(), packing.unwrap_or_default(), pack) {
            news.push(Action::PackProgress(now.stage, now.done, now.total));
        }
        let written = match app.waiting.plans {
            true => self.plans.how_far(),
            false if app.is_writing_sheets() => self.sheets.how_far(),
            false => self.keeper.how_far(),
        };
        if let Some(now) = told(app.is_writing(), app.writing, written) {
            news.push(Action::WriteProgress(now.stage, now.done, now.total));
        }
        news
    }

    /// Hands on what is to be done outside.
    pub(super) fn carry_out(&mut self, app: &App, effect: Effect) {
        match effect {
            Effect::Quit | Effect::Suspend | Effect::OpenAnother | Effect::Copy(_) => {}
            Effect::Remember(change) => {
                let _ = self.memory.send(remember::Order::Change(change));
            }
            Effect::Reload => self.keeper(Order::Assess),
            Effect::StopLong => self.long.progress.stop(),
            Effect::StopFind => self.finder.progress.stop(),
            Effect::StopExam => self.examiner.progress.stop(),
            Effect::StopIntake => self.intake.progress.stop(),
            Effect::StopPack => self.packer.progress.stop(),
            Effect::StopPlans => self.plans.progress.stop(),
            Effect::StopDeciding => {
                self.keeper.progress.stop();
                self.sheets.progress.stop();
            }
            Effect::Intake(order) => self.intake.order(|progress| (order, progress)),
            about_draws => {
                if let Some(assessed) = &app.data {
                    self.ask(app, assessed, about_draws);
                }
            }
        }
    }

    /// Hands on what is about the draws on screen.
    fn ask(&mut self, app: &App, assessed: &Arc<Assessed>, effect: Effect) {
        let assessed = Arc::clone(assessed);
        match effect {
            Effect::Reckon(question) => self.reckon(assessed, question),
            Effect::Fetch(Fetch::Names(loaded)) => {
                let _ = self.namer.send((assessed, loaded));
            }
            Effect::Fetch(question) => self.keeper(Order::Fetch(assessed, question)),
            Effect::Examine(order) => {
                self.examiner.order(|progress| (assessed, order, progress));
            }
            Effect::Decide(decision) => {
                if let Some(who) = app.who.clone() {
                    let decided = Box::new((who, decision));
                    self.keeper
                        .order(|progress| Order::Decide(assessed, decided, progress));
                }
            }
            Effect::WriteOut(paper) => {
                let hand = match &paper {
                    Paper::Pack(_) => &mut self.packer,
                    Paper::Sheets { .. } | Paper::PickSheet(..) => &mut self.sheets,
                };
                let paper = Writing::Paper(Box::new(paper));
                hand.order(|progress| (assessed, paper, progress));
            }
            Effect::WritePlans(plans) => {
                let plans = Writing::Plans(plans);
                self.plans.order(|progress| (assessed, plans, progress));
            }
            _ => {}
        }
    }

    fn reckon(&mut self, assessed: Arc<Assessed>, question: Question) {
        if question.takes_long() {
            self.long.order(|progress| (assessed, question, progress));
        } else if question.is_find() {
            self.finder.order(|progress| (assessed, question, progress));
        } else {
            let _ = self.quick.send((assessed, question, Arc::default()));
        }
    }
}
