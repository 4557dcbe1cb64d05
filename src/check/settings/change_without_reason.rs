//! `change-without-reason`: a change between two sessions of an event without `because`.

use super::reasons::is_tuning;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "change-without-reason",
    severity: Severity::Note,
    family: Family::Settings,
    brief: "a change between two sessions of an event without a reason",
    why: "In eighteen months the number says what was done and nothing says why. A change between sessions was tried for a \
          reason; write it while it is known. Tyre pressures, fuel and fills follow the day and are not asked about.",
    wrong: "  set bar-hole front 2 -> 4",
    right: "  set bar-hole front 2 -> 4  because it washes wide at the gate",
    look: Look::Entry(&[Verb::Set, Verb::Adjust, Verb::Swap], look),
};

fn look(cx: &Context<'_>, index: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    if entry.void || cx.book.extra(entry).is_some_and(|extra| extra.because.is_some()) {
        return;
    }
    let Some((car, event)) = cx.book.head(entry).and_then(|head| Some((head.car?, head.event?))) else { return };
    let sessions = &cx.history.sessions;
    let Some(list) = sessions.of_car.get(car) else { return };
    let next = list.partition_point(|id| sessions.get(*id).rank < cx.rank(index));
    let at = |at: Option<usize>| at.and_then(|at| list.get(at)).map(|id| sessions.get(*id));
    let (Some(before), Some(after)) = (at(next.checked_sub(1)), at(Some(next))) else { return };
    if before.event != Some(event) || after.event != Some(event) {
        return;
    }
    let name = if entry.verb == Verb::Swap {
        entry.part().map(|part| cx.kind_of(part).to_owned())
    } else {
        is_tuning(cx, entry)
    };
    // The settings of an outfit have their reason on the line that fits it, which asks once for all of them.
    let above = entry.parent.and_then(|above| cx.book.entries.get(above));
    let worn = above.and_then(|above| cx.book.extra(above)?.parts.as_ref()?.outfit);
    let span = above.filter(|_| worn.is_some()).map_or(entry.span(), Entry::span);
    if out.iter().any(|one| worn.is_some() && one.at.as_ref().is_some_and(|at| at.span == span)) {
        return;
    }
    let name = worn.map_or(name, |worn| Some(cx.book.outfits[worn].named.typed.to_string()));
    if let Some(name) = name {
        let at_stop = cx.rank(index) < before.during;
        let (before, after) = (cx.text(before.label), cx.text(after.label));
        let when = if at_stop { format!("at a stop of {before}") } else { format!("between {before} and {after}") };
        out.push(
            CHECK
                .at(span, format!("Why was {name} changed {when}?"))
                .cure("end the line with `because ...`"),
        );
    }
}
