//! Every figure everywhere: over the demo book, and over books of zeros and of extremes. A figure is a finite number that its
//! own trace gives again, or it says in words what it needs.

use super::evaluate;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::figures::trace::trace;
use stringline::history::{Moment, moment};
use stringline::source::{Disk, Memory, World};
use stringline::units::{DimensionId, table};
use stringline::vocabulary::{Form, Places, Quantity};

fn places() -> Vec<Place> {
    let mut all = vec![Place::CAR, Place::FRONT, Place::REAR];
    all.extend(Place::CORNERS);
    all.extend((1..=4).map(Place::cylinder));
    all.extend((1..=5).map(Place::gear));
    all
}

/// Works out everything at a moment; how many figures there are.
fn sweep(book: &Compiled, car: CarId, when: &Moment) -> usize {
    let mut found = 0;
    for (id, figure) in book.book.figures.iter() {
        for place in places() {
            let mut calc = Calc::new(book.facts(), car, when);
            match calc.figure(id, place) {
                Ok(fig) => {
                    assert!(fig.value.is_finite(), "{} {place:?}", figure.name);
                    assert!(calc.u(&fig).is_none_or(f64::is_finite), "{} {place:?}", figure.name);
                    evaluate::again(&serde_json::to_value(trace(&calc, &fig, false)).unwrap());
                    found += 1;
                }
                Err(missing) => {
                    assert!(!missing.needs.is_empty(), "{} {place:?}", figure.name);
                    assert!(missing.needs.iter().all(|need| !need.is_empty()), "{}", figure.name);
                }
            }
        }
    }
    found
}

#[test]
fn over_the_demo_book() {
    let disk = Disk { root: std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026") };
    let (files, _) = disk.load().unwrap();
    let texts: Vec<(&str, &str)> =
        files.iter().map(|(_, file)| (file.path.as_str(), file.text.as_str())).collect();
    let book = stringline::compile(&Memory::new(&texts, crate::checks::now())).unwrap();
    let mut found = 0;
    for car in 0..book.book.cars.len() as u32 {
        found += sweep(&book, CarId::new(car), &moment::end(&book.history));
        for at in ["2026-05-01", "2026-07-15"] {
            let when = moment::parse(&book.book, &book.files, &book.history, CarId::new(car), at).unwrap();
            found += sweep(&book, CarId::new(car), &when);
        }
    }
    assert!(found > 100, "{found}");
}

/// A line that says one value of a quantity everywhere it has places.
fn line(verb: &str, quantity: &Quantity, si: f64) -> Option<String> {
    if quantity.dimension.get().is_text()
        || matches!(quantity.dimension, DimensionId::TOE | DimensionId::FLUID)
    {
        return None;
    }
    let unit = quantity.show[0].unwrap_or_else(|| table().plain()).get();
    let value = format!("{:.6}", unit.from_si(si));
    let value = match quantity.form {
        Form::Pair if quantity.dimension == DimensionId::RATIO => value,
        Form::Pair => format!("{value}/{value}"),
        Form::Triple => format!("{value}/{value}/{value}"),
        Form::One => value,
    };
    let unit = unit.shown();
    let at = if quantity.places.has(Places::CAR) {
        vec![""]
    } else if quantity.places.has(Places::CORNER) {
        vec!["all"]
    } else if quantity.places.has(Places::AXLE) {
        vec!["front", "rear"]
    } else if quantity.places.has(Places::CYLINDER) {
        vec!["c1", "c2", "c3", "c4"]
    } else {
        vec!["g1", "g2", "g3", "g4", "g5"]
    };
    let values: Vec<String> = at.iter().map(|place| format!("{place} {value} {unit}")).collect();
    Some(format!("  {verb} {} {}\n", quantity.name, values.join(" ")))
}

/// Every quantity at zero, at its lowest, at its highest, one extreme after the other.
#[test]
fn over_zeros_and_extremes() {
    let empty = stringline::compile(&Memory::new(&[("b.sline", "")], crate::checks::now())).unwrap();
    let pick: [fn(&Quantity) -> f64; 5] = [
        |_| 0.0,
        |quantity| quantity.possible.map_or(0.0, |range| range.0),
        |quantity| quantity.possible.map_or(1e6, |range| range.1),
        |quantity| quantity.usual.map_or(1.0, |range| f64::midpoint(range.0, range.1)),
        |quantity| quantity.usual.map_or(1.0, |range| range.1),
    ];
    let mut found = 0;
    for (index, first) in pick.iter().enumerate() {
        for second in &pick {
            let mut text = String::from(
                "car wren \"Wren\"\n  cylinders 4\n  gears 5\n  drive rear\n  reference driver 0 kg, fuel 0 L\n\n",
            );
            for (day, value) in [(1, first), (2, second)] {
                text += &format!("2025-05-0{day} wren\n  set tyre-size all 205/55R16\n");
                for verb in ["set", "read"] {
                    for (_, quantity) in empty.book.vocabulary.iter() {
                        text.extend(line(verb, quantity, value(quantity)));
                    }
                }
                text += &format!(
                    "  09:00 run s{day}  {index} min  {index} laps\n    read tyre-hot all 1.8 bar\n    read fuel-used 0 L\n\n"
                );
            }
            let book = stringline::compile(&Memory::new(&[("b.sline", text.as_str())], crate::checks::now()))
                .unwrap();
            found += sweep(&book, CarId::new(0), &moment::end(&book.history));
        }
    }
    assert!(found > 1000, "{found}");
}
