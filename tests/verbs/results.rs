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
