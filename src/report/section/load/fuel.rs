//! The fuel of a car for an event: what it burns there by its own rate, and the reserve it is kept with; where the book does not say how
//! much it burns, as it was last filled as a whole.
//!
//! A line with a mistake may have said it: then it is not known, and what was known before it is not told. Must not know what other cars
//! take.

use super::amount::{Fill, Found, Volume};
use crate::book::entry::{Entry, Item, Verb};
use crate::book::model::{CarId, Clock};
use crate::book::place::Place;
use crate::due::plan::CarPlan;
use crate::history::fuel;
use crate::history::order::Rank;
use crate::history::slots::{Owner, Register, SlotEvent};
use crate::history::state::SlotState;
use crate::report::section::value;
use crate::report::teller::Teller;
use crate::report::words::DASH;
use crate::source::Span;
use crate::units::UnitId;
use crate::vocabulary::QuantityId;
use crate::words::scale::Scale;

/// How a car's fuel is found, or why it is not.
struct Told {
    amount: Option<Volume>,
    text: String,
    how: String,
    spans: Vec<Span>,
}

/// What a quantity of the car stands at: nothing was ever said, a line with a mistake hides it, or so much.
enum Known {
    Never,
    Lost(Option<Span>),
    So(SlotEvent, String),
}

/// The fuel of a car; `None` where the book has nothing to say of it. `unit` is the one that what is worked out is told in.
pub(super) fn of_car(
    tell: &Teller<'_>,
    plan: &CarPlan,
    slots: &[SlotState<'_>],
    (rank, unit): (Rank, UnitId),
) -> Option<Found> {
    let find = |name: &str| tell.cx.book.vocabulary.find(name);
    let by_burn = by_burn(tell, plan, slots, (rank, unit));
    let told = match by_burn {
        Ok(told) => told,
        Err(why) => {
            let slot = slot_of(slots, find("fuel")?)?;
            as_filled(tell, slot, rank, &why)
        }
    };
    let grade = find("fuel-grade").map_or(Known::Never, |id| known(tell, slots, (plan.car, rank), id));
    let mut spans = told.spans;
    let (grade, lost) = match grade {
        Known::Never => (DASH.to_owned(), false),
        Known::Lost(span) => {
            spans.extend(span);
            (DASH.to_owned(), true)
        }
        Known::So(event, text) => {
            spans.extend(line(tell, &event));
            (text, false)
        }
    };
    let car = tell.cx.car(plan.car).to_owned();
    Some(Found {
        what: "fuel".to_owned(),
        grade,
        grade_lost: lost,
        fill: Fill { car, amount: told.text, how: told.how },
        volume: told.amount,
        spans,
    })
}

/// The minutes it is expected to run at the event, by what it burns in each, and the reserve.
///
/// # Errors
/// What of that is not known, in words; empty where the book says nothing of what the car burns.
fn by_burn(
    tell: &Teller<'_>,
    plan: &CarPlan,
    slots: &[SlotState<'_>],
    (rank, unit): (Rank, UnitId),
) -> Result<Told, String> {
    let find = |name: &str| tell.cx.book.vocabulary.find(name);
    let value = |name: &str| find(name).map_or(Known::Never, |id| known(tell, slots, (plan.car, rank), id));
    let (rate, rate_words) = match value("fuel-rate") {
        Known::Never => return Err(String::new()),
        Known::Lost(_) => return Err("the last line about its fuel-rate has a mistake".to_owned()),
        Known::So(rate, words) if rate.value > 0.0 => (rate, words),
        Known::So(..) => return Err("its fuel-rate is not above zero".to_owned()),
    };
    let minutes = plan.per_event[Clock::Time].filter(|seconds| *seconds > 0.0);
    let Some(seconds) = minutes else {
        return Err("it burns so much for each hour, and what it runs at an event is not known".to_owned());
    };
    let mut spans: Vec<Span> = line(tell, &rate).into_iter().collect();
    let (over, reserve) = match value("fuel-reserve") {
        Known::Never => (0.0, "no fuel-reserve is stated, so nothing over it".to_owned()),
        Known::Lost(_) => return Err("the last line about its fuel-reserve has a mistake".to_owned()),
        Known::So(reserve, words) => {
            spans.extend(line(tell, &reserve));
            (reserve.value, format!("and {words} over it, its fuel-reserve"))
        }
    };
    let ran = Scale::plain(Clock::Time).words(seconds);
    let mean = if plan.of == 1 {
        "its one event so far".to_owned()
    } else {
        format!("the mean of its {} events", plan.of)
    };
    let need = Volume::up(rate.value * seconds * (1.0 + over), unit);
    Ok(Told {
        amount: Some(need),
        text: need.text(),
        how: format!("{ran}, {mean}, at {rate_words}; {reserve}"),
        spans,
    })
}

/// What was filled last as a whole: what was read is what was left, and a top-up does not say how much is in.
fn as_filled(tell: &Teller<'_>, slot: &SlotState<'_>, rank: Rank, why: &str) -> Told {
    let cx = &tell.cx;
    let past = |event: &&SlotEvent| event.rank(&cx.history.order).is_none_or(|at| at < rank);
    let before: Vec<&SlotEvent> = slot.track.events.iter().take_while(past).collect();
    let found = before.into_iter().rev().find_map(|event| {
        let filled = event.line(cx.book).is_none_or(|line| matches!(line.verb, Verb::Fill | Verb::Set));
        let unread = event.line(cx.book).is_none_or(|line| line.broken || line.withheld);
        if event.register() == Register::Unknown && unread {
            // Whether it filled, a mistake in its verb's own line may hide; what only reads fills nothing.
            return filled.then_some((event, None));
        }
        let item = cx.history.item(cx.book, slot.track, event);
        let adds =
            event.entry.zip(item).is_some_and(|(line, item)| fuel::adds(cx.book, cx.files, line, item));
        let item = item.filter(|item| filled && !adds && Item::has_value(item))?;
        Some((event, Some(item)))
    });
    let because = |text: &str| match (why, text) {
        ("", text) => text.to_owned(),
        (why, "") => why.to_owned(),
        (why, text) => format!("{text}; {why}"),
    };
    match found {
        Some((event, Some(item))) => Told {
            amount: Some(Volume::typed(event.value, item)),
            text: value::value(tell, slot.track, event).full(),
            how: because(if why.is_empty() { "" } else { "as last filled" }),
            spans: line(tell, event).into_iter().collect(),
        },
        Some((event, None)) => Told {
            amount: None,
            text: DASH.to_owned(),
            how: because("not known: the last line that filled it has a mistake"),
            spans: line(tell, event).into_iter().collect(),
        },
        None => Told { amount: None, text: DASH.to_owned(), how: because(""), spans: Vec::new() },
    }
}

fn slot_of<'a, 'b>(slots: &'b [SlotState<'a>], id: QuantityId) -> Option<&'b SlotState<'a>> {
    slots.iter().find(|slot| slot.quantity == id && slot.place == Place::CAR)
}

fn known(tell: &Teller<'_>, slots: &[SlotState<'_>], (car, rank): (CarId, Rank), id: QuantityId) -> Known {
    let Some(slot) = slot_of(slots, id) else {
        // What was never said but on a line with a mistake has no slot.
        let order = &tell.cx.history.order.rank;
        let lost = tell.cx.history.slots.lost_of(Owner::Car(car), id).iter();
        let lost = lost.rev().find(|line| order.get(**line).is_some_and(|at| *at < rank));
        return lost.map_or(Known::Never, |lost| Known::Lost(tell.entry(Some(*lost)).map(Entry::span)));
    };
    if let Some(lost) = &slot.held.unknown {
        return Known::Lost(line(tell, lost));
    }
    slot.held
        .is(tell.cx.history)
        .map_or(Known::Never, |event| Known::So(event, value::value(tell, slot.track, &event).full()))
}

fn line(tell: &Teller<'_>, event: &SlotEvent) -> Option<Span> {
    tell.entry(event.entry).map(Entry::span)
}
