//! `kind`.

use super::enter;
use super::place::quantity_here;
use crate::book::clauses::{car_here, kind_here};
use crate::book::declare::clock::amounts;
pub(in crate::book) use crate::book::declare::clock::clock;
use crate::book::entry::CostKind;
use crate::book::model::{Fit, Kind, KindId, LostLimits};
use crate::book::names::Thing;
use crate::book::place::Place;
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::syntax::{Cursor, Shape};

pub(super) fn new_kind(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Kind(KindId::from(book.kinds.len()));
    enter(book, &named.name, thing, named.declared);
    book.kinds.push(Kind {
        named,
        lost: LostLimits::default(),
        fits: Vec::new(),
        inside: Vec::new(),
        life: Vec::new(),
        valid: Vec::new(),
        safety: false,
        gives: Vec::new(),
        carries: Vec::new(),
        clicks: None,
        from_hard: None,
        one_use: false,
        keep: None,
        must: false,
        books: CostKind::Parts,
        every: Vec::new(),
        failure_costs: None,
    });
    thing
}

/// What stood on a line of a kind that could not be read to its end: its limits are not known, and that its failure can hurt is believed.
pub(super) fn lose(book: &mut Book, id: KindId, text: &str) {
    book.kinds[id].lost.lose(text, "kind");
    book.kinds[id].safety |= super::lost::named(text, "kind").any(|name| name == "safety");
}

/// A property of a kind that is told with two values: neither is known.
pub(super) fn told_twice(book: &mut Book, id: KindId, text: &str) {
    let kind = &mut book.kinds[id];
    match text.split(' ').next() {
        Some("clicks") => kind.clicks = None,
        Some("from") => kind.from_hard = None,
        Some("keep") => kind.keep = None,
        Some("failure-costs") => kind.failure_costs = None,
        _ => {}
    }
}

pub(super) fn kind_property(book: &mut Book, id: KindId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("fits") {
        let places = fit_places(book, cur, "fits")?;
        book.kinds[id].fits.push(Fit { places, cars: Vec::new(), carried: false });
    } else if cur.take_keyword("carried") {
        let places = fit_places(book, cur, "carried")?;
        book.kinds[id].fits.push(Fit { places, cars: Vec::new(), carried: true });
    } else if cur.take_keyword("on") {
        loop {
            let car = car_here(cur, &book.names)?;
            if let Some(fit) = book.kinds[id].fits.last_mut() {
                fit.cars.push(car);
            }
            if !cur.take_comma() {
                break;
            }
        }
    } else if cur.take_keyword("inside") {
        loop {
            let kind = kind_here(cur, &book.names)?;
            book.kinds[id].inside.push(kind);
            if !cur.take_comma() {
                break;
            }
        }
    } else if cur.take_keyword("life") {
        let mut life = Vec::new();
        let read = amounts(cur, "life", &mut life);
        book.kinds[id].life.extend(life);
        read?;
    } else if cur.take_keyword("valid") {
        let valid = super::dated::valid(cur)?;
        book.kinds[id].valid.extend(valid);
    } else if cur.take_keyword("every") {
        let every = super::every::every(book, cur, false)?;
        book.kinds[id].every.extend(every);
    } else if cur.take_keyword("safety") {
        book.kinds[id].safety = true;
    } else if cur.take_keyword("must") {
        book.kinds[id].must = true;
    } else if cur.take_keyword("keep") {
        let word = cur.take(Shape::Number);
        let Some(count) = word.and_then(|word| cur.str(word).parse::<u32>().ok()) else {
            let what = What::PropertyValue { property: "keep", wants: "how many: a whole number" };
            return Err(Trouble { span: cur.here(), what });
        };
        book.kinds[id].keep = Some(count);
    } else if cur.take_keyword("consumable") {
        book.kinds[id].books = CostKind::Consumables;
    } else if cur.take_keyword("one-use") {
        book.kinds[id].one_use = true;
    } else if cur.take_keyword("failure-costs") {
        book.kinds[id].failure_costs = Some(super::price(book, cur)?);
    } else if cur.take_keyword("gives") {
        let list = quantities(book, cur)?;
        book.kinds[id].gives.extend(list);
    } else if cur.take_keyword("carries") {
        let list = quantities(book, cur)?;
        book.kinds[id].carries.extend(list);
    } else if cur.take_keyword("clicks") {
        let range = cur.take(Shape::Range).and_then(|word| {
            let (from, to) = cur.str(word).split_once("..")?;
            Some((from.parse::<f64>().ok()?, to.parse::<f64>().ok()?))
        });
        let Some((from, to)) = range.filter(|(from, to)| from < to) else {
            let what = What::PropertyValue { property: "clicks", wants: "their range, such as 0..20" };
            return Err(Trouble { span: cur.here(), what });
        };
        book.kinds[id].clicks = Some((from, to));
    } else if cur.take_keyword("from") {
        let hard = cur.take_keyword("full-hard");
        if !hard && !cur.take_keyword("full-soft") {
            let what = What::PropertyValue { property: "from", wants: "`full-hard` or `full-soft`" };
            return Err(Trouble { span: cur.here(), what });
        }
        book.kinds[id].from_hard = Some(hard);
    } else {
        return Ok(false);
    }
    Ok(true)
}

/// Standard places, and positions of the shop's own, up to the next property.
fn fit_places(book: &mut Book, cur: &mut Cursor<'_>, property: &'static str) -> Result<Vec<Place>, Trouble> {
    let mut places = Vec::new();
    while let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) {
        let text = cur.str(word);
        let span = cur.span(word);
        let lower = text.to_ascii_lowercase();
        let properties = super::names_of("kind");
        // A property with one slip of the finger is not a position of that name.
        let slip = |property: &&str| lower.len() > 3 && strsim::osa_distance(property, &lower) == 1;
        if properties.contains(&lower.as_str())
            || book.names.place(text).is_none() && properties.iter().any(slip)
        {
            break;
        }
        let place = match Place::parse(text) {
            Some(place) => place,
            None => book.names.position(text, span).map_err(|thing| Trouble {
                span,
                what: What::NameWrongSort {
                    wanted: "position",
                    is: thing.sort(),
                    declared: book.names.declared(text).unwrap_or(span),
                },
            })?,
        };
        places.push(place);
        cur.bump();
        cur.take_comma();
    }
    if places.is_empty() {
        let what = What::PropertyValue {
            property,
            wants: "a place: LF RF LR RR, front, all, or a name of your own",
        };
        return Err(Trouble { span: cur.here(), what });
    }
    Ok(places)
}

fn quantities(book: &Book, cur: &mut Cursor<'_>) -> Result<Vec<crate::vocabulary::QuantityId>, Trouble> {
    let mut list = Vec::new();
    loop {
        list.push(quantity_here(book, cur)?);
        cur.bump();
        if !cur.take_comma() {
            return Ok(list);
        }
    }
}
