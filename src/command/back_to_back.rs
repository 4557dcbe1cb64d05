//! `stringline back-to-back`: what each change did that was tried there and back, and what would tell.

use super::ask;
use super::output::{Format, Output};
use super::table::{left, width, wrap};
use crate::answer::json;
use crate::answer::trials::best::{BestAt, NO_VERDICT};
use crate::answer::trials::fitted::{fitted, measured};
use crate::answer::trials::planned::PlannedView;
use crate::answer::trials::{BackToBack, TrialOutcome, TrialView, build};
use crate::words;
use std::fmt::Write as _;

/// Say what a change did to the laps, how sure that is, and what would tell
#[derive(Debug, clap::Args)]
#[command(
    name = "back-to-back",
    override_usage = "stringline back-to-back [OPTIONS] [BOOK] <CAR> [EVENT]",
    after_help = "Runs of a car at one event that differ in one thing are compared, found from what everything stood at: A B A, A B B A, \
                  a number turned up and down. Each day has its own level and trend; a lap is never a replicate.\n\
                  A verdict needs two degrees of freedom. Laps, drivers and tracks vary: this plans the next run, and proves nothing \
                  about safety.\n\n\
                  Example:\n  stringline back-to-back ledgers/2026 bittern quern-2\n  stringline back-to-back plover --tell 0.3"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the event (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// The difference worth knowing about, in seconds; without it, half a per cent of the lap
    #[arg(long, value_name = "SECONDS", value_parser = seconds)]
    tell: Option<f64>,
    /// Show the runs too of those whose laps could not tell whatever they were
    #[arg(long)]
    all: bool,
    #[command(flatten)]
    of: super::of_reader::OfReader,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

fn seconds(typed: &str) -> Result<f64, String> {
    let number: f64 = typed.parse().map_err(|_| "it is a number of seconds, such as 0.3".to_owned())?;
    if (0.001..=1000.0).contains(&number) {
        Ok(number)
    } else {
        Err("it is between 0.001 and 1000 seconds".to_owned())
    }
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!(
            "back-to-back wants a car and perhaps an event, such as `stringline back-to-back bittern quern-2`"
        );
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let compiled = arguments.of.compile(book.as_deref(), output)?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let event = words.get(1).map(|typed| ask::event(&compiled, typed)).transpose()?;
    let view = build(&compiled, car, event, arguments.tell);
    output.result(&match arguments.format {
        Format::Text => text(&view, event.is_some() || arguments.all, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

fn text(view: &BackToBack, all: bool, columns: usize) -> String {
    let mut out = format!("{}: {}\n", view.car.name, view.car.title);
    let (refused, told): (Vec<&TrialView>, Vec<&TrialView>) =
        view.trials.iter().partition(|trial| trial.outcome == TrialOutcome::Refused);
    for plan in &view.planned {
        declared(&mut out, plan, columns);
    }
    if told.is_empty() && refused.is_empty() {
        out += "\nNothing was changed between two runs of one event.\n";
    }
    for trial in &told {
        one(&mut out, trial, columns);
    }
    for trial in &refused {
        if all {
            one(&mut out, trial, columns);
        } else {
            headed(&mut out, trial, columns);
        }
    }
    for together in &view.together {
        let _ = write!(out, "\n{}", wrap(&together.sentence, 0, columns));
    }
    if !view.caution.is_empty() {
        let _ = write!(out, "\n{}", wrap(&view.caution, 0, columns));
    }
    for best in &view.best {
        known(&mut out, best, columns);
    }
    if view.best.iter().any(|best| best.known.iter().any(|known| known.quickest.is_some())) {
        let _ = write!(out, "\n{}", wrap(NO_VERDICT, 0, columns));
    }
    out += "\n";
    out += &wrap(
        "Laps, drivers and tracks vary: this plans the next run, and proves nothing about safety.",
        0,
        columns,
    );
    out
}

/// A trial that was declared beforehand, and how it was followed.
fn declared(out: &mut String, plan: &PlannedView, columns: usize) {
    let place = plan.event.as_deref().unwrap_or(&plan.date);
    let line = plan.line.as_ref().map_or_else(String::new, |line| format!("  {line}"));
    let _ = writeln!(out, "\n{place}: planned, {}{line}", plan.what);
    let settings: Vec<String> =
        plan.settings.iter().map(|setting| format!("{} {}", setting.letter, setting.text)).collect();
    *out += &wrap(&format!("{}: {}", settings.join(", "), plan.order), 2, columns);
    *out += &wrap(&plan.sentence, 2, columns);
    for run in &plan.runs {
        let line = run.line.as_ref().map_or_else(String::new, ToString::to_string);
        let row = format!("    {}  {}  {line}", run.session, run.letter);
        let _ = writeln!(out, "{}", row.trim_end());
    }
    let passed: Vec<String> =
        plan.passed.iter().map(|run| format!("{} ({})", run.session, run.why)).collect();
    if !passed.is_empty() {
        *out += &wrap(&format!("no run of it: {}", passed.join("; ")), 2, columns);
    }
}

/// The best known setup at a circuit.
fn known(out: &mut String, best: &BestAt, columns: usize) {
    let _ = writeln!(out, "\n{}: best known setup", best.circuit);
    if let Some(refused) = &best.refused {
        *out += &wrap(refused, 2, columns);
    }
    for known in &best.known {
        *out += &wrap(&known.sentence, 2, columns);
        if !known.now.is_empty() {
            *out += &wrap(&known.now, 4, columns);
        }
    }
    let left: Vec<String> =
        best.left_out.iter().map(|run| format!("{} ({})", run.session, run.why)).collect();
    if !left.is_empty() {
        *out += &wrap(&format!("left out: {}", left.join("; ")), 2, columns);
    }
}

/// What was tried, and the sentence.
fn headed(out: &mut String, trial: &TrialView, columns: usize) {
    let place = trial.event.as_deref().unwrap_or(&trial.date);
    let _ = writeln!(out, "\n{place}: {}", trial.what);
    *out += &wrap(&trial.sentence, 2, columns);
}

fn one(out: &mut String, trial: &TrialView, columns: usize) {
    headed(out, trial, columns);
    let settings: Vec<String> =
        trial.settings.iter().map(|setting| format!("{} {}", setting.letter, setting.text)).collect();
    *out += &wrap(&settings.join(", "), 2, columns);
    runs(out, trial, columns);
    let left: Vec<String> =
        trial.left_out.iter().map(|run| format!("{} ({})", run.session, run.why)).collect();
    if !left.is_empty() {
        *out += &wrap(&format!("left out: {}", left.join("; ")), 2, columns);
    }
    for measure in &trial.measures {
        *out += &wrap(&measured(measure), 2, columns);
    }
    if let Some(pooled) = &trial.pooled {
        *out += &wrap(
            &format!(
                "best lap, with the scatter of its other runs there: {}",
                fitted(pooled, Some("s"), None)
            ),
            2,
            columns,
        );
    }
    for note in &trial.notes {
        *out += &wrap(note, 2, columns);
    }
}

fn runs(out: &mut String, trial: &TrialView, columns: usize) {
    let names = trial.runs.iter().map(|run| width(&run.session)).max().unwrap_or(0);
    for run in &trial.runs {
        let lap = run.best.map_or_else(|| "-".to_owned(), |lap| words::lap(lap, 2));
        let line = run.line.as_ref().map_or_else(String::new, ToString::to_string);
        let row = format!("    {}  {}  {lap}  {line}", left(&run.session, names), run.letter);
        let _ = writeln!(out, "{}", row.chars().take(columns.max(40)).collect::<String>().trim_end());
    }
}
