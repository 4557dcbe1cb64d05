//! Whose a payment is, and that a client's account is the shop's or is not said.

use super::amount;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::names::Thing;
use stringline::costs::owed::accounts;
use stringline::diagnostics::Severity;

const HEAD: &str = "shop \"Hollin Lane\"  currency EUR
client orr \"Orr\"
client imre \"Imre\"
car heron \"Heron\"  client orr
car wren \"Wren\"  client imre
";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

/// An account of which a mistake has taken something, and one of which nothing is said.
const NOT_KNOWN: &str = "not known";
const UNSAID: &str = "unsaid";

/// A client's account: what he owes in euro.
fn owes(compiled: &Compiled, name: &str) -> String {
    let Some(Thing::Client(client)) = compiled.book.names.find(name) else { panic!("{name}") };
    let all = accounts(&compiled.book, &compiled.costs);
    let Some(account) = all.iter().find(|one| one.client == client) else { return UNSAID.to_owned() };
    if account.unknown {
        return NOT_KNOWN.to_owned();
    }
    account.owed.first().map_or_else(|| "nothing".to_owned(), |owed| owed.amount.to_string())
}

/// The same as he is told.
fn told(compiled: &Compiled, name: &str) -> String {
    let Some(Thing::Client(client)) = compiled.book.names.find(name) else { panic!("{name}") };
    owes(&cut(compiled, &Reader::Client(client)), name)
}

fn errors(compiled: &Compiled) -> Vec<&'static str> {
    let errors = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    errors.map(|one| one.check).collect()
}

fn sum(text: &str) -> String {
    amount(text).to_string()
}

/// 100.00 of orr's, 30.00 of imre's after he bought the car; 100.00 paid on the job of before.
#[test]
fn a_payment_on_a_job_is_of_whoever_owned_the_car_when_it_was_opened() {
    let sold = "2025-05-03 heron
  job j-1 \"gearbox\"
  cost 100.00 EUR parts on j-1
  done j-1
2025-05-05 heron
  sell heron 4000.00 EUR to imre
2025-05-10 heron for imre
  cost 30.00 EUR fuel
";
    for head in ["2025-05-12", "2025-05-12 heron for imre", "2025-05-12 wren"] {
        let compiled = book(&format!("{sold}{head}\n  paid 100.00 EUR on j-1\n"));
        assert_eq!(errors(&compiled), [""; 0], "{head}");
        assert_eq!(owes(&compiled, "orr"), sum("0.00 EUR"), "{head}");
        assert_eq!(owes(&compiled, "imre"), sum("30.00 EUR"), "{head}");
    }
}

/// A job that was opened before the sale and went on after it is booked to both: the line has to say who paid.
#[test]
fn a_payment_on_a_job_of_two_clients_is_asked_about() {
    let both = "2025-05-03 heron
  job j-1 \"gearbox\"
  cost 100.00 EUR parts on j-1
2025-05-05 heron
  sell heron 4000.00 EUR to imre
2025-05-10 heron for imre
  cost 30.00 EUR parts on j-1
";
    let compiled = book(&format!("{both}2025-05-12\n  paid 60.00 EUR on j-1\n"));
    assert_eq!(errors(&compiled), ["paid-by-whom"]);
    assert_eq!(
        (owes(&compiled, "orr"), owes(&compiled, "imre")),
        (NOT_KNOWN.to_owned(), NOT_KNOWN.to_owned())
    );
    let compiled = book(&format!("{both}2025-05-12\n  paid orr 60.00 EUR on j-1\n"));
    assert_eq!(errors(&compiled), [""; 0]);
    assert_eq!((owes(&compiled, "orr"), owes(&compiled, "imre")), (sum("40.00 EUR"), sum("30.00 EUR")));
}

/// Below the sale in the same block the car is imre's: its cost and its payment.
#[test]
fn without_a_job_it_is_of_whoever_owns_the_car_at_that_line() {
    let compiled = book(
        "2025-05-05 heron
  cost 50.00 EUR parts
  paid 20.00 EUR
  sell heron 4000.00 EUR to imre
  cost 7.00 EUR fuel
  paid 7.00 EUR
",
    );
    assert_eq!((owes(&compiled, "orr"), owes(&compiled, "imre")), (sum("30.00 EUR"), sum("0.00 EUR")));
}

/// Whoever's it is, it is not the car's owner's alone who is not known any more; one that names a client is his.
#[test]
fn a_payer_that_is_not_understood_may_be_anybody() {
    let costs = "2025-05-03 heron\n  cost 100.00 EUR fuel\n2025-05-03 wren\n  cost 300.00 EUR fuel\n";
    for slip in [
        "paid imrw 200.00 EUR",
        "paid back 200.00 EUR",
        "paid heron 200.00 EUR",
        "paid orr imre 200.00 EUR",
        "paid 200.00 EUR on j-9",
        "paid 20O.00 EUR",
    ] {
        let compiled = book(&format!("{costs}2025-05-10 heron\n  paid orr 40.00 EUR\n  {slip}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{slip}");
        for name in ["orr", "imre"] {
            assert_eq!(owes(&compiled, name), NOT_KNOWN.to_owned(), "{slip}: {name}");
            assert_eq!(told(&compiled, name), NOT_KNOWN.to_owned(), "{slip}: {name} is told");
        }
    }
    let compiled = book(&format!("{costs}2025-05-10 heron\n  paid imre 20O.00 EUR\n  paid 40.00 EUR\n"));
    assert_eq!((owes(&compiled, "orr"), owes(&compiled, "imre")), (sum("60.00 EUR"), NOT_KNOWN.to_owned()));
}

/// 70.00 booked and 70.00 paid, and 10.00 of nobody knows whom, in a block that he does not read.
#[test]
fn a_payment_of_nobody_makes_no_account_known_to_any_reader() {
    let compiled = book(
        "2025-05-03 heron
  cost 100.00 EUR fuel
  paid orr 100.00 EUR
2025-05-04 wren
  cost 70.00 EUR fuel
  paid imre 70.00 EUR
2025-05-05
  paid 10.00 EUR
",
    );
    for name in ["orr", "imre"] {
        assert_eq!(
            (owes(&compiled, name), told(&compiled, name)),
            (NOT_KNOWN.to_owned(), NOT_KNOWN.to_owned()),
            "{name}"
        );
    }
}

/// The shop: 100.00 less 20.00 and 80.00, or 150.00 less 30.00. He may not read a part of it, so nothing is said to him.
#[test]
fn an_account_of_which_a_line_is_hidden_is_not_said() {
    for (lines, shop) in [
        ("  cost 100.00 EUR fuel\n  paid orr 20.00 EUR\n  paid orr 80.00 EUR  for shop\n", "0.00 EUR"),
        ("  cost 100.00 EUR fuel\n  cost 50.00 EUR other  for shop\n  paid orr 30.00 EUR\n", "120.00 EUR"),
    ] {
        let compiled = book(&format!("2025-05-03 heron\n{lines}"));
        assert_eq!(
            (owes(&compiled, "orr"), told(&compiled, "orr")),
            (sum(shop), UNSAID.to_owned()),
            "{lines}"
        );
    }
    let open = book("2025-05-03 heron\n  cost 100.00 EUR fuel\n  paid orr 20.00 EUR\n");
    assert_eq!((owes(&open, "orr"), told(&open, "orr")), (sum("80.00 EUR"), sum("80.00 EUR")));
}

/// His book ends with the sale of his last car; 60.00 that he paid afterwards are not in it.
#[test]
fn an_account_that_went_on_after_his_book_ended_is_not_said() {
    let sold = "2025-05-03 heron
  job j-1 \"gearbox\"
  cost 100.00 EUR parts on j-1
  paid 40.00 EUR on j-1
2025-05-05 heron
  sell heron 4000.00 EUR to imre
";
    let before = book(sold);
    assert_eq!((owes(&before, "orr"), told(&before, "orr")), (sum("60.00 EUR"), sum("60.00 EUR")));
    let after = book(&format!("{sold}2025-05-12\n  paid 60.00 EUR on j-1\n"));
    assert_eq!((owes(&after, "orr"), told(&after, "orr")), (sum("0.00 EUR"), UNSAID.to_owned()));
}
