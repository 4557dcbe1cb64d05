//! What may stand next: the words of the language where one is due, else what this book has for the slot.
//!
//! Must not know how a line is read: the slot is the words before it.

mod clauses;
mod parts;
mod slot;

use super::leaf::Leaf;
use super::moment;
use crate::answer::{self, state};
use crate::book::entry::Verb;
use crate::book::handed::HandedPage;
use crate::book::model::PartId;
use crate::book::names::{Thing, folded, same};
use crate::book::place::Place;
use crate::book::side::RESULT;
use crate::book::taken;
use crate::book::verbs::{JobVerb, StretchVerb, VerbGroup};
use crate::diagnostics::Severity;
use crate::history::jobs::Status;
use crate::history::parts::Where;
use crate::units::DimensionId;
use crate::vocabulary::{Form, Places, QuantityId};
use serde_json::{Value, json};
use slot::{Before, Slot};

/// Kinds of the protocol that come nearest.
const WORD: u8 = 14;
const NAME: u8 = 6;
const VALUE: u8 = 12;

/// The most that is offered at once. Where there is more, what is typed narrows it down, and the client is told to ask again.
const MOST: usize = 1000;

/// One offer.
struct Offer {
    word: String,
    detail: String,
    kind: u8,
}

struct Offers<'a> {
    page: &'a Leaf<'a>,
    offset: usize,
    list: Vec<Offer>,
}

/// The offers at a byte, in order of worth.
#[must_use]
pub fn at(page: &Leaf<'_>, offset: usize) -> Value {
    let nothing = || json!({ "isIncomplete": false, "items": [] });
    let Some(before) = slot::before(page, offset) else { return nothing() };
    let mut offers = Offers { page, offset, list: Vec::new() };
    offers.of(&before);
    let range = page.text.range(before.from as u32, offset as u32);
    let typed = page.source.get(before.from..offset).unwrap_or_default();
    let many = offers.list.len() > MOST;
    let items: Vec<Value> = narrowed(offers.list, typed)
        .iter()
        .enumerate()
        .map(|(index, one)| {
            json!({
                "label": one.word,
                "kind": one.kind,
                "detail": one.detail,
                "sortText": format!("{index:04}"),
                "textEdit": { "range": range, "newText": one.word },
            })
        })
        .collect();
    json!({ "isIncomplete": many, "items": items })
}

/// The most that may be offered of a list: what begins with what is typed, then what has it anywhere.
fn narrowed(mut list: Vec<Offer>, typed: &str) -> Vec<Offer> {
    if list.len() > MOST {
        let typed = folded(typed);
        list.retain(|one| folded(&one.word).contains(&*typed));
        list.sort_by_cached_key(|one| !folded(&one.word).starts_with(&*typed));
        list.truncate(MOST);
    }
    list
}

impl Offers<'_> {
    fn of(&mut self, before: &Before<'_>) {
        match &before.slot {
            Slot::Margin => {
                let day = self.page.compiled.today.to_string();
                self.add(&day, "today", VALUE);
                for word in crate::book::declare::DECLARATIONS {
                    self.add(word, "declaration", WORD);
                }
            }
            Slot::Head(words) => match words.as_slice() {
                [_] => self.things(&["car"]),
                [.., last] if same(last, "by") => self.things(&["person"]),
                [.., last] if same(last, "at") => self.things(&["event"]),
                [.., last] if same(last, "for") => self.things(&["client"]),
                _ => {
                    for word in crate::book::HEAD_CLAUSES {
                        self.add(word, "clause", WORD);
                    }
                }
            },
            Slot::Declaration(word, words) => {
                if matches!((word.as_str(), words.len()), ("part", 1))
                    || words.last().is_some_and(|last| same(last, "of"))
                {
                    self.things(&["kind of part"]);
                }
                match words.last().map(|last| folded(last)).as_deref() {
                    Some("car" | "fits") => self.things(&["car"]),
                    Some("client") => self.things(&["client"]),
                    Some("at") => self.things(&["circuit", "event"]),
                    Some("reads" | "gives" | "carries") => self.quantities(),
                    _ => {
                        for name in crate::book::declare::names_of(word) {
                            self.add(name, "property", WORD);
                        }
                    }
                }
            }
            Slot::Verb => {
                let shop = moment::head(self.page, self.offset).is_some_and(|head| head.car.is_none());
                let fits = |verb: &&Verb| !(matches!(verb, Verb::Note) || shop && verb.group().needs_car());
                for verb in Verb::ALL.iter().filter(fits) {
                    self.add(verb.word(), "verb", WORD);
                }
            }
            Slot::Entry(verb, words) => self.entry(*verb, words),
        }
    }

    fn entry(&mut self, verb: Verb, words: &[&str]) {
        let last = words.last().map(|word| folded(word));
        match last.as_deref() {
            Some("by") => return self.by(verb),
            Some(word @ ("during" | "after")) => return self.sessions(word == "during"),
            // Of a reading it is what it was read at: a pressure.
            Some("at") if verb.group().is_of_values() => return,
            Some("at") => return self.things(&["event", "circuit"]),
            Some("on") => return self.jobs(false),
            Some(word @ ("to" | "from" | "into")) => return self.with_whom(verb, word, words),
            Some("for") => {
                return crate::book::entry::Audience::ALL
                    .iter()
                    .for_each(|one| self.add(one.word(), "reader", WORD));
            }
            _ => {}
        }
        match verb.group() {
            VerbGroup::Setting(_) | VerbGroup::Correct => self.setting(verb, words),
            VerbGroup::Bench if words.is_empty() => self.parts(|_, now| !now.is_gone()),
            VerbGroup::Bench => self.setting(verb, words),
            VerbGroup::Part(part) => self.of_part(part, words),
            VerbGroup::Job(JobVerb::Done | JobVerb::Defer | JobVerb::Promise) if words.is_empty() => {
                self.jobs(true);
            }
            VerbGroup::Waive if words.is_empty() => {
                // An error is mended: no line answers it.
                for check in crate::check::CHECKS.iter().filter(|check| check.severity != Severity::Error) {
                    self.add(check.name, check.brief, NAME);
                }
            }
            VerbGroup::Hit if words.is_empty() => self.places_of_car(),
            VerbGroup::Handed if words.is_empty() => {
                for page in HandedPage::ALL {
                    self.add(page.word(), "page", NAME);
                }
            }
            VerbGroup::Stock(_) if words.is_empty() => self.things(&["kind of part"]),
            VerbGroup::Stretch(StretchVerb::Stint) if words.is_empty() => self.things(&["person", "client"]),
            VerbGroup::Result if words.is_empty() => {
                self.sessions(false);
                self.results();
            }
            VerbGroup::Result => {
                self.results();
                self.clauses(verb, words);
            }
            VerbGroup::Try if words.is_empty() => {
                self.quantities();
                self.things(&["kind of part"]);
            }
            VerbGroup::Try => self.clauses(verb, words),
            VerbGroup::Run
            | VerbGroup::Stretch(StretchVerb::Stint | StretchVerb::Stage | StretchVerb::Stop) => {
                self.session(verb, words);
            }
            VerbGroup::Compare if words.is_empty() => self.things(&["gauge"]),
            VerbGroup::Row(_) | VerbGroup::Note | VerbGroup::Void => {}
            VerbGroup::Job(JobVerb::Job | JobVerb::Done | JobVerb::Defer | JobVerb::Promise)
            | VerbGroup::Waive
            | VerbGroup::Hit
            | VerbGroup::Compare
            | VerbGroup::Laps
            | VerbGroup::Words
            | VerbGroup::Stock(_)
            | VerbGroup::Handed
            | VerbGroup::Cost => self.clauses(verb, words),
        }
    }

    /// A line about a quantity: its name, its place, the value it has, a unit. Of the bench the part comes first.
    fn setting(&mut self, verb: Verb, all: &[&str]) {
        // What was read of a part on the bench is no slot of the car.
        let of_car = verb != Verb::Bench;
        let words = all.get(usize::from(!of_car)..).unwrap_or_default();
        let vocabulary = &self.page.compiled.book.vocabulary;
        let Some((first, rest)) = words.split_first() else { return self.quantities_of(verb) };
        let Some(id) = vocabulary.find(&folded(first)) else { return };
        let place_of = |word: &str| self.page.compiled.book.names.place(word);
        let last = rest.last().copied();
        match (last, last.and_then(place_of)) {
            (None, _) => {
                if of_car {
                    self.old_value(verb, id, Place::CAR);
                }
                self.places(id, &[]);
            }
            (Some(_), Some(place)) if of_car => self.old_value(verb, id, place),
            (Some(_), Some(_)) | (Some("->" | ","), None) => {}
            (Some(word), None) if word.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)) => {
                for unit in vocabulary.get(id).dimension.get().usual {
                    self.add(unit, "unit", WORD);
                }
                self.clauses(verb, all);
            }
            _ => {
                let named: Vec<Place> = rest.iter().filter_map(|word| place_of(word)).collect();
                // Behind a clause, and behind numbers that have no place, there is none.
                let in_clause = rest.iter().any(|word| crate::book::ends_values(word));
                if !named.is_empty() && !in_clause {
                    self.places(id, &named);
                }
                self.clauses(verb, all);
            }
        }
    }

    /// What the slot holds, as it would be typed; ready to be changed where the verb takes a change. What was changed by so much, what has
    /// several numbers, its direction or its grade is no word that can be put in.
    fn old_value(&mut self, verb: Verb, id: QuantityId, place: Place) {
        let Some(car) = moment::car(self.page, self.offset) else { return };
        let compiled = self.page.compiled;
        let what = compiled.book.vocabulary.get(id);
        let plain =
            what.form == Form::One && !matches!(what.dimension, DimensionId::TOE | DimensionId::FLUID);
        if verb == Verb::Adjust || !plain {
            return;
        }
        let rank = moment::rank(self.page, self.offset);
        let Some(slot) = compiled.facts().on(car, rank).slot_above(id, place) else { return };
        let view = state::slot(compiled, &slot);
        let Some(value) = view.value().filter(|value| !value.text.contains(", ")) else { return };
        let word = if value.value_si.is_none() && value.text != "off" {
            format!("\"{}\"", value.text)
        } else {
            value.text.clone()
        };
        let when = value.date.as_ref().map_or_else(String::new, |day| format!(", {day}"));
        if matches!(verb, Verb::Set | Verb::Correct) {
            self.add(&format!("{word} -> "), &format!("{}{when}", value.verb), VALUE);
        }
        if verb != Verb::Correct {
            self.add(&word, "as it was", VALUE);
        }
    }

    /// The quantities that a verb may be about.
    fn quantities_of(&mut self, verb: Verb) {
        let book = &self.page.compiled.book;
        for (_, quantity) in book.vocabulary.iter() {
            if verb != Verb::Fill || quantity.is_filled() {
                self.add(&quantity.name, quantity.dimension.name(), NAME);
            }
        }
    }

    fn quantities(&mut self) {
        let book = &self.page.compiled.book;
        for (_, quantity) in book.vocabulary.iter() {
            self.add(&quantity.name, quantity.dimension.name(), NAME);
        }
    }

    /// The places that a quantity has, and those at which this car has had it; none of what is named already, nor what holds it.
    fn places(&mut self, id: QuantityId, named: &[Place]) {
        let compiled = self.page.compiled;
        let quantity = compiled.book.vocabulary.get(id);
        let mut words: Vec<String> = Vec::new();
        let corners = |place: Place| {
            if Place::CORNERS.contains(&place) { vec![place] } else { place.corners().to_vec() }
        };
        let taken = |place: Place| {
            named.contains(&place)
                || named.iter().any(|one| corners(*one).iter().any(|at| corners(place).contains(at)))
        };
        let mut push = |place| {
            words.extend(
                Some(place).filter(|place| !taken(*place)).and_then(|place| answer::place(compiled, place)),
            );
        };
        if quantity.places.has(Places::CORNER) {
            Place::CORNERS.into_iter().chain([Place::FRONT, Place::REAR, Place::ALL]).for_each(&mut push);
        }
        if quantity.places.has(Places::AXLE) {
            [Place::FRONT, Place::REAR].into_iter().for_each(&mut push);
        }
        if let Some(car) = moment::car(self.page, self.offset) {
            let own = compiled.book.cars.get(car);
            if quantity.places.has(Places::CYLINDER) {
                (1..=own.and_then(|car| car.cylinders).unwrap_or(0)).map(Place::cylinder).for_each(&mut push);
            }
            if quantity.places.has(Places::GEAR) {
                (1..=own.and_then(|car| car.gears).unwrap_or(0)).map(Place::gear).for_each(&mut push);
            }
            let slots = compiled.facts().on(car, moment::rank(self.page, self.offset)).slots();
            slots.iter().filter(|slot| slot.quantity == id).for_each(|slot| push(slot.place));
        }
        for (index, word) in words.iter().enumerate() {
            if !words.iter().take(index).any(|other| other == word) {
                self.add(word, "place", WORD);
            }
        }
    }

    fn places_of_car(&mut self) {
        for place in Place::CORNERS.into_iter().chain([Place::FRONT, Place::REAR, Place::LEFT, Place::RIGHT])
        {
            if let Some(word) = answer::place(self.page.compiled, place) {
                self.add(&word, "place", WORD);
            }
        }
    }

    /// Parts as they are where the cursor stands.
    fn parts(&mut self, wanted: impl Fn(PartId, Where) -> bool) {
        let compiled = self.page.compiled;
        let rank = moment::of_parts(self.page, self.offset);
        for (name, thing, _) in compiled.book.names.all() {
            let Thing::Part(id) = thing else { continue };
            let stay = compiled.history.parts.get(id).at(rank);
            if wanted(id, stay.map_or(Where::New, |stay| stay.at)) {
                let typed = compiled.book.typed(thing).unwrap_or(name);
                let kind = compiled.book.kind_of(id).map_or("part", |kind| &*kind.named.typed);
                self.add(typed, kind, NAME);
            }
        }
    }

    /// Gauges that are in date on the day, and people: who or what may stand behind the `by` of a verb.
    fn by(&mut self, verb: Verb) {
        let day = moment::head(self.page, self.offset).map(|head| head.date);
        let book = &self.page.compiled.book;
        for gauge in book.gauges.iter().filter(|_| taken::by_gauge(verb)) {
            let late = gauge.valid_until.zip(day).is_some_and(|(until, day)| until < day);
            if !late {
                self.add(&gauge.named.typed, &gauge.named.title, NAME);
            }
        }
        self.things(if taken::by_client(verb) { &["person", "client"] } else { &["person"] });
    }

    /// Sessions of this car here, and their stages.
    fn sessions(&mut self, stages: bool) {
        let Some(head) = moment::head(self.page, self.offset) else { return };
        let Some(car) = head.car else { return };
        let compiled = self.page.compiled;
        let sessions = compiled.history.sessions.of(car);
        let here = sessions.filter(|(_, one)| match head.event {
            Some(event) => one.event == Some(event),
            None => one.date == head.date,
        });
        for (id, session) in here {
            self.add(compiled.files.text(session.label), "session", NAME);
            let parts = compiled.history.sessions.parts(id).iter().filter(|_| stages);
            for label in parts.filter_map(|part| part.label) {
                self.add(compiled.files.text(label), "stage", NAME);
            }
        }
    }

    /// Jobs of this car; of those, perhaps, only what is still open.
    fn jobs(&mut self, open: bool) {
        let compiled = self.page.compiled;
        let car = moment::car(self.page, self.offset);
        let rank = moment::rank(self.page, self.offset);
        for (id, job) in compiled.history.jobs.of(car) {
            let status = job.at(rank).map(|step| step.status);
            if matches!(status, Some(Status::Done)) || open && status.is_none() {
                continue;
            }
            if let Some(one) = compiled.book.jobs.get(id) {
                self.add(&one.named.typed, &one.named.title, NAME);
            }
        }
    }

    fn things(&mut self, sorts: &[&str]) {
        let book = &self.page.compiled.book;
        for (name, thing, _) in book.names.all() {
            if sorts.contains(&thing.sort()) {
                self.add(book.typed(thing).unwrap_or(name), thing.sort(), NAME);
            }
        }
    }

    fn results(&mut self) {
        for word in RESULT {
            self.add(word, "result", WORD);
        }
    }

    fn add(&mut self, word: &str, detail: &str, kind: u8) {
        if !word.is_empty() {
            self.list.push(Offer { word: word.to_owned(), detail: detail.to_owned(), kind });
        }
    }
}
