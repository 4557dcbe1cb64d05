//! `stringline due`: what must be done, carried or watched before an event.

use super::ask;
use super::output::{Format, Output};
use super::table::{left, width, wrap};
use crate::Compiled;
use crate::answer::due::{CarryView, DueRow, DueView, PlanView, confidence_words, view};
use crate::answer::json;
use crate::book::model::EventId;
use crate::due::Ask;
use crate::due::plan::next_event;
use crate::due::row::Action;
use crate::words;
use crate::words::scale::NOT_KNOWN;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Say what must be done, carried or watched before an event
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Without --before: the next event that a car of the book is entered for; where there is none, what is due by use and date. For an event that is past, the list is as \
                        the book knew it then. The list is as of today by the clock; --at DATE makes it as of the end of another day.\n\n\
                        Example:\n  stringline due ledgers/2026\n  stringline due ledgers/2026 --before quern-2"
)]
pub struct Arguments {
    /// The book's folder; the current one if left out
    book: Option<PathBuf>,
    /// The event
    #[arg(long, value_name = "EVENT")]
    before: Option<String>,
    /// As of the end of that day, and not of today
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// How sure the spares taken along are to be enough, in per cent
    #[arg(long, value_name = "PERCENT", default_value_t = 90.0, value_parser = percent)]
    confidence: f64,
    /// List the parts that need nothing too
    #[arg(long)]
    all: bool,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

fn percent(typed: &str) -> Result<f64, String> {
    let value = typed.trim_end_matches('%').trim().parse::<f64>().ok();
    value
        .filter(|value| (1.0..=99.9).contains(value))
        .ok_or_else(|| "it is a number from 1 to 99.9".to_owned())
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled =
        ask::at(arguments.revision.compile(arguments.book.as_deref(), output)?, arguments.at.as_deref())?;
    let event = event(&compiled, arguments.before.as_deref())?;
    let ask = Ask { event, today: compiled.today, confidence: arguments.confidence / 100.0 };
    let view = view(&compiled, ask, arguments.all);
    output.result(&match arguments.format {
        Format::Text => text(&view, arguments.all, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

/// The event asked about; `None` where none is to come.
fn event(compiled: &Compiled, typed: Option<&str>) -> anyhow::Result<Option<EventId>> {
    match typed {
        Some(typed) => ask::event(compiled, typed).map(Some),
        None => Ok(next_event(&compiled.book, &compiled.history, compiled.today)),
    }
}

const fn word(action: Action) -> &'static str {
    match action {
        Action::Fit => "FIT",
        Action::Replace => "REPLACE",
        Action::Inspect => "INSPECT",
        Action::Carry => "CARRY",
        Action::Watch => "WATCH",
        Action::Leave => "leave",
    }
}

/// Before what the list is, and as on which day.
fn heading(plan: &PlanView) -> String {
    let (Some(event), Some(first), Some(days)) = (&plan.event, &plan.first, plan.days_ahead) else {
        return format!(
            "Due by use and date, as on {}, {}\nNo event to come: from that day on the book has none that a car goes to. What is to run is not \
             counted; declare the event, or name one with --before.\n",
            plan.on, plan.by
        );
    };
    let ahead = match days {
        0 => "that day".to_owned(),
        1 => "the day before".to_owned(),
        days if days < 0 => "during it".to_owned(),
        days => format!("{days} days before"),
    };
    let cars = if plan.cars.is_empty() { "No car of this book goes there.\n" } else { "" };
    format!("Due before {event}, {} ({first}; as on {}, {}, {ahead})\n{cars}", plan.title, plan.on, plan.by)
}

fn text(view: &DueView, all: bool, columns: usize) -> String {
    let plan = &view.plan;
    let mut out = heading(plan);
    let name = plan.cars.iter().map(|car| width(&car.car)).max().unwrap_or(0);
    for car in plan.cars.iter().filter(|_| plan.event.is_some()) {
        let _ = writeln!(out, "  {}  {}", left(&car.car, name), car.text);
    }
    out.push('\n');
    let what = view.rows.iter().map(|row| width(&subject(row))).max().unwrap_or(0);
    let later = |row: &&DueRow| matches!(row.action, Action::Watch | Action::Leave);
    for row in view.rows.iter().filter(|row| !later(row)) {
        row_text(&mut out, row, what, columns);
    }
    for part in &view.loose {
        let _ = writeln!(out, "[ ] INSPECT  {}: {} {}", part.car, part.kind, part.part);
        out.push_str(&wrap(&part.text, 13, columns));
    }
    for gauge in &view.gauges {
        let title = if gauge.title.is_empty() { String::new() } else { format!(", {}", gauge.title) };
        let _ = writeln!(out, "[ ] CHECK    gauge {}{title}", gauge.gauge);
        out.push_str(&wrap(&gauge.text, 13, columns));
    }
    for one in &view.ends {
        let _ = writeln!(out, "[ ] WATCH    {}: {}", one.car, one.what);
        out.push_str(&wrap(&one.text, 13, columns));
    }
    others(&mut out, view, columns);
    for (action, heading) in [(Action::Watch, "To watch"), (Action::Leave, "To leave as they are")] {
        let rows: Vec<&DueRow> = view.rows.iter().filter(|row| row.action == action).collect();
        if !rows.is_empty() {
            let _ = writeln!(out, "\n{heading}");
        }
        for row in rows {
            row_text(&mut out, row, what, columns);
        }
    }
    over_hours(&mut out, view, all, columns);
    let lists = [
        view.rows.len(),
        view.loose.len(),
        view.gauges.len(),
        view.ends.len(),
        view.work.len(),
        view.jobs.len(),
        view.beside.len(),
    ];
    if lists.iter().sum::<usize>() == 0 && !plan.cars.is_empty() {
        out += "Nothing is due.\n";
    }
    if view.left_alone > 0 && view.rows.iter().all(|row| row.action != Action::Leave) {
        let parts = words::count(view.left_alone, "part needs", "parts need");
        let _ = writeln!(out, "\n{parts} nothing (--all lists them).");
    }
    if !view.carry.is_empty() {
        let _ = writeln!(out, "\nSpares to take along, enough at {}", confidence_words(view.confidence));
        let kind = view.carry.iter().map(|carry| width(&carry.kind)).max().unwrap_or(0);
        for carry in &view.carry {
            let _ = writeln!(out, "  {}  {}{}", left(&carry.kind, kind), carry.text, lack(carry));
        }
    }
    out.push('\n');
    for words in &view.method {
        out += &wrap(words, 0, columns);
    }
    out
}

/// What is read over hours and comes to its end later; with all, what has no end that can be told.
fn over_hours(out: &mut String, view: &DueView, all: bool, columns: usize) {
    if !view.ends_later.is_empty() {
        *out += "\nRead over hours, and not at its end yet\n";
    }
    for one in &view.ends_later {
        *out += &wrap(&format!("{}: {}: {}", one.car, one.what, one.text), 4, columns);
    }
    if all && !view.no_end.is_empty() {
        *out += "\nRead over hours, without an end that can be told\n";
        for one in &view.no_end {
            *out += &wrap(&format!("{}: {}: {}", one.car, one.what, one.text), 4, columns);
        }
    }
}

/// "; short 1", "; no spare left".
fn lack(carry: &CarryView) -> String {
    if carry.lack.is_empty() { String::new() } else { format!("; {}", carry.lack.to_uppercase()) }
}

/// Jobs and promises, and work that comes round.
fn others(out: &mut String, view: &DueView, columns: usize) {
    if !view.jobs.is_empty() {
        out.push_str("\nJobs and promises\n");
    }
    for job in &view.jobs {
        let car = if job.car.is_empty() { "the shop" } else { &job.car };
        let title = if job.title.is_empty() { String::new() } else { format!(", {}", job.title) };
        let _ = writeln!(out, "[ ] {car}: {}{title}", job.job);
        out.push_str(&wrap(&job.text, 13, columns));
    }
    if !view.beside.is_empty() {
        out.push_str("\nLent, borrowed, in stock\n");
    }
    for one in &view.beside {
        let _ = writeln!(out, "[ ] {}", one.what());
        out.push_str(&wrap(&one.text, 13, columns));
    }
    if !view.work.is_empty() {
        out.push_str("\nWork that comes round again\n");
    }
    for work in &view.work {
        let part = if work.part.is_empty() { String::new() } else { format!(" {}", work.part) };
        let _ = writeln!(out, "[ ] {}: {}{part}", work.car, work.what);
        out.push_str(&wrap(&work.text, 13, columns));
    }
}

/// "bittern RR  coupling cp-02".
fn subject(row: &DueRow) -> String {
    let place = if row.spot.is_empty() { String::new() } else { format!(" {}", row.spot) };
    let part = if row.part.is_empty() { String::new() } else { format!(" {}", row.part) };
    let inside = if row.inside.is_empty() { String::new() } else { format!(" in {}", row.inside) };
    format!("{}{place}: {}{part}{inside}", row.car, row.kind)
}

fn row_text(out: &mut String, row: &DueRow, what: usize, columns: usize) {
    let use_words = match (row.limit.is_empty(), row.after.is_empty()) {
        (true, _) if row.now == NOT_KNOWN => "use not known".to_owned(),
        (true, _) => row.now.clone(),
        (false, _) if row.now == NOT_KNOWN => format!("use not known, limit {}", row.limit),
        (false, true) => format!("{} of {}", row.now, row.limit),
        (false, false) => format!("{} of {}, {} after", row.now, row.limit, row.after),
    };
    let tick = if matches!(row.action, Action::Watch | Action::Leave) { "   " } else { "[ ]" };
    let line = format!("{tick} {}  {}  {use_words}", left(word(row.action), 7), left(&subject(row), what));
    let _ = writeln!(out, "{}", line.trim_end());
    let mut under: Vec<String> = row.why.clone();
    if !row.chance.text.is_empty() {
        under.push(
            format!("chance of failing {}", row.chance.text)
                .replace("failing cannot", "failing: cannot")
                .replace("failing none", "failing: none"),
        );
    }
    let spare = row.spare.iter().map(|spare| spare.text.clone());
    under.extend(spare.map(|words| format!("spare: {words}")));
    out.push_str(&wrap(&under.join("; "), 13, columns));
}
