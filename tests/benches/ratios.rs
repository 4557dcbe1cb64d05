//! The compiler's speed and memory as ratios to things of the same machine, minute and text.
//!
//! `cargo bench --bench ratios` prints one table; a number over its limit is said, and never fails the run, because a
//! busy machine must not. `-- --quick` leaves the longest book out; `-- --write DIR LINES` writes a book to a folder;
//! `-- --stages LINES` loops over the stages, `-- --lives LINES` over lives and due, and `-- --pages LINES` makes the
//! reports, for a profiler.

// A bench prints, and a bench that cannot run may stop.
#![allow(
    clippy::print_stdout,
    clippy::print_stderr,
    clippy::expect_used,
    clippy::unwrap_used,
    clippy::indexing_slicing,
    clippy::string_slice
)]

mod compare;
mod derive;
mod facts;
mod generate;
mod lives;
mod measure;
mod mix;
mod pages;
mod words;

use std::path::Path;

fn main() {
    let arguments: Vec<String> = std::env::args().skip(1).filter(|each| each != "--bench").collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match words.as_slice() {
        ["--write", folder, lines] => {
            let lines = lines.parse().expect("a number of lines");
            write(Path::new(folder), &generate::book(lines));
        }
        ["--stages", lines] => compare::stages(lines.parse().expect("a number of lines"), 5),
        ["--pages", lines] => compare::report_only(lines.parse().expect("a number of lines")),
        ["--lives", lines] => compare::lives_only(lines.parse().expect("a number of lines"), 5),
        ["--quick"] => compare::table(&[10_000, 100_000], 3),
        [] => compare::table(&[10_000, 100_000, 1_000_000], 7),
        _ => println!(
            "cargo bench --bench ratios -- [--quick | --write DIR LINES | --stages LINES | --lives LINES | --pages LINES]"
        ),
    }
}

/// Writes a book's files below a folder.
fn write(folder: &Path, files: &[generate::File]) {
    for (path, text) in files {
        let path = folder.join(path);
        std::fs::create_dir_all(path.parent().expect("below the folder")).expect("a folder");
        std::fs::write(path, text).expect("a file");
    }
}
