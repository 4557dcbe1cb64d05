//! The built-in figures as lines: all of them read, the program works out those that say so, and hostile formulas are told.

use proptest::prelude::*;
use std::collections::BTreeSet;
use stringline::book::built_in;

#[test]
fn the_built_in_lines_have_no_mistake() {
    let troubles = &built_in().troubles;
    assert!(troubles.is_empty(), "{:?}", troubles.first());
    assert!(built_in().figures.iter().all(|(_, figure)| !figure.broken));
}

#[test]
fn what_the_program_works_out_says_why() {
    let named: BTreeSet<&str> = built_in()
        .figures
        .iter()
        .filter(|(_, figure)| figure.in_code.is_some())
        .map(|(_, figure)| &*figure.name)
        .collect();
    let has: BTreeSet<&str> = stringline::figures::in_code().collect();
    assert_eq!(named, has);
    // The list for contributors is the lines' own.
    let page = include_str!("../../DEVELOPERS.md");
    let listed = || built_in().figures.listed().map(|(_, figure)| figure);
    for figure in listed().filter(|figure| figure.in_code.is_some()) {
        assert!(page.contains(&format!("`{}`", figure.name)), "{}", figure.name);
        assert!(page.contains(figure.in_code.as_deref().unwrap()), "{}", figure.name);
    }
    let lines = listed().filter(|figure| figure.in_code.is_none()).count();
    assert!(lines >= 90, "{lines}");
    assert!(page.contains(&format!("Of the {} figures {lines} are lines", listed().count())), "{lines}");
}

#[test]
fn every_line_says_where_it_is_published() {
    for (_, figure) in built_in().figures.iter() {
        for way in figure.ways.iter().filter(|way| !way.plain) {
            assert!(!way.source.is_empty(), "{}", figure.name);
        }
    }
}

fn pieces() -> impl Strategy<Value = String> {
    let piece = prop_oneof![
        Just("x"),
        Just("y"),
        Just("2"),
        Just("1 km"),
        Just("1e-9"),
        Just("("),
        Just(")"),
        Just("+"),
        Just("-"),
        Just(" - "),
        Just("*"),
        Just("/"),
        Just("^"),
        Just("sqrt("),
        Just("mean("),
        Just("<"),
        Just(","),
        Just("°"),
        Just("\u{2212}"),
        Just("pi"),
        Just("0"),
        Just("sin("),
        Just("9.80665 m/s2"),
        Just(" "),
        Just("if"),
    ];
    prop::collection::vec(piece, 0..12).prop_map(|all| all.join(" "))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whatever stands after `is`: one message for the figure's line, or a finite value, or what it needs.
    #[test]
    fn any_formula_is_read_or_told(formula in pieces(), must in pieces()) {
        let book = format!(
            "car wren \"Wren\"\nfigure odd ratio car\n  is {formula}\n  must {must}\n  x = left-weight\n  y = wheelbase\n2025-05-03 wren\n  read left-weight 50 %\n  set wheelbase 2500 mm\n"
        );
        let compiled = crate::checks::compile_text(&book);
        let id = compiled.book.figures.find("odd").unwrap();
        let end = stringline::history::moment::end(&compiled.history);
        let car = stringline::book::model::CarId::new(0);
        let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &end);
        match calc.figure(id, stringline::book::place::Place::CAR) {
            Ok(fig) => prop_assert!(fig.value.is_finite()),
            Err(missing) => prop_assert!(!missing.needs.is_empty()),
        }
        let lines: Vec<u32> =
            compiled.diagnostics.iter().filter_map(|one| one.at.as_ref()).map(|at| compiled.files.line(at.span)).collect();
        for line in [3, 4] {
            prop_assert!(lines.iter().filter(|at| **at == line).count() <= 1, "{formula} / {must}: {lines:?}");
        }
    }
}

/// Deep and long formulas are told or read, on any stack.
#[test]
fn deep_and_long_formulas() {
    for (formula, sum) in [
        (format!("{}x{}", "(".repeat(20_000), ")".repeat(20_000)), None),
        (vec!["x"; 15_000].join(" + "), Some(7500.0)),
        ("-".repeat(30_000), None),
    ] {
        let book = format!(
            "car wren \"Wren\"\nfigure odd ratio car\n  is {formula}\n  x = left-weight\n2025-05-03 wren\n  read left-weight 50 %\n"
        );
        let compiled = crate::checks::compile_text(&book);
        let id = compiled.book.figures.find("odd").unwrap();
        let end = stringline::history::moment::end(&compiled.history);
        let car = stringline::book::model::CarId::new(0);
        let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &end);
        let got = calc.figure(id, stringline::book::place::Place::CAR);
        // Half of 15,000; the others are a message each.
        let told = compiled.diagnostics.iter().filter(|one| one.check == "formula-unreadable").count();
        match sum {
            Some(sum) => assert!((got.unwrap().value - sum).abs() < 1e-6 && told == 0),
            None => assert!(got.is_err() && told == 1, "{told}"),
        }
    }
}

/// Three thousand figures, each of the one before it twice: told once in forty, and over at once.
#[test]
fn figures_behind_one_another() {
    let mut book = String::from("car wren \"Wren\"\nfigure deep-0 length car\n  is x * 1\n  x = wheelbase\n");
    for at in 1..3000 {
        book += &format!(
            "figure deep-{at} length car\n  is x + y\n  x = deep-{}\n  y = deep-{}\n",
            at - 1,
            at - 1
        );
    }
    book += "2025-05-03 wren\n  set wheelbase 2 m\n";
    let compiled = crate::checks::compile_text(&book);
    let end = stringline::history::moment::end(&compiled.history);
    let car = stringline::book::model::CarId::new(0);
    let mut calc = stringline::figures::Calc::new(compiled.facts(), car, &end);
    let mut of = |at: i32| calc.named(&format!("deep-{at}"), stringline::book::place::Place::CAR);
    for at in [0, 30, 39] {
        let value = of(at).unwrap().value;
        assert!((value - 2.0_f64.powi(at + 1)).abs() < 1e-3, "deep-{at} is {value}");
    }
    for at in [40, 41, 2999] {
        assert!(of(at).is_err(), "deep-{at}");
    }
    // The forty-first stands on too many; those above it start again, and the next too many is forty further up.
    let told: Vec<u32> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.check == "figure-circle")
        .map(|one| compiled.files.line(one.at.as_ref().unwrap().span))
        .collect();
    assert_eq!(told.first(), Some(&(5 + 39 * 4 + 2)), "{told:?}");
    assert!(told.len() < 3000 / 40 + 1, "{}", told.len());
}

/// A `figure` or `quantity` line with a mistake has one message, whatever takes its name: another figure, a rule, a line; and it has one where its
/// dimension is none.
#[test]
fn what_is_declared_with_a_mistake_has_one_message() {
    let told = |line: &str| {
        let text = format!(
            "car wren \"Wren\"  class S\n{line}\nfigure two length car  \"twice\"\n  is 2 * k\n  k = gap\nrule r class S  gap min 3 mm\n2025-05-03 wren\n  set gap 3 mm\n"
        );
        let errors: Vec<&str> = crate::checks::compile_text(&text)
            .diagnostics
            .iter()
            .filter(|one| one.severity == stringline::diagnostics::Severity::Error)
            .map(|one| one.check)
            .collect();
        errors
    };
    let figure = "\n  is 1 * w\n  w = wheelbase";
    assert_eq!(told("quantity gap length car  area driveline  \"x\""), Vec::<&str>::new());
    assert_eq!(told("quantity gap lenght car  area driveline  \"x\""), ["name-unknown"]);
    assert_eq!(told("quantity gap length  area driveline  \"x\""), ["property-value"]);
    assert_eq!(told(&format!("figure gap lenght car  \"x\"{figure}")), ["name-unknown"]);
    assert_eq!(told(&format!("figure gap length  \"x\"{figure}")), ["property-value"]);
}
