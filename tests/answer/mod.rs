//! The plain answers: what was typed first, SI beside it, the line it came from.

use stringline::Compiled;
use stringline::answer::state::{Is, Slot, State, build};
use stringline::book::model::CarId;
use stringline::history::moment;

mod miles;

const BOOK: &str = "\
shop \"Hollin Lane Garage\"  currency EUR  zone Europe/Dublin
gauge pg-1 \"dial gauge\"  reads tyre-cold  resolution 0.02 bar
car heron \"Heron\"  units metric
  toe-over 400 mm
  motion-ratio 0.92 0.88
kind spring \"coil spring\"  fits LF RF on heron  gives spring-rate
spec s70 of spring \"70 x 2.25\"  tag spring-rate 70 N/mm
part sp-1 spring  spec s70
part sp-2 spring  spec s70

2025-05-03
  bench sp-2 spring-rate 69.4, 69.8 N/mm

2025-05-04 heron
  fit sp-1 LF
  fit sp-2 RF
  set final-drive 41/11
  read tyre-temp LF 81/86/79 C
  set toe-out front 1.5 mm total
  set toe-in LR 1.0 mm over 300 mm
  set bar-hole front off rear 2
  adjust bar-hole rear +1
  adjust perch RF +0.85 turn
  adjust perch RF +1/4 turn
  adjust perch RF +1 turn
  fill gearbox-oil 75W-90 1.6 L
  set pad-compound front \"three, the brown box\"
  read tyre-cold LF 1.50, 1.54 bar  by pg-1 with air 14 C
  read weight LF 100 kg  with driver 78 kg, fuel 20 L, bars off
  set caster LF 5d54'
";

fn state() -> State {
    let compiled: Compiled = crate::checks::compile_text(BOOK);
    build(&compiled, CarId::new(0), &moment::end(&compiled.history), None)
}

fn slot<'a>(state: &'a State, quantity: &str, place: &str) -> &'a Slot {
    let at = Some(place).filter(|place| !place.is_empty());
    state
        .slots
        .iter()
        .find(|slot| slot.quantity == quantity && slot.place.as_deref() == at)
        .unwrap_or_else(|| panic!("no {quantity} {place}"))
}

#[test]
fn values_say_what_was_typed_and_are_si() {
    let state = state();
    let half_toe = |mm: f64, over: f64| libm::asin(mm / over);
    // (quantity, place, text, SI by the definitions of the units and closed forms)
    let wanted = [
        ("final-drive", "", "41/11", Some(41.0 / 11.0)),
        ("tyre-temp", "LF", "81/86/79 C", None),
        ("toe", "front", "out 1.5 mm total", Some(-2.0 * half_toe(0.75, 400.0))),
        ("toe", "LR", "in 1.0 mm", Some(half_toe(1.0, 300.0))),
        ("bar-hole", "front", "off", None),
        ("bar-hole", "rear", "3", Some(3.0)),
        ("perch", "RF", "2.10 turn", Some(2.1)),
        ("gearbox-oil", "", "75W-90 1.6 L", None),
        ("pad-compound", "front", "three, the brown box", None),
        ("tyre-cold", "LF", "1.50, 1.54 bar", Some(152_000.0)),
        ("weight", "LF", "100 kg", Some(980.665)),
        ("caster", "LF", "5d54'", Some(5.9_f64.to_radians())),
        ("motion-ratio", "RR", "0.88", Some(0.88)),
        ("spring-rate", "LF", "70 N/mm", Some(70_000.0)),
        ("spring-rate", "RF", "69.4, 69.8 N/mm", Some(69_600.0)),
    ];
    for (quantity, place, text, si) in wanted {
        let value = slot(&state, quantity, place).value().unwrap_or_else(|| panic!("{quantity} {place}"));
        assert_eq!(value.text, text, "{quantity} {place}");
        match (value.value_si, si) {
            (Some(got), Some(si)) => {
                assert!((got - si).abs() <= 1e-9 * si.abs(), "{quantity} {place}: {got} {si}");
            }
            (got, si) => assert_eq!(got, si, "{quantity} {place}"),
        }
    }
}

#[test]
fn lines_gauges_and_conditions_go_along() {
    let state = state();
    let cold = slot(&state, "tyre-cold", "LF").value().unwrap();
    assert_eq!(
        (cold.gauge.as_deref(), cold.date.as_deref(), cold.verb),
        (Some("pg-1"), Some("2025-05-04"), "read")
    );
    assert_eq!(cold.conditions, ["air 14 C"]);
    assert_eq!(cold.line.as_ref().map(|line| (line.path.as_str(), line.line)), Some(("book.sline", 28)));
    assert_eq!(
        slot(&state, "weight", "LF").value().unwrap().conditions,
        ["driver 78 kg", "fuel 20 L", "bars off"]
    );
    assert_eq!(slot(&state, "toe", "LR").value().unwrap().conditions, ["over 300 mm"]);
    let tag = slot(&state, "spring-rate", "LF");
    assert_eq!(
        (tag.is, tag.part.as_deref(), tag.tag.as_ref().unwrap().verb),
        (Is::Tag, Some("sp-1"), "spec")
    );
    let opening = slot(&state, "motion-ratio", "LF").value().unwrap();
    assert_eq!((opening.verb, opening.line.as_ref().unwrap().line, &opening.date), ("car", 5, &None));
    assert_eq!(slot(&state, "spring-rate", "RF").value().unwrap().verb, "bench");
}

/// The end of a day in the middle of a session: nobody wrote how much of it was run by then, and the answer says what it counts.
#[test]
fn a_day_that_ends_within_a_session_says_how_far_that_counts() {
    let text = "shop \"S\"  zone Europe/London\nkind pads \"pads\"  fits front\npart p1 pads  opening new\ncar heron \"Heron\"\n\
                2025-05-10 heron\n  fit p1 front\n  22:00..02:00 run race\n";
    let compiled = crate::checks::compile_text(text);
    let at = |typed: &str| {
        let heron = CarId::new(0);
        let moment = moment::parse(&compiled.book, &compiled.files, &compiled.history, heron, typed).unwrap();
        let view = build(&compiled, heron, &moment, Some(typed));
        (view.at.words, view.parts[0].since_new[0].text.clone())
    };
    let told = "at the end of 2025-05-10; race went on past midnight, and is counted to its end";
    assert_eq!(at("2025-05-10"), (told.to_owned(), "4.0 h".to_owned()));
    assert_eq!(at("2025-05-11").0, "at the end of 2025-05-11");
}

/// Of a line that says two sessions the message says to which it is counted.
#[test]
fn a_line_of_two_sessions_says_where_it_counts() {
    let text = "car heron \"Heron\"\n2025-05-10 heron\n  09:00..09:20 run s1\n  10:00..10:20 run s2\n    \
                read oil-temp 101 C  during s1\n";
    let compiled = crate::checks::compile_text(text);
    let told = compiled.diagnostics.iter().find(|one| one.check == "session-contradicts").unwrap();
    assert_eq!(
        told.message,
        "the line stands under s2, and says it was during s1: until one of the two is put right, it is counted to s2."
    );
}
