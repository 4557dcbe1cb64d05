//! What things cost: totals by kind, for the running, what failures cost, and the lines of every total.
//!
//! Must not know how totals are made, nor which page it stands on.

use super::stacks;
use crate::answer::costs::{
    CellView, CostRow, CostsBy, FailureView, LineView, Statement, Sum, statement, unknown,
};
use crate::book::model::{CarId, ClientId, EventId};
use crate::costs::{Kind, Posting, Selection};
use crate::report::chart::stack::Stack;
use crate::report::section::link;
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// What things cost.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownMoney {
    /// The currency that goes without saying; empty where the shop has none.
    pub currency: String,
    /// What the rows are: "event", "car".
    pub of: String,
    /// In which unit it tells how far cars ran: "km", "mile" where each of them speaks miles.
    pub unit: String,
    /// Headings of the kinds that something was booked under.
    pub kinds: Vec<String>,
    /// The rows.
    pub rows: Vec<MoneyRow>,
    /// All of them together.
    pub all: MoneyRow,
    /// The rows as bars, a drawing a currency.
    pub stacks: Vec<Stack>,
    /// What failures cost.
    pub failures: Vec<FailureMoney>,
    /// All failures together.
    pub failed: String,
    /// Jobs and their quotes.
    pub quotes: Vec<Quote>,
    /// What stands beside the totals: cars sold, parts in stock, sums that are not known.
    pub remarks: Vec<String>,
}

/// One row of totals.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MoneyRow {
    /// The event, the car, "between events".
    pub name: String,
    /// A page or a place of this page about it; may be empty.
    pub href: String,
    /// Its totals, one for each of the kinds.
    pub cells: Vec<MoneyCell>,
    /// All kinds together.
    pub total: String,
    /// What it comes to for the running; none where nothing ran.
    pub running: Option<MoneyRunning>,
    /// Its lines, kind by kind.
    pub parts: Vec<MoneyPart>,
}

/// A total of one kind.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MoneyCell {
    /// The sum; an en dash for none.
    pub text: String,
    /// Hours of work in it: "21.5 h"; may be empty.
    pub hours: String,
}

/// What a total comes to for the running. An en dash where it is not known.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MoneyRunning {
    /// Hours run.
    pub hours: String,
    /// For each of them.
    pub per_hour: String,
    /// Days with a session, of every car.
    pub days: u64,
    /// For each of them.
    pub per_day: String,
    /// How far, in the unit of the table.
    pub distance: String,
    /// For each of them.
    pub per_distance: String,
}

/// The lines of one kind.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MoneyPart {
    /// The kind's heading.
    pub kind: String,
    /// What they add up to.
    pub text: String,
    /// The lines.
    pub lines: Vec<MoneyLine>,
}

/// One line.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MoneyLine {
    /// The day.
    pub when: String,
    /// What for.
    pub words: String,
    /// Hours, job, share, exchange; may be empty.
    pub more: String,
    /// How much.
    pub sum: String,
    /// Its line, and that of the price.
    pub src: String,
}

/// What a failure or an impact cost.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct FailureMoney {
    /// The day.
    pub when: String,
    /// The car.
    pub car: String,
    /// The part, or the impact in words.
    pub what: String,
    /// The event; may be empty.
    pub event: String,
    /// The part that took its place.
    pub parts: String,
    /// What its job cost.
    pub work: String,
    /// The job, and the hours of work on it; may be empty.
    pub job: String,
    /// "2 of 8 sessions"; may be empty.
    pub lost: String,
    /// The entry money of those.
    pub entry: String,
    /// All of it.
    pub total: String,
    /// Its line.
    pub src: String,
}

/// A job and its quote.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Quote {
    /// The job.
    pub job: String,
    /// What is to be done.
    pub title: String,
    /// The quote.
    pub quote: String,
    /// What it has cost.
    pub cost: String,
    /// What is left; below zero where it is passed.
    pub left: String,
    /// Whether it is passed.
    pub passed: bool,
    /// Its line.
    pub src: String,
}

/// The years in which something was booked.
pub(in crate::report) fn years(tell: &Teller<'_>) -> Vec<i16> {
    let mut years: Vec<i16> =
        tell.compiled.costs.postings.iter().map(|posting| posting.date.year()).collect();
    years.sort_unstable();
    years.dedup();
    years
}

/// A car's money in a year, event by event; none where nothing was booked.
pub(in crate::report) fn of_car(tell: &Teller<'_>, car: CarId, year: i16) -> Option<ShownMoney> {
    let asked = Selection { car: Some(car), year: Some(year), ..Selection::default() };
    let ran = |event: &EventId| {
        tell.cx.history.sessions.at(car, *event).any(|(_, session)| session.date.year() == year)
    };
    let anchor = |posting: &Posting| {
        let event = posting.event.filter(ran);
        event.map_or_else(String::new, |event| format!("#{}", link::anchor(event)))
    };
    view(tell, asked, CostsBy::Event, &anchor)
}

/// What a client's cars cost him so far, car by car. `href` leads to a car's own page.
pub(in crate::report) fn of_client(
    tell: &Teller<'_>,
    client: ClientId,
    href: &dyn Fn(CarId) -> String,
) -> Option<ShownMoney> {
    let asked = Selection { client: Some(client), ..Selection::default() };
    view(tell, asked, CostsBy::Car, &|posting| posting.car.map_or_else(String::new, href))
}

/// What an event cost, car by car; none where nothing was booked for it.
pub(in crate::report) fn of_event(tell: &Teller<'_>, event: EventId) -> Option<ShownMoney> {
    let asked = Selection { event: Some(event), ..Selection::default() };
    view(tell, asked, CostsBy::Car, &|_| String::new())
}

/// What a year cost the shop, car by car.
pub(in crate::report) fn of_shop(
    tell: &Teller<'_>,
    year: i16,
    href: &dyn Fn(CarId) -> String,
) -> Option<ShownMoney> {
    let asked = Selection { year: Some(year), ..Selection::default() };
    view(tell, asked, CostsBy::Car, &|posting| posting.car.map_or_else(String::new, href))
}

fn view(
    tell: &Teller<'_>,
    asked: Selection,
    by: CostsBy,
    href: &dyn Fn(&Posting) -> String,
) -> Option<ShownMoney> {
    let statement = statement(tell.compiled, asked, by);
    if statement.rows.is_empty() {
        return None;
    }
    let silent = statement.currency;
    let postings: Vec<&Posting> = asked.of(&tell.compiled.costs).map(|(_, posting)| posting).collect();
    let row = |row: &CostRow| {
        let first = row.cells.iter().find_map(|cell| postings.get(*cell.lines.first()?)).copied();
        let mut made = totals(row, &statement, silent);
        made.href = first.filter(|_| row.name.is_some()).map_or_else(String::new, href);
        made.parts = row
            .cells
            .iter()
            .map(|cell| MoneyPart {
                kind: cell.kind.heading().to_owned(),
                text: cell_text(&cell.total.with_hours(silent)),
                lines: cell
                    .lines
                    .iter()
                    .filter_map(|at| Some(line(statement.lines.get(*at)?, postings.get(*at)?, silent)))
                    .collect(),
            })
            .collect();
        made
    };
    let mut remarks: Vec<String> = statement
        .sold
        .iter()
        .map(|one| {
            format!(
                "{} was sold for {} ({}), which is in no total.",
                one.car,
                one.price.words(silent),
                one.line
            )
        })
        .collect();
    if !statement.stock.is_empty() {
        let parts: Vec<String> =
            statement.stock.iter().map(|one| format!("{} {}", one.part, one.price.words(silent))).collect();
        remarks.push(format!(
            "In stock, in no total: {}; together {}.",
            words::and(&parts),
            cell_text(&statement.in_stock.words(silent))
        ));
    }
    // In a client's own letter it stands by itself.
    let accounts = statement.accounts.iter().filter(|_| asked.client.is_none());
    for one in accounts {
        let who = &one.client;
        remarks.push(format!(
            "Paid so far: {} paid {}, and {}.",
            who,
            cell_text(&one.paid.words(silent)),
            one.text
        ));
    }
    remarks.extend(
        statement
            .to_lenders
            .iter()
            .map(|one| format!("Owed to a lender, in no total: {} ({}).", one.text, one.line)),
    );
    if let Some((bound, lines)) = unknown(&statement.lines, &statement.all.total) {
        remarks.push(format!("\"{bound}\": {lines} what the book does not say."));
    }
    Some(ShownMoney {
        currency: silent.unwrap_or_default().to_owned(),
        of: if by == CostsBy::Car { "car" } else { "event" }.to_owned(),
        unit: if statement.in_miles { "mile" } else { "km" }.to_owned(),
        kinds: statement.kinds.iter().map(|kind| kind.heading().to_owned()).collect(),
        rows: statement.rows.iter().map(row).collect(),
        all: totals(&statement.all, &statement, silent),
        stacks: stacks::stacks(&statement, by),
        failures: statement.failures.iter().map(|one| failure(one, silent)).collect(),
        failed: cell_text(&statement.failed.words(silent)),
        quotes: statement
            .jobs
            .iter()
            .map(|job| Quote {
                job: job.job.clone(),
                title: job.title.clone(),
                quote: job.quote.as_ref().map_or_else(|| "not known".to_owned(), |quote| quote.words(silent)),
                cost: cell_text(&job.cost.words(silent)),
                left: job.left.as_ref().map_or_else(|| words::DASH.to_owned(), |left| left.words(silent)),
                passed: job.left.as_ref().is_some_and(|left| left.amount.starts_with('-')),
                src: job.line.to_string(),
            })
            .collect(),
        remarks,
    })
}

fn totals(row: &CostRow, statement: &Statement, silent: Option<&str>) -> MoneyRow {
    let (distance, per_distance) = row.distance(statement.in_miles);
    let cell = |kind: &Kind| cell(row.cells.iter().find(|cell| cell.kind == *kind), silent);
    let rate = |sum: Option<&Sum>| row.rate(sum).unwrap_or_else(|| words::DASH.to_owned());
    let known = |text: Option<&String>| text.cloned().unwrap_or_else(|| words::DASH.to_owned());
    MoneyRow {
        name: row.name.clone().unwrap_or_else(|| row.title.clone()),
        href: String::new(),
        cells: statement.kinds.iter().map(cell).collect(),
        total: cell_text(&row.total.words(silent)),
        running: (row.sessions > 0).then(|| MoneyRunning {
            hours: known(row.hours_run.as_ref()),
            per_hour: rate(row.per_hour.as_ref()),
            days: row.days,
            per_day: rate(row.per_day.as_ref()),
            distance: known(distance),
            per_distance: rate(per_distance),
        }),
        parts: Vec::new(),
    }
}

fn cell(cell: Option<&CellView>, silent: Option<&str>) -> MoneyCell {
    let Some(cell) = cell else {
        return MoneyCell { text: words::DASH.to_owned(), hours: String::new() };
    };
    let text = cell_text(&cell.signed(cell.total.words(silent)));
    let hours = cell.total.hours.as_ref().map(|hours| format!("{hours} h"));
    match (&cell.total.unbilled_hours, hours) {
        (Some(unbilled), None) if text == words::DASH => {
            MoneyCell { text: "not billed".to_owned(), hours: format!("{unbilled} h") }
        }
        (Some(unbilled), hours) => {
            let all: Vec<String> = hours.into_iter().chain([format!("{unbilled} h not billed")]).collect();
            MoneyCell { text, hours: all.join(", ") }
        }
        (None, hours) => MoneyCell { text, hours: hours.unwrap_or_default() },
    }
}

/// The hyphen of a terminal is an en dash on paper.
fn cell_text(words: &str) -> String {
    if words == "-" { words::DASH.to_owned() } else { words.to_owned() }
}

fn line(line: &LineView, posting: &Posting, silent: Option<&str>) -> MoneyLine {
    let mut more: Vec<String> = Vec::new();
    more.extend(line.hours.as_ref().map(|hours| format!("{hours} h")));
    more.extend(line.job.clone());
    more.extend(line.share.as_ref().map(|share| format!("share {share}")));
    more.extend(line.exchanged.as_ref().map(|exchanged| {
        format!(
            "{} {}, {} from {}",
            exchanged.sum.amount, exchanged.sum.currency, exchanged.rate, exchanged.since
        )
    }));
    let price = line.price_line.as_ref().map_or_else(String::new, |price| format!(" · price {price}"));
    MoneyLine {
        when: words::short(posting.date),
        words: line.words.clone(),
        more: more.join(", "),
        sum: match &line.sum {
            Some(one) => one.words(silent),
            None if line.unbilled => "not billed".to_owned(),
            None => "not known".to_owned(),
        },
        src: format!("{}{price}", line.line),
    }
}

fn failure(one: &FailureView, silent: Option<&str>) -> FailureMoney {
    let hours =
        [&one.work.hours, &one.work.unbilled_hours].into_iter().flatten().map(|hours| format!("{hours} h"));
    let job: Vec<String> = one.job.iter().cloned().chain(hours).collect();
    FailureMoney {
        when: one.date.parse().map_or_else(|_| one.date.clone(), words::short),
        car: one.car.clone(),
        what: one.what.clone(),
        event: one.event.clone().unwrap_or_default(),
        parts: cell_text(&one.parts.words(silent)),
        work: cell_text(&one.work.words(silent)),
        job: job.join(", "),
        lost: one
            .lost
            .as_ref()
            .map_or_else(String::new, |lost| format!("{} of {} sessions", lost.sessions, lost.planned)),
        entry: one.lost.as_ref().map_or_else(
            || words::DASH.to_owned(),
            |lost| lost.entry.as_ref().map_or_else(|| "not known".to_owned(), |entry| entry.words(silent)),
        ),
        total: cell_text(&one.total.words(silent)),
        src: one.line.to_string(),
    }
}
