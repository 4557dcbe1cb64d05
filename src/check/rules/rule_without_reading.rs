//! `rule-without-reading`: a car ran under a rule, and nothing was ever read for it.

use super::judged::class;
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look, told};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::driven::Driven;
use crate::rules::force;

/// The check.
pub const CHECK: Check = Check {
    name: "rule-without-reading",
    severity: Severity::Note,
    family: Family::Rules,
    brief: "a car ran under a rule, and the book has no reading for it",
    why: "The rule was in force when the car ran, and by then nobody had read what it limits (or set it, or the figure had no \
          value for want of a reading). The card before the event shows a hole there; scrutineering will fill it. It is asked \
          about once for each car and rule, at the first session.",
    wrong: "rule least class SR-2  total-weight min 615 kg\n2026-09-05 heron at quern-2\n  run s1 20 min",
    right: "2026-09-04 heron\n  left weight 155 155 155 155 kg  with driver 78 kg, fuel 20 L\n2026-09-05 heron at quern-2\n  run s1 20 min",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let Some(class) = class(cx, car) else { return };
    let scrutiny = cx.scrutiny();
    let locals = scrutiny.locals(class);
    for id in cx.book.rules.keys() {
        let rule = scrutiny.rule(id);
        let meant = scrutiny.meant(rule);
        // A name that is nothing has its own message.
        if rule.broken || !force::of_class(rule, class) || meant.quantity.is_none() && meant.figure.is_none() {
            continue;
        }
        // What drivers drove nobody reads.
        if Driven::of(scrutiny.name(rule)).is_some() {
            continue;
        }
        let under = cx.history.sessions.of(car).map(|(_, session)| session).find(|session| {
            let in_force = |date| {
                let force = scrutiny.force_of(&locals, id, ([date; 2], session.event));
                force.is_some_and(|one| one.outranked.is_none())
            };
            !cx.entry(session.entry).broken
                && (in_force(session.date) || in_force(session.last))
                && !told::is_ahead(cx, session.date)
        });
        let Some(session) = under else { continue };
        let read = scrutiny.readings(car, rule);
        // Read in the session itself, or after it (the weight as it came in), is soon enough.
        let own = cx.history.sessions.named.keys().filter(|line| cx.history.during(cx.book, **line) == Some(session.entry));
        let after = own.map(|line| cx.rank(*line).next()).max();
        if read.before(after.map_or(session.after, |after| after.max(session.after))) > 0 {
            continue;
        }
        let last = if read.is_empty() { "" } else { " by then" };
        out.push(
            CHECK
                .at(
                    session.label,
                    format!(
                        "{} ran {} under {} ({} {}), and the book has no {}{last}.",
                        cx.car(car),
                        told::session(cx, session),
                        rule.named.typed,
                        scrutiny.name(rule),
                        scrutiny.limits_text(rule),
                        scrutiny.name(rule),
                    ),
                )
                .and(rule.named.declared, "the rule")
                .cure("read it, or waive this with the reason"),
        );
    }
}
