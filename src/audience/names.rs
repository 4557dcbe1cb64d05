//! Whose names a reader may not have, as the one mask that every text of his goes through.
//!
//! Hidden are other clients, with the words of their titles that tell who they are; people who drive or work for them; their cars;
//! and the parts, jobs and named setups he has nothing to do with. Spared is whatever names something of his own, the shop's own
//! name, and ordinary words. Must not know texts.

use super::mask::{Mask, Own};
use super::policy::HEAD;
use super::scope::{Scope, is_everyones};
use super::{Fate, Reader};
use crate::Compiled;
use crate::book::entry::{By, Entry, EntryId, Verb};
use crate::book::model::{Baseline, BaselineId, ClientId, JobId, Named, PartId, PersonId};
use crate::book::phrases::words;
use crate::book::telling::{Ordinary, telling};
use crate::history::moment;
use crate::ids::Arena;
use std::collections::BTreeSet;

/// What of the book is his to know by name.
pub(super) struct Known {
    /// People on lines that he may read, and the shop's own.
    pub(super) people: BTreeSet<PersonId>,
    /// Jobs of his cars.
    pub(super) jobs: BTreeSet<JobId>,
    /// Jobs whose opening line he may read.
    pub(super) opened: BTreeSet<JobId>,
    /// Parts named on lines that he may read, though he has nothing else to do with them.
    pub(super) parts: BTreeSet<PartId>,
    /// Named setups of his cars while they were his.
    pub(super) baselines: BTreeSet<BaselineId>,
}

impl Known {
    pub(super) fn new(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> Self {
        Self {
            people: people(compiled, scope, fates),
            jobs: jobs(compiled, scope, fates),
            opened: opened(compiled, fates),
            parts: parts(compiled, scope, fates),
            baselines: baselines(compiled, scope),
        }
    }
}

/// The mask for a reader.
pub(super) fn mask(compiled: &Compiled, scope: &Scope<'_>, known: &Known) -> Mask {
    let book = &compiled.book;
    let ordinary = Ordinary::of(book);
    let own = own(compiled, scope, known);
    // People he knows may share a first name with one he does not; no client's name is laid open by them.
    let mut folk = own.clone();
    let people = known.people.iter().filter_map(|person| book.people.get(*person));
    folk.words.extend(people.flat_map(|person| telling(&person.named.title)).map(|word| vec![word]));
    let mut mask = Mask::default();
    for (index, client) in book.clients.iter_enumerated() {
        if !scope.is_self(index) {
            mask.person(&client.named, &ordinary, &own);
        }
    }
    let staff = staff(compiled);
    for (index, person) in book.people.iter_enumerated() {
        let id = index;
        if !known.people.contains(&id) && !staff.contains(&id) && !is_his(compiled, scope, id) {
            mask.person(&person.named, &ordinary, &folk);
        }
    }
    for (index, car) in book.cars.iter_enumerated() {
        if !scope.knows(index) {
            mask.person_name(&car.named.name, &ordinary, &own);
            mask.title(&car.named.title, &ordinary, &own);
            // `Wren, the saloon`: what stands before the comma is what it is called.
            mask.title(car.named.title.split(',').next().unwrap_or_default(), &ordinary, &own);
        }
    }
    for (index, part) in book.parts.iter_enumerated() {
        if !known.parts.contains(&index) {
            mask.name(&part.named.name, &ordinary, &own);
            // A short number is no name: it may be any reading.
            let tells = part.serial.chars().any(char::is_alphabetic) && part.serial.len() >= 3;
            if tells || part.serial.len() >= 5 {
                mask.name(&part.serial, &ordinary, &own);
            }
        }
    }
    for (index, job) in book.jobs.iter_enumerated() {
        if !known.jobs.contains(&index) {
            mask.name(&job.named.name, &ordinary, &own);
        }
    }
    for (index, setup) in book.baselines.iter_enumerated() {
        if !known.baselines.contains(&index) {
            // What a setup is called in words, as a job is, is a sentence that may stand in anybody's line.
            mask.name(&setup.named.name, &ordinary, &own);
        }
    }
    mask
}

/// The reader himself, at the wheel of his own car.
fn is_his(compiled: &Compiled, scope: &Scope<'_>, person: PersonId) -> bool {
    let whose = compiled.book.names.client_people.iter().position(|one| *one == person);
    whose.is_some_and(|client| scope.is_self(ClientId::from(client)))
}

/// Names that are his own to read: no other's name takes them away.
fn own(compiled: &Compiled, scope: &Scope<'_>, known: &Known) -> Own {
    let book = &compiled.book;
    let mut own = Own::default();
    let mut whole = |text: &str| {
        own.names.insert(words(text));
    };
    let selves = book.clients.keys().filter(|client| scope.is_self(*client));
    let selves: Vec<&Named> = selves.map(|client| &book.clients[client].named).collect();
    for named in &selves {
        whole(&named.name);
        whole(&named.title);
    }
    whole(&book.shop.title);
    for person in known.people.iter().filter_map(|person| book.people.get(*person)) {
        whole(&person.named.name);
        whole(&person.named.title);
    }
    for (index, car) in book.cars.iter_enumerated() {
        if scope.knows(index) {
            whole(&car.named.name);
            whole(&car.named.title);
            whole(car.named.title.split(',').next().unwrap_or_default());
        }
    }
    for part in known.parts.iter().filter_map(|part| book.parts.get(*part)) {
        whole(&part.named.name);
        whole(&part.serial);
    }
    for job in known.jobs.iter().filter_map(|job| book.jobs.get(*job)) {
        whole(&job.named.name);
    }
    for setup in known.baselines.iter().filter_map(|setup| book.baselines.get(*setup)) {
        whole(&setup.named.name);
    }
    // The words that tell who he is, and who the shop is, are his whoever else has them.
    for title in selves.iter().map(|named| &named.title).chain([&book.shop.title]) {
        own.names.extend(telling(title).into_iter().map(|word| vec![word]));
    }
    own
}

/// His parts, and those that a line he may read names.
fn parts(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> BTreeSet<PartId> {
    let mut named = scope.parts.clone();
    for (entry, _) in compiled.book.entries.iter().zip(fates).filter(|(_, fate)| **fate == Fate::Read) {
        let facts = compiled.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        named.extend(facts.into_iter().flat_map(|facts| facts.more.iter().chain(&facts.other)));
        named.extend(entry.part().filter(|_| !entry.verb.is_about_job()));
    }
    named
}

/// Jobs whose opening line he may read.
fn opened(compiled: &Compiled, fates: &Arena<EntryId, Fate>) -> BTreeSet<JobId> {
    let read = compiled.book.entries.iter().zip(fates).filter(|(_, fate)| **fate == Fate::Read);
    read.filter(|(entry, _)| entry.verb == Verb::Job).filter_map(|(entry, _)| entry.job()).collect()
}

/// People named on lines and heads that he may read.
fn people(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> BTreeSet<PersonId> {
    let mut seen = BTreeSet::new();
    let his = |(entry, fate): &(&Entry, &Fate)| **fate == Fate::Read && !is_everyones(entry);
    for (entry, _) in compiled.book.entries.iter().zip(fates).filter(his) {
        if let By::Person(person) = entry.by {
            seen.insert(person);
        }
        if let Some(head) = compiled.book.head(entry)
            && HEAD >= scope.reader.level()
        {
            seen.extend(head.person);
        }
    }
    // Another client may stand on such a line; he stays another client.
    seen.retain(|person| {
        let whose = compiled.book.names.client_people.iter().position(|one| one == person);
        whose.is_none_or(|client| scope.is_self(ClientId::from(client)))
    });
    seen
}

/// Who works in the shop: he stands on its own blocks and never drives.
fn staff(compiled: &Compiled) -> BTreeSet<PersonId> {
    let book = &compiled.book;
    let mut works = BTreeSet::new();
    let mut drives = BTreeSet::new();
    for head in book.heads.iter().filter(|head| head.car.is_none()) {
        works.extend(head.person);
    }
    for entry in &book.entries {
        let By::Person(person) = entry.by else { continue };
        if entry.verb == Verb::Run {
            drives.insert(person);
        } else if book.head(entry).is_some_and(|head| head.car.is_none()) {
            works.insert(person);
        }
    }
    works.retain(|person| !drives.contains(person) && !book.names.client_people.contains(person));
    works
}

/// Jobs that a line about a car of his says something of.
fn jobs(compiled: &Compiled, scope: &Scope<'_>, fates: &Arena<EntryId, Fate>) -> BTreeSet<JobId> {
    let entries = compiled.book.entries.iter().zip(fates);
    let told = entries.filter(|(entry, fate)| {
        let car = compiled.book.head(entry).and_then(|head| head.car);
        car.is_some_and(|car| scope.knows(car)) && matches!(fate, Fate::Read | Fate::Fact)
    });
    told.filter_map(|(entry, _)| entry.job()).filter(|job| scope.has_job(*job)).collect()
}

/// Named setups that are his: a named setup is the shop's word for it, and whose car it was then may have it.
fn baselines(compiled: &Compiled, scope: &Scope<'_>) -> BTreeSet<BaselineId> {
    let client = matches!(scope.reader, Reader::Client(_));
    let his = |setup: &Baseline| {
        let (Some(car), true) = (setup.car, client) else { return false };
        let typed = compiled.files.text(setup.moment);
        let then = moment::parse(&compiled.book, &compiled.files, &compiled.history, car, typed).ok();
        then.is_some_and(|then| scope.owns(car, then.rank))
    };
    let all = compiled.book.baselines.iter_enumerated();
    all.filter(|(_, setup)| his(setup)).map(|(index, _)| index).collect()
}
