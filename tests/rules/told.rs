//! What a rule is held to: every number typed, the diameter that toe was measured over, the line that says the value, the session it is of.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::rules::{RuleView, Rules, build};
use stringline::book::model::CarId;
use stringline::history::moment;

fn book(rules: &str, car: &str, lines: &str) -> Compiled {
    compile_text(&format!(
        "circuit mire \"Mire\"  length 2 mile\nevent mire-1 2026-04-18..19 at mire \"M\"\nclass K-9 \"K\"\n{rules}car plumb \"Plumb\"  class K-9  units metric\n  usual weight 50..400 kg\n{car}\n2026-04-18 plumb at mire-1\n{lines}"
    ))
}

fn card(compiled: &Compiled) -> Rules {
    build(compiled, CarId::new(0), &moment::end(&compiled.history), None, None)
}

fn value(one: &RuleView) -> &str {
    one.value.as_ref().map_or("-", |value| value.text.as_str())
}

fn margin(one: &RuleView) -> &str {
    one.margin.as_ref().map_or("-", |margin| margin.text.as_str())
}

/// 2.5 mm over 400 mm, both wheels: asin(1.25 / 400) a wheel. It passes 3 mm by 0.5 mm, whatever the diameter is.
#[test]
fn a_length_of_toe_is_one_over_the_cars_own_diameter() {
    let rule = "rule t class K-9  toe front max 3 mm\n";
    for over in [250.0, 400.0, 635.0] {
        let compiled = book(rule, &format!("  toe-over {over} mm\n"), "  found toe-in front 2.5 mm total\n");
        let card = card(&compiled);
        let one = &card.rules[0];
        assert_eq!(
            (one.verdict, value(one), margin(one)),
            ("passes", "2.5 mm", "+0.5 mm"),
            "{over}: {one:?}"
        );
        let angle = one.value.as_ref().unwrap().value_si;
        assert!((angle - 2.0 * libm::asin(1.25 / over)).abs() < 1e-12, "{angle}");
        let most = one.max.as_ref().unwrap().value_si;
        assert!((most - 2.0 * libm::asin(1.5 / over)).abs() < 1e-12, "{most}");
    }
    // What its own line says stands before the car; both wheels together, 1.2 and 3.4 mm.
    let compiled = book(rule, "  toe-over 400 mm\n", "  found toe-in LF 1.2 RF 3.4 mm  over 600 mm\n");
    let card_of = card(&compiled);
    let one = &card_of.rules[0];
    assert_eq!((one.verdict, value(one), margin(one)), ("fails", "4.6 mm", "-1.6 mm"), "{one:?}");
    // Typed as an angle, and nobody knows over which diameter.
    let compiled = book(rule, "", "  found toe-in front 0.2 deg total\n");
    let card_of = card(&compiled);
    let one = &card_of.rules[0];
    assert_eq!((one.verdict, value(one), margin(one)), ("not-known", "-", "-"), "{one:?}");
    assert!(one.careful.iter().any(|words| words.starts_with("not known over which diameter")), "{one:?}");
}

/// The toe of an axle is the sum of its wheels, where both are known and newer than a total; a wheel's is its own, and not known once the axle's
/// total is newer. 1.5 + 1.5 is more than 2.
#[test]
fn the_toe_of_an_axle_is_the_sum_of_its_wheels() {
    let rules = "rule axle class K-9  toe front max 2 mm\nrule wheel class K-9  toe LF RF max 1.8 mm\n";
    let told = |lines: &str| {
        let compiled = book(rules, "  toe-over 400 mm\n", lines);
        let card = card(&compiled);
        let of = |name: &str| {
            let one = card.rules.iter().find(|one| one.rule == name).unwrap();
            format!("{} {} {}", one.verdict, value(one), margin(one))
        };
        (
            of("axle"),
            of("wheel"),
            compiled.diagnostics.iter().filter(|one| one.check == "over-maximum").count(),
        )
    };
    let of = |axle: &str, wheel: &str, over: usize| (axle.to_owned(), wheel.to_owned(), over);
    let wheels = "  read toe-in LF 1.5 RF 1.5 mm\n";
    assert_eq!(told(wheels), of("fails 3.0 mm -1.0 mm", "passes 1.5 mm +0.3 mm", 1));
    // Out at one wheel takes off what is in at the other.
    assert_eq!(
        told("  read toe-in LF 1.5 mm\n  read toe-out RF 0.5 mm\n"),
        of("passes 1.0 mm +1.0 mm", "passes 1.5 mm +0.3 mm", 0)
    );
    // Of one wheel nobody knows the axle's.
    assert_eq!(told("  read toe-in LF 1.5 mm\n").0, "no-reading - -");
    let total = format!("{wheels}  read toe-in front 1.2 mm total\n");
    assert_eq!(told(&total), of("passes 1.2 mm +0.8 mm", "not-known - -", 0));
    let one = format!("{total}  read toe-in LF 1.0 mm\n");
    assert_eq!(told(&one).0, "not-known - -");
    let both = format!("{one}  read toe-in RF 0.5 mm\n");
    assert_eq!(told(&both), of("passes 1.5 mm +0.5 mm", "passes 1.0 mm +0.8 mm", 0));
}

/// An angle and a length of toe are no two limits of one sort.
#[test]
fn limits_of_toe_are_held_against_their_own_sort() {
    let overlap = |second: &str| {
        let rules =
            format!("rule a class K-9  toe front min 0.5 deg\nrule b class K-9  toe front max {second}\n");
        let compiled = book(&rules, "  toe-over 400 mm\n", "");
        compiled.diagnostics.iter().any(|one| one.check.starts_with("rules-"))
    };
    assert!(overlap("0.2 deg"));
    assert!(!overlap("3 mm"));
}

#[test]
fn conditions_end_at_the_next_property() {
    let rule = |text: &str| book(&format!("rule e class K-9  {text}\n"), "", "");
    for text in [
        "total-weight min 600 kg with driver max 640 kg",
        "total-weight min 600 kg max 640 kg with driver",
        "total-weight with driver min 600 kg max 640 kg",
        "total-weight min 600 kg with driver, bars off max 640 kg until 2026-05-01",
        "total-weight min 600 kg with driver 78 kg max 640 kg from 2026-01-01",
    ] {
        let compiled = rule(text);
        let one = &compiled.book.rules.iter().next().unwrap();
        assert!(!one.broken && one.min.is_some() && one.max.is_some(), "{text}: {one:?}");
        assert_eq!(one.conditions.len(), 1 + usize::from(text.contains("bars")), "{text}");
        assert_eq!(one.until.is_some(), text.contains("until"), "{text}");
    }
    // So do those of a car's reference.
    let compiled = compile_text("car plumb \"Plumb\"  reference driver 76 kg, bars off drive rear\n");
    let car = compiled.book.cars.iter().next().unwrap();
    assert_eq!((car.reference.len(), car.driven().is_some()), (2, true));
}

/// 80, 95 and 90 C: the second is 5 C over, whether tyres carry it or not.
#[test]
fn every_number_of_three_counts() {
    for parts in ["", "kind rubber \"tyre\"  fits LF RF LR RR  carries tyre-temp\npart t1 rubber\n"] {
        let rules = format!("rule tr class K-9  tyre-temp max 90 C\n{parts}");
        let fit = if parts.is_empty() { "" } else { "  fit t1 LF\n" };
        let compiled = book(&rules, "", &format!("{fit}  read tyre-temp LF 80/95/90 C\n"));
        let card = card(&compiled);
        let one = &card.rules[0];
        assert_eq!(
            (one.verdict, value(one), margin(one)),
            ("fails", "95 C (second of three)", "-5 C"),
            "{one:?}"
        );
        let told = compiled.diagnostics.iter().any(|one| one.check == "over-maximum");
        assert!(told, "{:?}", compiled.diagnostics);
    }
}

/// LF and RF were read, LR and RR only set, to less: the nearest to the limit was not read.
#[test]
fn a_corner_that_was_only_set_is_not_read() {
    let compiled = book(
        "rule tp class K-9  tyre-cold min 1.5 bar\n",
        "",
        "  set tyre-cold LR 1.56 RR 1.56 bar\n  read tyre-cold LF 1.60 RF 1.60 bar\n",
    );
    let card = card(&compiled);
    let one = &card.rules[0];
    assert_eq!((one.verb, value(one), one.place.as_deref()), (Some("set"), "1.56 bar", Some("LR")));
    assert_eq!(one.line.as_ref().map(|line| line.line), Some(9));
    assert!(one.careful.contains(&"as set, not read: LR RR".to_owned()), "{one:?}");
}

/// 650 kg with 40 L on the pads, at 0.75 kg/L. s1 starts with 30 L and burns 10: 650 - 0.75 * 20 = 635 kg. s2 starts with 60 L: 657.5 kg,
/// which mends nothing of s1.
#[test]
fn a_later_session_mends_nothing() {
    let compiled = book(
        "rule w class K-9  weight-after-session min 640 kg\n",
        "",
        "  set fuel-density 0.75 kg/L\n  left weight 150 155 170 175 kg  with driver 78 kg, fuel 40 L\n  fill fuel 30 L\n  10:00..10:20 run s1  10 laps\n    read fuel-used 10 L\n  fill fuel 60 L\n  11:00..11:20 run s2  10 laps\n    read fuel-used 10 L\n",
    );
    let card = card(&compiled);
    let said: Vec<_> = card.readings.iter().map(|one| (one.verdict, one.mended)).collect();
    assert_eq!(said, [("fails", false), ("passes", false)]);
    let light = card.readings[0].value.as_ref().unwrap().value_si / 9.80665;
    assert!((light - 635.0).abs() < 1e-9, "{light}");
}

/// A session is judged by the rule of its own day, whatever was stated since.
#[test]
fn a_session_is_judged_by_the_rule_of_its_day() {
    let compiled = book(
        "rule a class K-9  weight-after-session min 640 kg  until 2026-05-01\nrule b class K-9  weight-after-session min 645 kg  from 2026-05-02\n",
        "",
        "  left weight 150 155 170 175 kg  with driver 78 kg, fuel 40 L\n  fill fuel 40 L\n  10:00..10:20 run s1  10 laps\n    read fuel-used 10 L\n\n2026-05-10 plumb\n  set fuel-density 0.72 kg/L\n",
    );
    assert!(
        !compiled.diagnostics.iter().any(|one| one.check == "under-minimum"),
        "{:?}",
        compiled.diagnostics
    );
    let card = card(&compiled);
    assert!(card.readings.iter().all(|one| one.rule == "a"), "{:?}", card.readings);
    // 650 less 0.745 * 10, at the default that stood then.
    let kilograms = card.readings[0].value.as_ref().unwrap().value_si / 9.80665;
    assert!((kilograms - 642.55).abs() < 1e-9, "{kilograms}");
}
