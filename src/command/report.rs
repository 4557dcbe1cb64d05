//! `stringline report`: the HTML reports of a book.

use super::ask;
use super::output::{Format, Output, compile, summary};
use super::pages::{Pages, Placed};
use super::progress::Progress;
use super::{CLEAN, ERRORS, TROUBLE, templates};
use crate::book::names::Thing;
use crate::diagnostics::{Severity, short};
use crate::report::{Options, Own, Report};
use anyhow::{Context as _, bail};
use std::path::PathBuf;

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
    /// A page for every part too: its whole travel
    #[arg(long, conflicts_with_all = ["car", "season"])]
    parts: bool,
    /// A folder of templates that take the place of those of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// How to say what was written
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

#[derive(serde::Serialize)]
struct View {
    folder: String,
    pages: Vec<Placed>,
    errors: usize,
    warnings: usize,
    notes: usize,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let mut progress = Progress::begin();
    let own = arguments.templates.as_deref().map_or_else(|| Ok(Own::new()), templates::read)?;
    for (name, near) in templates::idle(&own) {
        let near = near.map_or_else(String::new, |near| format!("; did you mean `{near}`?"));
        output.message(&format!(
            "stringline: the template {name} takes the place of none of ours, and no other names it{near}\n"
        ));
    }
    let compiled = ask::read_by(compile(arguments.book.as_deref(), output)?, arguments.reader.as_deref())?;
    let names = &compiled.book.names;
    let car = match arguments.car.as_deref().map(|typed| (typed, names.find(typed))) {
        None => None,
        Some((_, Some(Thing::Car(car)))) => Some(car),
        Some((typed, _)) => {
            let near = names.near(typed, |thing| matches!(thing, Thing::Car(_)));
            let near = near.map_or_else(String::new, |near| format!(" Did you mean `{near}`?"));
            bail!("no car is called `{typed}`.{near}");
        }
    };
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
    std::fs::create_dir_all(folder)
        .with_context(|| format!("cannot make the folder {}", folder.display()))?;
    let mut pages = Pages::default();
    let all = report.count();
    report.stream(&mut |page| {
        pages.take(folder, page);
        if output.terminal
            && let Some(line) = progress.step(all, "pages")
        {
            output.over(&line);
        }
    });
    output.over(progress.end());
    if arguments.format == Format::Text {
        let errors: Vec<_> =
            compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error).cloned().collect();
        output.message(&short::render(&errors, &compiled.files));
    }
    let place =
        |name: &str| own.contains_key(name).then(|| templates::place(arguments.templates.as_deref(), name));
    let troubles = pages.troubles(folder, place);
    output.result(&match arguments.format {
        Format::Text => {
            let n = pages.placed.len();
            let word = if n == 1 { "page" } else { "pages" };
            let index = folder.join("index.html");
            let new = match pages.written {
                written if written == n => String::new(),
                0 => ", all as they were".to_owned(),
                written => format!(", {written} of them changed"),
            };
            format!("{n} {word} written, starting at {}{new}; {}\n", index.display(), summary(&compiled))
        }
        Format::Json => {
            let view = View {
                folder: folder.display().to_string(),
                pages: pages.placed,
                errors: compiled.count(Severity::Error),
                warnings: compiled.count(Severity::Warning),
                notes: compiled.count(Severity::Note),
            };
            crate::view::json(&view)
        }
    });
    for trouble in &troubles {
        output.message(&format!("stringline: {trouble}\n"));
    }
    Ok(match (troubles.is_empty(), compiled.count(Severity::Error)) {
        (false, _) => TROUBLE,
        (true, 0) => CLEAN,
        (true, _) => ERRORS,
    })
}
