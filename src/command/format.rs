//! `stringline format`: the usual layout of ledgers.

use super::output::{Format, Output, files_world};
use super::{CLEAN, ERRORS, TROUBLE};
use crate::Compiled;
use crate::answer::layout;
use crate::book::What;
use crate::source::{Hook, Left, Leftover, LoadTrouble, Means, Rewrite, World, clear, rewrite, shown};
use crate::words::count;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Lay ledgers out the usual way: indents of two, single blanks, straight quotes, plain line ends
#[derive(Debug, clap::Args)]
#[command(
    after_help = "What the ledger says never changes. Lines with errors are left as they are, and so are notes and \
                  comments. A file is replaced whole or not at all, and left where somebody writes to it meanwhile.\n\n\
                  Example:\n  stringline format ledgers/2026 --check\n  stringline format ledgers/2026"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// Change nothing: show what would change, and exit 1 if anything would
    #[arg(long)]
    check: bool,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

/// One file.
#[derive(serde::Serialize)]
struct File {
    /// Path below the book's folder.
    path: String,
    /// Whether its layout is (or would be) changed.
    changed: bool,
    /// Lines left as typed for their errors.
    left_alone: Vec<u32>,
    /// Why the file was left as it was, though its layout would change.
    left: Option<String>,
    #[serde(skip)]
    texts: (String, String),
    /// What it was, and why the disk would not remove that.
    #[serde(skip)]
    beside: Option<(PathBuf, String)>,
    /// What to open.
    #[serde(skip)]
    open: PathBuf,
    /// Whether it began with a byte-order mark.
    #[serde(skip)]
    mark: bool,
}

#[derive(serde::Serialize)]
struct View {
    /// Whether files were only looked at.
    check: bool,
    files: Vec<File>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let world = files_world(arguments.book.as_deref(), output);
    lay_out(&world, arguments.check, arguments.format, &mut |_, _| (), output)
}

/// Lays a book's ledgers out, or says what would change. `hook` looks on at each step, for tests.
///
/// # Errors
/// When the book cannot be opened.
pub fn lay_out(
    world: &dyn World,
    check: bool,
    format: Format,
    hook: Hook<'_>,
    output: &mut Output<'_>,
) -> anyhow::Result<u8> {
    let compile = || crate::compile(world).map_err(anyhow::Error::msg);
    let mut compiled = compile()?;
    let mut trouble = false;
    if !check {
        let origins = compiled.files.iter().filter_map(|(id, _)| compiled.files.origin(id));
        let folders = compiled.files.folders().iter().map(PathBuf::as_path);
        let leftovers = clear(origins.map(|origin| origin.open.as_path()).chain(folders));
        trouble = leftovers.iter().any(|one| !matches!(one, Leftover::Restored(_)));
        for one in &leftovers {
            output.message(&leftover(one));
        }
        if leftovers.iter().any(|one| matches!(one, Leftover::Restored(_))) {
            compiled = compile()?;
        }
    }
    let unreadable = unreadable(&compiled, output);
    let mut files = files(&compiled);
    if !check {
        write(&mut files, hook);
    }
    for file in &files {
        if let Some(left) = &file.left {
            output.message(&format!("stringline: `{}` {left}; it is left as it is.\n", file.path));
        }
        if let Some((at, reason)) = &file.beside {
            output.message(&format!(
                "stringline: `{}` has its layout, but what it was could not be removed from `{}`: {reason}; a later run of format \
                 does.\n",
                file.path,
                shown(at)
            ));
        }
    }
    trouble |= unreadable || files.iter().any(|file| file.left.is_some() || file.beside.is_some());
    let changed = files.iter().any(|file| file.changed);
    output.result(&match format {
        Format::Text => text(&files, check),
        Format::Json => crate::answer::json(&View { check, files }),
    });
    Ok(match (trouble, check && changed) {
        (true, _) => TROUBLE,
        (false, true) => ERRORS,
        (false, false) => CLEAN,
    })
}

/// Gives the ledgers their layout; of one that is left, the reason.
fn write(files: &mut [File], hook: Hook<'_>) {
    const MARK: &[u8] = "\u{FEFF}".as_bytes();
    let mut wanted: Vec<(&mut File, Vec<u8>)> = files
        .iter_mut()
        .filter(|file| file.changed)
        .map(|file| {
            let was = [if file.mark { MARK } else { &[] }, file.texts.0.as_bytes()].concat();
            (file, was)
        })
        .collect();
    let all: Vec<Rewrite<'_>> = wanted
        .iter()
        .map(|(file, was)| Rewrite { path: &file.open, was, now: file.texts.1.as_bytes() })
        .collect();
    let answers = rewrite(&all, Means::Exchange, hook);
    for ((file, _), left) in wanted.iter_mut().zip(answers) {
        match left.map(words) {
            Some(Err(beside)) => file.beside = Some(beside),
            Some(Ok(words)) => file.left = Some(words),
            None => {}
        }
        file.changed = file.left.is_none();
    }
}

/// Why a file was left, after its name.
///
/// # Errors
/// Where it was not: what lies beside it, and why.
fn words(left: Left) -> Result<String, (PathBuf, String)> {
    Ok(match left {
        Left::Changed => "was changed while format ran".to_owned(),
        Left::Kept(at) => format!(
            "was changed twice while format ran: the later change stands, the earlier one is kept in `{}`",
            shown(&at)
        ),
        Left::ReadOnly => "is read-only".to_owned(),
        Left::Linked(names) => format!("has {names} names (hard links), and a new file would have one"),
        Left::NotOrdinary => "is no ordinary file".to_owned(),
        Left::Busy => "is in a folder where another run is at work".to_owned(),
        Left::Owner(reason) => format!("cannot be replaced by a file of the same owner and access: {reason}"),
        Left::Disk(reason) => format!("could not be written: {reason}"),
        Left::Beside(at, reason) => return Err((at, reason)),
    })
}

fn leftover(one: &Leftover) -> String {
    match one {
        Leftover::Restored(ledger) => format!(
            "stringline: a run of format was cut short while somebody wrote to `{}`; what was typed is in it again.\n",
            shown(ledger)
        ),
        Leftover::Kept(at) => format!(
            "stringline: `{}` holds a ledger as somebody typed it while a run of format was cut short. Take from it what \
             you need, then remove it.\n",
            shown(at)
        ),
        Leftover::Stuck(at, reason) => format!(
            "stringline: `{}`, which a run of format has left, could not be removed: {reason}; nothing is in it that is not in \
             its ledger.\n",
            shown(at)
        ),
    }
}

/// Names the files and folders that could not be read. Whether there is any.
fn unreadable(compiled: &Compiled, output: &mut Output<'_>) -> bool {
    let mut any = false;
    for trouble in compiled.book.missing.iter().chain(&compiled.book.troubles) {
        let (path, reason) = match &trouble.what {
            What::Load(LoadTrouble::Unreadable { path, reason }) => (path.as_str(), reason.as_str()),
            What::Load(LoadTrouble::NotUtf8 { span, .. }) => {
                (compiled.files.path(span.file), "it is not all UTF-8")
            }
            _ => continue,
        };
        output.message(&format!("stringline: `{path}` cannot be read and is left alone: {reason}\n"));
        any = true;
    }
    any
}

fn files(compiled: &Compiled) -> Vec<File> {
    let mut list = Vec::new();
    for (id, file) in compiled.files.iter() {
        let Some(laid) = layout::of_file(compiled, id) else { continue };
        let Some(origin) = compiled.files.origin(id) else { continue };
        list.push(File {
            path: file.path.clone(),
            changed: laid.text != file.text,
            left_alone: laid.left_alone.into_iter().collect(),
            left: None,
            beside: None,
            texts: (file.text.clone(), laid.text),
            open: origin.open.clone(),
            mark: origin.mark,
        });
    }
    list
}

fn text(files: &[File], check: bool) -> String {
    let mut out = String::new();
    for file in files.iter().filter(|file| file.changed) {
        if check {
            let diff = similar::TextDiff::from_lines(&file.texts.0, &file.texts.1);
            let _ = write!(out, "{}", diff.unified_diff().header(&file.path, &file.path));
        } else {
            let _ = writeln!(out, "{}", file.path);
        }
    }
    let changed = files.iter().filter(|file| file.changed).count();
    let left = files.iter().filter(|file| file.left.is_some()).count();
    let total = files.len();
    let alone: usize = files.iter().map(|file| file.left_alone.len()).sum();
    let files = count(total, "file", "files");
    let verb = if check { "would change" } else { "changed" };
    let _ = match (changed, left) {
        (0, 0) => writeln!(out, "{files}, all laid out the usual way"),
        (_, 0) => writeln!(out, "{changed} of {files} {verb}"),
        _ => writeln!(out, "{changed} of {files} {verb}, {left} left that would change"),
    };
    if alone > 0 {
        let lines = count(alone, "line with an error is", "lines with errors are");
        let _ = writeln!(out, "{lines} left as typed");
    }
    out
}
