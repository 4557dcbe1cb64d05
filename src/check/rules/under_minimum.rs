//! `under-minimum`: a reading below the least that a rule allows.

use super::judged::{fails, firsts};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::judge::{Side, Verdict};

/// The check.
pub const CHECK: Check = Check {
    name: "under-minimum",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "a reading below the least that a rule of its class allows",
    why: "The car's class has a `rule` in force on the day of this reading, and the reading is below its `min`. Each reading is \
          judged by the rule of its own day, so a rule that comes later does not touch it. What was found short and left right \
          in the same block is no error. It names every corner that is short, and comes again at the next event, until that \
          corner passes. A local rulebook (`rule ... at EVENT`) outranks the class's. Where the reading is true and nothing can be done about it any more, \
          `waive` it with the reason: the car was short, and the line is right.",
    wrong: "rule clearance class SR-2  ride-height min 48 mm  from 2026-08-01 \"lowest point\"\n2026-08-22 heron\n  left ride-height 44 44 50 50 mm",
    right: "2026-08-22 heron\n  found ride-height 44 44 50 50 mm\n  adjust perch front +4 turn  because 48 is the rule\n  left ride-height 51 51 50 50 mm",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for one in firsts(cx, car, &Verdict::Fails, Some(Side::Min)) {
        let made = fails(cx, &CHECK, &one, "short by");
        out.extend(made.map(|made| made.cure("raise it, or correct the reading; if the rule is not this one any more, end it with `until`")));
    }
}
