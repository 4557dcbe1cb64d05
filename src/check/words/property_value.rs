//! `property-value`: a property without the value it needs.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::trouble::RANGE_OF_CAR;

/// The check.
pub const CHECK: Check = Check {
    name: "property-value",
    severity: Severity::Error,
    family: Family::Words,
    brief: "a property without the value it needs",
    why: "A property is a word and what belongs to it: `life 300 min`, `clicks 0..20`, `valid-until 2026-12-31`. \
          Without it, or with something else in its place, the property says nothing and the rest of that line is \
          not read.",
    wrong: "gauge cg-1 \"camber gauge\"  valid-until next spring",
    right: "gauge cg-1 \"camber gauge\"  valid-until 2026-04-30",
    look: Look::Trouble(words),
};

fn words(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let typed = cx.text(trouble.span);
    if let What::Full(most) = trouble.what {
        let said = format!("There is no room for `{typed}`: there are {most} already.");
        return Some(CHECK.at(trouble.span, said).cure("leave some out; this one is not read"));
    }
    let What::PropertyValue { property, wants } = trouble.what else { return None };
    let instead = if typed.is_empty() { String::new() } else { format!(", not `{typed}`") };
    Some(
        CHECK
            .at(trouble.span, format!("`{property}` wants {wants}{instead}."))
            .cure(match example(property, wants) {
                Some(example) => format!("write it so: `{example}`"),
                None => format!("write `{property}` and then {wants}"),
            }),
    )
}

/// A line that has the property right.
fn example(property: &str, wants: &str) -> Option<&'static str> {
    Some(match property {
        // A car and a class say of what the range is.
        "usual" if wants == RANGE_OF_CAR => "usual camber LF 2..7 deg",
        "possible" if wants == RANGE_OF_CAR => "possible weight 10..60 kg",
        "event" => "event NAME 2026-04-18..19 at CIRCUIT \"what it is\"",
        "valid-until" => "valid-until 2026-12-31",
        "written" => "written 2026-12-31",
        "cylinders" => "cylinders 4",
        "gears" => "gears 5",
        "units" => "units metric",
        "from" => "from full-hard",
        "clicks" => "clicks 0..20",
        "fits" => "fits LF RF",
        "life" => "life 300 min, 12 days",
        "valid" => "valid 5 years from made",
        "made" => "made 2024-03",
        "serviced" => "serviced 2025-04-30",
        "fitted" => "fitted 2025-04-30",
        "until" => "service PART until 2027-06",
        "opening" => "opening 55 min, 2 days",
        "spec" => "spec std of KIND \"what it is\"",
        "quantity" => "quantity NAME length corner \"what it is\"",
        "usual" => "usual -5..0.5 deg",
        "disturbed-by" => "disturbed-by camber, hit",
        "baseline" => "baseline NAME CAR quern-1/s4 \"what it is\"",
        _ => return None,
    })
}
