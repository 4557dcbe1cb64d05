//! Looks for a finding in many books, makes each smaller, and tells of them together.

use super::book::{Knobs, Written, seeded};
use super::holds::shrink::shrink;
use super::holds::{Broken, compiled};
use std::collections::BTreeMap;
use std::fmt::Write as _;
use stringline::diagnostics::Severity;

/// How many books: `short`, or as many as `STRINGLINE_LONG` says (`long` where it says no number), and never fewer than `short`.
pub fn books(short: u64, long: u64) -> u64 {
    match std::env::var("STRINGLINE_LONG") {
        Ok(said) if said == "0" || said.is_empty() => short,
        Ok(said) => said.parse().ok().filter(|n| *n > 1).map_or(long, |n: u64| (n * long / 1000).max(short)),
        Err(_) => short,
    }
}

/// Tries each seed's book; the findings of different looks, each as a small book. With `STRINGLINE_FINDINGS` set to a folder each is
/// written there too.
pub fn hunt(seeds: u64, choices: usize, knobs: Knobs, broken: impl Fn(&Written, u64) -> Option<Broken>) {
    /// Findings of one sort that are told.
    const MOST: usize = 8;
    let mut found: BTreeMap<String, String> = BTreeMap::new();
    let mut all = 0;
    for seed in 0..seeds {
        let written = seeded(seed, choices, knobs);
        let Some(first) = broken(&written, seed) else { continue };
        all += 1;
        let sort = sort_of(&first);
        if found.len() >= MOST || found.contains_key(&sort) {
            continue;
        }
        let kind = stays(&written);
        let (small, shows) = shrink(&written, 300, &|less| {
            // A name that nobody declares any more, or a sale that is gone, would make another finding of it.
            broken(less, seed).filter(|_| stays(less) == kind)
        });
        let last = shows.unwrap_or(first);
        let mut text = format!("seed {seed}, {}: {}\n{}\n\n", last.property, last.section, last.shows);
        for (path, lines) in small.files().into_iter().filter(|(_, lines)| !lines.trim().is_empty()) {
            let _ = writeln!(text, "--- {path}\n{lines}");
        }
        if let Some(folder) = std::env::var_os("STRINGLINE_FINDINGS") {
            let name: String =
                format!("{sort}-{seed}").chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
            std::fs::write(std::path::Path::new(&folder).join(format!("{name}.md")), &text).unwrap();
        }
        found.insert(sort, text);
    }
    let texts: Vec<&str> = found.values().map(String::as_str).collect();
    assert!(all == 0, "{all} of {seeds} books break it; of each sort one:\n\n{}", texts.join("\n"));
}

/// What stays the same of a book that is made smaller: its errors, whose names it declares, how many cars it sells.
fn stays(written: &Written) -> (usize, Vec<String>, usize) {
    let book = compiled(&written.files());
    let clients = book.book.clients.iter().map(|one| &one.named);
    let named = clients
        .chain(book.book.cars.iter().map(|one| &one.named))
        .chain(book.book.people.iter().map(|one| &one.named));
    let names = named.map(|named| named.name.to_string()).collect();
    (book.count(Severity::Error), names, book.history.parts.sales.len())
}

/// Which sort of finding: the property, and the section without names and numbers.
fn sort_of(broken: &Broken) -> String {
    let section: String = broken.section.chars().filter(|c| !c.is_ascii_digit()).collect();
    let first = section.split([' ', '-', '.']).take(2).collect::<Vec<_>>().join(" ");
    let shows: String = broken.shows.chars().filter(|c| c.is_alphabetic()).take(24).collect();
    format!("{} {first} {}", broken.property, if section.starts_with("page") { String::new() } else { shows })
}
