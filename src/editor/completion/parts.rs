//! The parts that a verb may be about where they are, and how its line goes on.
//!
//! Must not know how parts get where they are: history says where each is.

use super::{NAME, Offers, WORD};
use crate::answer;
use crate::book::model::{CarId, KindId, PartId};
use crate::book::names::Thing;
use crate::book::verbs::PartVerb;
use crate::editor::moment;
use crate::history::parts::Where;

impl Offers<'_> {
    /// A line about a part.
    pub(super) fn of_part(&mut self, verb: PartVerb, words: &[&str]) {
        let car = moment::car(self.page, self.offset);
        let compiled = self.page.compiled;
        let kind = |of: &Self, name: &str| compiled.book.parts.get(of.part(name)?)?.kind;
        if verb == PartVerb::Swap {
            return self.swap(car, words);
        }
        let Some((first, rest)) = words.split_first() else { return self.subject(verb, car) };
        if verb == PartVerb::Move {
            match rest {
                [] => self.add("->", "to", WORD),
                ["->"] => self.things(&["car"]),
                ["->", to] => {
                    if let Some(Thing::Car(car)) = compiled.book.names.find(to) {
                        self.kind_places(car, kind(self, first));
                    }
                }
                _ => self.clauses(verb.into(), words),
            }
            return;
        }
        if let (PartVerb::Fit, [], Some(car)) = (verb, rest, car) {
            self.kind_places(car, kind(self, first));
        }
        if matches!(verb, PartVerb::Remove | PartVerb::Inspect | PartVerb::Strip) && rest.is_empty() {
            self.add("good", "verdict", WORD);
            self.add("failed", "verdict", WORD);
        }
        self.clauses(verb.into(), words);
    }

    fn part(&self, name: &str) -> Option<PartId> {
        match self.page.compiled.book.names.find(name) {
            Some(Thing::Part(part)) => Some(part),
            _ => None,
        }
    }

    /// What may be said of it where it is: nobody fits what is on a car, or brings back what is not away.
    fn subject(&mut self, verb: PartVerb, car: Option<CarId>) {
        let compiled = self.page.compiled;
        let (book, parts) = (&compiled.book, &compiled.history.parts);
        let rank = moment::of_parts(self.page, self.offset);
        let lies = |now: Where| matches!(now, Where::New | Where::Shelf);
        let here = |now: Where| !now.is_gone() && now != Where::Lent;
        let shops = |part: PartId| parts.get(part).is_shops(rank) && parts.get(part).owner_at(rank).is_none();
        match verb {
            PartVerb::Fit => {
                let Some(car) = car else { return };
                self.parts(|part, now| {
                    lies(now) && goes_on(compiled, part, car) && parts.may_go_on(book, part, car, rank)
                });
            }
            PartVerb::Remove | PartVerb::Move | PartVerb::Failed | PartVerb::Swap => {
                self.parts(|_, now| matches!(now, Where::Car(on, _) if car == Some(on)));
            }
            PartVerb::Release => self.parts(|_, now| now == Where::Quarantine),
            PartVerb::Return => self.parts(|part, _| parts.get(part).loan(rank).is_some()),
            PartVerb::Borrow => self.parts(|_, now| now == Where::New || now == Where::Returned),
            PartVerb::Buy => self.parts(|part, now| now == Where::New || parts.get(part).is_borrowed(rank)),
            PartVerb::Lend => self.parts(|part, now| lies(now) && shops(part)),
            PartVerb::Sell => self.parts(|part, now| here(now) && shops(part)),
            PartVerb::Build => self.parts(|part, now| {
                lies(now) && book.kind_of(part).is_some_and(|kind| !kind.inside.is_empty())
            }),
            PartVerb::Strip => self.parts(|_, now| matches!(now, Where::Inside(_))),
            PartVerb::Shelve => self.parts(|_, now| lies(now) || now == Where::Failed),
            PartVerb::Scrap => {
                self.parts(|_, now| lies(now) || matches!(now, Where::Failed | Where::Quarantine));
            }
            PartVerb::Rebuild | PartVerb::Quarantine | PartVerb::Inspect | PartVerb::Service => {
                self.parts(|_, now| here(now));
            }
        }
    }

    /// Where a kind goes on a car.
    fn kind_places(&mut self, car: CarId, kind: Option<KindId>) {
        let compiled = self.page.compiled;
        let kind = kind.and_then(|kind| compiled.book.kinds.get(kind));
        let fits = kind.map(|kind| kind.fits.as_slice()).unwrap_or_default();
        for place in fits.iter().filter(|fit| fit.on(car)).flat_map(|fit| &fit.places) {
            if let Some(word) = answer::place(compiled, *place) {
                self.add(&word, "place", WORD);
            }
        }
    }

    /// `swap KIND PLACE OLD -> NEW`.
    fn swap(&mut self, car: Option<CarId>, words: &[&str]) {
        let Some(car) = car else { return };
        let compiled = self.page.compiled;
        let (book, parts) = (&compiled.book, &compiled.history.parts);
        let rank = moment::of_parts(self.page, self.offset);
        let on = |kind: KindId| {
            let there = parts.places_of(car).iter().filter(move |(of, _)| *of == kind);
            there.filter_map(move |(kind, place)| Some((*place, parts.holder(car, *kind, *place, rank)?)))
        };
        let Some((first, rest)) = words.split_first() else {
            let kinds: Vec<&str> = book
                .kinds
                .iter_enumerated()
                .filter(|(kind, _)| on(*kind).next().is_some())
                .map(|(_, kind)| &*kind.named.typed)
                .collect();
            return kinds.into_iter().for_each(|kind| self.add(kind, "kind of part", NAME));
        };
        let Some(Thing::Kind(kind)) = book.names.find(first) else { return };
        let is_part = |word: &&&str| self.part(word).is_some();
        match (rest.last(), rest.contains(&"->"), rest.iter().find(is_part)) {
            (Some(&"->"), ..) => self.parts(|part, now| {
                let same = book.parts.get(part).is_some_and(|part| part.kind == Some(kind));
                same && matches!(now, Where::New | Where::Shelf) && parts.may_go_on(book, part, car, rank)
            }),
            (_, true, _) => self.clauses(PartVerb::Swap.into(), words),
            (_, false, Some(_)) => self.add("->", "to", WORD),
            (last, false, None) => {
                let place = last.and_then(|word| book.names.place(word));
                let there: Vec<_> =
                    on(kind).filter(|(at, _)| place.is_none_or(|place| place == *at)).collect();
                if last.is_none() {
                    for word in there.iter().filter_map(|(place, _)| answer::place(compiled, *place)) {
                        self.add(&word, "place", WORD);
                    }
                }
                self.parts(|part, _| there.iter().any(|(_, on)| *on == part));
            }
        }
    }

    /// Behind `into` the assemblies that the part lives in, behind `from` the one that it is in.
    pub(super) fn assemblies(&mut self, verb: crate::book::entry::Verb, words: &[&str]) {
        let Some(part) = words.first().and_then(|word| self.part(word)) else { return };
        let compiled = self.page.compiled;
        let rank = moment::of_parts(self.page, self.offset);
        let inside = compiled.book.kind_of(part).map(|kind| kind.inside.clone()).unwrap_or_default();
        let stay = compiled.history.parts.get(part).at(rank).map(|stay| stay.at);
        let built = verb == crate::book::entry::Verb::Build;
        self.parts(|other, now| {
            let kind = compiled.book.parts.get(other).and_then(|part| part.kind);
            let takes = kind.is_some_and(|kind| inside.contains(&kind)) && !now.is_gone();
            if built { takes } else { stay == Some(Where::Inside(other)) }
        });
    }
}

/// Whether a part's kind goes on a car.
fn goes_on(compiled: &crate::Compiled, part: PartId, car: CarId) -> bool {
    let kind = compiled.book.kind_of(part);
    kind.is_some_and(|kind| {
        kind.fits.is_empty() && kind.inside.is_empty() || kind.fits.iter().any(|fit| fit.on(car))
    })
}
