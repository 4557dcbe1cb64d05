//! How far a long piece of work is: a line on a terminal that is drawn over, from the second second on.
//!
//! Must not know what the work is.

use std::time::{Duration, Instant};

/// Work shorter than this says nothing.
const QUIET: Duration = Duration::from_secs(1);
/// The line is drawn no more often than this.
const STEP: Duration = Duration::from_millis(200);

/// What wipes a line away.
pub const WIPE: &str = "\r\u{1b}[K";

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

    /// One step of `all` is done; what to write on the terminal, if anything.
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
        Some(format!("{WIPE}{} of {all} {noun}", self.done))
    }

    /// What wipes the line away, if one was drawn.
    #[must_use]
    pub fn end(&self) -> &'static str {
        if self.drawn.is_some() { WIPE } else { "" }
    }
}
