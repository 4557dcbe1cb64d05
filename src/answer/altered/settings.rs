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
        let shown = match (view.is, view.value()) {
            (Is::Unknown, _) => "unknown".to_owned(),
            (Is::Disputed, _) => "disputed".to_owned(),
            (_, Some(value)) => value.text.clone(),
            (_, None) => continue,
        };
        let typed = [&view.asked, &view.read].into_iter().flatten().filter_map(|value| value.line.clone());
        let lines = typed.chain(view.unknown.clone()).collect();
        let place = view.place.as_deref().unwrap_or_default();
        tell(
            AlteredSort::Value,
            format!("{} {place}", view.quantity).trim_end().to_owned(),
            Fact { shown, lines },
        );
    }
}
