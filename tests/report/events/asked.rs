//! Words that are asked for on the page between sessions: in either order, in each phase, and those that were never said.

use super::super::html::{read, words};
use super::super::{demo, text};
use super::in_order;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::report::{Alone, Own, Report};

fn said(book: &Compiled, car: u32, asked: &str) -> String {
    let own = Own::new();
    let report = Report::alone(book, Alone::Now(CarId::new(car)), &own).unwrap().asked(asked);
    let mut page = None;
    report.stream(&mut |made| page = Some(made.unwrap()));
    words(&read(&page.unwrap().html))
}

#[test]
fn the_demo_tells_when_it_was_said_and_what_was_changed() {
    let book = demo();
    let bittern = book.book.cars.iter().position(|car| &*car.named.typed == "bittern").unwrap() as u32;
    for asked in ["entry push", "push, entry", "Push entry", "understeer, ENTRY"] {
        in_order(
            &said(&book, bittern, asked),
            &["Asked for", "quern-1 s5", "same barge, better morning", "brake-bias 58 → 57 %", "Said before"],
        );
    }
    in_order(
        &said(&book, bittern, "entry pusj"),
        &["Never said of this car in this book; did you mean `push`?"],
    );
    in_order(&said(&book, bittern, "entry"), &["No word of it says how the car felt"]);
}

#[test]
fn another_phase_and_nothing_typed() {
    let book = text(
        "car heron \"H\"\n2026-05-02 heron\n  10:00..10:20 run s1  5 laps  best 1:10.0\n    say exit loose \"tail out\"\n  11:00..11:20 run s2  5 laps  best 1:09.5\n",
    );
    in_order(
        &said(&book, 0, "entry loose"),
        &["Never said of entry on this car in this book; of exit it was."],
    );
    in_order(&said(&book, 0, "loose"), &["Asked for", "exit loose", "tail out"]);
    assert!(!said(&book, 0, "").contains("Asked for"));
    assert!(said(&book, 0, "<script>alert(1)</script>").contains("Never said"));
}

/// What is printed for words that were asked for is not the page that a line can register.
#[test]
fn an_answer_has_no_line_that_hands_it_out() {
    use stringline::audience::{Reader, cut};
    let whole = text(
        "client orr \"Orr\"\ncar heron \"H\"  client orr\n2026-05-02 heron\n  10:00..10:20 run s1  5 laps  best 1:10.0\n    say entry push\n",
    );
    let book = cut(&whole, &Reader::Client(stringline::book::model::ClientId::new(0)));
    assert!(said(&book, 0, "").contains("handed now to orr"));
    assert!(!said(&book, 0, "entry push").contains("handed now"));
}
