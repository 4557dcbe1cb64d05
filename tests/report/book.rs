//! What the pages say of the demo season, against the season's own plan of who ran what.
//!
//! The totals below are the plan's "Use" table (days, sessions, laps, minutes, kilometres), which was worked out before
//! the demo book was written and without this program.

use super::html::{read, words};
use super::{demo, page, pages, text};

const SEASONS: [(&str, &str, &str); 4] = [
    ("teal", "4", "7/28/72/159/156.67"),
    ("bittern", "4", "8/30/383/650/1104.40"),
    ("plover", "6", "12/39/251/537/696.25"),
    ("curlew", "5", "10/24/465/1002/1599.95"),
];

const EVENTS: [(&str, &str, &str); 17] = [
    ("teal", "quern-1", "1/4/41/56/94.71"),
    ("teal", "slatehead-1", "2/8/8/32/11.04"),
    ("teal", "barrows-1", "2/7/14/35/38.50"),
    ("teal", "slatehead-2", "2/9/9/36/12.42"),
    ("bittern", "quern-1", "2/8/118/170/272.58"),
    ("bittern", "ardwell-1", "2/8/75/189/363.00"),
    ("bittern", "barrows-1", "2/6/68/114/187.00"),
    ("bittern", "quern-2", "2/8/122/177/281.82"),
    ("plover", "quern-1", "2/7/72/120/166.32"),
    ("plover", "ardwell-1", "2/6/40/130/193.60"),
    ("plover", "barrows-1", "2/8/60/126/165.00"),
    ("plover", "quern-2", "2/6/67/113/154.77"),
    ("curlew", "quern-1", "2/5/86/135/198.66"),
    ("curlew", "ardwell-1", "2/5/73/210/353.32"),
    ("curlew", "barrows-1", "2/5/91/170/250.25"),
    ("curlew", "quern-2", "2/5/96/150/221.76"),
    ("curlew", "ardwell-2", "2/4/119/337/575.96"),
];

#[test]
fn the_cover_and_the_table_say_what_each_car_ran() {
    let pages = pages(&demo());
    for (car, events, season) in SEASONS {
        let words = words(&read(&page(&pages, &format!("{car}-2026.html")).html));
        let numbers: Vec<&str> = season.split('/').collect();
        let cover = format!(
            "events {events} days {} sessions {} laps {} min {} h ",
            numbers[0], numbers[1], numbers[2], numbers[3]
        );
        assert!(words.contains(&cover), "{car}: no {cover:?} in {}", &words[..400]);
        // A car that is shown in miles has its kilometres beside them.
        let km = [format!(" km {} failures", numbers[4]), format!(" {} km failures", numbers[4])];
        assert!(km.iter().any(|km| words.contains(km)), "{car}");
        assert!(words.contains(&format!("Season {}", numbers.join(" "))), "{car}");
    }
    for (car, event, ran) in EVENTS {
        let words = words(&read(&page(&pages, &format!("{car}-2026.html")).html));
        let row = ran.replace('/', " ");
        let from = words.find("Use, event by event").unwrap();
        let at = words[from..].find(&format!("{event} ")).unwrap();
        let end = words[from + at..].char_indices().nth(150).unwrap().0;
        assert!(words[from + at..][..end].contains(&format!(" {row} ")), "{car} at {event}: no {row:?}");
    }
}

#[test]
fn a_coupling_is_counted_through_its_lives() {
    let pages = pages(&demo());
    let bittern = words(&read(&page(&pages, "bittern-2026.html").html));
    // The plan: cp-01 292 min on 5 days, cp-04 75 on 2, cp-05 249 on 3; ar-01 177 on 2, ar-03 95 on 1.
    for life in [
        "cp-01, LR",
        "It had run 292 min, 5 days.",
        "It had run 75 min, 2 days.",
        "It had run 249 min, 3 days.",
        "mode split mechanism tear cause misaligned found by inspection",
        "177 min 2 days",
        "95 min 1 day",
    ] {
        assert!(bittern.contains(life), "no {life:?}");
    }
    let plover = words(&read(&page(&pages, "plover-2026.html").html));
    // cp-03 208 min on 4 days; cp-06 91 on 2; cp-08, on three cars' days at once, 226 on 6.
    for life in ["It had run 208 min, 4 days.", "It had run 91 min, 2 days.", "226 min 6 days"] {
        assert!(plover.contains(life), "no {life:?}");
    }
    assert!(plover.contains("As it was sold on 14 November 2026."));
}

#[test]
fn the_driver_the_reason_and_the_line_stand_with_a_change() {
    let pages = pages(&demo());
    let diff = words(&read(&page(&pages, "bittern-barrows-1-quern-2.html").html));
    assert!(diff.contains("because there and back and there again"));
    assert!(diff.contains("by way of 1 → 3 → 1 → 3; put back once on the way"));
    assert!(diff.contains("thank you mid neutral (L. Dobrey, after quern-2 s8)"));
    assert!(diff.contains("Two different circuits: the lap times say nothing about"));
    assert!(diff.contains("spring LF sp-01 sp-03"));
    let season = &page(&pages, "bittern-2026.html").html;
    assert!(season.contains("<span class=\"src\"><span class=\"file\">bittern.sline</span>:381</span>"));
    let season = words(&read(season));
    assert!(season.contains("Quern Park 2.31 km a lap 1:07.18 quern-2 s6"));
    assert!(season.contains("with driver 78 kg, fuel 20 L, bars off"));
}

#[test]
fn use_before_the_book_that_is_not_stated_is_at_least() {
    let compiled = text(
        "circuit c \"C\" length 2 km\nevent e 2026-05-02..02 at c \"E\"\ncar a \"A\"\nkind k \"K\" fits front on a life 300 min\n\
         part p k opening 2 days\npart q k opening 40 min\n2026-05-01 a\n  fit p front\n2026-05-02 a at e\n  10:00..10:30 run s1 4 laps\n",
    );
    let words = words(&read(&page(&pages(&compiled), "a-2026.html").html));
    assert!(words.contains("at least 30 min 3 days"), "{words}");
}

#[test]
fn a_broken_book_is_written_with_the_hole_marked() {
    let compiled = text(
        "car a \"A\"\n2026-05-01 a\n  set camber LF -3.0 RF -3.0 deg\n  set camber LF -3.2 RF -3.2\n  set wing-angle 5 deg\n",
    );
    assert!(compiled.count(stringline::diagnostics::Severity::Error) > 0);
    let pages = pages(&compiled);
    let html = &page(&pages, "a-2026.html").html;
    let said = words(&read(html));
    assert!(said.contains("The book has errors."), "{said}");
    assert!(said.contains("camber error 1 not known book.sline:4"), "{said}");
    assert!(said.contains("a line with an error makes it unknown – – – –"), "{said}");
    assert!(html.contains("href=\"#problem-1\"") && html.contains("id=\"problem-1\""));
    assert!(said.contains("set camber LF -3.2 RF -3.2 error 1 book.sline:4"), "{said}");
    assert!(said.contains("wing angle deg set 1 May book.sline:5 5"), "{said}");
    // A session whose line cannot be read is missing from the sums, and they say so.
    let compiled = text("car a \"A\"\n2026-05-01 a\n  09:00..09:20 run s1 5 laps\n  10:00..10:20 run\n");
    let said = words(&read(&page(&super::pages(&compiled), "a-2026.html").html));
    assert!(said.contains("sessions at least 1 laps at least 5 min at least 20 h"), "{said}");
    for nothing in ["", "nonsense\n  at all\n", "car\n", "car a\n2026-05-01 b\n  run\n  | *\n"] {
        assert!(!super::pages(&text(nothing)).is_empty());
    }
}

/// Two events at one circuit with a car's lines between and at the second of them.
fn two_events(between: &str) -> String {
    let compiled = text(&format!(
        "circuit c \"C\" length 2 km\nevent e 2026-05-02..02 at c \"E\"\nevent f 2026-06-06..06 at c \"F\"\nperson d \"D. Driver\"\n\
         car a \"A\"\n2026-05-01 a\n  set wing-angle 5 deg\n  set bar-hole front 1\n  left camber LF -3.0 RF -3.0 deg\n\
         2026-05-02 a at e\n  10:00..10:30 run s1 10 laps best 1:08.42 by d\n2026-06-01 a\n{between}\
         2026-06-06 a at f\n  10:00..10:30 run s1 10 laps best 1:07.18 by d\n    say entry push \"better\"\n"
    ));
    words(&read(&page(&pages(&compiled), "a-e-f.html").html))
}

#[test]
fn credit_is_given_to_nothing_that_is_not_proven() {
    let none = two_events("  left camber LF -3.0 RF -3.0 deg\n");
    assert!(
        none.contains("Best lap 1:08.42 in s1 then, 1:07.18 in s1 now: -1.24 s. Nothing on the car differs"),
        "{none}"
    );
    assert!(none.contains("Measured again, reads the same (1) camber LF RF -3.0 deg"), "{none}");
    let one = two_events("  set wing-angle 5 -> 6.5 deg  because it was long in the fast one\n");
    assert!(
        one.contains("One thing differs between those two sessions (1 setting)")
            && one.contains("likely, not proven"),
        "{one}"
    );
    assert!(one.contains("wing angle deg 5 6.5 +1.5 deg"), "{one}");
    let why = "wing angle because it was long in the fast one 1 Jun book.sline:7, 13 better entry push (D. Driver, after f s1)";
    assert!(one.contains(why), "{one}");
    let two = two_events("  set wing-angle 5 -> 6 deg\n  set bar-hole front 1 -> 2\n");
    assert!(two.contains("cannot be credited to any one of them"), "{two}");
}

#[test]
fn what_was_tried_and_put_back_is_folded_away() {
    let said = two_events("  set bar-hole front 1 -> 2\n  set bar-hole front 2 -> 1\n");
    assert!(said.contains("Changed (0) No setting was changed."), "{said}");
    assert!(said.contains("Tried and put back (1)"), "{said}");
    assert!(said.contains("by way of 1 → 2 → 1; put back once on the way"), "{said}");
    let twice = two_events(&"  set bar-hole front 1 -> 2\n  set bar-hole front 2 -> 1\n".repeat(2));
    assert!(twice.contains("put back 2 times on the way"), "{twice}");
}

/// One thing tried there and back in a day: what its trial says, and no laps beside it. The plan of the season: hole 1 until s5, 3 in s6, 1
/// in s7, 3 in s8.
#[test]
fn what_a_trial_says_of_what_differs_stands_under_the_verdict() {
    let pages = pages(&demo());
    let tried = "Tried there and back: Cannot tell: bar-hole front 3 against 1: quicker by 0.58 s (0.01 to 1.15), A B A B, but so few runs are no verdict";
    for name in ["bittern-barrows-1-quern-2.html", "bittern-quern-1-quern-2.html"] {
        let said = words(&read(&page(&pages, name).html));
        assert!(said.contains(tried), "{said}");
    }
    // The words after the first session are told once, under everything that was changed before it.
    let said = words(&read(&page(&pages, "bittern-barrows-1-quern-2.html").html));
    assert_eq!(said.matches("sits up like a horse").count(), 1, "{said}");
    assert!(!said.contains("as above"));
}
