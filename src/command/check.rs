//! `stringline check`: every problem in the book.

use super::output::{At, Output};
use super::{CLEAN, ERRORS};
use crate::diagnostics::{Severity, json, sarif, short, terminal};
use crate::source::HandedIn;
use crate::words::{count, summary};

/// Say what is wrong in a book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  stringline check ledgers/2026\n  stringline check ledgers/2026 --format short"
)]
pub struct Arguments {
    /// The book's folder, or `-` for lines that are handed in [default: the current folder]
    book: Option<std::path::PathBuf>,
    /// Let warnings fail too
    #[arg(long)]
    strict: bool,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Format {
    /// With the lines, for people
    Text,
    /// One line a message
    Short,
    /// For programs
    Json,
    /// SARIF 2.1.0
    Sarif,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled = match arguments.book.as_deref() {
        Some(book) if book.as_os_str() == "-" => {
            crate::compile(&At { world: HandedIn, now: output.now }).map_err(anyhow::Error::msg)?
        }
        book => arguments.revision.compile(book, output)?,
    };
    let (all, files) = (&compiled.diagnostics, &compiled.files);
    match arguments.format {
        Format::Text => {
            output.colored(&terminal::colored(all, files, output.color, output.width));
            let (book, history) = (&compiled.book, &compiled.history);
            let counts = [
                count(book.cars.len(), "car", "cars"),
                count(book.events.len(), "event", "events"),
                count(history.sessions.all.len(), "session", "sessions"),
                count(book.entries.len(), "entry", "entries"),
            ];
            output.counted(&format!(
                "{}: {}\n",
                counts.join(", "),
                summary(|severity| compiled.count(severity))
            ));
        }
        Format::Short => output.result(&short::render(all, files)),
        Format::Json => output.result(&json::render(all, files)),
        Format::Sarif => output.result(&sarif::render(all, files, &|name| {
            crate::check::find(name).map(|check| check.brief.to_owned())
        })),
    }
    let fails =
        compiled.count(Severity::Error) > 0 || arguments.strict && compiled.count(Severity::Warning) > 0;
    Ok(if fails { ERRORS } else { CLEAN })
}
