//! Readings themselves through `trace`: units as published, gauges and repeats.

use super::{close, trace};
use std::fmt::Write as _;

fn book(dimension: &str, typed: &str) -> String {
    format!(
        "car heron \"Heron\"\nquantity thing {dimension} car  \"a thing\"\n\n2025-05-03 heron\n  read thing {typed}\n"
    )
}

/// NIST SP 811 (2008), appendix B.8 and B.9, and NIST Handbook 44, appendix C: (kind, typed, SI value, what the published figure
/// supports).
const PUBLISHED: [(&str, &str, f64, f64); 25] = [
    ("force", "1 lbf", 4.448_222, 5e-7),
    ("stiffness", "1 lbf/in", 175.126_8, 5e-5),
    ("stiffness", "1 lbf/ft", 14.593_90, 5e-6),
    ("stiffness", "1 kgf/mm", 9806.65, 0.0),
    ("pressure", "1 psi", 6894.757, 5e-4),
    ("pressure", "14.50377 psi", 1e5, 0.04),
    ("pressure", "1 inHg", 3386.389, 5e-4),
    ("pressure", "1 inHg32F", 3386.38, 5e-3),
    ("pressure", "1 inHg60F", 3376.85, 5e-3),
    ("torque", "1 lbf.ft", 1.355_818, 5e-7),
    ("torque", "1 lbf.in", 0.112_984_8, 5e-8),
    ("power", "1 hp", 745.699_9, 5e-5),
    ("power", "1 PS", 735.498_75, 0.0),
    ("volume", "1 US-gal", 3.785_412e-3, 5e-10),
    ("volume", "1 UK-gal", 4.546_09e-3, 0.0),
    ("volume", "1 US-floz", 2.957_353e-5, 5e-12),
    ("specific-consumption", "1 lb/hp.h", 608.277_4 / 3.6e9, 5e-5 / 3.6e9),
    ("temperature", "72 F", 273.15 + 22.2222, 5e-5),
    ("temperature-difference", "10 F", 5.5556, 5e-5),
    ("consumption", "25 US-mpg", 9.408_58e-8, 5e-14),
    ("speed", "1 mph", 0.447_04, 0.0),
    ("speed", "1.609344 km/h", 0.447_04, 1e-12),
    ("length", "1 in", 0.0254, 0.0),
    ("mass", "1 lb", 0.453_592_37, 0.0),
    ("distance", "1 mile", 1609.344, 0.0),
];

#[test]
fn units_as_published() {
    for (dimension, typed, si, tolerance) in PUBLISHED {
        let (value, err) = trace(&book(dimension, typed), &["heron", "thing"]);
        assert!(value["value_si"].is_number(), "{typed}: {err}");
        close(&value, "value_si", si, tolerance + 1e-12 * si.abs());
    }
}

/// NIST SP 811: power is torque times angular speed; 400 N.m at 6000 rpm is 251.3274 kW.
#[test]
fn power_of_torque_and_speed() {
    let (torque, _) = trace(&book("torque", "400 N.m"), &["heron", "thing"]);
    let (speed, _) = trace(&book("rotation", "6000 rpm"), &["heron", "thing"]);
    let kilowatts = torque["value_si"].as_f64().unwrap() * speed["value_si"].as_f64().unwrap() / 1000.0;
    assert!((kilowatts - 251.3274).abs() < 5e-5, "{kilowatts}");
}

/// JCGM 100:2008 (GUM) 4.4.5: an error evenly within ± 4 °C has a standard uncertainty of 2.3 °C. A gauge that reads to 8 °C.
#[test]
fn a_gauge_is_rectangular() {
    let book = "gauge th \"thermometer\"  reads oil-temp  resolution 8 C\ncar heron \"Heron\"\n\n2025-05-03 heron\n  read oil-temp 96 C  by th\n";
    let (value, _) = trace(book, &["heron", "oil-temp"]);
    close(&value, "u_si", 2.31, 0.005);
}

/// NIST Statistical Reference Datasets, univariate: `NumAcc1`, `NumAcc3` and `NumAcc4`, certified mean and standard deviation.
#[test]
fn nist_numacc_as_repeats() {
    let alternating = |base: &str, digit: fn(usize) -> u32| {
        let mut typed = format!("{base}.2");
        for at in 0..1000 {
            write!(typed, ", {base}.{}", digit(at)).unwrap();
        }
        typed
    };
    let digit = |at: usize| if at.is_multiple_of(2) { 1 } else { 3 };
    let sets = [
        ("10000001, 10000003, 10000002".to_owned(), 10_000_002.0, 1.0, 3.0),
        (alternating("1000000", digit), 1_000_000.2, 0.1, 1001.0),
        (alternating("10000000", digit), 10_000_000.2, 0.1, 1001.0),
    ];
    for (typed, mean, s, n) in sets {
        let (value, err) = trace(&book("ratio", &typed), &["heron", "thing"]);
        assert!(value["value_si"].is_number(), "{err}");
        close(&value, "value_si", mean, 1e-8);
        let u: f64 = value["u_si"].as_f64().unwrap();
        assert!((u * f64::sqrt(n) - s).abs() < 1e-8, "{u}");
    }
}

/// NIST TN 1297, table B.1 (JCGM 100:2008, table G.2): t for 95 % by degrees of freedom, got back from the half-width of repeats
/// on the bench, whose spread is worked out here from its definition.
#[test]
fn t_table_from_repeats() {
    for (freedom, t) in
        [(1, 12.71), (2, 4.30), (3, 3.18), (4, 2.78), (5, 2.57), (10, 2.23), (20, 2.09), (50, 2.01)]
    {
        let values: Vec<f64> =
            (0..=freedom).map(|at| 70.0 + f64::from(at % 3) + f64::from(at % 2) * 0.5).collect();
        let n = values.len() as f64;
        let mean = values.iter().sum::<f64>() / n;
        let s = (values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>() / (n - 1.0)).sqrt();
        let typed: Vec<String> = values.iter().map(|value| format!("{value:.1}")).collect();
        let book = format!(
            "car heron \"Heron\"\nkind spring  fits LF on heron\npart sp-1 spring\n\n2025-05-03\n  bench sp-1 spring-rate {} N/mm\n",
            typed.join(", ")
        );
        let (value, err) = trace(&book, &["sp-1", "rate-half-width"]);
        let half = value["value"].as_f64().unwrap_or_else(|| panic!("{err}"));
        assert!((half / (s / n.sqrt()) - t).abs() < 5e-3, "{freedom}: {half}");
    }
}

#[test]
fn a_name_that_is_neither_is_told() {
    let (_, err) = trace(&book("ratio", "1"), &["heron", "thign"]);
    assert!(err.contains("no figure is called `thign`"), "{err}");
}

/// A tester of 1 psi divisions: 72 of 80 psi held. (1 + 72/80) / 80 of half a division each way is 0.0118755 of the supply, rectangular; in bar the
/// same. Half of a % where it says so.
#[test]
fn a_tester_may_say_its_divisions_as_a_pressure() {
    let read = |resolution: &str, typed: &str| {
        let book = format!(
            "gauge lk \"tester\"  reads leakdown  resolution {resolution}\ncar wren \"Wren\"\n  cylinders 4\n2026-05-02 wren\n  read leakdown {typed}  by lk\n"
        );
        assert!(crate::checks::compile_text(&book).diagnostics.is_empty(), "{resolution} {typed}");
        trace(&book, &["wren", "leakdown", "c1"]).0
    };
    let half = 0.5 * (1.0 + 0.9) / 80.0;
    let psi = read("1 psi", "72/80 73/80 74/80 75/80 psi");
    close(&psi, "u_si", half / 3f64.sqrt(), 1e-9);
    assert!(psi["sure"].as_str().unwrap().contains("lk reads to 1 psi"), "{psi}");
    close(&read("2 psi", "72/80 74/80 74/80 76/80 psi"), "u_si", 2.0 * half / 3f64.sqrt(), 1e-9);
    close(&read("1 %", "10 9 8 7 %"), "u_si", 0.005 / 3f64.sqrt(), 1e-9);
}

/// By a gauge of which nobody can read how fine it is a value is as unsure as by the coarsest that reads the like; where there is none it says so.
#[test]
fn a_gauge_whose_divisions_cannot_be_read_says_so() {
    let camber = |other: &str| {
        let book = format!(
            "gauge cg-1 \"one\"  reads camber  resolution 0.1 dex\n{other}car wren \"Wren\"\n2026-05-02 wren\n  read camber LF -2.00 deg  by cg-1\n"
        );
        trace(&book, &["wren", "camber", "LF"]).0
    };
    let coarse = camber("gauge cg-2 \"two\"  reads camber  resolution 0.5 deg\n");
    close(&coarse, "u_si", 0.25_f64.to_radians() / 3f64.sqrt(), 1e-9);
    assert!(coarse["sure"].as_str().unwrap().contains("as the coarsest"), "{coarse}");
    let alone = camber("");
    assert!(alone["u_si"].is_null() && alone["sure"].as_str().unwrap().contains("cannot be read"), "{alone}");
}

/// What is stated beside a reading is shown with the digits it was typed with; repeats that are all alike are no certainty.
#[test]
fn what_was_typed_is_shown_with_its_digits() {
    let book = "car wren \"Wren\"\n  reference driver 76 kg, fuel 20.5 L\n2026-05-02 wren\n  read weight 150 150 170 170 kg\n  set fuel 30 L\n";
    let now = trace(book, &["wren", "weight-now"]).0;
    let then = now["inputs"].as_array().unwrap().iter().find(|one| one["input"] == "fuel_then").unwrap();
    assert_eq!(then["shown"], "20.5 L", "{now}");
    let repeats = "car wren \"Wren\"\n2026-05-02 wren\n  read total-weight 640, 640 kg\n  read front-weight 47 %\n  read weight 150 150 170 170 kg\n";
    let whole = trace(repeats, &["wren", "total-weight"]).0;
    assert!(whole["u_si"].is_null(), "{whole}");
    // 46.875 % is what 47 % says; 46.4 % is not.
    assert!(trace(repeats, &["wren", "front-weight"]).0["caution"].is_null());
    let other = repeats.replace("47 %", "46.0 %");
    assert!(
        trace(&other, &["wren", "front-weight"]).0["caution"].as_str().unwrap().contains("not what was read")
    );
}
