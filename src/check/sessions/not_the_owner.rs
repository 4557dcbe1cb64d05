//! `not-the-owner`: a block for a client whose the car is not.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::Problem;

/// The check.
pub const CHECK: Check = Check {
    name: "not-the-owner",
    severity: Severity::Error,
    family: Family::Sessions,
    brief: "a block for a client whose the car is not",
    why: "`for CLIENT` on a dated head says whose the car is on those lines: after its sale the shop may go on looking after it \
          for the buyer, and who may read the lines goes by that. On that day the car is somebody else's, so the name is \
          wrong, or the date, or the sale (`sell CAR to CLIENT`) is missing.",
    wrong: "2026-11-10 plover for brannoch\n  fill fuel 10 L\n2026-11-14 plover\n  sell plover to brannoch",
    right: "2026-11-14 plover\n  sell plover to brannoch\n2026-11-20 plover for brannoch\n  fill fuel 10 L",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    let Problem::NotTheOwner { head, car, client } = *problem else { return None };
    let head = cx.book.heads.get(head)?;
    let name = |client: crate::book::model::ClientId| {
        cx.book.clients.get(client).map_or("?", |client| &*client.named.typed)
    };
    let rank = cx.rank(head.first);
    let whose = cx.history.parts.owner(cx.book, car, rank).map_or_else(
        || "the shop's, or nobody's the book names".to_owned(),
        |owner| format!("{}'s", name(owner)),
    );
    Some(
        CHECK
            .at(head.span, format!("On {} {} is {whose}, not {}'s.", head.date, cx.car(car), name(client)))
            .and(cx.book.cars[car].named.declared, "the car")
            .cure("correct the name or the date, or write the sale before it"),
    )
}
