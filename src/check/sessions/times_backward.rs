//! `times-backward`: a time earlier than that of a line above it in its block, or of its head.

use crate::book::entry::EntryId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::problem::{Problem, Typed};

/// The check.
pub const CHECK: Check = Check {
    name: "times-backward",
    severity: Severity::Warning,
    family: Family::Sessions,
    brief: "a time earlier than that of a line above it in its block, or of its head",
    why: "The lines of a block are in the order things happened, and a time only pins one of them. A time that runs back is a slip \
          (02:00 for 14:00), a line that stands in the wrong place, or the next day; so is an end that is not after its own start. Which of them decides what was on the car: \
          until it is put right the order of the lines counts, and a session's own times still say how long it was.",
    wrong: "  11:30 swap coupling LR cp-1 -> cp-2\n  02:00..02:20 run s3",
    right: "  11:30 swap coupling LR cp-1 -> cp-2\n  14:00..14:20 run s3",
    look: Look::Problem(words),
};

fn words(cx: &Context<'_>, problem: &Problem) -> Option<Diagnostic> {
    if let Problem::EndsFirst { entry } = *problem {
        return Some(ends_first(cx, entry));
    }
    let Problem::TimesBackward { entry, before } = *problem else { return None };
    let above = match before {
        Typed::Start(line) if cx.entry(line).clock.0 < 0 => {
            let (zone, _) = told::zone(cx, Typed::Start(entry));
            crate::words::clock(zone.civil(cx.history.order.at[line]).1 as i16)
        }
        typed => crate::words::clock(told::face(cx, typed)),
    };
    let (of, there) = match before {
        Typed::Head(head) => ("head", cx.book.heads[head].span),
        Typed::Start(line) | Typed::End(line) => ("line", cx.entry(line).span()),
    };
    let was = if matches!(before, Typed::End(_)) { ", when that was over" } else { "" };
    Some(
        CHECK
            .at(
                told::face_span(cx, Typed::Start(entry)),
                format!(
                    "{} is earlier than {above} of the {of} above it{was}; the order of the lines is taken.",
                    crate::words::clock(cx.entry(entry).clock.0)
                ),
            )
            .and(there, format!("at {above}"))
            .cure("correct the time, or move the line; what was on the next day goes under a head of its own date"),
    )
}

fn ends_first(cx: &Context<'_>, entry: EntryId) -> Diagnostic {
    let line = cx.entry(entry);
    let [start, end] = [line.clock.0, line.clock.1].map(crate::words::clock);
    let begins = if line.clock.0 < 0 { String::new() } else { format!(", when this {} begins", line.verb.word()) };
    let message = format!("{end} is not after {start}{begins}: how long it was is not known.");
    CHECK.at(told::face_span(cx, Typed::End(entry)), message).cure("correct the one or the other")
}
