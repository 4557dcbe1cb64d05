//! One line of a statement: what was booked, for what, from which line of the book.
//!
//! Must not know totals.

use super::sum::{Sum, SumsView, line};
use crate::Compiled;
use crate::answer::LedgerLine;
use crate::book::entry::Verb;
use crate::book::verbs::{PartVerb, VerbGroup};
use crate::costs::{Kind, Posting};
use crate::syntax::unquote;
use crate::words;
use serde::Serialize;

/// A line.
#[derive(Debug, Clone, Serialize)]
pub struct LineView {
    /// The day.
    pub date: String,
    /// The car.
    pub car: Option<String>,
    /// Who pays.
    pub client: Option<String>,
    /// The event.
    pub event: Option<String>,
    /// The job.
    pub job: Option<String>,
    /// What for.
    pub kind: Kind,
    /// How much; null where it is not known, or not charged.
    pub sum: Option<Sum>,
    /// Where it was typed in another currency: what was typed, and the rate.
    pub exchanged: Option<Exchanged>,
    /// Hours worked.
    pub hours: Option<String>,
    /// Counted and not charged.
    pub unbilled: bool,
    /// In words: what was typed in quotes, or the part.
    pub words: String,
    /// Which share of the line this is: `2 of 3`.
    pub share: Option<String>,
    /// The part that it paid for.
    pub part: Option<String>,
    /// Where the price of that part stands, if on another line.
    pub price_line: Option<LedgerLine>,
    /// Its line.
    pub line: LedgerLine,
}

/// A sum in another currency and the rate that took it into the shop's.
#[derive(Debug, Clone, Serialize)]
pub struct Exchanged {
    /// The sum typed.
    pub sum: Sum,
    /// The rate, as stated: `1 GBP = 1.1725 EUR`.
    pub rate: String,
    /// The day from which it counts.
    pub since: String,
}

/// What stands in totals over lines whose sum nobody knows, and how many lines those are: "At least" and "2 lines cost", "At most" and
/// "1 line brings back"; `None` where every sum is known.
#[must_use]
pub fn unknown(lines: &[LineView], total: &SumsView) -> Option<(&'static str, String)> {
    let count = lines.iter().filter(|line| line.sum.is_none() && !line.unbilled).count();
    let (bound, one, many) = match (total.at_least, total.at_most) {
        (_, false) => ("At least", "line costs", "lines cost"),
        (false, true) => ("At most", "line brings back", "lines bring back"),
        (true, true) => ("Not known", "line costs or brings back", "lines cost or bring back"),
    };
    (count > 0).then(|| (bound, words::count(count, one, many)))
}

/// A posting as a line; `None` where its line is none of the book.
#[must_use]
pub fn line_view(compiled: &Compiled, posting: &Posting) -> Option<LineView> {
    let book = &compiled.book;
    let entry = book.entries.get(posting.entry)?;
    let part = posting.part.and_then(|id| book.parts.get(id)).map(|part| part.named.typed.to_string());
    let price = posting.price.filter(|price| *price != entry.span());
    Some(LineView {
        date: posting.date.to_string(),
        car: posting.car.and_then(|id| book.cars.get(id)).map(|one| one.named.typed.to_string()),
        client: posting.client.and_then(|id| book.clients.get(id)).map(|one| one.named.typed.to_string()),
        event: posting.event.and_then(|id| book.events.get(id)).map(|one| one.named.typed.to_string()),
        job: posting.job.and_then(|id| book.jobs.get(id)).map(|one| one.named.typed.to_string()),
        kind: posting.kind,
        sum: posting.amount.map(Sum::of),
        exchanged: posting.exchanged.as_deref().map(|(typed, rate)| Exchanged {
            sum: Sum::of(*typed),
            rate: format!("1 {} = {} {}", rate.from, rate.rate, rate.to),
            since: rate.since.to_string(),
        }),
        hours: (!posting.minutes.is_zero()).then(|| posting.minutes.hours()),
        unbilled: posting.unbilled,
        words: said(compiled, posting, part.as_deref()),
        share: posting.share.map(|(at, of)| format!("{} of {of}", at + 1)),
        part,
        price_line: price.map(|price| crate::answer::line(compiled, price)),
        line: line(compiled, posting.entry),
    })
}

fn said(compiled: &Compiled, posting: &Posting, part: Option<&str>) -> String {
    let book = &compiled.book;
    let entry = book.entries.get(posting.entry);
    let extra = entry.and_then(|entry| book.extra(entry));
    let said = extra.map(|extra| &extra.words[..]).unwrap_or_default();
    let said: Vec<&str> =
        said.iter().map(|span| unquote(compiled.files.text(*span))).filter(|one| !one.is_empty()).collect();
    match (part, entry.map(|entry| entry.verb)) {
        // A line with a mistake books what it may have put on a car.
        (part, Some(verb)) if entry.is_some_and(|entry| entry.broken) && verb.puts_on() => {
            format!("{} perhaps fitted", part.unwrap_or("a part that has no name"))
        }
        (Some(part), Some(verb)) => format!("{part} {}", of_part(verb)),
        (Some(part), None) => part.to_owned(),
        (None, verb) if said.is_empty() && verb == Some(Verb::Credit) => "credit".to_owned(),
        (None, _) if said.is_empty() => posting.kind.heading().to_owned(),
        (None, _) => said.join("; "),
    }
}

/// What a line that books a part did with it.
const fn of_part(verb: Verb) -> &'static str {
    match verb.group() {
        VerbGroup::Part(PartVerb::Move) => "changes cars",
        VerbGroup::Part(PartVerb::Sell) => "sold",
        VerbGroup::Part(
            PartVerb::Fit
            | PartVerb::Remove
            | PartVerb::Swap
            | PartVerb::Build
            | PartVerb::Strip
            | PartVerb::Rebuild
            | PartVerb::Shelve
            | PartVerb::Quarantine
            | PartVerb::Release
            | PartVerb::Scrap
            | PartVerb::Buy
            | PartVerb::Failed
            | PartVerb::Inspect
            | PartVerb::Service
            | PartVerb::Lend
            | PartVerb::Borrow
            | PartVerb::Return,
        )
        | VerbGroup::Setting(_)
        | VerbGroup::Bench
        | VerbGroup::Compare
        | VerbGroup::Row(_)
        | VerbGroup::Hit
        | VerbGroup::Run
        | VerbGroup::Stretch(_)
        | VerbGroup::Laps
        | VerbGroup::Result
        | VerbGroup::Correct
        | VerbGroup::Words
        | VerbGroup::Try
        | VerbGroup::Waive
        | VerbGroup::Void
        | VerbGroup::Job(_)
        | VerbGroup::Cost
        | VerbGroup::Stock(_)
        | VerbGroup::Handed
        | VerbGroup::Note => "fitted",
    }
}
