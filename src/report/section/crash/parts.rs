//! The parts that were on the car in an impact: at that corner, or elsewhere and of a safety kind; and who has looked at them.
//!
//! Must not know what was measured.

use crate::book::entry::{EntryId, Verb, Verdict};
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::due::fitted::Fitted;
use crate::history::dated;
use crate::history::impact;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::section::aboard::{aboard, what};
use crate::report::section::{entry, parts};
use crate::report::teller::Teller;
use crate::report::words;
use serde::Serialize;

/// A part that was there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Hurt {
    /// The kind and where it was: "bearing RF".
    pub what: String,
    /// The part.
    pub part: String,
    /// What it was in; empty for nothing.
    pub inside: String,
    /// What it had run.
    pub ran: String,
    /// Whether its failure can hurt.
    pub safety: bool,
    /// Nobody has looked at it, or it still waits in quarantine.
    pub open: bool,
    /// "spring RF sp-02, not looked at, off the car since 22 Aug: do not refit it before it is looked at"; empty where it is not open.
    pub waits: String,
    /// How it stands: "not looked at", "in quarantine", "failed and scrapped", "good".
    pub stands: String,
    /// What happened to it since, a line each.
    pub since: Vec<ToldSince>,
    /// The line that put it there.
    pub src: String,
    #[serde(skip)]
    order: u8,
}

/// A line about it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ToldSince {
    /// "11 Jul".
    pub date: String,
    /// "inspected, failed", "scrapped".
    pub text: String,
    /// Words in quotes, or why.
    pub words: String,
    /// The line.
    pub src: String,
}

/// The parts at the place of an impact, and those elsewhere whose failure can hurt; each list with what is open in front.
pub(super) fn hurt(tell: &Teller<'_>, car: CarId, rank: Rank, place: Place) -> (Vec<Hurt>, Vec<Hurt>) {
    let cx = &tell.cx;
    let (mut at, mut elsewhere) = (Vec::new(), Vec::new());
    for fitted in aboard(tell, car, rank) {
        let Some(part) = fitted.part else { continue };
        let safety = cx.book.kinds.get(fitted.kind).is_some_and(|kind| kind.safety);
        let one = one(tell, car, &fitted, part, safety, rank);
        if fitted.place.touches(place) {
            at.push(one);
        } else if safety || dated::of_part(cx.book, cx.history, part, rank).is_some() {
            elsewhere.push(one);
        }
    }
    at.sort_by_key(|one| one.order);
    elsewhere.sort_by_key(|one| one.order);
    (at, elsewhere)
}

fn one(tell: &Teller<'_>, car: CarId, fitted: &Fitted, part: PartId, safety: bool, rank: Rank) -> Hurt {
    let cx = &tell.cx;
    let history = cx.history.parts.get(part);
    let after: Vec<EntryId> = history.lines.iter().copied().filter(|line| cx.rank(*line) > rank).collect();
    let (order, stands) = stands(tell, part, &after, ran_again(tell, part, rank));
    // Once it was looked at, what came later is another story.
    let end = after.iter().position(|line| looks(tell, *line)).map_or(after.len(), |at| at + 1);
    let end = if order == 2 || order == 3 { after.len() } else { end };
    let stay = history.at(rank);
    Hurt {
        what: what(tell, fitted),
        part: cx.part(part).to_owned(),
        inside: fitted.inside.map_or_else(String::new, |inside| cx.part(inside).to_owned()),
        ran: parts::life_words(tell, part, rank.next()),
        safety,
        open: order < 2,
        waits: if order < 2 { waits(tell, car, fitted, part, stands) } else { String::new() },
        stands: stands.to_owned(),
        since: after.iter().take(end).filter_map(|line| told(tell, *line)).collect(),
        src: stay.map_or_else(String::new, |stay| tell.src_of(stay.entry)),
        order,
    }
}

/// The rank of the first session that a part ran on any car after the impact.
fn ran_again(tell: &Teller<'_>, part: PartId, rank: Rank) -> Option<Rank> {
    let history = tell.cx.history;
    history.parts.get(part).stays.iter().find_map(|stay| {
        let sessions = history.sessions.between(stay.car?, stay.from.max(rank.next()), stay.until);
        sessions.first().map(|id| history.sessions.get(*id).rank)
    })
}

fn verdict(tell: &Teller<'_>, line: EntryId) -> Option<(Verb, Option<Verdict>)> {
    let entry = tell.entry(line)?;
    let facts = tell.cx.book.extra(entry).and_then(|extra| extra.parts.as_deref());
    Some((entry.verb, facts.and_then(|facts| facts.verdict)))
}

/// What waits, where it is now and what not to do with it.
fn waits(tell: &Teller<'_>, car: CarId, fitted: &Fitted, part: PartId, stands: &str) -> String {
    let cx = &tell.cx;
    let named = format!("{} {}, {stands}", what(tell, fitted), cx.part(part));
    match cx.history.parts.get(part).came_off(Rank::END) {
        Some(off) => {
            let since =
                cx.date(off.entry).map_or_else(String::new, |day| format!(" since {}", words::short(day)));
            format!("{named}, off the car{since}: do not refit it before it is looked at")
        }
        None if cx.history.parts.get(part).stays.last().is_some_and(|stay| stay.car != Some(car)) => {
            format!("{named}, now on another car: look at it before that runs")
        }
        None => format!("{named}, still fitted: look at it before it runs"),
    }
}

/// Whether a line looks at a part, or makes it new.
fn looks(tell: &Teller<'_>, line: EntryId) -> bool {
    tell.entry(line).is_some_and(|entry| impact::looks(entry.verb))
}

/// How a part stands at the end of the book, what presses first.
fn stands(tell: &Teller<'_>, part: PartId, after: &[EntryId], again: Option<Rank>) -> (u8, &'static str) {
    let failed = after
        .iter()
        .filter_map(|line| verdict(tell, *line))
        .any(|(verb, verdict)| verb == Verb::Failed || verdict == Some(Verdict::Failed));
    let looked = after.iter().find(|line| looks(tell, **line)).map(|line| tell.cx.rank(*line));
    let good = after.iter().filter_map(|line| verdict(tell, *line)).any(|(verb, verdict)| {
        verdict == Some(Verdict::Good) || matches!(verb, Verb::Release | Verb::Service | Verb::Rebuild)
    });
    let late = looked.zip(again).is_some_and(|(looked, again)| looked > again);
    match tell.cx.history.parts.get(part).now() {
        Where::Quarantine => (1, "in quarantine"),
        Where::Scrapped if failed => (3, "failed, scrapped"),
        Where::Scrapped => (3, "scrapped"),
        Where::Sold if looked.is_none() => (3, "sold"),
        Where::Returned if looked.is_none() => (3, "gone back to its owner"),
        _ if failed => (2, "failed"),
        _ if late && good => (4, "ran before it was looked at; good since"),
        _ if late => (4, "ran before it was looked at"),
        _ if looked.is_some() && good => (5, "looked at, good"),
        _ if looked.is_some() => (3, "looked at; whether it is good the book does not say"),
        _ if again.is_some() => (0, "not looked at, and it ran"),
        _ => (0, "not looked at"),
    }
}

/// A line about a part after the impact, in a few words.
fn told(tell: &Teller<'_>, line: EntryId) -> Option<ToldSince> {
    let entry = tell.entry(line).filter(|entry| !entry.broken && !entry.withheld)?;
    let facts = tell.cx.book.extra(entry).and_then(|extra| extra.parts.as_deref());
    let verdict = match facts.and_then(|facts| facts.verdict) {
        Some(Verdict::Good) => " good",
        Some(Verdict::Failed) => " failed",
        None => "",
    };
    let quotes = entry::quotes(tell, entry);
    let words = if quotes.is_empty() { tell.because(entry).unwrap_or_default().to_owned() } else { quotes };
    Some(ToldSince {
        date: tell.cx.date(line).map_or_else(String::new, words::short),
        text: format!("{}{verdict}", entry.verb.word()),
        words,
        src: tell.src(entry.span()),
    })
}
