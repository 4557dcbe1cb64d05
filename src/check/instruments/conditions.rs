//! Under which conditions a reading was taken: what its line says, else the car's reference.
//!
//! Must not know any particular check.

use crate::book::entry::Entry;
use crate::book::model::Condition;
use crate::check::Context;
use crate::history::likeness;

/// What an entry, or else its car, says of a condition.
pub fn says<'a>(cx: &Context<'a>, entry: &Entry, key: &str) -> Option<&'a Condition> {
    likeness::says(cx.facts, entry, key)
}

/// Whether two conditions of one key say the same.
pub fn agree(cx: &Context<'_>, a: &Condition, b: &Condition) -> bool {
    likeness::agree(cx.facts, a, b)
}

/// A condition as typed, with its unit: `driver 78 kg`, `bars off`.
pub fn words(cx: &Context<'_>, condition: &Condition) -> String {
    let said = cx.text(condition.said);
    let unit = condition.value.map_or("", |(_, unit)| unit.get().shown());
    if unit.is_empty() || said.ends_with(unit) { said.to_owned() } else { format!("{said} {unit}") }
}
