//! The tyres on the car from above as they came in from a session: three tread temperatures at each, pressure cold to hot, tread left, and
//! how long they have run.
//!
//! What one session read of the tyres that ran in it, and nothing else; what was not read is said, never a nought. Must not know which
//! page it stands on.

use super::above::{self, AboveTread, AboveValue, FromAbove};
use super::came_in::{self, CameIn};
use super::value::{self, ShownValue, ValueOrigin};
use super::year;
use crate::book::entry::{By, Item};
use crate::book::model::{Clock, PartId};
use crate::book::place::Place;
use crate::history::disturb;
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::history::usage;
use crate::report::chart::Table;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words::{self, DASH};
use crate::vocabulary::QuantityId;
use crate::words::scale::{NOT_KNOWN, Scale};
use serde::Serialize;

/// The tyres of a car as they came in.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownTyres {
    /// The session's label.
    pub session: String,
    /// The car from above.
    pub above: FromAbove,
    /// What was not read, and what to know of what was, a sentence each.
    pub told: Vec<String>,
    /// Its lines.
    pub src: String,
    /// The numbers.
    pub table: Table,
}

/// What a page of tyres asks for.
struct Asked {
    temp: Option<QuantityId>,
    cold: Option<QuantityId>,
    hot: Option<QuantityId>,
    tread: Option<QuantityId>,
}

/// What is known of one tyre.
struct Tyre<'a> {
    place: Place,
    temps: Option<CameIn<'a>>,
    cold: Option<CameIn<'a>>,
    hot: Option<CameIn<'a>>,
    tread: Option<CameIn<'a>>,
    part: Option<PartId>,
}

/// Heads of the table.
const HEADS: [&str; 8] = ["tyre", "outer", "middle", "inner", "cold", "hot", "tread left", "run"];

/// The tyres of the last of some sessions of a car that read any: tread temperatures, else hot pressures; what is left of the tread is told
/// as it was read last before a rank.
pub(super) fn view(tell: &Teller<'_>, sessions: &[&Session], until: Rank) -> Option<ShownTyres> {
    let find = |name: &str| tell.cx.book.vocabulary.find(name);
    let asked = Asked {
        temp: find("tyre-temp"),
        cold: find("tyre-cold"),
        hot: find("tyre-hot"),
        tread: find("tread"),
    };
    let read = |session: &&&Session, quantity: Option<QuantityId>| {
        let at = |place| came_in::read(tell, session, quantity?, place);
        !year::is_withheld(tell, session) && Place::CORNERS.into_iter().any(|place| at(place).is_some())
    };
    let last = |quantity: Option<QuantityId>| sessions.iter().rev().find(|session| read(session, quantity));
    let session = *last(asked.temp).or_else(|| last(asked.hot))?;
    let tyres = Place::CORNERS.map(|place| tyre(tell, session, &asked, place, until));
    let any_temps = tyres.iter().any(|one| one.temps.is_some());
    let any_hot = tyres.iter().any(|one| one.hot.is_some());
    let same = |part: &PartId| tyres.iter().all(|one| one.part == Some(*part));
    let one_set = tyres.first().and_then(|one| one.part).filter(same);
    let heat =
        tyres.iter().flat_map(|one| one.temps.as_ref().map_or_else(Vec::new, |read| temps(tell, read)));
    let ends =
        heat.fold((f64::INFINITY, f64::NEG_INFINITY), |(least, most), (_, si)| (least.min(si), most.max(si)));
    let mut above = above::bare(tell, session.car);
    let mut rows = Vec::new();
    let mut lacks: [Vec<String>; 2] = Default::default();
    for one in &tyres {
        let word = tell.cx.place(one.place);
        let [of_temps, of_pressure] = &mut lacks;
        let numbers = one.temps.as_ref().map_or_else(Vec::new, |read| temps(tell, read));
        if !numbers.is_empty() {
            above.put_treads(&word, across(one.place, &numbers, ends));
        } else if any_temps {
            above.put(&word, above::value("tread temperature", None, unread(), false));
            of_temps.push(word.clone());
        }
        let (cold, hot) = (shown(tell, one.cold), shown(tell, one.hot));
        let name = if cold.is_some() { "pressure" } else { "hot pressure" };
        if let Some(hot) = &hot {
            above.put(&word, above::value(name, cold.clone(), hot.clone(), false));
        } else if any_hot {
            let now = if cold.is_some() { ShownValue::missing() } else { unread() };
            above.put(&word, above::value(name, cold.clone(), now, false));
            of_pressure.push(word.clone());
        }
        let tread = shown(tell, one.tread);
        if let Some((tread, read)) = tread.clone().zip(one.tread) {
            let far = tell.cx.date(Some(read.line)).map_or_else(String::new, words::short);
            above.put(&word, AboveValue { far, ..above::value("tread left", None, tread, false) });
        }
        let run = one.part.map(|part| run(tell, part, session.after));
        if let Some(run) = run.clone().filter(|_| one_set.is_none()) {
            above.put(&word, above::value("has run", None, plain(run), false));
        }
        let or_dash = |value: Option<ShownValue>| value.map_or_else(|| DASH.to_owned(), |value| value.full());
        let third = |index: usize| or_dash(numbers.get(index).map(|(value, _)| value.clone()));
        let run = run.unwrap_or_else(|| DASH.to_owned());
        rows.push(vec![word, third(0), third(1), third(2), or_dash(cold), or_dash(hot), or_dash(tread), run]);
    }
    if let Some(part) = one_set {
        above.put(
            "",
            above::value(
                &format!("{} has run", tell.cx.part(part)),
                None,
                plain(run(tell, part, session.after)),
                false,
            ),
        );
    }
    let spans = tyres.iter().flat_map(|one| [one.temps, one.cold, one.hot, one.tread]).flatten();
    Some(ShownTyres {
        session: tell.label(session).to_owned(),
        above,
        told: told(tell, &tyres, lacks),
        src: sources::lines(tell.cx.files, spans.filter_map(|read| Some(tell.entry(read.line)?.span()))),
        table: Table { head: HEADS.map(str::to_owned).to_vec(), rows },
    })
}

fn tyre<'a>(tell: &Teller<'a>, session: &Session, asked: &Asked, place: Place, until: Rank) -> Tyre<'a> {
    let read = |quantity: Option<QuantityId>| came_in::read(tell, session, quantity?, place);
    Tyre {
        place,
        temps: read(asked.temp),
        cold: asked.cold.and_then(|cold| came_in::before(tell, session, cold, place)),
        hot: read(asked.hot),
        tread: asked.tread.and_then(|tread| came_in::last(tell, session, tread, place, until)),
        part: part(tell, session, place),
    }
}

/// The tyre, or the set of them, that was in a place as a session ran; none where the book names none, or more than one.
fn part(tell: &Teller<'_>, session: &Session, place: Place) -> Option<PartId> {
    let cx = &tell.cx;
    let there = cx.on(session.car, session.during).places().into_iter().filter(|one| {
        let tyre = cx.book.kinds.get(one.kind).is_some_and(|kind| disturb::is_tyre(cx.book, kind));
        tyre && one.place.covers(place)
    });
    let mut parts = there.filter_map(|one| one.part);
    let first = parts.next()?;
    parts.next().is_none().then_some(first)
}

/// Outer, middle and inner, as typed.
fn temps(tell: &Teller<'_>, read: &CameIn<'_>) -> Vec<(ShownValue, f64)> {
    let Some(entry) = tell.entry(read.line) else { return Vec::new() };
    let shown = |item: &Item| {
        let text = tell.cx.text(item.span(entry.file)).trim().to_owned();
        let unit = item.unit().get().shown().to_owned();
        (ShownValue { text, unit, how: ValueOrigin::Read }, item.si)
    };
    let numbers = came_in::numbers(tell, read);
    if numbers.len() == 3 { numbers.into_iter().map(shown).collect() } else { Vec::new() }
}

/// Three temperatures from left to right: the inner edge is the one toward the middle of the car. Their bars are between the two ends.
fn across(place: Place, outer_first: &[(ShownValue, f64)], (least, most): (f64, f64)) -> Vec<AboveTread> {
    let named = ["out", "mid", "in"].into_iter().zip(outer_first);
    let share = |si: f64| (si - least) / (most - least);
    let mut all: Vec<AboveTread> = named
        .map(|(label, (value, si))| AboveTread {
            label: label.to_owned(),
            value: value.clone(),
            high: libm::round(
                LOW + (HIGH - LOW) * Some(share(*si)).filter(|share| share.is_finite()).unwrap_or(0.5),
            ) as u8,
        })
        .collect();
    if matches!(place, Place::RF | Place::RR) {
        all.reverse();
    }
    all
}

/// The lowest and the highest bar, of the drawing's own units.
const LOW: f64 = 4.0;
const HIGH: f64 = 24.0;

/// "95 min": what it has run since new.
fn run(tell: &Teller<'_>, part: PartId, until: Rank) -> String {
    let ran = usage::of_part(tell.cx.book, tell.cx.history, part, Rank::START, until);
    let total = usage::with_opening(tell.cx.book, part, &ran, Clock::Time);
    if total.at_least && total.value <= 0.0 {
        return NOT_KNOWN.to_owned();
    }
    Scale::plain(Clock::Time).told_of(total.value, total.at_least)
}

fn shown(tell: &Teller<'_>, read: Option<CameIn<'_>>) -> Option<ShownValue> {
    read.map(|read| value::value(tell, read.track, &read.event))
}

fn unread() -> ShownValue {
    ShownValue { text: "not read".to_owned(), ..ShownValue::missing() }
}

fn plain(text: String) -> ShownValue {
    ShownValue { text, unit: String::new(), how: ValueOrigin::Derived }
}

/// What was not read, and that cold and hot are by two gauges.
fn told(tell: &Teller<'_>, tyres: &[Tyre<'_>; 4], lacks: [Vec<String>; 2]) -> Vec<String> {
    let mut all = Vec::new();
    for (what, places) in ["Tread temperatures", "Hot pressures"].into_iter().zip(lacks) {
        if !places.is_empty() {
            all.push(format!("{what} were not read at {}", crate::words::and(&places)));
        }
    }
    let gauge = |read: &CameIn<'_>| match tell.entry(read.line).map(|entry| entry.by) {
        Some(By::Gauge(gauge)) => Some(gauge),
        _ => None,
    };
    let both = |one: &Tyre<'_>| one.cold.as_ref().and_then(gauge).zip(one.hot.as_ref().and_then(gauge));
    if tyres.iter().filter_map(both).any(|(cold, hot)| cold != hot) {
        all.push("Cold and hot pressures are by two gauges, each as it read".to_owned());
    }
    all
}
