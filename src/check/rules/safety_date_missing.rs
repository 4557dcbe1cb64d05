//! `safety-date-missing`: a dated item on a car whose days nobody can count.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::dated;
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "safety-date-missing",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "a dated item on a car, and the book does not say from when its days count",
    why: "Its kind or spec says how many years it is good for, and neither its declaration nor a line says since when. An item \
          whose age nobody knows is treated as one whose day has passed: read the label and write `made 2024-03` (a day, a \
          month or a year), `serviced`, `fitted` or `valid-until` on the part, or a `service` line.",
    wrong: "kind belts fits cockpit on heron  valid 5 years from made\npart hb-1 belts",
    right: "kind belts fits cockpit on heron  valid 5 years from made\npart hb-1 belts  made 2024-03",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let end = cx.history.order.entries.next_key();
    for one in dated::dated(cx.book, cx.history, end) {
        let Some(car) = one.car.filter(|car| !cx.history.parts.sold.contains_key(car)) else { continue };
        let Some(stay) = cx.history.parts.get(one.part).stays.last() else { continue };
        if one.uncounted.is_empty() {
            continue;
        }
        let name = cx.part(one.part);
        let limits: Vec<String> =
            one.uncounted.iter().map(|valid| format!("`{}`", cx.text(valid.typed))).collect();
        let words: Vec<String> =
            one.uncounted.iter().map(|valid| format!("`{} DATE`", valid.since.word())).collect();
        out.push(
            CHECK
                .at(
                    told::part_span(cx, stay.entry, one.part),
                    format!(
                        "{name} on {} is {}, and the book does not say from when.",
                        cx.car(car),
                        words::and(&limits)
                    ),
                )
                .and(cx.book.parts[one.part].named.declared, "declared here")
                .cure(format!("read its label and write {} on the part's line", words::and(&words))),
        );
    }
}
