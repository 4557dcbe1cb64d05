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
use crate::history::slots::Owner;
use std::collections::BTreeSet;

impl Scrutiny<'_> {
    /// A reading without the places of which nothing is known at a rank, and the line that made the last of them so.
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
            lost.extend(places.into_iter().filter_map(|place| {
                let held = standing.slot(quantity, place)?.held;
                let unread =
                    held.unknown.and_then(|unknown| unknown.entry).filter(|line| self.is_lost(*line));
                let compared = || self.facts.comparison_lost(held.read?.entry?);
                Some((place, unread.or_else(compared)?))
            }));
        }
        if let (Some(figure), Some(reading)) = (meant.figure, &reading)
            && reading.figure
            && let Some(line) = self.lost_since(car, reading.rank, rank)
        {
            let moment = Moment::of_rank(rank);
            let mut calc = Calc::new(self.facts, car, &moment);
            let places = reading.values.iter().map(|value| value.place);
            lost.extend(
                places.filter(|place| calc.figure(figure, *place).is_err()).map(|place| (place, line)),
            );
        }
        let place = |place: Place| lost.iter().any(|(one, _)| *one == place);
        let line =
            lost.iter().map(|(_, line)| *line).max_by_key(|line| self.history.order.rank.get(*line).copied());
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

    /// The last line about a value of the car between two ranks that cannot be read.
    fn lost_since(&self, car: CarId, from: Rank, until: Rank) -> Option<EntryId> {
        let lines = self.history.slots.lost.iter().filter(|lost| lost.owner == Owner::Car(car));
        let ranked = lines.flat_map(|lost| &lost.lines).filter_map(|line| {
            let rank = *self.history.order.rank.get(*line)?;
            (from <= rank && rank < until).then_some((rank, *line))
        });
        ranked.max().map(|(_, line)| line)
    }
}
