//! What a short-track crew types: a track bar, shares of the weight, sizes that are usual there.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::Moment;

const HEAD: &str = "shop \"S\"  currency USD  zone America/Chicago\ncar robin \"Robin\"  units imperial\n  usual track-bar 6..14 in\n\n2025-05-10 robin\n";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

fn said(lines: &str) -> Vec<(String, String)> {
    book(lines)
        .diagnostics
        .into_iter()
        .map(|one| (one.check.to_owned(), one.cure.unwrap_or_default()))
        .collect()
}

/// Two fractions are two numbers, left and right of the rear axle: 9 1/2 in is 241.3 mm, 10 3/4 in is 273.05 mm.
#[test]
fn a_track_bar_is_of_the_rear_axle() {
    let book = book("  set track-bar 9 1/2 10 3/4 in\n");
    assert!(book.diagnostics.is_empty());
    let moment = Moment::of_rank(stringline::history::moment::end(&book.history).rank);
    let mut calc = Calc::new(book.facts(), CarId::new(0), &moment);
    let mut at = |place| calc.value("track-bar", place).map(|fig| fig.value).ok();
    let close = |value: Option<f64>, mm: f64| value.is_some_and(|value| (value * 1000.0 - mm).abs() < 1e-9);
    assert!(close(at(Place::LR), 241.3) && close(at(Place::RR), 273.05));
    assert_eq!((at(Place::LF), at(Place::RF)), (None, None));
    assert_eq!(said("  set track-bar 9 1/2 9 1/2 10 3/4 10 3/4 in\n")[0].0, "value-count");
    assert!(said("  set track-bar LF 9 1/2 RF 9 3/4 in\n").is_empty());
}

/// A share without its unit is one in per cent.
#[test]
fn a_share_without_a_unit_is_offered_per_cent() {
    let all = said("  set left-weight 57.5\n");
    assert_eq!(all[0].0, "value-impossible");
    assert!(all[0].1.starts_with("write its unit, `57.5 %`"), "{}", all[0].1);
}

/// 700 + 750 of 2960 lb is 48.99 %: the 52 % set before the pads were read are no base any more.
#[test]
fn wedge_is_not_changed_from_before_the_pads() {
    let pads = "  set wedge 52 %\n  read weight 800 700 750 710 lb  with driver 180 lb, fuel 8 US-gal\n";
    let all = said(&format!("{pads}  adjust wedge +0.5 %  because loose\n"));
    assert!(all.iter().any(|one| one.0 == "delta-from-unknown"), "{all:?}");
    let stated = said(&format!("{pads}  set wedge 49.5 %\n  adjust wedge +0.5 %  because loose\n"));
    assert!(stated.iter().all(|one| one.0 != "delta-from-unknown"), "{stated:?}");
}

/// Sizes of a kart and of a short-track car, and a heat slowed by a caution (common practice).
#[test]
fn what_is_usual_there_is_not_asked_about() {
    let lines = "  set sprocket-front 10\n  set sprocket-rear 82\n  set tyre-diameter LF 260 mm RF 260 mm LR 279 mm RR 279 mm\n  set fuel 4 L\n  \
                 read tyre-circumference LR 96 RR 105 in\n  10:00..10:20 run h1  25 laps  best 0:18.42  with yellow-flag\n  \
                 11:00..11:03 run h2  6 laps  best 0:14.10\n";
    assert_eq!(said(lines), Vec::new());
}
