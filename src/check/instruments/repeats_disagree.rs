//! `repeats-disagree`: one repeat far from the others.

use super::bench::{self, Repeat};
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Flags, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::number;

/// The check.
pub const CHECK: Check = Check {
    name: "repeats-disagree",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "one repeat far from the others",
    why: "With three or more repeats the others say how far apart repeats are. One that is more than 4 % and five times their \
          spread away was read wrong, or the rig moved. Look why, then void that one (it stays in the book, and is not \
          used) or repeat the lot.",
    wrong: "  bench bl-1 bar-rate 36.5, 36.7, 41.2 N/mm",
    right: "  bench bl-1 bar-rate 36.5, 36.7, 36.4 N/mm",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read, Verb::Torque, Verb::Bench], look),
};

/// The share of the others' mean, and the multiple of their spread, that one may be off by.
const ROOM: (f64, f64) = (0.04, 5.0);

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.void {
        return;
    }
    if entry.verb == Verb::Bench {
        out.extend(judge(cx, index, &bench::values(cx, index)));
        return;
    }
    let items = cx.book.items_of(entry);
    let mut group: Vec<Repeat> = Vec::new();
    for (at, item) in items.iter().enumerate() {
        if !item.is(Flags::REPEAT) && !item.is(Flags::PART) {
            out.extend(judge(cx, index, &group));
            group.clear();
            // Most lines have no repeats, and most places none either.
            if !items.get(at + 1).is_some_and(|next| next.is(Flags::REPEAT)) {
                continue;
            }
        }
        if Context::is_number(item) && !item.is(Flags::PART) {
            let at = Some(entry.items.plus(at));
            group.push(Repeat { entry: index, item: at, value: item.si, zero: None });
        }
    }
    out.extend(judge(cx, index, &group));
}

fn judge(cx: &Context<'_>, index: EntryId, all: &[Repeat]) -> Option<Diagnostic> {
    if all.len() < 3 {
        return None;
    }
    let mut worst: Option<(f64, usize, f64, f64)> = None;
    for (at, one) in all.iter().enumerate() {
        let others = || all.iter().enumerate().filter(|(other, _)| *other != at).map(|(_, repeat)| repeat.value);
        let mean = others().sum::<f64>() / (all.len() - 1) as f64;
        let low = others().fold(f64::INFINITY, f64::min);
        let high = others().fold(f64::NEG_INFINITY, f64::max);
        let off = (one.value - mean).abs();
        let far = off > ROOM.0 * mean.abs() * 1.000_001 && off > ROOM.1 * (high - low) * 1.000_001;
        if far && worst.is_none_or(|(before, ..)| off > before) {
            worst = Some((off, at, mean, high - low));
        }
    }
    let (_, at, mean, spread) = worst?;
    let one = all.get(at)?;
    let span = match one.item {
        Some(item) => cx.item_span(one.entry, item),
        None => cx.entry(one.entry).span(),
    };
    let share = |part: f64| number::format(100.0 * part / mean.abs(), 1);
    let rest = all.len() - 1;
    let quantity = cx.entry(index).quantity.map_or("reading", |id| &*cx.quantity(id).name);
    let cure = if one.item.is_some() { "correct it, or take them again" } else { "void that row with the reason, or repeat" };
    Some(
        CHECK
            .at(
                span,
                format!(
                    "This repeat of {quantity} is {} % off the other {rest}, which {}.",
                    share((one.value - mean).abs()),
                    if spread > 0.0 { format!("agree within {} %", share(spread)) } else { "are alike".to_owned() }
                ),
            )
            .cure(cure),
    )
}
