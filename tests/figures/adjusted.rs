//! A value that was changed by so much is the sum of what it was and each change, as unsure as what it was; every line of it is told.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::altered::altered;
use stringline::answer::state;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::{Calc, trace};
use stringline::history::moment;

fn book(lines: &str) -> Compiled {
    compile_text(&format!(
        "gauge pg-1 \"dial\"  reads tyre-cold resolution 0.02 bar\ncar otter \"Otter\"\n  toe-over 400 mm\n\n{lines}"
    ))
}

fn traced(book: &Compiled, name: &str, place: Place) -> trace::Step {
    let mut calc = Calc::new(book.facts(), CarId::new(0), &moment::end(&book.history));
    let fig = calc.value(name, place).unwrap();
    trace::trace(&calc, &fig, false)
}

fn shown(book: &Compiled, quantity: &str, place: &str) -> String {
    let slots = state::build(book, CarId::new(0), &moment::end(&book.history), None).slots;
    let slot = slots.iter().find(|slot| slot.quantity == quantity && slot.place.as_deref() == Some(place));
    slot.unwrap().asked.as_ref().unwrap().text.clone()
}

/// 1.50 bar + 0.05 bar + 1 psi: 155 000 Pa and 6894.757 Pa (NIST SP 811, B.9) are 161 894.757 Pa, or 23.4808 psi. By a dial of 0.02 bar it
/// is unsure by 0.01 bar over the root of three (GUM 4.3.7), which is 577.35 Pa.
#[test]
fn a_sum_is_told_with_all_its_lines() {
    let of = |line: &str| {
        book(&format!(
            "2025-05-04 otter\n  {line}\n  adjust tyre-cold LF +0.05 bar\n  adjust tyre-cold LF +1 psi\n"
        ))
    };
    let step = traced(&of("read tyre-cold LF 1.50 bar  by pg-1"), "tyre-cold", Place::LF);
    assert_eq!(step.shown, "23.48 psi");
    assert!((step.value_si - 161_894.757).abs() < 1e-3, "{}", step.value_si);
    assert!((step.u_si.unwrap() - 577.350).abs() < 1e-3, "{:?}", step.u_si);
    let parts: Vec<(&str, &str)> =
        step.inputs.iter().map(|one| (one.input.as_str(), one.step.shown.as_str())).collect();
    assert_eq!(parts, [("base", "1.50 bar"), ("change1", "0.05 bar"), ("change2", "1 psi")]);
    let lines: Vec<u32> = step.inputs.iter().map(|one| one.step.typed.as_ref().unwrap().line).collect();
    assert_eq!(lines, [6, 7, 8]);
    // What was set has no uncertainty of its own, and a value that nothing was added to is no sum.
    let set = traced(&of("set tyre-cold LF 1.50 bar"), "tyre-cold", Place::LF);
    assert_eq!((set.u_si, set.shown.as_str()), (None, "23.48 psi"));
    let plain = traced(&book("2025-05-04 otter\n  set tyre-cold LF 1.50 bar\n"), "tyre-cold", Place::LF);
    assert!(plain.inputs.is_empty() && plain.shown == "1.50 bar");
}

/// A correction of any line under a sum is named as the one that changed it.
#[test]
fn the_line_that_changed_a_sum_is_named() {
    let of = |base: &str, change: &str| {
        book(&format!(
            "2025-05-04 otter\n  set ride-height LF {base} mm\n  set ride-height RF 50 mm\n  set ride-height LR 60 mm\n  set ride-height RR 60 mm\n  adjust ride-height LF {change} mm\n"
        ))
    };
    for (was, is, line) in [(("50", "+2"), ("51", "+2"), 6), (("50", "+2"), ("50", "+3"), 10)] {
        let all = altered(&of(was.0, was.1), &of(is.0, is.1));
        let figures: Vec<_> = all
            .facts
            .iter()
            .filter(|fact| fact.sort == stringline::answer::altered::AlteredSort::Figure)
            .collect();
        for fact in &figures {
            let lines: Vec<u32> = fact.lines_now.iter().map(|one| one.line).collect();
            assert_eq!(lines, [line], "{fact:?}");
        }
    }
}

/// A sum in another unit than its parts has decimals enough for all of them. 2 mm over 500 mm and 1 mm over 400 mm are 1.6 mm and 1 mm over
/// 400 mm; 50 mm and 1/8 in are 2.0935 in, of which a millimetre is 0.04 in and the eighth has three digits.
#[test]
fn a_sum_loses_no_digit_of_its_parts() {
    let toe = book("2025-05-04 otter\n  set toe-in LF 2 mm over 500 mm\n  adjust toe-in LF +1 mm\n");
    assert!(shown(&toe, "toe", "LF").contains("2.6 mm"), "{}", shown(&toe, "toe", "LF"));
    let same = book("2025-05-04 otter\n  set toe-in LF 2 mm\n  adjust toe-in LF +1 mm\n");
    assert!(shown(&same, "toe", "LF").contains("3 mm"), "{}", shown(&same, "toe", "LF"));
    let height = book("2025-05-04 otter\n  set ride-height LF 50 mm\n  adjust ride-height LF +1/8 in\n");
    assert_eq!(shown(&height, "ride-height", "LF"), "2.094 in");
    let bar = book("2025-05-04 otter\n  set tyre-cold LF 1.50 bar\n  adjust tyre-cold LF +10 kPa\n");
    assert_eq!(shown(&bar, "tyre-cold", "LF"), "160.00 kPa");
}
