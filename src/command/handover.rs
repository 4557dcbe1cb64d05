//! `stringline handover`: the book that goes with a car to its buyer.

use super::output::{Output, compile};
use super::pages::Pages;
use super::{TROUBLE, ask, templates};
use crate::answer::json;
use crate::audience::{self, Reader};
use crate::report::{self, Own};
use crate::source::shown;
use anyhow::{Context as _, bail};
use std::path::{Path, PathBuf};

/// Write the book that goes with a car to its buyer
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline handover [OPTIONS] [BOOK] <CAR>",
    after_help = "The car as it was sold, or as it stands where the book does not sell it. How it stands comes first; no prices, \
                  no other client, nothing from the bench unless asked. Only lines for a buyer are in it: `for buyer` puts one \
                  in, `for client` or `for shop` keeps one out.\n\n\
                  Example:\n  stringline handover ledgers/2026 plover --out plover.html\n  stringline handover plover --include bench --format json"
)]
pub struct Arguments {
    /// The book's folder (may be left out), and the car
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// As of the end of that day, and not of today
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// The client it goes to; the one it was sold to where left out
    #[arg(long, value_name = "CLIENT")]
    to: Option<String>,
    /// What goes along besides
    #[arg(long, value_enum, value_name = "WHAT")]
    include: Vec<Besides>,
    /// The file to write; the terminal where left out
    #[arg(long, value_name = "FILE")]
    out: Option<PathBuf>,
    /// A folder of templates that take the place of those of the same name
    #[arg(long, value_name = "DIR")]
    templates: Option<PathBuf>,
    /// As a page or for programs
    #[arg(long, value_enum, default_value_t = Sort::Html)]
    format: Sort,
}

/// What a buyer gets only where it is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Besides {
    /// What was measured on the bench of the parts that go along
    Bench,
    /// What those parts were bought for
    Prices,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
enum Sort {
    /// A page, to read and to print
    Html,
    /// For programs
    Json,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=2).contains(&arguments.words.len()) {
        bail!("handover wants a car, such as `stringline handover plover`");
    }
    let own = arguments.templates.as_deref().map_or_else(|| Ok(Own::new()), templates::read)?;
    let (book, words) = ask::split(&arguments.words, 1, 2)?;
    let compiled = ask::at(compile(book.as_deref(), output)?, arguments.at.as_deref())?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let to = arguments.to.as_deref().map(|name| ask::client(&compiled, name)).transpose()?;
    let mut purchase = audience::purchase(&compiled, car, to);
    if let (Some(name), None) = (&arguments.to, purchase.sale)
        && compiled.history.parts.sales.iter().any(|sale| sale.car == car)
    {
        bail!("the book sells {} to somebody else than `{name}`", compiled.context().car(car));
    }
    purchase.bench = arguments.include.contains(&Besides::Bench);
    purchase.prices = arguments.include.contains(&Besides::Prices);
    let cut = audience::cut(&compiled, &Reader::Buyer(purchase));
    let view = report::handover(&cut, &purchase);
    let out = arguments.out.as_deref();
    let file = out.and_then(Path::file_name).map_or_else(String::new, |name| shown(Path::new(name)));
    let text = match arguments.format {
        Sort::Json => json(&view),
        Sort::Html => match report::handover_page(&view, &file, &own) {
            Ok(page) => page.html,
            Err(failed) => {
                let mut pages = Pages::default();
                pages.take(Err(failed), |_| Ok(false));
                let place = |name: &str| {
                    own.contains_key(name).then(|| templates::place(arguments.templates.as_deref(), name))
                };
                for trouble in pages.troubles(Path::new(""), place) {
                    output.message(&format!("stringline: {trouble}\n"));
                }
                return Ok(TROUBLE);
            }
        },
    };
    match out {
        None if arguments.format == Sort::Html => output.page(&text),
        None => output.result(&text),
        Some(path) => {
            crate::source::write_to(path, &text).with_context(|| format!("cannot write {}", shown(path)))?;
            output.counted(&format!(
                "hand-over book of {} written: {}\n",
                compiled.context().car(car),
                shown(path)
            ));
        }
    }
    Ok(super::verdict(&compiled, output))
}
