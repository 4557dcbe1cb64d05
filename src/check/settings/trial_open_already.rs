//! `trial-open-already`: a trial declared while another of the same thing is still to be run.

use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::trials::planned::{self, Followed};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "trial-open-already",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a trial declared while another of the same thing is still to be run",
    why: "Two plans for one thing at one event cannot both be followed: each is a change between the runs of the other. The later stands, and \
          the earlier is given up with the runs it had.",
    wrong: "  try bar-hole front A 1, B 3 order A B A B A\n  try bar-hole front A 1, B 5 order A B A B A",
    right: "  try bar-hole front A 1, B 3 order A B A B A",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    for plan in planned::of_car(**cx, car) {
        let Followed::Replaced(by) = plan.followed else { continue };
        let (first, later) = (cx.entry(plan.line), cx.entry(by));
        let runs = plan.runs.len();
        let ran = if runs == 0 { "none of its runs".to_owned() } else { words::count(runs, "of its runs", "of its runs") };
        out.push(
            CHECK
                .at(later.span(), format!("Another trial of this is open here, with {ran} done."))
                .and(first.span(), "declared here")
                .cure("take the first out, or run it to its end before this one"),
        );
    }
}
