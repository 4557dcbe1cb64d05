//! A car that speaks imperial is told miles: a mile is 1609.344 m (NIST SP 811, B.8), so 25 laps of half a mile are 12.5 miles.

use crate::checks::compile_text;
use stringline::answer::costs::{CostsBy, statement};
use stringline::answer::part;
use stringline::book::model::{CarId, Clock};
use stringline::costs::Selection;
use stringline::history::moment;
use stringline::words::scale::Scale;

fn book(units: &str, life: &str) -> stringline::Compiled {
    compile_text(&format!(
        "shop \"S\"  currency USD  zone America/Chicago\ncircuit bowl \"Bowl\"  length 0.5 mi\nevent b-1 2025-05-10 at bowl \"Spring\"\n\
         car robin \"Robin\"  units {units}\nkind shaft \"shaft\"  fits prop on robin  life {life}\npart sh-1 shaft  opening new\n\n\
         2025-05-10 robin at b-1\n  fit sh-1\n  10:00..10:20 run h1  25 laps\n  cost 100.00 USD entry\n"
    ))
}

#[test]
fn a_part_its_circuit_and_its_costs() {
    let imperial = book("imperial", "1000 mi");
    let end = moment::end(&imperial.history).rank;
    let used = |book: &stringline::Compiled| part::all(book, CarId::new(0), end)[0].since_new[0].text.clone();
    assert_eq!(used(&imperial), "12.5 mile");
    assert_eq!(Scale::lap_length(&imperial.book, CarId::new(0), 804.672), "0.5 mile");
    let costs = statement(&imperial, Selection::default(), CostsBy::Car);
    let sum = |one: &Option<stringline::answer::costs::Sum>| one.as_ref().map(|sum| sum.amount.clone());
    assert!(costs.in_miles);
    assert_eq!(
        (costs.all.miles.as_deref(), sum(&costs.all.per_mile).as_deref()),
        (Some("12.50"), Some("8.00"))
    );
    // 12.5 miles are 20.1168 km; 100.00 over them is 4.97.
    assert_eq!((costs.all.km.as_deref(), sum(&costs.all.per_km).as_deref()), (Some("20.12"), Some("4.97")));
    // A limit stays as it is typed, and so does what is held against it.
    assert_eq!(used(&book("imperial", "1000 km")), "20 km");
    let metric = book("metric", "1000 km");
    assert!(!statement(&metric, Selection::default(), CostsBy::Car).in_miles);
    assert_eq!(Scale::lap_length(&metric.book, CarId::new(0), 1200.0), "1.2 km");
    let plain = Scale::of_cars(&metric.book, &[], Clock::Distance);
    assert!(!plain.is_in_miles());
}
