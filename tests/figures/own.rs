//! A shop's own figures: declared in the book, they are worked out, doubted, supposed, ruled on and read as ours are.

use super::{changes, close, figure, missing, trace};

/// Oval girth-split from two circumferences: 88.5 in less 86.25 in is 2.25 in (arithmetic).
const STAGGER: &str = "car wren \"Wren\"
figure girth-split length axle  area tyres  show mm, in  \"right circumference less left\"
  is c_r - c_l
  c_r = tyre-circumference right
  c_l = tyre-circumference left
  source \"common practice\"
  convention \"positive: the right tyre is the bigger one\"

2025-05-03 wren
";

#[test]
fn stagger_of_two_circumferences() {
    let book =
        format!("{STAGGER}  read tyre-circumference LR 86 1/4 in\n  read tyre-circumference RR 88 1/2 in\n");
    let value = figure(&book, &["wren", "girth-split", "rear"]);
    close(&value, "value_si", 2.25 * 0.0254, 1e-12);
    assert_eq!(value["unit"], "mm");
    assert_eq!(value["formula"]["expression"], "c_r - c_l");
    assert_eq!(value["formula"]["source"], "common practice");
    // What was not read is worked out from the size: pi times 24.98 in of 205/70R15 (ISO 4000-1).
    let sized = format!("{STAGGER}  set tyre-size LR 205/70R15\n  read tyre-circumference RR 2000 mm\n");
    let diameter = 15.0 * 25.4 + 2.0 * 205.0 * 0.7;
    close(
        &figure(&sized, &["wren", "girth-split", "rear"]),
        "value",
        2000.0 - std::f64::consts::PI * diameter,
        1e-9,
    );
    assert!(missing(&sized, &["wren", "girth-split", "front"]).contains("tyre-size"));
}

#[test]
fn a_value_supposed_moves_it() {
    let book =
        format!("{STAGGER}  read tyre-circumference LR 2000 mm\n  read tyre-circumference RR 2040 mm\n");
    let words = ["wren", "girth-split", "rear", "--with", "tyre-circumference RR 2050 mm"];
    close(&trace(&book, &words).0, "value", 50.0, 1e-9);
}

/// Two readings, each good to 1 mm, rectangular: u is sqrt(2) of 0.5 mm over sqrt(3) (GUM 4.3.7, 5.1.2).
#[test]
fn it_is_as_sure_as_its_readings() {
    let book = format!(
        "gauge tape \"tape\"  reads tyre-circumference  resolution 1 mm\n{STAGGER}  read tyre-circumference LR 2000 RR 2040 mm  by tape\n"
    );
    close(&figure(&book, &["wren", "girth-split", "rear"]), "u", (2.0_f64).sqrt() * 0.5 / 3f64.sqrt(), 1e-9);
}

/// What is read under a figure's name is that figure, unless what it is worked out from was read later.
#[test]
fn read_before_worked_out() {
    let pads = "car wren \"Wren\"\n2025-05-03 wren\n  left weight 200 200 200 200 kg\n";
    let book = format!("{pads}  read total-weight 803 kg\n");
    let value = changes(&book, &["wren", "total-weight"]);
    close(&value, "value", 803.0, 1e-9);
    assert_eq!(value["status"], "measured");
    assert!(value["caution"].as_str().unwrap().contains("800"), "{value}");
    let later = format!("{book}2025-06-03 wren\n  left weight 201 201 201 201 kg\n");
    let value = trace(&later, &["wren", "total-weight"]).0;
    close(&value, "value", 804.0, 1e-9);
    assert!(value["caution"].as_str().unwrap().contains("803"), "{value}");
    // A figure that the vocabulary has no quantity for may be read all the same.
    let read = format!("{pads}  read weight-after-session 790 kg\n");
    close(&figure(&read, &["wren", "weight-after-session"]), "value", 790.0, 1e-9);
    // A target is no reading.
    let target = format!("{pads}  set cross-weight 52 %\n");
    close(&trace(&target, &["wren", "cross-weight"]).0, "value", 50.0, 1e-9);
    assert!(
        missing("car wren \"Wren\"\n2025-05-03 wren\n  set cross-weight 52 %\n", &["wren", "cross-weight"])
            .contains("weight")
    );
}

/// The height of the centre of gravity found by lifting an axle reaches the brakes: 0.5 + 0.8 g * 0.5 m / 2.5 m = 66 %.
#[test]
fn a_height_by_lifting_reaches_the_brakes() {
    let stated = "car wren \"Wren\"\n2025-05-03 wren\n  set wheelbase 2500 mm\n  left weight 200 200 200 200 kg\n  set deceleration 0.8 g\n  set cg-height 500 mm\n";
    close(&figure(stated, &["wren", "ideal-brake-share"]), "value", 66.0, 1e-9);
    let lifted = stated.replace(
        "  set cg-height 500 mm\n",
        "  read cg-height\n    lift rear 250 mm front 420 kg radius 300 mm\n",
    );
    // Lifted by a tenth of the base: the radius, and 20 kg on 2.5 m over 800 kg times the slope (ISO 10392:2011).
    let height = 0.3 + 20.0 * 2.5 / (800.0 * 0.1 / 0.99_f64.sqrt());
    close(&trace(&lifted, &["wren", "cg-height"]).0, "value_si", height, 1e-9);
    close(
        &figure(&lifted, &["wren", "ideal-brake-share"]),
        "value",
        (0.5 + 0.8 * height / 2.5) * 100.0,
        1e-9,
    );
}

/// Division by nothing, a root of less than nothing: missing with the reason, never infinite.
#[test]
fn no_result_is_missing() {
    for formula in ["1 / (x - x)", "sqrt(x - 2 * x)", "ln(x - x)", "asin(x * 4)"] {
        let kind = if formula.starts_with("asin") { "angle" } else { "ratio" };
        let book = format!(
            "car wren \"Wren\"\nfigure odd {kind} car\n  is {formula}\n  x = left-weight\n2025-05-03 wren\n  read left-weight 50 %\n"
        );
        assert!(missing(&book, &["wren", "odd"]).contains("no result with these"), "{formula}");
    }
}

/// A figure that would need itself through one that the program works out is missing, not endless; as it was read it is there.
#[test]
fn a_circle_through_the_program_is_missing() {
    let book = "car wren \"Wren\"  toe-over 400 mm\nfigure toe toe corner axle\n  is atan(x / 100 m)\n  x = toe-measured-over\n2025-05-03 wren\n  set camber LF -2 deg\n";
    let said = missing(book, &["wren", "toe", "LF"]);
    assert!(said.contains("would need itself: toe, from toe-measured-over, from toe"), "{said}");
    let read = format!("{book}  read toe-in LF 0.5 deg\n");
    close(
        &trace(&read, &["wren", "toe-length", "LF"]).0,
        "value",
        400.0 * libm::sin(0.5_f64.to_radians()),
        1e-9,
    );
}

/// One value supposed after another: each is worked out anew.
#[test]
fn one_value_supposed_after_another() {
    let book =
        format!("{STAGGER}  read tyre-circumference LR 2000 mm\n  read tyre-circumference RR 2040 mm\n");
    let compiled = crate::checks::compile_text(&book);
    let end = stringline::history::moment::end(&compiled.history);
    let car = stringline::book::model::CarId::new(0);
    let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &end);
    let (rear, right) = (stringline::book::place::Place::REAR, stringline::book::place::Place::RR);
    for wide in [2.04, 2.05, 2.06, 2.05] {
        calc.suppose("tyre-circumference", right, wide).unwrap();
        let value = calc.named("girth-split", rear).unwrap().value;
        assert!((value - (wide - 2.0)).abs() < 1e-12, "{wide}: {value}");
        calc.what_if.clear();
    }
}

/// How sure a reading is cannot be told where no gauge is named: it is not taken for certain, nor for as unsure as the other.
#[test]
fn a_reading_without_a_gauge_is_not_sure() {
    let book = |gauge: &str| {
        format!(
            "gauge pads \"pads\"  reads weight  resolution 20 kg\ngauge scale \"scale\"  reads total-weight  resolution 1 kg\ncar wren \"Wren\"\n2025-05-03 wren\n  left weight 200 200 200 200 kg  by pads\n  read total-weight 803 kg{gauge}\n"
        )
    };
    // The pads' sum is good to 2 * 20 / sqrt(12) = 11.5 kg: 3 kg are within twice that.
    assert_eq!(trace(&book("  by scale"), &["wren", "total-weight"]).0["caution"], serde_json::Value::Null);
    let unsure = trace(&book(""), &["wren", "total-weight"]).0;
    assert!(unsure["caution"].as_str().unwrap().contains("800"), "{unsure}");
}

/// A name is the same however its accents are typed (Unicode Standard Annex 15), in a formula, in another figure and in a rule.
#[test]
fn an_accent_is_one_letter_however_typed() {
    let spellings = ["d\u{e9}port", "de\u{301}port", "D\u{c9}PORT", "DE\u{301}PORT"];
    for one in spellings {
        for other in spellings {
            let book = format!(
                "car wren \"Wren\"  class OV-1\nfigure {one} length car\n  is {one}_1 * 2\n  {other}_1 = wheelbase\nfigure again length car\n  is x * 1\n  x = {other}\nrule far class OV-1  {other} max 4 m\n2025-05-03 wren\n  set wheelbase 2500 mm\n"
            );
            close(&trace(&book, &["wren", "again"]).0, "value_si", 5.0, 1e-12);
            let compiled = crate::checks::compile_text(&book);
            let names: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
            assert_eq!(names, ["over-maximum"], "{one} {other}");
        }
    }
}

/// A rule on a shop's own figure is judged like any other.
#[test]
fn a_rule_on_ones_own_figure() {
    let book = format!(
        "{}  read tyre-circumference LR 2000 RR 2090 mm\n",
        STAGGER.replace(
            "\"Wren\"\n",
            "\"Wren\"  class OV-1\nrule girth-split-limit class OV-1  girth-split rear max 80 mm\n"
        )
    );
    let compiled = crate::checks::compile_text(&book);
    let names: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert!(names.contains(&"over-maximum"), "{names:?}");
}

/// Conditions of a line, laps of the session, a default, places by `at`: every source of a name.
#[test]
fn every_source_of_a_name() {
    let head = "car wren \"Wren\"\n  cylinders 4\n";
    let day = "2025-05-03 wren\n  left weight 200 210 220 230 kg  with fuel 20 L\n  10:00..10:20 run s1  10 laps\n    read fuel-used 12 L\n    read tyre-temp LF 71/78/84 C\n";
    let of = |figure: &str, words: &[&str]| {
        let book = format!("{head}{figure}{day}");
        trace(&book, words).0
    };
    close(
        &of(
            "figure f volume car\n  is v\n  w = weight LF\n  v = with fuel of w_1\n  w_1 = weight LF\n",
            &["wren", "f"],
        ),
        "value",
        20.0,
        1e-9,
    );
    close(
        &of(
            "figure f-1 volume car\n  is x - y\n  w_1 = weight LF\n  x = with fuel of w_1\n  y = read fuel-used during session\n",
            &["wren", "f-1"],
        ),
        "value",
        8.0,
        1e-9,
    );
    close(
        &of(
            "figure f-2 volume-per-lap car\n  is y / n\n  n = session laps\n  y = read fuel-used during session\n",
            &["wren", "f-2"],
        ),
        "value",
        1.2,
        1e-9,
    );
    close(&of("figure f-3 ratio car\n  is n * 2\n  n = cylinders\n", &["wren", "f-3"]), "value", 8.0, 1e-9);
    close(
        &of(
            "figure f-4 temperature-difference corner\n  is a - b\n  a = third of tyre-temp\n  b = first of tyre-temp\n",
            &["wren", "f-4", "LF"],
        ),
        "value",
        13.0,
        1e-9,
    );
    close(
        &of("figure f-5 weight car\n  is max(w) - min(w)\n  w = weight each-corner\n", &["wren", "f-5"]),
        "value",
        30.0,
        1e-9,
    );
    close(
        &of(
            "figure f-6 density car\n  is rho\n  rho = fuel-density else 0.75 kg/L \"petrol\" \"a guess\"\n",
            &["wren", "f-6"],
        ),
        "value_si",
        750.0,
        1e-9,
    );
    close(
        &of(
            "figure f-7 weight corner\n  is s_n * w\n  s_n = 1 at RF LR\n  s_n = -1 at LF RR\n  w = weight\n",
            &["wren", "f-7", "RR"],
        ),
        "value",
        -230.0,
        1e-9,
    );
    close(
        &of(
            "figure f-8 weight corner\n  is w - o_w\n  w = weight\n  o_w = weight across\n",
            &["wren", "f-8", "LR"],
        ),
        "value",
        -10.0,
        1e-9,
    );
}

/// A fraction of a ruler is one number with its unit, as in a reading; with blanks it is a division. 1400 mm and 1/8 in are 1403.175 mm, and
/// 1 1/2 in 1438.1 mm (an inch is 25.4 mm).
#[test]
fn fractions_of_a_ruler_are_literals() {
    let book = |is: &str| {
        format!(
            "car wren \"Wren\"\nfigure wide length axle  area alignment  show mm, in  \"W\"\n  is {is}\n  k_t = track\n  k_s = 1 1/2 in \"a step\" \"common practice\"\n\
             2025-05-03 wren\n  read track front 1400 mm\n"
        )
    };
    for (is, mm) in [
        ("k_t + 1/8 in", 1403.175),
        ("k_t + 1 1/2 in", 1438.1),
        ("k_t + 1 1/2in", 1438.1),
        ("k_t + k_s", 1438.1),
        ("k_t - 63/64 in * 2", 1400.0 - 50.0062_5),
        ("k_t * 1/2", 700.0),
        ("k_t * 1 1/2", 2100.0),
        ("k_t * k_t * 1 / 8 in", 1400.0 * 1400.0 / (8.0 * 25.4)),
    ] {
        close(&figure(&book(is), &["wren", "wide", "front"]), "value", mm, 1e-9);
    }
}

#[test]
fn a_dimension_that_no_kind_has_is_told_in_words() {
    let clash = |is: &str| {
        let book = format!(
            "car wren \"Wren\"\nfigure wide length axle  area alignment  \"W\"\n  is {is}\n  k_t = track\n  k_w = spring-rate left\n"
        );
        let compiled = crate::checks::compile_text(&book);
        compiled.diagnostics.iter().find(|one| one.check == "dimensions-clash").map(|one| one.message.clone())
    };
    for (is, wanted) in [
        ("k_t ^ 6", "This gives length^6, and the figure is declared as a length."),
        ("sqrt(k_t)", "This gives length^(1/2), and the figure is declared as a length."),
        ("k_t + 1 / k_t", "This adds a length and 1 per length."),
        ("k_t + k_w * k_w / k_t", "This adds a length and mass^2 per (length time^4)."),
    ] {
        assert_eq!(clash(is).as_deref(), Some(wanted), "{is}");
    }
}
