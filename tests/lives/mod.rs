//! Lives of parts: how they begin, run and end.

// Whole minutes add up exactly.
#![allow(clippy::float_cmp)]

mod bad_input;
mod clocks;
mod ends;
mod modes;
mod published;
mod random;
mod scale;
mod sentences;

use crate::checks::compile_text;
use crate::history::{book, part};
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::answer::lives::{CountedFailures, KindLives, kind};
use stringline::book::model::{Clock, KindId};
use stringline::book::names::Thing;
use stringline::command::output::Output;
use stringline::history::order::Rank;
use stringline::lives::{End, Life, lives};

/// The lives of a part, at the end of the book.
pub fn of(compiled: &Compiled, name: &str) -> Vec<Life> {
    lives(&compiled.book, &compiled.history, Rank::END).of_part(part(compiled, name)).to_vec()
}

/// Minutes of a life since new.
pub fn minutes(compiled: &Compiled, life: &Life) -> f64 {
    life.on(&compiled.book, Clock::Time).value / 60.0
}

/// "failed 20, running 25": the lives of a part in words.
pub fn said(lines: &str, name: &str) -> String {
    said_of(&book(lines), name)
}

/// The same of a compiled book.
pub fn said_of(compiled: &Compiled, name: &str) -> String {
    let word = |life: &Life| match life.end {
        End::Running => "running",
        End::RunningSold => "sold running",
        End::Good(_) => "good",
        End::Rebuilt(_) => "rebuilt",
        End::Failed(_) => "failed",
        End::Unused => "unused",
        End::Unmended(_) => "unmended",
    };
    let lives = of(compiled, name);
    lives
        .iter()
        .map(|life| format!("{} {}", word(life), minutes(compiled, life)))
        .collect::<Vec<_>>()
        .join(", ")
}

/// How a belt's life ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fate {
    /// It broke in its session.
    Failed,
    /// It came off good after it.
    Pulled,
    /// It is still on.
    Running,
}
use Fate::{Failed, Pulled, Running};

/// One belt: its spec (empty for none), what its car ran with it (`77 min`), how it ended.
pub type Belt<'a> = (&'a str, String, Fate);

/// Ledger lines of those belts, b-1 and on, each on a car of its own, c-1 and on. `kind` is the rest of the kind's line; each spec may
/// bring the rest of its own line after its name.
pub fn ledger(kind: &str, specs: &[&str], belts: &[Belt]) -> String {
    let mut text = format!("kind belt \"fan belt\"  fits nose  {kind}\n");
    for spec in specs {
        let (name, rest) = spec.split_once(' ').unwrap_or((spec, ""));
        let _ = writeln!(text, "spec {name} of belt \"{name}\"  {rest}");
    }
    let mut dated = String::new();
    for (number, (spec, ran, fate)) in belts.iter().enumerate() {
        let number = number + 1;
        let of = if spec.is_empty() { String::new() } else { format!("  spec {spec}") };
        let _ = writeln!(text, "car c-{number} \"car {number}\"\npart b-{number} belt{of}  opening new");
        let _ = writeln!(dated, "\n2025-05-01 c-{number}\n  fit b-{number} nose\n  09:00 run s1  {ran}");
        dated += &match fate {
            Failed => format!("    failed b-{number} mode worn\n    remove b-{number}\n"),
            Pulled => format!("    remove b-{number}\n"),
            Running => String::new(),
        };
    }
    text + &dated
}

/// Belts of one spec that ran so many minutes.
pub fn minutes_of<'a>(spec: &'a str, fate: Fate, minutes: &[f64]) -> Vec<Belt<'a>> {
    minutes.iter().map(|minutes| (spec, format!("{minutes} min"), fate)).collect()
}

/// The kind of that name.
pub fn kind_of(compiled: &Compiled, name: &str) -> KindId {
    match compiled.book.names.find(name) {
        Some(Thing::Kind(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

/// What `lives` says of a kind.
pub fn view_of(
    compiled: &Compiled,
    name: &str,
    clock: Option<Clock>,
    counting: &CountedFailures,
) -> KindLives {
    let all = lives(&compiled.book, &compiled.history, Rank::END);
    kind(compiled, &all, kind_of(compiled, name), clock, counting).expect("lives of that kind")
}

/// What `lives belt` says of those lines.
pub fn belts(text: &str) -> KindLives {
    view_of(&compile_text(text), "belt", None, &CountedFailures::default())
}

/// What a command says of a book, on the terminal: the command, and the words after the book.
pub fn printed(text: &str, words: &[&str]) -> String {
    use std::sync::atomic::{AtomicUsize, Ordering};
    static BOOKS: AtomicUsize = AtomicUsize::new(0);
    let number = BOOKS.fetch_add(1, Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("stringline-lives-{}-{number}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("book.sline"), text).unwrap();
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let book = folder.to_str().unwrap();
    let all = ["stringline", words[0], book].into_iter().chain(words[1..].iter().copied());
    let now = Some(crate::checks::now());
    let _ = stringline::command::run(
        all.map(std::ffi::OsString::from),
        &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width: 200,
            now,
        },
    );
    std::fs::remove_dir_all(&folder).unwrap();
    String::from_utf8(out).unwrap() + &String::from_utf8(err).unwrap()
}

pub fn near(got: f64, wanted: f64, tolerance: f64) {
    assert!((got - wanted).abs() <= tolerance, "{got}, expected {wanted} ± {tolerance}");
}
