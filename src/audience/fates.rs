//! What becomes of every line for a reader, and which of those that he may not read he has to be told of all the same.
//!
//! Must not know how a line is emptied.

use super::Fate;
use super::scope::Scope;
use crate::Compiled;
use crate::book::entry::{Entry, EntryId, Flags, Verb};
use crate::book::model::{CarId, PartId};
use crate::book::tried::Tried;
use crate::book::verbs::VerbGroup;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent};
use crate::ids::Arena;
use crate::vocabulary::QuantityId;
use std::collections::BTreeSet;

/// The lines whose value was put right by a `correct` line of his car that he may not read: what was typed there first was never so, and what
/// was so is not for him.
fn misread(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> BTreeSet<EntryId> {
    let book = &compiled.book;
    let slot = |entry: &Entry| book.head(entry).and_then(|head| head.car).zip(entry.quantity);
    let hidden = |(index, entry): &(EntryId, &Entry)| {
        entry.verb == Verb::Correct
            && fates.get(*index) != Some(&Fate::Read)
            && book
                .head(entry)
                .and_then(|head| head.car)
                .is_some_and(|car| scope.owns(car, scope.rank(*index)))
    };
    if book.corrections.is_empty() {
        return BTreeSet::new();
    }
    let hidden: BTreeSet<(CarId, QuantityId)> =
        book.entries.iter_enumerated().filter(hidden).filter_map(|(_, entry)| slot(entry)).collect();
    let of_hidden =
        |line: &EntryId| book.entries.get(*line).and_then(slot).is_some_and(|slot| hidden.contains(&slot));
    let stated = book.corrections.values().filter(|correction| !correction.typed.is(Flags::OLD));
    stated.map(|correction| correction.line).filter(of_hidden).collect()
}

/// The trials declared of a setting of his car of which some line is not for him: what is planned tells what it stands at.
fn plans_of_hidden(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> Vec<EntryId> {
    let book = &compiled.book;
    let of_plan = |entry: &Entry| match book.extra(entry)?.tried.as_deref()?.of {
        Tried::Setting(quantity) => Some((book.head(entry)?.car?, quantity)),
        Tried::Parts(_) => None,
    };
    let read = |index: EntryId| fates.get(index) == Some(&Fate::Read);
    let all = book.entries.iter_enumerated();
    let plans = all.filter(|(index, entry)| entry.verb == Verb::Try && read(*index));
    let plans: Vec<_> = plans.filter_map(|(index, entry)| Some((index, of_plan(entry)?))).collect();
    if plans.is_empty() {
        return Vec::new();
    }
    let hidden = book.entries.iter_enumerated().filter(|(index, entry)| {
        let says = matches!(entry.verb.group(), VerbGroup::Setting(_) | VerbGroup::Correct);
        let his = |car| scope.owns(car, scope.rank(*index));
        says && !read(*index) && book.head(entry).and_then(|head| head.car).is_some_and(his)
    });
    let hidden: BTreeSet<(CarId, QuantityId)> =
        hidden.filter_map(|(_, entry)| book.head(entry)?.car.zip(entry.quantity)).collect();
    plans.into_iter().filter(|(_, of)| hidden.contains(of)).map(|(index, _)| index).collect()
}

pub(super) fn fates(compiled: &Compiled, scope: &Scope<'_>) -> Arena<EntryId, Fate> {
    let book = &compiled.book;
    let mut fates: Arena<EntryId, Fate> = Arena::with_capacity(book.entries.len());
    for (index, entry) in book.entries.iter_enumerated() {
        let above = entry.parent.and_then(|above| fates.get(above)).copied();
        fates.push(scope.fate(index, entry, above));
    }
    for line in misread(compiled, scope, &fates) {
        if let Some(fate) = fates.get_mut(line).filter(|fate| **fate == Fate::Read) {
            *fate = Fate::Unknown;
        }
    }
    for line in plans_of_hidden(compiled, scope, &fates) {
        if let Some(fate) = fates.get_mut(line) {
            *fate = Fate::Gone;
        }
    }
    // A hidden value makes what was known before it stale; where nothing else is known there is nothing to tell.
    let heard = Heard::of(compiled, &fates);
    for (index, entry) in book.entries.iter_enumerated() {
        if let Some(fate) = fates.get_mut(index).filter(|fate| **fate == Fate::Unknown)
            && !heard.concerns(scope, entry, scope.rank(index))
        {
            *fate = Fate::Gone;
        }
    }
    fates
}

/// What a reader knows a value of: he may read a line that states it, or it is declared.
struct Heard<'a> {
    compiled: &'a Compiled,
    of: BTreeSet<(Owner, QuantityId)>,
    /// Of which he may read a reading: what is set is disturbed by nothing.
    readings: BTreeSet<(Owner, QuantityId)>,
}

impl<'a> Heard<'a> {
    fn of(compiled: &'a Compiled, fates: &Arena<EntryId, Fate>) -> Self {
        let slots = &compiled.history.slots;
        let read = |line: EntryId| fates.get(line) == Some(&Fate::Read);
        let tracks =
            slots.tracks.iter().filter(|track| track.events.iter().any(|event| event.entry.is_none_or(read)));
        let lost = slots.lost.iter().filter(|lost| lost.lines.iter().copied().any(read));
        let mut of: BTreeSet<(Owner, QuantityId)> =
            tracks.map(|track| (track.owner, track.quantity)).collect();
        of.extend(lost.map(|lost| (lost.owner, lost.quantity)));
        of.extend(slots.benches.iter().flat_map(|(part, lines)| {
            let read = lines.iter().filter(move |line| read(**line));
            let quantities = read.filter_map(|line| compiled.book.entries.get(*line)?.quantity);
            quantities.map(|quantity| (Owner::Part(*part), quantity))
        }));
        let gauged = |event: &SlotEvent| event.register() == Register::Read && event.entry.is_some_and(read);
        let readings = slots.tracks.iter().filter(|track| track.events.iter().any(gauged));
        Self { compiled, of, readings: readings.map(|track| (track.owner, track.quantity)).collect() }
    }

    /// Whether a line that he may not read takes something from him that he knew: what it is about, or what it disturbs.
    fn concerns(&self, scope: &Scope<'_>, entry: &Entry, rank: Rank) -> bool {
        let book = &self.compiled.book;
        let Some(quantity) = entry.quantity else { return false };
        if entry.verb == Verb::Bench {
            return !entry.void && entry.part().is_some_and(|part| self.of_bench(part, quantity));
        }
        let Some(car) = book.head(entry).and_then(|head| head.car) else { return false };
        if !scope.owns(car, rank) && !scope.is_away(car, rank) {
            // Of another's car: what a part of his carries there.
            return self.carried(car, quantity, rank);
        }
        if self.on_car(car, quantity, rank) {
            return true;
        }
        // What a session used is of the tank's account too: without the line the account would go by the rate, and be wrong with confidence.
        let tank = ["fuel-used", "fuel-rate"].map(|name| book.vocabulary.find(name));
        let fuel = book.vocabulary.find("fuel").filter(|_| tank.contains(&Some(quantity)));
        if fuel.is_some_and(|fuel| self.on_car(car, fuel, rank)) {
            return true;
        }
        let turned = matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Fill);
        let disturbed = book.vocabulary.iter().filter(|(_, what)| what.feels(quantity));
        turned && disturbed.map(|(id, _)| id).any(|id| self.was_read(car, id, rank))
    }

    /// Whether he knows a value of the car's own, or of a part's that is on it then.
    fn on_car(&self, car: CarId, quantity: QuantityId, rank: Rank) -> bool {
        self.of.contains(&(Owner::Car(car), quantity)) || self.carried(car, quantity, rank)
    }

    /// Whether he knows a reading of the car, or of a part that is on it then.
    fn was_read(&self, car: CarId, quantity: QuantityId, rank: Rank) -> bool {
        let (book, history) = (&self.compiled.book, &self.compiled.history);
        let parts = history.slots.carrying(book, &history.parts).carried_on(car, quantity, rank);
        let mut owners = parts.into_iter().map(Owner::Part).chain([Owner::Car(car)]);
        owners.any(|owner| self.readings.contains(&(owner, quantity)))
    }

    /// Whether he knows a value of a part's that is on a car then.
    fn carried(&self, car: CarId, quantity: QuantityId, rank: Rank) -> bool {
        let (book, history) = (&self.compiled.book, &self.compiled.history);
        let parts = history.slots.carrying(book, &history.parts).carried_on(car, quantity, rank);
        parts.into_iter().any(|part| self.of_part(part, quantity))
    }

    fn of_part(&self, part: PartId, quantity: QuantityId) -> bool {
        self.of.contains(&(Owner::Part(part), quantity)) || self.tags(part).any(|tag| tag == quantity)
    }

    /// What the bench says of a part stands before its tag and before its shape, and that is made of any of its tags.
    fn of_bench(&self, part: PartId, quantity: QuantityId) -> bool {
        self.of.contains(&(Owner::Part(part), quantity)) || self.tags(part).next().is_some()
    }

    /// What a part, or its spec, is tagged with.
    fn tags(&self, part: PartId) -> impl Iterator<Item = QuantityId> {
        let book = &self.compiled.book;
        let part = book.parts.get(part);
        let spec = part.and_then(|part| book.specs.get(part.spec?));
        let own = part.into_iter().flat_map(|part| &part.tags);
        own.chain(spec.into_iter().flat_map(|spec| &spec.tags)).map(|(quantity, _)| *quantity)
    }
}
