//! How the load on the wheels came to where it is: the last weighing, the one that perches were turned from, and what statics make of
//! the turns, or of a cross that is asked for.
//!
//! A stiff body on four springs on level pads: its weight and both of its moments stay, so that one number, the cross, tells what all four
//! corners gain or lose. Must not know words, pages or the terminal.

use super::between::{Happenings, stands};
use super::chain::{self, Step};
pub use super::sighting::cross_of;
use super::sighting::{self, Outcome, Sighting};
use crate::book::entry::{EntryId, Verb};
use crate::book::model::CarId;
use crate::book::place::Place;
use crate::figures::Calc;
use crate::figures::calc::Missing;
use crate::history::moment::Moment;
use crate::history::order::Rank;
use crate::history::{Facts, weighing};
use crate::vocabulary::QuantityId;

/// Perches turned from a weighing, with nothing else between that could move the load on a wheel.
#[derive(Debug, Clone, PartialEq)]
pub struct Brought {
    /// The line that read all four pads before.
    pub from: EntryId,
    /// The line that read them after; none where the car was not weighed again.
    pub to: Option<EntryId>,
    /// What was turned, corner by corner, SI of the setting: up the body is positive.
    pub turned: Vec<(Place, f64)>,
    /// Up to when what the turns are worth is asked.
    pub asked: Rank,
}

/// The line that read all four pads last before a rank; `None` where any pad was read since by another.
#[must_use]
pub fn last_weighed(facts: Facts<'_>, car: CarId, until: Rank) -> Option<EntryId> {
    let weighing = weighing::newest(facts, car, |_| until)?;
    weighing.pads.iter().all(|pad| *pad == Some(weighing.last)).then_some(weighing.last)
}

/// What the last turns of the perches began with and came to, from the lines before a rank: from the weighing that was `found` to the one
/// that was `left`, else over the last turn. `None` where anything else may have moved the load, or a turn is not known.
#[must_use]
pub fn brought(facts: Facts<'_>, car: CarId, until: Rank) -> Option<Brought> {
    let (weight, perch) = (facts.book.vocabulary.find("weight")?, facts.book.vocabulary.find("perch")?);
    let outcome = Outcome::Cross(weight);
    let all = sighting::weighings(facts, car, weight, until);
    let happenings = Happenings::of_car(facts, car);
    let last = all.last().filter(|last| last_weighed(facts, car, until) == Some(last.line))?;
    if chain::since(facts, outcome, (last.rank, until), &happenings) == Step::By(perch) {
        let turned = turned(facts, car, perch, (last.rank, until))?;
        return Some(Brought { from: last.line, to: None, turned, asked: until });
    }
    let verb = |one: &Sighting| facts.book.entries.get(one.line).map(|entry| entry.verb);
    let left = verb(last) == Some(Verb::Left);
    let mut begun: Option<&Sighting> = None;
    for pair in all.windows(2).rev() {
        let [from, to] = pair else { break };
        match chain::step(facts, car, outcome, [from, to], &happenings) {
            Step::By(cause) if cause == perch => begun = begun.filter(|_| !left).or(Some(from)),
            Step::Still => {}
            _ => break,
        }
        if begun.is_some() && (!left || verb(from) == Some(Verb::Found)) {
            break;
        }
    }
    let from = begun?;
    let turned = turned(facts, car, perch, (from.rank, last.rank))?;
    Some(Brought { from: from.line, to: Some(last.line), turned, asked: last.rank.next() })
}

/// By how much each perch was turned between two ranks; `None` where none was, or nobody knows of one.
fn turned(
    facts: Facts<'_>,
    car: CarId,
    perch: QuantityId,
    (from, until): (Rank, Rank),
) -> Option<Vec<(Place, f64)>> {
    let mut all = Vec::new();
    for corner in Place::CORNERS {
        let [then, now] = [from, until].map(|rank| stands(facts, car, rank, perch, corner));
        let by = now? - then?;
        if by.abs() > 1e-9 {
            all.push((corner, by));
        }
    }
    Some(all).filter(|all| !all.is_empty())
}

/// What turns add to the load of LF, RF, LR and RR by springs and tracks, N: a perch that goes up loads its own corner and the one across
/// the car, and takes as much from the other of each axle.
///
/// # Errors
/// What the book lacks for it.
pub fn by_turns(facts: Facts<'_>, car: CarId, brought: &Brought) -> Result<[f64; 4], Missing> {
    let mut calc = Calc::new(facts, car, &Moment::of_rank(brought.asked));
    let mut gained = [0.0; 4];
    for (place, by) in &brought.turned {
        let [own, across] = ["perch-effect", "perch-effect-diagonal"]
            .map(|name| calc.value(name, *place).map(|figure| figure.value * by));
        let (own, across) = (own?, across?);
        for (corner, gained) in Place::CORNERS.iter().zip(&mut gained) {
            let size = if is_front(*corner) == is_front(*place) { own } else { across };
            *gained += if makes_cross(*corner) == makes_cross(*place) { size } else { -size };
        }
    }
    Ok(gained)
}

/// What all four corners gain with a cross that is asked for, N, and whether both tracks were taken as equal since the book does not
/// state them. `None` where none is asked, the pads were not all read by one line, or something else was changed since.
#[must_use]
pub fn by_asking(facts: Facts<'_>, car: CarId, until: Rank) -> Option<([f64; 4], bool)> {
    last_weighed(facts, car, until)?;
    let mut calc = Calc::new(facts, car, &Moment::of_rank(until));
    let asked = calc.asked("cross-weight", Place::CAR).ok()?.value;
    let cross = calc.value("cross-weight", Place::CAR).ok().filter(|cross| cross.stale.is_none())?.value;
    let whole = calc.value("total-weight", Place::CAR).ok()?.value;
    let ratio = calc.named("track-ratio", Place::FRONT).ok().map(|ratio| ratio.value);
    let gained = shared((asked - cross) * whole, ratio.unwrap_or(1.0));
    gained.iter().all(|gained| gained.is_finite()).then_some((gained, ratio.is_none()))
}

/// A load that the diagonal of right front and left rear gains, shared so that the roll moment stays; the ratio is the front track over
/// the rear.
fn shared(diagonal: f64, ratio: f64) -> [f64; 4] {
    let front = diagonal / (1.0 + ratio);
    let rear = diagonal - front;
    [-front, front, rear, -rear]
}

const fn is_front(place: Place) -> bool {
    matches!(place, Place::LF | Place::RF)
}

/// Cross is right front and left rear.
const fn makes_cross(place: Place) -> bool {
    matches!(place, Place::RF | Place::LR)
}
