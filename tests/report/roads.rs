//! Stages of one road: their times are compared over events and years, as far as they are as long; two roads never are.

use super::html::{read, words};
use super::{page, pages, text};

fn season(lines: &str) -> String {
    words(&read(&page(&pages(&text(lines)), "stoat-2025.html").html))
}

const HEAD: &str = "shop \"S\"  currency EUR  zone Europe/Dublin
person ann \"Ann Dell\"
circuit moor \"Moor\"
circuit gorse \"Gorse\"  length 10.5 km
event m-1 2024-05-10..11 at moor \"Spring\"
event m-2 2025-05-10..11 at moor \"Spring again\"
car stoat \"Stoat\"
2024-05-10 stoat at m-1
  09:00..10:00 run loop1  by ann
    stage ss1 at gorse 7:10.4
2025-05-10 stoat at m-2
  09:00..10:00 run loop1  by ann
    stage ss1 at gorse 7:05.2
    stage ss2 14.2 km 6:00.0
  11:00..12:00 run loop2  by ann
    stage ss3 at gorse 10.5 km 7:00.0
    stage ss4 at gorse 8.2 km 5:00.0
";

/// 7:00.0 less 7:10.4 is -10.4 s; the quickest as long is told with the others, the shorter one is the best of nothing.
#[test]
fn times_of_one_road_are_compared() {
    let lines = HEAD.replace("    stage ss4 at gorse 8.2 km 5:00.0\n", "");
    let said = season(&lines);
    assert!(said.contains("Gorse 10.5 km 7:00.0 m-2 ss3"), "{said}");
    assert!(said.contains("Also 7:05.2 at m-2 ss1"), "{said}");
    assert!(said.contains("Before: 7:10.4 in 2024 (m-1 ss1), -10.40 s"), "{said}");
    assert!(!said.contains("6:00.0 m-2"), "{said}");
}

/// One that is shorter is no better time of the road that its declaration measures.
#[test]
fn a_shorter_one_is_not_its_best() {
    let said = season(HEAD);
    assert!(said.contains("Gorse 10.5 km 7:00.0 m-2 ss3"), "{said}");
    assert!(said.contains("5:00.0 at m-2 ss4, over 8.2 km: not compared"), "{said}");
}

/// Runs that state how far they went and no laps are of two roads: their best times are two rows.
#[test]
fn two_roads_as_runs_are_two_rows() {
    let lines = "shop \"S\"  currency EUR  zone Europe/Dublin\ncircuit moor \"Moor\"\nevent m-1 2025-05-10 at moor \"Spring\"\ncar stoat \"Stoat\"\n\
                 2025-05-10 stoat at m-1\n  run ss1  10.5 km  best 7:10.4\n  run ss2  8.2 km  best 5:00.0\n  run ss3  10.5 km  best 7:02.0\n";
    let said = season(lines);
    assert!(said.contains("Moor 10.5 km 7:02.0 m-1 ss3"), "{said}");
    assert!(said.contains("Moor 8.2 km 5:00.0 m-1 ss2"), "{said}");
}
