//! `order-fooled-by-trend`: a declared trial in an order that a steady trend can stand for.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::trials::Refusal;
use crate::trials::plan::{telling, tells};

/// The check.
pub const CHECK: Check = Check {
    name: "order-fooled-by-trend",
    severity: Severity::Warning,
    family: Family::Settings,
    brief: "a declared trial in an order that a steady trend can stand for",
    why: "Over a day tyres wear, fuel burns off, the track and the driver change: laps rise or fall from run to run. Where each setting comes \
          once, one after the other, or a number is only ever turned one way, such a trend looks like the change itself, and no laps can tell \
          the two apart. Go back, and go there again.",
    wrong: "  try bar-hole front A 1, B 3 order A A B B",
    right: "  try bar-hole front A 1, B 3 order A B A B A",
    look: Look::Entry(&[Verb::Try], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(says) = cx.book.extra(entry).and_then(|extra| extra.tried.as_deref()) else { return };
    if entry.broken {
        return;
    }
    let Err(refusal) = tells(&says.order, says.numbers().as_deref()) else { return };
    let letters = |order: &[usize]| {
        let letters = order.iter().filter_map(|level| says.levels.get(*level));
        letters.map(|level| level.letter.to_string()).collect::<Vec<_>>().join(" ")
    };
    let why = match refusal {
        Refusal::OnlyOneWay => "it is only ever turned one way, and a step is then the same as a run later",
        _ => "each setting comes once, one after the other, and a steady trend looks the same",
    };
    out.push(
        CHECK
            .at(says.order_span, format!("{} cannot tell: {why}.", letters(&says.order)))
            .cure(format!("run them as `order {}`, which a steady trend cannot fool", letters(&telling(says.levels.len())))),
    );
}
