//! `stringline transcribe`: a spreadsheet or a timing stand's file as lines to paste.

use super::output::{Output, compile};
use super::{CLEAN, ERRORS};
use crate::source::{FileId, Memory, reason, shown};
use crate::transcribe::mapping::Mapping;
use crate::transcribe::{Remark, Transcript, draft, known, lines, sheet, transcribe};
use crate::words::{self, count};
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// So many remarks of one sort are said one by one.
const ONE_BY_ONE: usize = 30;

/// What the lines are called where they are read with the book.
const PRINTED: &str = "\u{10FFFD}/lines to paste";

/// Print a spreadsheet's or a timing stand's rows as lines to paste into a ledger
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Without --by it prints a mapping to fill in: which column is what. With it, it prints lines; what the book has already \
                  is left out, so that a sheet may be handed in again when it has grown. No ledger is written: paste the lines, or add \
                  them to a file with >>.\n\n\
                  Example:\n  stringline transcribe stand.csv ledgers/2026 > stand.toml\n  stringline transcribe stand.csv ledgers/2026 --by stand.toml\n  \
                  stringline transcribe stand.csv ledgers/2026 --by stand.toml >> ledgers/2026/bittern.sline"
)]
pub struct Arguments {
    /// The sheet: columns apart by commas, semicolons or tabs, with their heads above them
    sheet: PathBuf,
    /// The book's folder [default: the current folder]
    book: Option<PathBuf>,
    /// Which column is what
    #[arg(long, value_name = "MAPPING")]
    by: Option<PathBuf>,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let name = shown(&arguments.sheet);
    let bytes = read(&arguments.sheet)?;
    let compiled = compile(arguments.book.as_deref(), output)?;
    let of_sheet = |wrong: String| anyhow::anyhow!("`{name}`: {wrong}");
    let Some(by) = &arguments.by else {
        let sheet = sheet::guessed(&bytes).map_err(of_sheet)?;
        output.result(&draft::draft(&sheet, &name, &compiled.book).map_err(of_sheet)?);
        return Ok(CLEAN);
    };
    let text = String::from_utf8(read(by)?).map_err(|_| anyhow::anyhow!("`{}` is not UTF-8", shown(by)))?;
    let mapping = Mapping::read(&text).map_err(|wrong| anyhow::anyhow!("`{}`: {wrong}", shown(by)))?;
    let mut made = transcribe(&bytes, &mapping, &compiled.book).map_err(of_sheet)?;
    let blocks = lines::blocks(&made.days, &compiled.book);
    let (printed, places) = lines::text(&blocks);
    let whole = with(&compiled, output, &printed)?;
    let (left, known) = match file_of(&whole) {
        Some(file) => known::left((blocks, places), (&whole.book, &whole.files), file, &mut made.remarks),
        None => (blocks, 0),
    };
    let (text, places) = lines::text(&left);
    output.result(&text);
    output.message(&summary(&name, &made, places.len(), known));
    // What the book says of the lines that are left; where all are, they have been read with it.
    let read = if text == printed { whole } else { with(&compiled, output, &text)? };
    output.message(&messages(&read));
    Ok(if made.remarks.is_empty() { CLEAN } else { ERRORS })
}

fn read(path: &Path) -> anyhow::Result<Vec<u8>> {
    std::fs::read(path)
        .map_err(|error| anyhow::anyhow!("`{}` cannot be read: {}", shown(path), reason(&error)))
}

/// The book with one file more.
fn with(compiled: &crate::Compiled, output: &Output<'_>, text: &str) -> anyhow::Result<crate::Compiled> {
    let files = compiled.files.iter().map(|(_, file)| (file.path.as_str(), file.text.as_str()));
    let files: Vec<(&str, &str)> = files.chain([(PRINTED, text)]).collect();
    let now = output.now.unwrap_or_else(jiff::Timestamp::now);
    crate::compile(&Memory::new(&files, now)).map_err(anyhow::Error::msg)
}

fn file_of(with: &crate::Compiled) -> Option<FileId> {
    with.files.iter().find(|(_, file)| file.path == PRINTED).map(|(id, _)| id)
}

/// What the book says of the lines, a message a line.
fn messages(with: &crate::Compiled) -> String {
    let file = file_of(with);
    let ours = with
        .diagnostics
        .iter()
        .filter(|one| one.at.as_ref().is_some_and(|mark| Some(mark.span.file) == file));
    let said: Vec<String> = ours
        .map(|one| {
            let line = one.at.as_ref().map_or(0, |mark| with.files.line(mark.span));
            format!("line {line} of these, {}[{}]: {}\n", one.severity.word(), one.check, one.message)
        })
        .collect();
    let more = said.len().saturating_sub(ONE_BY_ONE);
    let mut out: String = said.into_iter().take(ONE_BY_ONE).collect();
    if more > 0 {
        out += &format!("and {}\n", count(more as u32, "message more", "messages more"));
    }
    out
}

fn summary(name: &str, made: &Transcript, printed: usize, known: usize) -> String {
    let mut out = String::new();
    // The same of many rows is said once, with the first.
    let mut sorts: Vec<(&Remark, u32)> = Vec::new();
    let mut at: BTreeMap<&str, usize> = BTreeMap::new();
    for remark in &made.remarks {
        let index = *at.entry(&remark.text).or_insert(sorts.len());
        match sorts.get_mut(index) {
            Some((_, times)) => *times += 1,
            None => sorts.push((remark, 0)),
        }
    }
    for (remark, again) in sorts.iter().take(ONE_BY_ONE) {
        let rows = if *again > 0 {
            format!(" (and {})", count(*again, "row more", "rows more"))
        } else {
            String::new()
        };
        out += &format!("{}: {}{rows}\n", words::place(name, remark.line), remark.text);
    }
    let more = sorts.len().saturating_sub(ONE_BY_ONE);
    if more > 0 {
        out += &format!("and {}\n", count(more as u32, "message more", "messages more"));
    }
    out += &format!(
        "{}, {}: {}",
        count(made.rows as u32, "row", "rows"),
        made.read_as.join(", "),
        count(printed as u32, "line to paste", "lines to paste")
    );
    if known > 0 {
        out += &format!(
            ", {} in the book already",
            if known == 1 { "1 is".to_owned() } else { format!("{known} are") }
        );
    }
    out += "\n";
    if !made.unused.is_empty() {
        let unused: Vec<String> = made.unused.iter().take(12).map(|head| format!("`{head}`")).collect();
        out += &format!("the mapping says nothing of {}\n", words::and(&unused));
    }
    out
}
