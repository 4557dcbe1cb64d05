//! `title-names-client`: a name or title that everybody reads names a client, or somebody who drives for one.

use crate::book::entry::{By, Verb};
use crate::book::model::{Named, PersonId};
use crate::book::phrases::{Phrases, words};
use crate::book::telling::{Ordinary, telling};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::source::Span;
use std::collections::BTreeSet;

/// The check.
pub const CHECK: Check = Check {
    name: "title-names-client",
    severity: Severity::Warning,
    family: Family::Words,
    brief: "the name or title of an event, a kind or another thing that everybody reads names a client",
    why: "Circuits, events, gauges, kinds, specs, quantities, positions and rules are everybody's: they stand on the pages of every \
          client and in the book that goes with a car to its buyer. A client who is named in one, or somebody who drives \
          for one, is covered there with underscores, and whoever reads them sees that something is. Call the thing by what it is.",
    wrong: "client orr \"The Orr family\"\nevent pell-1 2026-05-10 \"the Orrs' day at Pell Hill\"",
    right: "client orr \"The Orr family\"\nevent pell-1 2026-05-10 \"a private day at Pell Hill\"",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let book = cx.book;
    if book.clients.is_empty() {
        return;
    }
    let names = Folk::of(cx);
    let mut see = |sort: &str, texts: &[&str], at: Span| out.extend(names.message(cx, sort, texts, at));
    let mut named = |sort: &str, named: &Named| see(sort, &[&named.typed, &named.title], named.declared);
    book.circuits.iter().for_each(|one| named("circuit", &one.named));
    book.events.iter().for_each(|one| named("event", &one.named));
    book.gauges.iter().for_each(|one| named("gauge", &one.named));
    book.kinds.iter().for_each(|one| named("kind", &one.named));
    book.specs.iter().for_each(|one| named("spec", &one.named));
    for rule in &book.rules {
        see("rule", &[&rule.named.typed, &rule.named.title, &rule.class], rule.named.declared);
    }
    for (_, quantity) in book.vocabulary.iter() {
        if let Some(at) = quantity.declared {
            see("quantity", &[&quantity.name, &quantity.sentence], at);
        }
    }
    for position in &book.names.positions {
        if let Some(at) = book.names.declared(position) {
            see("position", &[position], at);
        }
    }
}

/// Clients and those who drive for them, to be found in titles.
struct Folk<'a> {
    phrases: Phrases,
    /// By owner: the name, and what he is.
    owners: Vec<(&'a str, &'static str)>,
}

impl<'a> Folk<'a> {
    fn of(cx: &Context<'a>) -> Self {
        let book = cx.book;
        let ordinary = Ordinary::of(book);
        let shop = telling(&book.shop.title);
        let mut all = Self { phrases: Phrases::default(), owners: Vec::new() };
        let clients = book.clients.iter().map(|client| (&client.named, "the client"));
        let people = drivers(cx).into_iter().filter_map(|id| book.people.get(id));
        let people = people.map(|person| (&person.named, "who drives for a client:"));
        for (named, what) in clients.chain(people) {
            let owner = all.owners.len() as u32;
            all.owners.push((&named.typed, what));
            let spared = |word: &str| ordinary.has(word) || shop.iter().any(|own| own == word);
            for text in [&*named.name, &named.title].into_iter().map(str::to_owned).chain(telling(&named.title)) {
                if !words(&text).iter().all(|word| spared(word)) {
                    all.phrases.add(&text, owner, spared);
                }
            }
        }
        all
    }

    fn message(&self, cx: &Context<'_>, sort: &str, texts: &[&str], declared: Span) -> Option<Diagnostic> {
        let line = cx.text(declared);
        let (text, found) = texts.iter().find_map(|text| Some((*text, self.phrases.find(text).into_iter().next()?)))?;
        let (name, what) = self.owners.get(found.owner as usize)?;
        let word = text.get(found.at.clone())?;
        let at = line.find(text).map_or(declared, |start| {
            let start = declared.start + (start + found.at.start) as u32;
            Span::new(declared.file, start, start + found.at.len() as u32)
        });
        let message = format!("`{word}` names {what} `{name}`, and everybody reads what this {sort} is called.");
        Some(CHECK.at(at, message).cure("call it by what it is, not by whose it is"))
    }
}

/// People who drove a client's car, the shop's own people left out.
fn drivers(cx: &Context<'_>) -> BTreeSet<PersonId> {
    let book = cx.book;
    let runs = book.entries.iter().filter(|entry| entry.verb == Verb::Run);
    let of_client = runs.filter(|entry| {
        let car = book.head(entry).and_then(|head| book.cars.get(head.car?));
        car.is_some_and(|car| car.client.is_some())
    });
    let person = |by: By| if let By::Person(person) = by { Some(person) } else { None };
    let mut drivers: BTreeSet<PersonId> = of_client.filter_map(|entry| person(entry.by)).collect();
    for head in book.heads.iter().filter(|head| head.car.is_none()) {
        if let Some(person) = head.person {
            drivers.remove(&person);
        }
    }
    drivers
}
