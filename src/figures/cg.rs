//! The lift of one end of the car, as its row says it.
//!
//! What follows from it is arithmetic, in `grammar/figures.sline`. Must not know springs.

use super::calc::{Calc, Got, Missing};
use super::code::Code;
use crate::book::entry::{EntryId, Item};
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("lift-height", |calc, _| {
        let lift = row(calc)?;
        Ok(calc.item("lift", lift.row, &lift.height, DimensionId::LENGTH))
    }),
    ("lift-radius", |calc, _| {
        let lift = row(calc)?;
        let wanted = || Missing::one("the loaded radius on the lift row, such as `radius 300 mm`");
        let radius = lift.radius.ok_or_else(wanted)?;
        Ok(calc.item("loaded radius", lift.row, &radius, DimensionId::LENGTH))
    }),
    ("lifted-weight", |calc, place| {
        let lift = row(calc)?;
        if lift.raised.place != place {
            let end = calc.book.place_word(place);
            return Err(Missing::one(format!("a lift with what the {end} then weighs")));
        }
        Ok(calc.item("weight of the other end, lifted", lift.row, &lift.raised, DimensionId::WEIGHT))
    }),
];

struct Lift {
    row: EntryId,
    height: Item,
    /// At the axle that was weighed.
    raised: Item,
    radius: Option<Item>,
}

/// The last `lift` row before the moment.
fn row(calc: &Calc<'_>) -> Got<Lift> {
    let id = calc.quantity("cg-height")?;
    let Some((row, broken)) = calc.rows(id).first().copied() else {
        return Err(Missing::one(
            "a reading of cg-height, or a lift under one, such as `lift rear 254 mm front 310 kg radius 300 mm`",
        ));
    };
    if broken {
        return Err(Missing::one("the lift under cg-height put right (it has an error)"));
    }
    let items: Vec<Item> = calc.book.items_of(&calc.book.entries[row]).to_vec();
    let length = |item: &&Item| item.unit().get().dim == DimensionId::LENGTH.get().dim;
    let mut lengths = items.iter().filter(length);
    let weight = items.iter().find(|item| !length(item));
    let (Some(lift), Some(weight)) = (lengths.next(), weight) else {
        return Err(Missing::one("a lift with its height and what the other end then weighs"));
    };
    let right = lift.place.is_axle() && weight.place.is_axle() && lift.place != weight.place;
    if !right || lift.si <= 0.0 {
        return Err(Missing::one("a lift of one end with what the other end then weighs"));
    }
    let radius = lengths.next().copied();
    let (lift, weight) = (*lift, *weight);
    Ok(Lift { row, height: lift, raised: weight, radius })
}
