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

/// The fixture's pads, asked to 50 %: a turn of LF is worth -2.0287976 % and one of RF 2.0123866 % (Python's `fractions`, as in the balance's own
/// test), so that w is 4.0411842 and the 0.4242223 wanted are 0.104975 turn of each.
#[test]
fn the_turns_for_a_cross_stand_with_what_they_are_made_of() {
    let text = std::fs::read_to_string("tests/fixtures/worth/heron.sline").unwrap();
    let compiled = crate::checks::compile_text(&text);
    let found = |named| traced(&compiled, crate::history::car(&compiled, "heron"), named);
    for named in [None, Some("cross-weight"), Some("perch")] {
        let balance = found(named).balance.unwrap();
        let own = balance.made_of.unwrap();
        let [axle] = own.axles.as_slice() else { panic!("{own:?}") };
        assert_eq!((axle.up.as_str(), axle.down.as_str()), ("RF", "LF"));
        for (value, wanted) in [
            (axle.up_worth, 2.012_386_6),
            (axle.down_worth, -2.028_797_6),
            (axle.worth, 4.041_184_2),
            (own.change, -0.424_222_3),
            (axle.turns, -0.104_975),
        ] {
            assert!((value - wanted).abs() < 1e-5, "{value} for {wanted}");
        }
        // Student's t at five degrees of freedom (Abramowitz & Stegun, table 26.10: 2.571).
        assert!((own.t - 2.571).abs() < 5e-4, "{}", own.t);
        let within = own.t * (own.error * own.error + 2.0 * own.scatter * own.scatter).sqrt();
        assert!((own.within - within).abs() < 1e-9);
    }
    assert!(found(Some("camber")).balance.is_none());
}

/// The season's hot pressures: every run stands with what it read and the track's temperature that its line says.
#[test]
fn each_run_stands_with_its_hot_pressure_and_its_track() {
    let compiled = &*DEMO;
    let found = traced(compiled, crate::history::car(compiled, "bittern"), Some("tyre-hot RR"));
    let [hot] = found.hot.as_slice() else { panic!("{}", found.hot.len()) };
    assert_eq!(hot.runs.len(), hot.worth.runs);
    assert_eq!(hot.worth.by[0].cause, "track temperature");
    let groups: std::collections::BTreeSet<usize> = hot.runs.iter().map(|run| run.group).collect();
    assert_eq!(groups, (1..=hot.worth.groups).collect());
    for run in &hot.runs {
        let (_, file) = compiled.files.iter().find(|(_, file)| file.path == run.line.path).unwrap();
        let lines: Vec<&str> = file.text.lines().collect();
        let at = run.line.line as usize - 1;
        let last =
            lines[at].split_whitespace().filter_map(|word| word.parse::<f64>().ok()).next_back().unwrap();
        assert!((run.value - last).abs() < 1e-9, "{} {}", run.value, lines[at]);
        let session = lines[..=at].iter().rev().find(|line| line.contains(" run s")).unwrap();
        let words: Vec<&str> = session.split([' ', ',']).collect();
        let track = words.iter().position(|word| *word == "track").unwrap();
        let typed: f64 = words[track + 1].parse().unwrap();
        assert!((run.causes[0] - typed).abs() < 1e-9, "{} {session}", run.causes[0]);
    }
}
