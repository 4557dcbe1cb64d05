//! `stringline costs`: what things cost, by kind, and for the running.

use super::ask;
use super::output::{Format, Output};
use super::table::{left, right, width, wrap};
use crate::Compiled;
use crate::answer::costs::{CellView, CostRow, CostsBy, LineView, Statement, Sum, statement, unknown};
use crate::answer::json;
use crate::book::names::Thing;
use crate::costs::Selection;
use crate::words;
use anyhow::bail;
use std::fmt::Write as _;
use std::path::PathBuf;

/// Say what things cost: by kind, and for each hour, day and kilometre run
#[derive(Debug, clap::Args)]
#[command(
    after_help = "Without --by the rows are cars, or the events of the car asked about. Parts count when they are first \
                  fitted, at the price they were bought for.\n\n\
                  Example:\n  stringline costs ledgers/2026 --season 2026\n  stringline costs ledgers/2026 --car bittern --lines"
)]
pub struct Arguments {
    /// The book's folder [default: the current one]
    book: Option<PathBuf>,
    /// Only this car
    #[arg(long)]
    car: Option<String>,
    /// Only what this client pays
    #[arg(long)]
    client: Option<String>,
    /// Only what this client may read: what is his to pay, as his letter has it
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// Only at this event
    #[arg(long)]
    event: Option<String>,
    /// Only for this job
    #[arg(long)]
    job: Option<String>,
    /// Only this year
    #[arg(long, value_name = "YEAR")]
    season: Option<i16>,
    /// What the rows are
    #[arg(long, value_enum)]
    by: Option<CostsBy>,
    /// Open every total to its lines
    #[arg(long)]
    lines: bool,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let compiled = ask::read_by(
        arguments.revision.compile(arguments.book.as_deref(), output)?,
        arguments.reader.as_deref(),
    )?;
    let asked = selection(arguments, &compiled)?;
    let by = arguments.by.unwrap_or(if asked.car.is_some() && asked.event.is_none() {
        CostsBy::Event
    } else {
        CostsBy::Car
    });
    let view = statement(&compiled, asked, by);
    output.result(&match arguments.format {
        Format::Text => text(&view, arguments.lines, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

fn selection(arguments: &Arguments, compiled: &Compiled) -> anyhow::Result<Selection> {
    let pick = |typed: &Option<String>, sort: &str| -> anyhow::Result<Option<Thing>> {
        let Some(typed) = typed.as_deref() else { return Ok(None) };
        let names = &compiled.book.names;
        match names.find(typed) {
            Some(thing) if thing.sort() == sort => Ok(Some(thing)),
            Some(thing) => bail!("`{typed}` is a {}, not a {sort}", thing.sort()),
            None => {
                let near = names.near(typed, |thing| thing.sort() == sort);
                let near = words::or_nearest(near);
                bail!("no {sort} is called `{typed}`{near}")
            }
        }
    };
    let mut asked = Selection { year: arguments.season, ..Selection::default() };
    if let Some(typed) = &arguments.car {
        asked.car = Some(ask::car(compiled, typed)?);
    }
    if let Some(Thing::Client(client)) = pick(&arguments.client, "client")? {
        asked.client = Some(client);
    }
    if let Some(Thing::Event(event)) = pick(&arguments.event, "event")? {
        asked.event = Some(event);
    }
    if let Some(Thing::Job(job)) = pick(&arguments.job, "job")? {
        asked.job = Some(job);
    }
    Ok(asked)
}

fn text(view: &Statement, lines: bool, columns: usize) -> String {
    let silent = view.currency;
    let mut out = heading(view);
    if view.rows.is_empty() {
        out.push_str("\nThe book states no money and no hours here.\n");
        accounts(&mut out, view, silent, columns);
        return out;
    }
    out.push('\n');
    table(&mut out, &by_kind(view, silent), columns);
    let running = by_running(view);
    if running.len() > 1 {
        out.push('\n');
        table(&mut out, &running, columns);
    }
    if lines {
        each_line(&mut out, view, silent, columns);
    }
    failures(&mut out, view, silent, columns);
    beside(&mut out, view, silent, columns);
    out
}

/// "What things cost, EUR: bittern, 2026".
fn heading(view: &Statement) -> String {
    let asked = &view.asked;
    let mut of: Vec<String> =
        [&asked.car, &asked.client, &asked.event, &asked.job].into_iter().flatten().cloned().collect();
    of.extend(asked.season.map(|year| year.to_string()));
    let of = if of.is_empty() { "the whole book".to_owned() } else { of.join(", ") };
    let currency = view.currency.map_or_else(String::new, |code| format!(", {code}"));
    format!("What it cost{currency}: {of}\n")
}

fn name(row: &CostRow) -> &str {
    row.name.as_deref().unwrap_or(&row.title)
}

/// Rows of cells: the first row is the head, the first cell of each is to the left.
type Cells = Vec<Vec<String>>;

fn by_kind(view: &Statement, silent: Option<&str>) -> Cells {
    let mut head = vec![String::new()];
    head.extend(view.kinds.iter().map(|kind| kind.heading().to_owned()));
    head.push("total".to_owned());
    let mut cells = vec![head];
    for row in view.rows.iter().chain(std::iter::once(&view.all)) {
        let mut line = vec![name(row).to_owned()];
        line.extend(view.kinds.iter().map(|kind| {
            row.cells
                .iter()
                .find(|cell| cell.kind == *kind)
                .map_or_else(|| "-".to_owned(), |cell| cell_words(cell, silent))
        }));
        line.push(row.total.words(silent));
        cells.push(line);
    }
    cells
}

/// A cell's sum, for work with its hours.
fn cell_words(cell: &CellView, silent: Option<&str>) -> String {
    cell.signed(cell.total.with_hours(silent))
}

fn by_running(view: &Statement) -> Cells {
    let (unit, per_unit) = if view.in_miles { ("miles", "per mile") } else { ("km", "per km") };
    let heads = ["", "hours run", "per hour", "days", "per day", unit, per_unit];
    let mut cells = vec![heads.map(str::to_owned).to_vec()];
    for row in view.rows.iter().chain(std::iter::once(&view.all)).filter(|row| row.sessions > 0) {
        let sum = |sum: Option<&Sum>| row.rate(sum).unwrap_or_else(|| "not known".to_owned());
        let known = |value: Option<&String>| value.cloned().unwrap_or_else(|| "not known".to_owned());
        let (distance, per_distance) = row.distance(view.in_miles);
        cells.push(vec![
            name(row).to_owned(),
            known(row.hours_run.as_ref()),
            sum(row.per_hour.as_ref()),
            row.days.to_string(),
            sum(row.per_day.as_ref()),
            known(distance),
            sum(per_distance),
        ]);
    }
    cells
}

/// Writes cells in columns; where they do not fit, each row as a list.
fn table(out: &mut String, cells: &Cells, columns: usize) {
    let Some(head) = cells.first() else { return };
    let widths: Vec<usize> = (0..head.len())
        .map(|at| cells.iter().filter_map(|row| row.get(at)).map(|cell| width(cell)).max().unwrap_or(0))
        .collect();
    if widths.iter().map(|width| width + 2).sum::<usize>() > columns + 2 {
        for row in cells.iter().skip(1) {
            let words: Vec<String> = head
                .iter()
                .zip(row)
                .skip(1)
                .filter(|(_, cell)| !matches!(cell.as_str(), "-" | ""))
                .map(|(head, cell)| format!("{head} {cell}"))
                .collect();
            out.push_str(&wrap(
                &format!("{}: {}", row.first().map_or("", String::as_str), words.join(", ")),
                0,
                columns,
            ));
        }
        return;
    }
    for row in cells {
        let mut line = left(row.first().map_or("", String::as_str), widths.first().copied().unwrap_or(0));
        for (cell, width) in row.iter().zip(&widths).skip(1) {
            line.push_str("  ");
            line.push_str(&right(cell, *width));
        }
        out.push_str(line.trim_end());
        out.push('\n');
    }
}

/// Every row again, each kind opened to its lines.
fn each_line(out: &mut String, view: &Statement, silent: Option<&str>, columns: usize) {
    for row in &view.rows {
        for cell in &row.cells {
            let _ = writeln!(out, "\n{}, {}: {}", name(row), cell.kind.heading(), cell_words(cell, silent));
            for line in cell.lines.iter().filter_map(|at| view.lines.get(*at)) {
                one_line(out, line, silent, columns);
            }
        }
    }
}

fn one_line(out: &mut String, line: &LineView, silent: Option<&str>, columns: usize) {
    let sum = match (&line.sum, line.unbilled) {
        (Some(sum), _) => sum.words(silent),
        (None, true) => "not billed".to_owned(),
        (None, false) => "not known".to_owned(),
    };
    let mut words = line.words.clone();
    if let Some(hours) = &line.hours {
        let _ = write!(words, ", {hours} h");
    }
    if let Some(job) = &line.job {
        let _ = write!(words, ", {job}");
    }
    if let Some(share) = &line.share {
        let _ = write!(words, ", share {share}");
    }
    if let Some(exchanged) = &line.exchanged {
        let _ = write!(
            words,
            ", {} {} ({} from {})",
            exchanged.sum.amount, exchanged.sum.currency, exchanged.rate, exchanged.since
        );
    }
    let mut at = line.line.to_string();
    if let Some(price) = &line.price_line {
        let _ = write!(at, ", price {price}");
    }
    let start = format!("  {}  {}  {words}", line.date, right(&sum, 10));
    if width(&start) + 2 + width(&at) > columns {
        let _ = writeln!(out, "{start}");
        let _ = writeln!(out, "{}{at}", " ".repeat(26));
    } else {
        let _ = writeln!(out, "{start}  {at}");
    }
}

fn failures(out: &mut String, view: &Statement, silent: Option<&str>, columns: usize) {
    if view.failures.is_empty() {
        return;
    }
    let _ = writeln!(out, "\nWhat failures cost (each sum is in the totals already, on its own day)");
    let head = ["", "car", "event", "parts", "work", "hours", "lost", "total"];
    let mut cells = vec![head.map(str::to_owned).to_vec()];
    let none = || "-".to_owned();
    for one in &view.failures {
        let lost = one.lost.as_ref().map(|lost| {
            let entry = lost.entry.as_ref().map_or_else(|| "not known".to_owned(), |sum| sum.words(silent));
            format!("{} of {}, {entry}", lost.sessions, lost.planned)
        });
        let hours: Vec<&str> =
            [&one.work.hours, &one.work.unbilled_hours].into_iter().flatten().map(String::as_str).collect();
        cells.push(vec![
            format!("{} {}", one.date, one.what),
            one.car.clone(),
            one.event.clone().unwrap_or_else(none),
            one.parts.words(silent),
            one.work.words(silent),
            if hours.is_empty() { none() } else { hours.join(" + ") },
            lost.unwrap_or_else(none),
            one.total.words(silent),
        ]);
    }
    let mut all = vec!["all".to_owned()];
    all.extend(std::iter::repeat_n(String::new(), 6));
    all.push(view.failed.words(silent));
    cells.push(all);
    table(out, &cells, columns);
}

/// What was paid and is owed.
fn accounts(out: &mut String, view: &Statement, silent: Option<&str>, columns: usize) {
    if !view.accounts.is_empty() {
        let _ = writeln!(out, "\nPaid and owed (a payment is in no total)");
        let mut cells = vec![["", "booked", "paid", ""].map(str::to_owned).to_vec()];
        cells.extend(view.accounts.iter().map(|one| {
            vec![one.client.clone(), one.billed.words(silent), one.paid.words(silent), one.text.clone()]
        }));
        table(out, &cells, columns);
        for one in &view.accounts {
            for paid in &one.payments {
                let sum = paid.sum.as_ref().map_or_else(|| "not known".to_owned(), |sum| sum.words(silent));
                let job = paid.job.as_ref().map_or_else(String::new, |job| format!(", {job}"));
                let _ =
                    writeln!(out, "  {}  {}  {}{job}  {}", paid.date, right(&sum, 10), one.client, paid.line);
            }
        }
    }
    for one in &view.to_lenders {
        out.push('\n');
        out.push_str(&wrap(
            &format!("Owed to a lender, in no total: {} ({})", one.text, one.line),
            0,
            columns,
        ));
    }
}

fn beside(out: &mut String, view: &Statement, silent: Option<&str>, columns: usize) {
    if !view.jobs.is_empty() {
        let _ = writeln!(out, "\nAgainst quotes");
        let mut cells = vec![["", "quoted", "cost", "left", ""].map(str::to_owned).to_vec()];
        cells.extend(view.jobs.iter().map(|job| {
            let left = job.left.as_ref().map_or_else(|| "not known".to_owned(), |left| left.words(silent));
            let at = job.line.to_string();
            let quote =
                job.quote.as_ref().map_or_else(|| "not known".to_owned(), |quote| quote.words(silent));
            vec![job.job.clone(), quote, job.cost.words(silent), left, at]
        }));
        table(out, &cells, columns);
    }
    if !view.stock.is_empty() {
        let parts: Vec<String> =
            view.stock.iter().map(|one| format!("{} {}", one.part, one.price.words(silent))).collect();
        let words =
            format!("In stock, in no total: {}; together {}", parts.join(", "), view.in_stock.words(silent));
        out.push('\n');
        out.push_str(&wrap(&words, 0, columns));
    }
    for one in &view.sold {
        let _ =
            writeln!(out, "\nSold, in no total: {} for {} ({})", one.car, one.price.words(silent), one.line);
    }
    accounts(out, view, silent, columns);
    if let Some((bound, lines)) = unknown(&view.lines, &view.all.total) {
        let words = format!("{bound}: what {lines} is not known; `--lines` shows which.");
        out.push('\n');
        out.push_str(&wrap(&words, 0, columns));
    }
}
