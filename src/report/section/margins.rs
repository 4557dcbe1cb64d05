//! How far a car is from the limits of its class's rules and of the local ones, on the days of an event.
//!
//! Must not know how a reading is judged.

use super::legality;
use crate::book::model::{CarId, EventId};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use crate::report::words;
use crate::rules::judge::{Judged, Verdict};
use jiff::civil::Date;
use serde::Serialize;

/// A rule and the car's last reading for it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RuleMargin {
    /// What it limits, and where the car is nearest to the limit: "ride height LF".
    pub what: String,
    /// "at least 48 mm"; of a rule that is not in force on all days of the event, "at least 48 mm, begins during the event, on 2026-08-01".
    pub limits: String,
    /// "51 mm"; an en dash where nothing was read.
    pub is: String,
    /// By how much it passes, with its sign; empty where that cannot be said.
    pub margin: String,
    /// Whether it fails, or passes by less than the gauge's error.
    pub fails: bool,
    /// What is wrong with it; empty where it passes by more than the gauge's error.
    pub wrong: String,
    /// The reading's line.
    pub src: String,
    /// The rule's line.
    pub rule: String,
}

/// The rules in force for a car on any day of an event, or without one on the book's last day, each with the last reading before a rank; what
/// fails first.
pub(in crate::report) fn margins(
    tell: &Teller<'_>,
    car: CarId,
    event: Option<EventId>,
    rank: Rank,
) -> Vec<RuleMargin> {
    let cx = &tell.cx;
    let class = cx.book.cars.get(car).map_or("", |car| car.class.as_str());
    let of_event = event.and_then(|event| cx.book.events.get(event)).map(|event| [event.first, event.last]);
    let Some(days) = of_event.or_else(|| tell.until().map(|day| [day; 2])) else { return Vec::new() };
    let card = cx.scrutiny().card(car, class, days, event, rank);
    let held = card.iter().filter(|one| one.outranked.is_none());
    let mut all: Vec<RuleMargin> = held.map(|one| margin(tell, one, days)).collect();
    all.extend(legality::untold(tell, (car, class), event).into_iter().map(|one| RuleMargin {
        what: one.name,
        limits: one.title,
        is: words::DASH.to_owned(),
        margin: String::new(),
        fails: false,
        wrong: one.why.to_owned(),
        src: String::new(),
        rule: tell.src(one.declared),
    }));
    all.sort_by_key(|one| one.wrong.is_empty());
    all
}

fn margin(tell: &Teller<'_>, judged: &Judged, days: [Date; 2]) -> RuleMargin {
    let cx = &tell.cx;
    let scrutiny = cx.scrutiny();
    let rule = scrutiny.rule(judged.rule);
    let near = judged
        .margin
        .filter(|_| !matches!(judged.verdict, Verdict::UnitUnfit | Verdict::NotOver | Verdict::NoReading));
    let sign = |margin: f64| if margin < 0.0 { "-" } else { "+" };
    let line = judged.line();
    let stale = judged.reading.as_ref().and_then(|reading| reading.stale);
    let wrong = match &judged.verdict {
        Verdict::Fails => "falls short".to_owned(),
        Verdict::InsideError => "within the gauge's error: no pass".to_owned(),
        Verdict::NotKnown | Verdict::NotOver => "not known".to_owned(),
        Verdict::NoReading => "nothing was read for it".to_owned(),
        Verdict::OtherState(lacks) => format!("not read {lacks}"),
        Verdict::UnitUnfit => "the rule's unit is none of what it limits".to_owned(),
        Verdict::Passes if !scrutiny.unsaid(judged).is_empty() => "not read at each corner".to_owned(),
        Verdict::Passes if scrutiny.is_set(judged) => "as set, not read".to_owned(),
        Verdict::Passes => {
            stale.map_or_else(String::new, |stale| crate::words::stale::since(&tell.src_of(stale)))
        }
    };
    let wrong = match (&judged.verdict, rule.max.is_some() && rule.min.is_none()) {
        (Verdict::Fails, true) => "is over it".to_owned(),
        _ => wrong,
    };
    let mut all = vec![wrong];
    let also = scrutiny.also_text(judged);
    all.extend((!also.is_empty()).then(|| format!("also {also}")));
    all.extend(legality::since(tell, judged));
    all.retain(|words| !words.is_empty());
    RuleMargin {
        what: scrutiny.subject_text(rule, judged).replace('-', " "),
        limits: match scrutiny.within_text(rule, days) {
            within if within.is_empty() => scrutiny.limits_text(rule),
            within => format!("{}, {within}", scrutiny.limits_text(rule)),
        },
        is: near.map_or_else(|| words::DASH.to_owned(), |near| scrutiny.value_text(&near.value, &near)),
        margin: near
            .filter(|_| judged.reading_counts())
            .map_or_else(String::new, |near| format!("{}{}", sign(near.margin), scrutiny.margin_text(&near))),
        fails: matches!(judged.verdict, Verdict::Fails | Verdict::InsideError),
        wrong: all.join("; "),
        src: line.map_or_else(
            || near.and_then(|near| near.value.typed).map_or_else(String::new, |at| tell.src(at)),
            |line| tell.src_of(line),
        ),
        rule: tell.src(rule.named.declared),
    }
}
