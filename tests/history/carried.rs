//! A spare that rides along: it is on its car and does not work there, so that nothing counts it; it goes on from there like one on the shelf.

use super::part;
use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer;
use stringline::book::model::{CarId, Clock};
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

const SHOP: &str = "shop \"S\"  currency EUR  zone Europe/Dublin
car stoat \"Stoat\"
kind shaft \"driveshaft\"  fits LR RR on stoat  carried boot on stoat  life 400 stage-km
part sh-1 shaft  opening new  price 90.00 EUR
part sh-2 shaft  opening new  price 90.00 EUR

2025-05-09 stoat
  fit sh-1 LR
  fit sh-2 boot

2025-05-10 stoat
  09:00..10:00 run loop1
    stage ss1 10 km 7:00
";

fn km(book: &Compiled, name: &str) -> f64 {
    let sum = of_part(&book.book, &book.history, part(book, name), Rank::START, Rank::END);
    sum.on(Clock::StageDistance).0 / 1000.0
}

#[test]
fn it_counts_nothing_until_it_works() {
    let book = compile_text(SHOP);
    let said: Vec<_> = book.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(said, Vec::<&str>::new());
    assert_eq!((km(&book, "sh-1").to_string(), km(&book, "sh-2").to_string()), ("10".into(), "0".into()));
    let all = answer::part::all(&book, CarId::new(0), moment::end(&book.history).rank);
    let own: Vec<_> =
        all.iter().map(|one| (one.part.as_deref(), one.place.as_deref(), one.carried)).collect();
    assert_eq!(own, [(Some("sh-1"), Some("LR"), false), (Some("sh-2"), Some("boot"), true)]);
    // It is not in use yet, and so in no total.
    assert_eq!(stock(&book), ["sh-2"]);
    // At a service it goes on like any spare: 6 km more.
    let on = compile_text(&format!(
        "{SHOP}  10:10 swap shaft LR sh-1 -> sh-2  because it knocks\n  11:00..12:00 run loop2\n    stage ss2 6 km 4:00\n"
    ));
    let said: Vec<_> = on.diagnostics.iter().map(|one| one.check).collect();
    assert_eq!(said, Vec::<&str>::new());
    assert_eq!((km(&on, "sh-1").to_string(), km(&on, "sh-2").to_string()), ("10".into(), "6".into()));
    // And it comes out again.
    let out = compile_text(&format!("{SHOP}  10:10 remove sh-2\n"));
    assert!(out.diagnostics.is_empty());
    let all = answer::part::all(&out, CarId::new(0), moment::end(&out.history).rank);
    assert_eq!(all.iter().filter(|one| one.carried).count(), 0);
}

fn stock(book: &Compiled) -> Vec<String> {
    let asked = stringline::costs::Selection::default();
    let all = answer::costs::statement(book, asked, answer::costs::CostsBy::Car);
    all.stock.into_iter().map(|one| one.part).collect()
}
