//! From lines to totals: small books, worked by hand.

use crate::checks::compile_text;
use proptest::prelude::*;
use stringline::Compiled;
use stringline::costs::{Kind, Selection, table};
use stringline::money::{Currency, Total};

const SHOP: &str = "\
shop \"Hollin Lane\"  currency EUR  rate 58.00 EUR
client orr \"The Orr family\"
client hollin \"The shop's own\"  unbilled
client pell \"The Pells\"  rate 50.00 EUR
circuit pell-hill \"Pell Hill\"  length 1.20 km
event pell-1 2025-05-10..11 at pell-hill
car heron \"Heron\"  client orr
car wren \"Wren\"  client hollin
car dunlin \"Dunlin\"  client pell
kind coupling \"coupling\"  fits LR RR
kind hub \"hub\"  fits LF RF
kind bearing \"bearing\"  inside hub
kind tyre-set \"set\"  fits all  consumable
spec std of coupling \"std\"  price 38.00 EUR
";

fn book(lines: &str) -> Compiled {
    let compiled = compile_text(&format!("{SHOP}{lines}"));
    let errors: Vec<_> =
        compiled.diagnostics.iter().map(|one| format!("{} {}", one.check, one.message)).collect();
    assert_eq!(compiled.count(stringline::diagnostics::Severity::Error), 0, "{errors:#?}");
    compiled
}

/// Car, kind, sum: what the postings say, in order.
fn postings(compiled: &Compiled) -> Vec<String> {
    let all = compiled.costs.postings.iter();
    all.map(|one| {
        let car = one.car.map_or("-", |car| &*compiled.book.cars[car].named.name);
        let sum = match one.amount {
            Some(amount) => amount.to_string(),
            None if one.unbilled => "not billed".to_owned(),
            None => "not known".to_owned(),
        };
        format!("{car} {} {sum}", one.kind.heading())
    })
    .collect()
}

fn total(compiled: &Compiled) -> Total {
    table::row(Selection::default().of(&compiled.costs)).all.total
}

fn eur(total: &Total) -> String {
    total.of(Currency::find("EUR").unwrap()).digits()
}

/// The line's rate, else its job's, else the client's, else the shop's; the shop's own car is not billed, unless the line
/// says a rate.
#[test]
fn whose_rate() {
    let compiled = book(
        "
2025-05-03 heron
  job j-1 \"seal\"  rate 45.00 EUR
  hours 1 h
  hours 1 h  on j-1
  hours 1 h  on j-1  rate 60.00 EUR
  hours 1 h  on j-1  unbilled
2025-05-03 dunlin
  hours 1 h
2025-05-03 wren
  hours 1 h
  hours 1 h  to orr
  hours 1 h  rate 30.00 EUR
2025-05-04
  hours 1 h  on j-1
",
    );
    assert_eq!(
        postings(&compiled),
        [
            "heron labour 58.00 EUR",
            "heron labour 45.00 EUR",
            "heron labour 60.00 EUR",
            "heron labour not billed",
            "dunlin labour 50.00 EUR",
            "wren labour not billed",
            "wren labour 58.00 EUR",
            "wren labour 30.00 EUR",
            "heron labour 45.00 EUR",
        ]
    );
    let sum = total(&compiled);
    assert_eq!((sum.minutes.hours(), sum.unbilled.hours()), ("7.0".to_owned(), "2.0".to_owned()));
}

/// 50 minutes at 58.00 are 48.33 1/3. Three such lines are 144.99, the sum of what stands on the bill, and not the 145.00 of
/// 150 minutes.
#[test]
fn a_line_is_rounded_once() {
    let compiled = book(
        "
2025-05-03 heron
  hours 50 min
  hours 50 min
  hours 50 min
",
    );
    assert_eq!(eur(&total(&compiled)), "144.99");
}

/// Bought on 1 May, in stock until it is fitted on the 3rd; a part built into an assembly counts when the assembly is fitted.
#[test]
fn a_part_costs_when_it_is_first_fitted() {
    let compiled = book(
        "
part cp-1 coupling  spec std
part cp-2 coupling  spec std  opening 55 min
part cp-3 coupling  opening 55 min
part cp-4 coupling  spec std  paid
part cp-5 coupling  price 20.00 EUR
part cp-6 coupling
part cp-7 coupling  spec std
part hub-1 hub  price 100.00 EUR
part wb-1 bearing  price 9.50 EUR
part ts-1 tyre-set  price 300.00 EUR

2025-05-01
  buy cp-1 41.00 EUR
  buy cp-3 12.00 EUR
  buy cp-7 40.00 EUR
  build wb-1 into hub-1
2025-05-03 heron
  fit cp-1 LR
  fit cp-2 RR
  fit hub-1 LF
  fit ts-1
2025-05-04 heron
  swap coupling LR cp-1 -> cp-3
  swap coupling RR cp-2 -> cp-4
2025-05-05 wren
  fit cp-1 LR
  fit cp-5 RR
2025-05-06 dunlin
  fit cp-6 LR
",
    );
    assert_eq!(
        postings(&compiled),
        [
            "heron parts 41.00 EUR",
            "heron parts 100.00 EUR",
            "heron parts 9.50 EUR",
            "heron consumables 300.00 EUR",
            "heron parts 12.00 EUR",
            "wren parts 20.00 EUR",
            "dunlin parts not known",
        ]
    );
    assert!(total(&compiled).at_least);
    let stock: Vec<String> = compiled.costs.stock.iter().map(|one| one.price.to_string()).collect();
    assert_eq!(stock, ["40.00 EUR"], "cp-7");
}

/// Thrown away or sold unused: the shop's own loss, and what it brought.
#[test]
fn parts_that_leave_without_a_car() {
    let compiled = book(
        "
part cp-1 coupling
part cp-2 coupling
part cp-3 coupling

2025-05-01
  buy cp-1 41.00 EUR
  buy cp-2 41.00 EUR
  buy cp-3 41.00 EUR
2025-05-03 heron
  fit cp-3 LR
2025-05-04
  scrap cp-1 because perished
  sell cp-2 50.00 EUR to orr
2025-05-05 heron
  remove cp-3
2025-05-06
  sell cp-3 15.00 EUR to orr
2025-05-07 wren
  sell wren 4200.00 EUR to pell
",
    );
    assert_eq!(
        postings(&compiled),
        [
            "heron parts 41.00 EUR",
            "- parts 41.00 EUR",
            "- sold -50.00 EUR",
            "- transfer 50.00 EUR",
            "- parts 41.00 EUR",
            "heron sold -15.00 EUR",
            "- transfer 15.00 EUR"
        ]
    );
    // What a car brings is no cost of running it.
    assert_eq!(compiled.costs.sold.len(), 1);
    // What was sold to a client is his cost: three parts at 41.00 in all, whoever has them.
    assert_eq!(eur(&total(&compiled)), "123.00");
}

/// A transfer takes from one account what it gives to the other, whichever car the head names.
#[test]
fn transfers_add_up_to_nothing() {
    let compiled = book(
        "
part cp-1 coupling  spec std
2025-05-03 heron
  fit cp-1 LR
2025-05-04
  move cp-1 -> wren RR 25.00 EUR
2025-05-05 wren
  move cp-1 -> dunlin LR
",
    );
    assert_eq!(
        postings(&compiled),
        ["heron parts 38.00 EUR", "heron transfer -25.00 EUR", "wren transfer 25.00 EUR"]
    );
    let row = table::row(Selection::default().of(&compiled.costs));
    assert_eq!(eur(&row.kinds[&Kind::Transfer].total), "0.00");
}

/// 120.00 GBP at 1.1725 are 140.70 EUR; 54.00 USD at 1.08 USD for one euro are 50.00 EUR; before a rate's first day, and without
/// any, sums stay apart. The later of two rates counts from its day.
#[test]
fn currencies_are_exchanged_or_apart() {
    let compiled = book(
        "
exchange GBP 1.1725 EUR from 2025-03-01
exchange GBP 1.2000 EUR from 2025-06-01
exchange EUR 1.08 USD from 2025-03-01
2025-05-03 heron
  cost 120.00 GBP parts
  cost 54.00 USD parts
  cost 1000 JPY parts
2025-06-01 heron
  cost 120.00 GBP parts
2025-02-28 heron
  cost 120.00 GBP parts
",
    );
    let sums: Vec<String> = total(&compiled).sums().iter().map(ToString::to_string).collect();
    assert_eq!(sums, ["334.70 EUR", "120.00 GBP", "1000 JPY"]);
    let typed: Vec<String> = compiled
        .costs
        .postings
        .iter()
        .filter_map(|one| one.exchanged.as_deref())
        .map(|(typed, rate)| format!("{typed} {} {}", rate.rate, rate.since))
        .collect();
    assert_eq!(
        typed,
        ["120.00 GBP 1.1725 2025-03-01", "54.00 USD 1.08 2025-03-01", "120.00 GBP 1.2000 2025-06-01"]
    );
}

/// Running minutes 40 : 20 at the event, events 1 : 1 over the year, parts 2 : 1; without `among` the cars that ran.
#[test]
fn shared_costs() {
    let compiled = book(
        "
2025-02-01
  cost 10.00 EUR other  at pell-1  split minutes
  cost 10.01 EUR other  split events among heron, wren, dunlin
  cost 10.00 EUR other  split 2:1 among wren, heron
  credit 10.00 EUR other  split minutes among heron, wren
2025-05-10 heron at pell-1
  09:00..09:20 run s1
  10:00..10:20 run s2
2025-05-10 wren at pell-1
  09:00..09:20 run s1
",
    );
    assert_eq!(
        postings(&compiled),
        [
            "heron other 6.67 EUR",
            "wren other 3.33 EUR",
            "heron other 5.01 EUR",
            "wren other 5.00 EUR",
            "dunlin other 0.00 EUR",
            "wren other 6.67 EUR",
            "heron other 3.33 EUR",
            "heron other -6.67 EUR",
            "wren other -3.33 EUR",
        ]
    );
}

/// A line with a mistake leaves a hole where it belongs, and is never taken for nothing.
#[test]
fn a_mistake_leaves_a_hole() {
    let text = format!(
        "{SHOP}
2025-05-03 heron
  cost 46.00 EUR parts
  cost 46.00 EUR entry at pel-1
  hours 2 fortnights
"
    );
    let compiled = compile_text(&text);
    assert_eq!(
        postings(&compiled),
        ["heron parts 46.00 EUR", "heron entries not known", "heron labour not known"]
    );
    assert!(total(&compiled).at_least);
}

const FAILING: &str = "
part cp-1 coupling  spec std
part cp-2 coupling  spec std
part cp-3 coupling  spec std
2025-05-01 heron
  cost 200.00 EUR entry  at pell-1
  fit cp-1 LR
2025-05-10 heron at pell-1
  09:00..09:20 run s1
    failed cp-1 during s1  on j-1
  09:40 swap coupling LR cp-1 -> cp-2
  10:00..10:20 run s2
    failed cp-2 during s2  on j-1
2025-05-10 wren at pell-1
  09:00..09:20 run s1
  10:00..10:20 run s2
  11:00..11:20 run s3
  12:00..12:20 run s4
2025-05-12 heron
  job j-1 \"why they break\"
  hours 2 h  on j-1
  fit cp-3 RR
";

/// Where no number of sessions is stated: wren ran two more after heron stopped, so heron lost two of four. The job's work is
/// counted once, for the first failure; the second was never replaced.
#[test]
fn what_failures_cost() {
    let compiled = book(FAILING);
    let [first, second] = compiled.costs.failures.as_slice() else {
        panic!("{:#?}", compiled.costs.failures)
    };
    assert_eq!((eur(&first.total), first.parts.len(), first.work.len()), ("154.00".to_owned(), 1, 1));
    assert!(first.lost.is_none());
    let lost = second.lost.unwrap();
    assert_eq!((lost.sessions, lost.planned, lost.stated), (2, 4, false));
    assert_eq!((eur(&second.total), second.parts.len(), second.work.len()), ("100.00".to_owned(), 0, 0));
}

/// Where the event says how many were planned for that car, that counts: two of three run, a third of the entry money lost.
#[test]
fn sessions_planned() {
    let stated = SHOP.replace(
        "2025-05-10..11 at pell-hill",
        "2025-05-10..11 at pell-hill  sessions 9  sessions 3 on heron",
    );
    let compiled = compile_text(&format!("{stated}{FAILING}"));
    let lost = compiled.costs.failures[1].lost.unwrap();
    assert_eq!((lost.sessions, lost.planned, lost.stated), (1, 3, true));
    // 200.00 / 3, rounded once.
    assert_eq!(lost.entry.unwrap().digits(), "66.67");
}

/// The rates for the running: 250.00 for 40 minutes, one day and 12 km are 375.00 an hour, 250.00 a day, 20.83 a kilometre.
#[test]
fn for_the_running() {
    let compiled = book(
        "
2025-05-10 heron at pell-1
  cost 250.00 EUR entry
  09:00..09:40 run s1  10 laps
2025-05-11 wren
  cost 1.00 EUR
  09:00 run s1  10 laps
",
    );
    let of = |name: &str| {
        let view = stringline::answer::costs::statement(
            &compiled,
            Selection::default(),
            stringline::answer::costs::CostsBy::Car,
        );
        let row = view.rows.into_iter().find(|row| row.name.as_deref() == Some(name)).unwrap();
        [row.per_hour, row.per_day, row.per_km].map(|sum| sum.map(|sum| sum.amount))
    };
    assert_eq!(of("heron"), ["375.00", "250.00", "20.83"].map(|text| Some(text.to_owned())));
    // It did not say how long or how far it ran.
    assert_eq!(of("wren"), [None, Some("1.00".to_owned()), None]);
}

/// A book that states no money has no costs, whatever is fitted.
#[test]
fn a_book_without_money() {
    let compiled = compile_text(
        "car heron\nkind coupling fits LR\npart cp-1 coupling\n\n2025-05-03 heron\n  fit cp-1\n",
    );
    assert!(compiled.costs.postings.is_empty() && compiled.costs.stock.is_empty());
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    /// Whatever is typed in cents and however it is shared, the cars' accounts add up to what was typed.
    #[test]
    fn what_is_typed_is_what_is_booked(lines in prop::collection::vec((0_u64..1_000_000, 0_usize..5, any::<bool>()), 1..20)) {
        let mut text = String::from("\n2025-05-10\n");
        let mut sum: i128 = 0;
        for (cents, key, credit) in &lines {
            let split = ["", "  split equal among heron, wren, dunlin", "  split 3:1:7 among wren, heron, dunlin", "  split minutes", "  split events among dunlin, heron"][*key];
            let verb = if *credit { "credit" } else { "cost" };
            sum += if *credit { -i128::from(*cents) } else { i128::from(*cents) };
            text.push_str(&format!("  {verb} {}.{:02} EUR other{split}\n", cents / 100, cents % 100));
        }
        text.push_str("2025-05-10 heron at pell-1\n  09:00..09:20 run s1\n2025-05-10 wren at pell-1\n  09:00..09:13 run s1\n");
        let compiled = book(&text);
        let booked: i128 = compiled.costs.postings.iter().map(|one| one.amount.unwrap().minor().unwrap()).sum();
        prop_assert_eq!(booked, sum);
        prop_assert_eq!(total(&compiled).of(Currency::find("EUR").unwrap()).minor(), Some(sum));
    }
}

/// Numbers as large as can be typed: sums that no shop books are refused, and running that cannot be counted is not known.
#[test]
fn absurd_numbers_do_no_harm() {
    let compiled = compile_text(&format!(
        "{SHOP}
2025-05-10 heron at pell-1
  cost 999999999999.99 EUR
  cost 999999999999.99 EUR  split minutes
  cost 1000000000000.00 EUR
  hours 8784 h  rate 999999999999.999999 EUR
  hours 99999999999999 h
  09:00 run s1  99999999999999999999999999 min  1 lap
  10:00 run s2  99999999999999999999999999 min  999999 laps
2025-05-10 wren at pell-1
  09:00..09:20 run s1
"
    ));
    // 8784 h at 999999999999.999999 are 8783999999999999.991216, and a sum of 999999999999.99; who bears the other nobody knows.
    assert_eq!(eur(&total(&compiled)), "8784999999999999.98");
    assert!(total(&compiled).at_least);
}

/// One short line must not become thousands: more than 64 cars share only where they are named, and the sum stays where it stands.
#[test]
fn a_crowd_is_named() {
    use std::fmt::Write as _;
    let mut text = String::from("shop \"S\"  currency EUR\nclient cole \"C. Cole\"\n");
    for car in 0..65 {
        let _ = writeln!(text, "car car-{car} \"Car\"  client cole");
    }
    for car in 0..65 {
        let _ = write!(text, "\n2025-05-10 car-{car}\n  09:00..09:20 run s1\n");
    }
    let compiled =
        compile_text(&format!("{text}\n2025-05-11\n  cost 65.00 EUR other  split minutes  to cole\n"));
    assert_eq!(postings(&compiled), ["- other 65.00 EUR"]);
    let said: Vec<&str> = compiled.diagnostics.iter().map(|one| one.message.as_str()).collect();
    assert_eq!(said, ["65 cars ran then; name those that share it."]);
    let all: Vec<String> = (0..65).map(|car| format!("car-{car}")).collect();
    let named =
        format!("{text}\n2025-05-11\n  cost 65.00 EUR other  split minutes among {}\n", all.join(", "));
    assert_eq!(compile_text(&named).costs.postings.len(), 65);
}

/// A line with a time after midnight is of the next day, inside the session and below it; one before midnight is not.
#[test]
fn a_cost_past_midnight_is_of_its_own_day() {
    let compiled = book(
        "2025-05-31 heron
  23:00..01:30 run s1
    23:20 cost 8.00 EUR fuel
    00:40 cost 12.00 EUR fuel
  02:00 cost 5.00 EUR fuel
",
    );
    let days: Vec<String> =
        compiled.costs.postings.iter().map(|one| format!("{} {}", one.date, one.amount.unwrap())).collect();
    let mut sorted = days.clone();
    sorted.sort();
    assert_eq!(sorted, ["2025-05-31 8.00 EUR", "2025-06-01 12.00 EUR", "2025-06-01 5.00 EUR"]);
}
