//! Under which conditions a reading was taken: what its line says, else the car's reference.
//!
//! Must not know any particular check.

use crate::book::entry::{Entry, Extra};
use crate::book::model::Condition;
use crate::check::Context;

/// What an entry, or else its car, says of a condition.
pub fn says<'a>(cx: &Context<'a>, entry: &Entry, key: &str) -> Option<&'a Condition> {
    let named = |condition: &&Condition| cx.text(condition.key).eq_ignore_ascii_case(key);
    let extra = cx.book.extra(entry);
    let line = extra.and_then(|extra| extra.conditions.iter().find(named));
    line.or_else(|| {
        if extra.is_some_and(Extra::conditions_lost) {
            return None;
        }
        let car = cx.book.head(entry)?.car?;
        cx.book.cars.get(car)?.reference.iter().find(named)
    })
}

/// Whether two conditions of one key say the same: numbers within 1 %, words as typed.
pub fn agree(cx: &Context<'_>, a: &Condition, b: &Condition) -> bool {
    match (a.value, b.value) {
        (Some((a, _)), Some((b, _))) => (a - b).abs() <= 0.01 * a.abs().max(b.abs()),
        (None, None) => {
            let words = |condition: &Condition| {
                cx.text(condition.said).split_whitespace().map(str::to_lowercase).collect::<Vec<_>>()
            };
            words(a) == words(b)
        }
        _ => false,
    }
}

/// A condition as typed, with its unit: `driver 78 kg`, `bars off`.
pub fn words(cx: &Context<'_>, condition: &Condition) -> String {
    let said = cx.text(condition.said);
    let unit = condition.value.map_or("", |(_, unit)| unit.get().shown());
    if unit.is_empty() || said.ends_with(unit) { said.to_owned() } else { format!("{said} {unit}") }
}
