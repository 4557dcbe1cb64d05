//! How many of a kind are on hand, by hand; and what a part ran away.

use super::{book, part};
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::book::names::Thing;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;
use stringline::history::stock::OnHand;
use stringline::history::usage::of_part;

fn on_hand(compiled: &Compiled, kind: &str) -> OnHand {
    let Some(Thing::Kind(kind)) = compiled.book.names.find(kind) else { panic!("{kind}") };
    compiled.history.stock.on_hand(&compiled.book, &compiled.history.parts, kind, Rank::END)
}

/// 12, less 5, and 20 more, less 4: 23. What was used before the count is in it.
#[test]
fn on_hand_is_the_last_count_with_what_came_and_went_since() {
    let text = "kind nut \"nut\"
2025-05-01
  use nut 3
2025-05-02
  count nut 12
  use nut 5
2025-05-03
  buy nut 20 30.00 EUR
  use nut 4
";
    assert!(matches!(on_hand(&book(text), "nut"), OnHand::Count(23)));
    assert!(matches!(on_hand(&book("kind nut \"nut\"\n2025-05-01\n  use nut 3\n"), "nut"), OnHand::Unknown));
}

/// A count that is not what the book says stands.
#[test]
fn a_later_count_stands() {
    let text = "kind nut \"nut\"\n2025-05-01\n  count nut 12\n2025-05-02\n  count nut 9\n  use nut 2\n";
    assert!(matches!(on_hand(&book(text), "nut"), OnHand::Count(7)));
}

/// 20 minutes here, 95 away: 115; 10 laps here and nobody said there.
#[test]
fn what_it_ran_away_is_added() {
    let compiled = book(
        "2025-05-10 heron at pell-1
  fit cp-1 LR
  09:00..09:20 run s1  10 laps
  remove cp-1
2025-05-12
  lend cp-1 to \"the next shop\"
2025-05-20
  return cp-1 ran 95 min
",
    );
    let sum = of_part(&compiled.book, &compiled.history, part(&compiled, "cp-1"), Rank::START, Rank::END);
    assert!(!sum.on(Clock::Time).1);
    assert!((sum.on(Clock::Time).0 - 115.0 * 60.0).abs() < 1e-6);
    assert!((sum.on(Clock::Laps).0 - 10.0).abs() < 1e-6 && sum.on(Clock::Laps).1);
}

/// A place that the car has not, and the outfit fitted twice: a message where each line stands, and no more.
#[test]
fn an_outfit_for_a_place_the_car_has_not_is_told_of_once() {
    let text = "outfit wet heron \"wet\"
  fit cp-1 LF

2025-05-03 heron
  fit wet
2025-05-04 heron
  fit wet
";
    let compiled = book(text);
    let errors: Vec<&str> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.severity == Severity::Error)
        .map(|one| one.check)
        .collect();
    assert_eq!(errors, ["does-not-fit"]);
}
