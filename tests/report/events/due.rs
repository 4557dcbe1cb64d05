//! The wall sheet. The demo's plan: spring sp-02 was at the corner that hit the wall on 28 June and came off on 22 August.

use super::super::page;
use super::{DEMO, in_order, of_demo};

#[test]
fn first_the_counts_then_what_must_be_done_then_jobs_then_what_to_watch() {
    let said = of_demo("due.html");
    in_order(
        &said,
        &[
            "2 to replace, 1 to look at, 4 spares to carry, 1 gauge out of date, 2 jobs, 4 at their interval, 4 to watch",
            "17–18 April 2027",
            "Before it goes",
            "replace bittern LR coupling ar-01",
            "its 300 min run out during this event",
            "spare: fit ar-02, 218 of 300 min left",
            "replace teal extinguisher fx-1",
            "its last good day is 31 March 2027, before the event",
            "look at it bittern spring sp-02",
            "off the car since 22 August 2026: do not refit before it is looked at",
            "have it checked torque wrench, red handle tw-1",
            "out of date: 31 July 2026",
            "carry a spare bittern g2",
            "Jobs",
            "curlew: j-05, head off, cylinder 2",
            "open since 26 October 2026; promised before quern-27, 153 days left",
            "curlew: fill brake fluid",
            "bittern: wheel torque : due every 8 sessions: 4 now, 11.5 after the event; last on 6 September 2026",
            "Spares to take along",
            "no spare left",
            "dog ring : take 2 for 3 places; 1 ready: dr-05 short 1",
            "Watch",
            "bittern RR coupling ar-03",
            "its 300 min run out just after it",
            "6, 8, 13, 22 %, taken alike: a straight line through them reaches 10 %, the end of what is usual, by now",
        ],
    );
    // No box to tick for what is only watched, and no date as machines write it.
    let html = &page(&DEMO, "due.html").html;
    let watched = &html[html.find("id=\"watch\"").unwrap()..];
    assert!(!watched.contains("class=\"tick\""));
    let iso = |word: &str| word.len() == 10 && word.starts_with("202") && word.as_bytes()[4] == b'-';
    for page in ["due.html", "load-quern-27.html"] {
        let said = of_demo(page);
        let found: Vec<&str> = said.split([' ', ';', ',']).filter(|word| iso(word)).collect();
        assert!(found.is_empty(), "{page}: {found:?}");
    }
}
