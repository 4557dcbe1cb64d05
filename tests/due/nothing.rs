//! What is due with no event to come: by use and by date, as it stands. 40 of 30 minutes are over the limit; 40 of 90 are within.

use super::{SHOP, on, ran};
use crate::checks::compile_text;
use stringline::answer::due::{DueView, view};
use stringline::due::Ask;
use stringline::due::row::Action;

fn now(text: &str, today: &str) -> DueView {
    view(&compile_text(text), Ask { event: None, today: today.parse().unwrap(), confidence: 0.9 }, true)
}

#[test]
fn limits_and_days_are_told_and_nothing_is_counted_on() {
    let book = format!(
        "{SHOP}kind cup \"cup\"  fits LR  life 30 min\nkind can \"can\"  fits RR  life 90 min\nkind belts \"belts\"  fits cockpit\n\
         part c-1 cup  opening new\npart n-1 can  opening new\npart b-1 belts  valid-until 2025-06-30\n{}{}",
        on("2025-05-03", "heron", &["fit c-1 LR", "fit n-1 RR", "fit b-1 cockpit"]),
        ran("heron", "e-1", "40 min"),
    );
    let list = now(&book, "2025-07-01");
    let action = |part: &str| list.rows.iter().find(|row| row.part == part).map(|row| row.action);
    assert_eq!(action("c-1"), Some(Action::Replace), "{:#?}", list.rows);
    assert_eq!(action("n-1"), Some(Action::Leave));
    assert_eq!(action("b-1"), Some(Action::Replace));
    assert!(list.rows.iter().all(|row| row.after.is_empty() && row.chance.text.is_empty()));
    assert!(list.carry.is_empty());
    assert_eq!((list.plan.event, list.plan.days_ahead, list.plan.on.as_str()), (None, None, "2025-07-01"));
    // All of its last day it is good.
    let on_it = now(&book, "2025-06-30");
    assert_eq!(on_it.rows.iter().find(|row| row.part == "b-1").map(|row| row.action), Some(Action::Leave));
}

#[test]
fn the_command_says_that_nothing_is_to_come() {
    let home = tempfile::tempdir().unwrap();
    std::fs::write(home.path().join("a.sline"), SHOP).unwrap();
    let said = crate::command::said_on(&["due", home.path().to_str().unwrap()], 96, "2026-01-01T12:00:00Z");
    assert_eq!((said.code.as_str(), said.err.as_str()), ("0", ""));
    assert!(
        said.out.starts_with("Due by use and date, as on 2026-01-01, today by the clock\nNo event to come:"),
        "{}",
        said.out
    );
    assert!(said.out.contains("Nothing is due."), "{}", said.out);
}
