//! Between sessions: the ladder, and what was changed when the same words were said before.

use super::{in_order, of_book, of_demo};

#[test]
fn the_setup_the_last_sessions_and_the_words_stand_in_one_column() {
    let said = of_demo("bittern-now.html");
    in_order(
        &said,
        &[
            // What he said last; the last session, with its pressures; then the setup; then the sessions before it.
            "after s8 1:07.36 thank you",
            "quern-2",
            "the last session s8",
            "1:07.36",
            "changed before it: set bar-hole front 1 → 3",
            "tyre cold bar 1.40 1.40 1.36 1.36",
            "tyre hot, last here bar 1.82 1.83 1.78 1.79",
            "Setup as its last line left it",
            "bar hole 3",
            "camber deg",
            "-3.2 -3.2 -2.0 -2.1",
            "weight kg 149.5 151.0 170.5 171.0",
            "Sessions before it",
            "s7",
            "s6",
            "1:07.18 quickest",
        ],
    );
    in_order(
        &said,
        &["s6", "that. leave that", "set bar-hole front 1 → 3 because half the class runs a stiff front"],
    );
    in_order(
        &said,
        &[
            "Said before",
            "mid push after s7, s5, s4",
            "quern-2 s5, here",
            "by the lake, still",
            "set bar-hole front 1 → 3",
            "1:07.61 (+0.43) → 1:07.18 (the day's best) -0.43 s in s6",
            "that. leave that",
            "quern-2 s4, here",
            "swap coupling RR ar-02 → ar-03",
            "the next day",
        ],
    );
    // Nothing is to be cured where he is content.
    assert!(!said.contains("mid neutral after"), "{said}");
}

/// A car that ran two sessions in May, with something changed between, and says `last` in June.
fn again(first: &str, second: &str, last: &str) -> String {
    again_where("", first, second, last)
}

/// The same in a book that declares something more.
fn again_where(declared: &str, first: &str, second: &str, last: &str) -> String {
    of_book(
        &format!(
            "{declared}circuit c \"C\" length 2 km\nevent e 2026-05-02..02 at c \"E\"\nevent f 2026-06-06..06 at c \"F\"\nperson d \"D\"\nperson g \"G\"\n\
             car a \"A\"\n2026-05-02 a at e\n  10:00..10:30 run s1 6 laps best 1:23.60 by d with dry\n    laps 1:31.2 out-lap 1:23.9 1:23.60 1:24.1 2:20.0 box\n    \
             say {first}\n  10:40 set wing-angle 5 deg  because long\n  10:50 set bar-hole front 2\n  \
             11:00..11:30 run s2 6 laps best 1:22.10 by g with damp\n    say {second}\n\
             2026-06-06 a at f\n  10:00..10:30 run s1 4 laps by d with dry\n    say {last}\n"
        ),
        "a-now.html",
    )
}

#[test]
fn other_endings_and_the_trades_other_words_are_the_same_words() {
    for (first, last) in [
        ("entry push", "entry pushes"),
        ("entry pushing", "entry pushed"),
        ("entry understeer", "entry push"),
        ("mid oversteer", "mid loose"),
        ("mid slides", "mid sliding"),
        ("exit wheelspin", "exit spinning"),
        ("nervous", "twitchy"),
    ] {
        let said = again(first, "mid neutral", last);
        in_order(
            &said,
            &[
                &format!("{last} after s1"),
                "e s1, here",
                "1:23.60 (+1.50) → 1:22.10 (the day's best) -1.50 s in s2",
            ],
        );
    }
    for (first, last) in
        [("entry push", "exit push"), ("entry push", "entry nervous"), ("entry push", "push")]
    {
        assert!(
            again(first, "mid neutral", last).contains("Never before in this book."),
            "{first} and {last}"
        );
    }
}

#[test]
fn what_else_changed_is_said_beside_what_the_lap_did() {
    let said = again("entry push", "entry neutral \"gone\"", "entry push");
    assert!(said.contains("in s2; 2 changes at once; another driver; dry, then damp gone"), "{said}");
    assert!(said.contains("set wing-angle 5 deg because long"), "{said}");
}

#[test]
fn a_median_is_of_the_laps_that_count() {
    let said = of_book(
        "car a \"A\"\n2026-05-02 a\n  10:00..10:30 run s1 6 laps best 1:23.60\n    laps 1:31.2 out-lap 1:23.9 1:23.60 1:24.1 2:20.0 box\n  \
         11:00..11:20 run s2 3 laps\n    laps 1:31.2 out-lap 1:23.9 2:20.0 box\n",
        "a-now.html",
    );
    // 1:23.60 1:23.90 1:24.10; a single lap has none.
    in_order(&said, &["s2", "median –", "s1", "median 1:23.90 of 3 laps that count"]);
}

/// What the shop says a word means is that word, wherever the words are counted, over as many lines as it takes and into the trade's own
/// groups; what was typed is what is shown.
#[test]
fn a_word_that_means_another_is_that_word() {
    let washes = "word washes means push\n";
    for (declared, first, last) in [
        (washes, "entry washes", "entry push"),
        (washes, "entry push", "entry washing"),
        (washes, "entry understeer", "entry washes"),
        ("word washes means plough\n", "entry washed", "entry understeers"),
        ("word washes means drifts\nword drifts means push\n", "entry washes", "entry push"),
        ("word edgy means loose\n", "entry edgy", "entry slides"),
        // Where the shop leads back into a group of the trade's, all of it is still one.
        ("word push means plough\n", "entry push", "entry understeer"),
    ] {
        let said = again_where(declared, first, "mid neutral", last);
        in_order(&said, &[&format!("{last} after s1"), "e s1, here"]);
        assert!(said.contains(first.split(' ').next_back().unwrap()), "{said}");
    }
    // Without the line, of another phase, or the other word of the trade's group it is not.
    for (declared, first, last) in [
        ("", "entry washes", "entry push"),
        (washes, "entry washes", "exit push"),
        ("word edgy means loose\n", "entry twitchy", "entry slides"),
    ] {
        assert!(!again_where(declared, first, "mid neutral", last).contains("e s1, here"), "{first} {last}");
    }
    // One that means praise asks for no cure.
    assert!(
        !again_where("word sorted means neutral\n", "entry push", "entry push", "entry sorted")
            .contains("entry sorted after")
    );
}

/// How often it was said, what was changed next, what became of it: three times before with one setting turned down, gone twice; once with
/// nothing changed, when it was said again.
#[test]
fn what_became_of_the_same_words_is_counted() {
    let mut text =
        "circuit c \"C\"\ncar a \"A\"\nperson d \"D\"\n2026-01-01 a\n  set bar-hole front 9\n".to_owned();
    // What is said in the first and in the second session of a day, and the hole between.
    let days = [
        ("entry push", "entry neutral", 8),
        ("entry pushes", "entry loose", 7),
        ("entry push", "entry push", 6),
        ("entry pushing", "entry push", 6),
        ("entry push", "mid loose", 5),
    ];
    for (day, (first, second, hole)) in days.iter().enumerate() {
        let month = day + 2;
        text += &format!(
            "event e-{month} 2026-0{month}-02 at c \"E\"\n2026-0{month}-02 a at e-{month}\n  10:00..10:20 run s1 5 laps best 1:20.0 by d\n    say {first}\n"
        );
        if day != 3 {
            text += &format!("  set bar-hole front {} -> {hole}\n", hole + 1);
        }
        text += &format!("  11:00..11:20 run s2 5 laps best 1:20.0 by d\n    say {second}\n");
    }
    text += "event f 2026-08-02 at c \"F\"\n2026-08-02 a at f\n  10:00..10:20 run s1 5 laps best 1:20.0 by d\n    say entry push\n";
    let said = of_book(&text, "a-now.html");
    in_order(
        &said,
        &[
            "entry push after s1",
            "5 times before with a session after it: bar-hole front down 4 times (gone 2 times, said again once, nothing said after once); nothing changed once (said again).",
        ],
    );
}

/// What was put back is no change, another driver is one; a line that cannot be read leaves it unknown, and so does one that its reader may not.
#[test]
fn what_was_put_back_who_drove_and_what_nobody_can_read() {
    let days = |between: &str, by: &str| {
        let mut text = "circuit c \"C\"\nclient o \"O\"\ncar a \"A\"  client o\nperson d \"D\"\nperson g \"G\"\n2026-01-01 a\n  set bar-hole front 2\n".to_owned();
        text += &format!(
            "event e 2026-02-02 at c \"E\"\n2026-02-02 a at e\n  10:00..10:20 run s1 5 laps best 1:20.0 by d\n    say entry push\n{between}  11:00..11:20 run s2 5 laps best 1:20.0 by {by}\n    say entry neutral\n"
        );
        text += "event f 2026-08-02 at c \"F\"\n2026-08-02 a at f\n  10:00..10:20 run s1 5 laps best 1:20.0 by d\n    say entry push\n";
        let said = of_book(&text, "a-now.html");
        said.split_once("with a session after it: ").unwrap().1.split_once(" (gone)").unwrap().0.to_owned()
    };
    assert_eq!(
        days("  set bar-hole front 2 -> 3\n  set bar-hole front 3 -> 2\n", "d"),
        "nothing changed once"
    );
    assert_eq!(days("", "g"), "another driver once");
    assert_eq!(days("  set bar-hole front nonsense\n", "d"), "not known what was changed once");
}

/// Each place that was turned once, whatever was typed of it; and none that stands as it stood.
#[test]
fn places_that_were_turned_are_told_once() {
    let told = |line: &str| {
        let text = format!(
            "circuit c \"C\"\nevent e-1 2026-05-02 at c\nevent e-2 2026-06-02 at c\ncar a \"A\"\n2026-05-02 a at e-1\n  set tyre-cold 1.5 1.5 1.4 1.4 bar\n  10:00..10:10 run s1 8 laps best 1:10.0\n    say entry push\n  {line}\n  11:00..11:10 run s2 8 laps best 1:09.0\n    say entry push\n2026-06-02 a at e-2\n  10:00..10:10 run s1 8 laps best 1:10.0\n    say entry push\n"
        );
        of_book(&text, "a-now.html")
    };
    let front = told("set tyre-cold front 1.5 -> 1.6 bar");
    assert!(front.contains("tyre-cold LF RF up once (said again)"), "{front}");
    let one = told("set tyre-cold 1.6 1.5 1.4 1.4 bar");
    assert!(one.contains("tyre-cold LF up once (said again)"), "{one}");
}
