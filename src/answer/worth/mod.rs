//! What a turn is worth on a car: each setting that was turned often enough with nothing else changed, what the statics of springs and
//! tracks say beside it, and the turns that bring the cross to what was asked; as plain data.
//!
//! Must not know rendering.

mod balance;
mod hot;
mod sentence;
mod shown;
mod statics;
mod steps;
pub mod traced;
mod turn;

pub use balance::{AxleTurns, CornerTurns, OwnTurns, TurnsWanted};
pub use hot::{HotCause, HotReading, HotWorth};
pub use turn::{TurnStatics, TurnStep, TurnWorth, TurnedBy};

use super::{NamedCar, entry_line};
use crate::Compiled;
use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::units::{DimensionId, table};
use crate::vocabulary::QuantityId;
use crate::words;
use crate::worth::{self, Differs, Outcome, Refused, Slope, Worth};
use serde::Serialize;
use shown::{Shown, at};

/// What a car's settings are worth.
#[derive(Debug, Clone, Serialize)]
pub struct WorthAnswer {
    /// The car.
    pub car: NamedCar,
    /// What was turned often enough, in order of what it moved.
    pub turns: Vec<TurnWorth>,
    /// What running makes of what is read of it.
    pub hot: Vec<HotWorth>,
    /// What was turned, and not often enough to say.
    pub few: Vec<TurnUnknown>,
    /// The turns that bring cross-weight to what was asked; null where nothing is asked, or it is there.
    pub balance: Option<TurnsWanted>,
    /// What to look for where springs and tracks say otherwise; empty where they do not.
    pub look_for: &'static str,
}

/// What was turned, and not often enough.
#[derive(Debug, Clone, Serialize)]
pub struct TurnUnknown {
    /// What was turned: `perch`.
    pub turned: String,
    /// What was read before and after.
    pub moved: String,
    /// Why nothing is said.
    pub sentence: String,
}

/// Builds it of one car, from the lines before a rank.
#[must_use]
pub fn build(compiled: &Compiled, car: CarId, until: Rank) -> WorthAnswer {
    let all = worth::of_car(compiled.facts(), car, until);
    let mut turns = Vec::new();
    let mut few = Vec::new();
    for one in &all {
        match &one.slopes {
            Ok(slopes) => {
                let of = |slope| turn(compiled, car, until, one, slope);
                turns.extend(slopes.slopes.iter().filter(|slope| is_own(one, slope)).map(of));
            }
            Err(_) if is_of_other_pads(compiled, one) => {}
            Err(why) => few.push(TurnUnknown {
                turned: compiled.book.vocabulary.get(one.cause).name.to_string(),
                moved: moved(compiled, one.outcome),
                sentence: refused(compiled, one, *why),
            }),
        }
    }
    let (hot, too_few) = hot::told(compiled, car, &worth::hot::of_car(compiled.facts(), car, until));
    few.extend(too_few.into_iter().map(|(moved, sentence)| TurnUnknown {
        turned: "running".to_owned(),
        moved,
        sentence,
    }));
    let balance = balance::wanted(compiled, car, until, &all, is_doubted(&turns));
    let differs = turns.iter().filter_map(|turn| turn.statics.as_ref()).any(|statics| statics.differs);
    WorthAnswer {
        car: super::car(compiled, car),
        look_for: if differs { sentence::LOOK_FOR } else { "" },
        turns,
        hot,
        few,
        balance,
    }
}

/// Whether the car's own moves do not bear out what springs and tracks say of its cross.
#[must_use]
pub fn is_doubted(turns: &[TurnWorth]) -> bool {
    let cross = turns.iter().filter(|turn| turn.moved.starts_with("cross-weight"));
    cross.filter_map(|turn| turn.statics.as_ref()).any(|statics| statics.differs)
}

/// Whether a turn at a corner is told of what is read there: what the pads of the other three say of it, the cross tells.
fn is_own(one: &Worth, slope: &Slope) -> bool {
    match one.outcome {
        Outcome::Reading(_, place) => !place.is_corner() || !slope.place.is_corner() || place == slope.place,
        Outcome::Cross(_) => true,
    }
}

/// Whether it is what one pad says of turns that the cross tells of.
fn is_of_other_pads(compiled: &Compiled, one: &Worth) -> bool {
    let weight = compiled.book.vocabulary.find("weight");
    matches!(one.outcome, Outcome::Reading(quantity, _) if Some(quantity) == weight)
}

/// "cross-weight", "camber LF".
fn moved(compiled: &Compiled, outcome: Outcome) -> String {
    match outcome {
        Outcome::Cross(_) => "cross-weight by the pads".to_owned(),
        Outcome::Reading(quantity, place) => at(compiled, quantity, place),
    }
}

fn refused(compiled: &Compiled, one: &Worth, why: Refused) -> String {
    let (turned, moved) = (&compiled.book.vocabulary.get(one.cause).name, moved(compiled, one.outcome));
    match why {
        Refused::Few(moves) => format!(
            "{moved} by {turned}: {} with nothing else changed between two readings, and {} are needed",
            words::count(moves as u64, "move", "moves"),
            worth::LEAST
        ),
        Refused::Otherwise(Differs::Bars) => format!(
            "{moved} by {turned}: often enough, but with the bars otherwise than they were at the last reading"
        ),
        Refused::Otherwise(Differs::Stiffness(quantity)) => format!(
            "{moved} by {turned}: often enough, but with another {} than now",
            compiled.book.vocabulary.get(quantity).name
        ),
        Refused::Otherwise(Differs::Parts(kind)) => format!(
            "{moved} by {turned}: often enough, but with another {} than now, and nobody says how stiff the two are",
            compiled.book.kinds.get(kind).map_or("spring", |kind| &*kind.named.name)
        ),
        Refused::Together => format!(
            "{moved} by {turned}: its places were turned together each time, so that nothing tells them apart"
        ),
    }
}

/// How far springs and tracks may be off where nothing they rest on says so, as a share. Of our own choice.
const NOT_STATED: f64 = 0.2;

/// The unit what moved is told in: as typed last.
fn unit_of_outcome(compiled: &Compiled, outcome: Outcome, slope: &Slope) -> Shown {
    let quantity = compiled.book.vocabulary.get(outcome.quantity());
    let typed = slope.lines.last().and_then(|line| {
        let entry = compiled.book.entries.get(*line)?;
        compiled.book.items_of(entry).iter().rev().find(|item| item.has_value())
    });
    let share = || table().find_one("%", DimensionId::RATIO);
    Shown::of(match outcome {
        Outcome::Cross(_) => share().unwrap_or_else(|| table().plain()),
        Outcome::Reading(..) => words::normal::unit(
            quantity,
            typed.map_or_else(|| table().plain(), crate::book::entry::Item::unit),
        ),
    })
}

/// The unit of what was turned: as typed last on this car.
fn unit_of_cause(compiled: &Compiled, car: CarId, until: Rank, cause: QuantityId, slope: &Slope) -> Shown {
    let slot = compiled.facts().on(car, until).slot(cause, slope.place);
    let item = slot.and_then(|slot| {
        let event = slot.held.is(&compiled.history)?;
        compiled.history.item(&compiled.book, slot.track, &event)
    });
    let typed = item.map_or_else(|| table().plain(), crate::book::entry::Item::unit);
    Shown::of(words::normal::unit(compiled.book.vocabulary.get(cause), typed))
}

fn turn(compiled: &Compiled, car: CarId, until: Rank, one: &Worth, slope: &Slope) -> TurnWorth {
    let (unit, by) = (
        unit_of_outcome(compiled, one.outcome, slope),
        unit_of_cause(compiled, car, until, one.cause, slope),
    );
    let scale = by.si / unit.si;
    let mut view = TurnWorth {
        turned: at(compiled, one.cause, slope.place),
        moved: moved(compiled, one.outcome),
        value: slope.value * scale,
        error: slope.error * scale,
        low: slope.low * scale,
        high: slope.high * scale,
        unit: unit.symbol(),
        turned_unit: by.symbol(),
        moves: slope.moves,
        freedom: slope.freedom,
        furthest: slope.furthest / by.si,
        statics: None,
        sentence: String::new(),
        lines: slope.lines.iter().filter_map(|line| entry_line(compiled, *line)).collect(),
        readings: slope.lines.clone(),
        steps: slope
            .steps
            .iter()
            .filter_map(|step| steps::step(compiled, one.cause, step, (&unit, &by)))
            .collect(),
    };
    view.sentence = sentence::worth(&view);
    let said = statics::said(compiled, car, until, one, slope.place);
    view.statics = said.map(|(value, u)| {
        let (value, u) = (value * scale, u.map(|u| u * scale));
        // Of figures whose uncertainty nobody states a fifth is left open.
        let room = u.map_or(NOT_STATED * value.abs(), |u| 2.0 * u);
        let differs = value + room < view.low || value - room > view.high;
        TurnStatics { value, uncertainty: u, differs, sentence: sentence::statics(&view, value, differs) }
    });
    view
}
