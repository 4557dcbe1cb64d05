//! How far a long piece of work is: a line on a terminal that is drawn over, from the second second on.
//!
//! Must not know what the work is.

use std::time::{Duration, Instant};

/// Work shorter than this says nothing.
const QUIET: Duration = Duration::from_secs(1);
/// The line is drawn no more often than this.
const STEP: Duration = Duration::from_millis(200);

/// A piece of work.
#[derive(Debug, Clone, Copy)]
pub struct Progress {
    started: Instant,
    drawn: Option<Duration>,
    done: usize,
}

impl Progress {
    /// Work that begins now.
    #[must_use]
    pub fn begin() -> Self {
        Self { started: Instant::now(), drawn: None, done: 0 }
    }

    /// One step of `all` is done; the line to draw on the terminal, if any.
    pub fn step(&mut self, all: usize, noun: &str) -> Option<String> {
        self.step_at(self.started.elapsed(), all, noun)
    }

    /// The same, so long after the beginning.
    pub fn step_at(&mut self, now: Duration, all: usize, noun: &str) -> Option<String> {
        self.done += 1;
        if now < QUIET || self.drawn.is_some_and(|drawn| now < drawn + STEP) {
            return None;
        }
        self.drawn = Some(now);
        Some(format!("{} of {all} {noun}", self.done))
    }

    /// Whether a line was drawn, and must be wiped away.
    #[must_use]
    pub const fn drawn(&self) -> bool {
        self.drawn.is_some()
    }
}
