//! `margin-inside-gauge`: a reading passes by less than its gauge's error.

use super::judged::{firsts, place};
use crate::book::model::CarId;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::judge::Verdict;

/// The check.
pub const CHECK: Check = Check {
    name: "margin-inside-gauge",
    severity: Severity::Warning,
    family: Family::Rules,
    brief: "a reading passes a rule by less than its gauge's error",
    why: "The number passes, but the gauge cannot tell it from one that does not: scrutineering has a gauge of its own, and its \
          error falls the other way. The error of a reading is one step of its gauge (its last digit where no gauge is named); \
          of a figure, such as the total of four pads, all the steps under it added up. Leave more room.",
    wrong: "gauge pads reads weight resolution 0.5 kg\nrule least class SR-2  total-weight min 615 kg\n2026-08-22 heron\n  left weight 154 154 154 154 kg by pads  # 616: one over, good to two",
    right: "  left weight 155 155 154.5 154.5 kg by pads",
    look: Look::Car(look),
};

fn look(cx: &Context<'_>, car: CarId, out: &mut Vec<Diagnostic>) {
    let scrutiny = cx.scrutiny();
    for one in firsts(cx, car, &Verdict::InsideError, None) {
        let Some(margin) = one.margin else { continue };
        let rule = scrutiny.rule(one.rule);
        let error = scrutiny.error_text(&margin).unwrap_or_default();
        let also = scrutiny.also_text(&one);
        let also = if also.is_empty() { also } else { format!(" Also {also}.") };
        out.push(
            CHECK
                .at(
                    place(cx, &one, &margin),
                    format!(
                        "{} is {}, {} inside {} ({}), and the reading is good to {error}.{also}",
                        scrutiny.subject_text(rule, &one),
                        scrutiny.value_text(&margin.value, &margin),
                        scrutiny.margin_text(&margin),
                        rule.named.typed,
                        scrutiny.limits_text(rule),
                    ),
                )
                .and(rule.named.declared, "the rule")
                .cure("leave more room, or read it with a finer gauge"),
        );
    }
}
