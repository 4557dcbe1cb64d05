//! `stringline altered`: what a correction changes, since a revision or against another folder; and which pages that were handed out would read
//! otherwise now.
//!
//! Must not know how a fact is told.

use super::altered_pages::{self, HandedPages};
use super::output::{Format, Output, compile};
use super::{ask, revision};
use crate::Compiled;
use crate::answer::altered::{Alteration, Alterations, AlteredSort, altered};
use crate::answer::{LedgerLine, json};
use crate::book::handed::PagePrint;
use crate::report::{Options, Own, Report};
use crate::words::count;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write as _;
use std::path::{Path, PathBuf};

/// Say what is told otherwise since an earlier state of the book, and by which pages that were handed out
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Every figure, value, verdict, total, life and message of the book is laid beside those of the earlier state; what differs is \
                  listed with the lines that did it. Every page that a `handed` line registers is made again as of its day, and listed where \
                  its fingerprint is another; without --since that is all.\n\n\
                  Example:\n  stringline altered ledgers/2026\n  stringline altered ledgers/2026 --since HEAD~1\n  stringline altered ledgers/2026 --since ../copy-of-may"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// The earlier state: a folder that holds it, or a revision of git such as HEAD~3 or a tag
    #[arg(long, value_name = "REV-OR-FOLDER")]
    since: Option<PathBuf>,
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

/// All that differs, with the pages.
#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    alterations: &'a Alterations,
    /// Pages of the report that read otherwise, or that only one of the two has.
    pages: Vec<String>,
    #[serde(flatten)]
    handed: &'a HandedPages,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let whole = compile(arguments.book.as_deref(), output)?;
    let reader = arguments.reader.as_deref();
    let client = reader.map(|name| ask::client(&whole, name)).transpose()?;
    let since = arguments.since.as_deref().map(|since| earlier(arguments, since, output)).transpose()?;
    let (now, alterations, pages) = match since {
        None => (None, Alterations::default(), Vec::new()),
        Some(then) => {
            let now = read(compile(arguments.book.as_deref(), output)?, arguments)?;
            let (alterations, pages) = (altered(&then, &now), pages(&then, &now, reader)?);
            (Some(now), alterations, pages)
        }
    };
    let handed = altered_pages::pages(&whole, client, arguments.since.is_some().then_some(&alterations));
    output.result(&match arguments.format {
        Format::Text => {
            let since = if arguments.since.is_some() { text(&alterations, &pages) } else { String::new() };
            since + &altered_pages::text(&handed, arguments.since.is_some())
        }
        Format::Json => json(&Told { alterations: &alterations, pages, handed: &handed }),
    });
    Ok(super::verdict(now.as_ref().unwrap_or(&whole), output))
}

/// The earlier state of the book.
fn earlier(arguments: &Arguments, since: &Path, output: &Output<'_>) -> anyhow::Result<Compiled> {
    let then = if since.is_dir() {
        compile(Some(since), output)?
    } else {
        let named = since.to_string_lossy().into_owned();
        revision::compile_at(arguments.book.as_deref(), &named, output)?
    };
    read(then, arguments)
}

/// As its reader may read it, without the commit: that differs though nothing else does.
fn read(compiled: Compiled, arguments: &Arguments) -> anyhow::Result<Compiled> {
    let mut compiled = ask::read_by(compiled, arguments.reader.as_deref())?;
    compiled.commit = None;
    Ok(compiled)
}

/// The pages that tell something otherwise, by name.
fn pages(then: &Compiled, now: &Compiled, reader: Option<&str>) -> anyhow::Result<Vec<String>> {
    let of = |compiled: &Compiled| -> anyhow::Result<BTreeMap<String, PagePrint>> {
        let client = reader.map(|name| ask::client(compiled, name)).transpose()?;
        let options = Options { client, ..Options::default() };
        Ok(Report::new(compiled, options, &Own::new()).prints().into_iter().collect())
    };
    let (then, now) = (of(then)?, of(now)?);
    let mut names: Vec<&String> = then.keys().chain(now.keys()).collect();
    names.sort_unstable();
    names.dedup();
    Ok(names.into_iter().filter(|name| then.get(*name) != now.get(*name)).cloned().collect())
}

fn text(all: &Alterations, pages: &[String]) -> String {
    let mut out = format!(
        "{}, {}.\n",
        count(all.gone, "line is no more", "lines are no more"),
        count(all.new, "line is new", "lines are new")
    );
    if all.facts.is_empty() && pages.is_empty() {
        out.push_str("Nothing is told otherwise.\n");
        return out;
    }
    let mut sort: Option<AlteredSort> = None;
    for fact in &all.facts {
        if sort != Some(fact.sort) {
            let _ = write!(out, "\n{}\n", heading(fact.sort));
            sort = Some(fact.sort);
        }
        one(&mut out, fact);
    }
    if !pages.is_empty() {
        let _ = write!(out, "\nPages that read otherwise: {}.\n", pages.join(", "));
    }
    out
}

const fn heading(sort: AlteredSort) -> &'static str {
    match sort {
        AlteredSort::Figure => "Figures",
        AlteredSort::Value => "Values",
        AlteredSort::Verdict => "Verdicts of the rules",
        AlteredSort::Total => "Money",
        AlteredSort::Life => "Lives",
        AlteredSort::Message => "Messages",
    }
}

fn one(out: &mut String, fact: &Alteration) {
    if fact.sort == AlteredSort::Message {
        let (mark, words) = match (&fact.then, &fact.now) {
            (_, Some(now)) => ("new", now),
            (then, None) => ("gone", then.as_ref().unwrap_or(&fact.what)),
        };
        let _ = writeln!(out, "  {mark}: {}: {words}", fact.of);
    } else {
        let at = fact.at.as_ref().map_or_else(String::new, |at| format!(", {at}"));
        let later = match fact.later {
            0 => String::new(),
            n => format!("  (and at {n} later)"),
        };
        let [then, now] = [&fact.then, &fact.now].map(|one| one.as_deref().unwrap_or("-"));
        let _ = writeln!(out, "  {} {}{at}: {then} -> {now}{later}", fact.of, fact.what);
    }
    for (lines, word) in [(&fact.lines_then, "no more"), (&fact.lines_now, "new")] {
        if !lines.is_empty() {
            let lines: Vec<String> = lines.iter().map(LedgerLine::to_string).collect();
            let _ = writeln!(out, "      {word}: {}", lines.join(", "));
        }
    }
}
