//! The quickest of a car's runs that can be compared at a circuit, and how the car differs from how it stood in it, in words.
//!
//! Must not know pages, nor which runs can be compared.

use super::named;
use crate::Compiled;
use crate::answer::{LedgerLine, entry_line, place, value};
use crate::book::model::{CarId, CircuitId, PartId};
use crate::book::place::Place;
use crate::history::diff::{PartDiff, SlotDiff};
use crate::history::order::Rank;
use crate::history::sessions::SessionId;
use crate::history::slots::{SlotEvent, Track};
use crate::trials::best::{AtCircuit, Comparable, Differs, NoBest, OnCourse};
use crate::units::number;
use crate::words;
use serde::Serialize;

/// What a car's runs at a circuit say of its best known setup.
#[derive(Debug, Clone, Serialize)]
pub struct BestAt {
    /// The circuit.
    pub circuit: String,
    /// Runs that can be compared together, those like the last run first.
    pub known: Vec<BestKnown>,
    /// Runs that count nowhere.
    pub left_out: Vec<NotCompared>,
    /// In a sentence, where no run is left to compare.
    pub refused: Option<String>,
}

/// Runs of one driver in one weather.
#[derive(Debug, Clone, Serialize)]
pub struct BestKnown {
    /// Who drove; null where nobody is said to have.
    pub driver: Option<String>,
    /// What the lines of the runs say of weather and track; empty: dry.
    pub weather: Vec<String>,
    /// How many runs.
    pub runs: usize,
    /// At how many events.
    pub events: usize,
    /// The quickest; null where none is told.
    pub quickest: Option<BestRun>,
    /// The next quickest that stood otherwise; null where none is known.
    pub next: Option<BestRun>,
    /// What the laps say, or why they do not.
    pub sentence: String,
    /// What is otherwise now, in a sentence; empty where no run is told.
    pub now: String,
    /// Settings that stood otherwise then, or of which nobody can say.
    pub differs: Vec<BestDiffers>,
    /// Places with another part now.
    pub parts: Vec<BestPart>,
    /// How many settings stand as they did.
    pub same: usize,
    /// All of the runs, the quickest first: what a trace of it shows.
    #[serde(skip)]
    pub compared: Vec<BestRun>,
}

/// A run.
#[derive(Debug, Clone, Serialize)]
pub struct BestRun {
    /// The event; null outside of one.
    pub event: Option<String>,
    /// Its label.
    pub session: String,
    /// The day.
    pub date: String,
    /// Its best lap, s.
    pub lap: f64,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// A run that is not compared.
#[derive(Debug, Clone, Serialize)]
pub struct NotCompared {
    /// Event and label.
    pub session: String,
    /// Why.
    pub why: String,
    /// Its line.
    pub line: Option<LedgerLine>,
}

/// A setting.
#[derive(Debug, Clone, Serialize)]
pub struct BestDiffers {
    /// The quantity.
    pub what: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// Then; null where nobody knows.
    pub then: Option<String>,
    /// Now; null where nobody knows.
    pub now: Option<String>,
    /// Whether nobody can say if it differs.
    pub cannot_tell: bool,
}

/// A place.
#[derive(Debug, Clone, Serialize)]
pub struct BestPart {
    /// The kind of part.
    pub kind: String,
    /// The place; null for the car as a whole.
    pub place: Option<String>,
    /// Who was there.
    pub then: Option<String>,
    /// Who is there.
    pub now: Option<String>,
}

/// What is said beside every quickest run.
pub const NO_VERDICT: &str = "A quickest lap is no verdict on a setup: day, track, tyres and traffic are in it. \
                              What a change did is told by going there and back.";

/// The run that is told as the quickest, if any, and how the car differs from how it stood in it.
pub type Quickest<'a> = (Option<SessionId>, Differs<'a>);

/// What a car's runs at a circuit before a moment say; and of each entry of `known` its quickest, for who shows that otherwise.
#[must_use]
pub fn at<'a>(
    compiled: &'a Compiled,
    car: CarId,
    all: &Comparable,
    circuit: CircuitId,
    until: Rank,
) -> (BestAt, Vec<Quickest<'a>>) {
    let found = all.at(compiled.facts(), circuit, until);
    let named = compiled.book.circuits.get(circuit);
    let (known, quickest) = found.courses.iter().map(|on| known(compiled, car, all, on, until)).unzip();
    let said = BestAt {
        circuit: named.map_or_else(String::new, |circuit| circuit.named.typed.to_string()),
        refused: refused(&found),
        known,
        left_out: found
            .aside
            .iter()
            .map(|(id, why)| NotCompared {
                session: session(compiled, *id),
                why: named::aside(compiled, why, Some(*id)),
                line: entry_line(compiled, compiled.history.sessions.get(*id).entry),
            })
            .collect(),
    };
    (said, quickest)
}

fn refused(found: &AtCircuit) -> Option<String> {
    let text = match (found.courses.is_empty(), found.aside.len()) {
        (false, _) => return None,
        (true, 0) => "It had not run there.".to_owned(),
        (true, 1) => "Its only run there does not count.".to_owned(),
        (true, count) => format!("None of its {count} runs there counts."),
    };
    Some(text)
}

fn known<'a>(
    compiled: &'a Compiled,
    car: CarId,
    all: &Comparable,
    on: &OnCourse,
    until: Rank,
) -> (BestKnown, Quickest<'a>) {
    let facts = compiled.facts();
    let told = on.runs.first().copied().filter(|_| on.refusal.is_none());
    let next = told.and_then(|_| all.next(facts, car, on));
    let differs = told.map(|id| all.differs(facts, car, id, until)).unwrap_or_default();
    let both = differs.moved.iter().map(|slot| (slot, false));
    let both = both.chain(differs.unclear.iter().map(|slot| (slot, true)));
    let who = on.course.driver.and_then(|driver| compiled.book.people.get(driver));
    let known = BestKnown {
        driver: who.map(|person| person.named.typed.to_string()),
        weather: on.course.weather.clone(),
        runs: on.runs.len(),
        events: on.meetings,
        quickest: told.and_then(|id| run(compiled, id)),
        next: next.and_then(|id| run(compiled, id)),
        sentence: String::new(),
        now: String::new(),
        differs: both.map(|(slot, cannot_tell)| setting(compiled, slot, cannot_tell)).collect(),
        parts: differs.parts.iter().map(|part| of_place(compiled, part)).collect(),
        same: differs.same,
        compared: on.runs.iter().filter_map(|id| run(compiled, *id)).collect(),
    };
    let known = BestKnown {
        sentence: sentence(compiled, on, &known),
        now: told.map_or_else(String::new, |id| otherwise(compiled, car, (id, until), &differs)),
        ..known
    };
    (known, (told, differs))
}

/// "quern-2 s6".
fn session(compiled: &Compiled, id: SessionId) -> String {
    let session = compiled.history.sessions.get(id);
    let label = compiled.files.text(session.label);
    let event = session.event.and_then(|event| compiled.book.events.get(event));
    event.map_or_else(|| label.to_owned(), |event| format!("{} {label}", event.named.typed))
}

fn run(compiled: &Compiled, id: SessionId) -> Option<BestRun> {
    let session = compiled.history.sessions.get(id);
    let event = session.event.and_then(|event| compiled.book.events.get(event));
    Some(BestRun {
        event: event.map(|event| event.named.typed.to_string()),
        session: compiled.files.text(session.label).to_owned(),
        date: session.date.to_string(),
        lap: session.best?,
        line: entry_line(compiled, session.entry),
    })
}

/// A lap as closely as it was typed: hundredths, or thousandths.
fn lap(seconds: f64) -> String {
    let hundredths = seconds * 100.0;
    let whole = (hundredths - libm::round(hundredths)).abs() < 1e-6;
    words::lap(seconds, if whole { 2 } else { 3 })
}

/// "dobrey, dry".
fn course(known: &BestKnown) -> String {
    let who = known.driver.as_deref().unwrap_or("no driver named");
    let weather = if known.weather.is_empty() { "dry".to_owned() } else { words::and(&known.weather) };
    format!("{who}, {weather}")
}

fn sentence(compiled: &Compiled, on: &OnCourse, known: &BestKnown) -> String {
    let first = on.runs.first().copied();
    let name = first.map_or_else(String::new, |id| session(compiled, id));
    let typed = first.and_then(|id| compiled.history.sessions.get(id).best).map_or_else(String::new, lap);
    let course = words::capital(&course(known));
    match on.refusal {
        Some(NoBest::OneRun) => {
            return format!("{course}: one run only, {typed} in {name}: nothing to compare it with");
        }
        Some(NoBest::Hidden) => {
            return format!(
                "{course}: something was set between the {} runs or since that this reader may not read, so that no setup is told as the best",
                known.runs
            );
        }
        None => {}
    }
    let events = match known.events {
        1 => "one event".to_owned(),
        count => format!("{count} events"),
    };
    let next = match (&known.next, &known.quickest) {
        (Some(next), Some(quickest)) => {
            let label = next.event.as_ref().map_or_else(String::new, |event| format!("{event} "));
            format!(
                "; the next quickest that was set otherwise is {}, {label}{}, {} s slower",
                lap(next.lap),
                next.session,
                number::format(next.lap - quickest.lap, if next.lap - quickest.lap < 0.01 { 3 } else { 2 })
            )
        }
        _ => String::new(),
    };
    format!("{course}: the quickest of {} runs at {events} is {typed}, {name}{next}", known.runs)
}

/// So many are told one by one in a sentence.
const TOLD: usize = 6;

/// What is otherwise now, in a sentence.
fn otherwise(
    compiled: &Compiled,
    car: CarId,
    (then, until): (SessionId, Rank),
    differs: &Differs<'_>,
) -> String {
    let listed = |mut list: Vec<String>| {
        let more = list.len().saturating_sub(TOLD);
        if more > 1 {
            list.truncate(TOLD);
            list.push(format!("{more} more"));
        }
        words::and(&list)
    };
    let name = |slot: &SlotDiff<'_>, places: &[Place]| {
        let quantity = &compiled.book.vocabulary.get(slot.quantity).name;
        format!("{quantity} {}", named::spots(compiled, places)).trim_end().to_owned()
    };
    // Places of one quantity that stood alike and stand alike are told once.
    let mut alike: Vec<(&SlotDiff<'_>, BestDiffers, Vec<Place>)> = Vec::new();
    for slot in &differs.moved {
        let one = setting(compiled, slot, false);
        let same = |known: &&mut (&SlotDiff<'_>, BestDiffers, Vec<Place>)| {
            known.0.quantity == slot.quantity && known.1.then == one.then && known.1.now == one.now
        };
        match alike.iter_mut().find(same) {
            Some((.., places)) => places.push(slot.place),
            None => alike.push((slot, one, vec![slot.place])),
        }
    }
    let moved = alike.iter().map(|(slot, one, places)| {
        let (then, now) = (one.then.as_deref().unwrap_or("0"), one.now.as_deref().unwrap_or("not known"));
        format!("{} ({then} then, {now} now)", name(slot, places))
    });
    let moved: Vec<String> = moved.collect();
    let mut text = if moved.is_empty() {
        "No setting is known to stand otherwise now".to_owned()
    } else {
        format!("Now it stands otherwise in {}", listed(moved))
    };
    if !differs.unclear.is_empty() {
        let unclear = differs.unclear.iter().map(|slot| name(slot, &[slot.place])).collect();
        text += &format!("; cannot tell of {}", listed(unclear));
    }
    if !differs.parts.is_empty() {
        let count = differs.parts.len() as u64;
        text += &format!("; {}", words::count(count, "place has another part", "places have another part"));
    }
    let from = compiled.history.sessions.get(then).rank;
    if compiled.history.disturbances.hits(car, from, until).next().is_some() {
        text += "; it was hit since";
    }
    text
}

fn setting(compiled: &Compiled, slot: &SlotDiff<'_>, cannot_tell: bool) -> BestDiffers {
    let typed = |track: Option<&Track>, event: Option<SlotEvent>| {
        value::of_event(compiled, track?, &event?).map(|typed| typed.text)
    };
    BestDiffers {
        what: compiled.book.vocabulary.get(slot.quantity).name.to_string(),
        place: place(compiled, slot.place),
        then: typed(slot.then_track, slot.then),
        now: typed(Some(slot.track), slot.now),
        cannot_tell,
    }
}

fn of_place(compiled: &Compiled, one: &PartDiff) -> BestPart {
    let name = |part: Option<PartId>| Some(compiled.book.parts.get(part?)?.named.typed.to_string());
    let kind = compiled.book.kinds.get(one.kind);
    BestPart {
        kind: kind.map_or_else(String::new, |kind| kind.named.typed.to_string()),
        place: place(compiled, one.place),
        then: name(one.then),
        now: name(one.now),
    }
}
