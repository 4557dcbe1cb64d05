//! `not-back`: the day has passed on which a lent part was to come back, or a borrowed one to go back.

use crate::book::model::PartId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::jobs;
use crate::history::order::Rank;
use crate::history::parts::Loan;
use crate::history::parts::loan;

/// The check.
pub const CHECK: Check = Check {
    name: "not-back",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "the day has passed on which a lent part was to come back, or a borrowed one to go back",
    why: "What is away past its day is forgotten by one of the two, or the line that says it came back was not written. Until \
          then it is no spare, and what it runs there is not known.",
    wrong: "  lend cp-3 to orr until 2026-05-10",
    right: "  lend cp-3 to orr until 2026-05-10\n2026-05-10\n  return cp-3 ran 95 min",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (part, told) in cx.history.parts.all.iter_enumerated() {
        out.extend(told.loan(Rank::END).and_then(|one| late(cx, part, one)));
    }
}

fn late(cx: &Context<'_>, part: PartId, one: &Loan) -> Option<Diagnostic> {
    let line = one.out.1;
    // What is inside something lent is away with it.
    if !loan::names(cx.book, line, part) {
        return None;
    }
    let (until, _) = loan::facts(cx.book, line)?.until?;
    let day = jobs::ends(cx.book, Some(until))?;
    if day >= cx.today {
        return None;
    }
    let name = cx.part(part);
    let (was, cure) = if one.lent {
        ("come back", format!("write `return {name}` where it came back, with what it ran (`ran 95 min`); or lend it anew"))
    } else {
        ("go back", format!("write `return {name}` where it went back, or `buy {name}` where it was kept"))
    };
    Some(
        CHECK
            .at(told::part_span(cx, line, part), format!("{name} was to {was} by {day}, and no line says that it did."))
            .cure(cure),
    )
}
