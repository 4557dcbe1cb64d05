//! Declarations emptied of what is not the reader's: other clients and their cars, prices, rates, named setups, jobs.
//!
//! What a shop declares of places, gauges, kinds, specs, quantities and rules is everyone's, but for the names in it. Each
//! declaration is taken apart field by field, so that a new field does not compile until somebody has decided who may read it:
//! a text is masked or emptied, a sum is taken away, and what is left alone is named. Must not know texts.

use super::Reader;
use super::mask::Mask;
use super::names::Known;
use super::scope::Scope;
use crate::Compiled;
use crate::book::Book;
use crate::book::model::Class;
use crate::book::model::{
    Baseline, BaselineId, Car, CarId, Circuit, Client, ClientId, Event, Exchange, Gauge, Job, JobId, Kind,
    Named, Outfit, Part, PartId, Person, PersonId, Rule, Shop, Spec, SpecId,
};
use crate::book::names::Thing;
use crate::ids::Arena;
use crate::source::Span;
use crate::vocabulary::Quantity;
use std::collections::BTreeSet;

fn rename(named: &mut Named, words: &str) {
    let Named { name, typed, title, declared: _ } = named;
    words.clone_into(title);
    *typed = words.into();
    *name = words.into();
}

/// A car that is not his: it has no name, and nothing is known of it.
pub(super) fn nameless(car: &mut Car) {
    // What can be counted is nobody's secret without a name.
    let Car {
        named,
        client,
        class,
        of_class,
        ranges,
        imperial: _,
        cylinders: _,
        gears: _,
        drive,
        body: _,
        toe_over: _,
        reference,
        about,
        opening,
        withheld,
        every,
    } = car;
    rename(named, "another car");
    *withheld = true;
    *client = None;
    class.clear();
    *of_class = None;
    ranges.clear();
    drive.clear();
    reference.clear();
    about.clear();
    opening.clear();
    every.clear();
}

/// What the declarations are cut by.
pub(super) struct Cut<'a> {
    compiled: &'a Compiled,
    scope: &'a Scope<'a>,
    known: &'a Known,
    mask: &'a Mask,
    /// A client reads it, no buyer.
    client: bool,
    /// A buyer who gets what parts were bought for.
    prices: bool,
}

/// The lines of what is declared for him to know.
pub(super) fn told(compiled: &Compiled, cut: &Cut<'_>) -> Vec<Span> {
    let book = &compiled.book;
    let named = book.names.all().filter(|(_, thing, _)| cut.keeps(*thing)).map(|(_, _, at)| at);
    let specs = book.specs.iter().map(|spec| spec.named.declared);
    let rates = book.exchanges.iter().filter(|_| cut.client).map(|rate| rate.declared);
    let quantities = book.vocabulary.iter().filter_map(|(_, quantity)| quantity.declared);
    let figures = book.figures.iter().filter_map(|(_, figure)| figure.declared);
    named.chain(specs).chain(rates).chain(quantities).chain(figures).chain(book.shop.declared).collect()
}

/// Empties the model's declarations.
pub(super) fn scrub(book: &mut Book, cut: &Cut<'_>) {
    let Cut { scope, mask, .. } = *cut;
    let Book {
        shop,
        people,
        clients,
        circuits,
        events,
        gauges,
        cars,
        kinds,
        specs,
        parts,
        exchanges,
        // Which currencies a line with a mistake is about.
        lost_rates: _,
        unread: _,
        baselines,
        outfits,
        classes,
        rules,
        jobs,
        vocabulary,
        figures,
        // They say which words are one, and are shown nowhere.
        meanings: _,
        names,
        // Lines and what they say are emptied line by line, their words masked in the text.
        heads: _,
        // Which cars a head may be about is told by its numbers alone, and of his own.
        meant: _,
        of_car: _,
        specs_of: _,
        entries: _,
        items: _,
        extras: _,
        runs: _,
        // When a line was is its place in time.
        offsets: _,
        // The reader's own book finds those anew that he may read.
        corrections: _,
        troubles,
        missing,
    } = book;
    troubles.clear();
    missing.clear();
    cut.shop(shop);
    cut.exchanges(exchanges);
    each(people, |id, person| cut.person(id, person));
    each(clients, |id, one| cut.client(id, one));
    each(circuits, |_, circuit| cut.circuit(circuit));
    each(events, |_, event| cut.event(event));
    each(gauges, |_, gauge| cut.gauge(gauge));
    each(cars, |id, car| cut.car(id, car));
    each(kinds, |_, kind| cut.kind(kind));
    let paid = cut.paid_specs();
    each(specs, |id, spec| cut.spec(spec, paid.contains(&id)));
    each(parts, |id, part| cut.part(id, part));
    each(baselines, |id, setup| cut.baseline(id, setup));
    each(classes, |_, class| cut.class(class));
    // Their lines are entries wherever they are fitted, and are cut there.
    each(outfits, |_, outfit| {
        let Outfit { named, car, lines, read } = outfit;
        cut.mask.named(named);
        *car = car.filter(|car| scope.knows(*car));
        *lines = std::sync::Arc::default();
        *read = std::sync::Arc::default();
    });
    each(rules, |_, rule| cut.rule(rule));
    each(jobs, |id, job| cut.job(id, job));
    let quantities: Vec<_> = vocabulary.iter().map(|(id, _)| id).collect();
    for id in quantities {
        cut.quantity(vocabulary.get_mut(id));
    }
    figures.reword(&|text| mask.text(text));
    for area in &mut vocabulary.areas {
        *area = mask.text(area).into();
    }
    names.cut(|thing| cut.keeps(thing), |name| mask.text(name));
}

fn each<K: From<usize>, T>(list: &mut Arena<K, T>, mut f: impl FnMut(K, &mut T)) {
    for (index, one) in list.iter_mut().enumerate() {
        f(K::from(index), one);
    }
}

impl<'a> Cut<'a> {
    pub(super) fn new(
        compiled: &'a Compiled,
        scope: &'a Scope<'a>,
        known: &'a Known,
        mask: &'a Mask,
    ) -> Self {
        let client = matches!(scope.reader, Reader::Client(_));
        let prices = matches!(scope.reader, Reader::Buyer(purchase) if purchase.prices);
        Self { compiled, scope, known, mask, client, prices }
    }

    fn keeps(&self, thing: Thing) -> bool {
        match thing {
            Thing::Car(car) => self.scope.knows(car),
            Thing::Part(part) => self.scope.parts.contains(&part),
            Thing::Person(person) => self.known.people.contains(&person),
            Thing::Client(client) => self.scope.is_self(client),
            Thing::Baseline(setup) => self.known.baselines.contains(&setup),
            Thing::Job(job) => self.known.jobs.contains(&job),
            Thing::Kind(_)
            | Thing::Circuit(_)
            | Thing::Event(_)
            | Thing::Gauge(_)
            | Thing::Outfit(_)
            | Thing::Rule(_)
            | Thing::Position(_) => true,
        }
    }

    fn shop(&self, shop: &mut Shop) {
        // The zone is one of the public list.
        let Shop { title, currency: _, rate, zone: _, declared: _ } = shop;
        self.mask.cover(title);
        if !self.client {
            *rate = None;
        }
    }

    fn exchanges(&self, exchanges: &mut Vec<Exchange>) {
        if !self.client {
            exchanges.clear();
        }
        for Exchange { rate: _, declared: _ } in exchanges {}
    }

    fn person(&self, id: PersonId, person: &mut Person) {
        let whose = self.compiled.book.names.client_people.iter().position(|one| *one == id);
        let other = whose.is_some_and(|client| !self.scope.is_self(ClientId::from(client)));
        let Person { named, role } = person;
        if other || !self.known.people.contains(&id) {
            rename(named, if other { "another client" } else { "somebody" });
            role.clear();
        } else {
            self.mask.named(named);
            self.mask.cover(role);
        }
    }

    fn client(&self, id: ClientId, client: &mut Client) {
        let Client { named, rate, unbilled } = client;
        if self.scope.is_self(id) {
            self.mask.named(named);
        } else {
            rename(named, "another client");
            *unbilled = false;
        }
        if !self.client || !self.scope.is_self(id) {
            *rate = None;
        }
    }

    fn circuit(&self, circuit: &mut Circuit) {
        let Circuit { named, length: _ } = circuit;
        self.mask.named(named);
    }

    fn event(&self, event: &mut Event) {
        let Event { named, first: _, last: _, circuit: _, entered, zone: _, sessions } = event;
        self.mask.named(named);
        // Named cars that he does not know leave the event closed to his own, not open to all.
        if let Some(entered) = entered {
            entered.retain(|car| self.scope.knows(*car));
        }
        // So do sessions for named cars; none named is all.
        sessions.retain_mut(|(_, cars)| {
            let named = !cars.is_empty();
            cars.retain(|car| self.scope.knows(*car));
            !named || !cars.is_empty()
        });
    }

    fn gauge(&self, gauge: &mut Gauge) {
        let Gauge { named, reads: _, resolution: _, repeats: _, valid_until: _, degrees_minutes: _ } = gauge;
        self.mask.named(named);
    }

    fn car(&self, id: CarId, car: &mut Car) {
        // What counts, and the spans of texts, are nobody's secret once the rest is empty.
        let Car {
            named,
            client,
            class,
            of_class: _,
            // Numbers about his own car, and names of quantities.
            ranges: _,
            imperial: _,
            cylinders: _,
            gears: _,
            drive,
            body: _,
            toe_over: _,
            // Conditions and opening values are places in a text, masked there.
            reference: _,
            about,
            opening: _,
            withheld: _,
            every: _,
        } = car;
        if client.is_some_and(|client| !self.scope.is_self(client)) {
            *client = None;
        }
        if !self.scope.knows(id) {
            nameless(car);
            return;
        }
        self.mask.named(named);
        self.mask.cover(class);
        self.mask.cover(drive);
        for (word, text, _) in about {
            self.mask.cover(word);
            self.mask.cover(text);
        }
    }

    fn kind(&self, kind: &mut Kind) {
        let Kind {
            named,
            lost: _,
            fits: _,
            inside: _,
            life: _,
            valid: _,
            safety: _,
            gives: _,
            carries: _,
            clicks: _,
            from_hard: _,
            one_use: _,
            must: _,
            keep,
            books: _,
            every: _,
            failure_costs,
        } = kind;
        self.mask.named(named);
        // What a failure costs the shop's clients at large is the shop's own reckoning.
        *failure_costs = None;
        // Its stock is the shop's.
        *keep = None;
    }

    /// Specs of parts that he paid for, or gets.
    fn paid_specs(&self) -> BTreeSet<SpecId> {
        let scope = self.scope;
        let paid = scope
            .parts
            .iter()
            .filter(|part| if self.client { scope.pays_for(**part) } else { scope.going.contains(part) });
        let spec = |part: &PartId| self.compiled.book.parts.get(*part)?.spec;
        paid.filter_map(spec).collect()
    }

    fn spec(&self, spec: &mut Spec, paid: bool) {
        let Spec { named, lost: _, kind: _, price, life: _, valid: _, tags: _ } = spec;
        self.mask.named(named);
        if !(paid && (self.prices || self.client)) {
            *price = None;
        }
    }

    fn part(&self, id: PartId, part: &mut Part) {
        let Part {
            named,
            lost: _,
            kind: _,
            spec: _,
            serial,
            opening,
            opening_new: _,
            made,
            serviced,
            fitted,
            valid_until,
            tags,
            withheld,
            price,
            paid: _,
            owner,
        } = part;
        // That it is somebody else's stays true; whose is nobody's to read but his.
        *owner = owner.filter(|owner| self.scope.is_self(*owner));
        if self.scope.parts.contains(&id) {
            self.mask.named(named);
            self.mask.cover(serial);
            if self.scope.is_anothers_spare(id) {
                serial.clear();
            }
        } else {
            rename(named, "another part");
            *withheld = true;
            serial.clear();
            tags.clear();
            opening.clear();
            for date in [made, serviced, fitted, valid_until] {
                *date = None;
            }
        }
        let his =
            if self.client { self.scope.pays_for(id) } else { self.prices && self.scope.going.contains(&id) };
        if !his {
            *price = None;
        }
    }

    fn baseline(&self, id: BaselineId, setup: &mut Baseline) {
        let Baseline { named, car, moment } = setup;
        if self.known.baselines.contains(&id) {
            self.mask.named(named);
        } else {
            rename(named, "a named setup");
            *car = None;
            *moment = Span::new(moment.file, 0, 0);
        }
    }

    /// A class is everyone's, as its rules are.
    fn class(&self, class: &mut Class) {
        let Class { named, ranges: _ } = class;
        self.mask.named(named);
    }

    fn rule(&self, rule: &mut Rule) {
        let Rule {
            named,
            class,
            local: _,
            subject: _,
            places: _,
            min: _,
            max: _,
            from: _,
            until: _,
            conditions: _,
            broken: _,
        } = rule;
        self.mask.named(named);
        self.mask.cover(class);
    }

    /// Jobs of his cars keep their names; their words only where the line that opens them is his to read.
    fn job(&self, id: JobId, job: &mut Job) {
        let Job { named } = job;
        if !self.known.jobs.contains(&id) {
            rename(named, "another job");
            return;
        }
        self.mask.named(named);
        if !self.known.opened.contains(&id) {
            named.title = named.typed.to_string();
        }
    }

    fn quantity(&self, quantity: &mut Quantity) {
        let Quantity {
            name,
            also,
            dimension: _,
            places: _,
            of_part: _,
            area: _,
            show: _,
            usual: _,
            possible: _,
            form: _,
            counter: _,
            relative: _,
            rear_axle: _,
            over_supply: _,
            disturbed_by: _,
            disturbed_by_hit: _,
            disturbed_by_anything: _,
            needs,
            sentence,
            declared,
        } = quantity;
        if declared.is_none() {
            return;
        }
        *name = self.mask.text(name).into();
        *sentence = self.mask.text(sentence).into();
        for (word, _) in also {
            *word = self.mask.text(word).into();
        }
        for word in needs {
            *word = self.mask.text(word).into();
        }
    }
}
