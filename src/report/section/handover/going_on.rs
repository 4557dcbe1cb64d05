//! Lines for a book of the buyer's own: the car, its meters, and each part with what it has run, so that the same hours go on.
//!
//! Must not know what else is handed over.

use crate::audience::Purchase;
use crate::book::model::{Clock, KindId, LifeAmount, PartId, Since, SpecId, Valid, Work};
use crate::book::place::Place;
use crate::book::range::StatedRange;
use crate::history::dated;
use crate::history::order::Rank;
use crate::history::parts::Where;
use crate::history::slots::Register;
use crate::history::tally;
use crate::lives::life;
use crate::report::section::parts::life_words;
use crate::report::section::value;
use crate::report::teller::Teller;
use crate::words;
use std::collections::BTreeSet;
use std::fmt::Write as _;

/// The lines, as they would be typed.
pub(super) fn lines(tell: &Teller<'_>, purchase: &Purchase) -> Vec<String> {
    let book = tell.cx.book;
    let going = super::parts::going(tell, purchase);
    let declared = |part: &PartId| book.parts.get(*part);
    let kinds: BTreeSet<KindId> = going.iter().filter_map(declared).filter_map(|part| part.kind).collect();
    let specs: BTreeSet<SpecId> = going.iter().filter_map(declared).filter_map(|part| part.spec).collect();
    let mut lines = car(tell, purchase);
    lines.extend(class(tell, purchase));
    for id in &kinds {
        lines.extend(kind(tell, purchase, *id, &kinds));
        let of = |spec: &&SpecId| book.specs.get(**spec).is_some_and(|spec| spec.kind == *id);
        lines.extend(specs.iter().filter(of).filter_map(|one| spec(tell, *one)));
        let own = going.iter().filter(|part| declared(part).is_some_and(|part| part.kind == Some(*id)));
        lines.extend(own.filter_map(|one| part(tell, *one, purchase.until)));
    }
    lines.extend(where_it_is(tell, purchase, &going));
    lines
}

/// A dated head, and under it where each part is.
fn where_it_is(tell: &Teller<'_>, purchase: &Purchase, going: &[PartId]) -> Vec<String> {
    let cx = &tell.cx;
    let day = purchase.sale.and_then(|sale| cx.date(sale)).unwrap_or(cx.today);
    let mut fits = Vec::new();
    let mut builds = Vec::new();
    for part in going {
        match cx.history.parts.get(*part).at(purchase.until).map(|stay| stay.at) {
            Some(Where::Car(_, place)) if place == Place::ALL => {
                fits.push(format!("  fit {}", cx.part(*part)));
            }
            Some(Where::Car(_, place)) => fits.push(format!("  fit {} {}", cx.part(*part), cx.place(place))),
            Some(Where::Inside(assembly)) => {
                builds.push(format!("  build {} into {}", cx.part(*part), cx.part(assembly)));
            }
            _ => {}
        }
    }
    if fits.is_empty() && builds.is_empty() {
        return Vec::new();
    }
    let head = format!("{day} {} \"as it was handed over\"", cx.car(purchase.car));
    [String::new(), head].into_iter().chain(builds).chain(fits).collect()
}

fn quoted(text: &str) -> String {
    format!("\"{}\"", text.replace(['"', '\u{201C}', '\u{201D}', '\u{201E}'], "'"))
}

fn car(tell: &Teller<'_>, purchase: &Purchase) -> Vec<String> {
    let cx = &tell.cx;
    let Some(car) = cx.book.cars.get(purchase.car) else { return Vec::new() };
    let mut head = format!("car {} {}", car.named.typed, quoted(&car.named.title));
    if !car.class.is_empty() {
        let _ = write!(head, "  class {}", quoted(&car.class));
    }
    let _ = write!(head, "  units {}", if car.imperial { "imperial" } else { "metric" });
    let mut lines = vec![head];
    for (word, count) in [("cylinders", car.cylinders), ("gears", car.gears)] {
        lines.extend(count.map(|count| format!("  {word} {count}")));
    }
    // Before the ranges: those of toe may be lengths.
    lines.extend(car.toe_over.map(|over| format!("  toe-over {} mm", words::amount(over * 1e3, 3))));
    lines.extend(ranges(tell, &car.ranges));
    for (id, quantity) in
        cx.book.vocabulary.iter().filter(|(_, quantity)| quantity.counter && quantity.declared.is_none())
    {
        let slot = cx.on(purchase.car, purchase.until).slot(id, Place::CAR);
        let event = slot
            .as_ref()
            .and_then(|slot| slot.held.is(cx.history))
            .filter(|event| event.register() != Register::Unknown);
        if let (Some(slot), Some(event)) = (slot, event) {
            lines.push(format!("  {} {}", quantity.name, value::value(tell, slot.track, &event).full()));
        }
    }
    lines
}

/// The class it runs in, where the book says what is normal there.
fn class(tell: &Teller<'_>, purchase: &Purchase) -> Vec<String> {
    let book = tell.cx.book;
    let of_class =
        book.cars.get(purchase.car).and_then(|car| car.of_class).and_then(|class| book.classes.get(class));
    let Some(class) = of_class else { return Vec::new() };
    let head = format!("class {} {}", quoted(&class.named.typed), quoted(&class.named.title));
    std::iter::once(head).chain(ranges(tell, &class.ranges)).collect()
}

/// Ranges as typed, of quantities that every book has.
fn ranges(tell: &Teller<'_>, ranges: &[StatedRange]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for range in ranges.iter().filter(|range| tell.cx.quantity(range.quantity).declared.is_none()) {
        let line = format!("  {}", tell.cx.text(range.typed));
        if lines.last() != Some(&line) {
            lines.push(line);
        }
    }
    lines
}

/// A kind with its limits, for this car alone.
fn kind(tell: &Teller<'_>, purchase: &Purchase, id: KindId, known: &BTreeSet<KindId>) -> Option<String> {
    let cx = &tell.cx;
    let kind = cx.book.kinds.get(id)?;
    let mut line = format!("kind {} {}", kind.named.typed, quoted(&kind.named.title));
    for (word, carried) in [("fits", false), ("carried", true)] {
        let fits = kind.fits.iter().filter(|fit| fit.on(purchase.car) && fit.carried == carried);
        let places: Vec<String> = fits.flat_map(|fit| &fit.places).map(|place| cx.place(*place)).collect();
        if !places.is_empty() {
            let _ = write!(line, "  {word} {} on {}", places.join(" "), cx.car(purchase.car));
        }
    }
    let names = kind.inside.iter().filter(|one| known.contains(one));
    for name in names.filter_map(|one| cx.book.kinds.get(*one)) {
        let _ = write!(line, "  inside {}", name.named.typed);
    }
    limits(tell, &mut line, &kind.life, &kind.valid);
    for every in kind.every.iter().filter(|every| matches!(every.work, Work::Part(_))) {
        let _ = write!(line, "  every {}", cx.text(every.typed));
    }
    for (word, is) in [("safety", kind.safety), ("one-use", kind.one_use), ("must", kind.must)] {
        if is {
            let _ = write!(line, "  {word}");
        }
    }
    Some(line)
}

fn spec(tell: &Teller<'_>, id: SpecId) -> Option<String> {
    let spec = tell.cx.book.specs.get(id)?;
    let kind = tell.cx.book.kinds.get(spec.kind)?;
    let mut line = format!("spec {} of {} {}", spec.named.typed, kind.named.typed, quoted(&spec.named.title));
    limits(tell, &mut line, &spec.life, &spec.valid);
    Some(line)
}

fn limits(tell: &Teller<'_>, line: &mut String, life: &[LifeAmount], valid: &[Valid]) {
    let life: Vec<&str> = life.iter().map(|amount| tell.cx.text(amount.typed)).collect();
    if !life.is_empty() {
        let _ = write!(line, "  life {}", life.join(", "));
    }
    let valid: Vec<&str> = valid.iter().map(|valid| tell.cx.text(valid.typed)).collect();
    if !valid.is_empty() {
        let _ = write!(line, "  valid {}", valid.join(", "));
    }
}

/// A part with what its present life has run, so that its limits go on where they are. A clock that is not known is left
/// out: it is not known there either. What it had run before a rebuild is a comment.
fn part(tell: &Teller<'_>, id: PartId, until: Rank) -> Option<String> {
    let cx = &tell.cx;
    let part = cx.book.parts.get(id)?;
    let mut line = format!("part {} {}", part.named.typed, cx.kind_of(id));
    if let Some(spec) = part.spec.and_then(|spec| cx.book.specs.get(spec)) {
        let _ = write!(line, "  spec {}", spec.named.typed);
    }
    if !part.serial.is_empty() {
        let _ = write!(line, "  serial {}", quoted(&part.serial));
    }
    let life = life::of(cx.book, cx.history, id, until).pop()?;
    let mut amounts: Vec<String> = Clock::ALL
        .into_iter()
        .filter(|clock| *clock != Clock::Months)
        .map(|clock| (clock, life.on(cx.book, clock)))
        .filter(|(_, lived)| !lived.at_least)
        .map(|(clock, lived)| amount(clock, lived.value))
        .collect();
    let months = life.on(cx.book, Clock::Months).before;
    let day = cx.history.order.entries.get(until).and_then(|entry| cx.date(*entry)).unwrap_or(cx.today);
    if let (Some(before), true) =
        (months, cx.book.limits(id).0.iter().any(|limit| limit.clock == Clock::Months))
    {
        let since = life.first.map_or(0.0, |first| tally::months(first, day).max(0.0));
        amounts.push(amount(Clock::Months, before + since));
    }
    if !amounts.is_empty() {
        let _ = write!(line, "  opening {}", amounts.join(", "));
    }
    let from = |since: Since| dated::counted_from(cx.book, cx.history, id, since, until);
    let serviced = from(Since::Serviced).filter(|day| part.made.is_none_or(|(made, _)| made != *day));
    let counts = dated::rules(cx.book, part).iter().any(|valid| valid.since == Since::Fitted);
    let dates = [
        ("made", part.made.map(|(made, _)| made)),
        ("serviced", serviced),
        ("fitted", from(Since::Fitted).filter(|_| part.fitted.is_some() || counts)),
        ("valid-until", dated::label(cx.book, cx.history, id, until)),
    ];
    for (word, date) in dates {
        if let Some(date) = date {
            let _ = write!(line, "  {word} {date}");
        }
    }
    let lines = cx.history.parts.get(id);
    let rebuilt = lines.rebuilds.iter().rev().find(|rebuild| rebuild.rank < until);
    if let Some(day) = rebuilt.and_then(|rebuild| cx.date(rebuild.entry)) {
        let _ = write!(line, "  # since its rebuild on {day}; since new {}", life_words(tell, id, until));
    }
    Some(line)
}

fn amount(clock: Clock, value: f64) -> String {
    let digits = |value: f64| words::amount(value, 3);
    match clock {
        Clock::Time => format!("{} min", digits(value / 60.0)),
        Clock::Distance => format!("{} km", digits(value / 1000.0)),
        Clock::StageDistance => format!("{} stage-km", digits(value / 1000.0)),
        Clock::Laps => format!("{} laps", digits(value)),
        Clock::Days => format!("{} days", digits(value)),
        Clock::Events => format!("{} events", digits(value)),
        Clock::Sessions => format!("{} sessions", digits(value)),
        Clock::Launches => format!("{} launches", digits(value)),
        Clock::HeatCycles => format!("{} heat-cycles", digits(value)),
        Clock::Months => format!("{} months", digits(value)),
    }
}
