//! `gauge-out-of-date`: read by a gauge past the day until which it was confirmed.

use crate::check::{Check, Context, Family, Look};
use crate::book::entry::By;
use crate::book::model::GaugeId;
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "gauge-out-of-date",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "read by a gauge past its day",
    why: "A gauge is trusted until the day stated on it. After that its numbers may be right, but nobody can say so: check it \
          against another and write the new day, or use one that is in date. It is said once for each gauge and block.",
    wrong: "gauge tw-1 \"torque wrench\"  reads wheel-torque  valid-until 2025-03-15\n2025-04-18 heron\n  torque wheel-torque all 85 N.m by tw-1",
    right: "  torque wheel-torque all 85 N.m by tw-2",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    if cx.book.gauges.iter().all(|gauge| gauge.valid_until.is_none()) {
        return;
    }
    let mut told: Vec<GaugeId> = Vec::new();
    let mut block = None;
    for (index, entry) in cx.book.entries.iter_enumerated() {
        let By::Gauge(id) = entry.by else { continue };
        if entry.broken || entry.void {
            continue;
        }
        if block != Some(entry.head) {
            block = Some(entry.head);
            told.clear();
        }
        let (Some(gauge), Some(date)) = (cx.book.gauges.get(id), cx.history.order.date(cx.book, index)) else {
            continue;
        };
        let Some(until) = gauge.valid_until.filter(|until| *until < date) else { continue };
        if told.contains(&id) {
            continue;
        }
        told.push(id);
        let name = &gauge.named.typed;
        out.push(
            CHECK
                .at(entry.span(), format!("{name} was confirmed until {until}; used {date}."))
                .and(gauge.named.declared, "its day")
                .cure("use one in date, or have it checked and write the new day"),
        );
    }
}
