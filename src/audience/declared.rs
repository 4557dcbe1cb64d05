//! Declarations emptied of what is not the reader's: other clients and their cars, prices, rates, named setups, jobs.
//!
//! What a shop declares of places, gauges, kinds, specs, quantities and rules is everyone's. Must not know texts.

use super::scope::Scope;
use super::{Fate, Reader};
use crate::Compiled;
use crate::book::Book;
use crate::book::entry::{By, Verb};
use crate::book::model::{Car, CarId, ClientId, JobId, Named, PartId, PersonId};
use crate::history::moment;
use std::collections::BTreeSet;

fn rename(named: &mut Named, words: &str) {
    words.clone_into(&mut named.title);
    named.typed = words.into();
    named.name = words.into();
}

/// A car that is not his: it has no name, and nothing is known of it.
pub(super) fn nameless(car: &mut Car) {
    rename(&mut car.named, "another car");
    car.withheld = true;
    car.client = None;
    car.class.clear();
    car.drive.clear();
    car.reference.clear();
    car.about.clear();
    car.opening.clear();
}

/// Empties the model's declarations.
pub(super) fn scrub(book: &mut Book, compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) {
    let prices = matches!(scope.reader, Reader::Buyer(purchase) if purchase.prices);
    let client = matches!(scope.reader, Reader::Client(_));
    for (index, car) in book.cars.iter_mut().enumerate() {
        if scope.knows(CarId(index as u32)) {
            if car.client.is_some_and(|client| !scope.is_self(client)) {
                car.client = None;
            }
            continue;
        }
        nameless(car);
    }
    for (index, person) in book.clients.iter_mut().enumerate() {
        if !scope.is_self(ClientId(index as u32)) {
            rename(&mut person.named, "another client");
            person.rate = None;
            person.unbilled = false;
        }
    }
    let seen = people(compiled, scope, fates);
    for (index, person) in book.people.iter_mut().enumerate() {
        let id = PersonId(index as u32);
        let whose = compiled.book.names.client_people.iter().position(|one| *one == id);
        let other = whose.is_some_and(|client| !scope.is_self(ClientId(client as u32)));
        if other || !seen.contains(&id) {
            rename(&mut person.named, if other { "another client" } else { "somebody" });
            person.role.clear();
        }
    }
    for kind in &mut book.kinds {
        // What a failure costs the shop's clients at large is the shop's own reckoning.
        kind.failure_costs = None;
    }
    if !client {
        book.shop.rate = None;
        book.exchanges.clear();
        for one in &mut book.clients {
            one.rate = None;
        }
    }
    for (index, part) in book.parts.iter_mut().enumerate() {
        let id = PartId(index as u32);
        let mine = scope.parts.contains(&id);
        if !mine {
            rename(&mut part.named, "another part");
            part.withheld = true;
            part.serial.clear();
            part.tags.clear();
            part.opening.clear();
        }
        if !(prices && scope.going.contains(&id) || client && scope.pays_for(id)) {
            part.price = None;
        }
    }
    let paid = scope
        .parts
        .iter()
        .filter(|part| if client { scope.pays_for(**part) } else { scope.going.contains(part) });
    let specs: BTreeSet<u32> =
        paid.filter_map(|part| compiled.book.parts.get(part.0 as usize)?.spec).map(|spec| spec.0).collect();
    for (index, spec) in book.specs.iter_mut().enumerate() {
        if !((prices || client) && specs.contains(&(index as u32))) {
            spec.price = None;
        }
    }
    for setup in &mut book.baselines {
        // A named setup is the shop's word for it; whose car it was then may have it.
        let history = &compiled.history;
        let typed = compiled.files.text(setup.moment);
        let then = moment::parse(&compiled.book, &compiled.files, history, setup.car, typed).ok();
        if !(client && then.is_some_and(|then| scope.owns(setup.car, then.rank))) {
            rename(&mut setup.named, "a named setup");
            setup.car = CarId(u32::MAX);
            setup.moment = crate::source::Span::new(setup.moment.file, 0, 0);
        }
    }
    jobs(book, compiled, scope, fates);
    for event in &mut book.events {
        // Named cars that he does not know leave the event closed to his own, not open to all.
        event.entered.iter_mut().for_each(|entered| entered.retain(|car| scope.knows(*car)));
    }
}

/// Jobs that a line about a car of his says something of.
pub(super) fn known_jobs(compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) -> BTreeSet<JobId> {
    let entries = compiled.book.entries.iter().zip(fates);
    let told = entries.filter(|(entry, fate)| {
        let car = compiled.book.head(entry).and_then(|head| head.car);
        car.is_some_and(|car| scope.knows(car)) && matches!(fate, Fate::Read | Fate::Fact)
    });
    told.filter_map(|(entry, _)| entry.job()).collect()
}

/// Jobs of his cars keep their names; their words only where the line that opens them is his to read.
fn jobs(book: &mut Book, compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) {
    let known = known_jobs(compiled, scope, fates);
    let mut read: BTreeSet<JobId> = BTreeSet::new();
    for (index, entry) in compiled.book.entries.iter().enumerate() {
        let Some(job) = entry.job() else { continue };
        if entry.verb == Verb::Job && fates[index] == Fate::Read {
            read.insert(job);
        }
    }
    for (index, job) in book.jobs.iter_mut().enumerate() {
        let id = JobId(index as u32);
        if !known.contains(&id) {
            rename(&mut job.named, "another job");
        } else if !read.contains(&id) {
            job.named.title = job.named.typed.to_string();
        }
    }
}

/// People named on lines and heads that he may read.
fn people(compiled: &Compiled, scope: &Scope<'_>, fates: &[Fate]) -> BTreeSet<PersonId> {
    let mut seen = BTreeSet::new();
    for (entry, fate) in compiled.book.entries.iter().zip(fates) {
        if *fate != Fate::Read {
            continue;
        }
        if let By::Person(person) = entry.by {
            seen.insert(person);
        }
        if let Some(head) = compiled.book.head(entry)
            && super::policy::HEAD >= scope.reader.level()
        {
            seen.extend(head.person);
        }
    }
    seen
}
