//! The figures of a car at a moment, as they are shown.
//!
//! Must not know any figure.

use super::fact::{AlteredSort, Fact};
use crate::Compiled;
use crate::answer::line;
use crate::book::figure::Sites;
use crate::book::model::CarId;
use crate::figures::calc::Calc;
use crate::figures::trace::trace;
use crate::history::Moment;

pub(super) fn tell(
    compiled: &Compiled,
    car: CarId,
    moment: &Moment,
    tell: &mut dyn FnMut(AlteredSort, String, Fact),
) {
    let declared = compiled.book.cars.get(car);
    let imperial = declared.is_some_and(|car| car.imperial);
    let mut calc = Calc::new(compiled.facts(), car, moment);
    for (id, figure) in compiled.book.figures.listed().filter(|(_, figure)| figure.sites != Sites::Part) {
        let cylinders = declared.and_then(|car| car.cylinders);
        let gears = declared.and_then(|car| car.gears);
        for place in figure.sites.of_car(cylinders, gears) {
            let Ok(fig) = calc.figure(id, place) else { continue };
            let lines = fig.typed().map(|span| line(compiled, span)).collect::<Vec<_>>();
            // What leans on nothing typed is a table of the trade.
            if lines.is_empty() {
                continue;
            }
            let what = format!("{} {}", figure.name, compiled.book.place_word(place));
            let shown = trace(&calc, &fig, imperial).shown;
            tell(AlteredSort::Figure, what.trim_end().to_owned(), Fact { shown, lines });
        }
    }
}
