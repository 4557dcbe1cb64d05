//! `one-use-hardware`: a part that may be used once goes on a second time.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::parts::Where;

/// The check.
pub const CHECK: Check = Check {
    name: "one-use-hardware",
    severity: Severity::Warning,
    family: Family::Parts,
    brief: "a part that may be used once goes on a second time",
    why: "A kind declared `one-use` (a stretch bolt, a staked nut, a crush washer) is done with once it comes off. \
          Its second time on the car is either a real mistake or a new one that was not given a name of its own in \
          the book.",
    wrong: "kind hub-nut fits LF RF on heron  one-use\n...\n  fit hn-1 LF\n  remove hn-1\n  fit hn-1 LF",
    right: "  fit hn-1 LF\n  swap hub-nut LF hn-1 -> hn-2",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (part, history) in cx.history.parts.all.iter_enumerated() {
        let kind = cx.book.parts.get(part).and_then(|part| part.kind.and_then(|kind| cx.book.kinds.get(kind)));
        if !kind.is_some_and(|kind| kind.one_use) {
            continue;
        }
        let mut first = None;
        let mut before = Where::New;
        for stay in &history.stays {
            // A stay also begins where the assembly around the part moves; that is no second use.
            let goes_on = matches!(stay.at, Where::Car(..) | Where::Inside(_)) && stay.at != before;
            before = stay.at;
            match first {
                None if goes_on => first = Some(stay.entry),
                Some(first) if goes_on => {
                    let span = told::part_span(cx, stay.entry, part);
                    let name = cx.part(part);
                    out.push(
                        CHECK
                            .at(
                                span,
                                format!(
                                    "{name} is a {}, good for one use, and was on before ({}).",
                                    cx.kind_of(part),
                                    cx.when(first, span)
                                ),
                            )
                            .and(cx.entry(first).span(), "used here first")
                            .cure("fit a new one, and write it with a name of its own"),
                    );
                }
                _ => {}
            }
        }
    }
}
