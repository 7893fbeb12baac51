//! The loop: event → action → update → effects → view. Work that takes time is done on three
//! threads: one owns the programme file, two reckon over the judged programme in memory, one
//! of them answers what takes long.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::Duration;

use crossterm::event::{self, Event, KeyEventKind, MouseButton, MouseEventKind};
use ratatui::layout::Size;

use super::action::Action;
use super::app::App;
use super::decide::{Decision, Paper, decide, write_out};
use super::effect::{self, Answer, Effect, Fetch, PlansOrder, Question};
use super::error::Error;
use super::screens::import::order::{IntakeOrder, carry_out};
use super::screens::records::exam::{self, ExamOrder};
use super::terminal::{self, Screen};
use super::theme::{self, Late, Passed, Surroundings, Theme};
use super::update::update;
use super::view::view;
use crate::analysis::Assessed;
use crate::model::trail::Who;
use crate::model::{Colours, Progress};
use crate::programme::Programme;

/// How often progress is looked at while something long is under way.
const GLANCE: Duration = Duration::from_millis(100);
/// How often an idle interface looks whether the programme was changed elsewhere.
const LOOK: Duration = Duration::from_secs(2);

/// What wakes the loop.
enum Wake {
    Terminal(Event),
    TerminalGone,
    Signal,
    Mistake,
    Did(Action),
}

/// Tells the loop if the thread it stands in comes to grief, so that the interface ends
/// instead of waiting for answers that never come.
struct Alarm(Sender<Wake>);

impl Drop for Alarm {
    fn drop(&mut self) {
        if thread::panicking() {
            let _ = self.0.send(Wake::Mistake);
        }
    }
}

/// What the thread that owns the programme is told.
enum Order {
    Assess,
    Fetch(Arc<Assessed>, Fetch),
    WritePlans(Arc<Assessed>, PlansOrder),
    Decide(Arc<Assessed>, Box<(Who, Decision)>, Arc<Progress>),
    WriteOut(Arc<Assessed>, Box<Paper>, Arc<Progress>),
    LookForChanges,
}

/// What the thread that examines records is told, of what, and the means to stop it.
type Examine = (Arc<Assessed>, ExamOrder, Arc<Progress>);

/// What the thread that takes tables in is told, and the means to stop it.
type Intake = (IntakeOrder, Arc<Progress>);

/// What the thread that writes the findings pack is told, of what, and the means to stop it.
type Pack = (Arc<Assessed>, Box<Paper>, Arc<Progress>);

/// Runs the terminal interface on an open programme until the user leaves.
///
/// # Errors
/// There is no terminal or it can't be used, or the programme can't be read.
pub fn run(
    programme: Programme,
    path: &Path,
    who: Option<Who>,
    colours: Colours,
) -> Result<(), Error> {
    if !terminal::is_there() {
        return Err(Error::NoTerminal);
    }
    let (wake, woken) = channel();
    let progress = Arc::new(Progress::default());
    let read_only = programme.is_read_only();
    let (store, kept) = keeper(programme, Arc::clone(&progress), wake.clone());
    let quick = reckoner(wake.clone());
    let long = reckoner(wake.clone());
    let examiner = examiner(path.to_owned(), wake.clone());
    let (intake, taken_in) = clerk(path.to_owned(), wake.clone());
    let (packer, packed) = packer(path.to_owned(), wake.clone());
    signals(wake.clone())?;
    let mut screen = Screen::enter()?;
    let (theme, late) = look(colours, &wake);
    listen(wake, late);
    let size = screen.terminal.size()?;
    let title = path.file_name().map_or_else(
        || path.display().to_string(),
        |name| name.to_string_lossy().into_owned(),
    );
    let mut desk = Desk {
        app: App::new(&title, theme, size)
            .with_plans_folder(&folder_beside(path, "plans"))
            .with_import_folder(&import_folder(path))
            .with_paper_folders(
                &folder_beside(path, "resample"),
                &folder_beside(path, "pack"),
            )
            .with_read_only(read_only)
            .with_who(who),
        store,
        quick,
        long,
        long_progress: Arc::default(),
        examiner,
        exam_progress: Arc::default(),
        intake,
        intake_progress: Arc::default(),
        order_progress: Arc::default(),
        packer,
        pack_progress: Arc::default(),
        progress,
        since_look: Duration::ZERO,
    };
    let _ = desk.store.send(Order::Assess);
    let ended = desk.work(&mut screen, &woken);
    desk.progress.stop();
    desk.long_progress.stop();
    desk.intake_progress.stop();
    desk.exam_progress.stop();
    desk.order_progress.stop();
    desk.pack_progress.stop();
    drop(screen);
    let Desk {
        app,
        store,
        intake,
        packer,
        ..
    } = desk;
    // Without orders the thread ends; waiting for it lets the file be closed in order.
    drop(store);
    drop(intake);
    drop(packer);
    let closed = kept.join().and(taken_in.join()).and(packed.join());
    ended?;
    if closed.is_err() {
        return Err(Error::Mistake);
    }
    match app.failed {
        Some(words) => Err(Error::Unread(words)),
        None => Ok(()),
    }
}

/// A question, what it is asked of, and the means to stop it.
type Asked = (Arc<Assessed>, Question, Arc<Progress>);

/// The folder of this name that is offered to write into: beside the programme, or, since a
/// programme among temporary files goes with them, in the present folder.
fn folder_beside(programme: &Path, name: &str) -> String {
    let beside = programme.parent().unwrap_or(Path::new(""));
    let folder = if programme.starts_with(std::env::temp_dir()) {
        PathBuf::from(name)
    } else {
        beside.join(name)
    };
    folder.display().to_string()
}

/// The folder whose tables are offered: that of the programme, as [`folder_beside`] has it.
fn import_folder(programme: &Path) -> String {
    let beside = programme.parent().unwrap_or(Path::new(""));
    if beside.as_os_str().is_empty() || programme.starts_with(std::env::temp_dir()) {
        return String::new();
    }
    format!("{}{}", beside.display(), std::path::MAIN_SEPARATOR)
}

struct Desk {
    app: App,
    store: Sender<Order>,
    quick: Sender<Asked>,
    long: Sender<Asked>,
    /// Of the question that takes long, to stop it.
    long_progress: Arc<Progress>,
    examiner: Sender<Examine>,
    /// Of what is being examined.
    exam_progress: Arc<Progress>,
    intake: Sender<Intake>,
    /// Of the table being read or taken in, to stop it and to see how far it has come.
    intake_progress: Arc<Progress>,
    /// Of what a form asked for, to stop it.
    order_progress: Arc<Progress>,
    packer: Sender<Pack>,
    /// Of the findings pack, to stop it and to see how far it has come.
    pack_progress: Arc<Progress>,
    progress: Arc<Progress>,
    since_look: Duration,
}

impl Desk {
    fn work(&mut self, screen: &mut Screen, woken: &Receiver<Wake>) -> Result<(), Error> {
        loop {
            screen.terminal.draw(|frame| view(&self.app, frame))?;
            let is_busy =
                self.app.is_taking_in() || self.app.is_examining() || self.app.is_packing();
            let patience = if self.app.data.is_none() || is_busy {
                GLANCE
            } else {
                LOOK
            };
            let first = match woken.recv_timeout(patience) {
                Ok(wake) => wake,
                Err(RecvTimeoutError::Timeout) => {
                    self.idle(patience);
                    continue;
                }
                Err(RecvTimeoutError::Disconnected) => return Ok(()),
            };
            // All that has come in is dealt with before the next frame, so that held keys
            // never queue up behind drawing.
            let mut next = Some(first);
            while let Some(wake) = next {
                if self.take(wake, screen)? {
                    return Ok(());
                }
                next = woken.try_recv().ok();
            }
        }
    }

    fn idle(&mut self, waited: Duration) {
        if self.app.data.is_none() {
            let (stage, done, total) = self.progress.read();
            update(&mut self.app, Action::Progress(stage.as_str(), done, total));
            return;
        }
        if self.app.is_examining() {
            let (stage, done, total) = self.exam_progress.read();
            let stage = stage.as_str();
            update(&mut self.app, Action::ExamProgress(stage, done, total));
        }
        if self.app.is_taking_in() {
            let (stage, done, total) = self.intake_progress.read();
            let stage = stage.as_str();
            update(&mut self.app, Action::IntakeProgress(stage, done, total));
        }
        if self.app.is_packing() {
            let (stage, done, total) = self.pack_progress.read();
            let stage = stage.as_str();
            update(&mut self.app, Action::PackProgress(stage, done, total));
        }
        self.since_look += waited;
        // What is written by a pack of our own is no news.
        if self.since_look >= LOOK && !self.app.is_packing() {
            self.since_look = Duration::ZERO;
            let _ = self.store.send(Order::LookForChanges);
        }
    }

    /// Deals with one event; `true` to leave.
    fn take(&mut self, wake: Wake, screen: &mut Screen) -> Result<bool, Error> {
        let action = match wake {
            Wake::Signal | Wake::TerminalGone => return Ok(true),
            Wake::Mistake => return Err(Error::Mistake),
            Wake::Did(action) => Some(action),
            Wake::Terminal(event) => action_of(&self.app, event),
        };
        let Some(action) = action else {
            return Ok(false);
        };
        for effect in update(&mut self.app, action) {
            match effect {
                Effect::Quit => return Ok(true),
                Effect::Suspend => screen.sleep()?,
                Effect::Reload => {
                    let _ = self.store.send(Order::Assess);
                }
                Effect::Reckon(question) => self.reckon(question),
                Effect::StopLong => self.long_progress.stop(),
                Effect::Examine(order) => {
                    if let Some(assessed) = &self.app.data {
                        self.exam_progress = Arc::default();
                        let progress = Arc::clone(&self.exam_progress);
                        let _ = self.examiner.send((Arc::clone(assessed), order, progress));
                    }
                }
                Effect::StopExam => self.exam_progress.stop(),
                Effect::Intake(order) => {
                    self.intake_progress = Arc::default();
                    let _ = self.intake.send((order, Arc::clone(&self.intake_progress)));
                }
                Effect::StopIntake => self.intake_progress.stop(),
                Effect::Decide(decision) => {
                    if let (Some(assessed), Some(who)) = (&self.app.data, &self.app.who) {
                        self.order_progress = Arc::default();
                        let progress = Arc::clone(&self.order_progress);
                        let decided = Box::new((who.clone(), decision));
                        let order = Order::Decide(Arc::clone(assessed), decided, progress);
                        let _ = self.store.send(order);
                    }
                }
                Effect::WriteOut(paper @ Paper::Pack(_)) => {
                    if let Some(assessed) = &self.app.data {
                        self.pack_progress = Arc::default();
                        let progress = Arc::clone(&self.pack_progress);
                        let order = (Arc::clone(assessed), Box::new(paper), progress);
                        let _ = self.packer.send(order);
                    }
                }
                Effect::StopPack => self.pack_progress.stop(),
                Effect::WriteOut(paper) => {
                    if let Some(assessed) = &self.app.data {
                        self.order_progress = Arc::default();
                        let progress = Arc::clone(&self.order_progress);
                        let order =
                            Order::WriteOut(Arc::clone(assessed), Box::new(paper), progress);
                        let _ = self.store.send(order);
                    }
                }
                Effect::StopDeciding => self.order_progress.stop(),
                Effect::WritePlans(plans) => {
                    if let Some(assessed) = &self.app.data {
                        let order = Order::WritePlans(Arc::clone(assessed), plans);
                        let _ = self.store.send(order);
                    }
                }
                Effect::Fetch(question) => {
                    if let Some(assessed) = &self.app.data {
                        let order = Order::Fetch(Arc::clone(assessed), question);
                        let _ = self.store.send(order);
                    }
                }
            }
        }
        Ok(false)
    }

    fn reckon(&mut self, question: Question) {
        let Some(assessed) = &self.app.data else {
            return;
        };
        let progress = Arc::new(Progress::default());
        let reckoner = if question.takes_long() {
            self.long_progress = Arc::clone(&progress);
            &self.long
        } else {
            &self.quick
        };
        let _ = reckoner.send((Arc::clone(assessed), question, progress));
    }
}

fn action_of(app: &App, event: Event) -> Option<Action> {
    match event {
        Event::Key(key) if key.kind != KeyEventKind::Release => app.action_of(key),
        Event::Resize(width, height) => Some(Action::Resize(Size { width, height })),
        Event::Paste(text) => Some(Action::Paste(text)),
        Event::Mouse(mouse) => match mouse.kind {
            MouseEventKind::Down(MouseButton::Left) => Some(Action::Click(mouse.column, mouse.row)),
            MouseEventKind::ScrollDown => Some(Action::Wheel(mouse.column, mouse.row, 3)),
            MouseEventKind::ScrollUp => Some(Action::Wheel(mouse.column, mouse.row, -3)),
            _ => None,
        },
        _ => None,
    }
}

/// How things look here. The terminal is asked for its background before anything else reads
/// from it; keys that were pressed meanwhile are handed on.
fn look(colours: Colours, wake: &Sender<Wake>) -> (Theme, Late) {
    // What is drawn in no colour has none; the environment was heeded already.
    crossterm::style::force_color_output(true);
    let known = Surroundings::new(colours, |name| std::env::var(name).ok());
    let heard = match known.asks {
        true => theme::ask().ok(),
        false => None,
    };
    let Some(heard) = heard else {
        return (known.theme, Late::over());
    };
    let late = heard.late();
    for key in heard.typed {
        let _ = wake.send(Wake::Terminal(Event::Key(key)));
    }
    let theme = match heard.background {
        Some(background) => known.theme.on(Some(background)),
        None => known.theme,
    };
    (theme, late)
}

/// Reads the terminal until it is gone.
fn listen(wake: Sender<Wake>, mut late: Late) {
    thread::spawn(move || {
        loop {
            let sent = match event::read() {
                Ok(event) => late.pass(event).into_iter().try_for_each(|passed| {
                    wake.send(match passed {
                        Passed::Event(event) => Wake::Terminal(event),
                        Passed::Background(ground) => Wake::Did(Action::Background(ground)),
                    })
                }),
                Err(_) => {
                    let _ = wake.send(Wake::TerminalGone);
                    return;
                }
            };
            if sent.is_err() {
                return;
            }
        }
    });
}

/// Signals that ask to end lead to an orderly end.
fn signals(wake: Sender<Wake>) -> io::Result<()> {
    #[cfg(unix)]
    {
        use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
        let mut signals = signal_hook::iterator::Signals::new([SIGTERM, SIGHUP, SIGINT])?;
        thread::spawn(move || {
            for _ in signals.forever() {
                if wake.send(Wake::Signal).is_err() {
                    return;
                }
            }
        });
    }
    Ok(())
}

/// The thread that owns the programme file.
fn keeper(
    mut programme: Programme,
    progress: Arc<Progress>,
    wake: Sender<Wake>,
) -> (Sender<Order>, JoinHandle<()>) {
    let (orders, ordered) = channel();
    let thread = thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for order in ordered {
            let action = match order {
                Order::Assess => match programme.assess(&progress) {
                    Ok(assessed) => Action::Loaded(Arc::new(assessed)),
                    Err(error) => Action::Failed(error.to_string()),
                },
                Order::Fetch(assessed, question) => {
                    Action::Answered(effect::fetch(&programme, &assessed, &question))
                }
                Order::WritePlans(assessed, plans) => {
                    Action::Answered(effect::write_plans(&programme, &assessed, &plans))
                }
                Order::Decide(assessed, decided, progress) => {
                    let (who, decision) = *decided;
                    let done = decide(&mut programme, &assessed, &who, &decision, &progress);
                    Action::Answered(Answer::Done(done))
                }
                Order::WriteOut(assessed, paper, progress) => {
                    let done = write_out(&mut programme, &assessed, &paper, &progress);
                    Action::Answered(paper.answered(done))
                }
                Order::LookForChanges => match programme.changed_elsewhere() {
                    Ok(true) => Action::ChangedElsewhere,
                    Ok(false) | Err(_) => continue,
                },
            };
            if wake.send(Wake::Did(action)).is_err() {
                return;
            }
        }
    });
    (orders, thread)
}

/// A thread that examines records. It opens the programme file for itself, so that draws can
/// be opened meanwhile.
fn examiner(file: PathBuf, wake: Sender<Wake>) -> Sender<Examine> {
    let (orders, ordered) = channel::<Examine>();
    thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for (assessed, order, progress) in ordered {
            let answer = match Programme::open(&file) {
                Ok(programme) => exam::examine(&programme, &assessed, &order, &progress),
                Err(error) => exam::failed(&order, &error),
            };
            if wake.send(Wake::Did(Action::Examined(answer))).is_err() {
                return;
            }
        }
    });
    orders
}

/// The thread that looks into folders and takes tables in. It opens the programme file for
/// itself, so that draws can be opened meanwhile.
fn clerk(file: PathBuf, wake: Sender<Wake>) -> (Sender<Intake>, JoinHandle<()>) {
    let (orders, ordered) = channel::<Intake>();
    let thread = thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for (order, progress) in ordered {
            let answer = carry_out(&file, &order, &progress);
            if wake.send(Wake::Did(Action::Intake(answer))).is_err() {
                return;
            }
        }
    });
    (orders, thread)
}

/// The thread that writes the findings pack. It opens the programme file for itself, so that
/// draws can be opened meanwhile.
fn packer(file: PathBuf, wake: Sender<Wake>) -> (Sender<Pack>, JoinHandle<()>) {
    let (orders, ordered) = channel::<Pack>();
    let thread = thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for (assessed, paper, progress) in ordered {
            let done = Programme::open(&file)
                .map_err(|error| error.to_string())
                .and_then(|mut programme| write_out(&mut programme, &assessed, &paper, &progress));
            let answer = Action::Answered(paper.answered(done));
            if wake.send(Wake::Did(answer)).is_err() {
                return;
            }
        }
    });
    (orders, thread)
}

/// A thread that reckons over the judged programme in memory.
fn reckoner(wake: Sender<Wake>) -> Sender<Asked> {
    let (questions, asked) = channel::<Asked>();
    thread::spawn(move || {
        let _alarm = Alarm(wake.clone());
        for (assessed, question, progress) in asked {
            let answer: Answer = effect::reckon(&assessed, question, &progress);
            if wake.send(Wake::Did(Action::Answered(answer))).is_err() {
                return;
            }
        }
    });
    questions
}
