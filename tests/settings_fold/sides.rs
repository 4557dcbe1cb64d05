//! `left`, `right` and `all` of something of a rear axle are its ends there, on a line as in a range.

use super::{book, held, speaks};
use stringline::book::place::Place;

#[test]
fn sides_of_a_rear_axle_are_its_two_ends() {
    let known = |line: &str| {
        let made = book(&format!("2025-05-01 heron\n  set track-bar {line} in\n"));
        assert_eq!(speaks(&made), Vec::<&str>::new(), "{line}");
        let id = made.book.vocabulary.find("track-bar").unwrap();
        let at = |place: &Place| {
            let car = super::heron(&made);
            made.facts().on(car, stringline::history::order::Rank::END).slot(id, *place).is_some()
        };
        Place::CORNERS.into_iter().filter(at).collect::<Vec<_>>()
    };
    assert_eq!(known("left 8"), [Place::LR]);
    assert_eq!(known("right 8"), [Place::RR]);
    assert_eq!(known("all 8"), [Place::LR, Place::RR]);
    assert_eq!(known("rear 8 9"), [Place::LR, Place::RR]);
    assert_eq!(known("front 8"), [Place::LF, Place::RF]);
    // Of what has four corners a side is two of them.
    let made = book("2025-05-01 heron\n  set camber left -2 deg\n");
    assert!(
        held(&made, "camber", Place::LF).asked.is_some() && held(&made, "camber", Place::LR).asked.is_some()
    );
}

/// A range stands for the places before it, as a value does.
#[test]
fn a_range_stands_for_the_places_before_it() {
    let text = "car heron \"Heron\"\n  toe-over 400 mm\n  usual camber LF RF -6..-1 LR RR -3..0.5 deg, toe LF -0.3..0.3 deg RF LR -0.2..0.2 deg\n2025-05-01 heron\n";
    let asked = |line: &str| {
        let made = crate::checks::compile_text(&format!("{text}  {line}\n"));
        speaks(&made).iter().filter(|check| **check == "value-implausible").count()
    };
    assert_eq!(asked("read camber -5.8 -5.8 0.4 0.4 deg"), 0);
    assert_eq!(asked("read camber -0.4 -2 -2 -2 deg"), 1);
    assert_eq!(asked("read camber -2 -0.4 -2 -2 deg"), 1);
    assert_eq!(asked("read camber -2 -2 -2 -3.4 deg"), 1);
    assert_eq!(asked("read toe-in RF 0.25 deg"), 1);
    assert_eq!(asked("read toe-in LF 0.25 deg"), 0);
}
