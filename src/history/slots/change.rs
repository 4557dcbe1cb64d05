//! What a value does to its slot: what was asked or read from then on, and what of it does not go with what stood there.
//!
//! Must not know lines.

use super::{Fold, Owner, Register, SlotEvent, TrackId, Value, may_touch};
use crate::book::entry::{Entry, EntryId, Flags, Item, ItemId};
use crate::book::normal::share;
use crate::book::place::Place;
use crate::book::verbs::SettingVerb;
use crate::history::alike;
use crate::history::clicks::Counting;
use crate::history::fuel::{self, Since, Tank};
use crate::history::problem::{Problem, WrongOld};
use crate::source::FileId;
use crate::units::DimensionId;

/// What four pads say too.
const SHARES: [&str; 3] = ["cross-weight", "front-weight", "left-weight"];

impl<'a> Fold<'a> {
    pub(super) fn event(&mut self, track: TrackId, index: EntryId, value: &Value, counting: Counting) {
        let Value { verb, at: item_at, old, mean } = *value;
        let item = &self.book.items[item_at];
        let quantity = self.tracks[track].quantity;
        let last = self.tracks[track].events.last().copied();
        let disputed = self.unclear(index, last);
        let (owner, place) = (self.tracks[track].owner, self.tracks[track].place);
        let lost = self.lost.get(&(owner, quantity));
        let lost = lost.is_some_and(|lines| lines.iter().any(|line| may_touch(self.book, *line, place)));
        let [asked, read] = self.last[track];
        let is = last.filter(|event| event.register() != Register::Unknown);
        let unknown =
            last.is_some_and(|event| event.register() == Register::Unknown) || last.is_none() && lost;
        // Which came first is asked about, and with it what stood there before.
        if let Some(old) = old
            && !unknown
            && !disputed
        {
            self.old_value(track, index, old, [is, asked, read], counting);
        }
        let (value, register) = match verb {
            SettingVerb::Fill | SettingVerb::Adjust if self.adds(track, verb, index, item, is.is_some()) => {
                match self.aboard(track, index, is.map(|event| event.value)) {
                    Some(base) => (base + item.si, Register::Asked),
                    None => (0.0, Register::Unknown),
                }
            }
            SettingVerb::Adjust => {
                let weighed = self.weighed_since(track, is);
                let nought = self.book.vocabulary.get(quantity).nought(is.is_none() && !unknown);
                let base = is
                    .filter(|event| self.typed(track, event).is_some_and(|(item, _)| item.has_value()))
                    .filter(|_| weighed.is_none())
                    .map(|event| event.value);
                if let Some(base) = base.or(nought) {
                    (base + counting.of(item.si), Register::Asked)
                } else {
                    if !unknown {
                        self.problems.push(Problem::DeltaFromUnknown {
                            entry: index,
                            item: item_at,
                            weighed,
                        });
                    }
                    (0.0, Register::Unknown)
                }
            }
            SettingVerb::Set | SettingVerb::Fill => {
                if let Some(was) = asked.filter(|was| {
                    verb == SettingVerb::Set
                        // An outfit states all of its settings, those too that stand so already.
                        && !self.of_outfit(&self.book.entries[index])
                        && is == Some(*was)
                        && self.same(track, was, index, item_at, counting)
                        && !self.lost_by_running(track, was.entry, index)
                }) {
                    self.problems.push(Problem::ChangeIsNothing {
                        entry: index,
                        item: item_at,
                        was: was.entry,
                    });
                }
                (counting.of(item.si), Register::Asked)
            }
            SettingVerb::Found
            | SettingVerb::Left
            | SettingVerb::Read
            | SettingVerb::Torque
            | SettingVerb::Recheck => (counting.of(mean.unwrap_or(item.si)), Register::Read),
        };
        let (value, register) = self.possible(track, index, item_at, (verb, value, register));
        if register == Register::Read
            && self.book.vocabulary.get(quantity).counter
            && let Some(before) = is.filter(|before| before.value > value + f64::from(item.half))
            && let Some(was) = before.entry
        {
            self.problems.push(Problem::CounterWentBack {
                entry: index,
                item: item_at,
                was,
                was_item: before.item(),
            });
        }
        self.push(track, SlotEvent::new(value, Some(index), item_at, register));
        if disputed {
            self.push(track, SlotEvent::new(0.0, Some(index), item_at, Register::Unknown));
        }
    }

    /// What a change leads to is held to what can be, as if it had been set; what cannot be is not known.
    fn possible(
        &mut self,
        track: TrackId,
        index: EntryId,
        item: ItemId,
        (verb, value, register): (SettingVerb, f64, Register),
    ) -> (f64, Register) {
        let (owner, quantity) = (self.tracks[track].owner, self.tracks[track].quantity);
        let fluid = self.book.vocabulary.get(quantity).dimension == DimensionId::FLUID;
        if verb != SettingVerb::Adjust || register != Register::Asked || fluid {
            return (value, register);
        }
        let car = self.book.head(&self.book.entries[index]).and_then(|head| head.car);
        let car = if let Owner::Car(car) = owner { Some(car) } else { car };
        let (what, place) = (self.book.vocabulary.get(quantity), self.book.items[item].place);
        let limits = self.book.normal(car, quantity, place).possible;
        match limits.filter(|limits| !limits.hold(share(what, place, value))) {
            Some(limits) => {
                self.problems.push(Problem::ChangeImpossible { entry: index, item, value, limits });
                (0.0, Register::Unknown)
            }
            None => (value, register),
        }
    }

    /// The line that read a pad since a share of the weight was stated: what the pads say is newer, and is what a change would be of.
    fn weighed_since(&self, track: TrackId, stated: Option<SlotEvent>) -> Option<EntryId> {
        let (owner, quantity) = (self.tracks[track].owner, self.tracks[track].quantity);
        let find = |name: &str| self.book.vocabulary.find(name);
        if !SHARES.iter().any(|name| find(name) == Some(quantity)) {
            return None;
        }
        let rank = |entry: EntryId| self.order.rank.get(entry).copied();
        let set = stated.and_then(|stated| stated.entry).and_then(rank);
        let weight = find("weight")?;
        let newest = Place::CORNERS.into_iter().filter_map(|corner| {
            let id = *self.index.get(&(owner, weight, corner))?;
            let read = |event: &&SlotEvent| event.register() == Register::Read;
            self.tracks[id].events.iter().rev().find(read)?.entry
        });
        newest.filter(|line| rank(*line) > set).max_by_key(|line| rank(*line))
    }

    /// Whether a line is one of an outfit that the line above it fits.
    fn of_outfit(&self, entry: &Entry) -> bool {
        let above = entry.parent.and_then(|above| self.book.entries.get(above));
        let facts = above.and_then(|above| self.book.extra(above)).and_then(|extra| extra.parts.as_deref());
        facts.is_some_and(|facts| facts.outfit.is_some())
    }

    /// Whether it is a pressure, which leaks down and is set again before each run (common practice), and the car ran since.
    fn lost_by_running(&self, track: TrackId, was: Option<EntryId>, index: EntryId) -> bool {
        let (owner, quantity) = (self.tracks[track].owner, self.tracks[track].quantity);
        let Owner::Car(car) = owner else { return false };
        let rank = |entry: EntryId| self.order.rank.get(entry).copied();
        let (Some(from), Some(until)) = (was.and_then(rank), rank(index)) else { return false };
        self.book.vocabulary.get(quantity).dimension == DimensionId::PRESSURE
            && !self.sessions.between(car, from, until).is_empty()
    }

    /// Whether a line adds to how much there is: what is filled with a plus, and fuel that is adjusted where some was stated.
    fn adds(&self, track: TrackId, verb: SettingVerb, index: EntryId, item: &Item, stated: bool) -> bool {
        let fuel = || self.book.vocabulary.find("fuel") == Some(self.tracks[track].quantity);
        fuel::adds(self.book, self.files, index, item) && (verb == SettingVerb::Fill || stated && fuel())
    }

    /// How much there is for a line to add to: of fuel what the sessions have left, of anything else what it held. Nothing is said where
    /// that is not known: what was added is.
    fn aboard(&self, track: TrackId, index: EntryId, held: Option<f64>) -> Option<f64> {
        let (owner, quantity) = (self.tracks[track].owner, self.tracks[track].quantity);
        let find = |name: &str| self.book.vocabulary.find(name);
        let Owner::Car(car) = owner else { return held };
        if find("fuel") != Some(quantity) {
            return held;
        }
        let events = |name: &str| {
            let id = *self.index.get(&(owner, find(name)?, Place::CAR))?;
            Some(self.tracks[id].events.as_slice())
        };
        let tank = Tank {
            fuel: events("fuel").unwrap_or_default(),
            rate: events("fuel-rate").unwrap_or_default(),
            used: events("fuel-used").unwrap_or_default(),
            lost: find("fuel-used").and_then(|id| self.lost.get(&(owner, id))).map_or(&[], Vec::as_slice),
        };
        let rank = self.order.rank.get(index).copied()?;
        let flows =
            tank.flows((self.book, self.files, self.order), self.sessions, (car, rank), Since::Known).ok()?;
        Some(fuel::left(self.book, &flows)).filter(|left| *left >= 0.0)
    }

    /// What was typed for a value of a track, and in which file.
    pub(super) fn typed(&self, track: TrackId, event: &SlotEvent) -> Option<(&'a Item, FileId)> {
        let track = &self.tracks[track];
        track.item(self.book, event).zip(track.file(self.book, event))
    }

    /// Whether the item says again what the event said.
    pub(super) fn same(
        &self,
        track: TrackId,
        was: &SlotEvent,
        index: EntryId,
        at: ItemId,
        counting: Counting,
    ) -> bool {
        let item = &self.book.items[at];
        let here = (item, self.book.entries[index].file);
        let words = self.typed(track, was).and_then(|was| alike::words(self.files, was, here));
        let is = |a: f64, b: f64| (a - b).abs() <= 1e-9 * a.abs().max(b.abs());
        let (stood, now) =
            (self.tracks[track].further(self.book, was), self.book.further(at).collect::<Vec<_>>());
        let further =
            || stood.len() == now.len() && stood.iter().zip(&now).all(|(was, is_now)| is(was.si, is_now.si));
        words.unwrap_or_else(|| item.has_value() && is(counting.of(item.si), was.value) && further())
    }

    pub(super) fn old_value(
        &mut self,
        track: TrackId,
        index: EntryId,
        old_at: ItemId,
        [is, asked, read]: [Option<SlotEvent>; 3],
        counting: Counting,
    ) {
        let mut old = self.book.items[old_at];
        if old.is(Flags::UNKNOWN) {
            return;
        }
        let Some(latest) = is else { return };
        if old.has_value() {
            old.si = counting.of(old.si);
        }
        let here = (&old, self.book.entries[index].file);
        let fits = [asked, read].into_iter().flatten().any(|event| {
            let was = self.typed(track, &event);
            let line = event.line(self.book);
            let first =
                was.is_some_and(|was| alike::fits(self.book, self.files, here, (was, line, event.value)));
            let (stood, said) = (
                self.tracks[track].further(self.book, &event),
                self.book.further(old_at).collect::<Vec<_>>(),
            );
            let further = |(was, old): (&&Item, &&Item)| {
                let room = f64::from(old.half).max(f64::from(was.half));
                alike::within(old.si - was.si, room) == alike::Likeness::Same
            };
            first && (stood.len() != said.len() || stood.iter().zip(&said).all(further))
        });
        if !fits {
            let (was, was_item, value) = (latest.entry, latest.item(), latest.value);
            let wrong = WrongOld { item: old_at, was, was_item, value };
            // The corners of one line are one mistake.
            match self.problems.last_mut() {
                Some(Problem::OldValueDiffers { entry, wrong: known }) if *entry == index => {
                    known.push(wrong);
                }
                _ => self.problems.push(Problem::OldValueDiffers { entry: index, wrong: vec![wrong] }),
            }
        }
    }

    /// Two blocks in different files, one day, one slot, no times that decide: said once per pair of blocks.
    pub(super) fn unclear(&mut self, index: EntryId, last: Option<SlotEvent>) -> bool {
        let Some(last) = last.and_then(|last| last.entry) else { return false };
        if !self.order.unclear(self.book, last, index) {
            return false;
        }
        let pair = (self.book.entries[last].head, self.book.entries[index].head);
        if self.said.insert((pair.0.min(pair.1), pair.0.max(pair.1))) {
            self.problems.push(Problem::OrderUnclear { first: last, second: index });
        }
        true
    }
}
