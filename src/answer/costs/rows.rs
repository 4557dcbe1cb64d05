//! Rows of totals: one a car, client, event or job, and one for all.
//!
//! Must not know lines beyond their numbers.

use super::{Sum, SumsView, hundredths};
use crate::Compiled;
use crate::book::model::{CarId, ClientId, EventId, JobId, Named};
use crate::costs::table::{self, Cell, Row};
use crate::costs::{Kind, Posting, Selection, running::Running};
use serde::Serialize;
use std::collections::BTreeMap;

/// What a row is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, clap::ValueEnum)]
#[serde(rename_all = "lowercase")]
pub enum CostsBy {
    /// A car.
    Car,
    /// Who pays.
    Client,
    /// An event.
    Event,
    /// A job.
    Job,
}

/// One row.
#[derive(Debug, Clone, Serialize)]
pub struct CostRow {
    /// The car, client, event or job; null for what belongs to none, and for all together.
    pub name: Option<String>,
    /// The words after its name.
    pub title: String,
    /// Totals by kind.
    pub cells: Vec<CellView>,
    /// All kinds together.
    pub total: SumsView,
    /// What was spent on running: without the prize money.
    #[serde(skip)]
    pub spent: SumsView,
    /// Sessions run.
    pub sessions: u32,
    /// Hours run; null where a session did not say, or drove on the road between its stages, or a job is asked about.
    pub hours_run: Option<String>,
    /// Days with a session, of every car.
    pub days: u64,
    /// Kilometres driven, at speed and on the road; null where a session has no distance.
    pub km: Option<String>,
    /// The total for each hour run.
    pub per_hour: Option<Sum>,
    /// The total for each day.
    pub per_day: Option<Sum>,
    /// The total for each kilometre.
    pub per_km: Option<Sum>,
    /// Miles driven, the same way as `km`.
    pub miles: Option<String>,
    /// The total for each mile.
    pub per_mile: Option<Sum>,
}

/// A total of one kind.
#[derive(Debug, Clone, Serialize)]
pub struct CellView {
    /// The kind.
    pub kind: Kind,
    /// The sum.
    pub total: SumsView,
    /// Numbers of its lines.
    pub lines: Vec<usize>,
}

impl CostRow {
    /// The distance driven and what it comes to for each of it, in miles or in kilometres.
    #[must_use]
    pub fn distance(&self, in_miles: bool) -> (Option<&String>, Option<&Sum>) {
        if in_miles {
            (self.miles.as_ref(), self.per_mile.as_ref())
        } else {
            (self.km.as_ref(), self.per_km.as_ref())
        }
    }

    /// What a total comes to for the running, in words: "at least" where the total is.
    #[must_use]
    pub fn rate(&self, sum: Option<&Sum>) -> Option<String> {
        sum.map(|sum| match self.spent.bound() {
            Some(bound) => format!("{bound} {}", sum.amount),
            None => sum.amount.clone(),
        })
    }
}

impl CellView {
    /// A sum's words as its kind shows them: what changed cars has its sign.
    #[must_use]
    pub fn signed(&self, words: String) -> String {
        let gain = self.kind == Kind::Transfer && words.starts_with(|first: char| matches!(first, '1'..='9'));
        if gain { format!("+{words}") } else { words }
    }
}

fn key(posting: &Posting, by: CostsBy) -> Option<u32> {
    match by {
        CostsBy::Car => posting.car.map(crate::book::model::CarId::number),
        CostsBy::Client => posting.client.map(crate::book::model::ClientId::number),
        CostsBy::Event => posting.event.map(crate::book::model::EventId::number),
        CostsBy::Job => posting.job.map(crate::book::model::JobId::number),
    }
}

fn named(compiled: &Compiled, by: CostsBy, key: Option<u32>) -> Option<&Named> {
    let (book, key) = (&compiled.book, key?);
    match by {
        CostsBy::Car => book.cars.get(CarId::new(key)).map(|one| &one.named),
        CostsBy::Client => book.clients.get(ClientId::new(key)).map(|one| &one.named),
        CostsBy::Event => book.events.get(EventId::new(key)).map(|one| &one.named),
        CostsBy::Job => book.jobs.get(JobId::new(key)).map(|one| &one.named),
    }
}

/// What to call the row of what belongs to none.
const fn none(by: CostsBy) -> &'static str {
    match by {
        CostsBy::Car => "no car",
        CostsBy::Client => "nobody",
        CostsBy::Event => "between events",
        CostsBy::Job => "no job",
    }
}

/// The running that a row's total is held against.
fn running(compiled: &Compiled, asked: &Selection, by: CostsBy, key: Option<u32>) -> Running {
    let Some(key) = key else { return Running::default() };
    let mut narrowed = *asked;
    match by {
        CostsBy::Car => narrowed.car = Some(CarId::new(key)),
        CostsBy::Client => narrowed.client = Some(ClientId::new(key)),
        CostsBy::Event => narrowed.event = Some(EventId::new(key)),
        CostsBy::Job => narrowed.job = Some(JobId::new(key)),
    }
    narrowed.running(&compiled.book, &compiled.history, compiled.reader)
}

/// The kinds, the rows, the row of all, and the places of the postings that lines are numbered by.
pub(super) fn rows(
    compiled: &Compiled,
    asked: &Selection,
    by: CostsBy,
) -> (Vec<Kind>, Vec<CostRow>, CostRow, Vec<usize>) {
    let costs = &compiled.costs;
    // What belongs to none stands last.
    let mut groups: BTreeMap<(bool, Option<u32>), Vec<(usize, &Posting)>> = BTreeMap::new();
    let mut used = Vec::new();
    for (at, posting) in asked.of(costs) {
        // From here on a posting is known by its number on this page.
        let key = key(posting, by);
        groups.entry((key.is_none(), key)).or_default().push((used.len(), posting));
        used.push(at);
    }
    let all = table::row(groups.values().flatten().copied());
    let kinds: Vec<Kind> = all.kinds.keys().copied().collect();
    let rows = groups
        .iter()
        .map(|((_, key), postings)| {
            let row = table::row(postings.iter().copied());
            let named = named(compiled, by, *key);
            CostRow {
                name: named.map(|named| named.typed.to_string()),
                title: named.map_or_else(|| none(by).to_owned(), |named| named.title.clone()),
                ..view(&row, &running(compiled, asked, by, *key))
            }
        })
        .collect();
    let whole = asked.running(&compiled.book, &compiled.history, compiled.reader);
    (kinds, rows, view(&all, &whole), used)
}

fn view(row: &Row, running: &Running) -> CostRow {
    let rates = match row.spent.sums() {
        [one] => table::rates(*one, running),
        _ => table::Rates::default(),
    };
    let ran = running.sessions > 0;
    let cell = |(kind, cell): (&Kind, &Cell)| CellView {
        kind: *kind,
        total: SumsView::of(&cell.total),
        lines: cell.postings.clone(),
    };
    CostRow {
        name: None,
        title: "all".to_owned(),
        cells: row.kinds.iter().map(cell).collect(),
        total: SumsView::of(&row.all.total),
        spent: SumsView::of(&row.spent),
        sessions: running.sessions,
        hours_run: running.seconds.filter(|_| ran).and_then(|seconds| hundredths(seconds, 3600)),
        days: running.days,
        km: running.millimetres.filter(|_| ran).and_then(|length| hundredths(length, 1_000_000)),
        per_hour: rates.hour.map(Sum::of),
        per_day: rates.day.map(Sum::of),
        per_km: rates.kilometre.map(Sum::of),
        miles: running.millimetres.filter(|_| ran).and_then(|length| hundredths(length, table::MILE)),
        per_mile: rates.mile.map(Sum::of),
    }
}
