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

const BORROWED: &str = "shop \"Hollin Lane\"  currency EUR
client orr \"Orr\"
client imre \"Imre\"
car heron \"Heron\"  client orr
kind coupling \"coupling\"  fits LR RR
part cp-9 coupling
2025-05-03
  borrow cp-9 from imre 45.00 EUR
2025-05-04 heron
  fit cp-9 LR
  10:00..10:30 run r1 10 laps
  failed cp-9 during r1 mode split
  remove cp-9
";

/// What was booked, to which client, and what lenders are owed.
fn money(compiled: &Compiled) -> (Vec<(String, Option<String>)>, Vec<String>) {
    let sum =
        |amount: Option<stringline::money::Amount>| amount.map_or("?".to_owned(), |sum| sum.to_string());
    let name = |client| compiled.book.clients[client].named.typed.to_string();
    let booked = compiled.costs.postings.iter().map(|one| (sum(one.amount), one.client.map(name)));
    let owed = compiled.costs.to_lenders.iter().map(|one| sum(one.sum));
    (booked.collect(), owed.collect())
}

/// It broke on orr's car, and the shop pays its lender for it: the 45.00 are orr's, whenever it is bought, and whatever becomes of the car.
#[test]
fn what_broke_and_is_bought_is_paid_for_by_the_car_it_broke_on() {
    let his = |sum: &str| (vec![(sum.to_owned(), Some("orr".to_owned()))], Vec::<String>::new());
    for later in [
        "2025-05-06\n  buy cp-9\n",
        "2025-05-06\n  buy cp-9\n2025-05-07\n  scrap cp-9\n",
        "2025-05-06\n  return cp-9\n2025-05-07\n  buy cp-9\n",
        "2025-05-05 heron\n  sell heron 4000.00 EUR to imre\n2025-05-06\n  buy cp-9\n",
    ] {
        assert_eq!(money(&book(&format!("{BORROWED}{later}"))), his("45.00 EUR"), "{later}");
    }
    assert_eq!(money(&book(&format!("{BORROWED}2025-05-06\n  buy cp-9 40.00 EUR\n"))), his("40.00 EUR"));
    assert_eq!(money(&book(BORROWED)), (vec![], vec!["45.00 EUR".to_owned()]));
}

/// Borrowed once more it is another loan: what broke in the first is owed, whatever the second is bought for.
#[test]
fn what_broke_in_an_earlier_loan_stays_owed() {
    let compiled = book(&format!(
        "{BORROWED}  return cp-9\n2025-06-01\n  borrow cp-9 from imre 60.00 EUR\n  buy cp-9\n"
    ));
    assert_eq!(money(&compiled).1, ["45.00 EUR"]);
}

/// So many for nobody knows how much: the car cost at least the rest.
#[test]
fn a_number_bought_without_a_sum_is_not_known() {
    let head = "shop \"Hollin Lane\"  currency EUR\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\nkind nut \"nut\"\n2025-05-03 heron\n  cost 10.00 EUR fuel\n  paid orr 1.00 EUR\n";
    let at_least = |line: &str| of(&book(&format!("{head}{line}")), "orr").billed.at_least;
    assert!(at_least("  buy nut 20\n") && at_least("  buy nut 20 3.00 EURO\n"));
    assert!(!at_least("  buy nut 20 3.00 EUR\n") && !at_least("  use nut 20\n"));
}

/// 100.00 EUR and 10.00 USD booked, 120.00 EUR paid: what he paid ahead is not what he owes.
#[test]
fn what_is_owed_and_what_was_paid_ahead_are_two_facts() {
    let compiled = book(
        "shop \"Hollin Lane\"  currency EUR\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr
2025-05-03 heron\n  cost 100.00 EUR fuel\n  cost 10.00 USD fuel\n  paid orr 120.00 EUR\n",
    );
    let account = stringline::answer::costs::account_of(&compiled, of(&compiled, "orr").client).unwrap();
    assert_eq!(account.text, "paid 20.00 EUR more than is booked, owes 10.00 USD since 3 May 2025");
    let facts: Vec<(&str, &str)> =
        account.standing.iter().map(|(word, text)| (*word, text.as_str())).collect();
    assert_eq!(
        facts,
        [("paid ahead", "20.00 EUR more than is booked"), ("owed", "10.00 USD since 3 May 2025")]
    );
}

/// 100.00 booked, 40.00 paid, and a prize of 30.00: who drew it nobody says, so 60.00 are owed and the prize stands beside. A `credit ...
/// prize to orr` says that the shop drew it for him: 30.00 are owed.
#[test]
fn a_prize_is_taken_off_a_debt_only_where_the_shop_drew_it() {
    let with = |prize: &str| {
        of(
            &book(&format!(
                "shop \"S\"  currency EUR  zone Europe/Dublin\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n2025-05-10 heron\n  cost \
                 100.00 EUR parts\n  10:00..10:30 run s1\n  paid orr 40.00 EUR\n{prize}"
            )),
            "orr",
        )
    };
    for (prize, left, beside) in [
        ("", "60.00 EUR", false),
        ("  result s1 finish 2 prize 30.00 EUR\n", "60.00 EUR", true),
        ("  credit 30.00 EUR prize \"the cup\"\n", "60.00 EUR", true),
        ("  credit 30.00 EUR prize \"the cup\"  to orr\n", "30.00 EUR", false),
    ] {
        let orr = with(prize);
        assert_eq!(owed(&orr), [(left.to_owned(), Some("2025-05-10".to_owned()))], "{prize}");
        assert_eq!(orr.prizes.of(super::eur()) == amount("-30.00 EUR"), beside, "{prize}");
    }
}

/// A part sold to a client for 71.40 is booked to him: paid for, it leaves his debt as it was.
#[test]
fn what_is_sold_to_a_client_is_booked_to_him() {
    let left = |more: &str| {
        let compiled = book(&format!(
            "shop \"S\"  currency EUR  zone Europe/Dublin\nclient orr \"Orr\"\nclient vole \"Vole\"\nkind tyre \"tyre\"  fits LF\npart r-21 \
             tyre\ncar heron \"Heron\"  client vole\n2025-05-10 heron\n  cost 100.00 EUR parts  to orr\n  paid orr 40.00 EUR\n  fit r-21 LF\n  remove \
             r-21\n{more}"
        ));
        owed(&of(&compiled, "orr"))[0].0.clone()
    };
    assert_eq!(left(""), "60.00 EUR");
    assert_eq!(left("  sell r-21 71.40 EUR to orr\n"), "131.40 EUR");
    assert_eq!(left("  sell r-21 71.40 EUR to orr\n  paid orr 71.40 EUR\n"), "60.00 EUR");
}

/// As many lines are not the same lines: heron ran an hour and wren an hour until orr sold, wren two more after. Of 100.00 by minutes he
/// pays 25.00 by the whole book and would pay 50.00 by what he may read: his account is not told.
#[test]
fn an_account_is_whole_by_its_lines_and_not_by_their_number() {
    let text = "shop \"S\"  currency EUR\nclient orr \"Orr\"\nclient hol \"Hol\"\ncar heron \"Heron\"  client orr\ncar wren \"Wren\"  client hol\n\
                2025-05-01 heron\n  10:00..11:00 run s1\n2025-05-01 wren\n  10:00..11:00 run s1\n2025-05-02\n  \
                cost 100.00 EUR other \"rent\"  split minutes among heron, wren\n  paid orr 20.00 EUR\n2025-05-03 heron\n  sell heron 900.00 EUR to hol\n";
    let whole = |text: &str| {
        let whole = book(text);
        let Some(stringline::book::names::Thing::Client(orr)) = whole.book.names.find("orr") else {
            panic!()
        };
        let his = stringline::audience::cut(&whole, &stringline::audience::Reader::Client(orr));
        (of(&whole, "orr").billed.of(super::eur()), his.costs.account_withheld)
    };
    assert_eq!(whole(text), (amount("50.00 EUR"), false));
    assert_eq!(
        whole(&format!("{text}2025-06-01 wren\n  10:00..12:00 run s2\n")),
        (amount("25.00 EUR"), true)
    );
}

/// What came back and is not known makes a total "at most", what was spent "at least", and both nothing that can be said.
#[test]
fn what_is_not_known_bounds_a_total_on_its_own_side() {
    let text = "shop \"S\"  currency EUR\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n2025-05-01 heron\n  cost 100.00 EUR fuel\n  paid orr 10.00 EUR\n";
    let bounds = |line: &str| {
        let orr = of(&book(&format!("{text}{line}\n")), "orr");
        (orr.billed.at_least, orr.billed.at_most, orr.prizes.is_known())
    };
    assert_eq!(bounds("  cost 5.00 EUR fuel"), (false, false, true));
    for lost in ["  cost 5,00 EUR fuel", "  cost 5.00 EUX fuel", "  hours 2,5 h"] {
        assert_eq!(bounds(lost), (true, false, true), "{lost}");
    }
    for lost in ["  credit 5,00 EUR fuel", "  credit 5.00 EUX fuel"] {
        assert_eq!(bounds(lost), (false, true, true), "{lost}");
    }
    // A prize stands beside the account, and is not known there.
    for lost in [
        "  result prize 80,00 EUR",
        "  result prize 80.00 EUX",
        "  result finish 0 prize 80.00 EUR",
        "  result finish 1 prize 80 EUR \"x",
    ] {
        assert_eq!(bounds(lost), (false, false, false), "{lost}");
    }
}

/// Ten pounds at 1.10 are 11.00 before the rate with the mistake; from its day on nobody knows what they are.
#[test]
fn a_rate_with_a_mistake_is_not_the_one_before_it() {
    for (rate, day) in [
        ("1,20 EUR from 2025-05-01", "2025-05-02"),
        ("1.20 EUX from 2025-05-01", "2025-05-02"),
        ("1.20 EUR from 2025-05-32", "2025-04-02"),
    ] {
        let text = |day: &str| {
            format!(
                "shop \"S\"  currency EUR\nexchange GBP 1.10 EUR from 2025-01-01\nexchange GBP {rate}\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n{day} heron\n  cost 10.00 GBP fuel\n  paid orr 1.00 EUR\n"
            )
        };
        let lost = book(&text(day));
        let gbp = stringline::money::Currency::find("GBP").unwrap();
        assert_eq!(of(&lost, "orr").billed.of(gbp), amount("10.00 GBP"), "{rate}");
        assert_eq!(lost.diagnostics.len(), 1, "{rate}: {:?}", lost.diagnostics);
        if rate.ends_with("05-01") {
            assert_eq!(of(&book(&text("2025-04-02")), "orr").billed.of(super::eur()), amount("11.00 EUR"));
        }
    }
}
