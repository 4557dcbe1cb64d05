//! Words that a shell may put behind what is typed: commands and their options, and the names of the book that is asked about.
//!
//! A shell's own script calls the program back with what is typed so far (crate `clap_complete`). Which names fit is told by what an argument
//! is called (`CAR`, `CLIENT`), so that a new command needs nothing here. Must not know what any command does.

use super::home::folder;
use super::output::{At, Output};
use super::{CLEAN, TROUBLE};
use crate::Compiled;
use crate::book::model::Named;
use crate::source::Disk;
use clap_complete::engine::{ArgValueCompleter, CompletionCandidate, PathCompleter, ValueCompleter};
use clap_complete::env::Shells;
use std::ffi::{OsStr, OsString};
use std::path::{Path, PathBuf};
use std::process::ExitCode;
use std::sync::{Arc, OnceLock};

/// The variable by which a shell asks, and says which shell it is.
pub const ASKED: &str = "STRINGLINE_COMPLETE";

/// Answers a shell: its script where nothing is typed, else the words that may stand where the cursor is.
pub fn answer(
    shell: &OsStr,
    arguments: impl IntoIterator<Item = OsString>,
    output: &mut Output<'_>,
) -> ExitCode {
    let shells = Shells::builtins();
    let named = Path::new(shell).file_stem().unwrap_or(shell).to_string_lossy();
    let Some(shell) = shells.completer(&named) else {
        let known = crate::words::and(&shells.names().collect::<Vec<_>>());
        output.message(&format!(
            "stringline: no words are completed for the shell `{named}`; there are {known}\n"
        ));
        return ExitCode::from(TROUBLE);
    };
    let mut words: Vec<OsString> = arguments.into_iter().collect();
    let program = if words.is_empty() { OsString::from("stringline") } else { words.remove(0) };
    let typed = words.iter().position(|word| word == "--").map(|at| words.split_off(at + 1));
    let mut said = Vec::new();
    let done = match typed {
        None => shell.write_registration(ASKED, "stringline", "stringline", &called(&program), &mut said),
        Some(typed) => {
            let book = book(&typed);
            let mut command = with_names(super::tree(), &Arc::new(Names::of(book, output.now)));
            shell.write_complete(&mut command, typed, Some(Path::new(".")), &mut said)
        }
    };
    if done.is_err() {
        return ExitCode::from(TROUBLE);
    }
    output.words(&String::from_utf8_lossy(&said));
    ExitCode::from(CLEAN)
}

/// How a shell calls the program again, from any folder.
fn called(program: &OsStr) -> String {
    let path = Path::new(program);
    let whole = if path.components().count() > 1 { std::path::absolute(path).ok() } else { None };
    whole.as_deref().unwrap_or(path).to_string_lossy().into_owned()
}

/// The book that is asked about: the first word that is a folder or a ledger, else the current folder.
fn book(typed: &[OsString]) -> PathBuf {
    let is_book =
        |path: &&Path| path.is_dir() || path.is_file() && path.extension().is_some_and(|end| end == "sline");
    folder(typed.iter().skip(2).map(Path::new).find(is_book))
}

/// The names of a book, read when they are first asked for.
struct Names {
    book: PathBuf,
    now: Option<jiff::Timestamp>,
    compiled: OnceLock<Option<Compiled>>,
}

impl Names {
    const fn of(book: PathBuf, now: Option<jiff::Timestamp>) -> Self {
        Self { book, now, compiled: OnceLock::new() }
    }

    fn compiled(&self) -> Option<&Compiled> {
        let world = || At { world: Disk { root: self.book.clone() }, now: self.now };
        self.compiled.get_or_init(|| crate::compile(&world()).ok()).as_ref()
    }

    /// The names of a sort, each with what it is called.
    fn sort(&self, sort: &str) -> Vec<(String, String)> {
        if sort == "CHECK" {
            return crate::check::CHECKS
                .iter()
                .map(|check| (check.name.to_owned(), check.brief.to_owned()))
                .collect();
        }
        let Some(compiled) = self.compiled() else { return Vec::new() };
        let book = &compiled.book;
        let pair = |named: &Named| (named.typed.to_string(), named.title.clone());
        match sort {
            "CAR" => book.cars.iter().map(|one| pair(&one.named)).collect(),
            "CLIENT" => book.clients.iter().map(|one| pair(&one.named)).collect(),
            "EVENT" | "AT" | "A" | "B" | "MOMENT" => book.events.iter().map(|one| pair(&one.named)).collect(),
            "KIND" => book.kinds.iter().map(|one| pair(&one.named)).collect(),
            "JOB" => book.jobs.iter().map(|one| pair(&one.named)).collect(),
            "PART" => book.parts.iter().map(|one| pair(&one.named)).collect(),
            _ => Vec::new(),
        }
    }
}

/// The names that fit one argument.
struct Fitting {
    sorts: Vec<String>,
    names: Arc<Names>,
}

impl ValueCompleter for Fitting {
    fn complete(&self, current: &OsStr) -> Vec<CompletionCandidate> {
        let typed = current.to_string_lossy();
        let all = self.sorts.iter().flat_map(|sort| self.names.sort(sort));
        let fits = all.filter(|(name, _)| name.starts_with(&*typed));
        let mut found: Vec<CompletionCandidate> = fits
            .map(|(name, title)| {
                CompletionCandidate::new(name).help((!title.is_empty()).then(|| title.into()))
            })
            .collect();
        if self.sorts.iter().any(|sort| sort == "BOOK") {
            found.extend(PathCompleter::dir().complete(current));
        }
        found
    }
}

/// The commands, with the names that fit each of their arguments.
fn with_names(command: clap::Command, names: &Arc<Names>) -> clap::Command {
    command.mut_subcommands(|mut command| {
        let usage = command.render_usage().to_string();
        command.mut_args(|argument| {
            let called: Vec<String> =
                argument.get_value_names().unwrap_or_default().iter().map(ToString::to_string).collect();
            // Words whose order decides are called so in the usage: `[BOOK] <CAR> [EVENT]`.
            let sorts = if called == ["WORDS"] { in_usage(&usage) } else { called };
            let known = |sort: &String| KNOWN.contains(&sort.as_str());
            let sorts: Vec<String> = sorts.into_iter().filter(known).collect();
            if sorts.is_empty() {
                return argument;
            }
            argument.add(ArgValueCompleter::new(Fitting { sorts, names: Arc::clone(names) }))
        })
    })
}

/// What an argument may be called for names to fit it.
const KNOWN: [&str; 12] =
    ["BOOK", "CAR", "CHECK", "CLIENT", "EVENT", "AT", "A", "B", "MOMENT", "KIND", "JOB", "PART"];

/// The words of a usage line: `CAR` of `<CAR>`.
fn in_usage(usage: &str) -> Vec<String> {
    let word = |part: &str| part.trim_matches(['<', '>', '[', ']']).to_owned();
    usage.split_whitespace().filter(|part| part.starts_with(['<', '['])).map(word).collect()
}
