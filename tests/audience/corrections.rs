//! A value whose correction a reader may not read: what was typed first was never so, what was so is not for him.

use crate::checks::compile_text;
use stringline::answer::rules::build;
use stringline::answer::state;
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::history::moment;

const BOOK: &str = "\
client moss \"Moss\"
car otter \"Otter\"  client moss  class E
rule w class E  total-weight min 1000 kg

2026-05-09 otter
  read total-weight 990 kg  with driver 78 kg, fuel 10 L
  set camber LF -3.0 RF -3.1 deg
  set tyre-cold 1.50 1.50 1.50 1.50 bar
  correct total-weight 990 -> 1013 kg  for shop
  correct camber LF -3.0 -> -3.3 deg  for shop
  correct tyre-cold LF 1.50 -> 1.60 bar
";

/// The shop's card passes by 13 kg; the client's says neither 990 nor 1013, and fails nothing.
#[test]
fn what_was_typed_before_a_hidden_correction_is_not_known() {
    let whole = compile_text(BOOK);
    let reader = cut(&whole, &Reader::Client(ClientId::new(0)));
    let car = CarId::new(0);
    let card = |book: &stringline::Compiled| {
        let mut card = build(book, car, &moment::end(&book.history), None, None);
        (card.rules.remove(0).verdict, card.readings.len())
    };
    assert_eq!(card(&whole), ("passes", 1));
    assert_eq!(card(&reader), ("no-reading", 0));
    let said = |book: &stringline::Compiled| {
        let view = state::build(book, car, &moment::end(&book.history), None);
        serde_json::to_string(&view).unwrap()
    };
    assert!(said(&whole).contains("-3.3 deg") && said(&whole).contains("1013 kg"));
    for hidden in ["-3.0", "-3.3", "-3.1", "990", "1013"] {
        assert!(!said(&reader).contains(hidden), "{hidden}: {}", said(&reader));
    }
    // What he may read is put right for him too.
    assert!(said(&reader).contains("1.60 bar"), "{}", said(&reader));
}

/// What a session used is of the tank's account: hidden, it leaves the account open, and no rate stands in for it.
#[test]
fn a_hidden_fuel_used_leaves_the_tank_open() {
    let book = "client orr \"Orr\"\ncar heron \"Heron\"  client orr\n\n2025-05-10 heron\n  set fuel-rate 30 L/h\n  fill fuel 50 L\n  10:00..11:00 run race\n    read fuel-used 40 L  for shop\n";
    let aboard = |text: &str, client: bool| {
        let whole = compile_text(text);
        let read = if client { cut(&whole, &Reader::Client(ClientId::new(0))) } else { whole };
        let mut calc =
            stringline::figures::Calc::new(read.facts(), CarId::new(0), &moment::end(&read.history));
        calc.named("fuel-left", stringline::book::place::Place::CAR).map(|fig| (fig.value * 1000.0).round())
    };
    assert_eq!(aboard(book, false), Ok(10.0));
    assert!(aboard(book, true).is_err(), "{:?}", aboard(book, true));
    // Nothing hidden, nothing lost.
    assert_eq!(aboard(&book.replace("  for shop", ""), true), Ok(10.0));
    let by_rate = book.replace("    read fuel-used 40 L  for shop\n", "");
    assert_eq!(aboard(&by_rate, true), Ok(20.0));
}
