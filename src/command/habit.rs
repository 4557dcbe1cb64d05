//! Words typed from habit that are no command here, and what does that job.
//!
//! A suggestion by letters alone would send `undo` to whatever is spelt like it. Must not know what any command does.

use clap::error::{ContextKind, ContextValue, ErrorKind};

/// Words and what to do in their place.
const HABITS: &[(&[&str], &str)] = &[
    (
        &["help", "usage"],
        "`stringline --help` lists the commands, and `stringline check --help` explains one",
    ),
    (
        &["init", "new", "create", "start"],
        "`stringline begin ledgers wren` writes the first two files of a book with a car `wren`; `stringline blank wren` prints a day to fill in",
    ),
    (
        &["serve", "open", "view", "browse", "watch", "live"],
        "`stringline board` shows the pages in a browser and keeps them at what you saved last; `stringline report --out out` writes them",
    ),
    (
        &["export", "dump"],
        "`stringline tables --out csv` writes the book for a spreadsheet, `--out book.db` as a database; `--format json` on any other command is for programs",
    ),
    (
        &["import", "load-csv", "csv"],
        "`stringline transcribe stand.csv` prints the rows of a spreadsheet or a timing stand as lines to paste",
    ),
    (
        &["add", "edit", "insert"],
        "facts are typed or pasted into a `.sline` file with any editor; `stringline blank` prints the usual lines of a day",
    ),
    (
        &["undo", "revert", "restore", "rollback"],
        "no command changes a ledger but `format`: take the line back in your editor, or with git; `--rev REV` shows the book as it was",
    ),
    (&["show", "status", "list", "ls", "get"], "`stringline state CAR` says what is on a car, and its jobs"),
    (
        &["log", "history"],
        "`git log` lists what was typed when; `stringline diff CAR A B` says what changed on a car",
    ),
    (
        &["completion", "completions", "complete"],
        "`source <(STRINGLINE_COMPLETE=bash stringline)` in ~/.bashrc completes commands and the names of the book; zsh, fish, elvish and \
         powershell are known too",
    ),
    (&["man", "docs"], "`stringline manual | man -l -` shows the manual"),
    (&["lint", "validate", "test", "verify"], "`stringline check` says what is wrong in a book"),
    (&["fmt", "tidy"], "`stringline format` lays ledgers out alike"),
    (&["build", "compile", "render"], "`stringline report --out out` writes the pages of a book"),
];

/// What to say to an error about a word that is no command; `None` where clap's own words will do.
pub(super) fn pointer(error: &clap::Error) -> Option<String> {
    if error.kind() != ErrorKind::InvalidSubcommand {
        return None;
    }
    let Some(ContextValue::String(word)) = error.get(ContextKind::InvalidSubcommand) else { return None };
    let (_, cure) = HABITS.iter().find(|(words, _)| words.contains(&word.to_lowercase().as_str()))?;
    Some(format!("stringline: there is no command `{word}`; {cure}\n"))
}
