//! Asked about an event that is past, the list is what the book knew then.

use super::{SHOP, list, on, ran};
use stringline::answer::due::DueView;

const PARTS: &str = "kind belt \"belt\"  fits nose  life 120 min  safety  must\npart b-1 belt  opening new\npart b-2 belt  opening new\n\
                     part b-3 belt  opening 30 min\n";

fn start() -> String {
    format!(
        "{SHOP}{PARTS}{}{}{}{}",
        on("2025-05-01", "heron", &["fit b-1 nose"]),
        on("2025-05-01", "plover", &["fit b-3 nose"]),
        ran("heron", "e-1", "40 min"),
        ran("plover", "e-1", "30 min"),
    )
}

/// What happened from the second event on.
fn later() -> String {
    [
        ran("heron", "e-2", "60 min"),
        ran("plover", "e-2", "50 min"),
        on("2025-05-20", "heron", &["failed b-1 mode worn", "remove b-1", "fit b-2 nose"]),
        on("2025-05-21", "plover", &["rebuild b-3 with rubber"]),
        on("2025-05-22", "plover", &["sell plover"]),
        ran("heron", "e-3", "45 min"),
    ]
    .concat()
}

/// Without the numbers of lines.
fn told(due: &DueView) -> String {
    let mut text = format!("{:?}\n{:?}\n", due.carry, due.plan.cars);
    for row in &due.rows {
        text += &format!(
            "{:?} {} {} {} {} {:?} {:?} {:?}\n",
            row.action, row.car, row.part, row.now, row.after, row.why, row.chance, row.spare
        );
    }
    text
}

#[test]
fn what_came_later_changes_nothing() {
    let (then, now) = (list(&start(), "e-2", "2025-05-17"), list(&(start() + &later()), "e-2", "2025-12-01"));
    assert_eq!(then.plan.on, "2025-05-17");
    assert_eq!(told(&now), told(&then));
    assert_eq!(now.plan.days_ahead, Some(0));
    // The same some days before it: today's lines have happened, tomorrow's have not.
    let before = list(&(start() + &later()), "e-2", "2025-05-10");
    assert_eq!((before.plan.on.as_str(), before.plan.days_ahead), ("2025-05-10", Some(7)));
    assert_eq!(told(&before), told(&then));
}

/// The last thing typed after the last session is known, at the end of the book and at the end of that day.
#[test]
fn what_failed_in_the_last_line_is_to_be_replaced() {
    let fitted = format!("{SHOP}{PARTS}{}", on("2025-05-01", "heron", &["fit b-1 nose"]));
    let broke = format!("{fitted}{}    failed b-1 after s1 mode worn\n", ran("heron", "e-1", "40 min"));
    let after = format!("{broke}{}", on("2025-05-16", "heron", &["set brake-bias 60 %"]));
    for text in [&broke, &after] {
        let due = list(text, "e-2", "2025-05-03");
        let broken = due.rows.iter().find(|row| row.part == "b-1").unwrap();
        assert_eq!(broken.why[0], "failed on 3 May 2025, and nothing was done since");
    }
}

/// Bought after the day that is asked about, it lay on no shelf then.
#[test]
fn a_part_bought_later_is_no_spare() {
    let text = |bought: &str| {
        let bought = on(bought, "", &["buy b-2 20.00 EUR"]).replace(" \n", "\n");
        start() + &ran("heron", "e-2", "70 min") + &bought
    };
    let spare = |bought: &str| {
        let due = list(&text(bought), "e-3", "2025-06-01");
        due.rows.iter().find(|row| row.part == "b-1").unwrap().spare.clone().unwrap()
    };
    assert_eq!(spare("2025-05-25").part.as_deref(), Some("b-2"));
    assert_eq!(spare("2025-05-25").text, "fit b-2, new, 120 min left");
    assert_eq!((spare("2025-06-03").part, spare("2025-06-03").text.as_str()), (None, "none on the shelf"));
}

/// On its own first day it is as of that day: what was run of it is run. Asked for later it is as of the morning of its first day.
#[test]
fn on_the_day_itself_what_was_run_counts() {
    let due = list(&(start() + &ran("heron", "e-2", "60 min")), "e-2", "2025-05-17");
    let belt = due.rows.iter().find(|row| row.part == "b-1").unwrap();
    assert_eq!((belt.now.as_str(), belt.after.as_str()), ("100 min", "100 min"));
    let due = list(&(start() + &ran("heron", "e-2", "60 min")), "e-2", "2025-05-19");
    let belt = due.rows.iter().find(|row| row.part == "b-1").unwrap();
    assert_eq!((belt.now.as_str(), belt.after.as_str()), ("40 min", "80 min"));
}
