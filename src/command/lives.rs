//! `stringline lives`: how long a kind of part lasts, and spec against spec.

use super::ask;
use super::output::{Format, Output};
use super::table::{left, right, width, wrap};
use crate::Compiled;
use crate::answer::json;
use crate::answer::lives::{CountedFailures, Field, KindLives, SpecView, kind};
use crate::book::declare::clock_of;
use crate::book::model::{Clock, KindId};
use crate::book::names::{Thing, nearest};
use crate::history::order::Rank;
use crate::lives::lives;
use crate::units::number;
use crate::words;
use rayon::prelude::*;
use std::fmt::Write as _;

/// Say how long the parts of a kind last, spec against spec
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline lives [OPTIONS] [BOOK] [KIND]",
    after_help = "Without a kind: one line for each kind of which something has run.\n\
                  --only and --without take mode=WORD, mechanism=WORD or cause=WORD: which failures count. The lives of the others \
                  are taken as pulled when they failed.\n\n\
                  Example:\n  stringline lives ledgers/2026 coupling\n  stringline lives ledgers/2026 coupling --without cause=misaligned"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the kind of part (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// The clock: min, days, laps, launches ...; without it, that of the kind's limit
    #[arg(long, value_name = "CLOCK")]
    clock: Option<String>,
    /// Count only these failures
    #[arg(long, value_name = "FIELD=WORD", value_parser = field)]
    only: Option<(Field, String)>,
    /// Do not count these failures
    #[arg(long, value_name = "FIELD=WORD", value_parser = field)]
    without: Option<(Field, String)>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

fn field(typed: &str) -> Result<(Field, String), String> {
    let (name, word) = typed.split_once('=').unwrap_or((typed, ""));
    let field = [Field::Mode, Field::Mechanism, Field::Cause]
        .into_iter()
        .find(|field| field.word() == name.to_lowercase());
    match field {
        Some(field) if !word.trim().is_empty() => Ok((field, word.trim().to_owned())),
        _ => Err("it is mode=WORD, mechanism=WORD or cause=WORD".to_owned()),
    }
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if arguments.words.len() > 2 {
        anyhow::bail!("lives wants a kind of part, such as `stringline lives coupling`");
    }
    let clock = match &arguments.clock {
        None => None,
        Some(typed) => Some(clock_of(typed).filter(|clock| *clock != Clock::Months).ok_or_else(|| {
            anyhow::anyhow!("`{typed}` is no clock; there are min, h, laps, km, stage-km, days, events, sessions, launches, heat-cycles")
        })?),
    };
    // One word is a folder if it is one.
    let (book, words) = ask::split(&arguments.words, 0, 2)?;
    let words = words.first().map(String::as_str);
    let compiled = arguments.revision.compile(book.as_deref(), output)?;
    let all = lives(&compiled.book, &compiled.history, Rank::END);
    let counting = CountedFailures { only: arguments.only.clone(), without: arguments.without.clone() };
    let kinds: Vec<KindId> = match words {
        Some(name) => vec![named(&compiled, name)?],
        None => compiled.book.kinds.keys().collect(),
    };
    let views: Vec<KindLives> =
        kinds.par_iter().filter_map(|id| kind(&compiled, &all, *id, clock, &counting)).collect();
    output.result(&match (arguments.format, words) {
        (Format::Json, _) => json(&views),
        (Format::Text, None) => summary(&views),
        (Format::Text, Some(name)) => match views.first() {
            Some(view) => text(view, output.width),
            None => format!(
                "{name}: nothing of this kind has run by the book, so that there is no life to look at.\n"
            ),
        },
    });
    Ok(super::verdict(&compiled, output))
}

fn named(compiled: &Compiled, name: &str) -> anyhow::Result<KindId> {
    match compiled.book.names.find(name) {
        Some(Thing::Kind(id)) => Ok(id),
        Some(other) => anyhow::bail!("`{name}` is a {}, not a kind of part", other.sort()),
        None => {
            let kinds = compiled.book.kinds.iter().map(|kind| &*kind.named.name);
            anyhow::bail!("no kind of part is called `{name}`{}", words::or_nearest(nearest(name, kinds)))
        }
    }
}

fn summary(views: &[KindLives]) -> String {
    if views.is_empty() {
        return "No part of this book has run, so that there is no life to look at.\n".to_owned();
    }
    let mut out = String::new();
    let name =
        views.iter().flat_map(|view| view.specs.iter().map(|spec| width(&of(view, spec)))).max().unwrap_or(0);
    for view in views {
        for spec in view.specs.iter().filter(|spec| spec.lives > 0 || spec.unknown > 0) {
            let _ = writeln!(out, "{}  {}", left(&of(view, spec), name), spec.headline);
        }
        if !view.passed_over.is_empty() {
            let _ = writeln!(out, "{}  {}", left("", name), view.passed_over);
        }
    }
    out
}

/// "coupling, std".
fn of(view: &KindLives, spec: &SpecView) -> String {
    if spec.spec.is_empty() { view.kind.clone() } else { format!("{}, {}", view.kind, spec.spec) }
}

fn text(view: &KindLives, columns: usize) -> String {
    let mut out = format!("{}: {}\nlives in {}\n", view.kind, view.title, view.unit);
    if !view.passed_over.is_empty() {
        out += &wrap(&view.passed_over, 0, columns);
    }
    if !view.counting.is_empty() {
        let _ = writeln!(out, "{}", view.counting);
    }
    lives_text(&mut out, view);
    for spec in &view.specs {
        spec_text(&mut out, view, spec, columns);
    }
    if !view.against.is_empty() {
        out += "\nSpec against spec\n";
        for pair in &view.against {
            out += &wrap(&pair.sentence, 2, columns);
            out += &wrap(&format!("{}; judged at {}", pair.how, number::format(pair.level, 2)), 4, columns);
            for words in &pair.pays {
                out += &wrap(words, 4, columns);
            }
        }
    }
    if !view.modes.is_empty() {
        out += "\nFailures by mode\n";
        for mode in &view.modes {
            let name = if mode.mode.is_empty() { "mode not said" } else { &mode.mode };
            let of = if mode.spec.is_empty() { String::new() } else { format!(" of {}", mode.spec) };
            let words = format!(
                "{name}: {}{of} ({}); were it the only way to fail, the median life: {}",
                mode.failed,
                mode.parts.join(", "),
                mode.median_text
            );
            out += &wrap(&words, 2, columns);
        }
    }
    out += "\n";
    out += &wrap(
        "Statistics plan, they do not certify: where a failure can hurt, the shorter of the maker's, the series' and the stated limit rules.",
        0,
        columns,
    );
    out
}

fn lives_text(out: &mut String, view: &KindLives) {
    let rows: Vec<[String; 5]> = view
        .lives
        .iter()
        .map(|life| {
            let name = if life.number > 1 {
                format!("{}, life {}", life.part, life.number)
            } else {
                life.part.clone()
            };
            let cause = [&life.mode, &life.mechanism, &life.cause]
                .into_iter()
                .filter(|word| !word.is_empty())
                .cloned()
                .collect::<Vec<_>>()
                .join(", ");
            let end = if cause.is_empty() {
                life.end_words.clone()
            } else {
                format!("{}: {cause}", life.end_words)
            };
            [name, life.spec.clone(), life.length_text.clone(), end, life.served.join(", ")]
        })
        .collect();
    let most = |cell: fn(&[String; 5]) -> &String| rows.iter().map(|row| width(cell(row))).max().unwrap_or(0);
    let names = most(|[name, ..]| name);
    let specs = most(|[_, spec, ..]| spec);
    let lengths = most(|[_, _, length, ..]| length);
    let ends = most(|[.., end, _]| end);
    out.push('\n');
    for [name, spec, length, end, served] in &rows {
        let line = format!(
            "  {}  {}  {}  {}  {served}",
            left(name, names),
            left(spec, specs),
            right(length, lengths),
            left(end, ends),
        );
        let _ = writeln!(out, "{}", line.trim_end());
    }
}

fn spec_text(out: &mut String, view: &KindLives, spec: &SpecView, columns: usize) {
    let _ = writeln!(out, "\n{}", of(view, spec));
    out.push_str(&wrap(&spec.headline, 2, columns));
    let counts = format!(
        "{}: {} failed, {} pulled, {} running; {} together",
        words::count(spec.lives, "life", "lives"),
        spec.failed,
        spec.pulled,
        spec.running,
        spec.total
    );
    out.push_str(&wrap(&counts, 2, columns));
    if let Some(curve) = &spec.curve {
        let _ = writeln!(out, "  median life: {}", curve.median_text);
        if !curve.steps.is_empty() {
            let _ = writeln!(out, "  {:>8}  at risk  failed  still good  95 % band", view.unit);
        }
        for step in &curve.steps {
            let end = |end: Option<f64>| end.map_or_else(|| "–".to_owned(), |end| number::format(end, 3));
            let _ = writeln!(
                out,
                "  {:>8}  {:>7}  {:>6}  {:>10}  {} to {}",
                step.at_text,
                step.at_risk,
                step.failed,
                number::format(step.share, 3),
                end(step.low),
                end(step.high)
            );
        }
        if !curve.trap.is_empty() {
            out.push_str(&wrap(&curve.trap, 2, columns));
        }
    }
    match &spec.weibull {
        Some(weibull) => {
            for row in &weibull.rows {
                let _ = writeln!(out, "  {} {}", left(row.name, 20), row.text);
            }
        }
        None if spec.lives > 0 => {
            out.push_str(&wrap(&format!("no distribution: {}", spec.no_weibull), 2, columns));
        }
        None => {}
    }
    let money = spec.money.iter().flat_map(|money| &money.words);
    for words in
        std::iter::once(&spec.bound).chain(money).chain(&spec.notes).filter(|words| !words.is_empty())
    {
        out.push_str(&wrap(words, 2, columns));
    }
    for words in &spec.left_out {
        out.push_str(&wrap(&format!("left out: {words}"), 2, columns));
    }
}
