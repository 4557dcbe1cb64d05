//! How finely a reading can be told apart: its gauge's resolution, or its last digit.
//!
//! Must not know checks or figures.

use crate::book::Book;
use crate::book::entry::{By, Entry, Flags, Item};
use crate::book::model::Gauge;
use crate::source::{FileId, Files};
use crate::units::{DimensionId, number};

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

/// A gauge's resolution in SI as a difference, if it is stated. For toe read as a length it is turned into the angle that
/// the item's own length stands for.
#[must_use]
pub fn resolution(book: &Book, files: &Files, entry: &Entry, item: &Item) -> Option<f64> {
    let By::Gauge(gauge) = entry.by else { return None };
    let resolution = book.gauges.get(gauge)?.resolution?;
    let unit = resolution.unit().get();
    let size = unit.from_si(resolution.si);
    if item.unit().get().dim == unit.dim {
        let in_typed = unit.difference_to_si(size) / item.unit().get().factor;
        Some(in_typed / per_si(files, entry.file, item))
    } else {
        Some(unit.difference_to_si(size))
    }
}

/// How finely a reading can be told apart, SI: its gauge's resolution or its last digit, whichever is coarser.
#[must_use]
pub fn grain(book: &Book, files: &Files, entry: &Entry, item: &Item) -> f64 {
    resolution(book, files, entry, item).unwrap_or(0.0).max(f64::from(item.half) * 2.0)
}

/// By how much a reading may be off, SI: half a division of its gauge, or the repeatability the gauge is stated with where that is
/// more; half its last digit where that is more still, or where no gauge is stated; a stated ± as it stands.
#[must_use]
pub fn half(book: &Book, files: &Files, entry: &Entry, item: &Item) -> f64 {
    let By::Gauge(gauge) = entry.by else { return f64::from(item.half) };
    book.gauges.get(gauge).map_or(f64::from(item.half), |gauge| half_by(gauge, files, entry.file, item))
}

/// The same of a value that a gauge read.
#[must_use]
pub fn half_by(gauge: &Gauge, files: &Files, file: FileId, item: &Item) -> f64 {
    let typed = f64::from(item.half);
    if item.is(Flags::STATED) {
        return typed;
    }
    let per_si = per_si(files, file, item);
    let of = |stated: Option<Item>, share: f64| {
        // A length says nothing of an angle typed as one.
        let stated = stated.filter(|stated| stated.unit().get().dim == item.unit().get().dim)?;
        let unit = stated.unit().get();
        let size = unit.difference_to_si(unit.from_si(stated.si)) / item.unit().get().factor / per_si;
        Some((size * share).abs())
    };
    let division = of(gauge.resolution, 0.5).unwrap_or(0.0);
    let gauge = division.max(of(gauge.repeats, 1.0).unwrap_or(0.0));
    // A fraction is typed in its lowest terms, whatever the rule is divided into.
    let fraction = gauge > 0.0 && files.text(item.span(file)).contains('/');
    if fraction { gauge } else { gauge.max(typed) }
}
