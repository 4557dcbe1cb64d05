//! Gauges that were held against one another: closed forms, worked by hand. An offset is a gauge's error, above zero where it reads
//! high; what a comparison leaves open is half a division of each gauge.

use crate::checks::compile_text;
use serde_json::Value;
use stringline::book::names::Thing;
use stringline::diagnostics::Severity;
use stringline::history::likeness::{Likeness, compare};
use stringline::history::slots::{Owner, Track};
use stringline::{Compiled, figures};

const PSI: f64 = 6_894.757_293_168;

const SHOP: &str = "circuit pell \"Pell\"
event pell-1 2026-05-10 at pell
gauge p \"dial\"  reads tyre-cold, tyre-hot  resolution 0.1 psi
gauge q \"digital\"  reads tyre-cold, tyre-hot  resolution 0.1 psi
gauge s \"stick\"  reads tyre-cold, tyre-hot  resolution 0.1 psi
client orr \"Orr\"
client vole \"Vole\"
car wren \"Wren\"  client orr  class S
car heron \"Heron\"  client orr
";
const SESSION: &str = "2026-05-10 wren at pell-1
  read tyre-cold LF 22.0 psi  by p
  run s1  5 laps
    read tyre-hot LF 27.9 psi  by q
";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{SHOP}{lines}{SESSION}"))
}

/// A figure's chain as `trace --format json` has it, during the session.
fn trace(book: &Compiled, name: &str) -> Value {
    // What is read under a session is not known until its end.
    trace_at(book, name, if name == "tyre-hot" { "2026-05-11" } else { "pell-1/s1" })
}

fn trace_at(book: &Compiled, name: &str, moment: &str) -> Value {
    let car = super::car(book, "wren");
    let at = stringline::history::moment::parse(&book.book, &book.files, &book.history, car, moment).unwrap();
    let mut calc = figures::Calc::new(book.facts(), car, &at);
    let place = stringline::book::place::Place::LF;
    let fig = calc.value(name, place).or_else(|_| calc.named(name, place)).unwrap();
    serde_json::to_value(figures::trace::trace(&calc, &fig, true)).unwrap()
}

fn psi(value: &Value) -> f64 {
    (value["value_si"].as_f64().unwrap() / PSI * 1e6).round() / 1e6
}

/// p and q on one tyre read 24.0 and 24.6.
const ON_ONE_TYRE: &str = "2026-05-01\n  compare p 24.0 q 24.6 psi\n";

#[test]
fn without_a_reference_only_what_mixes_two_gauges_is_put_right() {
    let plain = book("");
    assert!((psi(&trace(&plain, "tyre-gain")) - 5.9).abs() < 1e-6);
    let compared = book(ON_ONE_TYRE);
    let gain = trace(&compared, "tyre-gain");
    assert!((psi(&gain) - 5.3).abs() < 1e-6, "{gain}");
    // Each by itself is what was typed.
    assert!((psi(&trace(&compared, "tyre-cold")) - 22.0).abs() < 1e-6);
    assert!((psi(&trace(&compared, "tyre-hot")) - 27.9).abs() < 1e-6);
    let hot = &gain["inputs"][0];
    assert_eq!(hot["corrected"]["against"], "p", "{gain}");
    assert!(
        hot["sure"].as_str().unwrap().starts_with("typed 27.9 psi; q reads 0.60 ± 0.10 psi more than p"),
        "{hot}"
    );
}

/// Two figures of the uncertainty: that of the two readings and of one comparison, each rectangular; the reference is in both
/// readings alike and counts for nothing in their difference.
#[test]
fn a_later_reference_reaches_back_through_another_gauge() {
    let known = book(&format!("{ON_ONE_TYRE}2026-07-01\n  compare p 29.7 reference 30.0 psi\n"));
    let gain = trace(&known, "tyre-gain");
    assert!((psi(&gain["inputs"][1]) - 22.3).abs() < 1e-6, "{gain}");
    assert!((psi(&gain["inputs"][0]) - 27.6).abs() < 1e-6, "{gain}");
    assert!((psi(&gain) - 5.3).abs() < 1e-6, "{gain}");
    // GUM 4.3.7: half-width / sqrt 3. Readings: 0.05 each; q against p: 0.05 + 0.05.
    let u = ((0.05_f64.powi(2) * 2.0 + 0.1_f64.powi(2)) / 3.0).sqrt();
    assert!((gain["u_si"].as_f64().unwrap() / PSI - u).abs() < 1e-6, "{gain}");
    assert_eq!(gain["inputs"][0]["corrected"]["nearest"], true);
}

#[test]
fn between_two_that_differ_the_middle_is_taken_with_both_ends_open() {
    let at = |day: &str| {
        let lines = "2026-03-01\n  compare p 30.2 reference 30.0 psi\n2026-09-01\n  compare p 30.6 reference 30.0 psi\n";
        let read = format!("{day} heron\n{day} wren\n  read tyre-cold LF 30.0 psi  by p\n");
        let book = compile_text(&format!("{SHOP}{lines}{read}"));
        let cold = trace_at(&book, "tyre-cold", "2026-12-01");
        let by = &cold["corrected"];
        let size = |key: &str| (by[key].as_f64().unwrap() / PSI * 1e6).round() / 1e6;
        (psi(&cold), size("high_si"), size("half_si"), by["nearest"].as_bool().unwrap(), cold)
    };
    let (value, high, half, nearest, _) = at("2026-02-01");
    assert_eq!((value, high, half, nearest), (29.8, 0.2, 0.05, true));
    let (value, high, half, nearest, _) = at("2026-03-01");
    assert_eq!((value, high, half, nearest), (29.8, 0.2, 0.05, false));
    let (value, high, half, nearest, cold) = at("2026-06-01");
    assert_eq!((value, high, half, nearest), (29.6, 0.4, 0.25, false));
    // u of the correction 0.1443, beside that of the reading itself.
    let u = (0.144_338_f64.powi(2) + (0.05_f64 / 3.0_f64.sqrt()).powi(2)).sqrt();
    assert!((cold["u_si"].as_f64().unwrap() / PSI - u).abs() < 1e-5, "{cold}");
    let (value, high, half, nearest, cold) = at("2026-10-01");
    assert_eq!((value, high, half, nearest), (29.4, 0.6, 0.05, true));
    assert!(cold["sure"].as_str().unwrap().contains("nearest comparison"), "{cold}");
}

fn track<'a>(book: &'a Compiled, name: &str) -> &'a Track {
    let quantity = book.book.vocabulary.find(name).unwrap();
    let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
    book.history.slots.find(Owner::Car(car), quantity, stringline::book::place::Place::LF).unwrap()
}

#[test]
fn readings_that_agree_once_they_are_put_right_are_the_same() {
    let lines = "2026-05-02 wren\n  read tyre-cold LF 24.0 psi  by p\n2026-05-03 wren\n  read tyre-cold LF 24.6 psi  by q\n";
    let alike = |comparisons: &str| {
        let book = compile_text(&format!("{SHOP}{comparisons}{lines}"));
        let track = track(&book, "tyre-cold");
        compare(book.facts(), (track.events[0], track), (track.events[1], track))
    };
    assert_eq!(alike(""), Likeness::Moved);
    assert_eq!(alike(ON_ONE_TYRE), Likeness::Same);
    assert_eq!(alike("2026-05-01\n  compare p 24.0 q 23.4 psi\n"), Likeness::Moved);
    // By way of a third.
    assert_eq!(
        alike("2026-05-01\n  compare p 24.0 s 24.3 psi\n2026-06-01\n  compare q 24.3 s 24.0 psi\n"),
        Likeness::Same
    );
}

#[test]
fn a_ring_that_does_not_close_is_said_and_makes_what_rests_on_it_less_sure() {
    let ring = "2026-05-01\n  compare p 24.0 q 24.6 psi\n  compare p 30.0 reference 30.0 psi\n  compare q 30.0 reference 30.0 psi\n";
    let book = book(ring);
    let said: Vec<&str> = book
        .diagnostics
        .iter()
        .filter(|one| one.check == "comparisons-disagree")
        .map(|one| &*one.message)
        .collect();
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("0.60 psi"), "{said:?}");
    let hot = trace(&book, "tyre-hot");
    let half = hot["corrected"]["half_si"].as_f64().unwrap() / PSI;
    assert!(half >= 0.6, "{hot}");
    assert!(hot["sure"].as_str().unwrap().contains("do not close"), "{hot}");
}

#[test]
fn what_is_void_broken_or_of_another_dimension_says_nothing() {
    for line in [
        "compare p 24.0 q 24.6 psi\n    void because the tyre was going down",
        "compare p 24.0 q 24.6 deg",
        "compare p 24.0 q 24.6",
    ] {
        let book = book(&format!("2026-05-01\n  {line}\n"));
        assert!(book.history.gauges.is_empty(), "{line}");
        let errors = book.diagnostics.iter().filter(|one| one.severity == Severity::Error).count();
        assert_eq!(errors, usize::from(!line.contains("void")), "{line}");
        // Of one with a mistake nobody knows what it would have said.
        if errors == 0 {
            assert!((psi(&trace(&book, "tyre-gain")) - 5.9).abs() < 1e-6, "{line}");
        } else {
            let car = super::car(&book, "wren");
            let end = stringline::history::moment::end(&book.history);
            let place = stringline::book::place::Place::LF;
            assert!(figures::Calc::new(book.facts(), car, &end).named("tyre-hot", place).is_err(), "{line}");
            assert!(figures::Calc::new(book.facts(), car, &end).value("tyre-hot", place).is_err(), "{line}");
        }
    }
}

/// A comparison is never the pressure of the car it stands under.
#[test]
fn a_comparison_is_no_reading_of_a_car() {
    let book = compile_text(&format!("{SHOP}2026-05-01 wren\n  compare p 24.0 q 24.6 psi\n"));
    assert!(book.history.slots.tracks.is_empty());
}

#[test]
fn a_limit_that_is_passed_only_by_what_the_gauge_is_off_is_said() {
    let lines = "rule least class S  tyre-cold min 30.0 psi\n2026-05-01\n  compare p 30.5 reference 30.0 psi\n2026-05-02 wren\n  read tyre-cold all 30.2 psi  by p\n";
    let book = compile_text(&format!("{SHOP}{lines}"));
    let said: Vec<&str> =
        book.diagnostics.iter().filter(|one| one.check == "under-minimum").map(|one| &*one.message).collect();
    assert_eq!(said.len(), 1, "{:?}", book.diagnostics);
    assert!(
        said[0].contains("29.7 psi (as typed 30.2 psi)") && said[0].contains("As typed it passes"),
        "{said:?}"
    );
}

/// Toe is typed as a length and kept as an angle: what a rule is off by as a length is taken off as one, of no toe too.
#[test]
fn a_length_is_taken_off_a_toe_that_was_typed_as_one() {
    let of = |typed: &str| {
        let lines = format!(
            "gauge st \"rule\"  reads toe  resolution 0.1 mm\n2026-05-01\n  compare st 10.5 reference 10.0 mm\n2026-05-02 wren\n  read toe-in LF {typed} mm  over 400 mm  by st\n"
        );
        let book = compile_text(&format!("{SHOP}{lines}"));
        trace_at(&book, "toe", "2026-05-03")["value_si"].as_f64().unwrap()
    };
    // asin(d / D), small: 1.5 - 0.5 mm over 400 mm is 2.5 mrad.
    assert!((of("1.5") - 0.0025).abs() < 2e-8, "{}", of("1.5"));
    assert!((of("0.0") + 0.00125).abs() < 2e-8, "{}", of("0.0"));
}

/// What was known of a gauge after a car was sold does not reach its seller, though he has another car.
#[test]
fn comparisons_after_a_sale_do_not_reach_its_seller() {
    let sold = format!("{SHOP}{ON_ONE_TYRE}{SESSION}2026-06-01 wren\n  sell wren 100.00 EUR to vole\n");
    let later = "2026-07-01\n  compare p 29.7 reference 30.0 psi\n";
    let text = format!("shop \"Hollin\"  currency EUR\n{sold}{later}");
    let book = compile_text(&text);
    assert!((psi(&trace(&book, "tyre-cold")) - 22.3).abs() < 1e-6);
    let Some(Thing::Client(orr)) = book.book.names.find("orr") else { panic!() };
    let his = stringline::audience::cut(&book, &stringline::audience::Reader::Client(orr));
    assert!((psi(&trace(&his, "tyre-cold")) - 22.0).abs() < 1e-6);
    // The one from before the sale does, and of the car he has the later one too.
    assert!((psi(&trace(&his, "tyre-gain")) - 5.3).abs() < 1e-6);
    assert!(his.files.iter().any(|(_, file)| file.text.contains("compare p 29.7 reference 30.0 psi")));
}

/// What was set by a gauge is what that gauge showed: q reads 0.4 psi over p, so that 22.0 by both are 0.4 apart, and 22.4 by q is 22.0 by p.
#[test]
fn what_was_set_by_two_gauges_is_held_against_one_another_put_right() {
    let likeness = |first: &str, second: &str| {
        let text = format!(
            "{SHOP}2026-05-01\n  compare q 22.4 p 22.0 psi\n2026-05-10 wren at pell-1\n  set tyre-cold LF {first}\n  run s1\n  set tyre-cold \
             LF {second}\n  run s2\n"
        );
        let book = compile_text(&text);
        let (id, car) = (book.book.vocabulary.find("tyre-cold").unwrap(), super::car(&book, "wren"));
        let track = book.history.slots.find(Owner::Car(car), id, stringline::book::place::Place::LF).unwrap();
        let [a, b] = track.events[..] else { panic!("{:?}", track.events) };
        compare(book.facts(), (a, track), (b, track))
    };
    assert_eq!(likeness("22.0 psi", "22.0 psi"), Likeness::Same);
    assert_eq!(likeness("22.0 psi  by p", "22.1 psi  by p"), Likeness::Moved);
    assert_eq!(likeness("22.0 psi  by q", "22.0 psi  by p"), Likeness::Moved);
    assert_eq!(likeness("22.4 psi  by q", "22.0 psi  by p"), Likeness::Same);
}

/// By how much q reads high on a day, how far off that may be, and whether only the nearest comparison says so; psi.
fn high(gauge: char, comparisons: &str, day: &str) -> (f64, f64, bool) {
    let read = format!("{day} wren\n  read tyre-cold LF 30.0 psi  by {gauge}\n");
    let book = compile_text(&format!("{SHOP}{comparisons}{read}"));
    let cold = trace_at(&book, "tyre-cold", "2026-12-01");
    let size = |key: &str| (cold["corrected"][key].as_f64().unwrap() / PSI * 1e6).round() / 1e6;
    (size("high_si"), size("half_si"), cold["corrected"]["nearest"].as_bool().unwrap())
}

/// p was 0.4 high when q was held against it, and q read 0.1 more: q was 0.5 high then. That p was put right in June is nothing of q.
#[test]
fn the_way_to_the_reference_is_that_of_the_day_the_two_were_held_together() {
    let lines = "2026-03-01\n  compare p 30.4 reference 30.0 psi\n  compare q 24.5 p 24.4 psi\n2026-06-01\n  compare p 30.0 reference 30.0 psi\n";
    assert_eq!(high('q', lines, "2026-03-01"), (0.5, 0.15, false));
    assert_eq!(high('q', lines, "2026-06-01"), (0.5, 0.15, true));
    assert_eq!(high('q', lines, "2026-07-01"), (0.5, 0.15, true));
    assert_eq!(high('p', lines, "2026-07-01"), (0.0, 0.05, true));
}

/// q was right by the reference in March, and 0.3 high by p in June, which was right that day: both days are comparisons of q. Between
/// them from -0.05 to 0.45: p's half division once, and q's and p's of their own.
#[test]
fn a_comparison_by_way_of_another_gauge_stands_beside_a_direct_one() {
    let lines = "2026-03-01\n  compare q 30.0 reference 30.0 psi\n2026-06-01\n  compare p 30.0 reference 30.0 psi\n  compare q 24.3 p 24.0 psi\n";
    assert_eq!(high('q', lines, "2026-02-01"), (0.0, 0.05, true));
    assert_eq!(high('q', lines, "2026-04-15"), (0.2, 0.25, false));
    assert_eq!(high('q', lines, "2026-06-01"), (0.3, 0.15, false));
    assert_eq!(high('q', lines, "2026-07-01"), (0.3, 0.15, true));
}

/// p on the day that it was held against q is what q was that day: the middle of q's own two, on both sides of it.
#[test]
fn a_gauge_is_what_the_other_was_between_its_own_comparisons() {
    let lines = "2026-03-01\n  compare q 30.0 reference 30.0 psi\n2026-06-01\n  compare p 24.5 q 24.0 psi\n2026-09-01\n  compare q 30.2 reference 30.0 psi\n";
    assert_eq!(high('p', lines, "2026-06-01"), (0.6, 0.25, false));
    assert_eq!(high('p', lines, "2026-10-01"), (0.6, 0.25, true));
}

/// Three that were each compared on another day do not close: one of them moved, and nobody knows which. Where the reference was held on both
/// sides of the day, the other moved, as any gauge may.
#[test]
fn a_ring_over_several_days_is_asked_about_where_only_the_nearest_says_what_one_was() {
    let ring = "2026-03-01\n  compare p 30.0 reference 30.0 psi\n2026-04-01\n  compare q 30.0 reference 30.0 psi\n2026-05-01\n  compare p 24.5 q 24.0 psi\n";
    let quarrels = |lines: &str| compile_text(&format!("{SHOP}{lines}")).history.gauges.quarrels();
    let said = quarrels(ring);
    assert_eq!(said.len(), 1, "{said:?}");
    assert!((said[0].apart / PSI - 0.5).abs() < 1e-9, "{said:?}");
    assert!(high('p', ring, "2026-05-01").1 >= 0.5);
    let known = format!("{ring}2026-06-01\n  compare q 30.0 reference 30.0 psi\n");
    assert!(quarrels(&known).is_empty());
    let (high, half, nearest) = high('p', &known, "2026-05-01");
    assert_eq!((high, half, nearest), (0.5, 0.15, false));
}

/// q reads 0.4 psi over p: 22.4 by q and 22.0 by p is one pressure, and that it was set is told with its reason.
#[test]
fn what_was_set_by_another_gauge_to_the_same_is_told() {
    let fate = |second: &str| {
        let text = format!(
            "{SHOP}2026-05-01\n  compare q 22.4 p 22.0 psi\n2026-05-10 wren at pell-1\n  set tyre-cold LF 22.4 psi  by q\n  run s1\n{second}  run s2\n"
        );
        let book = compile_text(&text);
        let car = super::car(&book, "wren");
        let at = |moment: &str| {
            stringline::history::moment::parse(&book.book, &book.files, &book.history, car, moment).unwrap()
        };
        let view = stringline::answer::diff::build(
            &book,
            car,
            [&at("pell-1/s1"), &at("pell-1/s2")],
            ["pell-1/s1", "pell-1/s2"],
        );
        let slot = view.slots.first().map(|slot| {
            let said: Vec<String> = slot.steps.iter().filter_map(|step| step.because.clone()).collect();
            (
                serde_json::to_value(slot.fate).unwrap().as_str().unwrap().to_owned(),
                said.join("; "),
                slot.change.is_some(),
            )
        });
        slot.unwrap_or_default()
    };
    let set = "  set tyre-cold LF 22.4 -> 22.0 psi  by p  because q is at home\n";
    assert_eq!(fate(set), ("same-by-gauges".to_owned(), "q is at home".to_owned(), false));
    // Another pressure in between, and back to the same by these gauges.
    let away = format!("  set tyre-cold LF 22.4 -> 23.0 psi  by q\n{}", set.replace("22.4 ->", "23.0 ->"));
    assert_eq!(fate(&away).0, "put-back");
    assert_eq!(fate("  set tyre-cold LF 22.4 -> 22.6 psi  by p\n").0, "changed");
    assert_eq!(fate(""), Default::default());
}
