//! `sold-car-touched`: a line about a car after it was sold.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "sold-car-touched",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a line about a car after it was sold",
    why: "The car left the shop on the date of its sale, and what is done to it from then on belongs in its new \
          owner's book. Usually the line has the wrong car or the wrong year; one message stands for all such \
          lines. If the shop goes on looking after it, the head says for whom: `2026-11-20 plover for brannoch`, for a \
          buyer who is a client; its parts then stay on it and their hours go on.",
    wrong: "2026-11-14 plover\n  sell plover to brannoch\n2026-11-20 plover\n  set brake-bias 60 %",
    right: "2026-11-12 plover\n  set brake-bias 60 %\n2026-11-14 plover\n  sell plover to brannoch",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::SoldCarTouched { entry, car, sale, more } = *problem else { return None };
    let span = cx.entry(entry).span();
    let more = match more {
        0 => String::new(),
        1 => ", and here is a line about it and one more after it".to_owned(),
        more => format!(", and here is a line about it and {more} more after it"),
    };
    Some(
        CHECK
            .at(span, format!("{} was sold on {}{more}.", cx.car(car), cx.when(sale, span)))
            .and(cx.entry(sale).span(), "sold here")
            .cure("correct the car or the date, or write `for BUYER` on the head if the shop looks after it still"),
    )
}
