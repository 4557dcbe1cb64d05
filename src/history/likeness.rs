//! Likeness: whether two readings may stand in one figure, or one comparison.
//!
//! They may where they were true together: of one part, with nothing disturbed between, under the same conditions. Told here once, for
//! figures, diff, drift, checks and pages. Must not know what anybody makes of them.

use super::alike;
pub use super::alike::{Likeness, within};
use super::disturb::Disturbance;
use super::facts::Facts;
use super::gauges::Correction;
use super::grain;
use super::order::Rank;
use super::slots::{Owner, Register, SlotEvent, Track};
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Extra, HeldAgainst, Item, Verb};
use crate::book::model::{CarId, Condition, PartId};
use crate::book::place::Place;
use crate::source::FileId;
use crate::vocabulary::QuantityId;

/// A reading that something rests on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Reading {
    /// Of which quantity.
    pub quantity: QuantityId,
    /// Where.
    pub place: Place,
    /// The line that read it.
    pub entry: EntryId,
    /// Whose: the car's, or that of the part it was read of.
    pub owner: Owner,
}

/// Why two readings were not true together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Why {
    /// What the newer shows, and the older does not.
    Disturbed(Disturbance),
    /// A condition that both state, and not alike: what it is of.
    Conditions(String),
}

/// Two readings that were not true together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Apart {
    /// The older.
    pub older: Reading,
    /// The newer.
    pub newer: Reading,
    /// Why.
    pub why: Why,
}

/// Readings of one physical state are taken as they were before a moment: what such a change moves, or what needs such a condition.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Horizon {
    /// The moment.
    pub before: Rank,
    /// When the older reading was taken: what was changed since is as it was then, not as it was while the work was on the way (a spring
    /// off, the next not yet on).
    pub then: Rank,
    /// Of which state.
    pub of: Shared,
}

/// What makes quantities be of one physical state.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Shared {
    /// What a change of this quantity moves, and what was read of it on a part that was changed.
    MovedBy(QuantityId),
    /// What an impact moves.
    Hit,
    /// What must be read under this condition.
    Needs(String),
    /// These quantities alone: what was read of them is of an older weighing.
    Weighed([QuantityId; 2]),
}

impl Horizon {
    /// Up to when a quantity is taken; `None` where it is not of the state.
    #[must_use]
    pub fn until(&self, facts: Facts<'_>, quantity: QuantityId) -> Option<Rank> {
        let changed = self.of == Shared::MovedBy(quantity) && !facts.history.disturbances.brings(quantity);
        self.holds(facts, quantity).then_some(if changed { self.then } else { self.before })
    }

    /// Up to when settings are taken, whatever they are of: nothing set after the older reading was ever true with it. `None` where only
    /// an older weighing is meant.
    #[must_use]
    pub fn set_by(&self) -> Option<Rank> {
        (!matches!(self.of, Shared::Weighed(_))).then_some(self.then)
    }

    /// Whether a quantity is of the state.
    #[must_use]
    pub fn holds(&self, facts: Facts<'_>, quantity: QuantityId) -> bool {
        let what = facts.book.vocabulary.get(quantity);
        match &self.of {
            Shared::MovedBy(by) => what.feels(*by) || *by == quantity,
            Shared::Hit => what.disturbed_by_hit,
            Shared::Needs(key) => what.needs.iter().any(|need| **need == **key),
            Shared::Weighed(both) => both.contains(&quantity),
        }
    }
}

impl Apart {
    /// Up to when readings of their state are taken, so that they were true together.
    #[must_use]
    pub fn horizon(&self, facts: Facts<'_>) -> Horizon {
        let of = match &self.why {
            Why::Disturbed(change) => change.quantity.map_or(Shared::Hit, Shared::MovedBy),
            Why::Conditions(key) => Shared::Needs(key.clone()),
        };
        Horizon { before: self.before(facts), then: rank(facts, self.older).next(), of }
    }

    /// The last moment at which the older may have stood beside others that were true with it: before the change, else before the
    /// newer was read.
    #[must_use]
    pub fn before(&self, facts: Facts<'_>) -> Rank {
        match &self.why {
            Why::Disturbed(change) => change.rank,
            Why::Conditions(_) => rank(facts, self.newer),
        }
    }
}

fn rank(facts: Facts<'_>, reading: Reading) -> Rank {
    facts.history.order.rank.get(reading.entry).copied().unwrap_or(Rank::START)
}

/// Of the readings that one figure rests on, two that were not true together; of several pairs the one that lies furthest back,
/// since every state after it has the same fault.
///
/// A change makes an older reading untrue where it disturbs what was read there; the newer is of the same physical state where
/// the same sort of change disturbs it too, wherever on the car it was read: it shows the change and the older does not.
#[must_use]
pub fn apart(facts: Facts<'_>, car: CarId, readings: &[Reading]) -> Option<Apart> {
    let newest = readings.iter().map(|one| rank(facts, *one)).max()?;
    let mut found: Option<Apart> = None;
    let mut keep = |one: Apart| {
        if found.as_ref().is_none_or(|found| one.before(facts) < found.before(facts)) {
            found = Some(one);
        }
    };
    for older in readings {
        let then = rank(facts, *older);
        if then == newest {
            continue;
        }
        // Of two readings of one place a figure tells what happened between them: how far it drifted, how much it wore.
        let again = |one: &Reading| one.quantity == older.quantity && one.place == older.place;
        let later = || readings.iter().filter(|one| rank(facts, **one) > then && !again(one));
        let change = changes(facts, car, *older, [then, newest]).find_map(|change| {
            let shows =
                |newer: &&Reading| rank(facts, **newer) > change.rank && felt(facts, **newer, &change);
            later().find(shows).map(|newer| (change, *newer))
        });
        if let Some((change, newer)) = change {
            keep(Apart { older: *older, newer, why: Why::Disturbed(change) });
        }
        for newer in later() {
            if let Some(key) = conditions(facts, *older, *newer) {
                keep(Apart { older: *older, newer: *newer, why: Why::Conditions(key) });
            }
        }
    }
    found
}

/// Whether what two parts in one place hold of a quantity may be compared: what travels with a part, with itself or with nothing. What
/// a part only gives (a spring its rate) is the car's too.
#[must_use]
pub fn of_one_part(book: &Book, quantity: QuantityId, then: Option<PartId>, now: Option<PartId>) -> bool {
    let carried = |part: Option<PartId>| {
        let kind = part.and_then(|part| book.parts.get(part)?.kind);
        kind.and_then(|kind| book.kinds.get(kind)).is_some_and(|kind| kind.carries.contains(&quantity))
    };
    then == now || !carried(then) && !carried(now)
}

/// By how much two values may differ and be the same, SI: what each leaves open, and what the comparison of their gauges does, added.
#[must_use]
pub fn room(facts: Facts<'_>, a: (&SlotEvent, &Item), b: (&SlotEvent, &Item)) -> f64 {
    let half = |(event, item): (&SlotEvent, &Item)| {
        let line = event.line(facts.book);
        line.map_or(f64::from(item.half), |line| grain::half(facts.book, facts.files, line, item))
    };
    half(a) + half(b) + gauges(facts, (a.0.entry, a.1), (b.0.entry, b.1)).1
}

/// By how much the first of two values is more than the second, SI, with what their gauges differ by taken off.
#[must_use]
pub fn difference(facts: Facts<'_>, a: (&SlotEvent, &Track), b: (&SlotEvent, &Track)) -> f64 {
    a.0.value - b.0.value - gauges_between(facts, a, b).0
}

/// By how much more the gauge of the first value reads than that of the second, and how far off that may be, SI; both 0 where no
/// comparison says, or it is one gauge. What was set by a gauge is what that gauge showed.
#[must_use]
pub fn gauges_between(facts: Facts<'_>, a: (&SlotEvent, &Track), b: (&SlotEvent, &Track)) -> (f64, f64) {
    let item = |(event, track): (&SlotEvent, &Track)| facts.history.item(facts.book, track, event);
    let Some((first, second)) = item(a).zip(item(b)) else { return (0.0, 0.0) };
    let by = |(event, track): (&SlotEvent, &Track)| facts.read_by(track, event);
    gauges(facts, (by(a), first), (by(b), second))
}

/// By how much more the gauge of one line reads than that of another, and how far off that may be; both 0 where no comparison says. SI
/// of the values.
fn gauges(facts: Facts<'_>, a: (Option<EntryId>, &Item), b: (Option<EntryId>, &Item)) -> (f64, f64) {
    let of = |(line, item): (Option<EntryId>, &Item)| {
        let line = line?;
        let (_, found) = facts.correction(line, item)?;
        let file = facts.book.entries.get(line)?.file;
        Some((found, grain::si_per_metre(facts.files, file, item)?))
    };
    let alone = |one: &(Correction, f64)| {
        let known = one.0.against == HeldAgainst::Reference;
        if known { (one.0.high * one.1, one.0.half() * one.1) } else { (0.0, 0.0) }
    };
    match (of(a), of(b)) {
        (None, None) => (0.0, 0.0),
        (Some(a), None) => alone(&a),
        (None, Some(b)) => {
            let (high, half) = alone(&b);
            (-high, half)
        }
        (Some(a), Some(b)) if a.0.terms == b.0.terms => {
            let (_, half) = a.0.less(&b.0);
            (a.0.high * a.1 - b.0.high * b.1, half * a.1.max(b.1))
        }
        (Some(a), Some(b)) => {
            let (a, b) = (alone(&a), alone(&b));
            (a.0 - b.0, a.1 + b.1)
        }
    }
}

/// What two values say: as typed where both were asked for, else within what their gauges or last digits leave open.
#[must_use]
pub fn compare(facts: Facts<'_>, a: (SlotEvent, &Track), b: (SlotEvent, &Track)) -> Likeness {
    let Facts { book, files, history } = facts;
    let items = history.item(book, a.1, &a.0).zip(history.item(book, b.1, &b.0));
    let Some((first, second)) = items else { return Likeness::CannotTell };
    let files_of = history.file_of(book, a.1, &a.0).zip(history.file_of(book, b.1, &b.0));
    let Some((here, there)) = files_of else { return Likeness::CannotTell };
    if let Some(same) = alike::words(files, (first, here), (second, there)) {
        return if same { Likeness::Same } else { Likeness::Moved };
    }
    if !first.has_value() || !second.has_value() {
        return Likeness::CannotTell;
    }
    // So many clicks from one end are not so many from the other.
    if a.1.from_hard != b.1.from_hard {
        return Likeness::CannotTell;
    }
    let asked = a.0.register() == Register::Asked && b.0.register() == Register::Asked;
    let (further, others) = (a.1.further(book, &a.0), b.1.further(book, &b.0));
    if further.len() == others.len() {
        let lines = (a.0.line(book), b.0.line(book));
        let half = |item: &Item, line: Option<&Entry>| {
            line.map_or(f64::from(item.half), |line| grain::half(book, files, line, item))
        };
        let moved = |(one, other): (&&Item, &&Item)| {
            let room = if asked {
                room_of_asked((one, lines.0), (other, lines.1))
            } else {
                half(one, lines.0) + half(other, lines.1)
            };
            within(one.si - other.si, room.max(1e-9 * one.si.abs())) == Likeness::Moved
        };
        if further.iter().zip(&others).any(moved) {
            return Likeness::Moved;
        }
    }
    // Two settings differ if their numbers do; by gauges that do not read alike, if what was set by them does.
    if asked && gauges_between(facts, (&a.0, a.1), (&b.0, b.1)) == (0.0, 0.0) {
        let room = room_of_asked((first, a.0.line(book)), (second, b.0.line(book)));
        return within(a.0.value - b.0.value, room.max(1e-9 * a.0.value.abs()));
    }
    within(difference(facts, (&a.0, a.1), (&b.0, b.1)), room(facts, (&a.0, first), (&b.0, second)))
}

/// Whether two values that were asked for are the same by what the comparisons of their gauges say, and no more: as typed they differ.
#[must_use]
pub fn same_by_gauges(facts: Facts<'_>, a: (SlotEvent, &Track), b: (SlotEvent, &Track)) -> bool {
    let Facts { book, history, .. } = facts;
    let items = history.item(book, a.1, &a.0).zip(history.item(book, b.1, &b.0));
    let Some((first, second)) = items.filter(|(first, second)| first.has_value() && second.has_value())
    else {
        return false;
    };
    let asked = a.0.register() == Register::Asked && b.0.register() == Register::Asked;
    let room = room_of_asked((first, a.0.line(book)), (second, b.0.line(book)));
    asked
        && within(a.0.value - b.0.value, room.max(1e-9 * a.0.value.abs())) == Likeness::Moved
        && compare(facts, a, b) == Likeness::Same
}

/// By how much two values that were asked for may differ and be the same, SI: nothing, but where one was typed in another unit what its
/// digits leave open of the conversion. What was changed by so much is what it was, and so much.
fn room_of_asked(a: (&Item, Option<&Entry>), b: (&Item, Option<&Entry>)) -> f64 {
    let typed = |line: Option<&Entry>| line.is_none_or(|line| matches!(line.verb, Verb::Set | Verb::Try));
    if a.0.unit == b.0.unit || !typed(a.1) || !typed(b.1) {
        return 0.0;
    }
    f64::from(a.0.half) + f64::from(b.0.half)
}

/// Whether something stands at what a line plans of it, a number or those of a pair: as typed where it was asked for in that unit, else within what its gauge and the
/// last digits leave open.
#[must_use]
pub fn stands_at(facts: Facts<'_>, plan: (&[Item], FileId), is: (SlotEvent, &Track)) -> Likeness {
    let (planned, of_plan) = plan;
    let Some(first) = planned.first() else { return Likeness::CannotTell };
    let plan = (first, of_plan);
    let Facts { book, files, history } = facts;
    let typed = history.item(book, is.1, &is.0).zip(history.file_of(book, is.1, &is.0));
    let Some((item, file)) = typed else { return Likeness::CannotTell };
    if let Some(same) = alike::words(files, plan, (item, file)) {
        return if same { Likeness::Same } else { Likeness::Moved };
    }
    if !plan.0.has_value() || !item.has_value() {
        return Likeness::CannotTell;
    }
    let difference = is.0.value - plan.0.si;
    let line = is.0.line(book);
    let stood = is.1.further(book, &is.0);
    let further = planned.iter().skip(1).zip(&stood);
    let moved = |(plan, is): (&Item, &&Item)| {
        let room = f64::from(plan.half).max(f64::from(is.half));
        within(is.si - plan.si, room) == Likeness::Moved
    };
    if stood.len() + 1 == planned.len() && further.clone().any(moved) {
        return Likeness::Moved;
    }
    if is.0.register() == Register::Asked {
        let room = room_of_asked((plan.0, None), (item, line));
        return within(difference, room.max(1e-9 * plan.0.si.abs()));
    }
    let half = line.map_or(f64::from(item.half), |line| grain::half(book, files, line, item));
    within(difference, half + f64::from(plan.0.half))
}

/// What two figures say of one thing, each with its standard uncertainty where it has one: beyond two of both together they differ
/// (GUM 6.2; JCGM 106). Without any, as they are rounded; `None`.
#[must_use]
pub fn of_figures(difference: f64, a: Option<f64>, b: Option<f64>) -> Option<Likeness> {
    let u = libm::hypot(a.unwrap_or(0.0), b.unwrap_or(0.0));
    (u > 0.0).then(|| within(difference, 2.0 * u))
}

/// The changes that make a reading untrue, between two ranks.
pub fn changes(
    facts: Facts<'_>,
    car: CarId,
    reading: Reading,
    between: [Rank; 2],
) -> impl Iterator<Item = Disturbance> {
    // What was read at one hole is still so at that hole.
    let apart = |line: &Entry| bars(facts, line) == Some(false) || hole(facts, line).is_some();
    let bars_off = facts.book.entries.get(reading.entry).is_some_and(apart);
    let bar = facts.book.vocabulary.find("bar-hole");
    let what = (reading.quantity, reading.place);
    let all = facts.history.disturbances.after(facts.book, car, what, between);
    // What was read of a part is still its own when it is fitted, and whoever was in its place meanwhile.
    let of_part = matches!(reading.owner, Owner::Part(_));
    let own = move |change: &Disturbance| of_part && change.brings(reading.quantity);
    // A bar that is off carries nothing, whatever hole it is in.
    all.filter(move |change| !bars_off || change.quantity.is_none() || change.quantity != bar)
        .filter(move |change| !own(change))
}

/// Whether what was read is of the state that a change is a change of.
pub(super) fn felt(facts: Facts<'_>, reading: Reading, change: &Disturbance) -> bool {
    let what = facts.book.vocabulary.get(reading.quantity);
    match change.quantity {
        None => what.disturbed_by_hit,
        Some(by) => what.feels(by) || change.brings(reading.quantity),
    }
}

/// The condition that both readings need, both state, and not alike.
#[must_use]
pub fn conditions(facts: Facts<'_>, older: Reading, newer: Reading) -> Option<String> {
    let (a, b) = (facts.book.vocabulary.get(older.quantity), facts.book.vocabulary.get(newer.quantity));
    let (old, new) = (facts.book.entries.get(older.entry)?, facts.book.entries.get(newer.entry)?);
    let both = a.needs.iter().filter(|key| b.needs.contains(key));
    both.map(|key| &**key)
        .find(|key| {
            let pair = says(facts, old, key).zip(says(facts, new, key));
            pair.is_some_and(|(old, new)| !agree(facts, old, new))
        })
        .map(str::to_owned)
}

/// What a line, or else its car's reference, says of a condition.
#[must_use]
pub fn says<'a>(facts: Facts<'a>, entry: &Entry, key: &str) -> Option<&'a Condition> {
    let named = |condition: &&Condition| facts.files.text(condition.key).eq_ignore_ascii_case(key);
    let extra = facts.book.extra(entry);
    let line = extra.and_then(|extra| extra.conditions.iter().find(named));
    line.or_else(|| {
        // A condition that could not be read may have been this one.
        if extra.is_some_and(Extra::conditions_lost) {
            return None;
        }
        let car = facts.book.head(entry)?.car?;
        facts.book.cars.get(car)?.reference.iter().find(named)
    })
}

/// Whether two conditions of one key say the same: numbers within 1 %, words as typed.
#[must_use]
pub fn agree(facts: Facts<'_>, a: &Condition, b: &Condition) -> bool {
    match (a.value, b.value) {
        (Some((a, _)), Some((b, _))) => (a - b).abs() <= 0.01 * a.abs().max(b.abs()),
        (None, None) => {
            let words = |condition: &Condition| {
                let said = facts.files.text(condition.said);
                said.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>()
            };
            words(a) == words(b)
        }
        _ => false,
    }
}

/// The hole (or blade position) of a bar that a reading is about, where its line says one.
#[must_use]
pub fn hole(facts: Facts<'_>, entry: &Entry) -> Option<f64> {
    let conditions = &facts.book.extra(entry)?.conditions;
    let hole = conditions.iter().find(|one| facts.files.text(one.key).eq_ignore_ascii_case("bar-hole"));
    hole.and_then(|one| one.value).map(|(value, _)| value)
}

/// Whether a line was read with the bars on: what it says of bars or links, else what its car's reference does. One that is off, or
/// whose links are, carries nothing. `None` where neither says.
#[must_use]
pub fn bars(facts: Facts<'_>, entry: &Entry) -> Option<bool> {
    let text = |span| facts.files.text(span);
    let on = |all: &[Condition]| {
        let about = |one: &&Condition| {
            ["bars", "links"].into_iter().any(|key| text(one.key).eq_ignore_ascii_case(key))
        };
        let off = |one: &Condition| text(one.said).to_lowercase().ends_with("off");
        let said = all.iter().filter(about).map(off);
        said.reduce(|a, b| a || b).map(|off| !off)
    };
    let extra = facts.book.extra(entry);
    extra.and_then(|extra| on(&extra.conditions)).or_else(|| {
        // A condition that could not be read may have been this one.
        let usual = !extra.is_some_and(Extra::conditions_lost);
        on(&facts.book.cars.get(facts.book.head(entry)?.car.filter(|_| usual)?)?.reference)
    })
}

/// As which reading of a car a number on a row stands: what was weighed on the row of a lift is weight. `None` where no car was read.
#[must_use]
pub fn of_row(facts: Facts<'_>, quantity: QuantityId, item: &Item, entry: EntryId) -> Option<Reading> {
    let vocabulary = &facts.book.vocabulary;
    let weighed = vocabulary
        .find("weight")
        .filter(|id| vocabulary.get(*id).dimension.get().dims().contains(&item.unit().get().dim));
    let quantity = weighed.unwrap_or(quantity);
    let there = weighed.is_some() || vocabulary.get(quantity).places.has(item.place.class());
    let place = if there { item.place } else { Place::CAR };
    let car = facts.book.head(facts.book.entries.get(entry)?)?.car?;
    let carrying = facts.history.slots.carrying(facts.book, &facts.history.parts);
    let owner = carrying.owner(car, quantity, place, *facts.history.order.rank.get(entry)?);
    Some(Reading { quantity, place, entry, owner })
}
