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

/// Pads by a perch on springs of one rate, then of another: five weighings on each.
fn on_springs(kind: &str, specs: [&str; 2], swapped_last: bool) -> String {
    let head = format!(
        "shop \"S\"\ngauge sc \"scales\"  reads weight  resolution 0.5 kg\ncar heron \"Heron\"\nkind spring \"spring\"  fits LF RF LR RR{kind}\n\
         spec one of spring \"one\"{}\nspec two of spring \"two\"{}\n",
        specs[0], specs[1]
    );
    let corners = ["LF", "RF", "LR", "RR"];
    let parts: String = ["one", "two"]
        .iter()
        .flat_map(|spec| {
            corners.map(|corner| format!("part {spec}-{} spring  spec {spec}\n", corner.to_lowercase()))
        })
        .collect();
    let day = |weights: [[f64; 4]; 5], turns: [&str; 5]| {
        let each = weights.iter().zip(turns).map(|(weight, turn)| {
            let turn =
                if turn.is_empty() { String::new() } else { format!("  adjust perch LF {turn} turn\n") };
            let list: Vec<String> = weight.iter().map(|one| format!("{one:.1}")).collect();
            format!(
                "{turn}  read weight {} kg  by sc  with driver 76 kg, fuel 20 L, bars off\n",
                list.join(" ")
            )
        });
        each.collect::<String>()
    };
    let turns = ["", "+1", "+1", "-1", "-1"];
    let soft = [
        [150.0, 151.0, 170.0, 171.0],
        [152.9, 148.1, 167.1, 173.9],
        [155.0, 146.0, 165.0, 176.0],
        [152.7, 148.3, 167.3, 173.7],
        [149.9, 151.1, 170.1, 170.9],
    ];
    let stiff = [
        [150.0, 151.0, 170.0, 171.0],
        [155.5, 145.5, 164.5, 176.5],
        [160.2, 140.8, 159.8, 181.2],
        [155.3, 145.7, 164.7, 176.3],
        [149.9, 151.1, 170.1, 170.9],
    ];
    let low = corners.map(str::to_lowercase);
    let each = |line: &dyn Fn(&str, &str) -> String| {
        let lines: Vec<String> = corners.iter().zip(&low).map(|(corner, low)| line(corner, low)).collect();
        lines.concat()
    };
    let fits = each(&|corner, low| format!("  fit one-{low} {corner}\n"));
    let swaps =
        each(&|corner, low| format!("  swap spring {corner} one-{low} -> two-{low}  because stiffer\n"));
    let second = if swapped_last { String::new() } else { day(stiff, turns) };
    format!(
        "{head}{parts}\n2025-05-03 heron\n{fits}  set perch LF 0 turn\n{}\n2025-05-10 heron\n{swaps}{second}",
        day(soft, turns)
    )
}

/// By hand: turns 0 1 2 1 0 are 2.8 about their mean, with 150.0 155.5 160.2 155.3 149.9 kg their products 14.48: 5.171 kg a turn on the springs that are on;
/// those of before count for nothing, whether their rates are on a tag, on the bench, or nobody knows them.
#[test]
fn moves_on_springs_that_are_off_count_for_nothing() {
    let tags = ["  tag spring-rate 70 N/mm", "  tag spring-rate 140 N/mm"];
    for (kind, specs) in [("  gives spring-rate", tags), ("  carries spring-rate", tags), ("", ["", ""])] {
        let all = said(&crate::checks::compile_text(&on_springs(kind, specs, false)));
        let one = all.turns.iter().find(|one| one.moved == "weight LF");
        let one = one.unwrap_or_else(|| panic!("{kind}: {:?}", all.few));
        assert!((one.value - 14.48 / 2.8).abs() < 1e-9, "{kind}: {}", one.sentence);
        assert_eq!(one.moves, 4, "{kind}: {}", one.sentence);
        // Swapped after the last weighing, nothing is known of those that are on.
        let all = said(&crate::checks::compile_text(&on_springs(kind, specs, true)));
        assert!(all.turns.iter().all(|one| one.moved != "weight LF"), "{kind}");
        let few: Vec<&str> = all.few.iter().map(|one| one.sentence.as_str()).collect();
        let why = if kind.is_empty() {
            "with another spring than now, and nobody says how stiff"
        } else {
            "with another spring-rate than now"
        };
        assert!(few.iter().any(|one| one.contains(why)), "{kind}: {few:?}");
    }
    // Of as stiff springs it says the same.
    let alike = ["  tag spring-rate 70 N/mm", "  tag spring-rate 70 N/mm"];
    let all = said(&crate::checks::compile_text(&on_springs("  gives spring-rate", alike, true)));
    assert!(all.turns.iter().any(|one| one.moved == "weight LF" && one.moves == 4), "{:?}", all.few);
}

/// Another corner that is told of for the first time takes no move from those before and after.
#[test]
fn a_place_told_for_the_first_time_takes_no_moves_away() {
    let text = |line: &str| {
        format!(
            "shop \"S\"\nquantity camber-shim length corner\ncar heron \"Heron\"\n2025-05-03 heron\n  set camber-shim LF 2 mm\n  read camber LF -2.0 deg\n  adjust camber-shim LF +1 mm\n  \
             read camber LF -2.5 deg\n  adjust camber-shim LF +1 mm\n  read camber LF -3.05 deg\n{line}  adjust camber-shim LF -1 mm\n  read camber LF -2.5 deg\n  \
             adjust camber-shim LF -1 mm\n  read camber LF -2.0 deg\n"
        )
    };
    let moves = |line: &str| {
        let all = said(&crate::checks::compile_text(&text(line)));
        all.turns.iter().find(|one| one.moved == "camber LF").map(|one| one.moves)
    };
    assert_eq!(moves(""), Some(4));
    assert_eq!(moves("  set camber-shim RF 1 mm\n"), Some(3));
}
