//! What a reader may not have does not reach him in any shape: not as a word, a sum, a total, an order, a fingerprint. Every
//! canary that is not for him is changed, and whatever he is told stays the same to the last byte.

use super::{ALL, Who, book, canaries, put, told};

/// Hidden numbers that are no sums: what stands in the book, what is put in its place, whom it is for.
const NUMBERS: [(&str, &str, &[Who]); 6] = [
    ("camber LF -3.1 deg  for shop", "camber LF -3.4 deg  for shop", &[]),
    ("spring-rate 69.4, 69.2, 69.5 N/mm", "spring-rate 60.4, 60.2, 60.5 N/mm", &[Who::BuyerWithBench]),
    ("30 mm 2142 N", "30 mm 1942 N", &[Who::BuyerWithBench]),
    ("hours 1.5 h \"Qs", "hours 2.5 h \"Qs", &[]),
    ("hours 1 h \"Qs", "hours 3 h \"Qs", &[]),
    ("tyre-hot 2.0 2.0 2.0 2.0 bar", "tyre-hot 2.3 2.0 2.0 2.0 bar", &[Who::Other]),
];

/// The book with every number and every canary changed that is not for a reader.
fn changed(who: Who) -> Vec<(String, String)> {
    let change = |text: &str| {
        let mut text = text.to_owned();
        for (number, other, may) in NUMBERS {
            if !may.contains(&who) {
                text = text.replace(number, other);
            }
        }
        for canary in canaries(&text) {
            if !who.may(&canary) {
                let other = match canary.strip_prefix('Q') {
                    Some(rest) => format!("Z{rest}"),
                    // 2001.37 becomes 7001.37.
                    None => format!("{}{}", (canary.as_bytes()[0] - b'0' + 5) % 10, &canary[1..]),
                };
                text = text.replace(&canary, &other);
            }
        }
        text
    };
    book().into_iter().map(|(name, text)| (change(&name), change(&text))).collect()
}

#[test]
fn the_numbers_stand_in_the_book() {
    for (number, ..) in NUMBERS {
        assert!(book().iter().any(|(_, text)| text.contains(number)), "{number}");
    }
}

/// What a reader is told of two books is the same to the last byte.
fn same(who: Who, before: &str, after: &str) {
    if let Some((a, b)) = before.lines().zip(after.lines()).find(|(a, b)| a != b) {
        panic!("{who:?} is told\n{a}\nand\n{b}");
    }
    assert_eq!(before.len(), after.len(), "{who:?}");
}

#[test]
fn nothing_a_reader_is_told_rests_on_what_he_may_not_have() {
    for who in ALL.into_iter().filter(|who| *who != Who::Shop) {
        let name = format!("interference-{who:?}");
        let before = told(&put(&name, &book()), who);
        let other = changed(who);
        assert_ne!(other, book(), "{who:?} may read everything");
        let after = told(&put(&name, &other), who);
        same(who, &before, &after);
    }
}

/// How many lines stand between two of his in a ledger that is not his alone is none of his either.
#[test]
fn no_line_is_counted_that_a_reader_may_not_have() {
    for who in ALL.into_iter().filter(|who| *who != Who::Shop) {
        let name = format!("between-{who:?}");
        let before = told(&put(&name, &book()), who);
        let is_his = |file: &str| before.contains(file);
        assert!(!is_his("shop.sline"), "{who:?}");
        let between = |(file, text): (String, String)| {
            let text = if is_his(&file) { text } else { text.replace('\n', "\n# swept\n\n") };
            (file, text)
        };
        let apart: Vec<_> = book().into_iter().map(between).collect();
        let after = told(&put(&name, &apart), who);
        same(who, &before, &after);
    }
}
