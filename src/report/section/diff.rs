//! What changed on a car between two events: the second compared with the one before it, each during its last session.
//!
//! Must not know how a difference is worked out; that is `history::diff`.

use super::above::{self, FromAbove};
use super::change::{self, DriverWords, ShownChange};
use super::figures::derived::{self, DerivedArea};
use super::frame::{self, Frame};
use super::laps::{self, Ladder};
use super::laps_drawn;
use super::link::Link;
use crate::answer::trials;
use crate::book::model::{CarId, EventId};
use crate::history::diff::{Fate, PartDiff, SetupDiff, SlotDiff};
use crate::history::order::Rank;
use crate::history::slots::Register;
use crate::report::chart::runs::RunsChart;
use crate::report::desk::Desk;
use crate::report::key::Key;
use crate::report::section::stops;
use crate::report::section::stops::first_rank;
use crate::report::section::whose;
use crate::report::section::year;
use crate::report::teller::Teller;
use crate::report::words;
use crate::trials::credit;
use serde::Serialize;

/// What changed on a car between two events, and why.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct DiffPage {
    /// Title and footer.
    pub frame: Frame,
    /// The season pages this belongs to.
    pub seasons: Vec<Link>,
    /// "quern-1, during s8 (the last session)".
    pub then: String,
    /// The same of the second.
    pub now: String,
    /// The car from above with what is set otherwise.
    pub above: Option<FromAbove>,
    /// The laps of the second event; none where fewer than two sessions have one.
    pub drawn: Option<RunsChart>,
    /// What is set otherwise, by area.
    pub changed: Vec<AreaOf>,
    /// How many settings those are.
    pub changed_count: usize,
    /// The same by what the driver said after them: why each was changed, by way of what, when, and its lines.
    pub reasons: Vec<Reasons>,
    /// What follows from that: figures with another value.
    pub derived: Vec<DerivedArea>,
    /// Parts.
    pub parts: Vec<PlaceChange>,
    /// Tried and put back.
    pub put_back: Vec<ShownChange>,
    /// Set by another gauge to another number, which the comparison of both says is the same.
    pub by_gauges: Vec<ShownChange>,
    /// Reads otherwise, though nobody set it.
    pub reads: Vec<AreaOf>,
    /// Only read again.
    pub again: Vec<ShownChange>,
    /// Stated for the first time.
    pub first: Vec<ShownChange>,
    /// Both events' laps.
    pub ladders: Vec<Ladder>,
    /// What can be credited.
    pub verdict: String,
    /// What trials at the second event say of what differs.
    pub credit: Vec<String>,
}

/// Changes of one area.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct AreaOf {
    /// The area.
    pub name: String,
    /// Its changes.
    pub changes: Vec<ShownChange>,
}

/// Changes after which the driver said the same words first.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Reasons {
    /// What he said; none where nobody said anything.
    pub said: Option<DriverWords>,
    /// The changes.
    pub changes: Vec<ShownChange>,
}

/// A place with another part.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PlaceChange {
    /// The kind.
    pub kind: String,
    /// The place.
    pub place: String,
    /// Who was there; an en dash for nobody.
    pub then: String,
    /// Who is there.
    pub now: String,
    /// Spec and serial of the one now.
    pub about: String,
    /// When.
    pub when: String,
    /// Why.
    pub because: String,
    /// The line.
    pub src: String,
}

/// Each event of a car with the one before it, and with the one before it at the same circuit where that is another; and the
/// year of the later. Only one year's, if it is asked for.
pub(in crate::report) fn pairs(
    tell: &Teller<'_>,
    car: CarId,
    season: Option<i16>,
) -> Vec<(EventId, EventId, i16)> {
    let sessions: Vec<_> = year::own(tell, car).collect();
    let events = stops::events(&sessions);
    let circuit = |event: EventId| tell.cx.book.events.get(event).and_then(|event| event.circuit);
    let mut years: std::collections::BTreeMap<EventId, i16> = std::collections::BTreeMap::new();
    for session in &sessions {
        if let Some(event) = session.event {
            years.entry(event).or_insert(session.date.year());
        }
    }
    let mut last_at = std::collections::BTreeMap::new();
    let mut list = Vec::new();
    for (at, second) in events.iter().enumerate() {
        let before = at.checked_sub(1).and_then(|at| events.get(at)).copied();
        let here = circuit(*second).and_then(|circuit| last_at.insert(circuit, *second));
        let both = [here.filter(|here| Some(*here) != before), before];
        let Some(year) = years.get(second).filter(|year| season.is_none_or(|season| season == **year)) else {
            continue;
        };
        list.extend(both.into_iter().flatten().map(|first| (first, *second, *year)));
    }
    list
}

/// Rank and words of "during the last session".
fn last_session(tell: &Teller<'_>, car: CarId, event: EventId) -> (Rank, String) {
    let name = tell.event(event);
    match tell.cx.history.sessions.at(car, event).last() {
        Some((_, session)) => {
            (session.during, format!("{name}, during {} (the last session)", tell.label(session)))
        }
        None => (first_rank(tell, car, event), name.to_owned()),
    }
}

/// Makes the view.
pub(in crate::report) fn view(desk: &Desk<'_>, car: CarId, pair: (EventId, EventId)) -> DiffPage {
    let (tell, sheets) = (desk.tell, desk.sheets);
    let cx = &tell.cx;
    let (then, then_words) = last_session(tell, car, pair.0);
    let (now, now_words) = last_session(tell, car, pair.1);
    let diff = crate::history::diff::diff(cx.facts, car, then, now);
    let until = cx.history.sessions.at(car, pair.1).last().map_or(now, |(_, session)| session.after);
    let of = |wanted: &dyn Fn(&SlotDiff<'_>) -> bool| -> Vec<(u32, ShownChange)> {
        diff.slots
            .iter()
            .filter(|slot| wanted(slot))
            .map(|slot| {
                let entry = change::swapped(tell, slot, now);
                (cx.quantity(slot.quantity).area, change::change(tell, car, slot, entry, until))
            })
            .collect()
    };
    let plain =
        |list: Vec<(u32, ShownChange)>| change::join(list.into_iter().map(|(_, change)| change).collect());
    let changed = of(&|slot| change::is_set_otherwise(tell, slot));
    let parts = part_changes(tell, &diff.parts);
    let credit = credit(tell, car, pair, &diff);
    let changed_count = changed.len();
    let title = cx.book.cars.get(car).map_or("?", |car| car.named.title.as_str());
    let changed = areas(tell, changed);
    DiffPage {
        frame: frame::frame(
            tell,
            format!("{title}: {} to {}", tell.event(pair.0), tell.event(pair.1)),
            whose::subtitle(tell, car),
            Some(car),
        ),
        seasons: year::years(tell, car)
            .into_iter()
            .filter_map(|year| desk.table.link(Key::Season(car, year)))
            .collect(),
        then: then_words,
        now: now_words,
        above: above::of_changes(tell, car, changed.iter().flat_map(|area| &area.changes)),
        drawn: laps_drawn::at(tell, car, pair.1),
        reasons: reasons(&changed),
        changed,
        changed_count,
        verdict: laps::verdict(tell, car, pair, (changed_count, parts.len()), !credit.is_empty()),
        credit,
        derived: sheets
            .get(&(car, pair.0))
            .zip(sheets.get(&(car, pair.1)))
            .map_or_else(Vec::new, |(then, now)| derived::derived(tell, then, now)),
        parts,
        put_back: plain(of(&|slot| slot.fate == Fate::PutBack)),
        by_gauges: plain(of(&|slot| slot.fate == Fate::SameByGauges)),
        reads: areas(tell, of(&|slot| slot.fate == Fate::ReadsOtherwise)),
        again: plain(of(&|slot| slot.fate == Fate::ReadAgain)),
        first: plain(of(&|slot| {
            slot.fate == Fate::FirstStated
                && !change::from_zero(tell, slot)
                && slot.now.is_some_and(|now| now.register() != Register::Unknown && now.entry.is_some())
        })),
        ladders: vec![laps::ladder(tell, car, pair.0), laps::ladder(tell, car, pair.1)],
    }
}

/// What the trials at an event say of the settings and parts that differ, where they compared what stood then with what stands now.
fn credit(
    tell: &Teller<'_>,
    car: CarId,
    (first, second): (EventId, EventId),
    diff: &SetupDiff<'_>,
) -> Vec<String> {
    let facts = tell.compiled.facts();
    let here = |event: Option<EventId>| event == Some(first) || event == Some(second);
    let trials = tell.trials(car).iter().filter(|trial| here(trial.event));
    let pairs = trials.filter_map(|trial| Some((trial, credit::compared(facts, trial, diff)?)));
    let said = pairs.filter_map(|(trial, pair)| {
        let sentence = trials::of_pair(tell.compiled, trial, pair)?;
        let before = trial.event.filter(|event| *event == first);
        Some(
            before.map_or_else(|| sentence.clone(), |event| format!("{sentence} (at {})", tell.event(event))),
        )
    });
    said.collect()
}

/// The changes by the words that followed them, in the order of the first of each.
fn reasons(areas: &[AreaOf]) -> Vec<Reasons> {
    let mut list: Vec<Reasons> = Vec::new();
    for one in areas.iter().flat_map(|area| &area.changes) {
        match list.iter_mut().find(|reasons| reasons.said == one.said) {
            Some(reasons) => reasons.changes.push(one.clone()),
            None => list.push(Reasons { said: one.said.clone(), changes: vec![one.clone()] }),
        }
    }
    list
}

fn areas(tell: &Teller<'_>, list: Vec<(u32, ShownChange)>) -> Vec<AreaOf> {
    let mut areas: Vec<(u32, Vec<ShownChange>)> = Vec::new();
    for (area, change) in list {
        match areas.last_mut().filter(|(last, _)| *last == area) {
            Some((_, changes)) => changes.push(change),
            None => areas.push((area, vec![change])),
        }
    }
    areas
        .into_iter()
        .map(|(area, changes)| AreaOf {
            name: tell
                .cx
                .book
                .vocabulary
                .areas
                .get(area as usize)
                .map_or_else(|| "other".to_owned(), ToString::to_string),
            changes: change::join(changes),
        })
        .collect()
}

/// The places whose part differs.
pub(super) fn part_changes(tell: &Teller<'_>, parts: &[PartDiff]) -> Vec<PlaceChange> {
    let cx = &tell.cx;
    parts
        .iter()
        .map(|place| {
            let name = |part: Option<crate::book::model::PartId>| {
                part.map_or_else(|| words::DASH.to_owned(), |part| cx.part(part).to_owned())
            };
            let kind = cx.book.kinds.get(place.kind);
            let entry = place.entry.and_then(|entry| tell.entry(entry));
            PlaceChange {
                kind: kind.map_or_else(String::new, |kind| kind.named.typed.replace('-', " ")),
                place: cx.place(place.place),
                then: name(place.then),
                now: name(place.now),
                about: place.now.map_or_else(String::new, |part| super::parts::about(tell, part)),
                when: place.entry.map_or_else(String::new, |entry| tell.moment(entry)),
                because: entry.and_then(|entry| tell.because(entry)).unwrap_or_default().to_owned(),
                src: place.entry.map_or_else(String::new, |entry| tell.src_of(entry)),
            }
        })
        .collect()
}
