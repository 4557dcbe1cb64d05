//! Which lines change the setup, as against pressures and fuel, which follow the day.
//!
//! Must not know any particular check.

use crate::book::entry::{Entry, Verb};
use crate::check::Context;
use crate::units::DimensionId;

/// What a `set`, `adjust` or `swap` changes, if it is something that is tried: a quantity's or a kind's name.
pub fn is_tuning(cx: &Context<'_>, entry: &Entry) -> Option<String> {
    if entry.verb == Verb::Swap {
        let kind = cx.book.kind_of(entry.part()?)?;
        // A part that brings no setting (a bearing, a coupling) does not change the car's balance.
        return (!kind.gives.is_empty() || !kind.carries.is_empty()).then(|| kind.named.typed.to_string());
    }
    let quantity = cx.quantity(entry.quantity?);
    let area = cx.book.vocabulary.areas.get(quantity.area as usize).map_or("", |area| &**area);
    let follows_the_day = area == "tyres" && quantity.dimension == DimensionId::PRESSURE
        || area == "fuel" && matches!(quantity.dimension, DimensionId::VOLUME | DimensionId::TEXT)
        || quantity.dimension == DimensionId::FLUID;
    (!follows_the_day && !quantity.counter).then(|| quantity.name.to_string())
}
