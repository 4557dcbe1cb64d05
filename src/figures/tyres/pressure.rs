//! Tyre pressures as their lines say them: the temperature of the gas, cold before a session, the air where they were set.
//!
//! The gas law is arithmetic, in `grammar/figures.sline`; gauge pressures become absolute with `air-pressure`, which must be in the
//! book: nothing is assumed for it. Must not know tyre sizes.

use crate::book::entry::{By, EntryId, Item};
use crate::book::place::Place;
use crate::figures::calc::{Calc, Got, Missing};
use crate::figures::code::Code;
use crate::history::order::Rank;
use crate::units::DimensionId;

/// What the program works out.
pub const FIGURES: &[Code] = &[
    ("cold-gas", |calc, place| gas(calc, "tyre-gas-cold", "tyre-cold", place)),
    ("hot-gas", |calc, place| gas(calc, "tyre-gas-hot", "tyre-hot", place)),
    ("cold-before-session", |calc, place| before_session(calc, |calc| calc.value("tyre-cold", place))),
    ("gauges-of-gain", gauges),
    ("air-when-set", |calc, place| air(calc, place, true)),
    ("air-here", |calc, place| air(calc, place, false)),
];

/// A temperature of the gas: its quantity, else `with gas ...` on the line that gave the pressure.
fn gas(calc: &mut Calc<'_>, name: &str, of: &str, place: Place) -> Got {
    let own = calc.value(name, place);
    let fig = match own {
        Ok(fig) => fig,
        Err(missing) => {
            let entry = calc.typed_in_book(of, place).ok().and_then(|typed| typed.entry);
            let on_line = entry.map(|entry| calc.condition(entry, "gas", DimensionId::TEMPERATURE));
            on_line.and_then(Result::ok).ok_or(missing)?
        }
    };
    calc.positive(fig)
}

/// Asks as the session of the moment began.
fn before_session<T>(calc: &mut Calc<'_>, ask: impl FnOnce(&mut Calc<'_>) -> Got<T>) -> Got<T> {
    let before = calc.session_now()?.rank;
    let now = calc.rank;
    calc.rank = before;
    let got = ask(calc);
    calc.rank = now;
    got
}

/// 3 where two gauges that were compared read the hot and the cold pressure of a session, 2 where one gauge read both, 1 where two did, 0
/// where a line names none.
fn gauges(calc: &mut Calc<'_>, place: Place) -> Got {
    let run = calc.session_now()?.entry;
    let (_, hot) = calc.reading_during("tyre-hot", place, run)?;
    let typed = before_session(calc, |calc| calc.typed_in_book("tyre-cold", place))?;
    let cold = typed.entry;
    let terms = |entry: EntryId, item: &Item| calc.facts.correction(entry, item).map(|(_, by)| by.terms);
    let hot_item = calc.book.items_of(&calc.book.entries[hot]).iter().find(|item| item.place == place);
    let both = hot_item.and_then(|item| terms(hot, item)).zip(cold.and_then(|cold| terms(cold, &typed.item)));
    let compared = both.is_some_and(|(hot, cold)| hot == cold);
    let gauge = |entry: EntryId| match calc.book.entries[entry].by {
        By::Gauge(gauge) => Some(gauge),
        _ => None,
    };
    let (words, value) = match (gauge(hot), cold.and_then(gauge)) {
        (Some(a), Some(b)) if a == b => ("read by one gauge", 2.0),
        (Some(_), Some(_)) if compared => ("read by two gauges that were compared", 3.0),
        (Some(_), Some(_)) => ("read by two gauges", 1.0),
        _ => ("a gauge not named", 0.0),
    };
    Ok(calc.constant(words, value, DimensionId::RATIO, "the lines that read them"))
}

/// The air pressure before the tyres were set, or after.
fn air(calc: &mut Calc<'_>, place: Place, then: bool) -> Got {
    let line = calc.typed_in_book("tyre-cold", place)?.entry;
    let now = calc.rank;
    calc.rank = line.map_or(Rank::START, |entry| calc.history.order.rank[entry]);
    let when_set = calc.above_zero("air-pressure", Place::CAR).map_err(|mut missing| {
        missing.needs.iter_mut().for_each(|need| need.push_str(" before the tyres were set"));
        missing
    });
    let then_line = calc.typed_in_book("air-pressure", Place::CAR).ok().map(|typed| typed.entry);
    calc.rank = now;
    if then {
        return when_set;
    }
    let here_line = calc.typed_in_book("air-pressure", Place::CAR).ok().map(|typed| typed.entry);
    if here_line == then_line {
        return Err(Missing::one("a value of air-pressure here, after the tyres were set"));
    }
    calc.above_zero("air-pressure", Place::CAR)
}
