//! What may stand next: the words of the language where one is due, else what this book has for the slot.
//!
//! Must not know how a line is read: the slot is the words before it.

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
use crate::book::verbs::{JobVerb, PartVerb, StretchVerb, VerbGroup};
use crate::history::jobs::Status;
use crate::history::parts::Where;
use crate::vocabulary::{Places, QuantityId};
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
                for verb in Verb::ALL.iter().filter(|verb| !matches!(verb, Verb::Note)) {
                    self.add(verb.word(), "verb", WORD);
                }
            }
            Slot::Entry(verb, words) => self.entry(*verb, words),
        }
    }

    fn entry(&mut self, verb: Verb, words: &[&str]) {
        let last = words.last().map(|word| folded(word));
        match last.as_deref() {
            Some("by") => return self.by(),
            Some(word @ ("during" | "after")) => return self.sessions(word == "during"),
            Some("at") => return self.things(&["event", "circuit"]),
            Some("on") => return self.jobs(false),
            Some("into") => return self.parts(|_, _| true),
            Some("to") if verb == Verb::Move => return self.places_of_car(),
            Some("to") => return self.things(&["client"]),
            Some("for") => {
                return crate::book::entry::Audience::ALL
                    .iter()
                    .for_each(|one| self.add(one.word(), "reader", WORD));
            }
            _ => {}
        }
        match verb.group() {
            VerbGroup::Setting(_) => self.setting(words, 0),
            VerbGroup::Bench if words.is_empty() => self.parts(|_, _| true),
            VerbGroup::Bench => self.setting(words, 1),
            VerbGroup::Part(part) => match words {
                [] => self.of_part_verb(part),
                [part] => self.part_places(part),
                _ => self.clauses(),
            },
            VerbGroup::Job(JobVerb::Done | JobVerb::Defer | JobVerb::Promise) if words.is_empty() => {
                self.jobs(true);
            }
            VerbGroup::Waive if words.is_empty() => {
                for check in crate::check::CHECKS.iter() {
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
                self.clauses();
            }
            VerbGroup::Correct => self.setting(words, 0),
            VerbGroup::Try if words.is_empty() => {
                self.quantities();
                self.things(&["kind of part"]);
            }
            VerbGroup::Try => self.clauses(),
            VerbGroup::Compare if words.is_empty() => self.things(&["gauge"]),
            VerbGroup::Row(_) | VerbGroup::Note | VerbGroup::Void => {}
            VerbGroup::Job(JobVerb::Job | JobVerb::Done | JobVerb::Defer | JobVerb::Promise)
            | VerbGroup::Waive
            | VerbGroup::Hit
            | VerbGroup::Compare
            | VerbGroup::Run
            | VerbGroup::Stretch(StretchVerb::Stint | StretchVerb::Stage | StretchVerb::Stop)
            | VerbGroup::Laps
            | VerbGroup::Words
            | VerbGroup::Stock(_)
            | VerbGroup::Handed
            | VerbGroup::Cost => self.clauses(),
        }
    }

    /// A line about a quantity: its name, its place, the value it has, a unit. `skip` words come before the quantity.
    fn setting(&mut self, words: &[&str], skip: usize) {
        // What was read of a part on the bench is no slot of the car.
        let of_car = skip == 0;
        let words = words.get(skip..).unwrap_or_default();
        let vocabulary = &self.page.compiled.book.vocabulary;
        let Some((first, rest)) = words.split_first() else { return self.quantities() };
        let Some(id) = vocabulary.find(&folded(first)) else { return };
        let last = rest.last().copied();
        let place = last.and_then(|word| self.page.compiled.book.names.place(word));
        match (last, place) {
            (None, _) => {
                if of_car {
                    self.old_value(id, Place::CAR);
                }
                self.places(id);
            }
            (Some(_), Some(place)) if of_car => self.old_value(id, place),
            (Some(_), Some(_)) | (Some("->" | ","), None) => {}
            (Some(word), None) if word.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c)) => {
                for unit in vocabulary.get(id).dimension.get().usual {
                    self.add(unit, "unit", WORD);
                }
                self.clauses();
            }
            _ => {
                self.places(id);
                self.clauses();
            }
        }
    }

    /// What the slot holds, ready to be changed.
    fn old_value(&mut self, id: QuantityId, place: Place) {
        let Some(car) = moment::car(self.page, self.offset) else { return };
        let compiled = self.page.compiled;
        let Some(slot) = compiled.facts().on(car, moment::rank(self.page, self.offset)).slot(id, place)
        else {
            return;
        };
        let view = state::slot(compiled, &slot);
        let Some(value) = view.value() else { return };
        let when = value.date.as_ref().map_or_else(String::new, |day| format!(", {day}"));
        self.add(&format!("{} -> ", value.text), &format!("{}{when}", value.verb), VALUE);
        self.add(&value.text, "as it was", VALUE);
    }

    fn quantities(&mut self) {
        let book = &self.page.compiled.book;
        for (_, quantity) in book.vocabulary.iter() {
            self.add(&quantity.name, quantity.dimension.name(), NAME);
        }
    }

    /// The places that a quantity has, and those at which this car has had it.
    fn places(&mut self, id: QuantityId) {
        let compiled = self.page.compiled;
        let quantity = compiled.book.vocabulary.get(id);
        let mut words: Vec<String> = Vec::new();
        let mut push = |place| words.extend(answer::place(compiled, place));
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

    fn of_part_verb(&mut self, verb: PartVerb) {
        let car = moment::car(self.page, self.offset);
        let compiled = self.page.compiled;
        match verb {
            PartVerb::Fit => self.parts(|part, now| {
                let fits = car.is_none_or(|car| goes_on(compiled, part, car));
                matches!(now, Where::New | Where::Shelf) && fits
            }),
            PartVerb::Remove | PartVerb::Swap | PartVerb::Move | PartVerb::Failed => {
                self.parts(|_, now| matches!(now, Where::Car(on, _) if car == Some(on)));
            }
            PartVerb::Release => self.parts(|_, now| now == Where::Quarantine),
            PartVerb::Build
            | PartVerb::Strip
            | PartVerb::Rebuild
            | PartVerb::Shelve
            | PartVerb::Quarantine
            | PartVerb::Scrap
            | PartVerb::Buy
            | PartVerb::Sell
            | PartVerb::Lend
            | PartVerb::Borrow
            | PartVerb::Return
            | PartVerb::Inspect
            | PartVerb::Service => self.parts(|_, now| !matches!(now, Where::Scrapped | Where::Sold)),
        }
    }

    /// Where a part goes on this car.
    fn part_places(&mut self, part: &str) {
        let book = &self.page.compiled.book;
        let car = moment::car(self.page, self.offset);
        if let Some(Thing::Part(part)) = book.names.find(part) {
            let fits = book.kind_of(part).map(|kind| kind.fits.as_slice()).unwrap_or_default();
            for place in fits.iter().filter(|fit| fit.on(car)).flat_map(|fit| &fit.places) {
                if let Some(word) = answer::place(self.page.compiled, *place) {
                    self.add(&word, "place", WORD);
                }
            }
        }
        self.clauses();
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

    /// Gauges that are in date on the day, and people.
    fn by(&mut self) {
        let day = moment::head(self.page, self.offset).map(|head| head.date);
        let book = &self.page.compiled.book;
        for gauge in &book.gauges {
            let late = gauge.valid_until.zip(day).is_some_and(|(until, day)| until < day);
            if !late {
                self.add(&gauge.named.typed, &gauge.named.title, NAME);
            }
        }
        self.things(&["person", "client"]);
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
            if open && matches!(status, None | Some(Status::Done)) {
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

    fn clauses(&mut self) {
        for word in crate::book::CLAUSES {
            self.add(word, "clause", WORD);
        }
    }

    fn add(&mut self, word: &str, detail: &str, kind: u8) {
        if !word.is_empty() {
            self.list.push(Offer { word: word.to_owned(), detail: detail.to_owned(), kind });
        }
    }
}

/// Whether a part's kind goes on a car.
fn goes_on(compiled: &crate::Compiled, part: PartId, car: crate::book::model::CarId) -> bool {
    let kind = compiled.book.kind_of(part);
    kind.is_some_and(|kind| kind.fits.is_empty() || kind.fits.iter().any(|fit| fit.on(car)))
}
