//! Spellings: which unit a word means in which slot, and what is answered when it means none.

use super::unit;
use stringline::units::{DIMENSIONS, DimensionId as K, Found, UnitId, suggest, table, units_for};

fn symbols(ids: &[UnitId]) -> Vec<&'static str> {
    ids.iter().map(|id| id.get().symbol).collect()
}

fn ambiguous(spelling: &str, kind: K) -> Vec<&'static str> {
    match table().find(spelling, kind) {
        Found::Ambiguous(ids) => symbols(&ids),
        other => panic!("{spelling}: {other:?}"),
    }
}

#[test]
fn the_table_reads_without_a_fault() {
    assert_eq!(table().faults(), [""; 0]);
    assert!(table().all().count() >= 90);
    for (_, unit) in table().all() {
        assert!(unit.factor.is_finite() && unit.factor > 0.0, "{}", unit.symbol);
        assert_eq!(unit.dim, unit.kind.get().dim);
    }
}

#[test]
fn every_symbol_means_itself_and_every_usual_unit_is_one() {
    for (id, unit) in table().all() {
        assert_eq!(
            table().find(unit.symbol, unit.kind),
            Found::One(id),
            "{} {}",
            unit.symbol,
            unit.kind.name()
        );
    }
    for kind in DIMENSIONS.iter().map(|kind| K::by_name(kind.name).unwrap()) {
        for usual in units_for(kind).iter().filter(|usual| **usual != "a bare number") {
            assert!(table().find_one(usual, kind).is_some(), "{usual} for {}", kind.name());
        }
        assert_eq!(
            units_for(kind).contains(&"a bare number"),
            kind.get().bare && kind != K::HARDNESS && kind != K::TEXT
        );
    }
}

#[test]
fn only_measures_of_two_countries_are_ambiguous() {
    // SP 811 and HB 44 give US measures, the UK Weights and Measures Act 1985 the imperial ones.
    assert_eq!(ambiguous("gal", K::VOLUME), ["US-gal", "UK-gal"]);
    assert_eq!(ambiguous("GAL", K::FLUID), ["US-gal", "UK-gal"]);
    assert_eq!(ambiguous("qt", K::VOLUME), ["US-qt", "UK-qt"]);
    assert_eq!(ambiguous("pint", K::VOLUME), ["US-pint", "UK-pint"]);
    assert_eq!(ambiguous("floz", K::VOLUME), ["US-floz", "UK-floz"]);
    assert_eq!(ambiguous("mpg", K::CONSUMPTION), ["US-mpg", "UK-mpg"]);
    assert_eq!(ambiguous("lb/gal", K::DENSITY), ["lb/US-gal", "lb/UK-gal"]);
}

#[test]
fn no_other_spelling_is_ambiguous() {
    let words: std::collections::BTreeSet<&str> = include_str!("../../src/units/table.txt")
        .lines()
        .filter(|line| line.contains('|') && !line.starts_with('#'))
        .flat_map(|line| line.split('|').take(2).flat_map(str::split_whitespace))
        .collect();
    assert!(words.len() > 300);
    for word in &words {
        for kind in K::all() {
            if let Found::Ambiguous(ids) = table().find(word, kind) {
                let symbols = symbols(&ids).concat();
                assert!(
                    symbols.contains("US-") && symbols.contains("UK-"),
                    "{word} as {}: {symbols}",
                    kind.name()
                );
            }
            let _ = table().find(&word.to_uppercase(), kind);
        }
    }
}

#[test]
fn the_slot_decides() {
    for (spelling, kind, symbol) in [
        ("min", K::ANGLE, "arcmin"),
        ("min", K::TIME, "min"),
        ("g", K::MASS, "g"),
        ("g", K::ACCELERATION, "g"),
        ("C", K::TEMPERATURE, "C"),
        ("C", K::TEMPERATURE_DIFFERENCE, "C"),
        ("d", K::TIME, "d"),
        ("d", K::USE, "day"),
        ("min", K::USE, "min"),
        ("km", K::USE, "km"),
        ("mm", K::TOE, "mm"),
        ("min", K::TOE, "arcmin"),
        ("lb/in", K::STIFFNESS, "lbf/in"),
        ("lb-in", K::TORQUE, "lbf.in"),
        ("hole", K::COUNT, "hole"),
        ("clicks", K::COUNT, "click"),
    ] {
        assert_eq!(unit(spelling, kind).symbol, symbol, "{spelling} as {}", kind.name());
    }
}

#[test]
fn the_trades_spellings() {
    for (kind, symbol, spellings) in [
        (K::TORQUE, "lbf.ft", "lbf·ft lb-ft ft-lb lbf.ft ft.lbf lbft ftlb lb.ft ft·lb LB-FT"),
        (K::TORQUE, "lbf.in", "lbf·in lb-in in-lb inlb lbin"),
        (K::TORQUE, "N.m", "N·m N.m Nm N-m N*m nm NM"),
        (K::STIFFNESS, "lbf/in", "lbf/in lb/in lbs/in LB/IN"),
        (K::STIFFNESS, "kgf/mm", "kgf/mm kg/mm"),
        (K::SPECIFIC_CONSUMPTION, "lb/hp.h", "lb/hp·h lb/hp/h lb/(hp.h) lb/(hp·h) lb/hph"),
        (K::CONSUMPTION, "L/100km", "L/100km L/100_km l/100km"),
        (K::PRESSURE, "kgf/cm2", "kgf/cm2 kgf/cm² kgf/cm^2 kg/cm2"),
        (K::ACCELERATION, "m/s2", "m/s² m/s^2"),
        (K::TEMPERATURE, "C", "C °C degC c"),
        (K::TEMPERATURE, "F", "F °F degF f"),
        (K::ANGLE, "deg", "deg ° degrees"),
        (K::ANGLE, "arcmin", "arcmin ' ′ min"),
        (K::LENGTH, "32nds", "32nd 32nds"),
        (K::VOLUME_FLOW, "cc/min", "cc/min cm3/min cm³/min"),
        (K::PRESSURE, "psi", "PSI Psi"),
        (K::PRESSURE, "MPa", "mpa MPA"),
        (K::MASS, "kg", "KG Kg kgs"),
        (K::ROLL_STIFFNESS, "lbf.ft/deg", "lb-ft/deg lbf·ft/deg ft-lb/deg"),
        (K::RESISTANCE, "ohm", "ohm Ohms Ω"),
        (K::HEAT_CYCLES, "heat-cycle", "heat-cycle heat-cycles"),
    ] {
        for spelling in spellings.split(' ') {
            assert_eq!(unit(spelling, kind).symbol, symbol, "{spelling}");
        }
    }
}

#[test]
fn a_mass_stands_for_its_weight_where_a_force_is_wanted() {
    for kind in [K::WEIGHT, K::FORCE] {
        let kg = unit("kg", kind);
        assert!(kg.stands_for_weight);
        // Standard gravity, SP 811 table B.8.
        assert!((kg.to_si(1.0) - 9.806_65).abs() < 1e-15);
        assert_eq!(unit("N", kind).to_si(1.0).to_bits(), 1.0_f64.to_bits());
    }
    assert!(!unit("kg", K::MASS).stands_for_weight);
    assert!(matches!(table().find("N", K::MASS), Found::WrongKind(_)));
}

#[test]
fn other_kinds_and_unknown_words_are_told_apart() {
    let Found::WrongKind(ids) = table().find("kg", K::LENGTH) else { panic!() };
    assert_eq!(symbols(&ids), ["kg"]);
    let Found::WrongKind(ids) = table().find("PSI", K::LENGTH) else { panic!() };
    assert_eq!(symbols(&ids), ["psi"]);
    for word in ["", "mil", "furlong", "🏁", &"x".repeat(1 << 20)] {
        assert_eq!(table().find(word, K::LENGTH), Found::Unknown, "{word:.20}");
    }
    assert_eq!(
        table().find("mm", K::TEXT),
        Found::WrongKind(vec![table().find_one("mm", K::LENGTH).unwrap()])
    );
}

#[test]
fn suggestions() {
    assert_eq!(suggest("mil", K::LENGTH), Some("thou"));
    assert_eq!(suggest("kg", K::STIFFNESS), Some("kgf/mm"));
    assert_eq!(suggest("lb", K::STIFFNESS), Some("lb/in"));
    assert_eq!(suggest("pis", K::PRESSURE), Some("psi"));
    // One slip in a usual unit, and not the rare one that is as near: a mile.
    assert_eq!(suggest("mim", K::USE), Some("min"));
    assert_eq!(suggest("Nmm", K::STIFFNESS), Some("N/mm"));
    assert_eq!(suggest("degg", K::ANGLE), Some("deg"));
    assert_eq!(suggest("zzz", K::PRESSURE), None);
    assert_eq!(suggest(&"p".repeat(100_000), K::PRESSURE), None);
    assert_eq!(units_for(K::STIFFNESS), ["N/mm", "lb/in", "kgf/mm"]);
}

#[test]
fn every_hint_leads_to_a_unit() {
    let hints =
        include_str!("../../src/units/table.txt").lines().filter_map(|line| line.strip_prefix("hint "));
    let mut count = 0;
    for hint in hints {
        let [wrong, kind, right] = hint.split(' ').collect::<Vec<_>>()[..] else { panic!("{hint}") };
        let kind = K::by_name(kind).unwrap();
        assert!(!matches!(table().find(wrong, kind), Found::One(_)), "{hint}: is a unit");
        assert_eq!(suggest(wrong, kind), Some(right));
        assert!(table().find_one(right, kind).is_some(), "{hint}");
        count += 1;
    }
    assert!(count > 0);
}

#[test]
fn kinds_know_their_vectors() {
    assert_eq!(K::FORCE.get().dim.to_string(), "L M T-2");
    assert_eq!(K::LENGTH.get().dim.over(K::LENGTH.get().dim), K::RATIO.get().dim);
    assert_eq!(K::STIFFNESS.get().dim.times(K::LENGTH.get().dim), K::FORCE.get().dim);
    assert_eq!(
        K::FORCE.get().dim.times(K::LENGTH.get().dim).over(K::ANGLE.get().dim),
        K::ROLL_STIFFNESS.get().dim
    );
    assert_eq!(K::TOE.get().dims(), [K::ANGLE.get().dim, K::LENGTH.get().dim]);
    assert!(K::TEMPERATURE.get().affine() && !K::TEMPERATURE_DIFFERENCE.get().affine());
    assert!(K::TEXT.get().is_text() && !K::FLUID.get().is_text());
    assert_eq!(K::all().count(), DIMENSIONS.len());
    assert_eq!(K::by_name("furlongs"), None);
}
