//! What is otherwise at one moment than at another, in a line each.
//!
//! Must not know how a difference is worked out; that is `history::diff`.

use super::change::{self, ShownChange};
use super::diff::part_changes;
use super::value::{ShownValue, ValueOrigin};
use crate::book::model::CarId;
use crate::history::diff::{PartDiff, SlotDiff};
use crate::history::order::Rank;
use crate::report::teller::Teller;
use serde::Serialize;

/// One thing that is otherwise, wherever it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Altered {
    /// "camber", "coupling".
    pub what: String,
    /// Its places.
    pub steps: Vec<Altering>,
    /// Why, each reason once.
    pub because: Vec<String>,
    /// Its lines.
    pub src: String,
}

/// Then and now at a place, or at several that changed alike.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Altering {
    /// "LF RF"; empty for the car as a whole.
    pub place: String,
    /// Then.
    pub then: ShownValue,
    /// Now.
    pub now: ShownValue,
}

/// The lines of some settings and parts that are otherwise before a rank: parts first, then settings.
pub(super) fn altered<'s>(
    tell: &Teller<'_>,
    car: CarId,
    slots: impl Iterator<Item = &'s SlotDiff<'s>>,
    parts: &[PartDiff],
    rank: Rank,
) -> Vec<Altered> {
    let changes: Vec<ShownChange> =
        slots.map(|slot| change::change(tell, car, slot, change::swapped(tell, slot, rank), rank)).collect();
    let part = |text: String| ShownValue { text, unit: String::new(), how: ValueOrigin::Set };
    let mut lines: Vec<Altered> = Vec::new();
    for one in part_changes(tell, parts) {
        let step = Altering { place: one.place, then: part(one.then), now: part(one.now) };
        push(&mut lines, one.kind, step, one.because, &one.src);
    }
    for one in change::join(changes) {
        let step = Altering { place: one.places, then: one.then, now: one.now };
        push(&mut lines, one.name, step, one.because, &one.src);
    }
    lines
}

/// Puts a step to the last line, if that is about the same.
fn push(lines: &mut Vec<Altered>, what: String, step: Altering, because: String, src: &str) {
    if lines.last().is_none_or(|last| last.what != what) {
        lines.push(Altered { what, steps: Vec::new(), because: Vec::new(), src: String::new() });
    }
    let Some(line) = lines.last_mut() else { return };
    line.steps.push(step);
    if !because.is_empty() && !line.because.contains(&because) {
        line.because.push(because);
    }
    if !src.is_empty() && !line.src.split(" · ").any(|known| known == src) {
        if !line.src.is_empty() {
            line.src.push_str(" · ");
        }
        line.src.push_str(src);
    }
}
