//! Where a part is: every transition of the state machine, and a part that travels between two cars in one day.

use super::{at, book, part, rank, words};
use stringline::history::order::Rank;

/// Puts a part into each state, from new.
const INTO: &[(&str, &str)] = &[
    ("new", ""),
    ("shelf", "2025-05-01\n  shelve wb-1\n"),
    ("heron LR", "2025-05-01 heron\n  fit cp-1 LR\n"),
    ("in hub-1", "2025-05-01\n  build wb-1 into hub-1\n"),
    ("failed", "2025-05-01 heron\n  fit cp-1 LR\n  remove cp-1 failed\n"),
    ("quarantine", "2025-05-01\n  quarantine wb-1 because dropped\n"),
    ("scrapped", "2025-05-01\n  scrap wb-1 because worn\n"),
    ("sold", "2025-05-01\n  sell wb-1\n"),
];

/// The part that a state's lines are about.
fn subject(lines: &str, state: &str) -> &'static str {
    if lines.contains("cp-1") || state == "heron LR" { "cp-1" } else { "wb-1" }
}

/// Each state, each line, where the part is afterwards, and the check that speaks, if one does.
/// Read off the reference's table of verbs, section 5: "A part is in one place at a time".
#[rustfmt::skip]
const TABLE: &[(&str, &str, &str, &str)] = &[
    ("new",        "shelve P",                 "shelf",      ""),
    ("new",        "buy P",                    "shelf",      ""),
    ("new",        "fit P",                    "heron LR",   ""),
    ("new",        "build P",                  "in hub-1",   ""),
    ("new",        "remove P",                 "new",        "pull-not-there"),
    ("new",        "strip P",                  "new",        "pull-not-there"),
    ("new",        "quarantine P because x",   "quarantine", ""),
    ("new",        "release P because x",      "new",        "not-quarantined"),
    ("new",        "scrap P because x",        "scrapped",   ""),
    ("new",        "sell P",                   "sold",       ""),
    ("new",        "failed P",                 "failed",     ""),
    ("new",        "rebuild P",                "new",        ""),
    ("new",        "inspect P good",           "new",        ""),
    ("shelf",      "shelve P",                 "shelf",      ""),
    ("shelf",      "buy P",                    "shelf",      "used-before-bought"),
    ("shelf",      "fit P",                    "heron LR",   ""),
    ("shelf",      "build P",                  "in hub-1",   ""),
    ("shelf",      "remove P",                 "shelf",      "pull-not-there"),
    ("shelf",      "quarantine P because x",   "quarantine", ""),
    ("shelf",      "release P because x",      "shelf",      "not-quarantined"),
    ("shelf",      "scrap P because x",        "scrapped",   ""),
    ("shelf",      "sell P",                   "sold",       ""),
    ("shelf",      "failed P",                 "failed",     ""),
    ("shelf",      "move P -> plover prop",    "plover prop", "pull-not-there"),
    ("shelf",      "rebuild P",                "shelf",      ""),
    ("heron LR",   "fit P",                    "heron LR",   "part-in-two-places"),
    ("heron LR",   "remove P",                 "shelf",      ""),
    ("heron LR",   "remove P failed",          "failed",     ""),
    ("heron LR",   "swap",                     "shelf",      ""),
    ("heron LR",   "move P -> plover prop",    "plover prop", ""),
    ("heron LR",   "shelve P",                 "shelf",      "still-fitted"),
    ("heron LR",   "sell P",                   "sold",       "still-fitted"),
    ("heron LR",   "quarantine P because x",   "quarantine", ""),
    ("heron LR",   "release P because x",      "heron LR",   "not-quarantined"),
    ("heron LR",   "scrap P because x",        "scrapped",   ""),
    ("heron LR",   "failed P",                 "heron LR",   ""),
    ("heron LR",   "rebuild P",                "heron LR",   ""),
    ("in hub-1",   "build P into hub-2",       "in hub-1",   "part-in-two-places"),
    ("in hub-1",   "strip P",                  "shelf",      ""),
    ("in hub-1",   "strip P failed",           "failed",     ""),
    ("in hub-1",   "strip P from hub-2",       "in hub-1",   "pull-not-there"),
    ("in hub-1",   "remove P",                 "in hub-1",   "pull-not-there"),
    ("in hub-1",   "shelve P",                 "shelf",      "still-fitted"),
    ("in hub-1",   "sell P",                   "sold",       "still-fitted"),
    ("in hub-1",   "quarantine P because x",   "quarantine", ""),
    ("in hub-1",   "scrap P because x",        "scrapped",   ""),
    ("in hub-1",   "failed P",                 "in hub-1",   ""),
    ("in hub-1",   "rebuild P",                "in hub-1",   ""),
    ("failed",     "fit P",                    "heron LR",   "failed-part-back"),
    ("failed",     "remove P",                 "failed",     "pull-not-there"),
    ("failed",     "move P -> plover prop",    "plover prop", "failed-part-back"),
    ("failed",     "shelve P",                 "failed",     ""),
    ("failed",     "quarantine P because x",   "quarantine", ""),
    ("failed",     "scrap P because x",        "scrapped",   ""),
    ("failed",     "sell P",                   "sold",       ""),
    ("failed",     "failed P",                 "failed",     ""),
    ("failed",     "rebuild P",                "shelf",      ""),
    ("failed",     "release P because x",      "failed",     "not-quarantined"),
    ("quarantine", "fit P",                    "heron LR",   "quarantined-part-fitted"),
    ("quarantine", "build P",                  "in hub-1",   "quarantined-part-fitted"),
    ("quarantine", "remove P",                 "quarantine", "pull-not-there"),
    ("quarantine", "move P -> plover prop",    "plover prop", "quarantined-part-fitted"),
    ("quarantine", "shelve P",                 "quarantine", "quarantined-part-fitted"),
    ("quarantine", "release P because x",      "shelf",      ""),
    ("quarantine", "scrap P because x",        "scrapped",   ""),
    ("quarantine", "sell P",                   "sold",       ""),
    ("quarantine", "rebuild P",                "quarantine", ""),
    ("scrapped",   "fit P",                    "scrapped",   "retired-part-fitted"),
    ("scrapped",   "build P",                  "scrapped",   "retired-part-fitted"),
    ("scrapped",   "remove P",                 "scrapped",   "retired-part-fitted"),
    ("scrapped",   "move P -> plover prop",    "scrapped",   "retired-part-fitted"),
    ("scrapped",   "shelve P",                 "scrapped",   "retired-part-fitted"),
    ("scrapped",   "quarantine P because x",   "scrapped",   "retired-part-fitted"),
    ("scrapped",   "scrap P because x",        "scrapped",   "retired-part-fitted"),
    ("scrapped",   "sell P",                   "scrapped",   "retired-part-fitted"),
    ("scrapped",   "release P because x",      "scrapped",   "not-quarantined"),
    ("sold",       "fit P",                    "sold",       "retired-part-fitted"),
    ("sold",       "build P",                  "sold",       "retired-part-fitted"),
    ("sold",       "remove P",                 "sold",       "retired-part-fitted"),
    ("sold",       "move P -> plover prop",    "sold",       "retired-part-fitted"),
    ("sold",       "shelve P",                 "sold",       "retired-part-fitted"),
    ("sold",       "scrap P because x",        "sold",       "retired-part-fitted"),
    ("sold",       "sell P",                   "sold",       "retired-part-fitted"),
];

#[test]
fn every_transition_leads_where_the_reference_says() {
    let mut wrong = Vec::new();
    for (from, line, to, check) in TABLE {
        let into = INTO.iter().find(|(state, _)| state == from).unwrap().1;
        // A coupling goes on cars, a bearing into hubs.
        let fits = ["fit P", "heron", "plover"].iter().any(|word| line.contains(word) || to.contains(word));
        let (into, name) = if fits {
            (into.replace("wb-1", "cp-1"), "cp-1")
        } else {
            (into.to_owned(), subject(into, from))
        };
        let line = match *line {
            "fit P" => "fit P LR".to_owned(),
            "build P" => "build P into hub-1".to_owned(),
            "strip P" => "strip P from hub-1".to_owned(),
            "strip P failed" => "strip P from hub-1 failed".to_owned(),
            "swap" => "swap coupling LR P -> cp-2".to_owned(),
            other => other.to_owned(),
        };
        let lines = format!("{into}\n2025-05-02 heron\n  {}\n", line.replace('P', name));
        let compiled = book(&lines);
        let got = words(&compiled, compiled.history.parts.get(part(&compiled, name)).now());
        let said: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
        let want: Vec<&str> = [*check].into_iter().filter(|check| !check.is_empty()).collect();
        if got != *to || said != want {
            wrong.push(format!("{from}, {line}: {got} {said:?}, expected {to} {want:?}"));
        }
    }
    assert!(wrong.is_empty(), "{} wrong:\n{}", wrong.len(), wrong.join("\n"));
}

/// The wrong part named as the one that comes off is one mistake, and the new one is on.
#[test]
fn a_swap_that_names_the_wrong_part_makes_one_message() {
    let compiled = book(
        "part cp-3 coupling

2025-05-01 heron
  fit cp-1 LR

2025-05-02 heron
  swap coupling LR cp-2 -> cp-3
",
    );
    let said: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(said, ["pull-not-there"]);
    let now = |name: &str| at(&compiled, name, Rank::END);
    assert_eq!((now("cp-1"), now("cp-3")), ("shelf".to_owned(), "heron LR".to_owned()));
}

/// `cp-2`, which is on the other side, was typed for `cp-3`: what follows from it says nothing more.
#[test]
fn one_mistyped_part_makes_one_message_over_a_season() {
    let compiled = book(
        "part cp-3 coupling
part cp-4 coupling

2025-05-01 heron
  fit cp-1 LR
  fit cp-2 RR

2025-05-02 heron
  swap coupling LR cp-1 -> cp-2
  09:00..09:20 run t1

2025-05-03 heron
  swap coupling LR cp-3 -> cp-4

2025-05-04 heron
  remove cp-2
",
    );
    let said: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(said, ["part-in-two-places"]);
    assert_eq!(at(&compiled, "cp-4", Rank::END), "heron LR");
}

#[test]
fn what_is_released_or_rebuilt_is_no_longer_broken() {
    for cure in ["rebuild cp-1", "quarantine cp-1 because x\n  release cp-1 because sound"] {
        let compiled = book(&format!(
            "2025-05-01 heron\n  fit cp-1 LR\n  remove cp-1 failed\n\n2025-05-02\n  {cure}\n\n2025-05-03 heron\n  fit cp-1 LR\n"
        ));
        assert!(compiled.diagnostics.is_empty(), "{cure}: {:?}", compiled.diagnostics);
        assert_eq!(at(&compiled, "cp-1", Rank::END), "heron LR");
    }
}

#[test]
fn a_part_that_failed_on_the_car_comes_off_failed_without_saying_so_again() {
    let compiled = book("2025-05-01 heron\n  fit cp-1 LR\n  failed cp-1\n  remove cp-1\n");
    assert_eq!(at(&compiled, "cp-1", Rank::END), "failed");
}

/// Three sessions of one day, two swaps between them across two cars: the state asked before, during and after each.
#[test]
fn a_part_travels_between_two_cars_in_one_day() {
    let compiled = book(
        "2025-05-10 heron at pell-1
  08:00 fit cp-1 LR
  09:00..09:20 run s1
  10:00 move cp-1 -> plover prop
  12:00 fit cp-2 LR
  13:00..13:20 run s2

2025-05-10 plover at pell-1
  08:00 fit cp-2 prop
  09:30..09:50 run s1
  09:55 remove cp-2
  11:00..11:20 run s2
  15:00..15:20 run s3
",
    );
    let said: Vec<_> = compiled.diagnostics.iter().map(|one| &one.message).collect();
    assert!(said.is_empty(), "{said:?}");
    for (of, moment, first, second) in [
        ("heron", "pell-1/start", "new", "new"),
        ("heron", "pell-1/before-s1", "heron LR", "plover prop"),
        ("heron", "pell-1/s1", "heron LR", "plover prop"),
        ("heron", "pell-1/after-s1", "heron LR", "plover prop"),
        ("plover", "pell-1/before-s1", "heron LR", "plover prop"),
        ("plover", "pell-1/s1", "heron LR", "plover prop"),
        ("plover", "pell-1/after-s1", "heron LR", "plover prop"),
        ("plover", "pell-1/before-s2", "plover prop", "shelf"),
        ("plover", "pell-1/s2", "plover prop", "shelf"),
        ("plover", "pell-1/after-s2", "plover prop", "shelf"),
        ("heron", "pell-1/before-s2", "plover prop", "heron LR"),
        ("heron", "pell-1/s2", "plover prop", "heron LR"),
        ("heron", "pell-1/after-s2", "plover prop", "heron LR"),
        ("plover", "pell-1/before-s3", "plover prop", "heron LR"),
        ("plover", "pell-1/s3", "plover prop", "heron LR"),
        ("plover", "pell-1/after-s3", "plover prop", "heron LR"),
        ("plover", "pell-1/end", "plover prop", "heron LR"),
        ("heron", "2025-05-09", "new", "new"),
        ("heron", "2025-05-10", "plover prop", "heron LR"),
    ] {
        let rank = rank(&compiled, of, moment);
        assert_eq!(
            (at(&compiled, "cp-1", rank), at(&compiled, "cp-2", rank)),
            (first.to_owned(), second.to_owned()),
            "{of} {moment}"
        );
    }
}

/// The same day, told in the other file order: the clock decides, not the order of the blocks.
#[test]
fn the_clock_decides_across_blocks() {
    let heron = "2025-05-10 heron at pell-1\n  08:00 fit cp-1 LR\n  09:00..09:20 run s1\n  10:00 remove cp-1\n  13:00..13:20 run s2\n\n";
    let plover = "2025-05-10 plover at pell-1\n  10:05 fit cp-1 prop\n  11:00..11:20 run s1\n\n";
    for lines in [format!("{heron}{plover}"), format!("{plover}{heron}")] {
        let compiled = book(&lines);
        assert!(compiled.diagnostics.is_empty(), "{:?}", compiled.diagnostics);
        assert_eq!(at(&compiled, "cp-1", rank(&compiled, "heron", "pell-1/s1")), "heron LR");
        assert_eq!(at(&compiled, "cp-1", rank(&compiled, "heron", "pell-1/s2")), "plover prop");
    }
}

#[test]
fn what_is_inside_goes_along() {
    let compiled = book(
        "2025-05-01
  build wb-1 into hub-1
  build hub-1 into up-1

2025-05-02 heron
  fit up-1 LF

2025-05-03 heron
  move up-1 -> plover RF

2025-05-04
  strip hub-1 from up-1
",
    );
    assert!(compiled.diagnostics.is_empty(), "{:?}", compiled.diagnostics);
    let wb = compiled.history.parts.get(part(&compiled, "wb-1"));
    let path: Vec<(String, Option<&str>)> = wb
        .stays
        .iter()
        .map(|stay| {
            let car = stay.car.map(|car| &*compiled.book.cars[car].named.name);
            (words(&compiled, stay.at), car)
        })
        .collect();
    // Always in its hub; on no car, on heron, on plover (by way of the floor), on no car.
    assert!(path.iter().all(|(there, _)| there == "in hub-1"), "{path:?}");
    let mut cars: Vec<Option<&str>> = path.iter().map(|(_, car)| *car).collect();
    cars.dedup();
    assert_eq!(cars, [None, Some("heron"), None, Some("plover"), None]);
}

#[test]
fn a_circle_is_refused_at_any_depth() {
    let compiled = book(
        "kind box \"box\"\npart bx-1 box\npart bx-2 box\npart bx-3 box\n\n2025-05-01\n  build bx-1 into bx-2\n  build bx-2 into bx-3\n  build bx-3 into bx-1\n",
    );
    let said: Vec<&str> = compiled.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(said, ["inside-circle"]);
    assert_eq!(at(&compiled, "bx-3", Rank::END), "new");
}

#[test]
fn a_nest_ten_thousand_deep_moves_without_recursion() {
    use std::fmt::Write as _;
    let mut lines = String::from("kind box \"box\"  fits LF\n");
    for n in 0..10_000 {
        writeln!(lines, "part bx-{n} box").unwrap();
    }
    lines.push_str("\n2025-05-01\n");
    for n in 1..10_000 {
        writeln!(lines, "  build bx-{n} into bx-{}", n - 1).unwrap();
    }
    lines.push_str("\n2025-05-02 heron\n  fit bx-0 LF\n");
    let compiled = book(&lines);
    let stay = *compiled.history.parts.get(part(&compiled, "bx-9999")).stays.last().unwrap();
    assert_eq!(stay.car, Some(super::car(&compiled, "heron")));
}
