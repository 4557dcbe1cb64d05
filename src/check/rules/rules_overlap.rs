//! `rules-overlap`: two rules limit one thing on one day, unlike.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::conflict::Conflict;

/// The check.
pub const CHECK: Check = Check {
    name: "rules-overlap",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "two rules limit one thing on one day, unlike",
    why: "For one class, one quantity or figure and one place there are two limits of one side on one day. A reading must keep \
          both, so the stricter counts; usually the older rule wants an `until` where the newer one starts. A rulebook that \
          holds only at an event or a circuit is written `rule ... at EVENT`, and then it outranks the class's.",
    wrong: "rule clearance-1 class SR-2  ride-height min 40 mm\nrule clearance-2 class SR-2  ride-height min 48 mm  from 2026-08-01",
    right: "rule clearance-1 class SR-2  ride-height min 40 mm  until 2026-07-31\nrule clearance-2 class SR-2  ride-height min 48 mm  from 2026-08-01",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let scrutiny = cx.scrutiny();
    for conflict in scrutiny.conflicts() {
        let Conflict::Twice { first, second, more } = conflict else { continue };
        let (first, second) = (scrutiny.rule(first), scrutiny.rule(second));
        let start = first.from.map(|(day, _)| day).max(second.from.map(|(day, _)| day));
        let more = match more {
            0 => String::new(),
            1 => " 1 more rule overlaps with them.".to_owned(),
            more => format!(" {more} more rules overlap with them."),
        };
        let since = start.map_or_else(String::new, |day| format!(" from {day} on"));
        out.push(
            CHECK
                .at(
                    second.named.declared,
                    format!(
                        "{} asks {} of {}, and {} {}{since}.{more}",
                        second.named.typed,
                        scrutiny.limits_text(second),
                        scrutiny.name(second),
                        first.named.typed,
                        scrutiny.limits_text(first),
                    ),
                )
                .and(first.named.declared, "the other rule")
                .cure("end the older with `until`, or write `at EVENT` on the one that holds only there"),
        );
    }
}
