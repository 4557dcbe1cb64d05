//! Amounts on clocks of use: `55 min, 2 days`.
//!
//! Must not know what they are limits of.

use crate::book::model::{Clock, LifeAmount};
use crate::book::single::number;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, table};

/// Reads `55 min, 2 days` on any clocks of use.
pub(in crate::book) fn use_amounts(
    cur: &mut Cursor<'_>,
    property: &'static str,
) -> Result<Vec<LifeAmount>, Trouble> {
    let mut list = Vec::new();
    amounts(cur, property, &mut list)?;
    Ok(list)
}

/// The same into a list, which has those before a mistake.
pub(super) fn amounts(
    cur: &mut Cursor<'_>,
    property: &'static str,
    list: &mut Vec<LifeAmount>,
) -> Result<(), Trouble> {
    loop {
        let wrong = |cur: &Cursor<'_>| Trouble {
            span: cur.here(),
            what: What::PropertyValue {
                property,
                wants: "a number and a clock: min, h, laps, km, stage-km, days, events, sessions, launches, heat-cycles, months, years",
            },
        };
        let Some(word) = cur.take(Shape::Number) else { return Err(wrong(cur)) };
        let number = number(cur, word)?;
        if number.value < 0.0 {
            let what = What::PropertyValue { property, wants: "an amount that is not below zero" };
            return Err(Trouble { span: cur.span(word), what });
        }
        let Some(unit_word) = cur.peek().filter(|word| word.shape == Shape::Word) else {
            return Err(wrong(cur));
        };
        let Some((clock, factor)) = clock(cur.str(unit_word)) else { return Err(wrong(cur)) };
        cur.bump();
        let typed = cur.span(word).to(cur.span(unit_word));
        if list.iter().any(|before: &LifeAmount| before.clock == clock) {
            return Err(Trouble {
                span: typed,
                what: What::PropertyValue { property, wants: "each clock once" },
            });
        }
        list.push(LifeAmount { clock, value: number.value * factor, typed });
        let more = cur.peek().is_some_and(|word| word.shape == Shape::Comma)
            && cur.peek_at(1).is_some_and(|word| word.shape == Shape::Number);
        if !more {
            return Ok(());
        }
        cur.bump();
    }
}

/// The clock that a unit word counts on, and its unit in seconds, metres, a count or months.
pub(in crate::book) fn clock(word: &str) -> Option<(Clock, f64)> {
    let lower = word.to_ascii_lowercase();
    Some(match lower.as_str() {
        "day" | "days" | "d" => (Clock::Days, 1.0),
        "lap" | "laps" => (Clock::Laps, 1.0),
        "event" | "events" => (Clock::Events, 1.0),
        "session" | "sessions" => (Clock::Sessions, 1.0),
        "launch" | "launches" => (Clock::Launches, 1.0),
        "heat-cycle" | "heat-cycles" => (Clock::HeatCycles, 1.0),
        "stage-km" => (Clock::StageDistance, 1000.0),
        "stage-mile" => (Clock::StageDistance, 1609.344),
        "month" | "months" => (Clock::Months, 1.0),
        "year" | "years" => (Clock::Months, 12.0),
        _ => {
            if let Some(unit) = table().find_one(word, DimensionId::TIME) {
                (Clock::Time, unit.get().factor)
            } else {
                let unit = table().find_one(word, DimensionId::DISTANCE)?;
                (Clock::Distance, unit.get().factor)
            }
        }
    })
}
