//! `fluid-against-build`: a gear oil of another grade than the last three fills, with the same plates in.

use crate::book::entry::Flags;
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::slots::{Owner, Register, Track};

/// The check.
pub const CHECK: Check = Check {
    name: "fluid-against-build",
    severity: Severity::Note,
    family: Family::Work,
    brief: "a gear oil of another grade than the last three fills, with the same plates in",
    why: "The last three fills had one grade, no plates were changed in between, and now it is another. Plates are \
          set up for the oil they run in: breakaway, noise and life all move with it. If the change is meant, a \
          `because` on the line answers it.",
    wrong: "  fill gearbox-oil 75W-90 1.6 L\n  fill gearbox-oil 75W-90 1.6 L\n  fill gearbox-oil 75W-90 1.6 L\n  fill gearbox-oil 80W 1.6 L",
    right: "  fill gearbox-oil 80W 1.6 L  because 80W frees the plates",
    look: Look::Track(look),
};

/// Fills of one grade before the odd one.
const FILLS: usize = 3;

fn look(cx: &Context<'_>, track: &Track, out: &mut Vec<Diagnostic>) {
    let Owner::Car(car) = track.owner else { return };
    if !matches!(&*cx.quantity(track.quantity).name, "gearbox-oil" | "diff-oil") {
        return;
    }
    let mut fills: Vec<(u32, String)> = Vec::new();
    for event in &track.events {
        if event.entry == u32::MAX || event.register() == Register::Unknown {
            fills.clear();
            continue;
        }
        let entry = cx.entry(event.entry);
        let grade = cx.book.items_of(entry).iter().find(|item| item.is(Flags::TEXT));
        let Some(grade) = grade else { continue };
        let grade = cx.text(grade.span(entry.file)).to_ascii_uppercase();
        let reasoned = cx.book.extra(entry).is_some_and(|extra| extra.because.is_some());
        let (before, from) = match fills.len().checked_sub(FILLS).and_then(|at| fills.get(at)) {
            Some((from, before)) => (before.clone(), *from),
            None => (grade.clone(), event.entry),
        };
        let steady = fills.iter().rev().take(FILLS).all(|(_, each)| *each == before);
        if !reasoned && steady && grade != before && !plates_changed(cx, car, cx.rank(from), cx.rank(event.entry)) {
            out.push(message(cx, track, event.entry, &grade, &before, &fills));
        }
        fills.push((event.entry, grade));
    }
}

/// Whether the plates of clutch or differential were set between two ranks.
fn plates_changed(cx: &Context<'_>, car: CarId, from: u32, until: u32) -> bool {
    let plates = cx.history.slots.of(Owner::Car(car)).iter().filter(|track| {
        matches!(&*cx.quantity(track.quantity).name, "clutch-plates" | "diff-plates")
    });
    plates
        .flat_map(|track| &track.events)
        .filter(|event| event.entry != u32::MAX && event.register() == Register::Asked)
        .any(|event| (from..until).contains(&cx.rank(event.entry)))
}

fn message(
    cx: &Context<'_>,
    track: &Track,
    entry: u32,
    grade: &str,
    before: &str,
    fills: &[(u32, String)],
) -> Diagnostic {
    let span = cx.entry(entry).span();
    let message = CHECK
        .at(
            span,
            format!(
                "{grade} goes in; the last three fills of {} with these plates were {before}.",
                cx.quantity(track.quantity).name
            ),
        )
        .cure("correct the grade, or end the line with `because` and the reason");
    match fills.last() {
        Some((last, _)) => message.and(cx.entry(*last).span(), "the last fill"),
        None => message,
    }
}
