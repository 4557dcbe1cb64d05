//! `not-away`: a part is returned that was neither lent nor borrowed.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "not-away",
    severity: Severity::Error,
    family: Family::Parts,
    brief: "a part is returned that was neither lent nor borrowed, or ran elsewhere what it ran here",
    why: "`return` ends a `lend` or a `borrow`, or gives a client back what is his own. Without such a line before it nobody \
          can say where the part came from, or goes. What it ran meanwhile is said of what the shop lent: of what was here the \
          sessions say it.",
    wrong: "  return cp-3",
    right: "  lend cp-3 to orr\n  return cp-3 ran 95 min",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    if let Problem::RanHere { entry, part } = *problem {
        let name = cx.part(part);
        let message = format!("{name} goes back from here: what it ran here is what its sessions say.");
        let cure = "leave out what it ran; `ran` and `unused` are for what the shop lent";
        return Some(CHECK.at(told::part_span(cx, entry, part), message).cure(cure));
    }
    let Problem::NotAway { entry, part } = *problem else { return None };
    let name = cx.part(part);
    Some(
        CHECK
            .at(told::part_span(cx, entry, part), format!("{name} was neither lent nor borrowed."))
            .cure(format!("write `lend {name} to ...` or `borrow {name} from ...` on its day, or correct the name")),
    )
}
