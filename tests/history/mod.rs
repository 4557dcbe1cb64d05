//! The fold: where parts are, how much they have run, at any moment.

mod carried;
mod changed;
mod corrected;
mod doubted;
mod gauges;
mod intervals;
mod jobs;
mod legs;
mod likeness;
mod loans;
mod meant;
mod odometer;
mod pairs;
mod parts;
mod path;
pub mod running;
mod sizes;
mod stages;
mod stock;
mod unread;
mod usage;

use stringline::Compiled;
use stringline::book::model::{CarId, PartId};
use stringline::book::names::Thing;
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::history::parts::Where;

/// Two cars, a kind that stands alone and a nest of three.
pub const SHOP: &str = r#"car heron "Heron"
  cylinders 4
car plover "Plover"
  cylinders 4
circuit pell "Pell Hill"  length 1.20 km
event pell-1 2025-05-10..11 at pell "Pell Hill, spring"
kind coupling "coupling"  fits LR RR on heron
  fits prop on plover
part cp-1 coupling  opening new
part cp-2 coupling  opening new
kind upright "upright"  fits LF RF
kind hub "hub"  inside upright
kind bearing "bearing"  inside hub
part up-1 upright  opening new
part up-2 upright  opening new
part hub-1 hub  opening new
part hub-2 hub  opening new
part wb-1 bearing  opening new
part wb-2 bearing  opening new

"#;

pub fn book(lines: &str) -> Compiled {
    crate::checks::compile_text(&format!("{SHOP}{lines}"))
}

pub fn part(compiled: &Compiled, name: &str) -> PartId {
    match compiled.book.names.find(name) {
        Some(Thing::Part(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

pub fn car(compiled: &Compiled, name: &str) -> CarId {
    match compiled.book.names.find(name) {
        Some(Thing::Car(id)) => id,
        other => panic!("{name}: {other:?}"),
    }
}

/// A car's moment as a rank.
pub fn rank(compiled: &Compiled, of: &str, typed: &str) -> Rank {
    moment::parse(&compiled.book, &compiled.files, &compiled.history, car(compiled, of), typed).unwrap().rank
}

/// Where a part is before a rank, in words: "heron LR", "in hub-1", "shelf".
pub fn at(compiled: &Compiled, name: &str, rank: Rank) -> String {
    let stay = compiled.history.parts.get(part(compiled, name)).at(rank);
    words(compiled, stay.map_or(Where::New, |stay| stay.at))
}

pub fn words(compiled: &Compiled, there: Where) -> String {
    match there {
        Where::Car(car, place) => {
            let car = &compiled.book.cars[car].named.name;
            format!("{car} {}", compiled.book.place_word(place))
        }
        Where::Inside(part) => format!("in {}", compiled.book.parts[part].named.name),
        Where::New => "new".to_owned(),
        Where::Shelf => "shelf".to_owned(),
        Where::Failed => "failed".to_owned(),
        Where::Quarantine => "quarantine".to_owned(),
        Where::Scrapped => "scrapped".to_owned(),
        Where::Sold => "sold".to_owned(),
        Where::Lent => "lent".to_owned(),
        Where::Returned => "returned".to_owned(),
    }
}
