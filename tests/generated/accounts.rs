//! Small books of clients who pay, some of whose cars change hands: what each is told of his account is the shop's, or nothing.

use super::book::{Chooser, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::names::Thing;
use stringline::costs::owed::{Account, accounts};
use stringline::money::Total;

const HEAD: &str = "shop \"Hollin Lane\"  currency EUR  zone Europe/Dublin  rate 60.00 EUR
client orr \"Orr\"
client imre \"Imre\"
client ada \"Ada\"
car heron \"Heron\"  client orr
car wren \"Wren\"  client imre
car tern \"Tern\"  client ada
";
const CLIENTS: [&str; 3] = ["orr", "imre", "ada"];
const CARS: [&str; 3] = ["heron", "wren", "tern"];

/// A book, whether it hides a line from a client, and whether a car changes hands in it.
fn season(seed: u64) -> (String, bool, bool) {
    let bytes = stretch(seed ^ 0xacc0, 500);
    let mut pick = Chooser::new(&bytes);
    let mut text = HEAD.to_owned();
    let mut owners = [0_usize, 1, 2];
    let mut bought = [false; 3];
    let (mut hidden, mut sold) = (false, false);
    let mut jobs = 0;
    for day in 1..=6 + pick.below(14) {
        let car = pick.below(3);
        let buyer = if bought[car] { format!(" for {}", CLIENTS[owners[car]]) } else { String::new() };
        writeln!(text, "2026-04-{day:02} {}{buyer}", CARS[car]).unwrap();
        if jobs == 0 || pick.chance(20) {
            jobs += 1;
            writeln!(text, "  job j-{jobs} \"work\"").unwrap();
        }
        for _ in 0..=pick.below(3) {
            let job = if pick.chance(40) { format!(" on j-{}", 1 + pick.below(jobs)) } else { String::new() };
            let shop = if pick.chance(6) { "  for shop" } else { "" };
            hidden |= !shop.is_empty();
            let sum = format!("{}.{:02} EUR", 1 + pick.below(200), pick.below(100));
            let line = match pick.below(6) {
                0 => format!("cost {sum} fuel{job}"),
                1 => format!("hours {} min{job}", 5 + pick.below(90)),
                2 => format!("cost {sum} other to {}{job}", pick.of(&CLIENTS)),
                3 => format!("paid {sum}{job}"),
                4 => format!("paid {} {sum}{job}", pick.of(&CLIENTS)),
                _ => format!("credit {sum} fuel{job}"),
            };
            writeln!(text, "  {line}{shop}").unwrap();
        }
        if pick.chance(8) {
            let to = (owners[car] + 1 + pick.below(2)) % 3;
            writeln!(text, "  sell {} 1000.00 EUR to {}", CARS[car], CLIENTS[to]).unwrap();
            (owners[car], bought[car], sold) = (to, true, true);
        }
        match pick.below(40) {
            0 => writeln!(text, "2026-04-{day:02}\n  paid 5.00 EUR").unwrap(),
            1 => writeln!(text, "2026-04-{day:02}\n  paid imrw 5.00 EUR").unwrap(),
            _ => {}
        }
    }
    (text, hidden, sold)
}

fn all(book: &Compiled) -> Vec<Account> {
    accounts(&book.book, &book.costs)
}

/// His account as he is told it is the one that the shop has, to the last digit, or nothing is said; and nobody else's is told to him.
#[test]
fn every_client_is_told_the_shops_sum_or_nothing() {
    let (mut told, mut untold, mut unknown) = (0, 0, 0);
    for seed in 0..books(80, 4000) {
        let (text, hidden, sold) = season(seed);
        let files: Files = vec![("shop.sline".to_owned(), text.clone())];
        let book = compiled(&files);
        let shops = all(&book);
        for name in CLIENTS {
            let Some(Thing::Client(client)) = book.book.names.find(name) else { panic!("{name}") };
            let his = all(&cut(&book, &Reader::Client(client)));
            let ours = shops.iter().find(|one| one.client == client);
            for account in &his {
                assert_eq!(account.client, client, "seed {seed}: {name} is told another's\n{text}");
                let ours = ours.unwrap_or_else(|| panic!("seed {seed}: {name}\n{text}"));
                assert_eq!(account.unknown, ours.unknown, "seed {seed}: {name}\n{text}");
                // How far what is not known went is nobody's.
                if !ours.unknown {
                    assert_eq!(account, ours, "seed {seed}: {name}\n{text}");
                }
                unknown += usize::from(ours.unknown);
            }
            // Nothing is kept back without a reason.
            let owes = ours.is_some_and(|ours| ours.billed != Total::default());
            if !hidden && !sold && owes {
                let pays = book.costs.payments.iter().any(|paid| paid.client == Some(client));
                assert!(!pays || !his.is_empty(), "seed {seed}: {name} is told nothing\n{text}");
            }
            told += his.len();
            untold += usize::from(his.is_empty() && ours.is_some());
        }
    }
    assert!(told > 20 && untold > 10 && unknown > 3, "{told} {untold} {unknown}");
}
