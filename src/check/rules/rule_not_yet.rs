//! `rule-not-yet`: the last reading passed by the rule of its day, and a rule that has come since asks for more.

use super::judged::{class, place};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::force;
use crate::rules::judge::Verdict;

/// The check.
pub const CHECK: Check = Check {
    name: "rule-not-yet",
    severity: Severity::Note,
    family: Family::Rules,
    brief: "the last reading is older than a rule it would not pass",
    why: "The reading was taken before the rule starts, and by the rule of its day it passes: past results are not touched. \
          Nothing has been read since, and as it was read it falls short of the newer rule, so the car wants work before it \
          runs under that one.",
    wrong: "rule clearance class SR-2  ride-height min 48 mm  from 2026-08-01\n2026-06-26 heron\n  left ride-height 44 44 50 50 mm",
    right: "2026-06-26 heron\n  left ride-height 44 44 50 50 mm\n2026-08-22 heron\n  adjust perch front +4 turn  because of the new rule\n  left ride-height 51 51 50 50 mm",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let Some(class) = class(cx, car) else { return };
    if cx.history.parts.sold.contains_key(&car) {
        return;
    }
    let scrutiny = cx.scrutiny();
    for id in cx.book.rules.keys() {
        let rule = scrutiny.rule(id);
        let Some((from, _)) = rule.from.filter(|_| !rule.broken && force::of_class(rule, class)) else { continue };
        // One that is over already is not to be worked for.
        if rule.local.is_some() || rule.until.is_some_and(|(until, _)| until < cx.today) {
            continue;
        }
        let readings = scrutiny.readings(car, rule);
        let Some(last) = readings.last().filter(|last| last.date.is_some_and(|day| day < from)) else { continue };
        let one = scrutiny.judge(car, id, last.clone());
        let Some(margin) = one.margin.filter(|_| one.verdict == Verdict::Fails) else { continue };
        out.push(
            CHECK
                .at(
                    place(cx, &one, &margin),
                    format!(
                        "{} is {}; {} starts on {from} and asks {}: {} too {}.",
                        scrutiny.subject_text(rule, &one),
                        scrutiny.value_text(&margin.value, &margin),
                        rule.named.typed,
                        scrutiny.limits_text(rule),
                        scrutiny.margin_text(&margin),
                        if margin.side == crate::rules::judge::Side::Min { "little" } else { "much" },
                    ),
                )
                .and(rule.named.declared, "the rule")
                .cure("change it before the car runs under that rule, and read it again"),
        );
    }
}
