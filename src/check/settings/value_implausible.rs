//! `value-implausible`: outside what is usual.

use super::lines::{before, earlier};
use super::own_usual;
use crate::book::model::CarId;
use crate::book::normal::{closest, judged, share};
use crate::book::range::{Bound, Limits, Says};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Item, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::fuel;
use crate::units::{DimensionId, number};
use crate::vocabulary::{Places, QuantityId};
use crate::words::{self, normal};
use rayon::prelude::*;
use rustc_hash::{FxHashMap, FxHashSet};
use std::collections::BTreeMap;

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
    look: Look::Whole(look),
};

/// Lines that say how something is.
const VERBS: [Verb; 8] =
    [Verb::Set, Verb::Adjust, Verb::Found, Verb::Left, Verb::Read, Verb::Fill, Verb::Torque, Verb::Bench];

/// How far back a sign is looked for.
const BACK: usize = 20;

/// A line with values outside what is usual.
struct Outside<'a> {
    index: EntryId,
    entry: &'a Entry,
    quantity: QuantityId,
    car: Option<CarId>,
    /// The first of them: which of the line's items it is, and what is usual there.
    first: (usize, Limits),
    far: Vec<&'a Item>,
}

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let entries = cx.book.entries.as_slice().par_chunks(4096).enumerate();
    let all: Vec<Outside<'_>> = entries
        .flat_map_iter(|(chunk, entries)| {
            let first = chunk * 4096;
            entries.iter().enumerate().filter_map(move |(at, entry)| outside(cx, EntryId::from(first + at), entry))
        })
        .collect();
    let mut of_car: BTreeMap<(CarId, QuantityId), Vec<usize>> = BTreeMap::new();
    for (at, line) in all.iter().enumerate() {
        if let Some(car) = line.car {
            of_car.entry((car, line.quantity)).or_default().push(at);
        }
    }
    // Those that were answered need no other answer.
    let answers = cx.book.entries.iter().filter(|line| line.verb == Verb::Waive && !line.broken);
    let answers = answers.filter(|line| {
        let name = cx.book.extra(line).and_then(|extra| extra.check);
        name.is_some_and(|name| cx.text(name).eq_ignore_ascii_case(CHECK.name))
    });
    let waived: FxHashSet<EntryId> = answers.filter_map(|line| line.parent).collect();
    // The line that makes them usual is offered once, at the first of those that it makes so.
    let mut offers: FxHashMap<EntryId, String> = FxHashMap::default();
    for ((car, quantity), lines) in &of_car {
        let lines = lines.iter().filter_map(|at| all.get(*at)).filter(|line| !waived.contains(&line.index));
        let lines = lines.filter(|line| line.entry.verb != Verb::Adjust);
        let far: Vec<(EntryId, &Item)> =
            lines.flat_map(|line| line.far.iter().map(|item| (line.index, *item))).collect();
        offers.extend(own_usual::offer(cx, *car, *quantity, &far));
    }
    out.extend(all.iter().map(|line| told(cx, line, offers.remove(&line.index))));
}

fn outside<'a>(cx: &Context<'a>, index: EntryId, entry: &'a Entry) -> Option<Outside<'a>> {
    if entry.broken || entry.void || !VERBS.contains(&entry.verb) {
        return None;
    }
    let id = entry.quantity?;
    let quantity = cx.quantity(id);
    // A part on the bench is on no car.
    let car = cx.book.head(entry).and_then(|head| head.car).filter(|_| entry.verb != Verb::Bench);
    let beyond = |item: &Item| {
        let typed = judged(quantity, item)?;
        // What is put in beside what is there is no amount that is aboard.
        if entry.verb == Verb::Fill && fuel::adds(cx.book, cx.files, index, item) {
            return None;
        }
        // A change is judged by what it leads to.
        let value = if entry.verb == Verb::Adjust {
            let led_to = cx.facts.on(car?, cx.rank(index).next()).number(id, item.place)?;
            share(quantity, item.place, led_to)
        } else {
            typed
        };
        cx.book.normal(car, id, item.place).usual.filter(|usual| !usual.hold(value))
    };
    let items = cx.book.items_of(entry);
    let far: Vec<&Item> = items.iter().filter(|item| beyond(item).is_some()).collect();
    let first = items.iter().enumerate().find_map(|(at, item)| Some((at, beyond(item)?)))?;
    // One cylinder unlike its neighbours is a finding; all of them alike are a slip.
    if quantity.places.has(Places::CYLINDER) && items.len() > 1 && far.len() < items.len() {
        return None;
    }
    // What was left before and is found elsewhere has drifted; that is said by `found-has-drifted`.
    let drifts = !quantity.disturbed_by.is_empty() || quantity.disturbed_by_hit;
    let known = |car| before(cx, car, id, far.first()?.place, cx.rank(index));
    if entry.verb == Verb::Found && drifts && car.is_some_and(|car| known(car).is_some()) {
        return None;
    }
    Some(Outside { index, entry, quantity: id, car, first, far })
}

fn told(cx: &Context<'_>, line: &Outside<'_>, offer: Option<String>) -> Diagnostic {
    let Outside { index, entry, quantity: id, car, first: (at, usual), far } = line;
    let (index, quantity) = (*index, cx.quantity(*id));
    let item = cx.item(entry.items.plus(*at));
    let each = if quantity.dimension == DimensionId::TOE && item.place.is_axle() { " a wheel" } else { "" };
    let range = normal::range(usual, normal::unit(quantity, item.unit()));
    let whose = normal::whose(cx.book, usual.says);
    let changed = entry.verb == Verb::Adjust;
    let sign = if changed { None } else { sign(cx, index, entry, item) };
    let also = match far.len() - 1 {
        0 => String::new(),
        1 => " One more on this line is outside too.".to_owned(),
        more => format!(" {more} more on this line are outside too."),
    };
    let span = cx.item_span(index, entry.items.plus(*at));
    let led_to = car.filter(|_| changed).and_then(|car| cx.facts.on(car, cx.rank(index).next()).number(*id, item.place));
    let is = led_to.map_or_else(
        || cx.typed(index, item),
        |led_to| format!("is then {}", cx.value_like(led_to, index, item)),
    );
    let words = format!("{} {is}: usual is {range}{each}{whose}.", cx.slot(*id, item.place));
    // What the car says of itself is put right where it says so.
    let own = car.filter(|car| usual.says == Says::Car(*car)).and_then(|car| cx.book.cars.get(car));
    let own = own.and_then(|car| closest(&car.ranges, *id, item.place, Bound::Usual));
    // What has been so for so long is no lost sign.
    let sign = sign.filter(|_| offer.is_none());
    let cure = match (sign.is_some(), offer, own) {
        (_, Some(offer), _) => offer,
        (true, ..) => "put the sign in front".to_owned(),
        (_, _, Some(own)) => {
            let place = words::place(cx.files.path(own.typed.file), cx.files.line(own.typed));
            format!("correct it, `waive value-implausible because ...`, or widen the range at {place}")
        }
        _ => "correct it, or `waive value-implausible because ...`".to_owned(),
    };
    CHECK.at(span, format!("{words}{}{also}", sign.unwrap_or_default())).cure(cure)
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
