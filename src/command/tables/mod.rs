//! `stringline tables`: the book's facts as CSV files, or as one SQLite database.

mod database;
mod folder;
mod list;
mod written;

use super::of_reader::OfReader;
use super::output::{Format, Output};
use crate::diagnostics::Severity;
use crate::source::shown;
use crate::tables::Shown;
use crate::words;
use crate::words::summary;
use std::path::{Path, PathBuf};
use written::Written;

/// Write the book as tables: CSV files in a folder, or one SQLite database
#[derive(Debug, clap::Args)]
#[command(
    after_help = "A name that ends in .db, .sqlite or .sqlite3 is a database; any other is a folder. The folder holds one reader's tables of \
                  one book and nothing else; a database that this program did not write is left. What the columns say is in grammar/tables.md.\n\n\
                  Example:\n  stringline tables ledgers/2026 --out tables\n  stringline tables ledgers/2026 --out season.db"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// The folder for the CSV files, made if there is none, or the database
    #[arg(long, value_name = "DIR|FILE.db")]
    out: PathBuf,
    /// Figures as each car left each of its events too, which takes several times as long
    #[arg(long)]
    each_event: bool,
    /// How to say what was written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    of: OfReader,
}

#[derive(serde::Serialize)]
struct View {
    out: String,
    tables: Vec<Written>,
    errors: usize,
    warnings: usize,
    notes: usize,
}

/// Whether a name is that of a database.
fn is_database(out: &Path) -> bool {
    let ending = out.extension().and_then(std::ffi::OsStr::to_str).map(str::to_ascii_lowercase);
    ending.is_some_and(|ending| ["db", "sqlite", "sqlite3"].contains(&ending.as_str()))
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled = arguments.of.compile(arguments.book.as_deref(), output)?;
    let client = arguments.of.client(&compiled);
    let name = client.and_then(|client| compiled.book.clients.get(client)).map(|client| &*client.named.typed);
    let mut tables = Shown::new(&compiled, name);
    tables.each_event = arguments.each_event;
    let out = &arguments.out;
    let written = if is_database(out) {
        database::write(out, &tables, client)?
    } else {
        folder::write(out, &tables, client)?
    };
    let rows: u64 = written.iter().map(|one| one.rows).sum();
    match arguments.format {
        Format::Text => {
            let new = match written.iter().filter(|one| one.changed).count() {
                changed if changed == written.len() => String::new(),
                0 => ", all as they were".to_owned(),
                changed => format!(", {changed} of them changed"),
            };
            output.counted(&format!(
                "{} with {} written into {}{new}; {}\n",
                words::count(written.len() as u64, "table", "tables"),
                words::count(rows, "row", "rows"),
                shown(out),
                summary(|severity| compiled.count(severity))
            ));
        }
        Format::Json => output.result(&crate::answer::json(&View {
            out: shown(out),
            tables: written,
            errors: compiled.count(Severity::Error),
            warnings: compiled.count(Severity::Warning),
            notes: compiled.count(Severity::Note),
        })),
    }
    Ok(super::verdict(&compiled, output))
}
