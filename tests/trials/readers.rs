//! What a reader may not read never stands behind a verdict.

use super::{SHOP, day, runs};
use crate::history::car;
use stringline::answer::trials::{TrialView, build};
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;

/// The sentences of Orr's book, whose car it is.
fn read(lines: &str) -> Vec<String> {
    trials(lines).into_iter().map(|trial| format!("{}: {}", trial.what, trial.sentence)).collect()
}

fn trials(lines: &str) -> Vec<TrialView> {
    let text = format!("{SHOP}{lines}").replace("car heron \"Heron\"", "car heron \"Heron\"  client orr");
    let compiled = crate::checks::compile_text(&text);
    let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
    let cut = audience::cut(&compiled, &Reader::Client(orr));
    build(&cut, car(&cut, "heron"), None, None).trials
}

const LAPS: [f64; 5] = [58.40, 58.02, 58.49, 58.06, 58.61];

#[test]
fn a_setting_for_the_shop_refuses_the_trial_to_its_client() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let open = read(&text);
    assert!(open[0].contains("is quicker than"), "{open:?}");
    let shut = read(&text.replace("because asked", "for shop  because asked"));
    assert_eq!(shut.len(), 1, "{shut:?}");
    assert!(!shut[0].contains("quicker") && !shut[0].contains("front 3"), "{shut:?}");
}

/// A run that he may not read is left out, and that is said: not that it has no lap time.
#[test]
fn a_run_for_the_shop_is_left_out_as_hidden() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let text = text.replace("best 0:58.49  by ned  with dry", "best 0:58.49  by ned  with dry  for shop");
    assert!(text.contains("for shop"));
    let trials = trials(&text);
    let [trial] = trials.as_slice() else { panic!("{}", trials.len()) };
    assert_eq!(trial.order, "A B B A");
    assert_eq!(trial.left_out.len(), 1);
    assert_eq!(trial.left_out[0].why, "this reader may not read it");
}

#[test]
fn what_only_the_shop_may_read_and_nothing_else_tells_of_counts_as_changed_too() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let mut hidden = String::new();
    let mut step = 0;
    for line in text.lines() {
        hidden += line;
        hidden += "\n";
        if line.contains("set bar-hole") {
            step += 1;
            hidden += &format!("  set wing-angle {step} deg  for shop\n");
        }
    }
    let shut = read(&hidden);
    assert!(shut.iter().all(|one| !one.contains("is quicker")), "{shut:?}");
    assert!(
        shut.iter()
            .any(|one| one.contains("something the shop keeps to itself, which this reader may not read")),
        "{shut:?}"
    );
    assert!(shut.iter().all(|one| !one.contains("wing")), "{shut:?}");
}
