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

/// 12, less 5: 7, or 12, if the use is in the count; in one file the order of the lines says it, and so do times.
#[test]
fn a_count_and_a_use_of_one_day_in_two_files_are_asked_about() {
    let kind = "kind nut \"nut\"\n";
    let compiled = |files: &[(&str, String)]| {
        let texts: Vec<(&str, &str)> = files.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let world = stringline::source::Memory::new(&texts, crate::checks::now());
        stringline::compile(&world).unwrap()
    };
    let errors = |compiled: &Compiled| {
        let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
        errors.map(|one| (one.check, one.message.clone())).collect::<Vec<_>>()
    };
    for (one, other) in [
        ("count nut 12", "use nut 5"),
        ("count nut 12", "buy nut 5 3.00 EUR"),
        ("count nut 12", "count nut 9"),
    ] {
        for (a, b) in [(one, other), (other, one)] {
            let file = |time: &str, line: &str| format!("2025-05-03\n  {time}{line}\n");
            let book =
                compiled(&[("a.sline", kind.to_owned()), ("b.sline", file("", a)), ("c.sline", file("", b))]);
            assert_eq!(errors(&book).len(), 1, "{a}, {b}: {:?}", book.diagnostics);
            assert!(
                errors(&book)[0].0 == "day-order-unclear" && errors(&book)[0].1.contains(" nut,"),
                "{:?}",
                errors(&book)
            );
            assert_eq!(on_hand(&book, "nut"), OnHand::Unknown, "{a}, {b}");
            let timed = compiled(&[
                ("a.sline", kind.to_owned()),
                ("b.sline", file("10:00 ", a)),
                ("c.sline", file("11:00 ", b)),
            ]);
            assert_eq!(errors(&timed), [], "{a}, {b}");
            assert_ne!(on_hand(&timed, "nut"), OnHand::Unknown, "{a}, {b}");
        }
    }
    // Two that take and bring are the same in either order.
    let count = format!("{kind}2025-05-02\n  count nut 12\n");
    let [first, second] = ["use nut 5", "buy nut 2 3.00 EUR"].map(|line| format!("2025-05-03\n  {line}\n"));
    let book = compiled(&[("a.sline", count), ("b.sline", first), ("c.sline", second)]);
    assert_eq!((errors(&book), on_hand(&book, "nut")), (vec![], OnHand::Count(9)));
}

/// Of a line that names no kind nobody knows which number it changes; the next count of each says it anew.
#[test]
fn a_slip_in_the_kind_leaves_no_number_known_until_it_is_counted() {
    let text = |slip: &str| {
        format!(
            "kind nut \"nut\"\nkind pin \"pin\"\n2025-05-01\n  count nut 12\n  count pin 30\n2025-05-02\n  {slip}\n2025-05-03\n  count pin 28\n"
        )
    };
    for slip in ["use nutt 4", "count nutt 4", "buy nutt 4 3.00 EUR"] {
        let compiled = book(&text(slip));
        assert_eq!(
            (on_hand(&compiled, "nut"), on_hand(&compiled, "pin")),
            (OnHand::Unknown, OnHand::Count(28)),
            "{slip}"
        );
        let said = compiled.diagnostics.iter().filter(|one| one.severity != Severity::Note).count();
        assert_eq!(said, 1, "{slip} {:?}", compiled.diagnostics);
    }
    // Where the kind was read, the other's number stands: 30 were there and 28 are counted.
    for slip in ["use nut four", "count nut -3", "use nut 12.5"] {
        let compiled = book(&text(slip));
        assert_eq!(on_hand(&compiled, "nut"), OnHand::Unknown, "{slip}");
        assert!(
            compiled.diagnostics.iter().any(|one| one.check == "count-differs"),
            "{slip} {:?}",
            compiled.diagnostics
        );
    }
}

/// One of the shop's, one of a client's own and one that was borrowed: one on hand; two when it is kept.
#[test]
fn what_is_not_the_shops_is_not_on_hand() {
    let text = "client ada \"Ada\"
kind fan \"fan\"  fits bay
part f-1 fan  opening new
part f-2 fan  opening new  client ada
part f-3 fan
2025-05-01
  borrow f-3 from \"the next shop\" 45.00 EUR
";
    assert_eq!(on_hand(&book(text), "fan"), OnHand::Count(1));
    assert_eq!(on_hand(&book(&format!("{text}2025-05-02\n  buy f-3\n")), "fan"), OnHand::Count(2));
    assert_eq!(on_hand(&book(&format!("{text}2025-05-02\n  buy f-2 9.00 EUR\n")), "fan"), OnHand::Count(2));
}

/// Under a stop only a part can be fitted by itself, and the message says where the outfit goes.
#[test]
fn an_outfit_under_a_stop_is_told_where_it_stands() {
    let text = |indent: &str| {
        format!(
            "outfit wet heron \"wet\"\n  set bar-hole rear 3\n2025-05-03 heron\n  10:00..11:00 run r1 10 laps\n    10:30..10:40 stop\n{indent}fit wet\n"
        )
    };
    let errors = |text: &str| {
        let compiled = book(text);
        let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
        errors.map(|one| one.message.clone()).collect::<Vec<_>>()
    };
    let under = errors(&text("      "));
    assert!(matches!(&under[..], [one] if one.contains("the block's own indent")), "{under:?}");
    assert_eq!(errors(&text("  ")), [""; 0]);
}

/// A count in one file and a use in another of the same day quarrel, however many lines stand between: what is left is not known.
#[test]
fn a_count_far_above_is_not_forgotten() {
    for between in [5, 150] {
        let uses = "  use nut 1\n".repeat(between);
        let text = format!(
            "kind nut \"nut\"\n# === a.sline\n2025-05-01\n  count nut 500\n{uses}# === b.sline\n2025-05-01\n  use nut 3\n"
        );
        assert!(matches!(on_hand(&crate::checks::compile_text(&text), "nut"), OnHand::Unknown), "{between}");
    }
    // One with a mistake may have been used before or after the count of another file.
    let text = "kind nut \"nut\"\n# === a.sline\n2025-05-01\n  use nut 2x\n# === b.sline\n2025-05-01\n  count nut 9\n";
    assert!(matches!(on_hand(&crate::checks::compile_text(text), "nut"), OnHand::Unknown));
    let text = "kind nut \"nut\"\n2025-05-01\n  count nut 12\n  use nut 2,5\n";
    assert!(matches!(on_hand(&crate::checks::compile_text(text), "nut"), OnHand::Unknown));
}
