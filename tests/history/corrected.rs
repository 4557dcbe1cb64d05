//! Corrections: of which line they are, and of which of the places that were typed together. Every number is worked out by hand.

use crate::checks::compile_text;
use crate::figures::{close, trace};
use stringline::Compiled;
use stringline::answer::state;
use stringline::book::model::CarId;
use stringline::history::moment;

const HEAD: &str = "shop \"S\"  zone Europe/London\ncar heron \"Heron\"  class E\n2025-05-10 heron\n";

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

/// What stands at every place of a quantity at the end: "LF -3.4 deg, RF -3.0 deg".
fn told(lines: &str, quantity: &str) -> String {
    let book = book(lines);
    let state = state::build(&book, CarId::new(0), &moment::end(&book.history), None);
    let own = state.slots.iter().filter(|slot| slot.quantity == quantity);
    let text = |slot: &state::Slot| {
        let value = slot.value().map_or("-", |value| value.text.as_str());
        format!("{} {value}", slot.place.as_deref().unwrap_or("")).trim().to_owned()
    };
    own.map(text).collect::<Vec<_>>().join(", ")
}

fn missed(lines: &str) -> usize {
    book(lines).diagnostics.iter().filter(|one| one.check == "correction-misses").count()
}

/// `front` and `all` type one number for several places: one of them is put right, the others stay.
#[test]
fn one_place_of_several_is_put_right() {
    let camber = "  set camber front -3.0 deg\n  correct camber LF -3.0 -> -3.4 deg\n";
    assert_eq!(told(camber, "camber"), "LF -3.4 deg, RF -3.0 deg");
    let tyres = "  set tyre-cold all 1.50 bar\n  correct tyre-cold LF 1.50 -> 1.80 bar\n";
    assert_eq!(told(tyres, "tyre-cold"), "LF 1.80 bar, RF 1.50 bar, LR 1.50 bar, RR 1.50 bar");
    let both = tyres.replace("correct tyre-cold LF 1.50", "correct tyre-cold front 1.50");
    assert_eq!(told(&both, "tyre-cold"), "LF 1.80 bar, RF 1.80 bar, LR 1.50 bar, RR 1.50 bar");
}

/// The line that says just the number, however near a later one is; of several that are only near, none.
#[test]
fn the_line_that_says_just_it_is_put_right() {
    let exact =
        "  set tyre-cold LF 1.52 bar\n  set tyre-cold LF 1.5 bar\n  correct tyre-cold LF 1.52 -> 1.62 bar\n";
    assert_eq!((told(exact, "tyre-cold").as_str(), missed(exact)), ("LF 1.5 bar", 0));
    let only = "  set tyre-cold LF 1.5 bar\n  correct tyre-cold LF 1.52 -> 1.62 bar\n";
    assert_eq!((told(only, "tyre-cold").as_str(), missed(only)), ("LF 1.62 bar", 0));
    // 22 psi are 1.517 bar (1 psi is 6894.76 Pa, NIST SP 811): both are near, and neither is it.
    let two =
        "  set tyre-cold LF 1.5 bar\n  set tyre-cold LF 22 psi\n  correct tyre-cold LF 1.52 -> 1.62 bar\n";
    assert_eq!((told(two, "tyre-cold").as_str(), missed(two)), ("LF 22 psi", 1));
}

/// What was added stays an addition: 20 and 35 L less a quarter of an hour at 60 L/h.
#[test]
fn a_corrected_addition_is_added() {
    for (added, old, new) in [
        ("fill fuel +30 L", "30", "35"),
        ("fill fuel +30 L", "+30", "+35"),
        ("adjust fuel +30 L", "30", "35"),
    ] {
        let lines = format!(
            "{HEAD}  set fuel-rate 60 L/h\n  fill fuel 20 L\n  {added}\n  10:00..10:15 run s1\n  correct fuel {old} -> {new} L\n"
        );
        close(&trace(&lines, &["heron", "fuel-aboard"]).0, "value", 40.0, 1e-9);
    }
}
