//! `car` and `baseline`.

use super::{enter, text_value};
use crate::book::clauses::{client_here, conditions, look_up};
use crate::book::entry::Flags;
use crate::book::model::{Baseline, BaselineId, Body, Car, CarId};
use crate::book::names::{Thing, lowered};
use crate::book::single::one;
use crate::book::trouble::{Trouble, What};
use crate::book::values::{Context, Mode, ValueReader};
use crate::book::{Book, Named};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};
use crate::units::DimensionId;

pub(super) fn new_car(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Car(CarId::from(book.cars.len()));
    enter(book, &named.name, thing, named.declared);
    book.cars.push(Car {
        named,
        client: None,
        class: String::new(),
        of_class: None,
        ranges: Vec::new(),
        imperial: false,
        cylinders: None,
        gears: None,
        drive: String::new(),
        body: Body::Unsaid,
        toe_over: None,
        reference: Vec::new(),
        about: Vec::new(),
        opening: Vec::new(),
        withheld: false,
        every: Vec::new(),
    });
    thing
}

fn count(cur: &mut Cursor<'_>, property: &'static str, most: u16) -> Result<u16, Trouble> {
    let span = cur.here();
    cur.take(Shape::Number)
        .and_then(|word| cur.str(word).parse::<u16>().ok())
        .filter(|n| (1..=most).contains(n))
        .ok_or(Trouble { span, what: What::PropertyValue { property, wants: "a whole number" } })
}

pub(super) fn car_property(book: &mut Book, id: CarId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("client") {
        let client = client_here(cur, &book.names)?;
        book.cars[id].client = Some(client);
    } else if cur.take_keyword("class") {
        book.cars[id].class = text_value(cur, "class")?;
    } else if cur.take_keyword("units") {
        let imperial = cur.take_keyword("imperial");
        if !imperial && !cur.take_keyword("metric") {
            let what = What::PropertyValue { property: "units", wants: "`metric` or `imperial`" };
            return Err(Trouble { span: cur.here(), what });
        }
        book.cars[id].imperial = imperial;
    } else if cur.take_keyword("cylinders") {
        book.cars[id].cylinders = Some(count(cur, "cylinders", 40)?);
    } else if cur.take_keyword("gears") {
        book.cars[id].gears = Some(count(cur, "gears", 20)?);
    } else if cur.take_keyword("drive") {
        let span = cur.here();
        let drive = text_value(cur, "drive")?;
        if Car::wheels_of(&drive).is_none() {
            let what = What::PropertyValue { property: "drive", wants: "`front`, `rear` or `all`" };
            return Err(Trouble { span, what });
        }
        book.cars[id].drive = drive;
    } else if cur.take_keyword("body") {
        let word = Body::WORDS.into_iter().find(|(word, _)| cur.take_keyword(word));
        let wants = "`single-seater`, `sports`, `saloon` or `kart`";
        let what = What::PropertyValue { property: "body", wants };
        book.cars[id].body = word.ok_or(Trouble { span: cur.here(), what })?.1;
    } else if cur.take_keyword("toe-over") {
        book.cars[id].toe_over = Some(one(cur, DimensionId::LENGTH)?.si);
    } else if cur.take_keyword("reference") {
        let mut reference = Vec::new();
        conditions(cur, "car", &mut reference)?;
        book.cars[id].reference = reference;
    } else if cur.take_keyword("every") {
        let every = super::every::every(book, cur, true)?;
        book.cars[id].every.extend(every);
    } else if cur.take_keyword("about") {
        let span = cur.here();
        let word = text_value(cur, "about")?;
        let text = text_value(cur, "about")?;
        book.cars[id].about.push((word, text, span));
    } else if super::normal::of_car(book, id, cur)? {
    } else {
        return opening_value(book, id, cur);
    }
    Ok(true)
}

/// A quantity's name and its opening values.
fn opening_value(book: &mut Book, id: CarId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    let Some(word) = cur.peek() else { return Ok(false) };
    let Some(quantity) = lowered(cur.str(word), |name| book.vocabulary.find(name)) else { return Ok(false) };
    cur.bump();
    let car = &book.cars[id];
    let context =
        Context { cylinders: car.cylinders, gears: car.gears, toe_over: car.toe_over, direction: 0 };
    let mut items = Vec::new();
    let start = cur.span(word);
    ValueReader::default().read(cur, book, quantity, Mode::Reading, context, &mut items)?;
    if let Some(again) = items.iter().find(|item| item.is(Flags::REPEAT)) {
        let first = items.iter().rfind(|item| item.start < again.start).unwrap_or(again);
        let what = What::Syntax(crate::syntax::Mistake::DecimalComma);
        return Err(Trouble { span: first.span(cur.file).to(again.span(cur.file)), what });
    }
    let end = items.last().map_or(start, |item| item.span(cur.file));
    book.cars[id].opening.push((quantity, items, start.to(end)));
    Ok(true)
}

/// A property of a car that is told with two values: neither is known. Of two clients nobody knows whose it is, and no number of it goes to
/// either.
pub(super) fn told_twice(book: &mut Book, id: CarId, text: &str) {
    let property = text.split(' ').next().unwrap_or_default();
    let quantity = book.vocabulary.find(property);
    let car = &mut book.cars[id];
    match property {
        "client" => car.client = None,
        "class" => car.class.clear(),
        "cylinders" => car.cylinders = None,
        "gears" => car.gears = None,
        "drive" => car.drive.clear(),
        "toe-over" => car.toe_over = None,
        "reference" => car.reference.clear(),
        _ => car.opening.retain(|(opened, ..)| Some(*opened) != quantity),
    }
}

pub(super) fn new_baseline(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Baseline(BaselineId::from(book.baselines.len()));
    enter(book, &named.name, thing, named.declared);
    let moment = Span::new(named.declared.file, named.declared.end, named.declared.end);
    book.baselines.push(Baseline { named, car: None, moment });
    thing
}

pub(super) fn read_baseline(book: &mut Book, id: BaselineId, cur: &mut Cursor<'_>) {
    let car = look_up(cur, &book.names, "car", |thing| match thing {
        Thing::Car(id) => Some(id),
        _ => None,
    });
    match car {
        Ok(car) => {
            cur.bump();
            let baseline = &mut book.baselines[id];
            baseline.car = Some(car);
            baseline.moment = cur.here();
            if cur.is_done() {
                let what =
                    What::PropertyValue { property: "baseline", wants: "a moment, such as quern-1/s4" };
                book.trouble(cur.here(), what);
            }
        }
        Err(trouble) => book.troubles.push(trouble),
    }
}
