//! `bench-zero-moved`: the preload of a bench differs between repeats.

use super::bench;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "bench-zero-moved",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "the load at the start of a repeat has moved",
    why: "The first pair of a row is the preload. If it differs between repeats by more than 5 % of the load that was \
          measured, the part settled, the zero of the load cell moved, or the travel was zeroed elsewhere; the rates of \
          those rows are not of the same thing. Zero it again and repeat.",
    wrong: "    points 0 mm 2 N, 8 mm 196 N\n    points 0 mm 14 N, 8 mm 208 N",
    right: "    points 0 mm 2 N, 8 mm 196 N\n    points 0 mm 2 N, 8 mm 195 N",
    look: Look::Entry(&[Verb::Bench], look),
};

/// The largest share of the span by which the zero may move.
const ROOM: f64 = 0.05;

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.void {
        return;
    }
    let rows = bench::values(cx, index);
    let mut rows = rows.iter().filter_map(|row| row.zero.map(|(zero, span)| (row.entry, zero, span)));
    let Some((first, from, span)) = rows.next() else { return };
    for (row, zero, _) in rows {
        if (zero - from).abs() <= ROOM * span.abs() * 1.000_001 {
            continue;
        }
        let items = cx.book.items_of(cx.entry(row));
        let Some(item) = items.iter().find(|item| item.si.to_bits() == zero.to_bits()) else { return };
        out.push(
            CHECK
                .at(
                    item.span(cx.entry(row).file),
                    format!("The zero moved {} between repeats.", cx.difference_like(zero - from, row, item)),
                )
                .and(cx.entry(first).span(), "from here")
                .cure("zero it again and repeat, or void this row with the reason"),
        );
        return;
    }
}
