//! `fluid-against-build`: a gear oil of another grade than the last three fills, with the same plates in.

use crate::history::order::Rank;
use crate::book::entry::{Flags, EntryId};
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
    let mut fills: Vec<(EntryId, String)> = Vec::new();
    for event in &track.events {
        let Some(line) = event.entry.filter(|_| event.register() != Register::Unknown) else {
            fills.clear();
            continue;
        };
        let entry = cx.entry(line);
        let grade = cx.book.items_of(entry).iter().find(|item| item.is(Flags::TEXT));
        let Some(grade) = grade else { continue };
        let grade = cx.text(grade.span(entry.file)).to_ascii_uppercase();
        let reasoned = cx.book.extra(entry).is_some_and(|extra| extra.because.is_some());
        let (before, from) = match fills.len().checked_sub(FILLS).and_then(|at| fills.get(at)) {
            Some((from, before)) => (before.clone(), *from),
            None => (grade.clone(), line),
        };
        let steady = fills.iter().rev().take(FILLS).all(|(_, each)| *each == before);
        if !reasoned && steady && grade != before && !plates_changed(cx, car, cx.rank(from), cx.rank(line)) {
            out.push(message(cx, track, line, &grade, &before, &fills));
        }
        fills.push((line, grade));
    }
}

/// Whether the plates of clutch or differential were set between two ranks.
fn plates_changed(cx: &Context<'_>, car: CarId, from: Rank, until: Rank) -> bool {
    let plates = cx.history.slots.of(Owner::Car(car)).iter().filter(|track| {
        matches!(&*cx.quantity(track.quantity).name, "clutch-plates" | "diff-plates")
    });
    plates
        .flat_map(Track::lines)
        .filter(|(_, event)| event.register() == Register::Asked)
        .any(|(line, _)| (from..until).contains(&cx.rank(line)))
}

fn message(
    cx: &Context<'_>,
    track: &Track,
    entry: EntryId,
    grade: &str,
    before: &str,
    fills: &[(EntryId, String)],
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
