//! More figures, quantities and names than there are numbers for: all told apart, or refused with a message.

use crate::checks::compile_text;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;

/// Two to the sixteenth and some more.
const MANY: usize = (1 << 16) + 500;

/// A figure past the 65,536th is itself, and none before it is another.
#[test]
fn more_figures_than_two_bytes_count() {
    let mut book = String::from("car wren \"Wren\"\n");
    for at in 0..MANY {
        book += &format!("figure f-{at} ratio car step\n  is {at}\n");
    }
    let compiled = compile_text(&book);
    let end = moment::end(&compiled.history);
    let mut calc = Calc::new(compiled.facts(), CarId::new(0), &end);
    for at in [0, 1, 300, 499, 65_000, 65_535, 65_536, MANY - 1] {
        let value = calc.named(&format!("f-{at}"), Place::CAR).unwrap().value;
        assert!((value - at as f64).abs() < 1e-9, "f-{at} is {value}");
    }
}

/// A quantity there is no number for is said, and what is set under its name is no other's.
#[test]
fn more_quantities_than_a_line_counts() {
    let mut book = String::from("car wren \"Wren\"\n");
    for at in 0..MANY {
        book += &format!("quantity q-{at} ratio car\n");
    }
    book += &format!("figure own ratio car\n  is 1\n2025-05-03 wren\n  set q-{} 5\n  set q-7 3\n", MANY - 1);
    let compiled = compile_text(&book);
    assert_eq!(compiled.book.vocabulary.iter().count(), usize::from(u16::MAX));
    let full: Vec<&str> = compiled
        .diagnostics
        .iter()
        .filter(|one| one.check == "property-value")
        .map(|one| one.message.as_str())
        .collect();
    assert!(full[0].contains("no room") && full[0].contains("65,535"), "{}", full[0]);
    let end = moment::end(&compiled.history);
    let mut calc = Calc::new(compiled.facts(), CarId::new(0), &end);
    assert!((calc.value("q-7", Place::CAR).unwrap().value - 3.0).abs() < 1e-12);
    assert!(calc.value(&format!("q-{}", MANY - 1), Place::CAR).is_err());
    for (_, quantity) in compiled.book.vocabulary.iter().filter(|(_, one)| &*one.name != "q-7") {
        assert!(calc.value(&quantity.name, Place::CAR).is_err(), "{}", quantity.name);
    }
}

/// A figure with more names than it may have is said at the first that is too many.
#[test]
fn more_names_than_a_figure_has() {
    let mut book = String::from("car wren \"Wren\"\nfigure f ratio car\n  is x_0 + x_1000\n");
    for at in 0..=1000 {
        book += &format!("  x_{at} = {at}\n");
    }
    let compiled = compile_text(&book);
    let said: Vec<_> = compiled
        .diagnostics
        .iter()
        .map(|one| (one.check, compiled.files.line(one.at.as_ref().unwrap().span)))
        .collect();
    assert_eq!(said, [("property-value", 3 + 1001)]);
}
