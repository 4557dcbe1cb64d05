//! The entry money of lost sessions, worked by hand.

use crate::checks::compile_text;
use stringline::audience::{Reader, cut};
use stringline::book::model::ClientId;
use stringline::money::{Amount, Total};
use stringline::{Compiled, diagnostics::Severity};

/// Heron is entered twice for pell-1: 100.00 that orr pays, and 60.00 that pell does. Four sessions are planned, it breaks in the
/// second.
const BOOK: &str = "\
shop \"Hollin Lane\"  currency EUR  rate 58.00 EUR
client orr \"The Orr family\"
client pell \"The Pells\"
client lisk \"Lisk\"
circuit pell-hill \"Pell Hill\"  length 1.20 km
event pell-1 2025-05-10 at pell-hill  sessions 4
car heron \"Heron\"  client orr
car wren \"Wren\"  client lisk
kind coupling \"coupling\"  fits LR RR
part cp-1 coupling
2025-05-01 heron
  ENTRY
  fit cp-1 LR
2025-05-10 heron at pell-1
  09:00..09:20 run s1
  10:00..10:20 run s2
    failed cp-1 during s2
";

fn book(entry: &str) -> Compiled {
    let compiled = compile_text(&BOOK.replace("ENTRY", entry));
    assert_eq!(compiled.count(Severity::Error), 0, "{:#?}", compiled.diagnostics);
    compiled
}

/// The share of entry money lost with the one failure, and all that it cost, in EUR.
fn lost(compiled: &Compiled) -> (String, String) {
    let [one] = compiled.costs.failures.as_slice() else { panic!("{:#?}", compiled.costs.failures) };
    let lost = one.lost.unwrap();
    assert_eq!((lost.sessions, lost.planned, lost.stated), (2, 4, true));
    let eur = |total: &Total| total.of(super::eur()).digits();
    (lost.entry.map_or_else(String::new, Amount::digits), eur(&one.total))
}

fn for_client(compiled: &Compiled, at: u32) -> Compiled {
    cut(compiled, &Reader::Client(ClientId::new(at)))
}

fn both(sum: &str) -> (String, String) {
    (sum.to_owned(), sum.to_owned())
}

/// Two sessions of four: half of the entry money. The shop counts 100.00 and 60.00, half of which is 80.00; orr, who paid 100.00 and
/// reads no sum of pell's, lost 50.00.
#[test]
fn of_what_somebody_else_paid_he_lost_nothing() {
    let all = book("cost 100.00 EUR entry  at pell-1\n  cost 60.00 EUR entry  at pell-1  to pell");
    assert_eq!(lost(&all), both("80.00"));
    assert_eq!(lost(&for_client(&all, 0)), both("50.00"));
    assert!(for_client(&all, 1).costs.failures.is_empty(), "the car is none of pell's");
}

/// 200.00 shared equally with wren: heron's 100.00, and 50.00 of it lost; nothing of wren's, which lost no session.
#[test]
fn of_a_shared_entry_its_own_share_counts() {
    let all = book("cost 200.00 EUR entry  at pell-1  split equal among heron, wren");
    assert_eq!(lost(&all), both("50.00"));
    assert_eq!(lost(&for_client(&all, 0)), both("50.00"));
    assert!(for_client(&all, 2).costs.failures.is_empty());
}
