//! What a formula's names and numbers are: every source of a name of one kind, temperatures and differences kept apart.

use super::{close, figure, trace};

/// Every message of a book, with the line it stands on.
fn told(book: &str) -> Vec<(&'static str, u32)> {
    let compiled = crate::checks::compile_text(book);
    let line = |one: &stringline::diagnostics::Diagnostic| {
        one.at.as_ref().map_or(0, |at| compiled.files.line(at.span))
    };
    let ours = |one: &&stringline::diagnostics::Diagnostic| one.check != "condition-missing";
    compiled.diagnostics.iter().filter(ours).map(|one| (one.check, line(one))).collect()
}

/// A figure of that head and those lines, on a car that has been weighed.
fn book(head: &str, lines: &[&str]) -> String {
    let lines = lines.iter().map(|line| format!("  {line}")).collect::<Vec<_>>().join("\n") + "\n";
    format!(
        "car wren \"Wren\"\nfigure odd {head}\n{lines}2025-05-03 wren\n  left weight 200 210 220 230 kg\n"
    )
}

/// A source after `else`, and a further line of the name, is of the first one's kind or refused at its own line.
#[test]
fn every_source_is_of_the_first_ones_kind() {
    let refused = [
        ("density car", ["is rho", "rho = fuel-density else 0.745 kg"]),
        ("density car", ["is rho", "rho = fuel-density else 0.745"]),
        ("density car", ["is rho", "rho = fuel-density else total-weight"]),
        ("temperature car", ["is x", "x = air-temp else 10 N/mm"]),
        ("weight car", ["is x", "x = total-weight else with fuel"]),
    ];
    for (head, lines) in refused {
        assert_eq!(told(&book(head, &lines)), [("dimensions-clash", 4)], "{lines:?}");
    }
    let places = ["is w * x", "w = weight", "x = 1 at RF LR", "x = 1 kg at LF RR"];
    assert_eq!(told(&book("weight corner", &places)), [("dimensions-clash", 6)]);
    let scale = ["is x - y", "y = air-temp", "x = air-temp at RF LR", "x = tyre-temp-spread at LF RR"];
    let spread = "figure tyre-temp-spread temperature-difference corner\n  is a - b\n  a = third of tyre-temp\n  b = first of tyre-temp\n";
    let own = book("temperature-difference corner", &scale).replace("2025", &format!("{spread}2025"));
    assert_eq!(told(&own), [("dimensions-clash", 6)]);
}

/// A number after `else` is in the first source's kind: kilograms of a weight are its weight, degrees of a difference one.
#[test]
fn a_default_is_of_the_first_ones_kind() {
    let of = |head: &str, lines: &[&str]| {
        let book = book(head, lines);
        assert_eq!(told(&book), []);
        trace(&book, &["wren", "odd"]).0
    };
    close(
        &of("weight car", &["is x", "x = read total-weight else 80 kg"]).clone(),
        "value_si",
        80.0 * 9.80665,
        1e-9,
    );
    close(
        &of("acceleration car", &["is x", "x = lateral else 2 g"]).clone(),
        "value_si",
        2.0 * 9.80665,
        1e-12,
    );
    close(&of("temperature car", &["is x", "x = air-temp else 15 C"]), "value_si", 288.15, 1e-9);
}

/// A name that one of its lines makes one of several places is no single value.
#[test]
fn a_name_of_several_places_is_no_single_value() {
    let lines = ["is x", "x = weight at RF LR", "x = weight each-corner at LF RR"];
    assert_eq!(told(&book("weight corner", &lines)), [("formula-place-wrong", 3)]);
    let whole = ["is max(x)", "x = weight at RF LR", "x = weight each-corner at LF RR"];
    let value = trace(&book("weight corner", &whole), &["wren", "odd", "LF"]).0;
    close(&value, "value", 230.0, 1e-9);
}

/// The unit of a number is read alike in a formula and on a name's line: `g` is mass and acceleration, `min` time and angle.
#[test]
fn a_unit_is_read_alike_everywhere() {
    for (kind, number, check) in [
        ("mass", "1 g", Some("formula-unit-unknown")),
        ("time", "1 min", Some("formula-unit-unknown")),
        ("mass", "1 kgg", Some("formula-unit-unknown")),
        ("mass", "1 kg", None),
        ("temperature", "10 C", None),
        ("temperature", "283 K", None),
        ("temperature-difference", "10 K", None),
        ("temperature-difference", "10 C", Some("dimensions-clash")),
    ] {
        let wanted: Vec<&str> = check.into_iter().collect();
        let checks = |lines: &[&str]| -> Vec<&str> {
            told(&book(&format!("{kind} car"), lines)).into_iter().map(|(check, _)| check).collect()
        };
        assert_eq!(checks(&[&format!("is {number}")]), wanted, "{number}");
        assert_eq!(checks(&["is x", &format!("x = {number}")]), wanted, "{number}");
    }
    let lines = ["is air + x", "air = air-temp", "x = 10 K"];
    let value =
        figure(&format!("{}  set air-temp 15 C\n", book("temperature car", &lines)), &["wren", "odd"]);
    close(&value, "value", 25.0, 1e-9);
    let of_x = value["inputs"].as_array().unwrap().iter().find(|one| one["input"] == "x").unwrap();
    assert_eq!(of_x["shown"], "10.00 K");
}

/// A temperature is neither more nor less than a difference of temperatures, nor than a bare 0 (of which scale?).
#[test]
fn temperatures_and_differences_are_not_compared() {
    let names = ["a = air-temp", "b = oil-temp"];
    let with = |lines: &[&'static str]| [lines, &names].concat();
    for lines in [
        ["is 1", "must a > b - a"],
        ["is 1", "must 0 < a"],
        ["is a / max(a, b - a)", "must 1 > 0"],
        ["is a / min(b - a, a)", "must 1 > 0"],
        ["is a / mean(a, b, b - a)", "must 1 > 0"],
        ["is a / max(0, a)", "must 1 > 0"],
    ] {
        let told = told(&book("ratio car", &with(&lines)));
        assert_eq!(
            told.iter().map(|(check, _)| *check).collect::<Vec<_>>(),
            ["dimensions-clash"],
            "{lines:?}"
        );
    }
    for lines in [
        ["is 1", "must a > b"],
        ["is 1", "must 10 C < a"],
        ["is 1", "must 283 K < a"],
        ["is 1", "must b - a > 0"],
        ["is max(b - a, 0) / 1 K", "must 1 > 0"],
        ["is mean(a, b) / min(a, b)", "must 1 > 0"],
    ] {
        assert_eq!(told(&book("ratio car", &with(&lines))), [], "{lines:?}");
    }
}

/// A number of a physical kind never stands without its unit, whatever kind a shop's own figure is of.
#[test]
fn every_physical_kind_has_a_unit_to_be_shown_in() {
    for dimension in stringline::units::DimensionId::all() {
        let kind = dimension.get();
        // Length, mass, time, temperature, current, angle.
        let physical = kind.dim.0.iter().take(6).any(|exponent| *exponent != 0) && !kind.bare;
        for imperial in [false, true] {
            let unit = stringline::figures::trace::usual(dimension, imperial);
            assert!(!physical || unit.get().shown() != "", "{}", kind.name);
        }
    }
}

#[test]
fn what_is_put_in_has_its_unit() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(
        home.path().join("a.sline"),
        "car wren \"Wren\"\n\n2025-05-03 wren\n  set duty-limit 80 %\n",
    )
    .unwrap();
    let with = ["peak-power 200 hp", "specific-consumption 0.5 lb/hp/h", "injectors 4"];
    let with: Vec<&str> = with.iter().flat_map(|one| ["--with", one]).collect();
    let words =
        [&["trace", home.path().to_str().unwrap(), "wren", "injector-size"], with.as_slice()].concat();
    let said = crate::command::said(&words);
    // 0.5 lb/(hp h) in g/kWh: 0.5 * 453.59237 g / 0.745699872 kWh (international pound; horsepower of 550 ft lbf/s).
    assert!(said.out.contains("consumption = 304.14 g/kWh"), "{}", said.out);
    // 200 hp of it through four injectors open four fifths of the time: 100 lb/h / 3.2.
    assert!(said.out.contains("14.175 kg/h"), "{}", said.out);
}
