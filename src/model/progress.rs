//! How far a long piece of work has come, and the wish to stop it.

use std::sync::atomic::{AtomicBool, AtomicU8, AtomicU64, Ordering};

/// What a long piece of work is at.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[repr(u8)]
pub enum Stage {
    /// Not begun.
    Waiting,
    /// Reading a sheet; counted in bytes.
    Reading,
    /// Reading the stored history; counted in draws.
    Loading,
    /// Judging; counted in draws.
    Judging,
    /// Writing to the programme file; not counted.
    Saving,
    /// Fitting a model; not counted.
    Fitting,
    /// Writing a pack; counted in draws where they are what is written.
    Writing,
}

impl Stage {
    const ALL: [Stage; 7] = [
        Stage::Waiting,
        Stage::Reading,
        Stage::Loading,
        Stage::Judging,
        Stage::Saving,
        Stage::Fitting,
        Stage::Writing,
    ];

    /// One word for a progress line.
    #[must_use]
    pub const fn as_str(self) -> &'static str {
        match self {
            Stage::Waiting => "waiting",
            Stage::Reading => "reading",
            Stage::Loading => "loading",
            Stage::Judging => "judging",
            Stage::Saving => "saving",
            Stage::Fitting => "fitting",
            Stage::Writing => "writing",
        }
    }
}

/// Shared between the thread that works and the one that shows; all fields are atomic.
#[derive(Debug, Default)]
pub struct Progress {
    stage: AtomicU8,
    done: AtomicU64,
    total: AtomicU64,
    stop: AtomicBool,
}

impl Progress {
    /// Begins a stage of `total` steps (0 if not known).
    pub fn begin(&self, stage: Stage, total: u64) {
        self.stage.store(stage as u8, Ordering::Relaxed);
        self.done.store(0, Ordering::Relaxed);
        self.total.store(total, Ordering::Relaxed);
    }

    /// Counts steps done.
    pub fn advance(&self, steps: u64) {
        self.done.fetch_add(steps, Ordering::Relaxed);
    }

    /// The stage, the steps done and the steps in all.
    #[must_use]
    pub fn read(&self) -> (Stage, u64, u64) {
        let stage = usize::from(self.stage.load(Ordering::Relaxed));
        (
            Stage::ALL.get(stage).copied().unwrap_or(Stage::Waiting),
            self.done.load(Ordering::Relaxed),
            self.total.load(Ordering::Relaxed),
        )
    }

    /// Asks the work to stop at the next safe place.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// Whether someone asked to stop.
    #[must_use]
    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }
}
