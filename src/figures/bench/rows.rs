//! Bench lines of a part: which one holds at a moment, its rows as rates, its repeats as a mean.

use super::formulas::{GAP, GAP_LINE, MEAN_LENGTH, MEAN_RATE, TRAVEL, TRAVEL_LINE};
use crate::book::entry::{Entry, EntryId, Extra, Flags, Item, Verb};
use crate::book::model::PartId;
use crate::book::place::Place;
use crate::figures::calc::{Calc, Fig, Got, Missing};
use crate::figures::dual::Dual;
use crate::figures::dual::sum;
use crate::figures::uncertainty::{line, repeats};
use crate::history::order::Rank;
use crate::history::{benched, likeness};
use crate::units::{DimensionId, number};
use crate::vocabulary::QuantityId;

/// What the bench says of a part: each repeat, and their mean.
#[derive(Debug, Clone)]
pub(super) struct Benched {
    /// Each repeat that counts.
    pub singles: Vec<Fig>,
    /// Their mean, or the one there is.
    pub mean: Fig,
}

/// The hole (or blade position) a bench line is about.
pub(super) fn hole_of(calc: &Calc<'_>, entry: &Entry) -> Option<f64> {
    likeness::hole(calc.facts, entry)
}

/// Whether nothing on a bench line counts: it is void itself, or has no value and every row under it is.
fn is_void(calc: &Calc<'_>, index: EntryId) -> bool {
    let entry = &calc.book.entries[index];
    let rows = || calc.book.under(index).filter(|(_, row)| row.verb == Verb::Points);
    let typed = || calc.book.items_of(entry).iter().any(Item::has_value);
    entry.void
        || !entry.broken
            && !entry.withheld
            && !typed()
            && rows().next().is_some()
            && rows().all(|(_, row)| row.void)
}

/// A part's bench lines of a quantity, in order, void ones left out.
fn all(calc: &Calc<'_>, part: PartId, id: QuantityId) -> Vec<(Rank, EntryId)> {
    let all = calc.history.slots.benches.get(&part).map_or(&[][..], Vec::as_slice);
    let counts = |index: EntryId| {
        let entry = &calc.book.entries[index];
        // At which hole it was read is not known where its conditions are not.
        let lost = calc.book.extra(entry).is_some_and(Extra::conditions_lost);
        let rank = calc.history.order.rank.get(index).copied();
        rank.filter(|_| entry.quantity == Some(id) && !is_void(calc, index) && !lost)
            .map(|rank| (rank, index))
    };
    all.iter().copied().filter_map(counts).collect()
}

/// Those that say what the part was at the moment, the one that holds last.
fn lines(calc: &Calc<'_>, part: PartId, id: QuantityId) -> Vec<EntryId> {
    benched::in_life(calc.history, part, calc.rank, all(calc, part, id).into_iter())
}

impl Calc<'_> {
    /// What the tag says of a part that never was on the bench.
    pub(in crate::figures) fn tag_unless_benched(
        &mut self,
        part: PartId,
        id: QuantityId,
        place: Place,
    ) -> Got {
        let lost = benched::lost(self.book, self.history, (part, id), self.rank).map(|_| {
            let name = named(self, part, id);
            Missing::one(format!("{name} put right (its last line has an error)"))
        });
        if let Some(missing) = lost.or_else(|| benched_elsewhen(self, part, id)) {
            return Err(missing);
        }
        let tag = self.tag(part, id, place)?;
        if let (Some(words), Some(node)) = (voided(self, part, id), self.nodes.get_mut(tag.node)) {
            node.sure = if node.sure.is_empty() { words } else { format!("{words}; {}", node.sure) };
        }
        Ok(tag)
    }
}

/// Whether a bench line that holds of a part has rows that count: then it is a rate of these, and no value that was typed.
pub(super) fn has_rows(calc: &Calc<'_>, part: PartId, id: QuantityId) -> bool {
    let points = |at: EntryId| calc.book.under(at).any(|(_, row)| row.verb == Verb::Points && !row.void);
    calc.history.slots.benches.contains_key(&part) && lines(calc, part, id).into_iter().any(points)
}

/// What a tag stands in for: a bench line on which nothing counts, in words.
pub(super) fn voided(calc: &Calc<'_>, part: PartId, id: QuantityId) -> Option<String> {
    let lines = calc.history.slots.benches.get(&part)?;
    let void = |line: &&EntryId| calc.book.entries[**line].quantity == Some(id) && is_void(calc, **line);
    let day = calc.history.order.date(calc.book, *lines.iter().rev().find(void)?)?;
    Some(format!("what was benched on {day} is void"))
}

/// What a bench line lacks that has a mistake, itself or in a row under it, or that its reader may not read.
fn unreadable(calc: &Calc<'_>, at: EntryId, part: PartId, id: QuantityId) -> Option<Missing> {
    let (line, name) = (calc.book.entries.get(at)?, named(calc, part, id));
    let row = |(_, row): (EntryId, &Entry)| row.verb == Verb::Points && !row.void && row.broken;
    if line.withheld {
        return Some(Missing::one(format!("the bench line of {name}, which is not for this reader")));
    }
    if line.broken {
        return Some(Missing::one(format!("the bench line of {name} put right (it has an error)")));
    }
    let words = || format!("the rows under the bench line of {name} put right (one has an error)");
    calc.book.under(at).any(row).then(|| Missing::one(words()))
}

/// Whether the bench line that holds of a part cannot be read: then neither its tag nor its shape stands in.
pub(super) fn is_lost(calc: &Calc<'_>, part: PartId, id: QuantityId) -> bool {
    lines(calc, part, id).last().is_some_and(|at| unreadable(calc, *at, part, id).is_some())
}

/// Why a part that was on the bench in another life only has no value, and its tag is not it.
fn benched_elsewhen(calc: &Calc<'_>, part: PartId, id: QuantityId) -> Option<Missing> {
    let (other, _) = all(calc, part, id).last().copied()?;
    let (from, _) = benched::life(calc.history, part, calc.rank);
    let rebuilt = calc.history.parts.get(part).rebuilds.iter().find(|rebuild| match from {
        Some(from) if other <= from => rebuild.rank == from,
        _ => rebuild.rank >= calc.rank,
    })?;
    let day = calc.history.order.date(calc.book, rebuilt.entry)?;
    let side = if rebuilt.rank < calc.rank { "since" } else { "before" };
    Some(Missing::one(format!("a bench reading of {} {side} it was rebuilt on {day}", named(calc, part, id))))
}

/// The holes a quantity of a part was benched at, lowest first.
pub(super) fn holes(calc: &Calc<'_>, part: PartId, id: QuantityId) -> Vec<f64> {
    let mut all: Vec<f64> =
        lines(calc, part, id).iter().filter_map(|at| hole_of(calc, &calc.book.entries[*at])).collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

/// What the bench line of a part that holds says of a quantity, at a hole where it has several. `Ok(None)` when there is no line.
pub(super) fn benched(
    calc: &mut Calc<'_>,
    part: PartId,
    id: QuantityId,
    hole: Option<f64>,
) -> Got<Option<Benched>> {
    let held = lines(calc, part, id);
    let holes = holes(calc, part, id);
    if let (None, [first, _, ..]) = (hole, holes.as_slice()) {
        let first = number::format(*first, 0);
        let list: Vec<String> = holes.iter().map(|hole| number::format(*hole, 0)).collect();
        let name = &calc.book.parts[part].named.typed;
        return Err(Missing::one(format!(
            "a hole for {name}, such as `--with \"bar-hole {first}\"` (it was benched at {})",
            list.join(", ")
        )));
    }
    let fits = |at: &&EntryId| match (hole, hole_of(calc, &calc.book.entries[**at])) {
        (Some(wanted), Some(is)) => wanted.to_bits() == is.to_bits(),
        _ => true,
    };
    let Some(at) = held.iter().rev().find(fits).copied() else { return Ok(None) };
    if let Some(missing) = unreadable(calc, at, part, id) {
        return Err(missing);
    }
    let name = named(calc, part, id);
    let entry = calc.book.entries[at];
    let mut singles = Vec::new();
    let dimension = calc.book.vocabulary.get(id).dimension;
    for item in calc.book.items_of(&entry).iter().filter(|item| item.has_value() && !item.is(Flags::OLD)) {
        singles.push(calc.item(name.clone(), at, item, dimension));
    }
    let under: Vec<(EntryId, Entry)> = calc
        .book
        .under(at)
        .filter(|(_, row)| row.verb == Verb::Points && !row.void)
        .map(|(row, entry)| (row, *entry))
        .collect();
    for (row, _) in under {
        singles.push(rate(calc, row, &name)?);
    }
    if singles.is_empty() {
        return Err(Missing::one(format!("a bench reading of {name} that is not void")));
    }
    let mean = mean(calc, &singles, dimension)?;
    if let (Some(words), Some(node)) = (calc.benched_later(at), calc.nodes.get_mut(mean.node)) {
        node.sure = if node.sure.is_empty() { words } else { format!("{words}; {}", node.sure) };
    }
    Ok(Some(Benched { singles, mean }))
}

/// "spring-rate of sp-1".
pub(super) fn named(calc: &Calc<'_>, part: PartId, id: QuantityId) -> String {
    format!("{} of {}", calc.book.vocabulary.get(id).name, calc.book.parts[part].named.typed)
}

/// The mean of repeats, unsure by their scatter; the one reading itself where there is one.
fn mean(calc: &mut Calc<'_>, singles: &[Fig], dimension: DimensionId) -> Got {
    if let [one] = singles {
        return Ok(one.clone());
    }
    let formula = if dimension == DimensionId::STIFFNESS { &MEAN_RATE } else { &MEAN_LENGTH };
    let names: Vec<String> = (1..=singles.len()).map(|n| format!("k{n}")).collect();
    let inputs: Vec<(&str, &Fig)> = names.iter().map(String::as_str).zip(singles).collect();
    let mut fig = calc.derive(formula, Place::CAR, &inputs, average)?;
    let values: Vec<f64> = singles.iter().map(|fig| fig.value).collect();
    if let Some(u) = repeats(&values).and_then(|repeats| repeats.u) {
        calc.scatter(&mut fig, u, format!("{} repeats (Type A)", values.len()));
    }
    Ok(fig)
}

/// Mean, with the first value taken off while adding so that large equal digits do not cancel.
pub(super) fn average(values: &[Dual]) -> Dual {
    let first = values.first().map_or(0.0, |value| value.value);
    let off: Vec<Dual> = values.iter().map(|value| value - first).collect();
    sum(&off) / values.len() as f64 + first
}

/// Sample standard deviation; its sensitivities are nothing where all are the same.
pub(super) fn deviation(values: &[Dual]) -> Dual {
    let mean = average(values);
    let squares = values.iter().fold(Dual::constant(0.0, mean.partials.len()), |sum, value| {
        let off = value - &mean;
        sum + &off * &off
    });
    if squares.value == 0.0 { squares } else { (squares / (values.len() as f64 - 1.0)).sqrt() }
}

/// The rate of one `points` row.
fn rate(calc: &mut Calc<'_>, row: EntryId, name: &str) -> Got {
    let entry = calc.book.entries[row];
    let items: Vec<Item> = calc.book.items_of(&entry).to_vec();
    let of = |item: &Item, kind: DimensionId| item.unit().get().dim == kind.get().dim;
    let (pairs, _) = items.as_chunks();
    let right =
        pairs.iter().all(|[travel, load]| of(travel, DimensionId::LENGTH) && of(load, DimensionId::FORCE));
    if !right || items.len() < 4 {
        return Err(Missing::one(format!(
            "the points of {name} as travel and load, such as `0 mm 60 N, 30 mm 2142 N`"
        )));
    }
    let mut figs = Vec::new();
    for (at, [travel, load]) in pairs.iter().enumerate() {
        figs.push((
            format!("x{}", at + 1),
            calc.item(format!("travel {}", at + 1), row, travel, DimensionId::LENGTH),
        ));
        figs.push((
            format!("f{}", at + 1),
            calc.item(format!("load {}", at + 1), row, load, DimensionId::FORCE),
        ));
    }
    let travels: Vec<f64> = figs.iter().step_by(2).map(|(_, fig)| fig.value).collect();
    let loads: Vec<f64> = figs.iter().skip(1).step_by(2).map(|(_, fig)| fig.value).collect();
    // Where the load is greatest says which way the scale runs: a gap that closes, or a travel that grows.
    let by_load = |a: &(usize, &f64), b: &(usize, &f64)| a.1.total_cmp(b.1).then(b.0.cmp(&a.0));
    let most = loads.iter().enumerate().max_by(by_load).map(|(most, _)| most);
    let (Some(first), Some(at_most)) =
        (travels.first(), most.filter(|most| *most > 0).and_then(|most| travels.get(most)))
    else {
        return Err(Missing::one(format!(
            "points of {name} whose load grows from the preload on (here it falls, so there is no rate)"
        )));
    };
    let gap = at_most < first;
    let two = travels.len() == 2;
    let formula = match (two, gap) {
        (true, false) => &TRAVEL,
        (true, true) => &GAP,
        (false, false) => &TRAVEL_LINE,
        (false, true) => &GAP_LINE,
    };
    if travels.iter().all(|travel| travel.to_bits() == first.to_bits()) {
        return Err(Missing::one(format!("points of {name} with travel between them (here there is none)")));
    }
    let inputs: Vec<(&str, &Fig)> = figs.iter().map(|(name, fig)| (name.as_str(), fig)).collect();
    let mut fig = calc.derive(formula, Place::CAR, &inputs, |at| {
        let slope = if let [x1, f1, x2, f2] = at { (f2 - f1) / (x2 - x1) } else { slope(at) };
        if gap { -slope } else { slope }
    })?;
    if fig.value <= 0.0 {
        return Err(Missing::one(format!("points of {name} that give a rate above nothing")));
    }
    if let Some(u) = line(&travels, &loads).and_then(|line| line.u_slope) {
        calc.scatter(&mut fig, u, format!("scatter of {} points about the line", travels.len()));
    }
    Ok(fig)
}

/// Least-squares slope of x1, f1, x2, f2 ...
fn slope(at: &[Dual]) -> Dual {
    let xs: Vec<Dual> = at.iter().step_by(2).cloned().collect();
    let fs: Vec<Dual> = at.iter().skip(1).step_by(2).cloned().collect();
    let (mean_x, mean_f) = (average(&xs), average(&fs));
    let none = Dual::constant(0.0, mean_x.partials.len());
    let (mut sxy, mut sxx) = (none.clone(), none);
    for (x, f) in xs.iter().zip(&fs) {
        let dx = x - &mean_x;
        sxy = sxy + &dx * &(f - &mean_f);
        sxx = sxx + &dx * &dx;
    }
    sxy / sxx
}
