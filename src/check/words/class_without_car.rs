//! `class-without-car`: a declared class that no car is in.

use crate::book::names::nearest;
use crate::check::{Check, Context, Family, Look};
use crate::diagnostics::{Diagnostic, Severity};
use crate::words;

/// The check.
pub const CHECK: Check = Check {
    name: "class-without-car",
    severity: Severity::Warning,
    family: Family::Words,
    brief: "a declared class that no car is in",
    why: "A `class` line says what is normal on the cars of that class, and a car is in a class by its own `class` property. A class \
          that no car names changes nothing: most often one of the two is spelt differently.",
    wrong: "class kart\n  usual tyre-cold 0.6..0.9 bar\ncar k7 \"Seven\"  class karts",
    right: "class kart\n  usual tyre-cold 0.6..0.9 bar\ncar k7 \"Seven\"  class kart",
    look: Look::Whole(look),
};

fn look(cx: &Context<'_>, out: &mut Vec<Diagnostic>) {
    for (id, class) in cx.book.classes.iter_enumerated() {
        if cx.book.cars.iter().any(|car| car.of_class == Some(id)) {
            continue;
        }
        // One that is in another declared class is right as it is.
        let astray = cx.book.cars.iter().filter(|car| car.of_class.is_none());
        let near = nearest(&class.named.typed, astray.map(|car| car.class.as_str()));
        let name = &class.named.typed;
        let cure = match near {
            Some(near) => words::did_you_mean(&near),
            None => format!("write `class {name}` on the cars that run in it"),
        };
        out.push(CHECK.at(class.named.declared, format!("No car is of class {name}.")).cure(cure));
    }
}
