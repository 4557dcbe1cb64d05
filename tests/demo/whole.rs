//! The book as a whole: no error, enough of it, every serialled part, and the readings that the story hangs on.

use super::{DEMO, car};
use stringline::book::entry::{Flags, Verb};
use stringline::book::place::Place;
use stringline::diagnostics::Severity;

#[test]
fn no_error_and_at_least_700_entry_lines() {
    let errors: Vec<&str> = DEMO
        .diagnostics
        .iter()
        .filter(|one| one.severity == Severity::Error)
        .map(|one| one.message.as_str())
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
    let entries = DEMO.book.entries.iter().filter(|entry| entry.verb != Verb::Note).count();
    assert!(entries >= 700, "{entries}");
    assert!(DEMO.files.len() >= 5);
}

/// 12 couplings, 8 bearings, 5 dog rings, 3 chains, 4 sprockets, 4 clutch packs, 6 discs, 4 damper seal kits, 6 springs, 4 blades,
/// 4 belts: 60.
#[test]
fn sixty_serialled_parts() {
    let counts = [
        ("cp-", 9),
        ("ar-", 3),
        ("wb-", 8),
        ("dr-", 5),
        ("ch-", 3),
        ("sk-", 4),
        ("ck-", 4),
        ("bd-", 6),
        ("ds-", 4),
        ("sp-", 6),
        ("bl-", 4),
        ("hb-", 4),
    ];
    let mut sum = 0;
    for (prefix, want) in counts {
        let got = DEMO.book.parts.iter().filter(|part| part.named.name.starts_with(prefix)).count();
        assert_eq!(got, want, "{prefix}");
        sum += got;
    }
    assert_eq!(sum, 60);
}

/// Four corners of one line, in the unit typed.
fn readings(name: &str, quantity: &str, verb: Verb, date: &str) -> Vec<Vec<f64>> {
    let id = DEMO.book.vocabulary.find(quantity).unwrap();
    DEMO.book
        .entries
        .iter()
        .filter(|entry| {
            let head = DEMO.book.head(entry).unwrap();
            entry.verb == verb
                && entry.quantity == Some(id)
                && head.car == Some(car(name))
                && head.date.to_string() == date
        })
        .map(|entry| {
            let items =
                DEMO.book.items_of(entry).iter().filter(|item| !item.is(Flags::OLD) && item.has_value());
            items.map(|item| item.unit().get().from_si(item.si)).collect()
        })
        .collect()
}

#[test]
fn corner_weights_of_bittern() {
    let near = |got: &[f64], want: [f64; 4]| {
        assert_eq!(got.len(), 4);
        for (got, want) in got.iter().zip(want) {
            assert!((got - want).abs() < 1e-9, "{got} {want}");
        }
    };
    near(&readings("bittern", "weight", Verb::Left, "2026-04-04")[0], [149.0, 151.0, 171.0, 171.0]);
    near(&readings("bittern", "weight", Verb::Found, "2026-08-22")[0], [156.0, 144.5, 164.5, 177.0]);
    near(&readings("bittern", "weight", Verb::Left, "2026-08-22")[0], [149.5, 151.0, 170.5, 171.0]);
}

/// Cylinders 1 to 4, hot, at 7.0 bar.
#[test]
fn leak_down_of_curlew() {
    let id = DEMO.book.vocabulary.find("leakdown").unwrap();
    let mut rows: Vec<Vec<f64>> = Vec::new();
    for entry in DEMO.book.entries.iter().filter(|entry| entry.quantity == Some(id)) {
        if DEMO.book.head(entry).unwrap().car == Some(car("curlew")) {
            rows.push(DEMO.book.items_of(entry).iter().map(|item| (item.si * 100.0).round()).collect());
        }
    }
    assert_eq!(
        rows,
        [[6.0, 6.0, 5.0, 6.0], [6.0, 8.0, 6.0, 5.0], [7.0, 13.0, 6.0, 6.0], [7.0, 22.0, 7.0, 6.0]]
    );
}

/// The crash of 28 June: RF moved 13, 7, 5.5 and 3 gauge widths; one message for each line that shows it.
#[test]
fn the_crash_is_found() {
    let drifted: Vec<&str> = DEMO
        .diagnostics
        .iter()
        .filter(|one| one.check == "found-has-drifted")
        .map(|one| one.message.as_str())
        .collect();
    for quantity in ["camber", "toe", "caster", "ride-height"] {
        assert!(
            drifted.iter().any(|words| words.contains(quantity) && words.contains("RF")),
            "{quantity}: {drifted:#?}"
        );
    }
    assert!(!drifted.iter().any(|words| words.contains("camber LF was left")), "LF camber did not move");
}

/// Seven changes on bittern between the two meetings at Quern.
#[test]
fn from_quern_1_to_quern_2() {
    let (book, history) = (&DEMO.book, &DEMO.history);
    let moment = |typed: &str| {
        stringline::history::moment::parse(book, &DEMO.files, history, car("bittern"), typed).unwrap().rank
    };
    let diff = stringline::history::diff::diff(
        DEMO.facts(),
        car("bittern"),
        moment("quern-1/s2"),
        moment("quern-2/s6"),
    );
    let changed = |quantity: &str, place: Place| {
        let id = book.vocabulary.find(quantity).unwrap();
        diff.slots.iter().any(|one| {
            one.quantity == id
                && one.place == place
                && matches!(
                    one.fate,
                    stringline::history::diff::Fate::Changed
                        | stringline::history::diff::Fate::ReadsOtherwise
                )
        })
    };
    assert!(changed("bar-hole", Place::FRONT), "front blade position 1 to 3");
    assert!(changed("camber", Place::LF) && changed("camber", Place::RF), "front camber");
    assert!(changed("ride-height", Place::RF), "ride height");
    let parts: Vec<&str> = diff.parts.iter().map(|one| &*book.kinds[one.kind].named.name).collect();
    for kind in ["spring", "coupling", "dog-ring"] {
        assert!(parts.contains(&kind), "{kind}: {parts:?}");
    }
    let bar = book.vocabulary.find("bar-hole").unwrap();
    // Quern-2 s5 to s8 ran positions 1 3 1 3: there and back again before it stayed.
    let later = stringline::history::diff::diff(
        DEMO.facts(),
        car("bittern"),
        moment("quern-1/s2"),
        moment("quern-2/s8"),
    );
    let blade = later.slots.iter().find(|one| one.quantity == bar && one.place == Place::FRONT).unwrap();
    let steps: Vec<f64> = blade.steps.iter().map(|step| step.value).collect();
    assert_eq!(steps, [3.0, 1.0, 3.0]);
    assert_eq!(blade.returns, 1);
}
