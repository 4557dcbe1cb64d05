//! Books that nobody would keep and that come anyway: each gets its message, in seconds, without a panic.

mod any_bytes;
mod big;
mod folders;
mod replay;
mod same;

use jiff::Timestamp;
use stringline::diagnostics::{Severity, json, sarif, short, terminal};
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// A fixed instant: 2026-11-01T12:00Z.
fn now() -> Timestamp {
    Timestamp::from_second(1_793_534_400).unwrap()
}

/// Compiles files in memory.
fn book(files: &[(&str, &str)]) -> Compiled {
    compile(&Memory::new(files, now())).unwrap()
}

/// Runs every renderer; none may panic. The short one's text.
fn render(compiled: &Compiled) -> String {
    let (all, files) = (&compiled.diagnostics, &compiled.files);
    for width in [0, 20, 100] {
        for color in [false, true] {
            let _ = terminal::render(all, files, color, width);
        }
    }
    let _ = serde_json::from_str::<serde_json::Value>(&json::render(all, files)).unwrap();
    let sarif =
        sarif::render(all, files, &|name| stringline::check::find(name).map(|check| check.brief.to_owned()));
    let _ = serde_json::from_str::<serde_json::Value>(&sarif).unwrap();
    short::render(all, files)
}

/// How many errors a book has.
fn errors(compiled: &Compiled) -> usize {
    compiled.count(Severity::Error)
}
