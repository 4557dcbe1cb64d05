//! From one reading to the next of a chain, in the units of a worth.
//!
//! Must not know how a slope is found, nor rendering.

use super::shown::{Shown, at};
use super::turn::{TurnStep, TurnedBy};
use crate::Compiled;
use crate::answer::entry_line;
use crate::vocabulary::QuantityId;
use crate::worth::SlopeStep;

/// One step in the units of the worth.
pub(super) fn step(
    compiled: &Compiled,
    cause: QuantityId,
    step: &SlopeStep,
    (unit, by): (&Shown, &Shown),
) -> Option<TurnStep> {
    let turned = step
        .turned
        .iter()
        .map(|(place, turned)| TurnedBy { what: at(compiled, cause, *place), by: turned / by.si });
    Some(TurnStep {
        from: entry_line(compiled, step.from)?,
        to: entry_line(compiled, step.to)?,
        turned: turned.collect(),
        moved: step.moved / unit.si,
    })
}
