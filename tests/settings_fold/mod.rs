//! The fold of settings and readings: two registers, old values, what an error makes unknown, what travels with a part.
//!
//! Every expected number is worked out by hand beside its test.

mod clicks;
mod old_values;
mod registers;
mod sides;
mod touched;
mod unknown;

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::history::order::Rank;
use stringline::history::problem::Problem;
use stringline::history::state::Held;

/// What every book here begins with.
const HEAD: &str = "\
gauge bg-1 \"blocks\"  reads ride-height  resolution 1 mm
car heron \"Heron\"
kind damper \"damper\"  fits LF RF LR RR on heron  carries rebound, bump  clicks 0..20 from full-hard
part dm-1 damper
part dm-2 damper
";

/// Compiles lines of one car, each block with its own head.
fn book(blocks: &str) -> Compiled {
    compile_text(&format!("{HEAD}\n{blocks}"))
}

fn heron(book: &Compiled) -> CarId {
    match book.book.names.find("heron") {
        Some(Thing::Car(id)) => id,
        other => panic!("{other:?}"),
    }
}

/// What a slot holds at the end of the book.
fn held(book: &Compiled, quantity: &str, place: Place) -> Held {
    held_before(book, quantity, place, Rank::END)
}

/// What a slot holds before a rank.
fn held_before(book: &Compiled, quantity: &str, place: Place, rank: Rank) -> Held {
    let id = book.book.vocabulary.find(quantity).unwrap();
    book.facts().on(heron(book), rank).slot(id, place).unwrap().held
}

/// The value that a slot is at, SI.
fn is(book: &Compiled, quantity: &str, place: Place) -> f64 {
    held(book, quantity, place).is(&book.history).unwrap().value
}

/// The checks that speak, in the order of their lines.
fn speaks(book: &Compiled) -> Vec<&'static str> {
    book.diagnostics.iter().map(|one| one.check).collect()
}

fn problems(book: &Compiled) -> &[Problem] {
    &book.history.problems
}

#[track_caller]
fn close(a: f64, b: f64) {
    assert!((a - b).abs() <= 1e-9 * a.abs().max(b.abs()).max(1.0), "{a} is not {b}");
}
