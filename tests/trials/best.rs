//! The best known setup at a circuit: which runs are compared, what is refused, what is otherwise now.

use super::{SHOP, book, view};
use crate::history::car;
use stringline::answer::trials::best::BestAt;
use stringline::answer::trials::build;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;

/// Two runs in spring and two in summer, the quickest with hole 3.
const RUNS: &str = "2025-05-10 heron at pell-1
  09:00..09:20 run s1  10 laps  best 0:58.40  by ned  with dry
  09:30 set bar-hole front 1 -> 3  because asked
  10:00..10:20 run s2  10 laps  best 0:58.10  by ned

2025-08-02 heron at pell-2
  08:00 set bar-hole front 3 -> 1  because the summer is hot
  08:10 set brake-bias 60 -> 61 %  because it is
  09:00..09:20 run s1  10 laps  best 0:58.30  by ned
";

fn only(lines: &str) -> BestAt {
    let mut view = view(&book(lines));
    assert_eq!(view.best.len(), 1);
    view.best.remove(0)
}

fn sentences(best: &BestAt) -> Vec<&str> {
    best.known.iter().map(|known| known.sentence.as_str()).collect()
}

#[test]
fn the_quickest_of_runs_that_can_be_compared_and_what_is_otherwise_now() {
    let best = only(RUNS);
    let [known] = best.known.as_slice() else { panic!("{}", best.known.len()) };
    assert_eq!((best.circuit.as_str(), known.runs, known.events), ("pell", 3, 2));
    assert_eq!(
        known.sentence,
        "Ned, dry: the quickest of 3 runs at 2 events is 0:58.10, pell-1 s2; the next quickest that was set otherwise is 0:58.30, pell-2 s1, 0.20 s slower"
    );
    assert_eq!(
        known.now,
        "Now it stands otherwise in bar-hole front (3 then, 1 now) and brake-bias (60% then, 61% now)"
    );
    // The rear bar alone stands as it did.
    assert_eq!(known.same, 1);
    assert!(known.differs.iter().all(|one| !one.cannot_tell), "{:?}", known.differs);
}

/// What was put back is the same, and 60 typed again is no difference.
#[test]
fn what_stands_as_it_did_is_not_told() {
    let back = "2025-08-03 heron\n  set bar-hole front 1 -> 3\n  set brake-bias 60 %\n";
    let best = only(&format!("{RUNS}\n{back}"));
    assert_eq!(best.known[0].now, "No setting is known to stand otherwise now");
    assert_eq!(best.known[0].same, 3);
}

/// Another driver, other weather: each by itself, those of the last run first.
#[test]
fn another_driver_and_other_weather_are_not_compared() {
    let lines = RUNS
        .replace("best 0:58.10  by ned", "best 0:58.10  by ann")
        .replace("best 0:58.40  by ned  with dry", "best 0:58.40  by ned  with damp");
    let best = only(&lines);
    assert_eq!(
        sentences(&best),
        [
            "Ned, dry: one run only, 0:58.30 in pell-2 s1: nothing to compare it with",
            "Ann, dry: one run only, 0:58.10 in pell-1 s2: nothing to compare it with",
            "Ned, damp: one run only, 0:58.40 in pell-1 s1: nothing to compare it with",
        ]
    );
    assert!(best.known.iter().all(|known| known.quickest.is_none() && known.differs.is_empty()));
}

/// A circuit at which it ran once.
#[test]
fn one_run_is_compared_with_nothing() {
    let (once, _) = RUNS.split_once("  09:30").unwrap();
    let best = only(once);
    assert_eq!(
        sentences(&best),
        ["Ned, dry: one run only, 0:58.40 in pell-1 s1: nothing to compare it with"]
    );
}

/// Runs without a lap time, stopped, or driven by two: left out by name.
#[test]
fn runs_that_do_not_count_are_left_out_with_why() {
    let lines = RUNS
        .replace("best 0:58.40  by ned  with dry", "by ned")
        .replace("best 0:58.10  by ned", "best 0:58.10  by ned  with red-flag")
        .replace(
            "best 0:58.30  by ned",
            "best 0:58.30\n    09:00..09:10 stint ned\n    09:10..09:20 stint ann",
        );
    let best = only(&lines);
    assert!(best.known.is_empty());
    assert_eq!(best.refused.as_deref(), Some("None of its 3 runs there counts."));
    let left: Vec<_> = best.left_out.iter().map(|run| (run.session.as_str(), run.why.as_str())).collect();
    assert_eq!(
        left,
        [
            ("pell-1 s1", "no lap time that counts"),
            ("pell-1 s2", "red-flag"),
            ("pell-2 s1", "not known: the driver"),
        ]
    );
}

/// A value with an error, and one that the book did not have yet, is not told as the same.
#[test]
fn what_nobody_knows_is_not_told_as_the_same() {
    let lines = format!("{RUNS}\n2025-08-03 heron\n  set bar-hole rear 2,5\n  set wing-angle 4 deg\n");
    let best = only(&lines);
    let unclear: Vec<&str> =
        best.known[0].differs.iter().filter(|one| one.cannot_tell).map(|one| one.what.as_str()).collect();
    // What a line with an error was about is not known where it says.
    assert_eq!(unclear, ["bar-hole", "wing-angle"]);
    assert!(
        best.known[0].now.ends_with("; cannot tell of bar-hole rear and wing-angle"),
        "{}",
        best.known[0].now
    );
}

/// What was hit may stand otherwise whatever was set.
#[test]
fn an_impact_since_is_told() {
    let best = only(&format!("{RUNS}\n2025-08-03 heron\n  hit RF \"gate post\"\n"));
    assert!(best.known[0].now.ends_with("; it was hit since"), "{}", best.known[0].now);
}

/// Of an event that is asked for its circuit alone; of one where the car never ran a sentence.
#[test]
fn of_an_event_its_circuit() {
    let lines = format!("circuit tor \"Tor\"\nevent tor-1 2026-05-10..11 at tor \"Tor\"\n\n{RUNS}");
    let compiled = book(&lines);
    let heron = car(&compiled, "heron");
    let Some(Thing::Event(tor)) = compiled.book.names.find("tor-1") else { panic!() };
    let view = build(&compiled, heron, Some(tor), None);
    let [best] = view.best.as_slice() else { panic!("{}", view.best.len()) };
    assert_eq!((best.circuit.as_str(), best.refused.as_deref()), ("tor", Some("It had not run there.")));
}

/// What the shop keeps to itself between the runs refuses the setup to the car's client, and names nothing.
#[test]
fn a_setting_that_the_reader_may_not_read_refuses_it() {
    let text = format!("{SHOP}{RUNS}").replace("car heron \"Heron\"", "car heron \"Heron\"  client orr");
    let open = of_orr(&text);
    assert!(open.known[0].quickest.is_some(), "{:?}", sentences(&open));
    let shut = of_orr(&text.replace("61 %  because it is", "61 %  for shop"));
    assert_eq!(
        sentences(&shut),
        [
            "Ned, dry: something was set between the 3 runs or since that this reader may not read, so that no setup is told as the best"
        ]
    );
    assert!(shut.known[0].differs.is_empty() && shut.known[0].now.is_empty());
}

fn of_orr(text: &str) -> BestAt {
    let compiled = crate::checks::compile_text(text);
    let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
    let cut = audience::cut(&compiled, &Reader::Client(orr));
    build(&cut, car(&cut, "heron"), None, None).best.remove(0)
}
