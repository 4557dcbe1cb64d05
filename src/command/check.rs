//! `stringline check`: every problem in the book.

use super::home::home;
use super::output::{At, Output};
use super::{CLEAN, ERRORS};
use crate::diagnostics::{Diagnostic, Severity, json, sarif, short, terminal};
use crate::source::{HandedIn, Span, shown};
use crate::words::{count, summary};

/// Say what is wrong in a book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  stringline check ledgers/2026\n  stringline check ledgers/2026 --format short"
)]
pub struct Arguments {
    /// The book's folder, one file of it (what is wrong in that), or `-` for lines that are handed in [default: the current folder]
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
    let mut file = None;
    let mut compiled = match arguments.book.as_deref() {
        Some(book) if book.as_os_str() == "-" => {
            crate::compile(&At { world: HandedIn, now: output.now }).map_err(anyhow::Error::msg)?
        }
        book => {
            let home = home(book);
            file = home.file.map(|file| shown(&file));
            arguments.revision.compile(Some(&home.root), output)?
        }
    };
    let diagnostics = std::mem::take(&mut compiled.diagnostics);
    let files = &compiled.files;
    // Of one file of a book what is said of it, or of others with it.
    let of_file = |span: Span| file.as_deref().is_none_or(|file| files.path(span.file) == file);
    let (all, others): (Vec<_>, Vec<_>) = diagnostics
        .into_iter()
        .partition(|one| one.at.iter().chain(&one.also).any(|mark| of_file(mark.span)) || one.at.is_none());
    let all = &all;
    let of = |list: &[Diagnostic], severity| list.iter().filter(|one| one.severity == severity).count();
    match arguments.format {
        Format::Text => {
            output.colored(&terminal::colored(all, files, output.color, output.width));
            output.counted(&match &file {
                Some(file) if others.is_empty() => {
                    format!("{file}: {}\n", summary(|severity| of(all, severity)))
                }
                Some(file) => format!(
                    "{file}: {}; in the other files of its book {}\n",
                    summary(|severity| of(all, severity)),
                    summary(|severity| of(&others, severity))
                ),
                None => format!("{}: {}\n", whole(&compiled), summary(|severity| of(all, severity))),
            });
        }
        Format::Short => output.result(&short::render(all, files)),
        Format::Json => output.result(&json::render(all, files)),
        Format::Sarif => output.result(&sarif::render(all, files, &|name| {
            crate::check::find(name).map(|check| check.brief.to_owned())
        })),
    }
    let fails = of(all, Severity::Error) > 0 || arguments.strict && of(all, Severity::Warning) > 0;
    Ok(if fails { ERRORS } else { CLEAN })
}

/// What there is in a book.
fn whole(compiled: &crate::Compiled) -> String {
    let (book, history) = (&compiled.book, &compiled.history);
    let counts = [
        count(book.cars.len(), "car", "cars"),
        count(book.events.len(), "event", "events"),
        count(history.sessions.all.len(), "session", "sessions"),
        count(book.entries.len(), "entry", "entries"),
    ];
    counts.join(", ")
}
