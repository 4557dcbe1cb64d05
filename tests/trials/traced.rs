//! What back-to-back tells is traced to the runs that it is made of.

use crate::command::said_on;
use crate::demo::DEMO;
use stringline::answer::trials::traced::traced;

/// The season's own laps of one Sunday, A B A B.
#[test]
fn each_run_stands_with_its_lap_and_its_line() {
    let compiled = &*DEMO;
    let found = traced(compiled, crate::history::car(compiled, "bittern"), None, Some("bar-hole"));
    let [trial] = found.trials.as_slice() else { panic!("{}", found.trials.len()) };
    let best = &trial.measures[0];
    let runs: Vec<_> = best
        .runs
        .iter()
        .map(|run| (run.session.as_str(), run.letter.as_str(), run.order, run.value))
        .collect();
    assert_eq!(
        runs,
        [
            ("s5", "A", 1, Some(67.61)),
            ("s6", "B", 2, Some(67.18)),
            ("s7", "A", 3, Some(67.87)),
            ("s8", "B", 4, Some(67.36))
        ]
    );
    let text = |run: &stringline::answer::trials::traced::TracedRun| {
        let line = run.line.as_ref().unwrap();
        let (_, file) = compiled.files.iter().find(|(_, file)| file.path == line.path).unwrap();
        file.text.lines().nth(line.line as usize - 1).unwrap().to_owned()
    };
    for run in &best.runs {
        assert!(text(run).contains(&format!("run {}", run.session)), "{}", text(run));
    }
    assert_eq!(best.fit.as_ref().map(|fit| fit.freedom), Some(1));
}

#[test]
fn it_is_asked_for_by_event_and_name() {
    let said = |words: &[&str]| said_on(words, 96, "2026-12-01T12:00:00Z");
    let found = said(&["trace", "ledgers/2026", "bittern", "back-to-back", "quern-2", "bar-hole", "front"]);
    for words in [
        "quern-2: bar-hole front",
        "best lap: B against A -0.58 s (-1.15 to -0.01)",
        "s6 B  run 2 of 2026-09-06  1:07.180  bittern.sline:",
        "1 degree of freedom",
        "by least squares",
    ] {
        assert!(found.out.contains(words), "{words}\n{}", found.out);
    }
    let none = said(&["trace", "ledgers/2026", "bittern", "back-to-back", "wing-angle", "9"]);
    assert!(none.out.is_empty() && none.code != "0", "{}", none.out);
}
