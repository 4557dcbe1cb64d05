//! `stringline report`: the HTML reports of a book.

use super::ask;
use super::output::{Format, Output, compile, summary};
use super::{CLEAN, ERRORS};
use crate::book::names::Thing;
use crate::diagnostics::{Severity, short};
use crate::report::{Options, Page, render};
use anyhow::{Context as _, bail};
use std::path::{Path, PathBuf};

/// Write the HTML reports of a book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Example:\n  stringline report ledgers/2026 --out reports\n  stringline report --out reports --car bittern"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// The folder to write into; made if there is none
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// Only this car
    #[arg(long)]
    car: Option<String>,
    /// Only this year
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
    /// Only what this client may read: the pages of his own cars
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// How to say what was written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(serde::Serialize)]
struct View<'a> {
    folder: String,
    pages: Vec<Written<'a>>,
    errors: usize,
    warnings: usize,
    notes: usize,
}

#[derive(serde::Serialize)]
struct Written<'a> {
    file: &'a str,
    title: &'a str,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled = ask::read_by(compile(arguments.book.as_deref(), output)?, arguments.reader.as_deref())?;
    let names = &compiled.book.names;
    let car = match arguments.car.as_deref().map(|typed| (typed, names.find(&typed.to_lowercase()))) {
        None => None,
        Some((_, Some(Thing::Car(car)))) => Some(car),
        Some((typed, _)) => {
            let near = names.near(typed, |thing| matches!(thing, Thing::Car(_)));
            let near = near.map_or_else(String::new, |near| format!(" Did you mean `{near}`?"));
            bail!("no car is called `{typed}`.{near}");
        }
    };
    let options = Options { car, season: arguments.season };
    let pages = render(&compiled, options).map_err(anyhow::Error::msg)?;
    if let Some(year) = arguments.season
        && pages.len() == 1
        && !compiled.book.cars.is_empty()
    {
        bail!(
            "the book has no line of the year {year} about {}",
            arguments.car.as_deref().unwrap_or("any car")
        );
    }
    let folder = &arguments.out;
    std::fs::create_dir_all(folder)
        .with_context(|| format!("cannot make the folder {}", folder.display()))?;
    for page in &pages {
        write(folder, page)?;
    }
    if arguments.format == Format::Text {
        let errors: Vec<_> =
            compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error).cloned().collect();
        output.message(&short::render(&errors, &compiled.files));
    }
    output.result(&match arguments.format {
        Format::Text => {
            let n = pages.len();
            let word = if n == 1 { "page" } else { "pages" };
            let index = folder.join("index.html");
            format!("{n} {word} written, starting at {}; {}\n", index.display(), summary(&compiled))
        }
        Format::Json => {
            let view = View {
                folder: folder.display().to_string(),
                pages: pages.iter().map(|page| Written { file: &page.name, title: &page.title }).collect(),
                errors: compiled.count(Severity::Error),
                warnings: compiled.count(Severity::Warning),
                notes: compiled.count(Severity::Note),
            };
            serde_json::to_string_pretty(&view)? + "\n"
        }
    });
    Ok(if compiled.count(Severity::Error) > 0 { ERRORS } else { CLEAN })
}

/// Writes a page beside its place and moves it there, so that nobody ever reads half of one.
fn write(folder: &Path, page: &Page) -> anyhow::Result<()> {
    let place = folder.join(&page.name);
    let beside = folder.join(format!(".{}.{}.part", page.name, std::process::id()));
    let done = std::fs::write(&beside, &page.html).and_then(|()| std::fs::rename(&beside, &place));
    if done.is_err() {
        let _ = std::fs::remove_file(&beside);
    }
    done.with_context(|| format!("cannot write {}", place.display()))
}
