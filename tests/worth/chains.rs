//! What ends a chain of readings: nothing is compared across it.

use super::{SHOP, book, only, said, shimmed};
use stringline::answer::worth::build;
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;
use stringline::history::order::Rank;

const FOUR: [&str; 4] = ["-2.00", "-2.30", "-2.10", "-2.30"];

/// What is said of camber by shim where this line stands between the first two of four readings.
fn few(between: &str) -> String {
    let all = said(&book(&shimmed(&FOUR, between)));
    assert!(
        all.turns.is_empty(),
        "{between:?}: {:?}",
        all.turns.iter().map(|one| &one.sentence).collect::<Vec<_>>()
    );
    all.few.iter().map(|one| one.sentence.clone()).collect::<Vec<_>>().join("; ")
}

#[test]
fn two_moves_are_too_few() {
    let all = said(&book(&shimmed(&FOUR[..3], "")));
    assert!(all.turns.is_empty());
    assert_eq!(
        all.few[0].sentence,
        "camber LF by camber-shim: 2 moves with nothing else changed between two readings, and 3 are needed"
    );
}

/// Each of these leaves two moves of three.
#[test]
fn whatever_else_may_have_moved_it_ends_the_chain() {
    assert_eq!(only(&shimmed(&FOUR, "")).moves, 3);
    for between in [
        "  run s1 20 min\n",
        "  hit LF  because kerb\n",
        "  swap upright LF up-1 -> up-2\n",
        "  set wedge-block LF 0 -> 2 mm\n",
        "  set caster LF 6.0 deg\n",
        "  set camber LF -2.3 deg\n",
        "  adjust perch LF +1/2 turn\n",
        "  adjust perch RR +1/2 turn\n",
        "  set wedge-block RF 0 -> 2 mm\n",
        // Camber is disturbed by ride height, and that by the springs' preload and the tyres' pressure.
        "  set preload LF 4 mm\n",
        "  set tyre-cold LF 1.5 bar\n",
    ] {
        assert!(few(between).contains(": 2 moves"), "{between:?} {}", few(between));
    }
}

/// Of a line of the setting itself that cannot be read nobody knows at what it stood for the reading after it either.
#[test]
fn a_line_with_an_error_leaves_it_unknown() {
    let said = few("  set camber-shim LF 4 -> nonsense mm\n");
    assert!(said.contains(": 1 move "), "{said}");
}

/// What the vocabulary says does not disturb camber, nor anything that does, leaves the chain as it is.
#[test]
fn what_cannot_move_it_does_not() {
    for between in ["  set brake-bias 58 %\n", "  fill fuel 10 L\n", "  | kettle on\n"] {
        assert_eq!(only(&shimmed(&FOUR, between)).moves, 3, "{between:?}");
    }
}

#[test]
fn another_gauge_ends_it() {
    let text = shimmed(&FOUR, "").replacen("-2.00 deg", "-2.00 deg  by cg-1", 1);
    let all = said(&book(&text));
    assert!(all.turns.is_empty());
    let all = said(&book(&shimmed(&FOUR, "").replace(" deg\n", " deg  by cg-2\n")));
    assert_eq!(all.turns.len(), 1);
}

/// What was read under a session is of the car running.
#[test]
fn a_reading_of_the_car_running_is_none() {
    let text = "  read camber LF -2.00 deg\n  set camber-shim LF 3 -> 4 mm\n  read camber LF -2.30 deg\n  set camber-shim LF 4 -> 3 mm\n  run s1 20 min\n    read camber LF -2.10 deg\n";
    let all = said(&book(text));
    assert!(all.turns.is_empty());
    assert_eq!(all.few.len(), 1, "{:?}", all.few);
    assert!(all.few[0].sentence.contains("1 move "), "{}", all.few[0].sentence);
}

/// Weights of two blocks are compared only where each says what it must: nobody knows who sat in it.
#[test]
fn weights_of_two_days_need_their_conditions() {
    let weigh = |day: u32, lf: &str, with: &str| {
        format!("\n2025-06-0{day} heron\n  adjust perch LF +1/4 turn\n  read weight LF {lf} kg{with}\n")
    };
    let week = |with: &str| {
        let days = [(1, "150.0"), (2, "151.5"), (3, "153.0"), (4, "154.4"), (5, "156.0")];
        days.iter().map(|(day, lf)| weigh(*day, lf, with)).collect::<String>()
    };
    let silent = said(&book(&format!("  | nothing\n{}", week(""))));
    assert!(silent.turns.is_empty() && silent.few.is_empty(), "{:?}", silent.few);
    let all = said(&book(&format!("  | nothing\n{}", week("  with driver 80 kg, fuel 10 L"))));
    assert_eq!(all.turns.len(), 1);
    assert!((all.turns[0].value - 6.0).abs() < 0.2, "{}", all.turns[0].value);
}

/// A line that he may not read ends a chain to him, and no number rests on it.
#[test]
fn what_a_reader_may_not_read_ends_it() {
    let read = |between: &str| {
        let compiled = crate::checks::compile_text(&format!("{SHOP}{}", shimmed(&FOUR, between)));
        let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
        let cut = audience::cut(&compiled, &Reader::Client(orr));
        build(&cut, crate::history::car(&cut, "heron"), Rank::END).turns.len()
    };
    assert_eq!(read(""), 1);
    assert_eq!(read("  set wedge-block LF 0 -> 2 mm  for shop\n"), 0);
}

/// Where nothing was typed between what was read and what was left, something was turned all the same: two chains, of 2 and of 3 readings, with
/// 5 - 2 - 1 degrees of freedom and a slope of -(0.15 + 4/15) / (1/2 + 2/3) = -5/14 (closed form).
#[test]
fn what_was_left_without_a_turn_ends_it() {
    let read = "  read camber LF -2.30 deg\n";
    let one = only(&shimmed(&FOUR, "").replacen(read, &format!("{read}  left camber LF -2.70 deg\n"), 1));
    assert_eq!((one.moves, one.freedom), (3, 2));
    assert!((one.value + 5.0 / 14.0).abs() < 1e-9, "{}", one.value);
}

/// Fuel that went in with each turn is no turn: what needs the fuel said is not read again after a fill.
#[test]
fn a_cross_read_itself_is_not_compared_across_a_fill() {
    let mut text = String::new();
    for (index, cross) in ["50.0", "51.0", "50.1", "51.1"].iter().enumerate() {
        if index > 0 {
            text += &format!("  adjust perch RF {} turn\n", if index % 2 == 1 { "+1/2" } else { "-1/2" });
        }
        text += &format!("  read cross-weight {cross} %\n");
    }
    assert_eq!(said(&book(&text)).turns.len(), 1);
    let filled = text.replace("  adjust", "  fill fuel +10 L\n  adjust");
    assert!(said(&book(&filled)).turns.is_empty());
}

/// A gauge that was held against the reference between two readings, and read otherwise, has read two things.
#[test]
fn a_gauge_that_reads_otherwise_ends_it() {
    let day = |day: u32, high: &str, camber: &str, shim: &str| {
        format!(
            "\n2025-05-1{day}\n  compare cg-1 {high} deg reference 0.0 deg\n\n2025-05-1{day} heron\n{shim}  read camber LF {camber} deg  by cg-1\n"
        )
    };
    let turn = |from: u32, to: u32| format!("  set camber-shim LF {from} -> {to} mm\n");
    let week = |highs: [&str; 4]| {
        let days =
            [("-2.0", String::new()), ("-2.3", turn(3, 4)), ("-2.1", turn(4, 3)), ("-2.3", turn(3, 4))];
        let all = days.iter().zip(highs).enumerate();
        let text =
            all.map(|(at, ((camber, shim), high))| day(at as u32, high, camber, shim)).collect::<String>();
        said(&book(&format!("  | nothing\n{text}"))).turns.len()
    };
    assert_eq!(week(["0.0", "0.0", "0.0", "0.0"]), 1);
    assert_eq!(week(["0.0", "1.0", "0.0", "1.0"]), 0);
}
