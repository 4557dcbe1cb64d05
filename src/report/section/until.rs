//! Items on a car that are good until a day, for an event: whether the day comes before it is over.
//!
//! Must not know how a day is counted.

use super::aboard::{aboard, what};
use crate::answer::not_done;
use crate::book::model::{CarId, EventId};
use crate::history::dated::{self, Basis};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::dated::{GoodFor, MAY_BE_OFF};
use serde::Serialize;

/// An item that is good until a day.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct GoodUntil {
    /// The kind and where it is: "belts cockpit".
    pub what: String,
    /// The part.
    pub part: String,
    /// "31 May 2027"; an en dash where it cannot be counted.
    pub until: String,
    /// What is wrong with it; empty where nothing is.
    pub wrong: String,
    /// Where the date it counts from, or its label, stands.
    pub src: String,
}

/// The dated items on a car at the moment before a rank, for an event, or without one on the book's last day; what is wrong first, then by
/// day.
pub(in crate::report) fn until(
    tell: &Teller<'_>,
    car: CarId,
    event: Option<EventId>,
    rank: Rank,
) -> Vec<GoodUntil> {
    let cx = &tell.cx;
    let event = event.and_then(|event| cx.book.events.get(event)).map(|event| [event.first, event.last]);
    let asked = event.map(GoodFor::Event).or_else(|| tell.until().map(GoodFor::Day));
    let mut all = Vec::new();
    for fitted in aboard(tell, car, rank) {
        let Some(part) = fitted.part else { continue };
        let Some(one) = dated::of_part(cx.book, cx.history, part, rank) else { continue };
        let over = asked.zip(one.last_good_day).and_then(|(asked, day)| asked.ends(day));
        let wrong = if let Some(hit) = one.impact {
            let date = cx.history.day_of(cx.book, hit).map_or_else(String::new, words::short);
            format!("hit {date}, {} since", not_done(cx.book, cx.history, part, rank))
        } else if one.may_be_off {
            MAY_BE_OFF.to_owned()
        } else if let Some(over) = over {
            over.words().to_owned()
        } else if one.last_good_day.is_none() {
            "the book does not say from when".to_owned()
        } else {
            String::new()
        };
        let at = one.basis.map(|basis| match basis {
            Basis::Counted { at, .. } | Basis::Label { at, .. } => at,
        });
        let declared = cx.book.parts.get(part).map(|part| part.named.declared);
        let line = GoodUntil {
            what: what(tell, &fitted),
            part: cx.part(part).to_owned(),
            until: one.last_good_day.map_or_else(|| words::DASH.to_owned(), words::date),
            src: at.or(declared).map_or_else(String::new, |at| tell.src(at)),
            wrong,
        };
        all.push((line.wrong.is_empty(), one.last_good_day, line));
    }
    all.sort_by_key(|(well, day, _)| (*well, *day));
    all.into_iter().map(|(.., line)| line).collect()
}
