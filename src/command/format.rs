//! `stringline format`: the usual layout of ledgers.

use super::output::{Format, Output, book_root, compile};
use super::{CLEAN, ERRORS};
use crate::source::LoadTrouble;
use crate::{Compiled, syntax};
use anyhow::Context as _;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Lay ledgers out the usual way: indents of two, single blanks, straight quotes, plain line ends
#[derive(Debug, clap::Args)]
#[command(
    after_help = "What the ledger says never changes. Lines with errors are left as they are, and so are notes and \
                  comments. A file is replaced whole or not at all.\n\n\
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
    #[serde(skip)]
    texts: (String, String),
}

#[derive(serde::Serialize)]
struct View {
    /// Whether files were only looked at.
    check: bool,
    files: Vec<File>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled = compile(arguments.book.as_deref(), output)?;
    let files = files(&compiled, output);
    let changed = files.iter().filter(|file| file.changed).count();
    if !arguments.check {
        let root = book_root(arguments.book.as_deref());
        for file in files.iter().filter(|file| file.changed) {
            let path = if root.is_dir() { root.join(&file.path) } else { root.clone() };
            crate::source::replace(&path, &file.texts.1)
                .with_context(|| format!("`{}` could not be written", path.display()))?;
        }
    }
    let (check, total) = (arguments.check, files.len());
    output.result(&match arguments.format {
        Format::Text => text(&files, check, total, changed),
        Format::Json => crate::view::json(&View { check, files }),
    });
    Ok(if check && changed > 0 { ERRORS } else { CLEAN })
}

fn files(compiled: &Compiled, output: &mut Output<'_>) -> Vec<File> {
    let mut list = Vec::new();
    for (id, file) in compiled.files.iter() {
        let troubles = || compiled.book.troubles.iter().filter(|trouble| trouble.span.file == id);
        let garbled = troubles()
            .any(|trouble| matches!(&trouble.what, crate::book::What::Load(LoadTrouble::NotUtf8 { .. })));
        if garbled {
            output.message(&format!("stringline: `{}` is not all UTF-8 and is left alone.\n", file.path));
            continue;
        }
        let left_alone: BTreeSet<u32> = troubles().map(|trouble| compiled.files.line(trouble.span)).collect();
        let laid = syntax::layout(&file.text, &|line| left_alone.contains(&line), &crate::book::opens);
        list.push(File {
            path: file.path.clone(),
            changed: laid != file.text,
            left_alone: left_alone.into_iter().collect(),
            texts: (file.text.clone(), laid),
        });
    }
    list
}

fn text(files: &[File], check: bool, total: usize, changed: usize) -> String {
    let mut out = String::new();
    for file in files.iter().filter(|file| file.changed) {
        if check {
            let diff = similar::TextDiff::from_lines(&file.texts.0, &file.texts.1);
            let _ = write!(out, "{}", diff.unified_diff().header(&file.path, &file.path));
        } else {
            let _ = writeln!(out, "{}", file.path);
        }
    }
    let noun = if total == 1 { "file" } else { "files" };
    let verb = if check { "would change" } else { "changed" };
    let _ = match changed {
        0 => writeln!(out, "{total} {noun}, all laid out the usual way"),
        _ => writeln!(out, "{changed} of {total} {noun} {verb}"),
    };
    let left: usize = files.iter().map(|file| file.left_alone.len()).sum();
    if left > 0 {
        let lines =
            if left == 1 { "1 line with an error is" } else { &format!("{left} lines with errors are") };
        let _ = writeln!(out, "{lines} left as typed");
    }
    out
}
