//! Numbers as typed and as shown.

use proptest::prelude::*;
use stringline::units::number::{decimals_for, format};
use stringline::units::{DimensionId as K, Form, Number, NumberTrouble, Quantity, table};

fn number(text: &str) -> Number {
    Number::parse(text).unwrap_or_else(|trouble| panic!("{text}: {trouble:?}"))
}

fn trouble(text: &str) -> NumberTrouble {
    match Number::parse(text) {
        Ok(number) => panic!("{text}: {number:?}"),
        Err(trouble) => trouble,
    }
}

#[test]
fn decimals() {
    for (text, value, half, decimals, signed) in [
        ("-3.2", -3.2, 0.05, 1, true),
        ("+0.85", 0.85, 0.005, 2, true),
        ("\u{2212}2", -2.0, 0.5, 0, true),
        (".5", 0.5, 0.05, 1, false),
        ("1200", 1200.0, 0.5, 0, false),
        ("1.020", 1.02, 0.0005, 3, false),
        ("0", 0.0, 0.5, 0, false),
    ] {
        let typed = Number { value, half, form: Form::Decimal, signed, decimals };
        assert_eq!(number(text), typed, "{text}");
    }
}

#[test]
fn fractions_of_a_ruler() {
    for (text, value, half) in [
        ("5 3/16", 5.1875, 1.0 / 32.0),
        ("5-3/16", 5.1875, 1.0 / 32.0),
        ("+1/4", 0.25, 1.0 / 8.0),
        ("3/32", 0.09375, 1.0 / 64.0),
        ("-5 3/16", -5.1875, 1.0 / 32.0),
        ("63/64", 0.984_375, 1.0 / 128.0),
        ("1/2", 0.5, 0.25),
    ] {
        let ours = number(text);
        assert_eq!((ours.value, ours.half, ours.form), (value, half, Form::Fraction), "{text}");
        assert_eq!(format(ours.value, ours.decimals).parse::<f64>(), Ok(value), "{text}");
    }
}

#[test]
fn other_slashes_are_several_numbers() {
    let parts = |text: &str| match trouble(text) {
        NumberTrouble::NotOneNumber { parts } => parts.iter().map(|part| part.value).collect::<Vec<_>>(),
        other => panic!("{text}: {other:?}"),
    };
    assert_eq!(parts("41/11"), [41.0, 11.0]);
    assert_eq!(parts("60/80"), [60.0, 80.0]);
    assert_eq!(parts("71/78/84"), [71.0, 78.0, 84.0]);
    assert_eq!(parts("1.71/1.80"), [1.71, 1.80]);
    assert_eq!(parts("-3/7.5"), [-3.0, 7.5]);
    assert_eq!(parts("5/0"), [5.0, 0.0]);
    assert_eq!(trouble("5/12"), NumberTrouble::FractionOffRuler { numerator: 5, denominator: 12 });
    let pair = Number::parse_parts("3/16").unwrap();
    assert_eq!(pair.iter().map(|part| part.value).collect::<Vec<_>>(), [3.0, 16.0]);
    for word in ["205/55R16", "5//8", "/8", "5/", "1/2/3/4/5/6/7/8/9"] {
        assert!(matches!(trouble(word), NumberTrouble::NotANumber | NumberTrouble::Empty), "{word}");
    }
}

#[test]
fn an_improper_fraction_offers_what_was_meant() {
    let improper = trouble("13/8");
    assert_eq!(
        improper,
        NumberTrouble::FractionImproper { numerator: 13, denominator: 8, whole: 1, rest: 5 }
    );
    assert_eq!(improper.readings(), ["1 3/8", "1 5/8"]);
    assert_eq!(trouble("113/16").readings(), ["11 3/16", "1 13/16", "7 1/16"]);
    assert_eq!(trouble("16/8").readings(), ["2"]);
    assert_eq!(trouble("5 13/8").readings(), ["6 5/8"]);
    assert!(trouble("5/12").readings().is_empty());
}

#[test]
fn degrees_and_minutes() {
    for (text, value) in [
        ("5°54'", 5.9),
        ("5d54'", 5.9),
        ("5d54", 5.9),
        ("5°54′", 5.9),
        ("-0d21.5'", -21.5 / 60.0),
        ("+12d0'", 12.0),
    ] {
        let ours = number(text);
        assert!((ours.value - value).abs() < 1e-15, "{text}: {}", ours.value);
        assert_eq!(ours.form, Form::DegreesMinutes);
    }
    assert!((number("5d54").half - 0.5 / 60.0).abs() < 1e-17);
    assert!((number("-0d21.5'").half - 0.05 / 60.0).abs() < 1e-17);
    assert_eq!(trouble("5d60'"), NumberTrouble::MinutesRange);
    for word in ["5d", "5d'", "d5", "5.5d30", "5d-3", "5d5d5"] {
        assert_eq!(trouble(word), NumberTrouble::NotANumber, "{word}");
    }
}

#[test]
fn laps() {
    let lap = Number::parse_lap("1:08.42").unwrap();
    assert_eq!(lap, Number { value: 68.42, half: 0.005, form: Form::Lap, signed: false, decimals: 2 });
    assert_eq!(Number::parse_lap("67.18").unwrap().value.to_bits(), 67.18_f64.to_bits());
    assert_eq!(Number::parse_lap("10:00").unwrap().value.to_bits(), 600.0_f64.to_bits());
    assert_eq!(Number::parse_lap("1:75.0"), Err(NumberTrouble::SecondsRange));
    for word in ["1:8.42", "1:", ":08", "1:02:03", "-1:08.4", "1.5:08", "fast"] {
        assert_eq!(Number::parse_lap(word), Err(NumberTrouble::NotANumber), "{word}");
    }
    assert_eq!(Number::parse_lap(""), Err(NumberTrouble::Empty));
}

#[test]
fn what_is_no_number() {
    assert_eq!(trouble("3,2"), NumberTrouble::DecimalComma);
    assert_eq!(trouble(""), NumberTrouble::Empty);
    assert_eq!(trouble("-"), NumberTrouble::Empty);
    assert_eq!(trouble(&"9".repeat(25)), NumberTrouble::TooLong);
    assert_eq!(trouble(&format!("0.{}", "1".repeat(30))), NumberTrouble::TooLong);
    for word in [
        "inf",
        "nan",
        "NaN",
        "-infinity",
        "1e5",
        "1E5",
        "0x10",
        "1_000",
        "5.",
        ".",
        "--3",
        "+-3",
        " 3",
        "3 ",
        "٣",
    ] {
        assert_eq!(trouble(word), NumberTrouble::NotANumber, "{word:?}");
    }
}

#[test]
fn shown_with_fixed_decimals() {
    assert_eq!(format(-3.2, 1), "-3.2");
    assert_eq!(format(3.0, 2), "3.00");
    assert_eq!(format(-0.04, 1), "0.0");
    assert_eq!(format(-0.0, 0), "0");
    assert_eq!(format(1.0, 255).len(), 24);
    assert_eq!(decimals_for(0.05), 1);
    assert_eq!(decimals_for(0.02), 2);
    assert_eq!(decimals_for(3.0), 0);
    assert_eq!(decimals_for(0.0), 12);
}

#[test]
fn quantities_agree_within_half_of_the_last_digit() {
    let quantity = |text: &str, unit: &str, kind| Quantity {
        number: number(text),
        unit: table().find_one(unit, kind).unwrap(),
    };
    let typed = quantity("26", "psi", K::PRESSURE);
    assert!(typed.agrees(quantity("1.79", "bar", K::PRESSURE), 0.0));
    assert!(!typed.agrees(quantity("1.9", "bar", K::PRESSURE), 0.0));
    assert!(typed.agrees(quantity("1.9", "bar", K::PRESSURE), 20_000.0));
    assert!(quantity("3.2", "mm", K::LENGTH).agrees(quantity("3.25", "mm", K::LENGTH), 0.0));
    let warm = quantity("20", "C", K::TEMPERATURE);
    assert!((warm.half_si() - 0.5).abs() < 1e-15);
    assert!((warm.value_in(table().find_one("F", K::TEMPERATURE).unwrap()) - 68.0).abs() < 1e-12);
    // 25 mpg typed whole: half a mile a gallon is 2 % of 9.40858 L/100 km.
    let thirsty = quantity("25", "US-mpg", K::CONSUMPTION);
    assert!((thirsty.half_si() / thirsty.si() - 0.02).abs() < 1e-12);
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_text_makes_it_panic(text in "\\PC*") {
        let _ = (Number::parse(&text), Number::parse_parts(&text), Number::parse_lap(&text));
    }

    #[test]
    fn no_text_like_a_number_makes_it_panic(text in "[-+\u{2212}0-9./ d°'′:,e]{0,40}") {
        for read in [Number::parse(&text), Number::parse_lap(&text)] {
            if let Ok(number) = read {
                prop_assert!(number.value.is_finite() && number.half > 0.0);
            } else if let Err(trouble) = read {
                let _ = trouble.readings();
            }
        }
        if let Ok(parts) = Number::parse_parts(&text) {
            prop_assert!(!parts.is_empty());
        }
    }

    #[test]
    fn a_number_shown_reads_back(value in -1e9..1e9_f64, decimals in 0..9_u8) {
        let text = format(value, decimals);
        let read = number(&text);
        prop_assert_eq!(read.decimals, decimals);
        prop_assert!((read.value - value).abs() <= read.half * (1.0 + 1e-6) + value.abs() * f64::EPSILON);
        prop_assert_eq!(format(read.value, decimals), text);
    }

    #[test]
    fn every_ruler_fraction_is_exact(whole in 0..1000_u32, power in 1..=6_u32, n in 0..64_u32) {
        let d = 1 << power;
        let n = n % d;
        let read = number(&std::format!("{whole} {n}/{d}"));
        prop_assert_eq!(read.value.to_bits(), (f64::from(whole * d + n) / f64::from(d)).to_bits());
    }

    #[test]
    fn units_convert_there_and_back(index in 0..1000_usize, value in 0.001..1e6_f64) {
        let units: Vec<_> = table().all().collect();
        let (_, unit) = units[index % units.len()];
        let back = unit.from_si(unit.to_si(value));
        let room = (value.abs() + (unit.offset / unit.factor).abs()) * 1e-12;
        prop_assert!((back - value).abs() <= room, "{}: {} {}", unit.symbol, value, back);
    }
}

/// A half goes away from zero, also where a way through metres has put it a hair beside it: 2 3/8 in and 2 1/8 in, one way each time.
#[test]
fn a_half_is_rounded_one_way() {
    use stringline::units::number::format;
    for (inches, shown) in [(2.375, "2.38"), (2.125, "2.13"), (-2.125, "-2.13")] {
        let there_and_back = [
            inches,
            inches * 0.0254 / 0.0254,
            (inches + 90.0) - 90.0,
            (inches * 0.0254 + 2.0 - 2.0) / 0.0254,
        ];
        for value in there_and_back {
            assert_eq!(format(value, 2), shown, "{value:.17}");
        }
    }
    assert_eq!(
        (format(10.25, 1), format(0.5, 0), format(2.374_9, 2)),
        ("10.3".into(), "1".into(), "2.37".into())
    );
}
