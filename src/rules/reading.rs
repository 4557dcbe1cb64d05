//! What the book has for a rule: every time its quantity was stated for the car, every time its figure came out anew.
//!
//! Must not know limits.

use super::Scrutiny;
use super::driven::Driven;
use super::known::{Bound, Had, Key, Missed, Reading, Readings, Value};
use crate::book::entry::{Entry, EntryId, Flags, HeldAgainst, Item, Verb};
use crate::book::figure::{Figure, Sites};
use crate::book::model::{CarId, Rule, Subject};
use crate::book::names::folded;
use crate::book::place::Place;
use crate::figures::calc::Root;
use crate::figures::{Calc, Fig, Missing, trace};
use crate::history::Moment;
use crate::history::grain::{grain, si_per_metre};
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::history::state::is_of_one_session;
use crate::units::DimensionId;
use crate::vocabulary::{Form, QuantityId};
use rustc_hash::FxHashMap;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

impl Scrutiny<'_> {
    /// Every reading of a car for a rule, in order; worked out once a book.
    #[must_use]
    pub fn readings(&self, car: CarId, rule: &Rule) -> Arc<Readings> {
        // Others may ask for another list meanwhile.
        let kept = self.known.at(self.key(car, rule));
        let made = || {
            let (all, had) = self.readings_and_had(car, rule);
            Arc::new(Readings::new(all, had))
        };
        Arc::clone(kept.get_or_init(made))
    }

    /// A figure is the same wherever its name is typed.
    fn key(&self, car: CarId, rule: &Rule) -> Key {
        let quantity = rule.subject.and_then(|subject| match subject {
            Subject::Quantity(id) => Some(id),
            Subject::Figure(_) => None,
        });
        (car, quantity, folded(self.name(rule)), rule.places.clone())
    }

    /// Every reading of a car for a rule, in order, worked out anew, and of which sessions the figure that the rule limits could not
    /// be had.
    pub(super) fn readings_and_had(&self, car: CarId, rule: &Rule) -> (Vec<Reading>, Had) {
        let meant = self.meant(rule);
        let mut all = Vec::new();
        let mut had = Had::new();
        if let Some(id) = meant.quantity {
            if self.history.slots.carriers.contains_key(&id) {
                // What parts carry or bring is the car's only while they are on it.
                had = self.worked_out(car, rule, &mut all, |calc, place| {
                    calc.value(&self.book.vocabulary.get(id).name, place)
                });
            } else {
                self.stated(car, id, rule, &mut all);
                if let Some(what) = Driven::of(&self.book.vocabulary.get(id).name) {
                    // It has no least (`rule-unclear`): nobody is short before the meeting is over.
                    if rule.min.is_some() {
                        return (Vec::new(), had);
                    }
                    // What was set is a plan: nobody drove it.
                    all.retain(|one| self.verb(one).is_some_and(Verb::is_reading));
                    for one in &mut all {
                        one.driven = true;
                    }
                    self.driven(car, what, &mut all);
                }
            }
        }
        if let Some(figure) = meant.figure {
            let stated: Vec<Option<EntryId>> = all.iter().map(|reading| reading.entry).collect();
            let mut figures = Vec::new();
            had = self.worked_out(car, rule, &mut figures, |calc, place| calc.figure(figure, place));
            // A figure that was read is that reading, and is judged once.
            figures.retain(|reading: &Reading| !stated.contains(&reading.entry));
            all.append(&mut figures);
        }
        all.sort_by_key(|reading| (reading.rank, reading.entry));
        (all, had)
    }

    /// A quantity of the car itself: one reading a line.
    fn stated(&self, car: CarId, id: QuantityId, rule: &Rule, all: &mut Vec<Reading>) {
        let mut known: FxHashMap<Option<EntryId>, usize> = FxHashMap::default();
        // The toe of an axle is its total, stated as one or as its wheels.
        let axles = self.limits_axles(id, rule);
        if axles {
            self.sums_of_wheels(car, id, rule, all);
        }
        for track in self.history.slots.of_quantity(Owner::Car(car), id) {
            for event in track.events.iter().filter(|event| event.register() != Register::Unknown) {
                let Some(value) = self.value(track, event) else { continue };
                if !within(&rule.places, value.place) || axles && !value.place.is_axle() {
                    continue;
                }
                let entry = event.entry;
                let values = self.every_number(id, entry, value);
                let at = *known.entry(entry).or_insert(all.len());
                match all.get_mut(at) {
                    Some(there) => there.values.extend(values),
                    None => all.push(self.reading(entry, values, false)),
                }
            }
        }
    }

    fn verb(&self, reading: &Reading) -> Option<Verb> {
        Some(self.book.entries.get(reading.entry?)?.verb)
    }

    pub(super) fn reading(&self, entry: Option<EntryId>, values: Vec<Value>, figure: bool) -> Reading {
        let head = entry.and_then(|entry| self.book.head(self.book.entries.get(entry)?));
        let rank = entry.and_then(|entry| self.history.order.rank.get(entry).copied());
        Reading {
            entry,
            rank: rank.unwrap_or(Rank::START),
            date: entry.and_then(|entry| self.history.order.date(self.book, entry)),
            event: head.and_then(|head| head.event),
            values,
            figure,
            lines: entry.into_iter().collect(),
            stale: None,
            staled: None,
            of_session: None,
            driven: false,
            open: None,
            careful: Vec::new(),
        }
    }

    /// The value, and the further numbers typed with it, where a quantity has two or three (ramps, the temperatures across a tyre); each
    /// counts. Teeth are one ratio.
    fn every_number(&self, id: QuantityId, entry: Option<EntryId>, value: Value) -> Vec<Value> {
        let quantity = self.book.vocabulary.get(id);
        let line = entry.and_then(|entry| self.book.entries.get(entry));
        let count = if quantity.form == Form::Triple { 3 } else { 2 };
        let (Some(line), Some(typed)) = (line, value.typed) else { return vec![value] };
        if quantity.form == Form::One || quantity.dimension == DimensionId::RATIO {
            return vec![value];
        }
        let group = Item::by_value(self.book.items_of(line))
            .find(|group| group.first().is_some_and(|item| item.start == typed.start));
        let mut number = 1;
        // Of repeats each is what was read.
        let further = group.into_iter().flatten().skip(1).filter_map(|item| {
            number = if item.is(Flags::PART) { number + 1 } else { 1 };
            let span = item.span(typed.file);
            let (si, of) = (item.si - (value.as_typed - value.si), (number, count));
            item.has_value().then_some(Value {
                si,
                as_typed: item.si,
                typed: Some(span),
                decimals: item.decimals,
                number: of,
                ..value
            })
        });
        let further: Vec<Value> = further.collect();
        std::iter::once(Value { number: (1, count), ..value }).chain(further).collect()
    }

    /// Over which diameter toe is measured: what its line says, else the car.
    pub(super) fn over(&self, car: Option<CarId>, line: Option<&Entry>) -> Option<f64> {
        let said = line.and_then(|line| self.book.extra(line)?.over);
        said.or_else(|| self.book.cars.get(car?)?.toe_over).filter(|over| *over > 0.0)
    }

    pub(super) fn value(&self, track: &Track, event: &SlotEvent) -> Option<Value> {
        let item = self.history.item(self.book, track, event)?;
        if !item.has_value() {
            return None;
        }
        let file = track.file(self.book, event)?;
        let entry = event.line(self.book);
        let read = event.register() == Register::Read;
        let dimension = self.book.vocabulary.get(track.quantity).dimension;
        let error = match entry {
            _ if item.is(Flags::STATED) => f64::from(item.half),
            // A count is exact.
            Some(entry) if read && dimension != DimensionId::COUNT => {
                grain(self.book, self.files, entry, item)
            }
            _ => 0.0,
        };
        let (high, half) = self.high(track, event, item).unwrap_or_default();
        Some(Value {
            place: track.place,
            si: event.value - high,
            as_typed: event.value,
            dimension,
            error: error + half,
            unit: Some(item.unit()),
            decimals: item.decimals,
            typed: Some(item.span(file)),
            estimated: None,
            bound: Bound::Just,
            line: event.entry,
            number: (1, 1),
            over: match track.owner {
                Owner::Car(car) => self.over(Some(car), entry),
                Owner::Part(_) => self.over(None, entry),
            },
        })
    }

    /// By how much a value's gauge reads high against the reference, and how far off that may be. SI of the value.
    fn high(&self, track: &Track, event: &SlotEvent, item: &Item) -> Option<(f64, f64)> {
        let line = self.facts.read_by(track, event)?;
        let (_, found) = self.facts.correction(line, item)?;
        let scale = si_per_metre(self.files, self.book.entries.get(line)?.file, item)?;
        let known = found.against == HeldAgainst::Reference;
        known.then(|| (found.high * scale, found.half() * scale))
    }

    /// A figure, or a quantity that parts carry: looked at after each block of the car and during each session, and kept
    /// where a line of that block or that session is the newest under it.
    fn worked_out(
        &self,
        car: CarId,
        rule: &Rule,
        all: &mut Vec<Reading>,
        compute: impl Fn(&mut Calc<'_>, Place) -> crate::figures::Got,
    ) -> Had {
        let places = self.sites(car, rule);
        let meant = self.meant(rule);
        let one_session = is_of_one_session(&folded(self.name(rule)));
        let at = |rank: Rank, session: Option<EntryId>| {
            let moment = Moment { session, ..Moment::of_rank(rank) };
            let mut calc = Calc::new(self.facts, car, &moment);
            let mut values = Vec::new();
            let (mut lines, mut stale, mut missing) = (BTreeSet::new(), None, Missing::default());
            let mut careful: Vec<String> = Vec::new();
            for place in &places {
                let fig = match compute(&mut calc, *place) {
                    Ok(fig) => fig,
                    Err(why) => {
                        for one in why.needs {
                            if !missing.needs.contains(&one) {
                                missing.needs.push(one);
                            }
                        }
                        continue;
                    }
                };
                for words in trace::cautions(&calc, fig.node) {
                    if !careful.contains(&words) {
                        careful.push(words);
                    }
                }
                let (error, high, from) = self.error(&calc, &fig);
                lines.extend(from);
                stale = stale.or(fig.stale);
                let node = calc.nodes.get(fig.node);
                let typed = node.filter(|node| node.formula.is_none());
                let line = typed.and_then(|node| node.entry);
                let value = Value {
                    place: *place,
                    si: fig.value,
                    as_typed: fig.value + high,
                    dimension: node.map_or(DimensionId::RATIO, |node| node.dimension),
                    error,
                    unit: typed.and_then(|node| node.unit),
                    decimals: typed.map_or(0, |node| node.decimals),
                    typed: typed.and_then(|node| node.span),
                    estimated: trace::estimated_decimals(&calc, fig.node, calc.imperial()),
                    bound: Bound::Just,
                    line,
                    number: (1, 1),
                    over: self.over(Some(car), line.and_then(|line| self.book.entries.get(line))),
                };
                match meant.quantity.filter(|_| meant.figure.is_none()) {
                    Some(id) => values.extend(self.every_number(id, line, value)),
                    None => values.push(value),
                }
            }
            let lines: Vec<EntryId> = lines.into_iter().collect();
            let rank = |entry: &EntryId| self.history.order.rank.get(*entry).copied().unwrap_or(Rank::START);
            let newest = lines.iter().copied().max_by_key(rank).ok_or(missing)?;
            let reading = self.reading(Some(newest), values, true);
            let session = one_session.then(|| calc.session_now().ok()).flatten();
            let reading = Reading { lines, stale, careful, ..reading };
            // It is judged as of the day it ran, whatever day its newest line is of.
            Ok(match session {
                Some(session) => Reading {
                    of_session: Some(session.entry),
                    date: Some(session.date),
                    event: session.event,
                    ..reading
                },
                None => reading,
            })
        };
        let mut points: Vec<(Rank, Option<EntryId>)> = Vec::new();
        for head in self.book.heads_of(car) {
            let ranks = head.lines().filter_map(|entry| self.history.order.rank.get(entry));
            points.extend(ranks.max().map(|rank| (rank.next(), None)));
        }
        for (_, session) in self.history.sessions.of(car) {
            points.push((session.during, Some(session.entry)));
        }
        points.sort_unstable();
        let mut known: BTreeMap<EntryId, usize> = BTreeMap::new();
        let mut had = Had::new();
        for (rank, session) in points {
            let found: Result<Reading, Missing> = at(rank, session);
            if let Some(run) = session
                && let Some(began) = self.history.order.rank.get(run)
            {
                had.push((*began, found.as_ref().err().map(|why| Missed { run, why: why.clone() })));
            }
            let Ok(reading) = found else { continue };
            let Some(newest) = reading.entry else { continue };
            if let Some(at) = known.get(&newest) {
                // Nothing newer is under it; what was disturbed since is.
                let since = reading.stale.filter(|_| reading.of_session.is_none());
                let since = since.zip(since.and_then(|line| self.history.order.rank.get(line).copied()));
                if let Some(there) = all.get_mut(*at).filter(|there| there.staled.is_none()) {
                    there.staled = since.map(|(line, rank)| (rank, line));
                }
                continue;
            }
            // Earlier lines of the same block may have said the same thing before (found, then left).
            let quantities: BTreeSet<QuantityId> = reading
                .lines
                .iter()
                .filter_map(|line| self.book.entries.get(*line))
                .filter_map(|line| line.quantity)
                .collect();
            let head = self.book.entries[newest].head;
            let block = self.book.heads.get(head).map(crate::book::entry::Head::lines);
            for line in block.into_iter().flatten().take_while(|line| *line < newest) {
                let entry = &self.book.entries[line];
                let alike = entry.verb.has_values()
                    && !entry.void
                    && entry.quantity.is_some_and(|id| quantities.contains(&id));
                let rank = self.history.order.rank.get(line).copied().unwrap_or(Rank::START);
                if let Some(before) = alike.then(|| at(rank.next(), None)).and_then(Result::ok)
                    && before.entry == Some(line)
                    && !known.contains_key(&line)
                {
                    known.insert(line, all.len());
                    all.push(before);
                }
            }
            known.insert(newest, all.len());
            all.push(reading);
        }
        had
    }

    /// The places that a figure has values at and the rule is about.
    fn sites(&self, car: CarId, rule: &Rule) -> Vec<Place> {
        let declared = self.book.cars.get(car);
        let meant = self.meant(rule);
        let all = match (meant.quantity, meant.figure) {
            (Some(id), None) => {
                let places = self.book.vocabulary.get(id).places;
                let mut all = Vec::new();
                if places.has(crate::vocabulary::Places::CORNER) {
                    all.extend(Place::CORNERS);
                }
                if places.has(crate::vocabulary::Places::AXLE) {
                    all.extend([Place::FRONT, Place::REAR]);
                }
                if all.is_empty() {
                    all.push(Place::CAR);
                }
                all
            }
            (_, Some(figure)) => sites(
                self.book.figures.get(figure),
                declared.and_then(|car| car.cylinders),
                declared.and_then(|car| car.gears),
            ),
            (None, None) => Vec::new(),
        };
        all.into_iter().filter(|place| within(&rule.places, *place)).collect()
    }

    /// How far off a figure may be if every reading under it is off by one step of its gauge and every comparison by what it leaves open;
    /// how much more it would be as typed (to first order); and the lines under it.
    #[must_use]
    pub fn error(&self, calc: &Calc<'_>, fig: &Fig) -> (f64, f64, BTreeSet<EntryId>) {
        let (mut error, mut high) = (0.0, 0.0);
        let mut lines = BTreeSet::new();
        for (root, slope) in &fig.by {
            let span = match root {
                Root::Typed(span) => span,
                Root::Comparison(_) => {
                    error += slope.abs() * calc.half(*root);
                    continue;
                }
                Root::Default(_) | Root::Scatter(_) | Root::WhatIf(_) => continue,
            };
            let Some(read) = calc.nodes.iter().find(|node| node.span == Some(*span)) else { continue };
            let Some(entry) = read.entry else { continue };
            // Of several steps of one reading, the one that counts is in the terms that the figure is in.
            let same = calc
                .corrected
                .iter()
                .filter(|(at, _)| calc.nodes.get(**at).is_some_and(|node| node.span == Some(*span)));
            high += slope * same.map(|(_, corrected)| corrected.high).next_back().unwrap_or(0.0);
            lines.insert(entry);
            let Some(line) = self.book.entries.get(entry) else { continue };
            let is = |item: &&Item| item.start == span.start && item.has_value();
            let Some(item) = self.book.items_of(line).iter().find(is) else { continue };
            let step = if item.is(Flags::STATED) {
                f64::from(item.half)
            } else if line.verb.is_reading() {
                grain(self.book, self.files, line, item)
            } else {
                0.0
            };
            error += slope.abs() * step;
        }
        (error, high, lines)
    }
}

/// Whether a place is one that the rule is about.
fn within(places: &[Place], place: Place) -> bool {
    places.is_empty()
        || places.iter().any(|rule| *rule == place || *rule == Place::ALL || rule.corners().contains(&place))
}

fn sites(figure: &Figure, cylinders: Option<u16>, gears: Option<u16>) -> Vec<Place> {
    match figure.sites {
        Sites::Car => vec![Place::CAR],
        Sites::Axles => vec![Place::FRONT, Place::REAR],
        Sites::Corners => Place::CORNERS.to_vec(),
        Sites::FrontCorners => vec![Place::LF, Place::RF],
        Sites::Cylinders => (1..=cylinders.unwrap_or(0)).map(Place::cylinder).collect(),
        Sites::Gears => (1..=gears.unwrap_or(0)).map(Place::gear).collect(),
        // A part on the bench is no car's.
        Sites::Part => Vec::new(),
    }
}
