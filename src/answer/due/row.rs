//! One line of the list in words: what is due, why, how likely it fails, which spare.

use super::left;
use crate::Compiled;
use crate::answer::lives::no_fit;
use crate::answer::{LedgerLine, dates, entry_line, line, not_done};
use crate::book::Book;
use crate::book::entry::EntryId;
use crate::book::model::{Clock, PartId};
use crate::due::Due;
use crate::due::chance::{Chance, NoChance};
use crate::due::fitted::{Fitted, one_place};
use crate::due::limits::Reach;
use crate::due::row::{Action, Reason, Row};
use crate::due::spares::{Promise, Spare};
use crate::words::scale::{Scale, limit_too_long, percent, too_few};
use serde::Serialize;

/// One line.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DueRow {
    /// What to do.
    pub action: Action,
    /// The car.
    pub car: String,
    /// The place; empty for the car as a whole.
    pub place: String,
    /// The place as it is told; empty where the kind has but one on the car.
    pub spot: String,
    /// The kind.
    pub kind: String,
    /// The part; empty for an empty place.
    pub part: String,
    /// The assembly it is in; empty for none.
    pub inside: String,
    /// Whether its failure can hurt.
    pub safety: bool,
    /// The limit that comes first: `300 min`; empty for none.
    pub limit: String,
    /// What it has on that clock now; without a limit, its running time.
    pub now: String,
    /// What it is expected to have after the event; empty where that is not known.
    pub after: String,
    /// The last day it is good, for a dated item; null for others.
    pub good_to: Option<String>,
    /// Why, the weightiest first.
    pub why: Vec<String>,
    /// The chance of failing.
    pub chance: ChanceView,
    /// The spare.
    pub spare: Option<SpareView>,
    /// The line that put it there, or that declares the car.
    pub line: LedgerLine,
}

/// A chance.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ChanceView {
    /// The most likely; null where there is none.
    pub likely: Option<f64>,
    /// The range that the lives allow at 90 %.
    pub low: Option<f64>,
    /// See `low`.
    pub high: Option<f64>,
    /// How many failures it rests on.
    pub failures: Option<usize>,
    /// In words.
    pub text: String,
}

/// What the shelf has.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SpareView {
    /// The spare that goes there; null where there is none.
    pub part: Option<String>,
    /// In words.
    pub text: String,
}

pub(super) fn view(compiled: &Compiled, made: &Due, row: &Row, spare: &Spare) -> DueRow {
    let book = &compiled.book;
    let name = |part: PartId| book.parts[part].named.typed.to_string();
    let reach = row.reach();
    let stay = row.fitted.part.and_then(|part| compiled.history.parts.get(part).at(made.plan.cut));
    let car = &book.cars[row.fitted.car].named;
    DueRow {
        action: row.action,
        car: car.typed.to_string(),
        place: book.place_word(row.fitted.place),
        spot: spot(book, &row.fitted),
        kind: book.kinds[row.fitted.kind].named.typed.to_string(),
        part: row.fitted.part.map_or_else(String::new, name),
        inside: row.fitted.inside.map_or_else(String::new, name),
        safety: row.safety,
        limit: reach.map_or_else(String::new, |reach| compiled.files.text(reach.limit.typed).to_owned()),
        now: now(compiled, made, row),
        after: reach.filter(|_| made.plan.event.is_some()).map_or_else(String::new, |reach| {
            reach
                .after()
                .map_or_else(String::new, |after| scale(compiled, reach).told(after, reach.now.at_least))
        }),
        good_to: row.good_to.map(|day| day.to_string()),
        why: shorten(compiled, made, row)
            .into_iter()
            .chain(row.reasons.iter().map(|reason| why(compiled, made, row, *reason)))
            .collect(),
        chance: chance(made, &row.chance),
        spare: spare_view(compiled, made, row, spare),
        line: stay
            .and_then(|stay| entry_line(compiled, stay.entry))
            .unwrap_or_else(|| line(compiled, car.declared)),
    }
}

/// The place; empty where the kind has but one on its car.
fn spot(book: &Book, fitted: &Fitted) -> String {
    if one_place(book, fitted.kind, fitted.car) { String::new() } else { book.place_word(fitted.place) }
}

fn scale(compiled: &Compiled, reach: &Reach) -> Scale {
    Scale::typed(reach.limit.clock, compiled.files.text(reach.limit.typed))
}

fn now(compiled: &Compiled, made: &Due, row: &Row) -> String {
    if let Some(reach) = row.reach() {
        return scale(compiled, reach).told(reach.now.value, reach.now.at_least);
    }
    let life = row.fitted.part.and_then(|part| made.lives.now(part));
    life.map_or_else(String::new, |life| {
        let lived = life.on(&compiled.book, Clock::Time);
        Scale::plain(Clock::Time).told(lived.value, lived.at_least)
    })
}

/// Whether its car goes to no other event before this one.
fn one_event(made: &Due, row: &Row) -> bool {
    let plan = made.plan.of(row.fitted.car);
    plan.is_none_or(|plan| plan.events.len() <= 1)
}

fn why(compiled: &Compiled, made: &Due, row: &Row, reason: Reason) -> String {
    let limit = |at: usize| {
        row.reaches
            .get(at)
            .map_or_else(String::new, |reach| compiled.files.text(reach.limit.typed).to_owned())
    };
    let day = |entry: EntryId| compiled.context().date(entry).map(dates::date);
    let lost = |entry: EntryId| compiled.book.entries.get(entry).is_some_and(|line| line.broken);
    match reason {
        Reason::Empty => "nothing fitted, and it must be".to_owned(),
        Reason::Condemned(entry) => {
            let date = day(entry).map_or_else(String::new, |date| format!(" on {date}"));
            format!("inspected and found bad{date}, and nothing was done since")
        }
        Reason::Failed(entry) => {
            let date = day(entry).map_or_else(String::new, |date| format!(" on {date}"));
            format!("failed{date}, and nothing was done since")
        }
        Reason::DatePast(day) => format!("its last good day was {}", dates::date(day)),
        Reason::DateDuring(day) => {
            let event = made.plan.event.and_then(|event| compiled.book.events.get(event));
            let before = event.is_none_or(|event| day < event.first);
            let when = if before { "before the event" } else { "before the end of the event" };
            format!("its last good day is {}, {when}", dates::date(day))
        }
        Reason::DateUnknown => {
            "good until a day that cannot be counted: the book does not say from when".to_owned()
        }
        Reason::DateLost => "good until a day that is not known: what says so could not be read".to_owned(),
        Reason::LimitLost => "a limit of its life could not be read".to_owned(),
        Reason::Unread(entry) => {
            let date = day(entry).map_or_else(String::new, |date| format!(" of {date}"));
            format!("whether it is fit for use is not known: a line{date} about it has a mistake")
        }
        Reason::Impact(entry) if lost(entry) => {
            let date = day(entry).map_or_else(String::new, |date| format!(" on {date}"));
            let (book, history) = (&compiled.book, &compiled.history);
            let what =
                row.fitted.part.map_or("not looked at", |part| not_done(book, history, part, made.plan.cut));
            format!("{what} since the car was hit{date}; where, could not be read")
        }
        Reason::Impact(entry) => {
            let date = day(entry).map_or_else(String::new, |date| format!(" of {date}"));
            let (book, history) = (&compiled.book, &compiled.history);
            let what =
                row.fitted.part.map_or("not looked at", |part| not_done(book, history, part, made.plan.cut));
            format!("{what} since the impact{date}")
        }
        Reason::Over(at) => format!("at its limit of {}", limit(at)),
        Reason::During(at) if one_event(made, row) => format!("its {} run out during this event", limit(at)),
        Reason::During(at) => format!("its {} run out by the end of this event", limit(at)),
        Reason::UnknownUse(_) if row.safety => "its use is not known, so it counts as run out".to_owned(),
        Reason::UnknownUse(at) => format!("its use is not known; the limit is {}", limit(at)),
        Reason::Unplanned(at) => {
            let left = row
                .reaches
                .get(at)
                .map_or_else(String::new, |reach| scale(compiled, reach).words(reach.left()));
            format!("what the car will run is not known; {left} are left of its limit of {}", limit(at))
        }
        Reason::Soon(at) => format!("its {} run out just after it", limit(at)),
        Reason::Likely | Reason::Possible if few(&row.chance) > 0 => {
            format!("{} of its kind failed", few(&row.chance))
        }
        Reason::Likely => "may well fail there".to_owned(),
        Reason::Possible => "may fail there".to_owned(),
    }
}

/// How many failures a chance rests on, where those are too few to tell it; else none.
fn few(chance: &Chance) -> usize {
    match chance {
        Chance::Fitted { failures, .. } if too_few(*failures).is_some() => *failures,
        _ => 0,
    }
}

fn chance(made: &Due, chance: &Chance) -> ChanceView {
    let mut view = ChanceView { likely: None, low: None, high: None, failures: None, text: String::new() };
    match chance {
        Chance::Fitted { failures, .. } if let Some(words) = too_few(*failures) => {
            (view.failures, view.text) = (Some(*failures), words);
        }
        Chance::Fitted { likely, failures, .. } => {
            let range = made.bases.range(chance);
            (view.low, view.high) = range.map_or((None, None), |range| (range.low, range.high));
            (view.likely, view.failures) = (Some(*likely), Some(*failures));
            let range = match (view.low, view.high) {
                (Some(low), Some(high)) => format!("{} to {}", percent(low), percent(high)),
                (Some(low), None) => format!("{} or more", percent(low)),
                (None, Some(high)) => format!("at most {}", percent(high)),
                (None, None) => "no range".to_owned(),
            };
            view.text = if *failures < 5 {
                format!("{range}, likely {} ({failures} failed)", percent(*likely))
            } else {
                format!("{} ({range})", percent(*likely))
            };
        }
        Chance::AtMost(most) => {
            view.high = Some(*most);
            view.failures = Some(0);
            view.text = format!("none has failed: at most {}", percent(*most));
        }
        Chance::Unknown(why) => {
            view.text = match why {
                NoChance::Empty | NoChance::NothingPlanned => String::new(),
                NoChance::LifeUnknown => "cannot tell: how long it has run is not known".to_owned(),
                NoChance::PlanUnknown => "cannot tell: what the car will run is not known".to_owned(),
                NoChance::NoLives => "cannot tell: no lives to go by".to_owned(),
                NoChance::NoFit(why) => format!("cannot tell: {}", no_fit(*why)),
                NoChance::FailedUnknown => {
                    "cannot tell: one has failed, and how long it had run is not known".to_owned()
                }
            };
        }
    }
    view
}

/// That a limit of its life is more than half of its kind last, where enough failed to tell.
fn shorten(compiled: &Compiled, made: &Due, row: &Row) -> Option<String> {
    let group = made.bases.group(&compiled.book, row.fitted.part?)?;
    let basis = made.bases.get(group).filter(|basis| too_few(basis.study.failures()).is_none())?;
    let (reach, median) = (row.reaches.iter().find(|reach| reach.limit.clock == group.clock)?, basis.median?);
    let words =
        || limit_too_long(compiled.files.text(reach.limit.typed), &scale(compiled, reach).words(median));
    (reach.limit.value > median).then(|| words().trim_end_matches('.').to_owned())
}

fn spare_view(compiled: &Compiled, made: &Due, row: &Row, spare: &Spare) -> Option<SpareView> {
    let book = &compiled.book;
    let name = |part: PartId| book.parts[part].named.typed.to_string();
    let with =
        |what: &str, more: &str| if more.is_empty() { what.to_owned() } else { format!("{what}, {more}") };
    let (part, text) = match spare {
        Spare::NotAsked => return None,
        Spare::Given(part) => {
            let verb = if row.action == Action::Carry { "take" } else { "fit" };
            (Some(*part), with(&format!("{verb} {}", name(*part)), &about(compiled, made, row, *part)))
        }
        Spare::Taken(other) => {
            (None, format!("none left: what fits goes to {}", goes_to(compiled, made, other)))
        }
        Spare::TooOld(part) if book.limits_lost(*part) => {
            (None, format!("{} fits, but a limit of its life could not be read", name(*part)))
        }
        Spare::TooOld(part) if unknown(compiled, made, row, *part) => {
            (None, format!("{} fits, but how much it has run is not known", name(*part)))
        }
        Spare::TooOld(part) => (
            None,
            format!("{} fits but has too little left: {}", name(*part), about(compiled, made, row, *part)),
        ),
        Spare::None => (None, "none on the shelf".to_owned()),
    };
    Some(SpareView { part: part.map(name), text })
}

/// "heron LR", and of a car that does not go to the event "heron LR for pell-1".
#[must_use]
pub fn goes_to(compiled: &Compiled, made: &Due, promise: &Promise) -> String {
    let book = &compiled.book;
    let car = &book.cars[promise.to.car].named.typed;
    let place = format!("{car} {}", spot(book, &promise.to));
    let goes = made
        .plan
        .event
        .is_none_or(|event| made.plan.of(promise.to.car).is_some_and(|plan| plan.events.contains(&event)));
    match promise.event.and_then(|event| book.events.get(event)).filter(|_| !goes) {
        Some(event) => format!("{} for {}", place.trim_end(), event.named.typed),
        None => place.trim_end().to_owned(),
    }
}

/// Whether it is not known how much a spare has run on one of the clocks of its limits.
fn unknown(compiled: &Compiled, made: &Due, row: &Row, part: PartId) -> bool {
    let (limits, _) = compiled.book.limits(part);
    let clocks = limits.iter().map(|limit| limit.clock).filter(|clock| *clock != Clock::Months);
    let life = made.lives.now(part);
    let least = |clock| life.is_some_and(|life| life.on(&compiled.book, clock).at_least);
    Some(row.fitted.kind) == compiled.book.parts[part].kind && clocks.into_iter().any(least)
}

/// "218 of 300 min left, aramid": what a spare has left, and its spec where it is another than the one it replaces.
fn about(compiled: &Compiled, made: &Due, row: &Row, part: PartId) -> String {
    let book = &compiled.book;
    let mut words = vec![left(compiled, made, part)];
    let spec = |part: PartId| book.parts[part].spec;
    if row.fitted.part.is_some_and(|old| spec(old) != spec(part))
        && let Some(own) = spec(part).and_then(|spec| book.specs.get(spec))
    {
        words.push(own.named.typed.to_string());
    }
    words.retain(|words| !words.is_empty());
    words.join(", ")
}
