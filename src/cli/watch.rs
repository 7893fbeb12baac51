//! Long work under watch: a progress bar on stderr, and Ctrl-C stops it.

use std::io;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread;
use std::time::{Duration, Instant};

use indicatif::{ProgressBar, ProgressDrawTarget, ProgressStyle};
use signal_hook::consts::{SIGINT, SIGTERM};

use crate::model::Progress;
use crate::model::progress::Stage;

/// How often the bar and the wish to stop are looked at.
const LOOK_EVERY: Duration = Duration::from_millis(50);
/// Work that ends sooner shows no bar.
const SHOW_AFTER: Duration = Duration::from_millis(400);

/// Turns Ctrl-C into a wish to stop, until the work is done. Afterwards, and the second time
/// it is pressed, Ctrl-C ends the process as usual.
pub struct Watch {
    asked_to_stop: Arc<AtomicBool>,
    ends_process: Arc<AtomicBool>,
}

impl Watch {
    /// Begins to listen to SIGINT and SIGTERM.
    pub fn new() -> io::Result<Self> {
        let watch = Watch {
            asked_to_stop: Arc::new(AtomicBool::new(false)),
            ends_process: Arc::new(AtomicBool::new(false)),
        };
        for signal in [SIGINT, SIGTERM] {
            signal_hook::flag::register_conditional_default(signal, watch.ends_process.clone())?;
            signal_hook::flag::register(signal, watch.asked_to_stop.clone())?;
        }
        Ok(watch)
    }

    /// Leaves the signals to the terminal interface, which has to put the screen back first.
    pub fn retire(&self) {
        self.ends_process.store(false, Ordering::Relaxed);
    }

    /// Does the work, with a progress bar if one is wanted and stderr is a terminal.
    pub fn over<T>(&self, with_bar: bool, work: impl FnOnce(&Progress) -> T) -> T {
        let progress = Progress::default();
        if self.asked_to_stop.load(Ordering::Relaxed) {
            progress.stop();
        }
        let finished = AtomicBool::new(false);
        self.ends_process.store(false, Ordering::Relaxed);
        let result = thread::scope(|scope| {
            let looker = scope.spawn(|| self.look_after(&progress, &finished, with_bar));
            let _guard = Finished(&finished, looker.thread());
            work(&progress)
        });
        self.ends_process.store(true, Ordering::Relaxed);
        result
    }

    fn look_after(&self, progress: &Progress, finished: &AtomicBool, with_bar: bool) {
        let begun = Instant::now();
        let mut bar = Bar::new();
        while !finished.load(Ordering::Acquire) {
            if self.asked_to_stop.load(Ordering::Relaxed) {
                progress.stop();
                self.ends_process.store(true, Ordering::Relaxed);
            }
            if with_bar && begun.elapsed() >= SHOW_AFTER {
                bar.show(progress);
            }
            thread::park_timeout(LOOK_EVERY);
        }
        bar.clear();
    }
}

/// Says that the work has ended, even where it panicked.
struct Finished<'a>(&'a AtomicBool, &'a thread::Thread);

impl Drop for Finished<'_> {
    fn drop(&mut self) {
        self.0.store(true, Ordering::Release);
        self.1.unpark();
    }
}

/// The bar, which draws nothing where stderr is no terminal.
struct Bar {
    bar: Option<ProgressBar>,
    stage: Stage,
}

impl Bar {
    fn new() -> Self {
        Bar {
            bar: None,
            stage: Stage::Waiting,
        }
    }

    fn show(&mut self, progress: &Progress) {
        let (stage, done, total) = progress.read();
        let bar = self.bar.get_or_insert_with(|| {
            ProgressBar::with_draw_target(None, ProgressDrawTarget::stderr())
        });
        if stage != self.stage {
            self.stage = stage;
            bar.set_style(style(stage, total));
            bar.set_message(stage.as_str());
        }
        if total > 0 {
            bar.set_length(total);
        }
        bar.set_position(done);
        bar.tick();
    }

    fn clear(self) {
        if let Some(bar) = self.bar {
            bar.finish_and_clear();
        }
    }
}

fn style(stage: Stage, total: u64) -> ProgressStyle {
    let template = match (stage, total) {
        (_, 0) => "{msg:8} {spinner}",
        (Stage::Reading, _) => "{msg:8} [{wide_bar}] {bytes} of {total_bytes}",
        _ => "{msg:8} [{wide_bar}] {human_pos} of {human_len}",
    };
    ProgressStyle::with_template(template).unwrap_or_else(|_| ProgressStyle::default_bar())
}
