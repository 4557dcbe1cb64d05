//! `safety-date-passed`: a car ran with an item past its last good day.

use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::history::dated::{self, Basis, Dated};
use crate::history::sessions::Session;
use jiff::civil::Date;

/// The check.
pub const CHECK: Check = Check {
    name: "safety-date-passed",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "a car ran with an item past its last good day",
    why: "A harness, a seat, an extinguisher, a net, a helmet or a fuel cell is good until a day, whether it runs or not, and \
          the car ran after it. The years stand in the book (`valid 5 years from made` on the kind or its spec) and are copied \
          off the label or out of the rulebook; the local rulebook outranks them. The last good day is the same day so many \
          years on; a session past midnight is judged on each of its days; a label with a month only runs to the end of that month. \
          A car that has run so has run so: when the item is changed or serviced, `waive` this with what was done.",
    wrong: "kind belts fits cockpit on heron  valid 5 years from made\npart hb-1 belts  made 2021-03\n2026-04-18 heron\n  run s1 20 min",
    right: "2026-04-03 heron\n  swap belts cockpit hb-1 -> hb-2  because hb-1 ended in March\n2026-04-18 heron\n  run s1 20 min",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for part in cx.book.parts.keys() {
        let mut said: Option<Date> = None;
        let mut known: Option<(usize, Option<Dated>)> = None;
        let lines = cx.history.parts.get(part);
        for stay in &lines.stays {
            let Some(car) = stay.car else { continue };
            for session in cx.history.sessions.legs_between(car, stay.from, stay.until) {
                // Only a service moves the day, so it is worked out once between two.
                let services = lines.seen.iter().filter(|seen| seen.service && seen.rank < session.rank).count();
                if known.as_ref().is_none_or(|(at, _)| *at != services) {
                    known = Some((services, dated::of_part(cx.book, cx.history, part, session.rank)));
                }
                let Some(one) = known.as_ref().and_then(|(_, one)| one.as_ref()) else { continue };
                let Some(last) = one.last_good_day.filter(|last| *last < session.last) else { continue };
                let doubt = lines.doubted(stay.from, session.rank) || told::is_misdated(cx, session);
                if said != Some(last) && !doubt && !told::is_ahead(cx, session.date) {
                    said = Some(last);
                    out.push(message(cx, one, last, session));
                }
            }
        }
    }
}

fn message(cx: &Context<'_>, one: &Dated, last: Date, session: &Session) -> Diagnostic {
    let name = cx.part(one.part);
    let car = cx.car(session.car);
    let made = CHECK.at(
        session.label,
        format!(
            "The last good day of {name} ({}) was {last}; {car} ran {} on {}{}.",
            cx.kind_of(one.part),
            told::session(cx, session),
            session.last,
            if session.last > session.date { ", past midnight" } else { "" }
        ),
    );
    let made = match one.basis {
        Some(Basis::Counted { valid, at, .. }) => {
            made.and(at, format!("{} from here", cx.text(valid.typed))).and(valid.typed, "its limit")
        }
        Some(Basis::Label { at, .. }) => made.and(at, "its last good day"),
        None => made,
    };
    made.cure(format!("change or service {name} before it runs again; correct its date or its limit if one of them is wrong"))
}
