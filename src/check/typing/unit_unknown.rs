//! `unit-unknown`: a word that is no unit, where one must stand.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::units::{DimensionId, units_for};
use crate::words::did_you_mean;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "unit-unknown",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a word that is no unit, where one must stand",
    why: "The word after a number is its unit, and this is none that belongs there. The usual spellings are \
          offered; how a unit is spelt does not matter otherwise: `N.m`, `Nm` and `N·m` are the same.",
    wrong: "  set tyre-cold front 1.5 barr",
    right: "  set tyre-cold front 1.5 bar",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::UnitUnknown { wanted, near } = &trouble.what else { return None };
    let typed = cx.text(trouble.span);
    let units = words::or(units_for(*wanted));
    if typed.is_empty() {
        return Some(
            CHECK
                .at(trouble.span, format!("A unit is missing here: {units}?"))
                .cure("write the unit after the number"),
        );
    }
    if typed.starts_with(|first: char| first.is_ascii_digit()) {
        return Some(CHECK.at(trouble.span, format!("{typed} what? {units}")).cure("write the unit after the number"));
    }
    let running = *wanted == DimensionId::USE;
    let of = if running { "running".to_owned() } else { wanted.name().replace('-', " ") };
    // Among so many units something is always alike; only a slip of the finger is offered.
    let near = near.filter(|near| !running || strsim::osa_distance(near, &typed.to_lowercase()) <= 2);
    let message = CHECK.at(trouble.span, format!("`{typed}` is no unit of {of}."));
    Some(match near {
        Some(near) => message.cure(format!("{} Here it may be {units}", did_you_mean(near))),
        None => message.cure(format!("it may be {units}")),
    })
}
