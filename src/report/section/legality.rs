//! Rules and dated items: class limits against the last readings with margin and gauge's error, and what is good until when.
//!
//! Must not know how a reading is judged.

use crate::book::entry::By;
use crate::book::model::{CarId, EventId};
use crate::history::dated::{self, Basis, Dated};
use crate::history::moment;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::rules::judge::{Judged, Verdict};
use crate::source::Span;
use crate::words::dated::{GoodFor, MAY_BE_OFF};
use jiff::civil::Date;
use serde::Serialize;

/// How a car stands by its rules and dates.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Legality {
    /// "quern-2, 5–6 September 2026", "1 December 2026".
    pub when: String,
    /// The class; may be empty.
    pub class: String,
    /// Rules in force then.
    pub rules: Vec<RuleCard>,
    /// Items good until a day.
    pub dated: Vec<DatedItem>,
}

/// A rule and the last reading for it.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct RuleCard {
    /// Its name.
    pub name: String,
    /// The words after it; may be empty.
    pub title: String,
    /// "ride height at least 48 mm".
    pub limit: String,
    /// "class SR-2, from 2026-08-01".
    pub whose: String,
    /// "51 mm LF"; an en dash where nothing was read.
    pub value: String,
    /// "read", "set" or "derived".
    pub how: &'static str,
    /// "± 1 mm by block gauge"; may be empty.
    pub error: String,
    /// "+3 mm", "-4 mm"; an en dash where there is none.
    pub margin: String,
    /// "passes", "fails", "inside the gauge's error: no pass", "nothing read".
    pub verdict: String,
    /// Whether it does not pass.
    pub bad: bool,
    /// What else to know; may be empty.
    pub note: String,
    /// When it was read.
    pub date: String,
    /// The lines of the reading.
    pub src: String,
}

/// An item that is good until a day.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DatedItem {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Where it is; may be empty.
    pub place: String,
    /// Its serial; may be empty.
    pub serial: String,
    /// The last day it is good: "31 July 2026"; an en dash where nobody can say.
    pub last: String,
    /// What says so: "5 years from made 2021-07".
    pub basis: String,
    /// "good", "over", "ends before the event", "ends during the event", "look at it", "not known".
    pub verdict: String,
    /// Whether it is not to be used as it is.
    pub bad: bool,
    /// Lines: the date it counts from, the impact.
    pub src: String,
}

/// One card an event of the car, the last first.
pub(in crate::report) fn view(tell: &Teller<'_>, car: CarId, events: &[EventId]) -> Vec<Legality> {
    let cx = &tell.cx;
    let class = cx.book.cars.get(car).map_or("", |car| car.class.as_str());
    let ended = events.iter().rev().filter_map(|id| {
        let event = cx.book.events.get(*id)?;
        let (_, last) = moment::span(cx.book, cx.history, car, *id)?;
        Some((*id, event, last.next()))
    });
    let parts = cx.history.parts.ever_on(car);
    let all = ended.map(|(id, event, rank)| {
        let days = [event.first, event.last];
        let card = cx.scrutiny().card(car, class, days, Some(id), rank);
        Legality {
            when: format!("{}, {}", event.named.typed, words::dates(event.first, event.last)),
            class: class.to_owned(),
            rules: card
                .iter()
                .map(|one| rule(tell, one, days))
                .chain(unread(tell, (car, class), Some(id)))
                .collect(),
            dated: parts
                .iter()
                .filter_map(|part| dated::of_part(cx.book, cx.history, *part, rank))
                .filter(|one| one.car == Some(car))
                .map(|one| item(tell, &one, GoodFor::Event(days)))
                .collect(),
        }
    });
    all.filter(|card| !card.rules.is_empty() || !card.dated.is_empty()).collect()
}

/// The rules in force for a car on any day of an event, each with the last reading before a rank; and its dated items, by whether
/// they are good until the event is over.
pub(in crate::report) fn at(
    tell: &Teller<'_>,
    car: CarId,
    event: EventId,
    rank: Rank,
) -> (Vec<RuleCard>, Vec<DatedItem>) {
    let cx = &tell.cx;
    let Some(days) = cx.book.events.get(event) else { return (Vec::new(), Vec::new()) };
    let class = cx.book.cars.get(car).map_or("", |car| car.class.as_str());
    let days = [days.first, days.last];
    let judged = cx.scrutiny().card(car, class, days, Some(event), rank);
    let parts = cx.history.parts.ever_on(car);
    let dated = parts.iter().filter_map(|part| dated::of_part(cx.book, cx.history, *part, rank));
    let dated = dated.filter(|one| one.car == Some(car)).map(|one| item(tell, &one, GoodFor::Event(days)));
    let unread = unread(tell, (car, class), Some(event));
    (judged.iter().map(|one| rule(tell, one, days)).chain(unread).collect(), dated.collect())
}

/// The rules of the car's class in force on a day, each with its last reading before a rank.
pub(in crate::report) fn card(tell: &Teller<'_>, car: CarId, day: Date, rank: Rank) -> Vec<RuleCard> {
    let class = tell.cx.book.cars.get(car).map_or("", |car| car.class.as_str());
    let judged = tell.cx.scrutiny().card(car, class, [day; 2], None, rank);
    let unread = unread(tell, (car, class), None);
    judged.iter().map(|one| rule(tell, one, [day; 2])).chain(unread).collect()
}

/// What of the rules that may be in force for a car, there, could not be read: they, or the class it runs in.
fn unread(tell: &Teller<'_>, (car, class): (CarId, &str), event: Option<EventId>) -> Vec<RuleCard> {
    let dash = || words::DASH.to_owned();
    let all = untold(tell, (car, class), event).into_iter().map(|one| RuleCard {
        name: one.name,
        title: one.title,
        limit: dash(),
        whose: String::new(),
        value: dash(),
        how: "",
        error: String::new(),
        margin: dash(),
        verdict: one.why.to_owned(),
        bad: true,
        note: String::new(),
        date: String::new(),
        src: tell.src(one.declared),
    });
    all.collect()
}

/// Something that nobody knows of the rules in force.
pub(in crate::report) struct Untold {
    pub name: String,
    pub title: String,
    /// Why not.
    pub why: &'static str,
    /// Where it is declared.
    pub declared: Span,
}

/// The rules that could not be read and may be in force for a car, there; and the class it runs in, where that could not.
pub(in crate::report) fn untold(
    tell: &Teller<'_>,
    (car, class): (CarId, &str),
    event: Option<EventId>,
) -> Vec<Untold> {
    let scrutiny = tell.cx.scrutiny();
    let of_class = tell.cx.book.cars.get(car).filter(|_| scrutiny.class_lost(car, class)).map(|car| Untold {
        name: "class".to_owned(),
        title: String::new(),
        why: "the class it runs in could not be read",
        declared: car.named.declared,
    });
    let rules = scrutiny.unread(class, event).into_iter().map(|id| &scrutiny.rule(id).named);
    let rules = rules.map(|named| Untold {
        name: named.typed.to_string(),
        title: named.words().to_owned(),
        why: "the rule could not be read",
        declared: named.declared,
    });
    of_class.into_iter().chain(rules).collect()
}

fn rule(tell: &Teller<'_>, one: &Judged, days: [Date; 2]) -> RuleCard {
    let (cx, scrutiny) = (&tell.cx, tell.cx.scrutiny());
    let rule = scrutiny.rule(one.rule);
    let reading = one.reading.as_ref();
    let untold = matches!(one.verdict, Verdict::UnitUnfit | Verdict::NotOver | Verdict::NoReading);
    let margin = one.margin.filter(|_| !untold);
    let entry = one.line().and_then(|entry| tell.entry(entry));
    let gauge = match entry.map(|entry| entry.by) {
        Some(By::Gauge(gauge)) => cx.book.gauges.get(gauge).map(|gauge| gauge.named.title.clone()),
        _ => None,
    };
    let error = margin.and_then(|margin| scrutiny.error_text(&margin)).map(|error| match gauge {
        Some(gauge) if reading.is_some_and(|reading| !reading.figure) => format!("± {error} by {gauge}"),
        _ => format!("± {error}"),
    });
    let (verdict, bad) = match one.verdict {
        _ if one.outranked.is_some() => ("outranked there", false),
        Verdict::Passes if scrutiny.is_set(one) => ("passes as set, not read", false),
        Verdict::Passes => ("passes", false),
        Verdict::InsideError => ("inside the gauge's error: no pass", true),
        Verdict::Fails if scrutiny.is_set(one) => ("fails as set", true),
        Verdict::Fails => ("fails", true),
        Verdict::NotKnown | Verdict::NotOver => ("not known", true),
        Verdict::NoReading => ("nothing read", true),
        Verdict::OtherState(_) => ("read in another state", true),
        Verdict::UnitUnfit => ("its unit does not fit", true),
    };
    let mut notes: Vec<String> = Vec::new();
    let also = scrutiny.also_text(one);
    if !also.is_empty() {
        notes.push(format!("also {also}"));
    }
    notes.push(scrutiny.within_text(rule, days));
    if let Some(local) = one.outranked {
        notes.push(format!("{} of the local rulebook stands in its place", scrutiny.rule(local).named.typed));
    }
    if let Verdict::OtherState(lacks) = &one.verdict {
        notes.push(format!("the rule wants it with {lacks}"));
    }
    if let (Some((from, _)), Some(date)) = (rule.from, reading.and_then(|reading| reading.date))
        && date < from
    {
        notes.push(format!("read before the rule began on {}", words::date(from)));
    }
    if let Some(stale) = reading.and_then(|reading| reading.stale) {
        notes.push(crate::words::stale::since(&tell.src_of(stale)));
    }
    notes.extend(since(tell, one));
    let place = margin.map_or_else(String::new, |margin| cx.place(margin.value.place));
    let days = scrutiny.days_text(rule);
    let spans = reading.into_iter().flat_map(|reading| &reading.lines).filter_map(|line| tell.entry(*line));
    let mut src = sources::lines(tell.cx.files, spans.map(crate::book::entry::Entry::span));
    if src.is_empty()
        && let Some(typed) = margin.and_then(|margin| margin.value.typed)
    {
        src = tell.src(typed);
    }
    RuleCard {
        name: rule.named.typed.to_string(),
        title: rule.named.words().to_owned(),
        limit: format!("{} {}", scrutiny.name(rule).replace('-', " "), scrutiny.limits_text(rule)),
        whose: if days.is_empty() {
            scrutiny.whose_text(rule)
        } else {
            format!("{}, {days}", scrutiny.whose_text(rule))
        },
        value: margin.map_or_else(
            || words::DASH.to_owned(),
            |margin| {
                let other = scrutiny.value_in_limits_unit(&margin.value, &margin);
                let other = other.map_or_else(String::new, |other| format!(" ({other})"));
                format!("{place} {}{other}", scrutiny.value_text(&margin.value, &margin))
                    .trim_start()
                    .to_owned()
            },
        ),
        how: match entry {
            _ if reading.is_some_and(|reading| reading.figure) => "derived",
            Some(entry) if entry.verb.is_reading() => "read",
            _ => "set",
        },
        error: error.unwrap_or_default(),
        margin: margin.filter(|_| one.reading_counts()).map_or_else(
            || words::DASH.to_owned(),
            |margin| {
                format!("{}{}", if margin.margin < 0.0 { "-" } else { "+" }, scrutiny.margin_text(&margin))
            },
        ),
        verdict: verdict.to_owned(),
        bad,
        note: notes.into_iter().filter(|note| !note.is_empty()).collect::<Vec<_>>().join("; "),
        date: scrutiny.day(one).map_or_else(String::new, words::date),
        src,
    }
}

/// What stands beside a reading: what to be careful of, and that nothing is known of a session since.
pub(in crate::report) fn since(tell: &Teller<'_>, one: &Judged) -> Vec<String> {
    let mut notes = one.reading.as_ref().map_or_else(Vec::new, |reading| reading.careful.clone());
    let missed = one.missed.as_ref().and_then(|missed| {
        let entry = tell.entry(missed.run)?;
        let session = tell.cx.book.runs.get(entry.run()?)?;
        Some(crate::words::not_of(tell.cx.text(session.label), &missed.why))
    });
    notes.extend(missed);
    notes.extend(tell.cx.scrutiny().beside(one));
    notes
}

/// A dated item on a day, or for an event.
pub(in crate::report) fn item(tell: &Teller<'_>, one: &Dated, asked: GoodFor) -> DatedItem {
    let cx = &tell.cx;
    let (basis, at) = match one.basis {
        Some(Basis::Counted { valid, from, at }) => (format!("{} {from}", cx.text(valid.typed)), Some(at)),
        Some(Basis::Label { until, at }) => (format!("stated: {until}"), Some(at)),
        None => {
            let rules: Vec<String> =
                one.uncounted.iter().map(|valid| cx.text(valid.typed).to_owned()).collect();
            (format!("{}, and nobody can say from when", words::and(&rules)), None)
        }
    };
    let (verdict, bad) = match one.last_good_day {
        _ if one.impact.is_some() => ("look at it: an impact since", true),
        _ if one.may_be_off => (MAY_BE_OFF, true),
        None => ("not known", true),
        Some(last) => asked.ends(last).map_or(("good", false), |ends| (ends.words(), true)),
    };
    let hit = one.impact.and_then(|hit| tell.entry(hit)).map(crate::book::entry::Entry::span);
    DatedItem {
        part: cx.part(one.part).to_owned(),
        kind: cx.kind_of(one.part).replace('-', " "),
        place: match one.at {
            Where::Car(_, place) => cx.place(place),
            Where::Inside(assembly) => format!("in {}", cx.part(assembly)),
            _ => String::new(),
        },
        serial: cx.book.parts.get(one.part).map_or_else(String::new, |part| part.serial.clone()),
        last: one.last_good_day.map_or_else(|| words::DASH.to_owned(), words::date),
        basis,
        verdict: verdict.to_owned(),
        bad,
        src: sources::lines(tell.cx.files, at.into_iter().chain(hit)),
    }
}
