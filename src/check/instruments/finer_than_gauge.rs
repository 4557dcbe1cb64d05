//! `finer-than-gauge`: digits that the gauge cannot show.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, By, Entry, Item, Verb};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "finer-than-gauge",
    severity: Severity::Note,
    family: Family::Instruments,
    brief: "digits finer than the gauge can show",
    why: "A dial that reads to 0.02 bar cannot show 1.537. The last digit was made up between two marks, or came from another \
          gauge. The value is kept as typed and compared no more finely than the gauge's resolution.",
    wrong: "  read tyre-cold LF 1.537 bar by pg-1",
    right: "  read tyre-cold LF 1.54 bar by pg-1",
    look: Look::Entry(&[Verb::Set, Verb::Found, Verb::Left, Verb::Read, Verb::Torque, Verb::Bench], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let By::Gauge(id) = entry.by else { return };
    let Some(gauge) = cx.book.gauges.get(id).filter(|gauge| !entry.void && !gauge.degrees_minutes) else {
        return;
    };
    let Some(resolution) = &gauge.resolution else { return };
    let unit = resolution.unit().get();
    let size = unit.from_si(resolution.si);
    let items = cx.book.items_of(entry);
    let fine = items.iter().position(|item| {
        Context::is_number(item)
            && item.unit().get().dim == unit.dim
            && finer(item, cx.text(item.span(entry.file)), resolution, unit.difference_to_si(size))
    });
    let Some(at) = fine else { return };
    let span = cx.item_span(index, entry.items.plus(at));
    let typed = cx.text(resolution.span(gauge.named.declared.file));
    let step = format!("{typed} {}", unit.shown());
    out.push(
        CHECK
            .at(
                span,
                format!("{} reads to {}; {} has a digit it cannot show.", gauge.named.typed, step.trim_end(), cx.text(span)),
            )
            .and(gauge.named.declared, "the gauge")
            .cure("write what it showed, or name the gauge it was"),
    );
}

/// Whether what was typed is finer than the decade of the resolution (0.02 bar lets 1.53 stand, not 1.537).
fn finer(item: &Item, typed: &str, resolution: &Item, step: f64) -> bool {
    let unit = item.unit().get();
    let in_typed = step / unit.factor;
    if typed.contains('/') {
        return f64::from(item.half) * 2.0 < step * 0.99;
    }
    if item.unit == resolution.unit && item.decimals <= resolution.decimals {
        return false;
    }
    // A resolution such as 1/32 in takes any decimals that come near it.
    let digit = libm::pow(10.0, -f64::from(item.decimals));
    item.decimals > 0 && in_typed > 0.0 && digit < libm::pow(10.0, libm::floor(libm::log10(in_typed) + 1e-9)) * 0.99
}
