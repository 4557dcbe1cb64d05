//! What back-to-back tells is traced to the runs that it is made of.

use super::{book, day};
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

/// The best known setup stands with every run that was compared, the quickest first, and each with its line.
#[test]
fn the_best_known_setup_stands_with_its_runs() {
    let compiled = &*DEMO;
    let found = traced(compiled, crate::history::car(compiled, "bittern"), None, Some("quern"));
    assert!(found.trials.is_empty() && found.together.is_empty());
    let [best] = found.best.as_slice() else { panic!("{}", found.best.len()) };
    let dry = &best.known[0];
    assert!(dry.sentence.contains(&format!("of {} runs", dry.runs.len())), "{}", dry.sentence);
    assert!(dry.runs.windows(2).all(|pair| pair[0].lap <= pair[1].lap));
    assert!((dry.runs[0].lap - 67.18).abs() < 1e-9);
    for run in &dry.runs {
        let line = run.line.as_ref().unwrap();
        let (_, file) = compiled.files.iter().find(|(_, file)| file.path == line.path).unwrap();
        let text = file.text.lines().nth(line.line as usize - 1).unwrap();
        assert!(text.contains(&format!("run {}", run.session)), "{text}");
    }
    let said =
        said_on(&["trace", "ledgers/2026", "bittern", "back-to-back", "quern"], 96, "2026-12-01T12:00:00Z");
    assert!(said.out.starts_with("quern: best known setup"), "{}", said.out);
}
/// A B A B with hole 1 as A, then with the letters the other way about, on a circuit twice as long: in per cent of the mean lap of each
/// trial, with the letters of the first.
#[test]
fn a_contrast_of_several_events_stands_with_the_runs_of_all() {
    let first = day("2025-05-10", "pell-1", 1, &[(1, 60.0), (3, 59.0), (1, 61.0), (3, 60.0)]);
    let second = day("2025-08-02", "hill-1", 3, &[(3, 121.0), (1, 119.0), (3, 121.0), (1, 119.0)]);
    let text = format!(
        "circuit hill \"Hill\"  length 5.00 km\nevent hill-1 2025-08-02..03 at hill \"Hill\"\n{first}{second}"
    );
    let compiled = book(&text);
    let found = traced(&compiled, compiled.book.cars.keys().next().unwrap(), None, Some("bar-hole"));
    let [both] = found.together.as_slice() else { panic!("{}", found.together.len()) };
    assert_eq!(both.unit, "%");
    let runs: Vec<_> = both
        .runs
        .iter()
        .map(|run| (run.event.as_deref().unwrap(), run.letter.as_str(), run.order, run.value))
        .collect();
    let wanted = [
        ("pell-1", "A", 1, 60.0 / 60.0),
        ("pell-1", "B", 2, 59.0 / 60.0),
        ("pell-1", "A", 3, 61.0 / 60.0),
        ("pell-1", "B", 4, 60.0 / 60.0),
        ("hill-1", "B", 1, 121.0 / 120.0),
        ("hill-1", "A", 2, 119.0 / 120.0),
        ("hill-1", "B", 3, 121.0 / 120.0),
        ("hill-1", "A", 4, 119.0 / 120.0),
    ];
    assert_eq!(runs.len(), wanted.len());
    for (run, wanted) in runs.iter().zip(wanted) {
        assert_eq!((run.0, run.1, run.2), (wanted.0, wanted.1, wanted.2));
        assert!((run.3 - wanted.3 * 100.0).abs() < 1e-9, "{run:?}");
    }
    assert!(both.runs.iter().all(|run| run.line.is_some()));
}
