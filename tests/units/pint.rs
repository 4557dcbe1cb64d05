//! Every unit that pint can express, against pint (`tests/oracles/pint_units.py`, fixture names its version).

use super::near;
use serde::Deserialize;
use std::collections::BTreeMap;
use stringline::units::{DimensionId, table};

#[derive(Deserialize)]
struct Fixture {
    pint: String,
    factors: BTreeMap<String, (f64, f64)>,
}

/// Kinds that pint has no words for: each is a count of its own things.
const COUNTS: [&str; 10] = [
    "count",
    "click",
    "position",
    "hardness",
    "laps",
    "days",
    "events",
    "sessions",
    "launches",
    "heat-cycles",
];

/// Units of other kinds left out, and why.
const LEFT_OUT: [(&str, &str); 2] = [
    ("inHg32F", "pint has no such unit"),
    ("inHg60F", "ours is SP 811's rounded value; pint multiplies a rounded density"),
];

#[test]
fn factors_agree_with_pint() {
    let fixture: Fixture = serde_json::from_str(include_str!("../fixtures/units/pint.json")).unwrap();
    assert_eq!(fixture.pint, "0.25.3");
    let mut compared = 0;
    for (_, unit) in table().all() {
        let kind = if unit.stands_for_weight { DimensionId::WEIGHT } else { unit.kind };
        let key = format!("{}/{}", kind.name(), unit.symbol);
        let Some((factor, offset)) = fixture.factors.get(&key) else {
            let known =
                COUNTS.contains(&kind.name()) || LEFT_OUT.iter().any(|(symbol, _)| *symbol == unit.symbol);
            assert!(known, "{key} is compared with nothing");
            continue;
        };
        near(&key, unit.factor, *factor, 1e-12);
        near(&format!("{key} offset"), unit.offset, *offset, 1e-12);
        compared += 1;
    }
    assert!(compared >= 80, "{compared}");
    assert_eq!(compared, fixture.factors.len(), "a factor of pint's has no unit of ours");
}
