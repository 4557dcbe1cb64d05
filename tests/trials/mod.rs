//! What a change did, by runs that differ in one thing.

mod best;
mod books;
mod effects;
mod found;
mod further;
mod nothing;
mod planned;
mod plans;
mod pooled;
mod random;
mod readers;
mod readings;
mod seasons;
mod several;
mod traced;

use std::fmt::Write as _;
use stringline::Compiled;
use stringline::answer::trials::{BackToBack, TrialView, build};

/// A car, a course and what its ledger sets before.
pub const SHOP: &str = r#"shop "Invented"
car heron "Heron"
person ned "Ned"
person ann "Ann"
client orr "Orr"
gauge pg-1 "one gauge"  reads tyre-hot  resolution 0.01 bar
gauge pg-2 "another"  reads tyre-hot  resolution 0.01 bar
kind spring-set  fits LF RF
part sp-8 spring-set
part sp-9 spring-set
circuit pell "Pell"  length 2.40 km
event pell-1 2025-05-10..11 at pell "Pell, spring"
event pell-2 2025-08-02..03 at pell "Pell, summer"

2025-05-01 heron
  set bar-hole front 1
  set bar-hole rear 2
  set brake-bias 60 %

"#;

pub fn book(lines: &str) -> Compiled {
    crate::checks::compile_text(&format!("{SHOP}{lines}"))
}

pub fn view(compiled: &Compiled) -> BackToBack {
    build(compiled, crate::history::car(compiled, "heron"), None, None)
}

/// The trials of a day whose lines are these, one text a trial: "bar-hole front: ...".
pub fn said(lines: &str) -> Vec<String> {
    let view = view(&book(lines));
    view.trials.iter().map(|trial| format!("{}: {}", trial.what, trial.sentence)).collect()
}

/// The only trial.
pub fn only(lines: &str) -> TrialView {
    let mut view = view(&book(lines));
    assert_eq!(view.trials.len(), 1, "{:?}", view.trials.iter().map(|one| &one.sentence).collect::<Vec<_>>());
    view.trials.remove(0)
}

/// A lap time as it is typed, thousandths where it has them.
pub fn typed(lap: f64) -> String {
    let text = format!("{:.4}", lap % 60.0);
    let text = text.trim_end_matches('0').trim_end_matches('.');
    let pad = if lap % 60.0 < 10.0 { "0" } else { "" };
    format!("{}:{pad}{text}", (lap / 60.0).floor())
}

/// A day of runs at an event: of each its front bar's hole and its best lap. What is set is what differs.
pub fn day(date: &str, event: &str, before: u32, runs: &[(u32, f64)]) -> String {
    let mut text = format!("{date} heron at {event}\n");
    let mut hole = before;
    for (number, (wanted, lap)) in runs.iter().enumerate() {
        let (hour, label) = (8 + number / 2, number + 1);
        let minute = 30 * (number % 2);
        if *wanted != hole {
            let _ = writeln!(
                text,
                "  {hour:02}:{minute:02} set bar-hole front {hole} -> {wanted}  because asked"
            );
            hole = *wanted;
        }
        let from = minute + 5;
        let until = minute + 20;
        let label = format!("{}{label}", &date[8..10]);
        let _ = writeln!(
            text,
            "  {hour:02}:{from:02}..{hour:02}:{until:02} run s{label}  10 laps  best {}  by ned  with dry",
            typed(*lap)
        );
    }
    text
}

/// The runs of an order: A is hole 1, B is hole 3.
pub fn runs(order: &str, laps: &[f64]) -> Vec<(u32, f64)> {
    order.chars().zip(laps).map(|(letter, lap)| (if letter == 'A' { 1 } else { 3 }, *lap)).collect()
}
