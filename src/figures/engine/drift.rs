//! Readings over the engine's hours: which are alike, at what hours they were taken, and the slope of a line through them.
//!
//! Two readings are alike when both were taken hot, or both cold, at the same supply pressure and through the same orifice
//! (`with orifice 0.040 in`, where the lines say it). Must not know what is read.

use crate::book::entry::{EntryId, Extra, ItemId, Verb};
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::dual::Dual;
use crate::figures::dual::sum;
use crate::figures::formula::Formula;
use crate::history::order::Rank;
use crate::units::{DimensionId, UnitId, table};

/// A reading among those like it.
#[derive(Debug, Clone, Copy)]
pub(super) struct Like {
    /// Its line.
    entry: EntryId,
    /// Its line's rank.
    pub rank: Rank,
    /// Found, left or read.
    pub verb: Verb,
    hot: Option<bool>,
    supply: Option<f64>,
    orifice: Option<f64>,
}

/// A reading at the engine's hours, whatever it is like.
#[derive(Debug, Clone, Copy)]
pub struct AtHours {
    /// Its line.
    pub entry: EntryId,
    /// Its line's rank.
    pub rank: Rank,
    /// The engine's hours, s.
    pub hours: f64,
}

/// A reading of a slot with how it was taken, whether or not anybody knows at what hours.
#[derive(Debug, Clone, Copy)]
pub struct Taken {
    /// Its line.
    pub entry: EntryId,
    /// Its line's rank.
    pub rank: Rank,
    /// Taken hot or cold, where the line says.
    pub hot: Option<bool>,
    /// The supply pressure, SI, where the line says.
    pub supply: Option<f64>,
    /// The engine's hours, s, where the book knows them.
    pub hours: Option<f64>,
    /// Which of the readings before it were taken alike have the same number.
    pub alike: u32,
}

/// Every reading of a slot, oldest first.
#[must_use]
pub fn taken(calc: &mut Calc<'_>, name: &str, place: Place) -> Vec<Taken> {
    let all = told(calc, name, place).unwrap_or_default();
    let mut list = Vec::new();
    for one in &all {
        let alike = all.iter().position(|first| first.is_like(one)).unwrap_or(0);
        let hours = hours(calc, one.rank).map(|hours| hours.value);
        let Like { entry, rank, hot, supply, .. } = *one;
        list.push(Taken { entry, rank, hot, supply, hours, alike: alike as u32 });
    }
    list
}

/// The readings of a slot that are like its last one, at known engine hours, oldest first.
#[must_use]
pub fn alike_over_hours(calc: &mut Calc<'_>, name: &str, place: Place) -> Vec<AtHours> {
    let all = like(calc, name, place).unwrap_or_default();
    let at =
        |one: &Like| Some(AtHours { entry: one.entry, rank: one.rank, hours: hours(calc, one.rank)?.value });
    all.iter().filter_map(at).collect()
}

impl Like {
    /// Whether both were taken alike.
    fn is_like(&self, other: &Self) -> bool {
        let same = |a: Option<f64>, b: Option<f64>| match (a, b) {
            (Some(a), Some(b)) => (a - b).abs() <= 1e-6 * b.abs(),
            (a, b) => a.is_none() && b.is_none(),
        };
        self.hot == other.hot && same(self.supply, other.supply) && same(self.orifice, other.orifice)
    }
}

/// The readings of a slot with what their lines say of how they were taken, oldest first.
fn told(calc: &Calc<'_>, name: &str, place: Place) -> Got<Vec<Like>> {
    let mut all: Vec<Like> = Vec::new();
    for (entry, event) in calc.readings(name, place)? {
        let line = &calc.book.entries[entry];
        let extra = calc.book.extra(line);
        if extra.is_some_and(Extra::conditions_lost) {
            continue;
        }
        let said = |word: &str| {
            extra.is_some_and(|extra| {
                extra.conditions.iter().any(|one| calc.files.text(one.said).eq_ignore_ascii_case(word))
            })
        };
        let hot = if said("hot") { Some(true) } else { said("cold").then_some(false) };
        let orifice = extra.and_then(|extra| {
            let named = |key| calc.files.text(key).eq_ignore_ascii_case("orifice");
            extra.conditions.iter().find(|one| named(one.key))?.value.map(|(si, _)| si)
        });
        let at = extra.and_then(|extra| extra.at).map(|item| item.si);
        let supply = at.or_else(|| supply(calc, entry, event.item()));
        let rank = calc.history.order.rank[entry];
        all.push(Like { entry, rank, verb: line.verb, hot, supply, orifice });
    }
    Ok(all)
}

/// The readings of a slot that are like its last one, oldest first. Where the last line about it cannot be read, nobody knows what it is like.
pub(super) fn like(calc: &Calc<'_>, name: &str, place: Place) -> Got<Vec<Like>> {
    let id = calc.quantity(name)?;
    if let Some(lost) = calc.state(id, place).and_then(|slot| slot.held.unknown) {
        return Err(calc.not_known(id, place, &lost));
    }
    let mut all = told(calc, name, place)?;
    let Some(last) = all.last().copied() else {
        return Err(Missing::one(format!("a reading of {}", calc.slot_name(calc.quantity(name)?, place))));
    };
    all.retain(|one| one.is_like(&last));
    Ok(all)
}

/// The supply of a pair such as `72/80 psi`, SI.
fn supply(calc: &Calc<'_>, entry: EntryId, item: ItemId) -> Option<f64> {
    let line = &calc.book.entries[entry];
    let item = calc.book.items.get(item)?;
    let (_, typed) = calc.files.text(item.span(line.file)).split_once('/')?;
    let unit = pressure_unit_after(calc, entry, item.start + u32::from(item.len))?;
    typed.trim().parse().ok().map(|value| unit.get().to_si(value))
}

/// The first unit of pressure on a line after a byte.
pub(super) fn pressure_unit_after(calc: &Calc<'_>, entry: EntryId, from: u32) -> Option<UnitId> {
    let line = &calc.book.entries[entry];
    let rest = calc.files.text(crate::source::Span::new(line.file, from, line.end));
    let mut words = rest.split_whitespace().take_while(|word| !["at", "by", "with"].contains(word));
    words.find_map(|word| table().find_one(word, DimensionId::PRESSURE))
}

/// The engine's hours when a line was written: the nearest reading of the meter with no running in between.
fn hours(calc: &mut Calc<'_>, rank: Rank) -> Option<Fig> {
    let now = calc.rank;
    let meter = calc.readings("engine-hours", Place::CAR).ok()?;
    let ranks = &calc.history.order.rank;
    let still = |other: Rank| {
        let (from, until) = (other.min(rank), other.max(rank));
        calc.between(from, until).is_empty()
    };
    // The same block's first, then the last before, then the first after.
    let block = |rank: Rank| {
        let entry = calc.history.order.entries.get(rank)?;
        calc.book.entries.get(*entry).map(|line| line.head)
    };
    let at =
        meter.iter().map(|(entry, _)| ranks[*entry]).filter(|other| still(*other)).min_by_key(|other| {
            (block(*other) != block(rank), *other > rank, other.number().abs_diff(rank.number()))
        })?;
    calc.rank = at.next();
    let fig = calc.reading("engine-hours", Place::CAR);
    calc.rank = now;
    fig.ok()
}

/// The slope of a straight line through readings over the engine's hours. `value` gives the figure at each.
pub(super) fn slope(
    calc: &mut Calc<'_>,
    name: &str,
    place: Place,
    like: &[Like],
    formula: &'static Formula,
    mut value: impl FnMut(&mut Calc<'_>) -> Got,
) -> Got {
    let what = calc.slot_name(calc.quantity(name)?, place);
    let mut points: Vec<(Fig, Fig)> = Vec::new();
    let now = calc.rank;
    // What is supposed is so now, and changes nothing that was read before.
    let supposed = std::mem::take(&mut calc.what_if);
    let mut gathered = Ok(());
    for one in like {
        let Some(hours) = hours(calc, one.rank) else { continue };
        calc.rank = one.rank.next();
        let got = value(calc);
        calc.rank = now;
        match got {
            Ok(value) => points.push((hours, value)),
            Err(missing) => {
                gathered = Err(missing);
                break;
            }
        }
    }
    calc.what_if = supposed;
    gathered?;
    let first = points.first().map(|(hours, _)| hours.value);
    let spread =
        first.is_some_and(|first| points.iter().any(|(hours, _)| (hours.value - first).abs() > 1e-9));
    if !spread {
        return Err(Missing::one(format!("two readings of {what} taken alike, at different engine-hours")));
    }
    let names: Vec<(String, String)> =
        (1..=points.len()).map(|n| (format!("h{n}"), format!("y{n}"))).collect();
    let hours = names.iter().zip(&points).map(|((h, _), (hours, _))| (h.as_str(), hours));
    let values = names.iter().zip(&points).map(|((_, y), (_, value))| (y.as_str(), value));
    let inputs: Vec<(&str, &Fig)> = hours.chain(values).collect();
    let count = points.len();
    calc.derive(formula, place, &inputs, |x| {
        let (h, y) = x.split_at(count);
        let (mean_h, mean_y) = (mean(h), mean(y));
        let mut sxy = Dual::constant(0.0, x.len());
        let mut sxx = Dual::constant(0.0, x.len());
        for (h, y) in h.iter().zip(y) {
            let off = h - &mean_h;
            sxy = sxy + &off * (y - &mean_y);
            sxx = sxx + &off * &off;
        }
        sxy / sxx
    })
}

fn mean(list: &[Dual]) -> Dual {
    sum(list) / list.len() as f64
}
