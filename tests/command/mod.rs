//! Every command, run in process: what it prints where, and its exit code.
//!
//! Each case is a file in `tests/fixtures/command/said`; `UPDATE=1 cargo test --test all command` writes them anew, and
//! whoever does reads them.

mod altered;
mod asked;
mod begun;
mod blank;
mod complete;
mod costs;
mod door;
mod format;
mod handed;
mod handover;
mod home;
mod json_page;
mod rules;
mod shown;
mod steered;
mod tried;
mod week;

use std::path::{Path, PathBuf};
use std::process::ExitCode;
use stringline::command::output::Output;
use stringline::command::run;

/// The small book of these tests, from the package's folder (where cargo runs tests).
const BOOK: &str = "tests/fixtures/command/book";
/// A book with one error: a number without its unit.
const BROKEN: &str = "tests/fixtures/command/broken";
/// A book of two files that quarrel.
const DISPUTED: &str = "tests/fixtures/command/disputed";
const JOBS: &str = "tests/fixtures/command/jobs";

/// What a command said.
pub struct Said {
    pub out: String,
    pub err: String,
    pub code: String,
}

/// Runs the command line `words`, on 2025-06-20 in 96 columns.
pub fn said(words: &[&str]) -> Said {
    said_in(words, 96)
}

fn said_in(words: &[&str], width: usize) -> Said {
    said_on(words, width, "2025-06-20T12:00:00Z")
}

pub fn said_on(words: &[&str], width: usize, now: &str) -> Said {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let now = now.parse().unwrap();
    let code = run(
        std::iter::once("stringline").chain(words.iter().copied()).map(std::ffi::OsString::from),
        &mut Output {
            out: &mut out,
            err: &mut err,
            color: false,
            terminal: false,
            quiet: false,
            width,
            now: Some(now),
        },
    );
    let code = [0_u8, 1, 2].into_iter().find(|n| format!("{:?}", ExitCode::from(*n)) == format!("{code:?}"));
    Said {
        out: String::from_utf8(out).unwrap(),
        err: String::from_utf8(err).unwrap(),
        code: code.map_or("?".to_owned(), |code| code.to_string()),
    }
}

fn fixture(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/command/said").join(name)
}

/// Holds what a command says to its file.
fn holds(name: &str, words: &[&str]) {
    holds_in(name, words, 96);
}

fn holds_in(name: &str, words: &[&str], width: usize) {
    let said = said_in(words, width);
    let mut page = format!("$ stringline {}\n", words.join(" "));
    for (title, text) in [("stdout", &said.out), ("stderr", &said.err)] {
        if !text.is_empty() {
            page = page + "--- " + title + "\n" + text;
        }
    }
    page = page + "--- exit " + &said.code + "\n";
    let page = page.replace("\r\n", "\n");
    let path = fixture(&format!("{name}.txt"));
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(&path, &page).unwrap();
    }
    let committed = std::fs::read_to_string(&path).unwrap_or_default().replace("\r\n", "\n");
    assert_eq!(page, committed, "{} is stale: UPDATE=1 cargo test --test all command", path.display());
}
