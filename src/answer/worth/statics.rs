//! What springs and tracks say a turn of a perch is worth: the figures that tell the same.
//!
//! Must not know what the car's own moves say.

use crate::Compiled;
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::{Calc, Fig};
use crate::history::moment::Moment;
use crate::history::order::Rank;
use crate::worth::{Outcome, Worth};

/// SI of the outcome for each SI of the setting, and its standard uncertainty; `None` where no figure tells it.
pub(super) fn said(
    compiled: &Compiled,
    car: CarId,
    until: Rank,
    one: &Worth,
    place: Place,
) -> Option<(f64, Option<f64>)> {
    let vocabulary = &compiled.book.vocabulary;
    if vocabulary.find("perch") != Some(one.cause)
        || vocabulary.find("weight") != Some(one.outcome.quantity())
    {
        return None;
    }
    let mut calc = Calc::new(compiled.facts(), car, &Moment::of_rank(until));
    match one.outcome {
        Outcome::Reading(_, corner) if corner == place => figure(&mut calc, "perch-effect", place),
        Outcome::Reading(..) => None,
        Outcome::Cross(_) => {
            let (own, own_u) = figure(&mut calc, "perch-effect", place)?;
            let (other, other_u) = figure(&mut calc, "perch-effect-diagonal", place)?;
            let (car, _) = figure(&mut calc, "total-weight", Place::CAR)?;
            let up = if matches!(place, Place::RF | Place::LR) { 1.0 } else { -1.0 };
            // The two rest on the same rates: what is not known of them adds up.
            let u = own_u.or(other_u).map(|_| (own_u.unwrap_or(0.0) + other_u.unwrap_or(0.0)) / car);
            (car > 0.0).then(|| (up * (own + other) / car, u))
        }
    }
}

/// A figure's value and its standard uncertainty, SI.
pub(super) fn figure(calc: &mut Calc<'_>, name: &str, place: Place) -> Option<(f64, Option<f64>)> {
    let fig: Fig = calc.value(name, place).ok()?;
    let u = calc.u(&fig);
    fig.value.is_finite().then_some((fig.value, u))
}
