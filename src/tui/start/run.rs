//! Carries out what is asked for before a programme is open.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender};
use std::thread::{self, JoinHandle};

use super::{Effect, Happened, Start, update, view};
use crate::model::Progress;
use crate::model::trail::Who;
use crate::programme::{Beginning, Demo, Error as Undone, Programme, Unopened, folder};
use crate::tui::action::Action;
use crate::tui::error::Error;
use crate::tui::run::{Alarm, Early, GLANCE, Look, Wake};
use crate::tui::screens::import::order::cant;
use crate::tui::terminal::Screen;
use crate::tui::text;

/// What is tried first.
#[derive(Clone, Copy, Debug)]
pub(in crate::tui) enum First {
    /// The file is opened.
    Open,
    /// The invented programme is made.
    Demo,
    /// Another file is asked for.
    Name,
}

impl First {
    /// What was asked for on the command line.
    pub(in crate::tui) const fn of(beginning: &Beginning) -> Self {
        if beginning.is_demo {
            First::Demo
        } else {
            First::Open
        }
    }
}

/// A programme to sit down to.
pub(in crate::tui) struct Begun {
    pub(in crate::tui) programme: Programme,
    pub(in crate::tui) file: PathBuf,
    pub(in crate::tui) who: Option<Who>,
}

/// What the threads of this time answer.
pub(in crate::tui) enum Answered {
    /// The wish of this number was tried.
    Opened(u64, Result<Box<Programme>, Unopened>),
    /// The invented programme was made, or not.
    Made(Result<Box<Demo>, Undone>),
    /// Anything else.
    Happened(Happened),
}

/// The time before a programme is open.
pub(in crate::tui) struct Doorstep<'a> {
    beginning: &'a Beginning,
    wake: &'a Sender<Wake>,
    woken: &'a Receiver<Wake>,
    /// Of the invented programme that is being made.
    making: Arc<Progress>,
    maker: Option<JoinHandle<()>>,
    /// What was typed while the file was opened.
    early: Early,
}

/// What an event came to.
enum Came {
    /// The user goes on waiting, or choosing.
    Nothing,
    Begun(Box<Begun>),
    Left,
}

impl<'a> Doorstep<'a> {
    pub(in crate::tui) fn new(
        beginning: &'a Beginning,
        wake: &'a Sender<Wake>,
        woken: &'a Receiver<Wake>,
    ) -> Self {
        Doorstep {
            beginning,
            wake,
            woken,
            making: Arc::default(),
            maker: None,
            early: Early::default(),
        }
    }

    /// Waits until there is a programme to sit down to; none where the user leaves.
    ///
    /// # Errors
    /// The terminal can't be used, or the user leaves what could not be opened.
    pub(in crate::tui) fn wait(
        &mut self,
        first: First,
        look: &mut Look,
        screen: &mut Screen,
    ) -> Result<Option<Begun>, Error> {
        let mut start = Start::new(&self.beginning.file, look.theme, screen.size()?);
        let effects = match first {
            First::Open => start.open(),
            First::Demo => start.make_demo(),
            First::Name => start.name_another(),
        };
        let mut came = self.carry_out(&mut start, effects, screen)?;
        loop {
            match came {
                Came::Begun(begun) => return Ok(Some(*begun)),
                Came::Left => return Ok(None),
                Came::Nothing => {}
            }
            if look.is_settled && !start.is_quiet() && screen.is_free() {
                screen.draw(|frame| view(&start, frame))?;
            }
            let wake = if start.is_busy() {
                self.woken.recv_timeout(GLANCE)
            } else {
                self.woken
                    .recv()
                    .map_err(|_| RecvTimeoutError::Disconnected)
            };
            came = match wake {
                Ok(Wake::Looked(background)) => {
                    look.settle(background);
                    start.theme = look.theme;
                    Came::Nothing
                }
                Ok(wake) => self.take(wake, &mut start, screen)?,
                Err(RecvTimeoutError::Timeout) => {
                    let (stage, done, total) = self.making.read();
                    let action = Action::Progress(stage.as_str(), done, total);
                    update(&mut start, Happened::Action(action));
                    Came::Nothing
                }
                Err(RecvTimeoutError::Disconnected) => Came::Left,
            };
        }
    }

    fn take(&mut self, wake: Wake, start: &mut Start, screen: &mut Screen) -> Result<Came, Error> {
        let happened = match wake {
            Wake::Signal | Wake::TerminalGone => return Ok(Came::Left),
            Wake::Mistake => return Err(Error::Mistake),
            Wake::Did(_) | Wake::Written | Wake::Looked(_) => return Ok(Came::Nothing),
            Wake::Resumed => {
                screen.resume()?;
                Happened::Action(Action::Resize(screen.size()?))
            }
            Wake::Resized => Happened::Action(Action::Resize(screen.size()?)),
            Wake::Terminal(event) => {
                let by_key = |key| start.action_of(key);
                match self.early.pass(event, start.is_opening(), by_key) {
                    Some(action) => Happened::Action(action),
                    None => return Ok(Came::Nothing),
                }
            }
            Wake::Began(Answered::Happened(happened)) => happened,
            Wake::Began(Answered::Opened(wish, Ok(programme))) => {
                // A file that is no longer wanted is let go again.
                return Ok(if start.awaits(wish) {
                    self.begun(*programme, start.file.clone())
                } else {
                    Came::Nothing
                });
            }
            Wake::Began(Answered::Opened(wish, Err(unopened))) => {
                Happened::Unopened(wish, unopened)
            }
            Wake::Began(Answered::Made(Ok(demo))) => {
                let Demo {
                    programme,
                    file,
                    who,
                } = *demo;
                return Ok(Came::Begun(Box::new(Begun {
                    programme,
                    file,
                    who,
                })));
            }
            Wake::Began(Answered::Made(Err(error))) => Happened::NoDemo(match error {
                Undone::Stopped => None,
                other => Some(text::sentence(&other.to_string())),
            }),
        };
        let effects = update(start, happened);
        self.carry_out(start, effects, screen)
    }

    fn begun(&mut self, programme: Programme, file: PathBuf) -> Came {
        for event in self.early.take() {
            let _ = self.wake.send(Wake::Terminal(event));
        }
        let who = self.beginning.who.clone();
        Came::Begun(Box::new(Begun {
            programme,
            file,
            who,
        }))
    }

    fn carry_out(
        &mut self,
        start: &mut Start,
        effects: Vec<Effect>,
        screen: &mut Screen,
    ) -> Result<Came, Error> {
        for effect in effects {
            match effect {
                Effect::Open(wish, file) => self.on_a_thread(move || {
                    let opened = Programme::open(&file);
                    let opened = opened.map_err(|error| Unopened::of(&file, &error));
                    Answered::Opened(wish, opened.map(Box::new))
                }),
                Effect::MakeDemo => {
                    self.making = Arc::default();
                    let (make, progress) = (self.beginning.demo.clone(), self.making.clone());
                    self.maker =
                        Some(self.thread(move || Answered::Made(make(&progress).map(Box::new))));
                }
                Effect::StopDemo => self.making.stop(),
                Effect::List(of) => self.on_a_thread(move || {
                    let path = folder::path_of(&of);
                    let listed = folder::programmes(&path).map_err(|error| cant(&path, &error));
                    Answered::Happened(Happened::Listed(of, Arc::new(listed)))
                }),
                Effect::Fill(file) => match no_folder(&file) {
                    Some(words) => {
                        update(start, Happened::CantFill(words));
                    }
                    None => match Programme::in_memory() {
                        Ok(blank) => return Ok(self.begun(blank, file)),
                        Err(error) => return Err(Error::Unread(error.to_string())),
                    },
                },
                Effect::Suspend => screen.sleep()?,
                Effect::Quit(None) => return Ok(Came::Left),
                Effect::Quit(Some(words)) => return Err(Error::Unread(words)),
            }
        }
        Ok(Came::Nothing)
    }

    fn on_a_thread(&self, work: impl FnOnce() -> Answered + Send + 'static) {
        // Nobody waits for its end; its answer says that it came.
        drop(self.thread(work));
    }

    fn thread(&self, work: impl FnOnce() -> Answered + Send + 'static) -> JoinHandle<()> {
        let wake = self.wake.clone();
        thread::spawn(move || {
            let _alarm = Alarm(wake.clone());
            let _ = wake.send(Wake::Began(work()));
        })
    }
}

impl Drop for Doorstep<'_> {
    /// Waits for the maker of the demo, so that what it wrote can be removed.
    fn drop(&mut self) {
        self.making.stop();
        if let Some(maker) = self.maker.take() {
            let _ = maker.join();
        }
    }
}

/// That the folder of a file to be made is not there, in words.
pub(in crate::tui) fn no_folder(file: &Path) -> Option<String> {
    let folder = file.parent().filter(|it| !it.as_os_str().is_empty())?;
    let shown = folder.display();
    (!folder.is_dir()).then(|| format!("There is no folder {shown}; o names another file."))
}
