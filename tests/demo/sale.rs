//! Plover's sale to H. Brannoch on 14 November, and the book that goes with it.

use super::{DEMO, car};
use std::sync::LazyLock;
use stringline::answer::json;
use stringline::audience::{self, Reader};
use stringline::history::order::Rank;
use stringline::report::section::handover::Handover;
use stringline::report::{self, Own};

static BOOK: LazyLock<Handover> = LazyLock::new(|| {
    let purchase = audience::purchase(&DEMO, car("plover"), None);
    report::handover(&audience::cut(&DEMO, &Reader::Buyer(purchase)), &purchase)
});

fn page() -> String {
    report::handover_page(&BOOK, "plover.html", &Own::new()).unwrap().html
}

#[test]
fn sold_on_14_november_at_31_35_hours() {
    assert_eq!((BOOK.sold.as_str(), BOOK.buyer.as_str()), ("14 November 2026", "H. Brannoch"));
    let meters: Vec<&str> = BOOK.status.meters.iter().map(|fact| fact.text.as_str()).collect();
    assert_eq!(meters, ["31.35 h, 14 November 2026"]);
    let totals = &BOOK.status.totals;
    // 12 days, 39 sessions, 251 laps: the season's own table of plover.
    assert_eq!((totals.days.as_str(), totals.sessions.as_str(), totals.laps.as_str()), ("12", "39", "251"));
}

#[test]
fn what_goes_along_and_what_stays() {
    let places = |name: &str| {
        let row = BOOK.present.iter().find(|row| row.part == name);
        row.map(|row| (row.place.as_str(), row.kind.as_str()))
    };
    assert_eq!(places("cp-08"), Some(("prop", "coupling")));
    assert_eq!(places("sp-05"), Some(("LR", "spring")));
    assert_eq!(places("sp-06"), Some(("RR", "spring")));
    let why = |name: &str| BOOK.away.iter().find(|row| row.part == name).map(|row| row.why.as_str());
    assert_eq!(why("cp-09"), Some("scrapped 13 November 2026"));
    assert_eq!(why("cp-02"), Some("stays with the shop"));
    assert_eq!(why("cp-07"), Some("stays with the shop"));
    for name in ["cp-02", "cp-07", "cp-09"] {
        assert_eq!(places(name), None, "{name}");
    }
    assert_eq!(why("cp-08"), None);
    assert_eq!(why("ar-02"), None, "no aramid coupling was ever on it");
}

/// 54 minutes on bittern and 172 on plover; 300 allowed.
#[test]
fn the_coupling_has_74_minutes_left() {
    let row = BOOK.status.lives.iter().find(|row| row.part == "cp-08").unwrap();
    assert_eq!((row.used.as_str(), row.limit.as_str(), row.left.as_str()), ("226 min", "300 min", "74 min"));
    assert!(!row.spent);
}

#[test]
fn a_setup_for_every_circuit_it_was_at() {
    let circuits: Vec<&str> = BOOK.setups.iter().map(|one| one.circuit.as_str()).collect();
    // The one it left last in front: September, August, the end of June, its beginning.
    assert_eq!(circuits, ["Quern Park", "Slatehead Hill", "Three Barrows", "Ardwell Sands"]);
    let quern = BOOK.setups.first().unwrap();
    assert!(quern.event.starts_with("quern-2, "), "the last time there: {}", quern.event);
}

/// No price, no other client, no other car, no spring-rig number that nobody asked for.
#[test]
fn nothing_of_anybody_else() {
    let purchase = audience::purchase(&DEMO, car("plover"), None);
    let mut names: Vec<&str> = vec!["EUR", "GBP", "rubber works", "402"];
    for client in DEMO.book.clients.iter().enumerate().filter(|(at, _)| purchase.to.unwrap().index() != *at) {
        names.extend([&*client.1.named.typed, client.1.named.title.as_str()]);
    }
    for other in DEMO.book.cars.iter().filter(|other| &*other.named.typed != "plover") {
        names.extend([&*other.named.typed, other.named.title.as_str()]);
    }
    assert_eq!(names.len(), 4 + 2 * 4 + 2 * 3);
    for text in [page(), json(&*BOOK)] {
        for name in &names {
            assert!(!text.contains(name), "{name}");
        }
    }
}

/// The lines to go on with make a book of their own, and there the parts have run the same.
#[test]
fn the_same_hours_go_on() {
    use stringline::book::model::Clock;
    use stringline::book::names::Thing;
    use stringline::history::usage::{of_part, with_opening};
    let text = BOOK.going_on.join("\n") + "\n";
    let world = stringline::source::Memory::new(&[("own.sline", &text)], crate::checks::now());
    let own = stringline::compile(&world).unwrap();
    let errors: Vec<_> = own.diagnostics.iter().map(|one| &one.message).collect();
    assert!(own.count(stringline::diagnostics::Severity::Error) == 0, "{errors:?}");
    let run = |name: &str, clock: Clock| {
        let Some(Thing::Part(part)) = own.book.names.find(name) else { panic!("{name}") };
        let run = of_part(&own.book, &own.history, part, Rank::START, Rank::END);
        with_opening(&own.book, part, &run, clock)
    };
    let coupling = run("cp-08", Clock::Time);
    assert_eq!((coupling.value, coupling.at_least), (226.0 * 60.0, false));
    assert_eq!(run("pt-2", Clock::HeatCycles).value.to_bits(), 26.0_f64.to_bits());
    assert!(run("sp-05", Clock::Time).at_least, "what is not known stays so");
}
