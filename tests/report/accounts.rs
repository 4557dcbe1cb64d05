//! What clients owe on the first page: the shop's list, a client's own line, and nobody else's.

use super::html::{read, words};
use super::{demo, page, pages, text};
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;
use stringline::report::{Options, render};

fn first(pages: &[stringline::report::Page]) -> String {
    words(&read(&page(pages, "index.html").html)).replace(['\u{2007}', '\u{2008}'], "")
}

/// The sums are those of the season's own tables: booked less paid.
#[test]
fn the_shop_reads_who_owes_what_since_when() {
    let said = first(&pages(&demo()));
    for wanted in [
        "What clients owe: 2 of 3 owe",
        "bittern owes 1960.85 EUR since 21 August 2026",
        "booked 9810.85 EUR, paid 7850.00 EUR, last 30 September 2026",
        "teal owes nothing",
        "stringline report --for n-aldous",
    ] {
        assert!(said.contains(wanted), "no {wanted} in {said}");
    }
}

#[test]
fn a_client_reads_his_own_line_and_the_way_to_his_letter() {
    let whole = demo();
    let Some(Thing::Client(client)) = whole.book.names.find("varga") else { panic!() };
    let cut = audience::cut(&whole, &Reader::Client(client));
    let his = render(&cut, Options { client: Some(client), ..Options::default() }).unwrap();
    let said = first(&his);
    assert!(said.contains("owes 1960.85 EUR since 21 August 2026"), "{said}");
    assert!(!said.contains("2067.65") && !said.contains("2943.90") && !said.contains("n-aldous"), "{said}");
    let html = &page(&his, "index.html").html;
    let owed = &html[html.find("id=\"owed\"").unwrap()..];
    assert!(owed[..owed.find("</details>").unwrap()].contains("letter-varga.html"), "no way to the letter");
}

/// Where no line says that anything was paid nobody knows what is owed.
#[test]
fn a_book_without_payments_says_nothing() {
    let said = first(&pages(&text(
        "shop \"S\"  currency EUR\nclient orr \"Orr\"\ncar heron \"Heron\"  client orr\n2026-01-01 heron\n  cost other 20 EUR \"paint\"\n",
    )));
    assert!(!said.contains("owe"), "{said}");
}

/// 28 to 54 N/mm are wanted; three repeats of (load 2 - 20 N) / 8 mm in each hole.
#[test]
fn the_bench_says_which_blade_spans_what_is_wanted() {
    let said = words(&read(&page(&pages(&demo()), "bench.html").html)).replace(['\u{2007}', '\u{2008}'], "");
    for wanted in [
        "bl-02 spans it: 28 lies between hole 1 with 23.8 and hole 3 with 39.8; 54 lies between hole 3 with 39.8 and hole 5 with 58.9",
        "bl-03 reaches the stiffest, not the softest: no hole gives 28, nearest hole 1 with 33.7 (+20 %); hole 3 with 54.6 is 54 within its scatter",
        "bl-01 does not span it: no hole gives 28, nearest hole 3 with 22 (-21 %)",
    ] {
        assert!(said.contains(wanted), "no {wanted} in {said}");
    }
}
