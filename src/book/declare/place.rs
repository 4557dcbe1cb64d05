//! `circuit`, `event`, `gauge`.

use super::{enter, text_value};
use crate::book::clauses::{cars, circuit_here};
use crate::book::dates::dates;
pub(in crate::book) use crate::book::declare::day::{no_date, of_date};
use crate::book::model::{Circuit, CircuitId, Event, EventId, Gauge, GaugeId};
use crate::book::names::{Thing, lowered, nearest};
use crate::book::single::one;
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, table};

pub(super) fn new_circuit(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Circuit(CircuitId::from(book.circuits.len()));
    enter(book, &named.name, thing, named.declared);
    book.circuits.push(Circuit { named, length: None });
    thing
}

pub(super) fn new_event(book: &mut Book, named: Named, cur: &mut Cursor<'_>) -> Option<Thing> {
    let Some(word) = cur.peek().filter(|word| word.shape == Shape::Date) else {
        let trouble = no_date(cur, "event", "its dates, such as 2026-04-18..19");
        book.troubles.push(trouble);
        book.names.refuse(&named.name);
        return None;
    };
    let (first, last) = match dates(cur.str(word)) {
        Ok(both) => both,
        Err(trouble) => {
            book.trouble(cur.span(word), of_date(trouble));
            book.names.refuse(&named.name);
            return None;
        }
    };
    let thing = Thing::Event(EventId::from(book.events.len()));
    enter(book, &named.name, thing, named.declared);
    book.events.push(Event {
        named,
        first,
        last,
        circuit: None,
        entered: None,
        zone: None,
        sessions: Vec::new(),
    });
    Some(thing)
}

pub(super) fn new_gauge(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Gauge(GaugeId::from(book.gauges.len()));
    enter(book, &named.name, thing, named.declared);
    let gauge = Gauge {
        named,
        reads: Vec::new(),
        resolution: None,
        repeats: None,
        valid_until: None,
        degrees_minutes: false,
    };
    book.gauges.push(gauge);
    thing
}

pub(super) fn circuit_property(
    book: &mut Book,
    id: CircuitId,
    cur: &mut Cursor<'_>,
) -> Result<bool, Trouble> {
    if !cur.take_keyword("length") {
        return Ok(false);
    }
    book.circuits[id].length = Some(one(cur, DimensionId::DISTANCE)?.si);
    Ok(true)
}

pub(super) fn event_property(book: &mut Book, id: EventId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take(Shape::Date).is_some() {
        return Ok(true);
    }
    if cur.take_keyword("at") {
        let circuit = circuit_here(cur, &book.names)?;
        book.events[id].circuit = Some(circuit);
    } else if cur.take_keyword("entered") {
        let cars = cars(cur, &book.names)?;
        book.events[id].entered.get_or_insert_default().extend(cars);
    } else if cur.take_keyword("sessions") {
        let count = cur.take(Shape::Number).and_then(|word| cur.str(word).parse::<u32>().ok());
        let Some(count) = count.filter(|count| (1..=1000).contains(count)) else {
            let wants = "how many are planned, such as 8";
            return Err(Trouble {
                span: cur.here(),
                what: What::PropertyValue { property: "sessions", wants },
            });
        };
        let cars = if cur.take_keyword("on") { cars(cur, &book.names)? } else { Vec::new() };
        book.events[id].sessions.push((count, cars));
    } else if cur.take_keyword("zone") {
        let span = cur.here();
        let zone = text_value(cur, "zone")?;
        if jiff::tz::TimeZone::get(&zone).is_err() {
            return Err(Trouble { span, what: What::ZoneUnknown });
        }
        book.events[id].zone = Some(zone.into());
    } else {
        return Ok(false);
    }
    Ok(true)
}

pub(super) fn gauge_property(book: &mut Book, id: GaugeId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("reads") {
        loop {
            let quantity = quantity_here(book, cur)?;
            cur.bump();
            book.gauges[id].reads.push(quantity);
            if !cur.take_comma() {
                break;
            }
        }
    } else if cur.take_keyword("resolution") {
        let typed: Span = cur.here();
        let text = cur.text.get(typed.start as usize..typed.end as usize).unwrap_or_default();
        let minutes = text.contains(['d', '°']);
        let resolution = one(cur, kind_read(book, id, cur))?;
        book.gauges[id].resolution = Some(resolution);
        book.gauges[id].degrees_minutes = minutes;
    } else if cur.take_keyword("repeats") {
        book.gauges[id].repeats = Some(one(cur, kind_read(book, id, cur))?);
    } else if cur.take_keyword("valid-until") {
        let Some(word) = cur.take(Shape::Date) else {
            return Err(no_date(cur, "valid-until", "a date"));
        };
        let date = crate::book::dates::date(cur.str(word))
            .map_err(|trouble| Trouble { span: cur.span(word), what: of_date(trouble) })?;
        book.gauges[id].valid_until = Some(date);
    } else {
        return Ok(false);
    }
    Ok(true)
}

/// What kind of unit a gauge's numbers have: that of the first quantity it reads, so `reads` stands first. A tester that shows what is held over a
/// supply may say it as a pressure.
fn kind_read(book: &Book, id: GaugeId, cur: &Cursor<'_>) -> DimensionId {
    let first = book.gauges[id].reads.first().map(|quantity| book.vocabulary.get(*quantity));
    let pressure = DimensionId::PRESSURE;
    let typed = || cur.peek_at(1).is_some_and(|word| table().find_one(cur.str(word), pressure).is_some());
    match first {
        Some(quantity) if quantity.over_supply && typed() => pressure,
        Some(quantity) => quantity.dimension,
        None => pressure,
    }
}

/// The quantity that the word here names, without moving.
pub(super) fn quantity_here(book: &Book, cur: &Cursor<'_>) -> Result<crate::vocabulary::QuantityId, Trouble> {
    let text = cur.peek().map_or("", |word| cur.str(word));
    quantity_named(book, text).ok_or_else(|| Trouble {
        span: cur.here(),
        what: What::QuantityUnknown {
            near: nearest(text, book.vocabulary.iter().map(|(_, quantity)| &*quantity.name)),
        },
    })
}

/// The quantity of that name, in any case.
pub(super) fn quantity_named(book: &Book, text: &str) -> Option<crate::vocabulary::QuantityId> {
    lowered(text, |name| {
        book.vocabulary.find(name).or_else(|| {
            // What reads `toe-in` reads toe.
            let stem = name.strip_suffix("-in").or_else(|| name.strip_suffix("-out"))?;
            let id = book.vocabulary.find(stem)?;
            (book.vocabulary.get(id).dimension == crate::units::DimensionId::TOE).then_some(id)
        })
    })
}
