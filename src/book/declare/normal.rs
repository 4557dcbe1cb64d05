//! `usual` and `possible` of a car or a class, and `class`.
//!
//! Must not know which range holds where; that is `book::normal`.

use super::common::{Declared, properties, text_value, title_of};
use super::place::{quantity_here, quantity_named};
use super::shown::{ends, unit_of};
use crate::book::Book;
use crate::book::context::Context;
use crate::book::ids::CarId;
use crate::book::model::{Class, ClassId, Named};
use crate::book::names::{folded, same};
use crate::book::normal::{Contradiction, contradictions, judged};
use crate::book::place::Place;
use crate::book::range::{Bound, StatedRange};
use crate::book::spread::{place_meant, spread};
use crate::book::trouble::{RANGE_OF_CAR, RangeTrouble, Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, LineKind, Shape};
use crate::units::{DimensionId, UnitId, table, toe};
use crate::vocabulary::{Places, Quantity, QuantityId};

/// Reads `usual QUANTITY [PLACES] A..B [PLACES A..B ...] UNIT` into `out`; `false` where the line says neither.
pub(super) fn stated(
    book: &Book,
    cur: &mut Cursor<'_>,
    toe_over: Option<f64>,
    out: &mut Vec<StatedRange>,
) -> Result<bool, Trouble> {
    let start = cur.here();
    let bound = if cur.take_keyword("usual") {
        Bound::Usual
    } else if cur.take_keyword("possible") {
        Bound::Possible
    } else {
        return Ok(false);
    };
    if cur.is_done() {
        let wants = RANGE_OF_CAR;
        return Err(Trouble {
            span: cur.here(),
            what: What::PropertyValue { property: bound.word(), wants },
        });
    }
    one(book, cur, (bound, start), toe_over, out)?;
    // `usual tyre-cold 0.4..0.9 bar, tyre-hot 0.6..1.0 bar`: the next quantity.
    while cur.peek().is_some_and(|word| word.shape == Shape::Comma)
        && cur.peek_at(1).is_some_and(|word| quantity_named(book, cur.str(word)).is_some())
    {
        cur.bump();
        one(book, cur, (bound, cur.here()), toe_over, out)?;
    }
    Ok(true)
}

/// Reads one quantity of them with its ranges.
fn one(
    book: &Book,
    cur: &mut Cursor<'_>,
    (bound, start): (Bound, Span),
    toe_over: Option<f64>,
    out: &mut Vec<StatedRange>,
) -> Result<(), Trouble> {
    let id = quantity_here(book, cur)?;
    let spelt = cur.peek().map_or("", |word| cur.str(word)).to_ascii_lowercase();
    let quantity = book.vocabulary.get(id);
    let out_is_positive = spelt.ends_with("-out") && book.vocabulary.find(&spelt).is_none();
    let name = cur.here();
    cur.bump();
    if quantity.dimension.get().is_text() || quantity.dimension == DimensionId::FLUID {
        return Err(Trouble { span: name, what: What::Range(RangeTrouble::NotANumber(id)) });
    }
    let mut found = Vec::new();
    loop {
        let ranges = places_and_ranges(book, cur, (id, quantity), bound)?;
        let unit = unit_after(cur, (id, quantity), toe_over, ranges.last().map(|(.., span)| *span))?;
        let length =
            quantity.dimension == DimensionId::TOE && unit.get().dim == DimensionId::LENGTH.get().dim;
        let si = |typed: f64| match toe_over.filter(|_| length) {
            // One wheel: s = D sin(angle).
            Some(over) => toe::angle(unit.get().to_si(typed), over),
            None => unit.get().to_si(typed),
        };
        for (place, low, high, _) in ranges {
            let (a, b) = if out_is_positive { (si(-high), si(-low)) } else { (si(low), si(high)) };
            // The finer a thread, the more of it goes to the inch.
            found.push((place, a.min(b), a.max(b), unit));
        }
        // A unit may stand after each range, too: then places and another follow.
        let place = |word: crate::syntax::Word| {
            word.shape == Shape::Word && book.names.place(cur.str(word)).is_some()
        };
        let mut places = 0;
        while cur.peek_at(places).is_some_and(place) {
            places += 1;
        }
        if places == 0 || cur.peek_at(places).is_none_or(|word| word.shape != Shape::Range) {
            break;
        }
    }
    let typed = start.to(cur.before().map_or(start, |word| cur.span(word)));
    out.extend(found.into_iter().map(|(place, low, high, unit)| StatedRange {
        quantity: id,
        place,
        bound,
        low,
        high,
        unit,
        typed,
    }));
    Ok(())
}

/// Reads `[PLACES] A..B [PLACES A..B ...]`: a place, its range as typed and where.
fn places_and_ranges(
    book: &Book,
    cur: &mut Cursor<'_>,
    (id, quantity): (QuantityId, &Quantity),
    bound: Bound,
) -> Result<Vec<(Option<Place>, f64, f64, Span)>, Trouble> {
    let mut found = Vec::new();
    loop {
        let mut places = Vec::new();
        while let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) {
            let Some(place) = book.names.place(cur.str(word)) else { break };
            let span = cur.span(word);
            let of_car = place == Place::ALL && quantity.places.has(Places::CAR);
            if !of_car {
                spread(id, quantity, Context::default(), Some((place, span)), 1, span, &mut Vec::new())?;
            }
            // `all` is every place it has.
            places.push(Some(place_meant(quantity, place)).filter(|_| place != Place::ALL));
            cur.bump();
        }
        if places.is_empty() && !found.is_empty() {
            return Ok(found);
        }
        let Some(word) = cur.take(Shape::Range) else {
            let what = What::PropertyValue { property: bound.word(), wants: RANGE_OF_CAR };
            return Err(Trouble { span: cur.here(), what });
        };
        let (low, high) = ends(cur, word)?;
        if places.is_empty() {
            places.push(None);
        }
        let span = cur.span(word);
        found.extend(places.into_iter().map(|place| (place, low, high, span)));
    }
}

/// The unit of the ranges before it. Toe as a length wants to know where it is measured.
fn unit_after(
    cur: &mut Cursor<'_>,
    (id, quantity): (QuantityId, &Quantity),
    toe_over: Option<f64>,
    ranges: Option<Span>,
) -> Result<UnitId, Trouble> {
    let is_unit = cur.peek().is_some_and(|word| {
        !matches!(word.shape, Shape::Text | Shape::Comma) && !super::is_property(cur.str(word))
    });
    let span = cur.here();
    let unit = match is_unit {
        true => unit_of(cur, quantity.dimension)
            .map_err(|trouble| Trouble { what: of_quantity(trouble.what, id), ..trouble })?,
        false if quantity.dimension.get().bare => table().plain(),
        false => return Err(Trouble { span: ranges.unwrap_or(span), what: What::UnitMissing(id) }),
    };
    let length = quantity.dimension == DimensionId::TOE && unit.get().dim == DimensionId::LENGTH.get().dim;
    if length && toe_over.is_none() {
        let what = What::ToeUnderspecified { direction: false, share: false, over: true };
        return Err(Trouble { span, what });
    }
    Ok(unit)
}

/// A mistake in a unit says of which quantity it is.
fn of_quantity(what: What, id: QuantityId) -> What {
    match what {
        What::UnitWrongKind { wanted, is, .. } => What::UnitWrongKind { quantity: Some(id), wanted, is },
        what => what,
    }
}

/// Reads `class NAME [TEXT]` and the ranges under it.
pub(super) fn read_class(book: &mut Book, one: &Declared<'_>) {
    let mut cur = one.head();
    if one.line.kind != LineKind::Declaration || !cur.take_keyword("class") {
        return;
    }
    let span = cur.here();
    let Ok(typed) = text_value(&mut cur, "class") else {
        book.trouble(span, What::NameMissing("class"));
        return;
    };
    if let Some(first) = book.classes.iter().find(|class| same(&class.named.typed, &typed)) {
        let first = first.named.declared;
        book.trouble(one.head().said(), What::NameTwice(Some(first)));
        return;
    }
    let title = title_of(&cur, &typed);
    let named =
        Named { name: folded(&typed).into(), typed: typed.into(), title, declared: one.head().said() };
    let mut ranges = Vec::new();
    let mut told = super::told::Told::default();
    properties(book, &mut cur, ("class", &mut told), &mut |book, cur| stated(book, cur, None, &mut ranges));
    for mut line in one.under() {
        properties(book, &mut line, ("class", &mut told), &mut |book, cur| {
            stated(book, cur, None, &mut ranges)
        });
    }
    book.classes.push(Class { named, ranges });
}

/// Which class each car is in, and what contradicts itself, once all is read.
pub(super) fn complete(book: &mut Book) {
    let classes: Vec<(ClassId, Box<str>)> =
        book.classes.iter_enumerated().map(|(id, class)| (id, class.named.typed.clone())).collect();
    for car in &mut book.cars {
        car.of_class = classes.iter().find(|(_, name)| same(name, &car.class)).map(|(id, _)| *id);
    }
    opening(book);
    let places = |id| book.vocabulary.get(id).places;
    let of_cars = book.cars.iter().flat_map(|car| contradictions(&car.ranges, places));
    let of_classes = book.classes.iter().flat_map(|class| contradictions(&class.ranges, places));
    let found: Vec<Contradiction> = of_cars.chain(of_classes).collect();
    for contradiction in found {
        match contradiction {
            Contradiction::Twice { at, first } => book.trouble(at, What::Range(RangeTrouble::Twice(first))),
            Contradiction::Beyond { at, possible } => {
                book.trouble(at, What::Range(RangeTrouble::Beyond(possible)));
            }
        }
    }
}

/// Refuses what a car is declared with that cannot be, as a line would be: by its own ranges, wherever they stand under it.
fn opening(book: &mut Book) {
    let mut found: Vec<(CarId, usize, Trouble)> = Vec::new();
    for (id, car) in book.cars.iter_enumerated() {
        for (at, (of, items, _)) in car.opening.iter().enumerate() {
            let quantity = book.vocabulary.get(*of);
            let beyond = items.iter().find_map(|item| {
                let limits = book.normal(Some(id), *of, item.place).possible?;
                let value = judged(quantity, item)?;
                (!limits.hold(value)).then_some((item, limits))
            });
            let Some((item, limits)) = beyond else { continue };
            let (place, unit) = (item.place, item.unit());
            let what = What::ValueImpossible { quantity: *of, place, car: Some(id), limits, unit };
            found.push((id, at, Trouble { span: item.span(car.named.declared.file), what }));
        }
    }
    // From behind, so that the others keep their places.
    for (id, at, trouble) in found.into_iter().rev() {
        if let Some(car) = book.cars.get_mut(id) {
            car.opening.remove(at);
        }
        book.troubles.push(trouble);
    }
}

/// `usual` and `possible` of a car.
pub(super) fn of_car(book: &mut Book, id: CarId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    let mut ranges = std::mem::take(&mut book.cars[id].ranges);
    let done = stated(book, cur, book.cars[id].toe_over, &mut ranges);
    book.cars[id].ranges = ranges;
    done
}
