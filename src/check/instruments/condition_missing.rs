//! `condition-missing`: a reading without what it needs to be compared.

use super::conditions::says;
use crate::check::{Check, Context, Family, Look};
use crate::book::entry::{EntryId, Entry, Verb};
use crate::diagnostics::{Diagnostic, Severity};

/// The check.
pub const CHECK: Check = Check {
    name: "condition-missing",
    severity: Severity::Warning,
    family: Family::Instruments,
    brief: "a reading without the conditions it needs",
    why: "Corner weights with the driver in and with the seat empty are two different cars. What a quantity `needs` must stand \
          on the line, or once as the car's `reference`; without it the reading can be compared with nothing.",
    wrong: "  left weight 149.0 151.0 171.0 171.0 kg",
    right: "  left weight 149.0 151.0 171.0 171.0 kg  with driver 78 kg, fuel 20 L",
    look: Look::Entry(&[Verb::Found, Verb::Left, Verb::Read], look),
};

fn look(cx: &Context<'_>, _: EntryId, entry: &Entry, out: &mut Vec<Diagnostic>) {
    let Some(quantity) = entry.quantity.map(|id| cx.quantity(id)) else { return };
    if quantity.needs.is_empty() || entry.void {
        return;
    }
    let missing: Vec<&str> =
        quantity.needs.iter().map(|need| &**need).filter(|need| says(cx, entry, need).is_none()).collect();
    if missing.is_empty() {
        return;
    }
    let asked: Vec<String> = missing.iter().map(|need| format!("{need}?")).collect();
    let with: Vec<String> = missing.iter().map(|need| format!("{need} ...")).collect();
    out.push(
        CHECK
            .at(entry.span(), format!("{} cannot be compared: {}", quantity.name, asked.join(" ")))
            .cure(format!("end the line `with {}`, or give the car a `reference`", with.join(", "))),
    );
}
