//! How the car stands: total time, life-limited parts, time since overhaul, dated items, open items, the rules last met.
//!
//! Must not know the work that led there.

use crate::answer::not_done;
use crate::audience::Purchase;
use crate::book::entry::Verb;
use crate::book::model::Clock;
use crate::book::place::Place;
use crate::due::limits::{self, Standing};
use crate::due::plan::CarPlan;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::slots::{Owner, Register};
use crate::history::{dated, impact, usage};
use crate::lives::life;
use crate::report::section::fact::Fact;
use crate::report::section::totals::{self, Totals};
use crate::report::section::{legality, value};
use crate::report::teller::Teller;
use crate::report::words;
use crate::words::dated::GoodFor;
use crate::words::scale::Scale;
use jiff::civil::Date;
use serde::Serialize;

/// How a car stands.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct CarStatus {
    /// What it ran in the book.
    pub totals: Totals,
    /// Whether miles are shown.
    pub imperial: bool,
    /// Its meters, as read last.
    pub meters: Vec<Fact>,
    /// Parts with a limit of life, and how much of it is used.
    pub lives: Vec<LimitedLife>,
    /// Parts that were rebuilt, and what they ran since.
    pub overhauls: Vec<Overhaul>,
    /// Items that are good until a day.
    pub dated: Vec<legality::DatedItem>,
    /// What is open.
    pub open: Vec<Fact>,
    /// Class rules against the last readings.
    pub rules: Vec<legality::RuleCard>,
}

/// A part with a limit of life.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct LimitedLife {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// Where it is.
    pub place: String,
    /// Its serial; may be empty.
    pub serial: String,
    /// What it has used: "226 min", "at least 226 min".
    pub used: String,
    /// Its limit.
    pub limit: String,
    /// What is left: "74 min", "nothing"; an en dash where its use is not known.
    pub left: String,
    /// Whether it is used up, or nobody can say that it is not.
    pub spent: bool,
    /// The line that fitted it.
    pub src: String,
}

/// A part that was rebuilt.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Overhaul {
    /// The part.
    pub part: String,
    /// Its kind.
    pub kind: String,
    /// When it was rebuilt last.
    pub date: String,
    /// What was done, as typed.
    pub words: String,
    /// What it ran since.
    pub since: String,
    /// The line.
    pub src: String,
}

/// Makes it.
pub(super) fn view(tell: &Teller<'_>, purchase: &Purchase, day: Date) -> CarStatus {
    let cx = &tell.cx;
    let car = purchase.car;
    let sessions: Vec<_> = cx.history.sessions.of(car).map(|(_, session)| session).collect();
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let until = purchase.until;
    let items: Vec<dated::Dated> = super::parts::going(tell, purchase)
        .into_iter()
        .filter_map(|part| dated::of_part(cx.book, cx.history, part, until))
        .collect();
    CarStatus {
        totals: totals::totals(tell, &sessions, imperial, totals::hole(tell, car, None, None)),
        imperial,
        meters: meters(tell, purchase),
        lives: lives(tell, purchase, day),
        overhauls: overhauls(tell, purchase),
        open: open(tell, purchase, day, &items),
        dated: items.iter().map(|one| legality::item(tell, one, GoodFor::Day(day))).collect(),
        rules: legality::card(tell, car, day, until),
    }
}

/// Every counter of the car as read last.
fn meters(tell: &Teller<'_>, purchase: &Purchase) -> Vec<Fact> {
    let cx = &tell.cx;
    let counters = cx.book.vocabulary.iter().filter(|(_, quantity)| quantity.counter);
    counters
        .filter_map(|(id, quantity)| {
            let slot = cx.on(purchase.car, purchase.until).slot(id, Place::CAR)?;
            let event = slot.held.is(cx.history).filter(|event| event.register() != Register::Unknown)?;
            let date =
                cx.date(event.entry).map_or_else(String::new, |date| format!(", {}", words::date(date)));
            Some(Fact {
                word: quantity.name.replace('-', " "),
                text: format!("{}{date}", value::value(tell, slot.track, &event).full()),
                src: tell.src(value::span(tell, slot.track, &event)),
            })
        })
        .collect()
}

/// Every limit of every part that goes along, with what the part's present life has used of it.
fn lives(tell: &Teller<'_>, purchase: &Purchase, day: Date) -> Vec<LimitedLife> {
    let cx = &tell.cx;
    let idle = CarPlan::none(purchase.car);
    let mut rows = Vec::new();
    for part in super::parts::going(tell, purchase) {
        let Some(life) = life::of(cx.book, cx.history, part, purchase.until).pop() else { continue };
        let stay = cx.history.parts.get(part).at(purchase.until);
        for reach in limits::in_turn(cx.book, &life, &idle, day, day) {
            let clock = reach.limit.clock;
            let scale = Scale::of_part(cx.book, cx.files, part, clock);
            let used = scale.told(reach.now.value, reach.now.at_least);
            let standing = reach.standing();
            rows.push(LimitedLife {
                part: cx.part(part).to_owned(),
                kind: cx.kind_of(part).replace('-', " "),
                place: super::parts::place(tell, part, purchase.until),
                serial: cx.book.parts.get(part).map_or_else(String::new, |part| part.serial.clone()),
                used,
                limit: scale.words(reach.limit.value),
                left: match standing {
                    Standing::Over => "nothing".to_owned(),
                    Standing::Unknown => words::DASH.to_owned(),
                    _ => scale.words(reach.left()),
                },
                spent: matches!(standing, Standing::Over | Standing::Unknown),
                src: stay.map_or_else(String::new, |stay| tell.src_of(stay.entry)),
            });
        }
    }
    rows
}

fn overhauls(tell: &Teller<'_>, purchase: &Purchase) -> Vec<Overhaul> {
    let cx = &tell.cx;
    super::parts::going(tell, purchase)
        .into_iter()
        .filter_map(|part| {
            let rebuilds = &cx.history.parts.get(part).rebuilds;
            let last = rebuilds.iter().rev().find(|rebuild| rebuild.rank < purchase.until)?;
            let run = usage::of_part(cx.book, cx.history, part, last.rank, purchase.until);
            let since = [Clock::Time, Clock::Days].map(|clock| {
                let (value, at_least) = run.on(clock);
                Scale::plain(clock).told_of(value, at_least)
            });
            let line = tell.entry(last.entry);
            Some(Overhaul {
                part: cx.part(part).to_owned(),
                kind: cx.kind_of(part).replace('-', " "),
                date: cx.date(last.entry).map_or_else(String::new, words::date),
                words: line.map_or_else(String::new, |line| tell.conditions(line).join(", ")),
                since: since.join(", "),
                src: tell.src_of(last.entry),
            })
        })
        .collect()
}

/// Jobs not closed, impacts nobody looked after, dates that are over, lives used up, parts in quarantine, values not known.
fn open(tell: &Teller<'_>, purchase: &Purchase, day: Date, items: &[dated::Dated]) -> Vec<Fact> {
    let cx = &tell.cx;
    let mut open = Vec::new();
    let mut add = |word: &str, text: String, src: String| {
        open.push(Fact { word: word.to_owned(), text, src });
    };
    for (id, job) in cx.history.jobs.of(Some(purchase.car)) {
        let Some(first) = job.opened().filter(|_| job.closed().is_none()) else { continue };
        let named = cx.book.jobs.get(id);
        let title = named.filter(|job| job.named.title != *job.named.typed);
        let title = title.map_or_else(String::new, |job| format!(": {}", job.named.title));
        add(
            "job not closed",
            format!("{}, opened {}{title}", cx.job(id), words::date(first.date)),
            tell.src_of(first.entry),
        );
    }
    for part in super::parts::going(tell, purchase) {
        let dated = items.iter().find(|one| one.part == part).and_then(|one| one.impact);
        let unseen = || impact::unseen(cx.book, cx.history, part, purchase.until).map(|unseen| unseen.entry);
        if let Some(hit) = dated.or_else(unseen) {
            let date = cx.date(hit).map_or_else(String::new, |date| format!(" of {}", words::date(date)));
            let named = format!("{} {}", cx.kind_of(part).replace('-', " "), cx.part(part));
            let what = not_done(cx.book, cx.history, part, purchase.until);
            add("look at it", format!("{named}: {what} since the impact{date}"), tell.src_of(hit));
        }
    }
    for one in items {
        match one.last_good_day {
            Some(last) if last < day => {
                add(
                    "date over",
                    format!("{} was good until {}", cx.part(one.part), words::date(last)),
                    String::new(),
                );
            }
            None => add(
                "date not known",
                format!("nobody can say until when {} is good", cx.part(one.part)),
                String::new(),
            ),
            Some(_) => {}
        }
    }
    for one in lives(tell, purchase, day).into_iter().filter(|one| one.spent) {
        let text = format!("{}: {} of {}", one.part, one.used, one.limit);
        add(if one.left == words::DASH { "life not known" } else { "life used up" }, text, one.src);
    }
    for part in super::parts::going(tell, purchase) {
        let lines = cx.history.parts.get(part);
        let failed = lines
            .failures
            .iter()
            .rev()
            .find(|line| tell.entry(**line).is_some_and(|line| line.verb == Verb::Failed));
        let mended = |rank: Rank| {
            lines.rebuilds.iter().any(|rebuild| rebuild.rank > rank)
                || lines.stays.iter().any(|stay| stay.from > rank && matches!(stay.at, Where::Car(..)))
        };
        if let Some(line) = failed.filter(|line| !mended(cx.rank(**line))) {
            add("failed, and still on", cx.part(part).to_owned(), tell.src_of(*line));
        }
    }
    let unknown = cx.history.slots.of(Owner::Car(purchase.car)).iter();
    let mut names: Vec<String> = unknown
        .filter(|track| {
            let held = cx.on(purchase.car, purchase.until).held(track.place, track);
            held.unknown.is_some()
        })
        .map(|track| cx.quantity(track.quantity).name.replace('-', " "))
        .collect();
    names.dedup();
    if !names.is_empty() {
        add(
            "not known",
            format!("{}: its last line is not in this book, or could not be read", words::and(&names)),
            String::new(),
        );
    }
    if totals::hole(tell, purchase.car, None, None) {
        add(
            "not known",
            "a session could not be read, so that every total is a lower bound".to_owned(),
            String::new(),
        );
    }
    open
}
