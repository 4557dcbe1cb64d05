//! What clients paid and owe, since when, and what lenders are owed, worked by hand.

use super::amount;
use stringline::Compiled;
use stringline::costs::owed::{Account, accounts};

/// `tests/fixtures/command/paid`, by hand: orr's are 2.5 h and 50 min at 60.00 (150.00 and 50.00), 31.40, 20.00 GBP at 1.1725 (23.45),
/// less 5.00, and 80.00 USD that nothing exchanges.
const BOOK: &str = include_str!("../fixtures/command/paid/shop.sline");

fn book(text: &str) -> Compiled {
    crate::checks::compile_text(text)
}

fn of(compiled: &Compiled, name: &str) -> Account {
    let all = accounts(&compiled.book, &compiled.costs);
    let is = |one: &&Account| compiled.book.clients[one.client].named.typed.to_string() == name;
    all.iter().find(is).unwrap_or_else(|| panic!("{name}: {all:#?}")).clone()
}

/// Sums and since when.
fn owed(account: &Account) -> Vec<(String, Option<String>)> {
    let words = |owed: &stringline::costs::owed::Owed| {
        (owed.amount.to_string(), owed.since.map(|day| day.to_string()))
    };
    account.owed.iter().map(words).collect()
}

/// Booked 249.85; paid 30.00, 100.00, 11.725 rounded half away from zero to 11.73, less 4.00 back: 137.73. So 112.12. The 30.00 on j-2
/// cover 30.00 of j-2; the other 107.73 and the credit of 5.00 do not cover the 150.00 of 2 May.
#[test]
fn what_is_owed_is_what_was_booked_less_what_was_paid() {
    let orr = of(&book(BOOK), "orr");
    assert_eq!(orr.billed.of(super::eur()), amount("249.85 EUR"));
    assert_eq!(orr.paid.of(super::eur()), amount("137.73 EUR"));
    assert!(!orr.unknown && !orr.billed.at_least);
    let since = |day: &str| Some(day.to_owned());
    assert_eq!(
        owed(&orr),
        [("112.12 EUR".to_owned(), since("2025-05-02")), ("80.00 USD".to_owned(), since("2025-05-06"))]
    );
}

/// 50.00 more: 157.73 and the credit cover the 150.00 of 2 May and 12.73 of what follows, its fuel of 31.40 the same day not whole.
/// 100.00 more: 207.73 and 5.00 cover 181.40 of 2 May and 31.33 of the 43.45 left on 6 May.
#[test]
fn since_when_moves_on_with_what_is_paid() {
    for (more, left, since) in [("50.00", "62.12 EUR", "2025-05-02"), ("100.00", "12.12 EUR", "2025-05-06")] {
        let orr = of(&book(&format!("{BOOK}  paid orr {more} EUR\n")), "orr");
        assert_eq!(owed(&orr)[0], (left.to_owned(), Some(since.to_owned())));
    }
    let orr = of(&book(&format!("{BOOK}  paid orr 112.12 EUR\n")), "orr");
    assert_eq!(owed(&orr)[0], ("0.00 EUR".to_owned(), None));
}

/// 120.00 booked and 150.00 paid.
#[test]
fn more_than_is_booked_is_owed_below_zero_and_since_no_day() {
    assert_eq!(owed(&of(&book(BOOK), "reeve")), [("-30.00 EUR".to_owned(), None)]);
}

#[test]
fn a_payment_with_a_mistake_makes_the_account_unknown() {
    assert!(of(&book(&format!("{BOOK}  paid orr 10.0O EUR\n")), "orr").unknown);
}

/// What broke is owed, what was not is not; what is bought is paid for by its own line.
#[test]
fn a_lender_is_owed_what_was_agreed_where_his_part_broke() {
    let whose = |compiled: &Compiled| {
        let all = compiled.costs.to_lenders.iter();
        all.map(|one| (one.sum.map(|sum| sum.to_string()), one.date.to_string())).collect::<Vec<_>>()
    };
    assert_eq!(whose(&book(BOOK)), [(Some("45.00 EUR".to_owned()), "2025-05-10".to_owned())]);
    assert_eq!(whose(&book(&format!("{BOOK}  buy cp-1 45.00 EUR\n"))), []);
}
