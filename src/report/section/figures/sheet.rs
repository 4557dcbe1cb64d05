//! Every figure of a car during the last session of an event, worked out once for all pages that show it.
//!
//! Must not know how it is shown.

use crate::book::figure::{Figure, FigureId, Sites};
use crate::book::model::{Car, CarId, EventId};
use crate::book::place::Place;
use crate::figures::calc::Calc;
use crate::figures::trace::{Step, trace};
use crate::history::Moment;
use crate::history::moment;
use crate::report::teller::Teller;
use crate::source::Span;
use std::collections::BTreeMap;
use std::sync::Arc;

/// The sheets of a book, by car and event.
pub(in crate::report) type Sheets = BTreeMap<(CarId, EventId), Sheet>;

/// The figures at a moment.
#[derive(Debug, Clone)]
pub(in crate::report) struct Sheet {
    /// The event's name, as typed.
    pub event: String,
    /// The moment in words.
    pub words: String,
    /// What can be had, in the registry's order.
    pub rows: Vec<FigureRow>,
    /// What cannot: what it needs, and the figures that need it, those that most wait for first.
    pub absent: Vec<(String, Vec<Box<str>>)>,
    /// What was read on each pad, LF, RF, LR, RR, for a drawing when the four do not make a whole.
    pub pads: [Option<Step>; 4],
}

/// One figure at all its places.
#[derive(Debug, Clone)]
pub(in crate::report) struct FigureRow {
    /// The figure.
    pub figure: Arc<Figure>,
    /// Place, and the chain where it can be had.
    pub sites: Vec<(Place, Option<Step>)>,
    /// Where its readings were typed.
    pub spans: Vec<Span>,
}

impl Sheet {
    /// A figure's chain at a place.
    pub fn find(&self, name: &str, place: Place) -> Option<&Step> {
        let row = self.rows.iter().find(|row| *row.figure.name == *name)?;
        row.sites.iter().find(|(at, _)| *at == place)?.1.as_ref()
    }
}

/// Works out the figures of a car at an event; `None` where it ran no session.
pub(in crate::report) fn sheet(tell: &Teller<'_>, car: CarId, event: EventId) -> Option<Sheet> {
    let cx = &tell.cx;
    cx.history.sessions.at(car, event).last()?;
    let moment = moment::parse(cx.book, cx.files, cx.history, car, tell.event(event)).ok()?;
    Some(at(tell, car, (tell.event(event).to_owned(), &moment), &|_| true))
}

/// The figures that are asked for at a moment, under a name.
pub(in crate::report) fn at(
    tell: &Teller<'_>,
    car: CarId,
    (name, moment): (String, &Moment),
    asked: &dyn Fn(&Figure) -> bool,
) -> Sheet {
    let cx = &tell.cx;
    let imperial = cx.book.cars.get(car).is_some_and(|car| car.imperial);
    let mut rows = Vec::new();
    let mut absent: Vec<(String, Vec<Box<str>>)> = Vec::new();
    // One calculation for all: a figure that others take is worked out once.
    let mut calc = Calc::new(cx.facts, car, moment);
    let shown = |figure: &Figure| figure.sites != Sites::Part && !is_drift(figure) && asked(figure);
    for (id, figure) in cx.book.figures.listed().filter(|(_, figure)| shown(figure)) {
        match row(tell, &mut calc, id, figure, imperial) {
            Ok(Some(row)) => rows.push(row),
            Ok(None) => {}
            Err(needs) => match absent.iter_mut().find(|(same, _)| *same == needs) {
                Some((_, names)) => names.push(figure.name.clone()),
                None => absent.push((needs, vec![figure.name.clone()])),
            },
        }
    }
    absent.sort_by_key(|(_, names)| std::cmp::Reverse(names.len()));
    let pads = Place::CORNERS.map(|place| {
        let read = calc.reading("weight", place).ok()?;
        Some(trace(&calc, &read, imperial))
    });
    Sheet { pads, event: name, words: crate::words::moment::moment(cx.book, cx.files, moment), rows, absent }
}

/// A figure of found against left has a table of its own.
pub(super) fn is_drift(figure: &Figure) -> bool {
    figure.name.ends_with("-drift")
}

fn row(
    tell: &Teller<'_>,
    calc: &mut Calc<'_>,
    id: FigureId,
    figure: &Arc<Figure>,
    imperial: bool,
) -> Result<Option<FigureRow>, String> {
    let cx = &tell.cx;
    let declared = calc.car.and_then(|car| cx.book.cars.get(car));
    let numbers = |of: fn(&Car) -> Option<u16>| declared.and_then(of);
    let places = figure.sites.of_car(numbers(|car| car.cylinders), numbers(|car| car.gears));
    let mut needs: Option<String> = places.is_empty().then(|| "their number on the car's line".to_owned());
    let mut spans = Vec::new();
    let mut sites = Vec::with_capacity(places.len());
    for place in places {
        match calc.figure(id, place) {
            Ok(fig) => {
                spans.extend(fig.typed());
                sites.push((place, Some(trace(calc, &fig, imperial))));
            }
            Err(missing) => {
                needs.get_or_insert_with(|| missing.needs.join("; "));
                sites.push((place, None));
            }
        }
    }
    if sites.iter().all(|(_, step)| step.is_none()) {
        return Err(needs.unwrap_or_default());
    }
    // A figure that leans on nothing typed is a table of the trade, not a number of this car.
    Ok((!spans.is_empty()).then_some(FigureRow { figure: figure.clone(), sites, spans }))
}
