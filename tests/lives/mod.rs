//! Lives of parts: how they begin, run and end.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

mod ends;

use crate::history::{book, part};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::lives::{End, Life, lives};

/// The lives of a part, at the end of the book.
pub fn of(compiled: &Compiled, name: &str) -> Vec<Life> {
    lives(&compiled.book, &compiled.history, u32::MAX).of_part(part(compiled, name)).to_vec()
}

/// Minutes of a life since new.
pub fn minutes(compiled: &Compiled, life: &Life) -> f64 {
    life.on(&compiled.book, Clock::Time).value / 60.0
}

/// "failed 20, running 25": the lives of a part in words.
pub fn said(lines: &str, name: &str) -> String {
    let compiled = book(lines);
    let word = |life: &Life| match life.end {
        End::Running => "running",
        End::RunningSold => "sold running",
        End::Good(_) => "good",
        End::Rebuilt(_) => "rebuilt",
        End::Failed(_) => "failed",
        End::Unused => "unused",
        End::Unmended(_) => "unmended",
    };
    let lives = of(&compiled, name);
    lives
        .iter()
        .map(|life| format!("{} {}", word(life), minutes(&compiled, life)))
        .collect::<Vec<_>>()
        .join(", ")
}
