//! What nobody knows any more of what a rule limits: a line that cannot be read, or that the reader may not, came after the last value.
//! What was read before it neither passes nor, where it passed, is told.
//!
//! Must not know messages.

use super::Scrutiny;
use super::judge::{Judged, Verdict};
use super::known::Reading;
use crate::book::entry::{Entry, EntryId};
use crate::book::model::{CarId, Rule};
use crate::book::place::Place;
use crate::figures::Calc;
use crate::history::Moment;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, Track};
use crate::sorted;
use std::collections::BTreeSet;

impl Scrutiny<'_> {
    /// A reading without the places of which nothing is known at a rank, and the line that made the first of them so.
    pub(super) fn without_lost(
        &self,
        car: CarId,
        rule: &Rule,
        reading: Option<Reading>,
        rank: Rank,
    ) -> (Option<Reading>, Option<EntryId>) {
        let meant = self.meant(rule);
        // What was driven is no state of the car; what came of a session is told of that session.
        if reading.as_ref().is_some_and(|reading| reading.driven || reading.of_session.is_some()) {
            return (reading, None);
        }
        let mut lost: Vec<(Place, EntryId)> = Vec::new();
        if let Some(quantity) = meant.quantity {
            let tracks = self.history.slots.of_quantity(Owner::Car(car), quantity).iter();
            let own = tracks.map(|track| track.place).filter(|place| {
                rule.places.is_empty() || rule.places.iter().any(|wanted| wanted.covers(*place))
            });
            let read = reading.iter().flat_map(|reading| &reading.values).map(|value| value.place);
            let places: BTreeSet<Place> = own.chain(read).collect();
            let standing = self.facts.on(car, rank);
            // What was stated since in its other form (an axle's toe, its wheels') says nothing.
            let stands = places.into_iter().filter(|place| standing.restated(quantity, *place).is_none());
            lost.extend(stands.filter_map(|place| {
                let slot = standing.slot(quantity, place)?;
                let held = slot.held;
                let unread = held.unknown.and_then(|_| self.first_lost(slot.track, rank));
                let compared = || self.facts.comparison_lost(held.read?.entry?);
                Some((place, unread.or_else(compared)?))
            }));
            let values = reading.iter().flat_map(|reading| &reading.values);
            lost.extend(
                values.filter_map(|value| Some((value.place, self.restated(car, quantity, value, rank)?))),
            );
        }
        if let (Some(figure), Some(reading)) = (meant.figure, &reading)
            && reading.figure
            && let lines = self.lost_between(car, reading.rank, rank)
            && !lines.is_empty()
        {
            let is_had = |place: Place, at: Rank| {
                Calc::new(self.facts, car, &Moment::of_rank(at)).figure(figure, place).is_ok()
            };
            let places = reading.values.iter().map(|value| value.place);
            lost.extend(places.filter(|place| !is_had(*place, rank)).filter_map(|place| {
                // The first of them behind which it cannot be had; not the last line that says something of another quantity.
                let first = lines.partition_point(|(at, _)| is_had(place, at.next()));
                lines.get(first).or(lines.last()).map(|(_, line)| (place, *line))
            }));
        }
        let place = |place: Place| lost.iter().any(|(one, _)| *one == place);
        let line =
            lost.iter().map(|(_, line)| *line).min_by_key(|line| self.history.order.rank.get(*line).copied());
        let reading = reading.map(|mut reading| {
            reading.values.retain(|value| !place(value.place));
            reading
        });
        (reading, line)
    }

    /// What comes of a rule of which something is not known now: it fails by what is known, and nothing else can be said.
    pub(super) fn but_lost(judged: &mut Judged, line: Option<EntryId>) {
        judged.lost = line;
        if line.is_some() && judged.verdict != Verdict::Fails {
            (judged.verdict, judged.margin) = (Verdict::NotKnown, None);
            judged.also.clear();
        }
    }

    fn is_lost(&self, line: EntryId) -> bool {
        let of_any = |line: &Entry| self.book.head(line).is_some_and(|head| head.car_unknown);
        self.book.entries.get(line).is_some_and(|line| line.broken || line.withheld || of_any(line))
    }

    /// The first line since which what a track holds before a rank cannot be read.
    fn first_lost(&self, track: &Track, until: Rank) -> Option<EntryId> {
        let before = |at: Option<Rank>| at.is_none_or(|at| at < until);
        let events = sorted::until(&track.events, |event| before(event.rank(&self.history.order)));
        let unknown = events.iter().rev().take_while(|event| event.register() == Register::Unknown);
        unknown.filter_map(|event| event.entry).filter(|line| self.is_lost(*line)).last()
    }

    /// The lines about a value of the car between two ranks that cannot be read, in order.
    fn lost_between(&self, car: CarId, from: Rank, until: Rank) -> Vec<(Rank, EntryId)> {
        let lines = self.history.slots.lost.iter().filter(|lost| lost.owner == Owner::Car(car));
        let ranked = lines.flat_map(|lost| &lost.lines).filter_map(|line| {
            let rank = *self.history.order.rank.get(*line)?;
            (from <= rank && rank < until).then_some((rank, *line))
        });
        let mut ranked: Vec<(Rank, EntryId)> = ranked.collect();
        ranked.sort_unstable();
        ranked
    }
}
