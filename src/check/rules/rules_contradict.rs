//! `rules-contradict`: two rules that nothing can keep at once.

use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::rules::conflict::Conflict;

/// The check.
pub const CHECK: Check = Check {
    name: "rules-contradict",
    severity: Severity::Error,
    family: Family::Rules,
    brief: "two rules that nothing can keep at once",
    why: "On some day both are in force for one class, one quantity or figure and one place, and the least of the one is above \
          the most of the other. A limit is mistyped, or the older rule wants an `until`.",
    wrong: "rule clearance class SR-2  ride-height min 48 mm\nrule lowness class SR-2  ride-height max 45 mm",
    right: "rule clearance class SR-2  ride-height min 48 mm\nrule lowness class SR-2  ride-height max 75 mm",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    let scrutiny = cx.scrutiny();
    for conflict in scrutiny.conflicts() {
        let Conflict::Impossible { least, most, more } = conflict else { continue };
        let (low, high) = (scrutiny.rule(least), scrutiny.rule(most));
        let (Some(min), Some(max)) = (low.min, high.max) else { continue };
        let (min_text, max_text) = (scrutiny.limit_text(&min), scrutiny.limit_text(&max));
        let name = scrutiny.name(low);
        let more = match more {
            0 => String::new(),
            1 => " 1 more rule cannot be kept with them.".to_owned(),
            more => format!(" {more} more rules cannot be kept with them."),
        };
        out.push(if least == most {
            CHECK
                .at(min.typed, format!("{} asks at least {min_text} and at most {max_text} of {name}.", low.named.typed))
                .cure("correct one of the two limits")
        } else {
            // The later line is the one to look at.
            let later = if least > most { min.typed } else { max.typed };
            let earlier = if least > most { max.typed } else { min.typed };
            CHECK
                .at(
                    later,
                    format!(
                        "{} asks at least {min_text} of {name}, and {} at most {max_text}, both on one day.{more}",
                        low.named.typed, high.named.typed
                    ),
                )
                .and(earlier, "the other limit")
                .cure("correct one of the two, or end the older with `until`")
        });
    }
}
