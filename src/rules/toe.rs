//! Toe under a rule: the toe of an axle is the sum of its wheels', where both are known and were stated since it was; and of two forms of one
//! thing the newer stands for both, so that of a wheel nobody knows what its axle's newer total leaves it.
//!
//! Must not know limits.

use super::Scrutiny;
use super::known::{Reading, Value};
use crate::book::entry::EntryId;
use crate::book::model::{CarId, Rule};
use crate::book::place::Place;
use crate::history::likeness;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register};
use crate::history::state::other_forms;
use crate::sorted;
use crate::units::DimensionId;
use crate::vocabulary::{Places, QuantityId};

/// What stood at a place by a line: nothing where that line leaves it unknown.
type Stood = (Rank, Option<Value>);

impl Scrutiny<'_> {
    /// Whether a rule limits the toe of axles, and of no wheel.
    pub(super) fn limits_axles(&self, id: QuantityId, rule: &Rule) -> bool {
        let what = self.book.vocabulary.get(id);
        let both = what.dimension == DimensionId::TOE && what.places.has(Places::AXLE);
        both && !rule.places.is_empty() && rule.places.iter().all(|place| place.is_axle())
    }

    /// The sums of two wheels for a rule on axles: one for each line that states a wheel.
    pub(super) fn sums_of_wheels(&self, car: CarId, id: QuantityId, rule: &Rule, all: &mut Vec<Reading>) {
        for axle in &rule.places {
            let mut lines: Vec<(Rank, EntryId)> = Vec::new();
            for wheel in axle.corners() {
                let track = self.history.slots.find(Owner::Car(car), id, *wheel);
                let events = track.into_iter().flat_map(|track| &track.events);
                lines.extend(
                    events.filter_map(|event| Some((event.rank(&self.history.order)?, event.entry?))),
                );
            }
            lines.sort_unstable();
            lines.dedup();
            for (rank, entry) in lines {
                let until = rank.next();
                let whole = self.toe_at(car, id, *axle, until);
                let wheels: Vec<Stood> =
                    axle.corners().iter().filter_map(|wheel| self.toe_at(car, id, *wheel, until)).collect();
                let newer = |wheel: &Stood| whole.as_ref().is_none_or(|whole| whole.0 < wheel.0);
                let [(first, Some(left)), (second, Some(right))] = wheels.as_slice() else { continue };
                if !wheels.iter().all(newer)
                    || !self.true_together(car, id, [(*first, left), (*second, right)])
                {
                    continue;
                }
                let newest = if first >= second { left } else { right };
                let over = if left.over == right.over { left.over } else { self.over(Some(car), None) };
                let value = Value {
                    place: *axle,
                    si: left.si + right.si,
                    as_typed: left.as_typed + right.as_typed,
                    error: left.error + right.error,
                    decimals: left.decimals.max(right.decimals),
                    typed: None,
                    line: Some(entry),
                    over,
                    ..*newest
                };
                let reading = self.reading(Some(entry), vec![value], false);
                let lines = [left.line, right.line].into_iter().flatten().collect();
                all.push(Reading { lines, ..reading });
            }
        }
    }

    /// What stood at a place before a rank.
    fn toe_at(&self, car: CarId, id: QuantityId, place: Place, until: Rank) -> Option<Stood> {
        let track = self.history.slots.find(Owner::Car(car), id, place)?;
        let before = |at: Option<Rank>| at.is_none_or(|at| at < until);
        let last = sorted::until(&track.events, |event| before(event.rank(&self.history.order))).last()?;
        let rank = last.rank(&self.history.order).unwrap_or(Rank::START);
        let known = last.register() != Register::Unknown;
        Some((rank, known.then(|| self.value(track, last)).flatten()))
    }

    /// Whether nothing came between two wheels' lines that makes the older untrue.
    fn true_together(&self, car: CarId, id: QuantityId, both: [(Rank, &Value); 2]) -> bool {
        let [first, second] = both;
        let (older, newer) = if first.0 <= second.0 { (first, second) } else { (second, first) };
        let Some(entry) = older.1.line else { return true };
        let read = self.book.entries.get(entry).is_some_and(|line| line.verb.is_reading());
        let reading = likeness::Reading { quantity: id, place: older.1.place, entry, owner: Owner::Car(car) };
        !read || likeness::changes(self.facts, car, reading, [older.0, newer.0]).next().is_none()
    }

    /// The line that stated the other form of a value after its own did, before a rank.
    pub(super) fn restated(&self, car: CarId, id: QuantityId, value: &Value, until: Rank) -> Option<EntryId> {
        let rank = |entry: EntryId| self.history.order.rank.get(entry).copied();
        let own = value.line.and_then(rank).unwrap_or(Rank::START);
        let forms = other_forms(self.book, id, value.place).into_iter();
        let last = forms.filter_map(|form| {
            let track = self.history.slots.find(Owner::Car(car), id, form)?;
            let before = |at: Option<Rank>| at.is_none_or(|at| at < until);
            sorted::until(&track.events, |event| before(event.rank(&self.history.order))).last()?.entry
        });
        last.filter(|entry| rank(*entry) > Some(own)).max_by_key(|entry| rank(*entry))
    }
}
