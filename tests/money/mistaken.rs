//! Lines about money with a mistake: to whomever they name something was booked, and how much is not known. Every mistake by every verb; what
//! is not named is told exactly, as before. And sales of parts, worked by hand.

use super::{amount, eur};
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::model::{CarId, ClientId};
use stringline::costs::owed::{Account, accounts};
use stringline::money::Total;

/// Two jobs of a car that orr pays for, one of a car that lisk does; an hour at 40.00 on each job and a quote of 100.00.
const BOOK: &str = "\
shop \"Hollin Lane\"  currency EUR  rate 40.00 EUR
client orr \"The Orr family\"
client lisk \"Lisk\"
client pell \"The Pells\"
car heron \"Heron\"  client orr
car wren \"Wren\"  client lisk
kind coupling \"coupling\"  fits LR RR
part cp-1 coupling  opening new  price 10.00 EUR
2025-05-01 heron
  job j-1 \"gearbox\"
  job j-2 \"clutch\"
  quote 100.00 EUR on j-1
  quote 100.00 EUR on j-2
  hours 1 h on j-1
  hours 1 h on j-2
2025-05-01 wren
  job j-3 \"seat\"
  quote 100.00 EUR on j-3
  hours 1 h on j-3
  paid lisk 5.00 EUR
2025-05-01
  paid pell 5.00 EUR
2025-05-02 heron
";

fn book(line: &str) -> Compiled {
    let made = crate::checks::compile_text(&format!("{BOOK}  {line}\n"));
    let wrong = made.count(stringline::diagnostics::Severity::Error);
    assert_eq!(wrong, 1, "{line}: {:?}", made.diagnostics);
    made
}

/// Whether the totals of what is chosen are not known, where they are a sum known before: the jobs, the cars, the clients, and the quotes lost.
fn holes(made: &Compiled) -> (Vec<&'static str>, Vec<&'static str>) {
    let (book, costs) = (&made.book, &made.costs);
    let (mut holes, mut quotes) = (Vec::new(), Vec::new());
    let mut look = |name: &'static str, keep: &dyn Fn(&stringline::costs::Posting) -> bool| {
        let mut total = Total::default();
        costs.postings.iter().filter(|posting| keep(posting)).for_each(|posting| posting.add_to(&mut total));
        if total.at_least || total.at_most {
            holes.push(name);
        }
    };
    for name in ["j-1", "j-2", "j-3"] {
        let id = book.jobs.iter_enumerated().find(|(_, job)| job.named.typed.to_string() == name).unwrap().0;
        look(name, &|posting| posting.job == Some(id));
        let quoted = costs.quotes.iter().find(|quoted| quoted.job == id).unwrap();
        if quoted.quote.is_none() {
            quotes.push(name);
        }
    }
    look("heron", &|posting| posting.car == Some(CarId::new(0)));
    look("wren", &|posting| posting.car == Some(CarId::new(1)));
    look("orr", &|posting| posting.client == Some(ClientId::new(0)));
    look("lisk", &|posting| posting.client == Some(ClientId::new(1)));
    look("pell", &|posting| posting.client == Some(ClientId::new(2)));
    (holes, quotes)
}

#[test]
fn a_sum_with_a_mistake_leaves_a_hole_wherever_the_line_says_it_belongs() {
    let cases: [(&str, &[&str]); 15] = [
        ("hours 1,5 h", &["heron", "orr"]),
        ("hours 1,5 h on j-1", &["j-1", "heron", "orr"]),
        ("hours 1.5 on j-1", &["j-1", "heron", "orr"]),
        ("hours 1.5 h on j-3 extra", &["j-3", "heron", "orr"]),
        // Which job it is nobody can make out: one of the car's.
        ("hours 1.5 h on j-9", &["j-1", "j-2", "heron", "orr"]),
        ("cost 12,50 EUR parts", &["heron", "orr"]),
        ("cost 12,50 EUR parts to pell", &["heron", "pell"]),
        ("cost 12,50 EUR parts too pell", &["heron", "orr", "pell"]),
        ("cost 12.50 EUR parts split equl among heron, wren", &["heron", "wren", "orr", "lisk"]),
        ("cost 12,50 EUR split equal among heron, wren", &["heron", "wren", "orr", "lisk"]),
        ("cost 12,50 EUR parts \"as wren's, on j-1\"", &["heron", "orr"]),
        ("cost 12,50 EUR parts because wren had one", &["heron", "orr"]),
        ("credit 12,50 EUR parts on j-2", &["j-2", "heron", "orr"]),
        ("cost 12.50 EUR parts on j-1 \"it was", &["j-1", "heron", "orr"]),
        ("hours 1.5 h onn j-2", &["j-2", "heron", "orr"]),
    ];
    for (line, wanted) in cases {
        let (holes, quotes) = holes(&book(line));
        assert_eq!(holes, wanted, "{line}");
        assert_eq!(quotes, [""; 0], "{line}");
    }
}

/// A quote with a mistake takes the one before of the job that it names, and of every job of the car where it names none.
#[test]
fn a_quote_with_a_mistake_leaves_none_standing() {
    for (line, wanted) in [
        ("quote 200,00 EUR on j-1", &["j-1"][..]),
        ("quote 200.00 EUR on j-9", &["j-1", "j-2"]),
        ("quote 200,00 EUR on j-3", &["j-3"]),
    ] {
        let made = book(line);
        assert_eq!(holes(&made).1, wanted, "{line}");
    }
    let again =
        crate::checks::compile_text(&format!("{BOOK}  quote 200,00 EUR on j-1\n  quote 90.00 EUR on j-1\n"));
    assert_eq!(holes(&again).1, [""; 0]);
}

/// To the client it is the same hole: 80.00 at least, not 80.00; unless the line says that it is the shop's alone, or is somebody else's.
#[test]
fn a_client_is_told_that_something_is_not_known() {
    let told = |line: &str| {
        let made = cut(&book(line), &Reader::Client(ClientId::new(0)));
        let mut total = Total::default();
        made.costs.postings.iter().for_each(|posting| posting.add_to(&mut total));
        (total.of(eur()), total.at_least)
    };
    assert_eq!(told("hours 1,5 h"), (amount("80.00 EUR"), true));
    assert_eq!(told("hours 1.5 h on j-1 \"it was"), (amount("80.00 EUR"), true));
    assert_eq!(told("hours 1,5 h for shop"), (amount("80.00 EUR"), false));
    assert_eq!(told("cost 12,50 EUR parts to pell"), (amount("80.00 EUR"), false));
}

fn account(made: &Compiled, client: u32) -> Account {
    let all = accounts(&made.book, &made.costs);
    all.into_iter().find(|one| one.client == ClientId::new(client)).unwrap()
}

/// A part of the shop's that orr buys for 25.00 and has put on his car: 25.00 is booked to him wherever the line stands, and nothing comes back to his car;
/// what comes off lisk's car is lisk's.
#[test]
fn what_a_part_brought_is_never_the_buyers() {
    let head = |line: &str| {
        format!(
            "{}2025-05-03\n{line}2025-05-04 heron\n  fit cp-1 LR\n  paid orr 1.00 EUR\n",
            &BOOK[..BOOK.len() - 17]
        )
    };
    let sale = "  sell cp-1 25.00 EUR to orr\n";
    for line in [sale.to_owned(), format!("2025-05-03 heron\n{sale}")] {
        let made = crate::checks::compile_text(&head(&line));
        assert_eq!(account(&made, 0).billed.of(eur()), amount("105.00 EUR"), "{line}{:?}", made.diagnostics);
    }
    let off = format!("2025-05-02 wren\n  fit cp-1 LR\n  remove cp-1\n2025-05-03\n{sale}");
    let made = crate::checks::compile_text(&head(&off));
    // An hour each on two jobs and the part; an hour and its price less what it brought.
    assert_eq!(account(&made, 0).billed.of(eur()), amount("105.00 EUR"));
    assert_eq!(account(&made, 1).billed.of(eur()), amount("25.00 EUR"));
}

/// Prize money that the shop drew for orr counts in his account, and in his own page's, under whatever head its line stands.
#[test]
fn what_was_drawn_for_him_is_in_his_account_on_his_page_too() {
    for head in ["2025-05-03\n", "2025-05-03 heron\n", "2025-05-03 wren\n"] {
        let text = format!("{BOOK}  paid orr 1.00 EUR\n{head}  credit 30.00 EUR prize to orr\n");
        let made = crate::checks::compile_text(&text);
        for made in [&made, &cut(&made, &Reader::Client(ClientId::new(0)))] {
            let account = account(made, 0);
            assert_eq!(account.owed[0].amount, amount("49.00 EUR"), "{head}");
            assert!(account.prizes.sums().is_empty(), "{head}");
        }
    }
}

/// What was won and then drawn is one sum: 300.00 less 100.00; drawn in another sum it is more prize money, and drawn for another client too.
#[test]
fn a_prize_that_was_won_and_drawn_is_booked_once() {
    let told = |lines: &str| {
        let text = format!(
            "shop \"Hollin Lane\"  currency EUR  zone Europe/Dublin\nclient orr \"Orr\"\nclient lisk \"Lisk\"\ncar heron \"Heron\"  client orr\n\
             2025-05-01 heron\n  cost 300.00 EUR entry\n  paid orr 10.00 EUR\n  10:00..10:20 run s1\n  11:00..11:20 run s2\n{lines}"
        );
        let made = crate::checks::compile_text(&text);
        let mut total = Total::default();
        made.costs.postings.iter().for_each(|posting| posting.add_to(&mut total));
        let account = account(&made, 0);
        (total.of(eur()).digits(), account.owed[0].amount.digits(), account.prizes.of(eur()).digits())
    };
    let said =
        |total: &str, owed: &str, undrawn: &str| (total.to_owned(), owed.to_owned(), undrawn.to_owned());
    let won = "  result s1 finish 1 prize 100.00 EUR\n";
    assert_eq!(told(won), said("200.00", "290.00", "-100.00"));
    for head in ["2025-05-10 heron\n", "2025-05-10\n"] {
        let drawn = |sum: &str, to: &str| format!("{won}{head}  credit {sum} EUR prize to {to}\n");
        assert_eq!(told(&drawn("100.00", "orr")), said("200.00", "190.00", "0.00"), "{head}");
        assert_eq!(told(&drawn("30.00", "orr")), said("170.00", "260.00", "-100.00"), "{head}");
        assert_eq!(told(&drawn("100.00", "lisk")), said("100.00", "290.00", "-100.00"), "{head}");
        let twice =
            format!("{won}  result s2 finish 1 prize 50.00 EUR\n{head}  credit 150.00 EUR prize to orr\n");
        assert_eq!(told(&twice), said("150.00", "140.00", "0.00"), "{head}");
    }
}

/// A broken line whose quote nobody closes says whom it is for inside of it too; what stands in a closed quote is no `for`.
#[test]
fn whom_a_broken_line_is_for_stands_outside_its_quotes() {
    let told = |line: &str| {
        let made = cut(&book(line), &Reader::Client(ClientId::new(0)));
        made.costs.postings.iter().any(stringline::costs::Posting::is_unknown)
    };
    assert!(told("hours 1,5 h \"for shop\""));
    assert!(!told("hours 1.5 h \"gearbox for shop"));
    assert!(!told("hours 1,5 h \"gearbox\" for shop"));
}
