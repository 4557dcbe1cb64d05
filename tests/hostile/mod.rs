//! Books that nobody would keep and that come anyway: each gets its message, in seconds, without a panic.

mod any_bytes;
mod big;
mod folders;
mod pipes;
mod promises;
mod replay;
mod same;

use jiff::Timestamp;
use stringline::audience::{self, Reader};
use stringline::book::model::{CarId, ClientId};
use stringline::diagnostics::{Severity, json, sarif, short, terminal};
use stringline::report;
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

/// Makes the books of the first clients, and those that go with the first cars; none may panic.
fn hand_out(compiled: &Compiled) {
    for client in (0..compiled.book.clients.len().min(3) as u32).map(ClientId::new) {
        let _ = audience::cut(compiled, &Reader::Client(client));
    }
    for car in (0..compiled.book.cars.len().min(3) as u32).map(CarId::new) {
        let mut purchase = audience::purchase(compiled, car, None);
        (purchase.bench, purchase.prices) = (true, true);
        let _ = report::handover(&audience::cut(compiled, &Reader::Buyer(purchase)), &purchase);
    }
}

/// Runs every renderer; none may panic. The short one's text.
fn render(compiled: &Compiled) -> String {
    hand_out(compiled);
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
