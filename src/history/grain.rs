//! How finely a reading can be told apart: its gauge's resolution where it states one, else its last digit.
//!
//! Must not know checks or figures.

use crate::book::Book;
use crate::book::clause::Clause;
use crate::book::entry::{By, Entry, Flags, Item};
use crate::book::model::Gauge;
use crate::book::names::Thing;
use crate::source::{FileId, Files};
use crate::units::{DimensionId, number, table};
use crate::vocabulary::QuantityId;

/// How many of its typed unit one SI unit is, for differences. Toe typed as a length is kept as an angle, so there it is
/// what was typed over what is kept.
#[must_use]
pub fn per_si(files: &Files, file: FileId, item: &Item) -> f64 {
    let unit = item.unit().get();
    if unit.dim == DimensionId::LENGTH.get().dim
        && let Ok(typed) = number::Number::parse(files.text(item.span(file)))
    {
        if typed.value != 0.0 && item.si != 0.0 {
            return (typed.value / item.si).abs();
        }
        // Nought is nought of either; its last digit is not.
        if item.half > 0.0 && !item.is(Flags::STATED) {
            return typed.half / f64::from(item.half);
        }
    }
    1.0 / unit.factor
}

/// How much a metre typed is in the item's own SI: 1, but for toe typed as a length, which is kept as an angle. `None` where nothing
/// tells.
#[must_use]
pub fn si_per_metre(files: &Files, file: FileId, item: &Item) -> Option<f64> {
    let unit = item.unit().get();
    if unit.dim != DimensionId::LENGTH.get().dim {
        return Some(1.0);
    }
    if item.si != 0.0 {
        return Some(1.0 / (unit.factor * per_si(files, file, item)));
    }
    // Of no toe at all what its last digit is worth tells.
    let typed = number::Number::parse(files.text(item.span(file))).ok()?;
    let half = unit.half_to_si(typed.half, 0.0);
    (half > 0.0 && !item.is(Flags::STATED)).then(|| f64::from(item.half) / half)
}

/// What a gauge states of itself as a difference in the SI of an item: toe typed as a length is kept as an angle, and a gauge of degrees
/// that reads it says the angle. `None` where a length says nothing of an angle, or a load nothing of a travel.
fn stated_of(stated: Item, files: &Files, file: FileId, item: &Item, as_angle: bool) -> Option<f64> {
    let unit = stated.unit().get();
    let size = unit.difference_to_si(unit.from_si(stated.si)).abs();
    if item.unit().get().dim == unit.dim {
        return Some(size / item.unit().get().factor / per_si(files, file, item));
    }
    if unit.dim == DimensionId::PRESSURE.get().dim {
        // Both of what is held and its supply are read so finely: d(1 - h/s) is at most (1 + h/s) / s of a division.
        return Some(size * (2.0 - item.si) / supply(files, file, item)?);
    }
    (as_angle && unit.dim == DimensionId::ANGLE.get().dim).then_some(size)
}

/// The supply of what is typed as pressure held over it (`72/80 psi`), SI; the unit is the next of its line.
fn supply(files: &Files, file: FileId, item: &Item) -> Option<f64> {
    let (_, supply) = files.text(item.span(file)).split_once('/')?;
    let rest = files.get(file)?.text.get((item.start + u32::from(item.len)) as usize..)?.lines().next()?;
    let unit = rest.split_whitespace().find_map(|word| table().find_one(word, DimensionId::PRESSURE))?;
    let supply = unit.get().to_si(number::Number::parse(supply).ok()?.value);
    (supply > 0.0).then_some(supply)
}

/// Whether how finely the gauge of a line reads is stated so that nobody can read it.
#[must_use]
pub fn is_unread(book: &Book, entry: &Entry) -> bool {
    matches!(entry.by, By::Gauge(gauge) if book.unread.has(Some(Thing::Gauge(gauge)), "resolution"))
}

/// Whether what is typed for a quantity is kept as an angle, whatever unit it is typed in.
fn kept_as_angle(book: &Book, quantity: Option<QuantityId>) -> bool {
    quantity.is_some_and(|id| book.vocabulary.get(id).dimension == DimensionId::TOE)
}

/// The gauges that a reading may have been read by, where nobody can read which, or what it says of itself: any that reads the like. `None` where
/// that is known.
fn perhaps<'a>(book: &'a Book, entry: &Entry) -> Option<impl Iterator<Item = &'a Gauge>> {
    let lost = match entry.by {
        By::Gauge(gauge) => {
            let unread = |property: &str| book.unread.has(Some(Thing::Gauge(gauge)), property);
            unread("resolution") || unread("repeats")
        }
        _ => book.extra(entry).is_some_and(|extra| extra.unclear.has(Clause::By)),
    };
    let quantity = entry.quantity.filter(|_| lost)?;
    Some(book.gauges.iter().filter(move |gauge| gauge.reads.contains(&quantity)))
}

/// A gauge's resolution in SI as a difference, if it is stated and of the kind that the item is; where nobody knows by which gauge, that of the
/// coarsest that it may have been.
#[must_use]
pub fn resolution(book: &Book, files: &Files, entry: &Entry, item: &Item) -> Option<f64> {
    let as_angle = kept_as_angle(book, entry.quantity);
    if let Some(gauges) = perhaps(book, entry) {
        let all = gauges.filter_map(|gauge| stated_of(gauge.resolution?, files, entry.file, item, as_angle));
        return all.map(f64::abs).reduce(f64::max).map(|coarsest| coarsest.max(f64::from(item.half) * 2.0));
    }
    let By::Gauge(gauge) = entry.by else { return None };
    let resolution = book.gauges.get(gauge)?.resolution?;
    stated_of(resolution, files, entry.file, item, as_angle)
}

/// How finely a reading can be told apart, SI: its gauge's resolution where it states one, however many digits were typed (86 by a tape
/// of 1/16 in is 86 0/16); else its last digit.
#[must_use]
pub fn grain(book: &Book, files: &Files, entry: &Entry, item: &Item) -> f64 {
    resolution(book, files, entry, item).map_or(f64::from(item.half) * 2.0, f64::abs)
}

/// By how much a reading may be off, SI: half a division of its gauge, or the repeatability the gauge is stated with where that is
/// more; half its last digit where the gauge does not state its divisions, or no gauge is named; a stated ± as it stands.
#[must_use]
pub fn half(book: &Book, files: &Files, entry: &Entry, item: &Item) -> f64 {
    let as_angle = kept_as_angle(book, entry.quantity);
    if let Some(gauges) = perhaps(book, entry) {
        let all = gauges.map(|gauge| half_of(gauge, files, entry.file, item, as_angle));
        return all.fold(f64::from(item.half), f64::max);
    }
    let By::Gauge(gauge) = entry.by else { return f64::from(item.half) };
    let gauge = book.gauges.get(gauge);
    gauge.map_or(f64::from(item.half), |gauge| half_of(gauge, files, entry.file, item, as_angle))
}

/// The same of a value that a gauge showed when it was held against another.
#[must_use]
pub fn half_by(gauge: &Gauge, files: &Files, file: FileId, item: &Item) -> f64 {
    half_of(gauge, files, file, item, false)
}

fn half_of(gauge: &Gauge, files: &Files, file: FileId, item: &Item, as_angle: bool) -> f64 {
    let typed = f64::from(item.half);
    if item.is(Flags::STATED) {
        return typed;
    }
    let of = |stated: Option<Item>| stated_of(stated?, files, file, item, as_angle);
    let repeats = of(gauge.repeats).unwrap_or(0.0);
    of(gauge.resolution).map_or(typed, |division| division / 2.0).max(repeats)
}
