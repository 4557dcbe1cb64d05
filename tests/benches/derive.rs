//! Every figure of every car at the end of a book, as the reports ask for them; traces are not built.

use stringline::Compiled;
use stringline::book::figure::Sites;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

/// The places of a figure's sites.
fn places(sites: Sites) -> Vec<Place> {
    match sites {
        Sites::Car => vec![Place::CAR],
        Sites::Axles => vec![Place::FRONT, Place::REAR],
        Sites::Corners => Place::CORNERS.to_vec(),
        Sites::FrontCorners => vec![Place::LF, Place::RF],
        Sites::Cylinders => (1..=4).map(Place::cylinder).collect(),
        Sites::Gears => (1..=5).map(Place::gear).collect(),
        Sites::Part => Vec::new(),
    }
}

/// Works them out; how many could be had.
pub fn all(compiled: &Compiled) -> usize {
    let end = moment::end(&compiled.history);
    let mut had = 0;
    for car in 0..compiled.book.cars.len() as u32 {
        let mut calc = Calc::new(compiled.facts(), CarId::new(car), &end);
        for (id, figure) in compiled.book.figures.listed() {
            for place in places(figure.sites) {
                had += usize::from(calc.figure(id, place).is_ok());
            }
        }
    }
    had
}
