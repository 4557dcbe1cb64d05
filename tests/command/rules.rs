//! rules: a car by its class's rules of a day, by another's, and what is good until when.

use super::{holds, said};

/// Two rules one after the other, a local one, every verdict, every standing of a dated item.
const BOOK: &str = "tests/fixtures/command/ruled";

#[test]
fn a_car_by_the_rules_of_a_day() {
    holds("rules", &["rules", BOOK, "heron"]);
    holds("rules-at", &["rules", BOOK, "heron", "pell-1"]);
    holds("rules-date", &["rules", BOOK, "heron", "2025-05-04"]);
    holds("rules-class", &["rules", BOOK, "heron", "--class", "s-2"]);
}

#[test]
fn what_is_not_there() {
    holds("rules-no-class", &["rules", BOOK, "heron", "--class", "S-11"]);
    holds("rules-no-car", &["rules", BOOK, "herron"]);
    assert_eq!(said(&["rules"]).code, "2");
}
