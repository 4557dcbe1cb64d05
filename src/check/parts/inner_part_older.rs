//! `inner-part-older`: a piece goes into an assembly that has run less than the piece.

use crate::book::entry::{Verb, EntryId};
use crate::book::model::{Clock, PartId};
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::lives::life;

/// The check.
pub const CHECK: Check = Check {
    name: "inner-part-older",
    severity: Severity::Note,
    family: Family::Parts,
    brief: "a piece goes into an assembly that has run less than the piece",
    why: "Who reads the assembly's tag sees a young part and does not see the old one inside it. Each keeps its own life, and the \
          piece's limit is reached first; the due list says so, whatever the tag says. Only pieces of a kind with a limit are looked at.",
    wrong: "kind bearing inside hub  life 8 days\n...\n  strip wb-1 from hub-1\n  build wb-1 into hub-2",
    right: "kind bearing inside hub  life 8 days\n...\n  build wb-2 into hub-2",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (index, entry) in cx.book.entries.iter_enumerated() {
        if entry.verb != Verb::Build || entry.broken {
            continue;
        }
        let facts = cx.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let (Some(part), Some(into)) = (entry.part(), facts.and_then(|facts| facts.other)) else { continue };
        for limit in cx.book.limits(part).0.iter().filter(|limit| limit.clock != Clock::Months) {
            let (Some(own), Some(outer)) = (run(cx, part, limit.clock, index), run(cx, into, limit.clock, index)) else {
                continue;
            };
            if own > outer * 1.000_001 {
                let typed = cx.text(limit.typed);
                let words = |value: f64| told::amount(limit.clock, value, typed);
                out.push(
                    CHECK
                        .at(
                            told::part_span(cx, index, part),
                            format!(
                                "{} has run {} and goes into {}, which has run {}; the limit of {} is {typed}.",
                                cx.part(part),
                                words(own),
                                cx.part(into),
                                words(outer),
                                cx.part(part),
                            ),
                        )
                        .and(limit.typed, "the limit")
                        .cure("nothing, if that is meant; the due list goes by the piece"),
                );
                break;
            }
        }
    }
}

/// What a part had run in its life at a line; `None` where that is not known.
fn run(cx: &Context<'_>, part: PartId, clock: Clock, entry: EntryId) -> Option<f64> {
    let lives = life::of(cx.book, cx.history, part, cx.rank(entry));
    let lived = lives.last()?.on(cx.book, clock);
    (!lived.at_least).then_some(lived.value)
}
