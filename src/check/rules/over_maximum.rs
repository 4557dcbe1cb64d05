//! `over-maximum`: a reading above the most that a rule allows.

use super::judged::{fails, firsts};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::judge::{Side, Verdict};

/// The check.
pub const CHECK: Check = Check {
    name: "over-maximum",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "a reading above the most that a rule of its class allows",
    why: "The car's class has a `rule` in force on the day of this reading, and the reading is above its `max`. Each reading is \
          judged by the rule of its own day. What was found over and left right in the same block is no error. It names \
          every corner that is over, and comes again at the next event, until that corner passes. A local rulebook (`rule ... at EVENT`) outranks the class's. Where \
          the reading is true and nothing can be done about it any more, `waive` it with the reason.",
    wrong: "rule tracks class H-65  track max 1310 mm\ncar heron \"Heron\" class H-65  track 1320 1300 mm",
    right: "car heron \"Heron\" class H-65  track 1305 1300 mm",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for one in firsts(cx, car, &Verdict::Fails, Some(Side::Max)) {
        let made = fails(cx, &CHECK, &one, "over by");
        out.extend(made.map(|made| made.cure("bring it down, or correct the reading; if the rule is not this one any more, end it with `until`")));
    }
}
