//! A worth is traced to the pairs of readings that it is made of.

use crate::command::said_on;
use crate::demo::DEMO;
use stringline::answer::worth::traced::traced;

/// Perch LF at 0 0 +1 -1 0 turns, what is across from it 321.5 320.5 317.5 325.5 321.5 of 642 kg: from one weighing to the next.
#[test]
fn each_pair_of_weighings_stands_with_its_lines() {
    let compiled = &*DEMO;
    let found = traced(compiled, crate::history::car(compiled, "bittern"), Some("perch LF"));
    let cross = found.turns.iter().find(|one| one.worth.moved.starts_with("cross-weight")).unwrap();
    let steps: Vec<(f64, f64)> =
        cross.steps.iter().map(|step| (step.turned.iter().map(|one| one.by).sum(), step.moved)).collect();
    let wanted = [(0.0, -1.0), (1.0, -3.0), (-2.0, 8.0), (1.0, -4.0)];
    assert_eq!(steps.len(), wanted.len(), "{steps:?}");
    for ((turned, moved), (turn, kilos)) in steps.iter().zip(wanted) {
        assert!((turned - turn).abs() < 1e-8 && (moved - kilos / 642.0 * 100.0).abs() < 1e-8, "{steps:?}");
    }
    // One chain: each begins where the one before ended, and all of its lines are those of the worth.
    assert!(cross.steps.windows(2).all(|pair| pair[0].to == pair[1].from));
    let lines: Vec<_> =
        cross.steps.iter().map(|step| &step.from).chain(cross.steps.last().map(|step| &step.to)).collect();
    assert_eq!(lines, cross.worth.lines.iter().collect::<Vec<_>>());
}

#[test]
fn it_is_asked_for_by_name() {
    let said = |words: &[&str]| said_on(words, 96, "2026-12-01T12:00:00Z");
    let found = said(&["trace", "ledgers/2026", "bittern", "worth", "perch", "LF"]);
    for words in [
        "-0.62 % for 1 turn, error 0.06, -0.80 to -0.44 with 0.95, 3 degrees of freedom",
        "by least squares through no change",
        "perch LF -2 turn  cross-weight by the pads +1.25 %  bittern.sline:",
        "read again",
    ] {
        assert!(found.out.contains(words), "{words}\n{}", found.out);
    }
    let none = said(&["trace", "ledgers/2026", "bittern", "worth", "wedge"]);
    assert!(
        none.out.is_empty() && none.code != "0" && none.err.contains("nothing is told of `wedge`"),
        "{}",
        none.err
    );
    let wrong = said(&["trace", "ledgers/2026", "bittern", "worth", "--with", "perch LF 1"]);
    assert!(wrong.err.contains("are for figures"), "{}", wrong.err);
}
