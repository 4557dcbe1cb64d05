//! The account of fuel where a line of it has a mistake, or may not be read: it is open, and nothing stands in the line's place.

use super::missing;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::rules::build;
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

const STOPPED: &str = "shop \"S\"  zone Europe/London
person ada \"Ada\"
person bo \"Bo\"
client orr \"Orr\"
car heron \"Heron\"  client orr  class E
  fuel-density 0.75 kg/L
rule w class E  weight-after-session min 900 kg
2025-05-10 heron
  set fuel-rate 30 L/h
  fill fuel 60 L
  read total-weight 950 kg  with fuel 60 L, driver 75 kg
  10:00..11:00 run race  30 laps
    10:00..10:30 stint ada
    10:30..10:35 stop
      fill fuel +20 L
    10:35..11:00 stint bo
";

const READ: &str = "shop \"S\"  zone Europe/London
client orr \"Orr\"
car heron \"Heron\"  client orr
2025-05-10 heron
  set fuel-rate 30 L/h
  fill fuel 50 L
  10:00..11:00 run race
  read fuel-used 40 L  after race
";

fn client(text: &str) -> Compiled {
    cut(&compile_text(text), &Reader::Client(ClientId::new(0)))
}

/// A figure of a book at its end.
fn named(book: &Compiled, name: &str) -> Result<f64, Vec<String>> {
    let at = moment::end(&book.history);
    let mut calc = Calc::new(book.facts(), CarId::new(0), &at);
    calc.named(name, Place::CAR).map(|fig| fig.value).map_err(|why| why.needs)
}

/// Of a fill with a mistake nobody knows how much it was: it is not none.
#[test]
fn a_fill_at_a_stop_with_a_mistake_leaves_it_open() {
    let whole = compile_text(STOPPED);
    // 60 + 20 - 55 minutes at 30 L/h.
    let left = named(&whole, "fuel-aboard").unwrap() * 1000.0;
    assert!((left - 52.5).abs() < 1e-9, "{left}");
    // 7.5 L less than at the start, at 0.75 kg/L.
    let weight = |book: &Compiled| {
        let card = build(book, CarId::new(0), &moment::end(&book.history), None, None);
        (card.rules[0].verdict, card.rules[0].value.as_ref().map(|value| value.value_si))
    };
    let (verdict, value) = weight(&whole);
    assert!(
        verdict == "passes"
            && value.is_some_and(|newton| (newton - (950.0 - 7.5 * 0.75) * 9.806_65).abs() < 1e-6),
        "{value:?}"
    );
    let broken = compile_text(&STOPPED.replace("+20 L", "+2O L"));
    let hidden = client(&STOPPED.replace("+20 L", "+20 L  for shop"));
    for book in [broken, hidden] {
        assert_eq!(weight(&book), ("no-reading", None));
        for figure in ["fuel-aboard", "fuel-left", "fuel-range"] {
            assert!(named(&book, figure).is_err(), "{figure}: {:?}", named(&book, figure));
        }
    }
    let open = missing(&STOPPED.replace("+20 L", "+2O L"), &["heron", "weight-after-session"]);
    assert!(open.contains("its line has an error"), "{open}");
}

/// The weight after a session of which what was used has a mistake is not that of the rate.
#[test]
fn the_weight_after_it_is_open_too() {
    let used = STOPPED.to_owned() + "  read fuel-used 25 L  after race\n";
    // That there are such readings he knows: another one is for him.
    let before = used
        .replace("  set fuel-rate", "  08:00..08:30 run s0\n  read fuel-used 5 L  after s0\n  set fuel-rate");
    let hidden = before.replace("25 L  after race", "25 L  after race  for shop");
    for book in [compile_text(&used.replace("25 L", "2S L")), client(&hidden)] {
        let got = named(&book, "fuel-aboard");
        assert!(got.is_err(), "{got:?}");
        let card = build(&book, CarId::new(0), &moment::end(&book.history), None, None);
        assert_eq!(card.rules[0].verdict, "no-reading", "{:?}", card.rules[0]);
    }
}

/// What was read of a session and cannot be read here was not what the rate says.
#[test]
fn what_was_used_with_a_mistake_is_not_what_the_rate_says() {
    let left = named(&compile_text(READ), "fuel-aboard").unwrap() * 1000.0;
    assert!((left - 10.0).abs() < 1e-9, "{left}");
    let rate = named(&compile_text(&READ.replace("  read fuel-used 40 L  after race\n", "")), "fuel-aboard")
        .unwrap()
        * 1000.0;
    assert!((rate - 20.0).abs() < 1e-9, "{rate}");
    // That there are such readings the client knows: another one is for him.
    let before = READ
        .replace("  set fuel-rate", "  08:00..08:30 run s0\n  read fuel-used 5 L  after s0\n  set fuel-rate");
    let hidden = client(&before.replace("after race", "after race  for shop"));
    for book in [compile_text(&READ.replace("40 L", "4O L")), hidden] {
        assert!(named(&book, "fuel-aboard").is_err(), "{:?}", named(&book, "fuel-aboard"));
    }
    // Of the one session: of a later one the rate tells, from what is stated after it.
    let later = READ.replace("40 L", "4O L") + "  11:30 fill fuel 30 L\n  12:00..12:30 run s2\n";
    let left = named(&compile_text(&later), "fuel-aboard").unwrap() * 1000.0;
    assert!((left - 15.0).abs() < 1e-9, "{left}");
}

/// 100 L and 95 L at a stop less 181 L read: 14 L are left, and the car weighs 46 L of 0.745 kg/L less than with the 60 L it was weighed with: 1320 kg
/// less 34.27. That the rate would have emptied the tank before the stop (98 min at 62 L/h are 101.3 L) is no mistake in a line.
#[test]
fn what_was_put_in_counts_though_the_rate_says_it_was_empty() {
    let book = compile_text(
        "shop \"S\"  zone Europe/London\nperson ada \"Ada\"\nperson bo \"Bo\"\ncar heron \"Heron\"  units metric\n\
         2025-05-10 heron\n  read weight 320 318 342 340 kg  with driver 80 kg, fuel 60 L\n  set fuel-rate 62 L/h\n  fill fuel 100 L\n  \
         13:00..16:00 run race  85 laps\n    13:00..14:38 stint ada\n    14:38..14:42 stop\n      fill fuel +95 L\n    \
         14:42..16:00 stint bo\n    read fuel-used 181 L\n",
    );
    let left = named(&book, "fuel-left").unwrap() * 1000.0;
    assert!((left - 14.0).abs() < 1e-9, "{left}");
    let weight = named(&book, "weight-after-session").unwrap() / 9.80665;
    assert!((weight - (1320.0 - 46.0 * 0.745)).abs() < 1e-6, "{weight}");
}

/// What lacks there is how much was aboard when it was topped up, and the line says it: none of them has an error.
#[test]
fn a_top_up_of_what_nobody_knows_is_no_mistake() {
    let book = compile_text(
        "shop \"S\"  zone Europe/London\ncar heron \"Heron\"\n2025-05-10 heron\n  fill fuel 40 L\n  08:30..11:40 run s1\n  12:20 fill fuel +25 L\n",
    );
    let why = named(&book, "fuel-aboard").unwrap_err().join("; ");
    assert!(!why.contains("error") && !why.contains("mistake"), "{why}");
}
