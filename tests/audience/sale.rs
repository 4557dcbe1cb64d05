//! A car is sold at a moment: for the seller its history stops there, its parts go or stay, the buyer's use adds to the same hours.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::audience::{Reader, cut, purchase};
use stringline::book::model::{CarId, ClientId, Clock, PartId};
use stringline::book::names::Thing;
use stringline::costs::Selection;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;
use stringline::history::parts::Where;
use stringline::history::usage::{of_part, with_opening};
use stringline::report::handover;

/// 60 min for ada, sold on 10 May with a spare, 30 min for ben; the car stays in the shop's care.
const KEPT: &str = "\
shop \"S\"  currency EUR  rate 50.00 EUR
client ada \"Ada\"
client ben \"Ben\"  rate 40.00 EUR
car heron \"Heron\"  client ada
kind coupling  fits LR RR on heron  life 300 min
part cp-1 coupling  opening 20 min
part cp-2 coupling  opening new  paid
part cp-3 coupling  opening new  paid
part cp-4 coupling  opening new  paid
2025-05-01
  shelve cp-3
  shelve cp-4
2025-05-02 heron
  fit cp-1 LR
  fit cp-2 RR
2025-05-03 heron
  09:00..09:40 run s1  5 laps
  10:00..10:20 run s2  5 laps
2025-05-10 heron
  remove cp-2
  read engine-hours 11.0 h
  sell heron 9000.00 EUR to ben with cp-3
2025-06-07 heron for ben
  fit cp-3 RR
  09:00..09:30 run s1  5 laps
  hours 2 h
";

/// The same, but the new owner takes it away: no line about it follows.
fn gone() -> String {
    KEPT.split("2025-06-07").next().unwrap().to_owned()
}

fn part(book: &Compiled, name: &str) -> PartId {
    match book.book.names.find(name) {
        Some(Thing::Part(part)) => part,
        other => panic!("{name}: {other:?}"),
    }
}

fn client(book: &Compiled, name: &str) -> ClientId {
    match book.book.names.find(name) {
        Some(Thing::Client(client)) => client,
        other => panic!("{name}: {other:?}"),
    }
}

fn minutes(book: &Compiled, name: &str) -> f64 {
    let part = part(book, name);
    with_opening(
        &book.book,
        part,
        &of_part(&book.book, &book.history, part, Rank::START, Rank::END),
        Clock::Time,
    )
    .value
        / 60.0
}

fn place(book: &Compiled, name: &str) -> Where {
    book.history.parts.get(part(book, name)).now()
}

fn clean(text: &str) -> Compiled {
    let book = compile_text(text);
    let errors: Vec<&str> = book.diagnostics.iter().map(|one| one.check).collect();
    assert!(!errors.contains(&"sold-car-touched") && !errors.contains(&"not-the-owner"), "{errors:?}");
    book
}

#[test]
fn the_buyers_use_adds_to_the_same_hours() {
    let book = clean(KEPT);
    // 20 before the book, 60 for ada, 30 for ben.
    assert!((minutes(&book, "cp-1") - 110.0).abs() < 1e-9);
    assert!((minutes(&book, "cp-2") - 60.0).abs() < 1e-9);
    assert!((minutes(&book, "cp-3") - 30.0).abs() < 1e-9);
    let days: Vec<String> =
        book.history.sessions.of(CarId::new(0)).map(|(_, one)| one.date.to_string()).collect();
    assert_eq!(days, ["2025-05-03", "2025-05-03", "2025-06-07"]);
}

#[test]
fn parts_go_with_it_or_stay() {
    let book = clean(&gone());
    assert_eq!(place(&book, "cp-1"), Where::Sold);
    assert_eq!(place(&book, "cp-3"), Where::Sold);
    assert_eq!(place(&book, "cp-2"), Where::Shelf);
    assert_eq!(place(&book, "cp-4"), Where::Shelf);
}

#[test]
fn each_owner_reads_his_own_time() {
    let book = clean(KEPT);
    let days = |name: &str| -> Vec<String> {
        let his = cut(&book, &Reader::Client(client(&book, name)));
        let sessions = his.history.sessions.of(CarId::new(0));
        let all = sessions.filter(|(_, one)| !his.book.entries[one.entry].withheld);
        all.map(|(_, one)| one.date.to_string()).collect()
    };
    assert_eq!(days("ada"), ["2025-05-03", "2025-05-03"]);
    assert_eq!(days("ben"), ["2025-06-07"]);
    // What the part had run before it was his counts on.
    let his = cut(&book, &Reader::Client(client(&book, "ben")));
    assert!((minutes(&his, "cp-1") - 110.0).abs() < 1e-9);
}

/// Two hours at his own rate of 40, not the seller's at the shop's 50.
#[test]
fn the_work_after_it_is_the_buyers_to_pay() {
    let book = clean(KEPT);
    let paid = |name: &str| -> Vec<String> {
        let asked = Selection { client: Some(client(&book, name)), ..Selection::default() };
        asked.of(&book.costs).filter_map(|(_, one)| one.amount).map(|sum| sum.to_string()).collect()
    };
    assert_eq!(paid("ben"), ["80.00 EUR"]);
    assert!(paid("ada").is_empty());
    let running = |name: &str| {
        Selection { client: Some(client(&book, name)), ..Selection::default() }.running(
            &book.book,
            &book.history,
            book.reader,
        )
    };
    assert_eq!((running("ada").seconds, running("ben").seconds), (Some(3600), Some(1800)));
}

/// The book that goes along ends with the sale, whatever came after.
#[test]
fn the_hand_over_book_stops_at_the_sale() {
    for text in [KEPT.to_owned(), gone()] {
        let book = clean(&text);
        let purchase = purchase(&book, CarId::new(0), None);
        let view = handover(&cut(&book, &Reader::Buyer(purchase)), &purchase);
        assert_eq!((view.buyer.as_str(), view.sold.as_str()), ("Ben", "10 May 2025"));
        let row = view.status.lives.iter().find(|row| row.part == "cp-1").unwrap();
        assert_eq!((row.used.as_str(), row.left.as_str()), ("80 min", "220 min"));
        let present: Vec<(&str, &str)> =
            view.present.iter().map(|row| (row.part.as_str(), row.place.as_str())).collect();
        assert_eq!(present, [("cp-1", "LR"), ("cp-3", "loose")]);
        let away: Vec<(&str, &str)> =
            view.away.iter().map(|row| (row.part.as_str(), row.why.as_str())).collect();
        assert_eq!(away, [("cp-2", "stays with the shop"), ("cp-4", "stays with the shop")]);
        assert_eq!(view.status.totals.sessions, "2");
        assert_eq!(view.chapters.iter().flat_map(|one| &one.days).count(), 3, "its three days until then");
    }
}

/// A car that nobody bought yet is handed over as it stands.
#[test]
fn before_any_sale() {
    let text = KEPT.split("2025-05-10").next().unwrap();
    let book = clean(text);
    let purchase = purchase(&book, CarId::new(0), None);
    let view = handover(&cut(&book, &Reader::Buyer(purchase)), &purchase);
    assert_eq!((view.buyer.as_str(), view.sold.as_str()), ("", ""));
    assert_eq!(
        view.when,
        "As it stands on 1 December 2026, after its last line of 3 May 2025. It is not sold in this book."
    );
    assert_eq!(view.present.iter().map(|row| row.part.as_str()).collect::<Vec<_>>(), ["cp-1", "cp-2"]);
}

fn errors(book: &Compiled) -> Vec<&'static str> {
    book.diagnostics.iter().filter(|one| one.severity == Severity::Error).map(|one| one.check).collect()
}

/// What is sold stays sold, whatever is written for the buyer afterwards: his spare never goes back on the shop's shelf.
#[test]
fn no_line_for_the_buyer_changes_what_is_sold() {
    let sold = |text: &str| {
        let book = compile_text(text);
        let parts = book.book.parts.keys();
        parts.map(|part| book.history.parts.get(part).sold.clone()).collect::<Vec<_>>()
    };
    assert_eq!(sold(KEPT), sold(&gone()));
    let fits_first = KEPT.find("  fit cp-3 RR").unwrap();
    let only_head = format!("{}  fill fuel 10 L\n", &KEPT[..fits_first]);
    let book = clean(&only_head);
    assert_eq!(place(&book, "cp-3"), Where::Sold, "a spare that goes along lies with its owner");
    // It comes off and lies with him.
    let book = clean(&format!("{KEPT}  remove cp-3\n"));
    assert_eq!(place(&book, "cp-3"), Where::Sold);
    assert_eq!(errors(&book), Vec::<&str>::new());
}

#[test]
fn a_sold_spare_goes_on_its_owners_cars_alone() {
    let other = "client cid \"Cid\"\ncar plover \"Plover\"  client cid\ncar wren \"Wren\"  client ben\n";
    let text = KEPT.replace("fits LR RR on heron", "fits LR RR on heron, plover, wren").replacen(
        "kind coupling",
        &format!("{other}kind coupling"),
        1,
    );
    let priced = text
        .replace("part cp-3 coupling  opening new  paid", "part cp-3 coupling  opening new  price 80.00 EUR");
    let to = |head: &str| {
        let text = priced.replace("  fit cp-3 RR\n", "");
        compile_text(&format!("{text}2025-07-01 {head}\n  fit cp-3 LR\n"))
    };
    let booked = |book: &Compiled| -> Vec<Option<CarId>> {
        let cp3 = part(book, "cp-3");
        book.costs.postings.iter().filter(|one| one.part == Some(cp3)).map(|one| one.car).collect()
    };
    let third = to("plover");
    assert_eq!(errors(&third), ["retired-part-fitted"], "it is not the shop's to fit");
    assert_eq!(booked(&third), [None], "and cid pays nothing for it");
    let own = to("wren");
    assert_eq!(errors(&own), Vec::<&str>::new(), "it is ben's, and so is wren");
    assert_eq!(booked(&own), [None], "he paid for it with the car");
}

/// Who keeps another car reads nothing of what the one he sold does later: not the blocks, not their days, not an empty head.
#[test]
fn a_seller_with_another_car_reads_no_later_block() {
    let other = "car wren \"Wren\"  client ada\n";
    let text = KEPT.replacen("kind coupling", &format!("{other}kind coupling"), 1);
    let text = format!("{text}2026-03-01 heron for ben \"a word\"\n2025-08-01 wren\n  fill fuel 10 L\n");
    let book = clean(&text);
    let his = cut(&book, &Reader::Client(client(&book, "ada")));
    let days = |car: u32| -> Vec<String> {
        let heads = his.book.heads.iter().filter(|head| head.car == Some(CarId::new(car)));
        heads.map(|head| head.date.to_string()).collect()
    };
    assert_eq!(days(0), ["2025-05-02", "2025-05-03", "2025-05-10"]);
    assert_eq!(days(1), ["2025-08-01"]);
    let listed: Vec<String> = his.book.heads_of(CarId::new(0)).map(|head| head.date.to_string()).collect();
    assert_eq!(listed, days(0), "the index of blocks is that of the cut book");
}

/// A client's broken part is sold as it is, and bought back wherever it lies.
#[test]
fn a_broken_part_is_sold_on_and_comes_back() {
    let text = format!(
        "{KEPT}  remove cp-3 failed because split\n  sell cp-3 10.00 EUR to cid\n2025-07-01\n  buy cp-3 5.00 EUR\n"
    )
    .replacen("client ben", "client cid \"Cid\"\nclient ben", 1);
    let book = clean(&text);
    assert_eq!(errors(&book), Vec::<&str>::new());
    let owners: Vec<bool> =
        book.history.parts.get(part(&book, "cp-3")).owners.iter().map(|(_, owner)| owner.is_some()).collect();
    assert_eq!(owners, [true, true, false]);
    assert_eq!(place(&book, "cp-3"), Where::Shelf);
}

/// A comparison of gauges is everyone's wherever it stands; the words over the block of a car that he sold are not the seller's, not even
/// in the fingerprint of what he may read.
#[test]
fn words_over_a_comparison_are_not_the_sellers() {
    let print = |words: &str| {
        let home = tempfile::tempdir().unwrap();
        let book = format!(
            "client ashby \"Ashby\"\nclient brock \"Brock\"\ngauge cg-1 \"camber gauge\"  reads camber\n\
             car avocet \"Avocet\"  client ashby\ncar curlew \"Curlew\"  client ashby\n\n2025-03-16 avocet\n  read camber LF -2 deg  by cg-1\n  sell avocet to brock\n\n\
             2025-04-17 avocet for brock \"{words}\"\n  compare cg-1 -2.9 reference -3.0 deg\n"
        );
        std::fs::write(home.path().join("book.sline"), book).unwrap();
        let (folder, out) = (home.path().to_str().unwrap(), home.path().join("out"));
        let line = ["report", folder, "--for", "ashby", "--out", out.to_str().unwrap()];
        let said = crate::command::said_on(&line, 96, "2025-12-01T12:00:00Z");
        assert_eq!(said.code, "0", "{}", said.err);
        let page = std::fs::read_to_string(out.join("index.html")).unwrap();
        let from = page.find("Fingerprint of what you may read").expect("a fingerprint");
        page[from..].split('.').next().unwrap().to_owned()
    };
    assert_eq!(print("nothing found"), print("the left front is bent"));
}

/// A car that its seller bought back is his as if it had never left him: its parts are on it and their hours go on, and nothing that was set
/// while it was another's is known to him, nor what stood there before.
#[test]
fn a_car_that_came_back() {
    use stringline::audience::{Reader, cut};
    use stringline::book::model::{CarId, ClientId};
    use stringline::book::place::Place;
    use stringline::history::order::Rank;
    let text = "shop \"Hollin Lane\"  zone Europe/Dublin\nclient orr \"Orr\"\nclient lisk \"Lisk\"\n\
                car heron \"Heron\"  client orr\nkind coupling \"coupling\"  fits LR RR\npart cp-1 coupling  opening new\n\
                2025-05-01 heron\n  fit cp-1 LR\n  set camber -3.2 -3.2 -2.0 -2.0 deg\n  set brake-bias 60 %\n\
                2025-05-02 heron\n  sell heron to lisk\n\
                2025-05-03 heron for lisk\n  set camber LF -3.0 RF -3.0 deg\n  10:00..10:20 run s1\n    say entry push \"secret\"\n\
                2025-05-10 heron for lisk\n  sell heron to orr\n\
                2025-06-04 heron for orr\n  10:00..10:10 run s1\n";
    let made = crate::checks::compile_text(text);
    let own = cut(&made, &Reader::Client(ClientId::new(0)));
    let facts = own.facts();
    let now = facts.on(CarId::new(0), Rank::END);
    let is = |name: &str, place: Place| {
        let id = own.book.vocabulary.find(name).unwrap();
        now.slot(id, place).and_then(|slot| slot.held.is(&own.history)).map(|event| event.value)
    };
    assert_eq!(is("camber", Place::LF), None);
    assert!(
        (is("brake-bias", Place::CAR).unwrap() - 0.6).abs() < 1e-12,
        "of that nothing was said while it was away"
    );
    let part = own.book.parts.keys().next().unwrap();
    let ran = stringline::history::usage::of_part(&own.book, &own.history, part, Rank::START, Rank::END);
    assert_eq!(ran.on(stringline::book::model::Clock::Time), (30.0 * 60.0, false));
    assert!(own.history.parts.get(part).at(Rank::END).is_some_and(|stay| stay.car == Some(CarId::new(0))));
    let words: String = own.files.iter().map(|(_, file)| file.text.clone()).collect();
    assert!(!words.contains("secret") && !words.contains("-3.0") && !words.contains("push"), "{words}");
}
