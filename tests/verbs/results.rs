//! Results that say one thing twice.

/// Two prizes of one thing are both booked, and said; that of the finish and that of the class are two.
#[test]
fn two_prizes_of_one_result_are_asked_about() {
    let said = |lines: &str| {
        let head = "shop \"S\"  zone Europe/London  currency EUR\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n2025-05-10 heron\n  10:00..10:30 run s1\n";
        let book = crate::checks::compile_text(&format!("{head}{lines}"));
        book.diagnostics.iter().map(|one| one.check.to_owned()).collect::<Vec<_>>()
    };
    assert_eq!(said("  result s1 prize 500 EUR\n  result s1 prize 400 EUR\n"), ["result-twice"]);
    assert_eq!(said("  result s1 prize 500 EUR\n  result s1 prize 500 EUR\n"), ["result-twice"]);
    assert_eq!(said("  result s1 finish 3 prize 500 EUR\n  result s1 class 1 prize 400 EUR\n"), [""; 0]);
    assert_eq!(said("  result s1 prize 500 EUR prize 400 EUR\n"), ["clause-twice"]);
    assert_eq!(said("  result s1 points -5\n"), ["line-incomplete"]);
}

/// Penalties add up, on a line and from line to line; what is no time is refused with what to type.
#[test]
fn penalties_add_up_and_are_times() {
    let said = |lines: &str| {
        let head = "shop \"S\"  zone Europe/London  currency EUR\ncar heron \"Heron\"\n2025-05-10 heron\n  10:00..10:30 run s1\n";
        let book = crate::checks::compile_text(&format!("{head}{lines}"));
        let penalty: f64 = book.book.extras.iter().filter_map(|extra| extra.result.as_ref()?.penalty).sum();
        (penalty, book.diagnostics.iter().map(|one| one.check.to_owned()).collect::<Vec<_>>())
    };
    assert_eq!(said("  result s1 finish 3 penalty 10 s penalty 5 s\n"), (15.0, vec![]));
    assert_eq!(
        said(
            "  result s1 finish 3 penalty 10 s\n  result s1 penalty 20 s \"early\"\n  result s1 penalty 1 min\n"
        ),
        (90.0, vec![])
    );
    assert_eq!(
        said("  result s1 finish 3 penalty 10 s\n  result s1 finish 3 penalty 20 s\n").1,
        ["result-twice"]
    );
    // Minutes and seconds as a lap time is typed: 70 s, and 70.5 s.
    assert_eq!(said("  result s1 penalty 1:10\n"), (70.0, vec![]));
    assert_eq!(said("  result s1 penalty 1:10.5 penalty 10 s\n"), (80.5, vec![]));
    for lost in ["2 laps", "1 place", "10"] {
        assert_eq!(said(&format!("  result s1 penalty {lost}\n")).1, ["line-incomplete"], "{lost}");
    }
}
