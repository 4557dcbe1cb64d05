//! `stringline report`: the HTML reports of a book.

use super::ask;
use super::folder::Folder;
use super::output::{Format, Output};
use super::pages::{Pages, Placed, named};
use super::progress::Progress;
use super::{CLEAN, ERRORS, TROUBLE, templates};
use crate::diagnostics::{Severity, short};
use crate::report::Options;
use crate::report::{Own, Report};
use crate::source::shown;
use crate::words;
use crate::words::summary;
use anyhow::bail;
use std::path::PathBuf;

/// Write the HTML reports of a book
#[derive(Debug, clap::Args)]
#[command(
    after_help = "The folder holds one reader's pages of one book: pages that the book no longer has are removed, files that no \
                  report wrote are left, and a folder with somebody else's pages is refused. The pages stand at the book's last line, \
                  whatever the day; --at DATE makes them as of the end of another day.\n\n\
                  Example:\n  stringline report ledgers/2026 --out reports\n  stringline report --out reports --car bittern"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// The folder to write into; made if there is none
    #[arg(long, value_name = "DIR")]
    out: PathBuf,
    /// As of the end of that day, and not of the book's last line
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// Only this car
    #[arg(long)]
    car: Option<String>,
    /// Only this year
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
    /// Only what this client may read: the pages of his own cars
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// A page for every part too: its whole travel
    #[arg(long, conflicts_with_all = ["car", "season"])]
    parts: bool,
    /// A folder of templates that take the place of those of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// How to say what was written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

#[derive(serde::Serialize)]
struct View {
    folder: String,
    pages: Vec<Placed>,
    /// Pages that the book no longer has.
    removed: Vec<String>,
    /// Those of them that somebody has changed.
    left: Vec<String>,
    errors: usize,
    warnings: usize,
    notes: usize,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let mut progress = Progress::begin();
    let own = arguments.templates.as_deref().map_or_else(|| Ok(Own::new()), templates::read)?;
    for (name, near) in templates::idle(&own) {
        let near = words::or_nearest(near);
        output.message(&format!(
            "stringline: the template {name} takes the place of none of ours, and no other names it{near}\n"
        ));
    }
    let compiled =
        ask::at(arguments.revision.compile(arguments.book.as_deref(), output)?, arguments.at.as_deref())?;
    let compiled = ask::read_by(compiled, arguments.reader.as_deref())?;
    let car = arguments.car.as_deref().map(|name| ask::car(&compiled, name)).transpose()?;
    let client = arguments.reader.as_deref().and_then(|name| ask::client(&compiled, name).ok());
    let options = Options { car, season: arguments.season, parts: arguments.parts, client };
    let report = Report::new(&compiled, options, &own);
    if let Some(year) = arguments.season
        && report.count() == 1
        && !compiled.book.cars.is_empty()
    {
        bail!(
            "the book has no line of the year {year} about {}",
            arguments.car.as_deref().unwrap_or("any car")
        );
    }
    let folder = &arguments.out;
    let mut held = Folder::open(folder, &compiled, options, report.pages())?;
    let mut pages = Pages::default();
    let mut kept = Vec::new();
    let all = report.count();
    report.stream(&mut |page| {
        match page {
            Ok(page) if held.leaves(&page.name) => kept.push(page.name),
            page => pages.take(page, |page| held.put(page)),
        }
        if output.terminal
            && let Some(line) = progress.step(all, "pages")
        {
            output.over(&line);
        }
    });
    if progress.drawn() {
        output.over("");
    }
    let cleared = held.finish();
    for name in &kept {
        output.message(&format!("stringline: {name} is of a wider run and is left as it was\n"));
    }
    for (name, reason) in &cleared.left {
        let name = shown(&folder.join(name));
        output
            .message(&format!("stringline: the book no longer has the page {name}; it is left: {reason}\n"));
    }
    if arguments.format == Format::Text {
        let errors: Vec<_> =
            compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error).cloned().collect();
        output.message(&short::render(&errors, &compiled.files));
    }
    let place =
        |name: &str| own.contains_key(name).then(|| templates::place(arguments.templates.as_deref(), name));
    let mut troubles = pages.troubles(folder, place);
    for (reason, names) in &cleared.stuck {
        let folder = shown(folder);
        troubles.push(format!(
            "cannot remove from {folder} what the book no longer has: {reason}: {}",
            named(names)
        ));
    }
    troubles.extend(
        cleared.unlisted.map(|why| format!("cannot write the list of pages into {}: {why}", shown(folder))),
    );
    let left: Vec<String> = cleared.left.into_iter().map(|(name, _)| name).collect();
    match arguments.format {
        Format::Text => {
            let n = pages.placed.len();
            let index = folder.join("index.html");
            let new = match pages.written {
                written if written == n => String::new(),
                0 => ", all as they were".to_owned(),
                written => format!(", {written} of them changed"),
            };
            let gone = match cleared.removed.len() {
                0 => String::new(),
                1 => ", 1 that the book no longer has removed".to_owned(),
                gone => format!(", {gone} that the book no longer has removed"),
            };
            output.counted(&format!(
                "{} written, starting at {}{new}{gone}; {}\n",
                crate::words::count(n as u64, "page", "pages"),
                shown(&index),
                summary(|severity| compiled.count(severity))
            ));
        }
        Format::Json => {
            let view = View {
                folder: shown(folder),
                pages: pages.placed,
                removed: cleared.removed,
                left,
                errors: compiled.count(Severity::Error),
                warnings: compiled.count(Severity::Warning),
                notes: compiled.count(Severity::Note),
            };
            output.result(&crate::answer::json(&view));
        }
    }
    for trouble in &troubles {
        output.message(&format!("stringline: {trouble}\n"));
    }
    Ok(match (troubles.is_empty(), compiled.count(Severity::Error)) {
        (false, _) => TROUBLE,
        (true, 0) => CLEAN,
        (true, _) => ERRORS,
    })
}
