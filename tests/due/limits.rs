//! Limits by any clock or date, the first that comes; what is not known; what is broken or missing.

use super::{SHOP, action, list, on, ran, row};
use stringline::answer::due::DueRow;
use stringline::due::row::Action;

/// Heron's belt with that limit and opening, after two events of 50 min, 10 laps and 2 launches each.
fn belt(kind: &str, opening: &str, fitted: &str) -> DueRow {
    let text = format!(
        "{SHOP}kind belt \"belt\"  fits nose  {kind}\npart b-1 belt  {opening}\n{}{}{}",
        on(fitted, "heron", &["fit b-1 nose"]),
        ran("heron", "e-1", "50 min  10 laps  2 launches"),
        ran("heron", "e-2", "50 min  10 laps  2 launches"),
    );
    let due = list(&text, "e-3", "2025-06-01");
    row(&due, "b-1").clone()
}

fn told(row: &DueRow) -> (Action, &str, &str, &str) {
    (row.action, &row.limit, &row.now, &row.after)
}

#[test]
fn the_first_limit_that_comes_counts() {
    let all = "life 400 min, 90 laps, 30 launches, 9 days, 12 events, 24 months";
    let with = |limit: &str, instead: &str| belt(&all.replace(limit, instead), "opening new", "2025-05-01");
    // 100 min run and 50 to come, 20 laps and 10, 4 launches and 2, 2 days and 1, 2 events and 1.
    assert_eq!(told(&with("400 min", "140 min")), (Action::Replace, "140 min", "100 min", "150 min"));
    assert_eq!(told(&with("90 laps", "25 laps")), (Action::Replace, "25 laps", "20 laps", "30 laps"));
    assert_eq!(
        told(&with("30 launches", "5 launches")),
        (Action::Replace, "5 launches", "4 launches", "6 launches")
    );
    assert_eq!(told(&with("9 days", "2 days")), (Action::Replace, "2 days", "2 days", "3 days"));
    assert_eq!(told(&with("12 events", "2 events")), (Action::Replace, "2 events", "2 events", "3 events"));
    // None in reach: the one that comes first is told, and nothing is due.
    assert_eq!(told(&with("400 min", "400 min")).0, Action::Leave);
    assert_eq!(with("400 min", "400 min").limit, "400 min");
    // Exactly at it after the event is within; more again would be past.
    assert_eq!(told(&with("400 min", "150 min")), (Action::Watch, "150 min", "100 min", "150 min"));
}

/// Fitted on 20 June 2024: on 1 June it is in its twelfth month, and on 8 June, the last day of the event, still; a limit of 11 months is past.
#[test]
fn a_date_may_be_the_first() {
    let months = |limit: &str| belt(&format!("life 400 min, {limit}"), "opening new", "2024-06-20");
    assert_eq!(told(&months("11 months")).0, Action::Replace);
    assert_eq!(months("11 months").why, ["at its limit of 11 months"]);
    assert_eq!(told(&months("11.5 months")).0, Action::Replace);
    assert_eq!(months("11.5 months").why, ["its 11.5 months run out during this event"]);
    assert_eq!(months("2 years").action, Action::Leave);
    assert_eq!(belt("life 400 min, 1 month", "opening new", "2025-05-01").why, ["at its limit of 1 month"]);
}

#[test]
fn reached_in_the_event_and_soon_after() {
    assert_eq!(belt("life 100 min", "opening new", "2025-05-01").why, ["at its limit of 100 min"]);
    assert_eq!(
        belt("life 120 min", "opening new", "2025-05-01").why,
        ["its 120 min run out during this event"]
    );
    let soon = belt("life 190 min", "opening new", "2025-05-01");
    assert_eq!((soon.action, soon.why[0].as_str()), (Action::Watch, "its 190 min run out just after it"));
    assert_eq!(belt("life 210 min", "opening new", "2025-05-01").action, Action::Leave);
}

/// Hours are told in hours.
#[test]
fn a_limit_in_hours() {
    let row = belt("life 2 h", "opening new", "2025-05-01");
    assert_eq!(told(&row), (Action::Replace, "2 h", "1.7 h", "2.5 h"));
}

/// What it had before the book is not known: where its failure can hurt it counts as run out, else somebody looks at it.
#[test]
fn use_that_is_not_known() {
    let hurts = belt("life 400 min  safety", "", "2025-05-01");
    assert_eq!(told(&hurts), (Action::Replace, "400 min", "at least 100 min", "at least 150 min"));
    assert_eq!(hurts.why, ["its use is not known, so it counts as run out"]);
    let not = belt("life 400 min", "", "2025-05-01");
    assert_eq!(
        (not.action, not.why[0].as_str()),
        (Action::Inspect, "its use is not known; the limit is 400 min")
    );
    // At least past it is past it.
    assert_eq!(belt("life 90 min", "", "2025-05-01").why, ["at its limit of 90 min"]);
    // Known on the clock of the limit is known, whatever else is not.
    assert_eq!(belt("life 400 min  safety", "opening 55 min", "2025-05-01").now, "155 min");
    assert_eq!(belt("life 400 min  safety", "opening 55 min", "2025-05-01").action, Action::Leave);
}

/// A spec's own limit outranks its kind's.
#[test]
fn the_specs_own_limit() {
    let text = format!(
        "{SHOP}kind belt \"belt\"  fits nose  life 400 min\nspec soft of belt \"soft\"  life 120 min\npart b-1 belt  spec soft  opening new\n{}{}",
        on("2025-05-01", "heron", &["fit b-1 nose"]),
        ran("heron", "e-1", "80 min"),
    );
    let due = list(&text, "e-3", "2025-06-01");
    assert_eq!(told(row(&due, "b-1")), (Action::Replace, "120 min", "80 min", "160 min"));
}

/// Rebuilt, it begins anew; what is inside an assembly has a limit of its own.
#[test]
fn rebuilds_and_assemblies() {
    let text = |work: &[&str]| {
        format!(
            "{SHOP}kind hub \"hub\"  fits LF  life 200 min\nkind bearing \"bearing\"  inside hub  life 120 min\npart h-1 hub  opening new\n\
             part w-1 bearing  opening new\n\n2025-05-01\n  build w-1 into h-1\n{}{}{}",
            on("2025-05-01", "heron", &["fit h-1 LF"]),
            ran("heron", "e-1", "80 min"),
            on("2025-05-10", "heron", work),
        )
    };
    let due = list(&text(&[]), "e-3", "2025-06-01");
    assert_eq!(told(row(&due, "h-1")), (Action::Watch, "200 min", "80 min", "160 min"));
    assert_eq!(told(row(&due, "w-1")), (Action::Replace, "120 min", "80 min", "160 min"));
    assert_eq!((row(&due, "w-1").inside.as_str(), row(&due, "w-1").place.as_str()), ("h-1", "LF"));
    let alone = list(&text(&["rebuild h-1 with paint"]), "e-3", "2025-06-01");
    assert_eq!((row(&alone, "h-1").now.as_str(), row(&alone, "w-1").now.as_str()), ("0 min", "80 min"));
    let all = list(&text(&["rebuild h-1 with all"]), "e-3", "2025-06-01");
    assert_eq!((row(&all, "h-1").now.as_str(), row(&all, "w-1").now.as_str()), ("0 min", "0 min"));
}

/// Broken, or found bad and still on: off with it. An empty place that must be filled is the first of all.
#[test]
fn what_is_broken_bad_or_missing() {
    let kind = format!(
        "{SHOP}kind belt \"belt\"  fits nose on heron  life 400 min  must\npart b-1 belt  opening new\npart b-2 belt  opening new\n"
    );
    let start = kind + &on("2025-05-01", "heron", &["fit b-1 nose"]) + &ran("heron", "e-1", "50 min");
    let with =
        |lines: &[&str]| list(&format!("{start}{}", on("2025-05-10", "heron", lines)), "e-3", "2025-06-01");
    let broken = with(&["failed b-1 mode worn"]);
    assert_eq!(
        (action(&broken, "b-1"), row(&broken, "b-1").why[0].as_str()),
        (Action::Replace, "failed on 10 May 2025, and nothing was done since")
    );
    assert_eq!(row(&broken, "b-1").spare.as_ref().unwrap().text, "fit b-2, new, 400 min left");
    let bad = with(&["inspect b-1 failed \"cords showing\""]);
    let why = "inspected and found bad on 10 May 2025, and nothing was done since";
    assert_eq!((action(&bad, "b-1"), row(&bad, "b-1").why[0].as_str()), (Action::Replace, why));
    assert_eq!(action(&with(&["inspect b-1 failed", "inspect b-1 good"]), "b-1"), Action::Leave);
    assert_eq!(action(&with(&["inspect b-1 failed", "rebuild b-1 with cord"]), "b-1"), Action::Leave);
    // What was found bad is no spare either.
    let none = with(&["failed b-1 mode worn", "inspect b-2 failed \"perished\""]);
    assert_eq!(row(&none, "b-1").spare.as_ref().unwrap().text, "none on the shelf");
    let empty = with(&["remove b-1"]);
    let first = &empty.rows[0];
    assert_eq!((first.action, first.car.as_str(), first.part.as_str()), (Action::Fit, "heron", ""));
    assert_eq!(first.why, ["nothing fitted, and it must be"]);
    assert_eq!(first.spare.as_ref().unwrap().part.as_deref(), Some("b-2"), "{:?}", first.spare);
}
