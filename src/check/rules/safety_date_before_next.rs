//! `safety-date-before-next`: an item on a car ends before the end of its next event.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::dated;

/// The check.
pub const CHECK: Check = Check {
    name: "safety-date-before-next",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "an item ends before the end of the car's next event",
    why: "The item is on the car, and its last good day comes before the last day of the next event that the car is entered \
          for (or that the book has lines of it at). Order and fit the next one now, or have it serviced; scrutineering will \
          look at the label, not at the book.",
    wrong: "event quern-9 2027-03-06..07 at quern entered heron\nkind belts fits cockpit on heron  valid 5 years from made\npart hb-1 belts made 2022-02",
    right: "part hb-2 belts made 2026-11\n2026-12-01 heron\n  swap belts cockpit hb-1 -> hb-2  because February is before Quern",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let end = cx.history.order.entries.next_key();
    let next = dated::next_events(cx.book, cx.today);
    for one in dated::dated(cx.book, cx.history, end) {
        let (Some(car), Some(last)) = (one.car, one.last_good_day) else { continue };
        if cx.history.parts.sold.contains_key(&car) {
            continue;
        }
        let Some(event) = next.get(car.index()).copied().flatten() else { continue };
        let Some(event) = cx.book.events.get(event).filter(|event| last < event.last) else { continue };
        let lines = cx.history.parts.get(one.part);
        let Some(stay) = lines.stays.last() else { continue };
        // What has run past its day already has its own message.
        let sessions = cx.history.sessions.between(car, stay.from, stay.until);
        let ran_on = sessions.iter().any(|id| cx.history.sessions.get(*id).last > last);
        if ran_on || lines.doubted(stay.from, end) {
            continue;
        }
        let name = cx.part(one.part);
        let days = if event.first == event.last {
            format!("{}", event.first)
        } else {
            format!("{} to {}", event.first, event.last)
        };
        out.push(
            CHECK
                .at(
                    told::part_span(cx, stay.entry, one.part),
                    format!(
                        "The last good day of {name} ({}) on {} is {last}, before the end of {} ({days}).",
                        cx.kind_of(one.part),
                        cx.car(car),
                        event.named.typed
                    ),
                )
                .and(event.named.declared, "its next event")
                .cure(format!("change or service {name} before then")),
        );
    }
}
