//! Rates on the bench: points, repeats, tags, holes.

use super::{changes, close, demo, figure, missing, trace};
use serde_json::Value;
use stringline::figures::Calc;
use stringline::figures::bench::rates;

/// lbf/in in N/m: 0.45359237 x 9.80665 / 0.0254 (NIST SP 811).
pub const LBF_IN: f64 = 4.448_221_615_260_5 / 0.0254;

/// A book with a spring `sp-1` and these lines under a bench day.
pub fn spring(lines: &str) -> String {
    format!("kind spring \"spring\"  gives spring-rate\npart sp-1 spring\n\n2025-03-01\n{lines}")
}

/// A gap that closes, preload taken off: (215 - 46) / (1.500 - 0.502), never 215 / 0.998 (common practice).
#[test]
fn preload_is_taken_off_as_the_gap_closes() {
    let value = figure(
        &spring("  bench sp-1 spring-rate\n    points 1.500 in 46 lb, 0.502 in 215 lb\n"),
        &["sp-1", "spring-rate"],
    );
    close(&value, "value_si", 169.0 / 0.998 * LBF_IN, 1e-9 * 169.0 / 0.998 * LBF_IN);
    close(&value, "value", 169.338_677_354_709, 1e-9);
    assert_eq!(value["unit"], "lbf/in");
}

#[test]
fn another_gap() {
    let value = figure(
        &spring("  bench sp-1 spring-rate\n    points 1.375 in 10 lb, 0.375 in 47 lb\n"),
        &["sp-1", "spring-rate"],
    );
    close(&value, "value", 37.0, 1e-9);
}

/// Thermometer line fit of JCGM 100:2008 (GUM), H.3: slope 0.00218, u 0.00067; here as travel in mm and load in N.
#[test]
fn gum_h3_as_a_spring() {
    let t = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.010, 26.511];
    let b = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.160];
    let points: Vec<String> = t.iter().zip(b).map(|(t, b)| format!("{t} mm {b} N")).collect();
    let book = spring(&format!("  bench sp-1 spring-rate\n    points {}\n", points.join(", ")));
    let value = figure(&book, &["sp-1", "spring-rate"]);
    close(&value, "value", 0.00218, 5e-6);
    close(&value, "u", 0.00067, 5e-6);
}

/// NIST Statistical Reference Datasets, linear regression, Norris: slope and its standard deviation.
#[test]
fn nist_norris_as_a_spring() {
    let points: Vec<String> =
        super::uncertainty::NORRIS.iter().map(|(x, y)| format!("{x} mm {y} N")).collect();
    let book = spring(&format!("  bench sp-1 spring-rate\n    points {}\n", points.join(", ")));
    let value = figure(&book, &["sp-1", "spring-rate"]);
    close(&value, "value", 1.002_116_818_020_45, 1e-12);
    close(&value, "u", 0.429_796_848_199_937e-3, 1e-12);
}

/// Twenty readings of JCGM 100:2008 (GUM), 4.4.3: mean 100.145, s 1.489, u 0.333.
#[test]
fn gum_443_as_repeats() {
    let list: Vec<String> = super::uncertainty::GUM_443.iter().map(|x| format!("{x:.2}")).collect();
    let book = spring(&format!("  bench sp-1 spring-rate {} N/mm\n", list.join(", ")));
    let value = figure(&book, &["sp-1", "spring-rate"]);
    close(&value, "value", 100.145, 5e-4);
    close(&value, "u", 0.333, 5e-4);
    close(&figure(&book, &["sp-1", "rate-scatter"]), "value", 1.489, 5e-4);
}

/// Row by row: (loads - preload) / travel; mean, s and t s / sqrt(n), t of 2 degrees of freedom 4.303 (GUM table G.2).
#[test]
fn demo_springs() {
    let rows = [
        ("sp-01", 69.37, 0.15, 0.38, -0.90),
        ("sp-02", 69.77, 0.21, 0.52, -0.33),
        ("sp-03", 78.43, 0.25, 0.63, -1.96),
        ("sp-04", 80.13, 0.25, 0.63, 0.17),
        ("sp-05", 402.0, 2.0, 5.0, -1.95),
    ];
    for (part, mean, s, half, tag) in rows {
        close(&demo(&[part, "spring-rate"]), "value", mean, 0.005_01);
        close(&demo(&[part, "rate-scatter"]), "value", s, 0.005_01);
        close(
            &demo(&[part, "rate-half-width"]),
            "value",
            half,
            if part == "sp-05" { 0.05 } else { 0.005_01 },
        );
        close(&demo(&[part, "tag-error"]), "value", tag, 0.005_01);
    }
    let singles: Vec<f64> = rates_under(&demo(&["sp-01", "spring-rate"]));
    for (got, wanted) in singles.iter().zip([69.40, 69.20, 69.50]) {
        assert!((got - wanted).abs() < 1e-9, "{got} {wanted}");
    }
}

/// The values of a mean's inputs.
fn rates_under(value: &Value) -> Vec<f64> {
    value["inputs"].as_array().unwrap().iter().map(|one| one["value"].as_f64().unwrap()).collect()
}

#[test]
fn demo_blade_position_by_position() {
    for (hole, mean, s, half) in
        [("1", 23.79, 0.26, 0.65), ("3", 39.75, 0.45, 1.12), ("5", 58.88, 0.25, 0.62)]
    {
        let with = format!("bar-hole {hole}");
        close(&demo(&["bl-02", "bar-rate", "--with", &with]), "value", mean, 0.005_01);
        close(&demo(&["bl-02", "rate-scatter", "--with", &with]), "value", s, 0.005_01);
        close(&demo(&["bl-02", "rate-half-width", "--with", &with]), "value", half, 0.005_01);
    }
    // The void repeat is not used: with it the mean would be 60.44.
    assert_eq!(rates_under(&demo(&["bl-02", "bar-rate", "--with", "bar-hole 5"])).len(), 3);
    // Each wheel feels twice the blade in roll.
    let one = demo(&["bl-02", "bar-rate", "--with", "bar-hole 3"])["value_si"].as_f64().unwrap();
    close(&demo(&["bl-02", "bar-rate-in-roll", "--with", "bar-hole 3"]), "value_si", 2.0 * one, 1e-9);
}

fn bar(lines: &str) -> String {
    format!("kind bar \"bar\"  gives bar-rate\npart br-1 bar\n\n2025-03-01\n{lines}")
}

#[test]
fn benched_in_roll_is_halved() {
    let book = bar("  bench br-1 bar-rate 600 lb/in  with in-roll\n");
    close(&figure(&book, &["br-1", "bar-rate"]), "value", 300.0, 1e-9);
}

/// Lever 10 % longer: rate over 1.21 (the bar's twist alone, Shigley ch. 3).
#[test]
fn a_hole_by_its_arm() {
    let book = bar(
        "  bench br-1 bar-rate 40 N/mm  with bar-hole 2\n  bench br-1 bar-arm 200 mm  with bar-hole 2\n  bench br-1 \
                    bar-arm 220 mm  with bar-hole 1\n  bench br-1 bar-rate 34 N/mm  with bar-hole 1\n",
    );
    let value = figure(&book, &["br-1", "hole-rate-by-arm", "--with", "bar-hole 1"]);
    close(&value, "value", 40.0 / 1.21, 1e-9);
    let value = figure(&book, &["br-1", "hole-rate-error", "--with", "bar-hole 1"]);
    close(&value, "value", (34.0 / (40.0 / 1.21) - 1.0) * 100.0, 1e-9);
}

#[test]
fn the_rate_book_and_its_finder() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026");
    let world = stringline::source::Disk { root };
    let compiled = stringline::compile(&world).unwrap();
    let end = stringline::history::moment::end(&compiled.history);
    let none = stringline::book::model::CarId::new(u32::MAX);
    let mut calc = Calc::new(compiled.facts(), none, &end);
    let bars = rates::rates(&mut calc, "bar-rate");
    // Four blades: three positions of each of three, two of the last.
    assert_eq!(bars.len(), 11);
    assert!(bars.windows(2).all(|pair| pair[0].rate.value <= pair[1].rate.value));
    let name = |at: usize| (&*compiled.book.parts[bars[at].part].named.name, bars[at].hole);
    assert_eq!(name(0), ("bl-01", Some(1.0)));
    assert_eq!(name(10), ("bl-03", Some(5.0)));
    let [soft, stiff] = rates::span(&bars, 24_000.0, 60_000.0).unwrap();
    assert_eq!(name(soft.0), ("bl-02", Some(1.0)));
    assert_eq!(name(stiff.0), ("bl-02", Some(5.0)));
    assert!(rates::nearest(&bars, 0.0).is_none());
    assert_eq!(rates::rates(&mut calc, "spring-rate").len(), 5);
}

#[test]
fn arm_for_a_wanted_rate() {
    let book = bar("  bench br-1 bar-rate 40 N/mm\n  bench br-1 bar-arm 200 mm\n");
    let compiled = crate::checks::compile_text(&book);
    let end = stringline::history::moment::end(&compiled.history);
    let none = stringline::book::model::CarId::new(u32::MAX);
    let mut calc = Calc::new(compiled.facts(), none, &end);
    let part = stringline::book::model::PartId::new(0);
    // A quarter of the rate wants twice the arm.
    assert!((rates::arm_for(&mut calc, part, 10_000.0).unwrap().value - 0.4).abs() < 1e-12);
    assert!(rates::arm_for(&mut calc, part, 0.0).is_err());
}

#[test]
fn bad_rows_give_no_rate() {
    let of = |lines: &str| missing(&spring(lines), &["sp-1", "spring-rate"]);
    assert!(of("").contains("bench reading of spring-rate of sp-1"));
    assert!(of("  bench sp-1 spring-rate\n    points 10 mm 60 N, 10 mm 500 N\n").contains("travel"));
    assert!(of("  bench sp-1 spring-rate\n    points 0 mm 500 N, 30 mm 60 N\n").contains("grows"));
    let void =
        of("  bench sp-1 spring-rate\n    points 0 mm 60 N, 30 mm 500 N\n      void because it slipped\n");
    assert!(void.contains("not void"), "{void}");
    assert!(of("  bench sp-1 spring-rate\n    points 0 mm 60 N, 30 mm\n").contains("put right"));
    let one = missing(&spring("  bench sp-1 spring-rate 70 N/mm\n"), &["sp-1", "rate-half-width"]);
    assert!(one.contains("second"), "{one}");
    let tag = missing(&spring("  bench sp-1 spring-rate 70 N/mm\n"), &["sp-1", "tag-error"]);
    assert!(tag.contains("a tag of spring-rate of sp-1"), "{tag}");
    let (negative, _) = trace(&spring("  bench sp-1 spring-rate -70 N/mm\n"), &["sp-1", "spring-rate"]);
    assert!(negative["missing"].is_array(), "{negative}");
    let bar = missing(&bar(""), &["br-1", "bar-rate"]);
    assert!(bar.contains("bench reading of bar-rate") && bar.contains("bar-diameter"), "{bar}");
}

#[test]
fn a_hole_must_be_said_where_there_are_several() {
    let book = bar(
        "  bench br-1 bar-rate 40 N/mm  with bar-hole 2\n  bench br-1 bar-rate 30 N/mm  with bar-hole 1\n",
    );
    assert!(missing(&book, &["br-1", "bar-rate"]).contains("benched at 1, 2"));
    close(&changes(&book, &["br-1", "bar-rate", "--with", "bar-hole 2"]), "value", 40.0, 1e-9);
    assert!(missing(&book, &["br-1", "bar-rate", "--with", "bar-hole 7"]).contains("hole 7"));
}

#[test]
fn a_stated_tolerance_is_the_standard_uncertainty() {
    let book = spring("  bench sp-1 spring-rate 71.2 ± 0.4 N/mm\n");
    let value = figure(&book, &["sp-1", "spring-rate"]);
    close(&value, "value", 71.2, 1e-9);
    close(&value, "u", 0.4, 1e-6);
}
