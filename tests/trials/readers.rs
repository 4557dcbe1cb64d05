//! What a reader may not read never stands behind a verdict.

use super::{SHOP, day, runs};
use crate::history::car;
use stringline::answer::trials::build;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;

/// The sentences of Orr's book, whose car it is.
fn read(lines: &str) -> Vec<String> {
    let text = format!("{SHOP}{lines}").replace("car heron \"Heron\"", "car heron \"Heron\"  client orr");
    let compiled = crate::checks::compile_text(&text);
    let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
    let cut = audience::cut(&compiled, &Reader::Client(orr));
    let view = build(&cut, car(&cut, "heron"), None, None);
    view.trials.into_iter().map(|trial| format!("{}: {}", trial.what, trial.sentence)).collect()
}

const LAPS: [f64; 5] = [58.40, 58.02, 58.49, 58.06, 58.61];

#[test]
fn a_setting_for_the_shop_refuses_the_trial_to_its_client() {
    let text = day("2025-05-10", "pell-1", 1, &runs("ABABA", &LAPS));
    let open = read(&text);
    assert!(open[0].contains("is quicker than"), "{open:?}");
    let shut = read(&text.replace("because asked", "for shop  because asked"));
    assert!(shut.iter().all(|one| !one.contains("quicker") && !one.contains("hole 3")), "{shut:?}");
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
