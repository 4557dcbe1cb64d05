//! `angle-decimal-or-minutes`: two decimals off a gauge that shows degrees and minutes.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, By, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{Number, number};

/// The check.
pub const CHECK: Check = Check {
    name: "angle-decimal-or-minutes",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "decimal degrees off a gauge that shows degrees and minutes",
    why: "6d18' is 6.30 deg. Written as 6.18 deg it is an eighth of a degree off, and nothing looks wrong. A gauge whose \
          resolution is declared in minutes shows minutes; write them as it shows them.",
    wrong: "gauge cg-2 \"caster gauge\"  reads caster  resolution 0d05'\n  found caster RF 6.18 deg by cg-2",
    right: "  found caster RF 6d18' by cg-2",
    look: Look::Entry(&[Verb::Set, Verb::Found, Verb::Left, Verb::Read], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let By::Gauge(id) = entry.by else { return };
    let Some(gauge) = cx.book.gauges.get(id).filter(|gauge| gauge.degrees_minutes && !entry.void) else {
        return;
    };
    for (at, item) in cx.book.items_of(entry).iter().enumerate() {
        let span = cx.item_span(index, entry.items.plus(at));
        let typed = cx.text(span);
        if !Context::is_number(item) || item.decimals != 2 || item.unit().get().shown() != "deg" {
            continue;
        }
        let Some((whole, minutes)) = typed.split_once('.') else { continue };
        let Some(minutes) = minutes.parse::<u32>().ok().filter(|minutes| *minutes < 60) else { continue };
        let meant = format!("{whole}d{minutes:02}'");
        let Some(value) = Number::parse(&meant).ok().map(|number| number::format(number.value, 2)) else { continue };
        let name = &gauge.named.typed;
        out.push(
            CHECK
                .at(span, format!("{name} reads degrees and minutes; {meant} is {value} deg, not {typed}."))
                .and(gauge.named.declared, "the gauge")
                .cure(format!("write {meant}, or `waive angle-decimal-or-minutes because ...` if {typed} is meant")),
        );
        return;
    }
}
