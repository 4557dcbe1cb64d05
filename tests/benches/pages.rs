//! The reports of a book: time a page, made and thrown away in this process; and memory, of the command that writes them all.
//!
//! Knows the library and the built binary.

use super::measure::{cost, once};
use std::path::Path;
use stringline::Compiled;
use stringline::report::Options;
use stringline::report::{Own, Report};

/// What the reports of a book cost.
pub struct Pages {
    /// How many there are.
    pub count: usize,
    /// Milliseconds of wall time a page, on all cores.
    pub wall: f64,
    /// Milliseconds of processor time a page, over all cores, when the command writes them; less what `check` takes.
    pub work: Option<f64>,
    /// Megabytes the command peaks above `check`.
    pub memory: Option<f64>,
}

/// Makes every page of a book and throws it away.
pub fn made(compiled: &Compiled) -> (f64, usize) {
    let (mut bytes, own) = (0, Own::new());
    let (seconds, count) = once(|| {
        let report = Report::new(compiled, Options::default(), &own);
        report.stream(&mut |page| bytes += page.expect("a page").html.len());
        report.count()
    });
    println!("  {count} pages, {:.0} MB, made in {seconds:.3} s", bytes as f64 / 1e6);
    (seconds, count)
}

/// Measures the reports of a book that is in memory and in a folder.
pub fn pages(compiled: &Compiled, book: &Path, out: &Path) -> Pages {
    let binary = Path::new(env!("CARGO_BIN_EXE_stringline"));
    let (seconds, count) = made(compiled);
    let each = |seconds: f64| seconds * 1000.0 / count.max(1) as f64;
    let (book, folder) = (book.to_str().expect("a plain path"), out.to_str().expect("a plain path"));
    let check = cost(binary, &["check", book, "--format", "short"]);
    let report = cost(binary, &["report", book, "--out", folder]);
    let both = report.zip(check);
    let work = both.map(|(report, check)| each(report.work - check.work));
    let memory = both.map(|(report, check)| (report.peak as f64 - check.peak as f64) / f64::from(1 << 20));
    let _ = std::fs::remove_dir_all(out);
    Pages { count, wall: each(seconds), work, memory }
}
