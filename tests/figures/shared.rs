//! Figures that take one another twice: each is worked out, told and read once, however many ways lead to it.

use super::{close, trace};
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::figures::trace::trace as chain;
use stringline::history::moment;

/// Forty figures, each of the one before it twice, down to a wheelbase: the last is 2^40 of it.
fn book() -> String {
    let mut book =
        String::from("car wren \"Wren\"\nfigure twice-1 length car\n  is x + x\n  x = wheelbase\n");
    for at in 2..=40 {
        let under = at - 1;
        book +=
            &format!("figure twice-{at} length car\n  is x + y\n  x = twice-{under}\n  y = twice-{under}\n");
    }
    book + "2025-05-03 wren\n  set wheelbase 2 m\n"
}

/// How many steps a chain tells, and how many of them by a word that they stand above.
fn steps(step: &serde_json::Value) -> (usize, usize) {
    let inputs = step["inputs"].as_array().into_iter().flatten().map(steps);
    let own = (1, usize::from(step["above"] == true));
    inputs.fold(own, |all, one| (all.0 + one.0, all.1 + one.1))
}

#[test]
fn forty_figures_of_one_another() {
    let book = book();
    let whole = trace(&book, &["wren", "twice-40"]).0;
    close(&whole, "value_si", 2.0_f64.powi(41), 1e-3);
    super::evaluate::again(&whole);
    // Each step twice under the one above it, the second time by a word; the wheelbase under the last.
    assert_eq!(steps(&whole), (1 + 2 * 39 + 1, 39));
    // A chain that there is room for tells everything wherever it is used.
    let part = trace(&book, &["wren", "twice-8"]).0;
    assert_eq!(steps(&part), (2_usize.pow(8) - 1 + 2_usize.pow(7), 0));
}

/// Read as well, each says beside its reading what it would be worked out as.
#[test]
fn forty_figures_read_and_worked_out() {
    let mut book = book() + "2025-05-04 wren\n";
    for at in 1..40 {
        book += &format!("  read twice-{at} {} m\n", 2_u64.pow(at + 1));
    }
    // A wheelbase set a day later makes all of them anew.
    for (later, wheelbase) in [("", 2.0), ("2025-05-05 wren\n  set wheelbase 3 m\n", 3.0)] {
        let compiled = crate::checks::compile_text(&format!("{book}{later}"));
        let end = moment::end(&compiled.history);
        let mut calc = Calc::new(compiled.facts(), CarId::new(0), &end);
        let fig = calc.named("twice-40", Place::CAR).unwrap();
        let step = chain(&calc, &fig, false);
        let expected = wheelbase * 2.0_f64.powi(40);
        assert!((step.value_si - expected).abs() < 1e-3, "{}", step.value_si);
        assert_eq!(
            step.inputs[0].step.caution.is_empty(),
            later.is_empty(),
            "{:?}",
            step.inputs[0].step.caution
        );
    }
}
