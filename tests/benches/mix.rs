//! What lines a book is made of: verbs, blanks, lengths.
//!
//! Must not know the compiler.

use super::generate::File;
use std::collections::BTreeMap;

/// Shares of lines, per hundred indented lines, and their mean length.
#[derive(Default)]
pub struct Mix {
    lines: usize,
    bytes: usize,
    words: BTreeMap<String, usize>,
}

/// Counts a book's lines. Declarations are counted only as such.
pub fn mix(files: &[File]) -> Mix {
    let mut mix = Mix::default();
    for (_, text) in files {
        let mut dated = false;
        for line in text.lines() {
            let trimmed = line.trim();
            let mut words = trimmed.split_whitespace();
            let word = match words.next() {
                None => "(blank)",
                Some("#") => "(comment)",
                Some(word) if word.len() == trimmed.len() && trimmed.starts_with('#') => "(comment)",
                Some(_) if line.starts_with(|first: char| first.is_ascii_digit()) => {
                    dated = true;
                    "(head)"
                }
                Some(_) if !line.starts_with([' ', '\t']) => {
                    dated = false;
                    "(declaration)"
                }
                Some(_) if !dated => "(declaration)",
                Some(word) => {
                    mix.lines += 1;
                    mix.bytes += line.len() + 1;
                    if word.starts_with(|first: char| first.is_ascii_digit()) {
                        words.next().unwrap_or("(none)")
                    } else {
                        word
                    }
                }
            };
            *mix.words.entry(word.to_owned()).or_default() += 1;
        }
    }
    mix
}

impl Mix {
    /// Mean bytes of an indented line of a dated block, with its line end.
    pub fn mean(&self) -> f64 {
        self.bytes as f64 / self.lines.max(1) as f64
    }

    fn share(&self, word: &str) -> f64 {
        self.words.get(word).map_or(0.0, |count| *count as f64 * 100.0 / self.lines.max(1) as f64)
    }
}

/// Prints two books' mixes beside each other.
pub fn print(demo: &Mix, made: &Mix) {
    println!("mean entry line: demo {:.1} bytes, generated {:.1} bytes", demo.mean(), made.mean());
    let mut words: Vec<&String> = demo.words.keys().chain(made.words.keys()).collect();
    words.sort_by(|a, b| demo.share(b).total_cmp(&demo.share(a)).then(a.cmp(b)));
    words.dedup();
    println!("of 100 entry lines (demo / generated):");
    let shares: Vec<String> =
        words.iter().map(|word| format!("{word} {:.1}/{:.1}", demo.share(word), made.share(word))).collect();
    for row in shares.chunks(6) {
        println!("  {}", row.join("  "));
    }
}
