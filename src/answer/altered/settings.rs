//! What was set and read on a car, at a moment.
//!
//! Must not know figures.

use super::fact::{AlteredSort, Fact};
use crate::Compiled;
use crate::answer::state::{self, Is};
use crate::book::model::CarId;
use crate::history::Moment;

pub(super) fn tell(
    compiled: &Compiled,
    car: CarId,
    moment: &Moment,
    tell: &mut dyn FnMut(AlteredSort, String, Fact),
) {
    for view in state::build(compiled, car, moment, None).slots {
        let place = view.place.as_deref().unwrap_or_default();
        let what = format!("{} {place}", view.quantity).trim_end().to_owned();
        // What the slot is does not say what stands beside it: what was asked, where it was read since, and what was read before.
        for (register, beside) in [(Is::Asked, &view.asked), (Is::Read, &view.read)] {
            let Some(value) =
                beside.as_ref().filter(|_| matches!(view.is, Is::Asked | Is::Read) && view.is != register)
            else {
                continue;
            };
            let lines = value.line.iter().cloned().collect();
            let words = if register == Is::Asked { "as asked" } else { "as read before" };
            tell(AlteredSort::Value, format!("{what}, {words}"), Fact { shown: value.text.clone(), lines });
        }
        let shown = match (view.is, view.value()) {
            (Is::Unknown, _) => "unknown".to_owned(),
            (Is::Disputed, _) => "disputed".to_owned(),
            (_, Some(value)) => value.text.clone(),
            (_, None) => continue,
        };
        let typed = [&view.asked, &view.read].into_iter().flatten().filter_map(|value| value.line.clone());
        let lines = typed.chain(view.unknown.clone()).collect();
        tell(AlteredSort::Value, what, Fact { shown, lines });
    }
}
