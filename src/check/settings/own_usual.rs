//! The line that says what is usual on a car, worked out from its own values: offered where they have been outside the usual for so long
//! that they are no slip.
//!
//! Must not know who offers it.

use super::lines::before;
use crate::book::entry::{EntryId, Item};
use crate::book::model::CarId;
use crate::book::normal::share;
use crate::book::place::Place;
use crate::book::range::Says;
use crate::check::Context;
use crate::history::slots::{SlotEvent, Track};
use crate::units::{UnitId, number};
use crate::vocabulary::QuantityId;
use crate::words;
use crate::words::normal;
use rustc_hash::FxHashSet;
use std::ops::Range;

/// So many events in a row make a habit.
const EVENTS: usize = 3;
/// So many values are looked at, to either side.
const VALUES: usize = 2000;

/// What a place of a car has had, in SI.
#[derive(Debug, Clone, Copy)]
struct Habit {
    place: Place,
    low: f64,
    high: f64,
    /// The coarsest step of what was read.
    grain: f64,
    above: bool,
    events: usize,
}

impl Habit {
    /// Both together, at the place of the first.
    fn with(self, other: &Self) -> Self {
        Self {
            low: self.low.min(other.low),
            high: self.high.max(other.high),
            grain: self.grain.max(other.grain),
            events: self.events.min(other.events),
            ..self
        }
    }
}

/// A stretch of a slot's values, all outside the usual on one side.
struct Stretch<'a> {
    track: &'a Track,
    values: Range<usize>,
}

/// "it was so at each of 4 events, type under `car lm12`: `usual camber LF 3..4.5 deg`", out of every value of a quantity on a car that was
/// outside the usual, and the first line of that habit; none where they have not been so for long.
pub fn offer(
    cx: &Context<'_>,
    car: CarId,
    id: QuantityId,
    far: &[(EntryId, &Item)],
) -> Option<(EntryId, String)> {
    let mut habits: Vec<Habit> = Vec::new();
    let mut first: Option<EntryId> = None;
    let mut seen: Vec<Stretch<'_>> = Vec::new();
    for (index, item) in far {
        let Some(found) = habit(cx, car, id, (*index, item), &mut seen) else { continue };
        first.get_or_insert(*index);
        match habits.iter_mut().find(|habit| habit.place == item.place) {
            Some(habit) => *habit = habit.with(&found),
            None => habits.push(found),
        }
    }
    let events = habits.iter().map(|habit| habit.events).min()?;
    let unit = normal::unit(cx.quantity(id), far.first()?.1.unit());
    let corners = Place::CORNERS.iter().all(|corner| habits.iter().any(|habit| habit.place == *corner));
    let above = habits.iter().filter(|habit| habit.above).count();
    if corners && habits.len() == Place::CORNERS.len() && (above == 0 || above == habits.len()) {
        let whole = habits.iter().copied().reduce(|a, b| a.with(&b));
        habits = whole.map(|whole| Habit { place: Place::CAR, ..whole }).into_iter().collect();
    }
    habits.sort_by_key(|habit| habit.place);
    let mut line = format!("usual {}", cx.quantity(id).name);
    for habit in &habits {
        if habit.place != Place::CAR {
            line.push(' ');
            line.push_str(&cx.place(habit.place));
        }
        let own = cx.book.normal(Some(car), id, habit.place).possible;
        let within = own.map_or((f64::NEG_INFINITY, f64::INFINITY), |own| (own.low, own.high));
        line.push(' ');
        line.push_str(&outward(habit, within, unit)?);
    }
    let symbol = unit.get().shown();
    if !symbol.is_empty() {
        line.push(' ');
        line.push_str(symbol);
    }
    let name = cx.car(car);
    let words = format!(
        "correct it; or, since it was so at each of {}, type under `car {name}`: `{line}`",
        words::count(events, "event", "events")
    );
    Some((first?, words))
}

/// What the place has had around this line, as long as every value was outside the usual on one side of it; where that was so for enough
/// events, was not told by an earlier line, and the car does not say otherwise itself.
fn habit<'a>(
    cx: &Context<'a>,
    car: CarId,
    id: QuantityId,
    (index, item): (EntryId, &Item),
    seen: &mut Vec<Stretch<'a>>,
) -> Option<Habit> {
    let quantity = cx.quantity(id);
    let rank = cx.rank(index);
    let slots = &cx.history.slots;
    let (owner, at) = cx.on(car, rank).slot_of(id, item.place);
    let track = slots
        .find(owner, id, at)
        .or_else(|| before(cx, car, id, item.place, rank).map(|(track, _)| track))?;
    let normal = cx.book.normal(Some(car), id, item.place);
    let usual = normal.usual.filter(|usual| usual.says != Says::Car(car))?;
    let above = share(quantity, item.place, item.si) > usual.high;
    let here = track.events.partition_point(|event| event.rank(&cx.history.order).is_none_or(|at| at < rank));
    if seen.iter().any(|stretch| std::ptr::eq(stretch.track, track) && stretch.values.contains(&here)) {
        return None;
    }
    let mut events = FxHashSet::default();
    let mut habit = Habit {
        place: item.place,
        low: f64::INFINITY,
        high: f64::NEG_INFINITY,
        grain: 0.0,
        above,
        events: 0,
    };
    let mut take = |event: &SlotEvent| {
        let Some(entry) = event.line(cx.book) else { return true };
        let Some(head) = cx.book.head(entry).filter(|head| head.car == Some(car)) else { return true };
        let of = cx.item(event.item());
        if !Context::is_number(of) || entry.void {
            return true;
        }
        let value = share(quantity, item.place, event.value);
        let far = if above { value > usual.high } else { value < usual.low };
        if usual.hold(value) || !far || normal.possible.is_some_and(|possible| !possible.hold(value)) {
            return false;
        }
        habit.low = habit.low.min(value);
        habit.high = habit.high.max(value);
        habit.grain = habit.grain.max(share(quantity, item.place, cx.grain(entry, of)));
        events.extend(head.event);
        true
    };
    let (earlier, later) = track.events.split_at_checked(here)?;
    let ahead = later.iter().take(VALUES).take_while(|event| take(event)).count();
    let back = earlier.iter().rev().take(VALUES).take_while(|event| take(event)).count();
    seen.push(Stretch { track, values: here.saturating_sub(back)..here + ahead.max(1) });
    habit.events = events.len();
    (habit.events >= EVENTS).then_some(habit)
}

/// `3..4.5`: the two ends in a unit, rounded outward to the decimal of the grain, but not beyond what is possible.
fn outward(habit: &Habit, (least, most): (f64, f64), unit: UnitId) -> Option<String> {
    let unit = unit.get();
    let (a, b) = (unit.from_si(habit.low), unit.from_si(habit.high));
    let (low, high) = (a.min(b), a.max(b));
    let (least, most) = (unit.from_si(least), unit.from_si(most));
    let (least, most) = (least.min(most), least.max(most));
    let step = habit.grain / unit.factor;
    // Of a unit that is counted the other way (threads to the inch) a step is no length.
    let step = if step > 0.0 && step.is_finite() { step } else { 1e-3 };
    // So many decimals as it takes to tell a step from the next.
    let tenfold = libm::pow(10.0, libm::ceil(-libm::log10(step) - 1e-4).clamp(0.0, 6.0));
    // A hair of room, so that what was typed on a division stays on it.
    let mut low = libm::floor(low * tenfold + 1e-4) / tenfold;
    let mut high = libm::ceil(high * tenfold - 1e-4) / tenfold;
    if low >= high {
        (low, high) = (low - 1.0 / tenfold, high + 1.0 / tenfold);
    }
    let (low, high) = (low.max(least), high.min(most));
    let text = |value: f64| {
        let near = |decimals: &u8| {
            let shown = number::format(value, *decimals).parse::<f64>().unwrap_or(f64::NAN);
            (shown - value).abs() <= 1e-9 * value.abs().max(1.0)
        };
        number::format(value, (0..9).find(near).unwrap_or(9))
    };
    (low < high).then(|| format!("{}..{}", text(low), text(high)))
}
