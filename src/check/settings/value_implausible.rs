//! `value-implausible`: outside what is usual.

use super::lines::{before, earlier};
use super::own_usual;
use crate::check::{Check, Context, Family, Look};
use crate::book::normal::judged;
use crate::book::entry::{EntryId, Entry, Flags, Item, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{DimensionId, number};
use crate::vocabulary::Places;
use crate::words::normal;

/// The check.
pub const CHECK: Check = Check {
    name: "value-implausible",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a value outside what is usual",
    why: "Every quantity of the vocabulary has a range that is usual on the cars a small shop keeps. Outside it the number is \
          more often a slip (a lost sign, a point in the wrong place, another unit) than a fact. If it is a fact, answer \
          the warning with the reason; if it is normal on the car or in its class, a `usual` line under its declaration says so, and where \
          three events or more have agreed the message has that line ready.",
    wrong: "  left camber LF 1.2 deg",
    right: "  left camber LF -1.2 deg",
    look: Look::Entry(&[Verb::Set, Verb::Found, Verb::Left, Verb::Read, Verb::Torque, Verb::Bench], look),
};

/// How far back a sign is looked for.
const BACK: usize = 20;

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(id) = entry.quantity.filter(|_| !entry.void) else { return };
    let quantity = cx.quantity(id);
    // A part on the bench is on no car.
    let car = cx.book.head(entry).and_then(|head| head.car).filter(|_| entry.verb != Verb::Bench);
    let outside = |item: &Item| {
        let value = judged(quantity, item).filter(|_| !item.is(Flags::REPEAT))?;
        cx.book.normal(car, id, item.place).usual.filter(|usual| !usual.hold(value))
    };
    let items = cx.book.items_of(entry);
    let far: Vec<&Item> = items.iter().filter(|item| outside(item).is_some()).collect();
    let Some((at, item, usual)) =
        items.iter().enumerate().find_map(|(at, item)| Some((at, item, outside(item)?)))
    else {
        return;
    };
    // One cylinder unlike its neighbours is a finding; all of them alike are a slip.
    if quantity.places.has(Places::CYLINDER) && items.len() > 1 && far.len() < items.len() {
        return;
    }
    // What was left before and is found elsewhere has drifted; that is said by `found-has-drifted`.
    let drifts = !quantity.disturbed_by.is_empty() || quantity.disturbed_by_hit;
    if entry.verb == Verb::Found
        && drifts
        && car.is_some_and(|car| before(cx, car, id, item.place, cx.rank(index)).is_some())
    {
        return;
    }
    let each = if quantity.dimension == DimensionId::TOE && item.place.is_axle() { " a wheel" } else { "" };
    let range = normal::range(&usual, normal::unit(quantity, item.unit()));
    let whose = normal::whose(cx.book, usual.says);
    let sign = sign(cx, index, entry, item);
    let also = match far.len() - 1 {
        0 => String::new(),
        1 => " One more on this line is outside too.".to_owned(),
        more => format!(" {more} more on this line are outside too."),
    };
    let span = cx.item_span(index, entry.items.plus(at));
    let words = format!("{} {}: usual is {range}{each}{whose}.", cx.slot(id, item.place), cx.typed(index, item));
    let offer = car.and_then(|car| own_usual::offer(cx, car, index, &far));
    let cure = match (sign.is_some(), offer) {
        (true, _) => "put the sign in front".to_owned(),
        (false, None) => "correct it, or `waive value-implausible because ...`".to_owned(),
        (false, Some(offer)) => offer,
    };
    out.push(CHECK.at(span, format!("{words}{}{also}", sign.unwrap_or_default())).cure(cure));
}

/// Whether every earlier value has the other sign: " Every earlier value is -2.5 to -3.5 deg. Sign?"
fn sign(cx: &Context<'_>, index: EntryId, entry: &Entry, item: &Item) -> Option<String> {
    let car = cx.book.head(entry)?.car?;
    let rank = cx.rank(index);
    let (track, _) = before(cx, car, entry.quantity?, item.place, rank)?;
    let count = earlier(cx, track, rank);
    let events = track.events.get(count.saturating_sub(BACK)..count)?;
    let values: Vec<f64> = events
        .iter()
        .filter(|event| event.entry.is_some() && Context::is_number(cx.item(event.item())))
        .map(|event| event.value)
        .collect();
    let (small, large) = values
        .iter()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |(small, large), value| (small.min(*value), large.max(*value)));
    let other = values.iter().all(|value| *value * item.si < 0.0);
    if values.is_empty() || !other {
        return None;
    }
    let unit = item.unit().get();
    let near = if item.si > 0.0 { (large, small) } else { (small, large) };
    let (from, to) = (
        number::format(unit.from_si(near.0), item.decimals),
        number::format(unit.from_si(near.1), item.decimals),
    );
    let said = if from == to { from } else { format!("{from} to {to}") };
    Some(format!(" Every earlier value is {said} {}. Sign?", unit.shown()))
}
