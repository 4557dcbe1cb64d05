//! `value-impossible`: a value that cannot be.

use crate::book::{Trouble, What};
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::book::normal::closest;
use crate::book::place::Place;
use crate::book::range::Bound;
use crate::units::DimensionId;
use crate::words::{self, normal};

/// The check.
pub const CHECK: Check = Check {
    name: "value-impossible",
    severity: Severity::Error,
    family: Family::Typing,
    brief: "a value that cannot be",
    why: "Outside what is possible a number is a slip of the finger or a wrong unit: a leak-down over 100 %, a \
          tyre at 18 bar. The line is not used, so that no figure is made from it. The limits are wide; a merely \
          unusual value is asked about, not refused. What a car or a class has beyond them its `possible` line says.",
    wrong: "  read leakdown 6 105 7 5 %",
    right: "  read leakdown 6 10.5 7 5 %",
    look: Look::Trouble(say),
};

fn say(cx: &Context<'_>, trouble: &Trouble) -> Option<Diagnostic> {
    let What::ValueImpossible { quantity: id, place, car, limits, unit } = &trouble.what else { return None };
    let quantity = cx.quantity(*id);
    let typed = cx.text(trouble.span);
    // A share is told as it is shown: 57.5 without a unit is one in per cent.
    let percent = quantity.show[0].filter(|shown| quantity.dimension == DimensionId::RATIO && *unit != *shown);
    let meant = percent.filter(|shown| typed.parse().is_ok_and(|value| limits.hold(shown.get().to_si(value))));
    let range = normal::range(limits, meant.unwrap_or_else(|| normal::unit(quantity, *unit)));
    let whose = normal::whose(cx.book, limits.says);
    let message = format!("{typed} cannot be: {} runs from {range}{whose}.", quantity.name);
    let cure = meant.map_or_else(
        || "correct the number or its unit; `-` if it was not read".to_owned(),
        |shown| format!("write its unit, `{typed} {}`; else correct the number", shown.get().shown()),
    );
    let widen = car.and_then(|car| cx.book.cars.get(car)).map(|car| {
        // What the car says of itself is put right where it says so.
        if let Some(own) = closest(&car.ranges, *id, *place, Bound::Possible) {
            let line = words::place(cx.files.path(own.typed.file), cx.files.line(own.typed));
            return format!("; if this car has it, widen the range at {line}");
        }
        let place = if *place == Place::CAR { String::new() } else { format!(" {}", cx.place(*place)) };
        format!("; if this car has it, `possible {}{place} FROM..TO UNIT` under `car {}`", quantity.name, car.named.typed)
    });
    Some(CHECK.at(trouble.span, message).cure(format!("{cure}{}", widen.unwrap_or_default())))
}
