//! Books that make no sense: nothing said of their lives or of what is due is infinite, undefined or a panic.

use proptest::prelude::*;
use stringline::answer::due::view;
use stringline::answer::lives::{CountedFailures, Field, kind};
use stringline::due::Ask;
use stringline::history::order::Rank;
use stringline::lives::lives;
use stringline::source::Memory;
use stringline::{Compiled, compile};

const PARTS: [&str; 8] = ["cp-1", "cp-2", "ar-1", "ar-2", "up-1", "hub-1", "wb-1", "wb-2"];
const CARS: [&str; 3] = ["heron", "plover", "wren"];
const AMOUNTS: [&str; 14] = [
    "0 min",
    "1 min",
    "5 min",
    "90 min",
    "300 min",
    "0.001 min",
    "99999999999999999999 min",
    "3 laps",
    "0 laps",
    "1 launch",
    "0.5 km",
    "7 days",
    "0 days",
    "12 h",
];
const LIMITS: [&str; 8] = [
    "",
    "life 60 min",
    "life 0 min",
    "life 5 days, 100 min",
    "life 6 months",
    "life 2 events",
    "life 9 launches",
    "life 1 h  safety  must",
];
const OPENINGS: [&str; 7] = [
    "",
    "opening new",
    "opening 55 min, 2 days",
    "opening 0 min",
    "opening 3 months",
    "opening 1e9 min",
    "opening 999999999999999 h",
];

fn pick<T: Copy + std::fmt::Debug + 'static>(list: &'static [T]) -> impl Strategy<Value = T> {
    prop::sample::select(list)
}

/// One line of a dated block, lawful or not.
fn line() -> impl Strategy<Value = String> {
    let part = || pick(&PARTS);
    let clock =
        prop_oneof![Just(String::new()), (0..24_u8, 0..60_u8).prop_map(|(h, m)| format!("{h:02}:{m:02} "))];
    let said = prop_oneof![
        6 => (pick(&AMOUNTS), pick(&AMOUNTS), 1..5_u8).prop_map(|(a, b, s)| format!("run s{s}  {a}  {b}")),
        4 => (part(), pick(&["LR", "RR", "prop", "LF", ""])).prop_map(|(part, place)| format!("fit {part} {place}")),
        3 => (part(), pick(&["", " good", " failed"])).prop_map(|(part, how)| format!("remove {part}{how}")),
        2 => (part(), part()).prop_map(|(one, other)| format!("build {one} into {other}")),
        2 => (part(), part(), pick(&["", " failed"])).prop_map(|(one, other, how)| format!("strip {one} from {other}{how}")),
        2 => (part(), pick(&CARS), pick(&["LR", "prop", "LF"])).prop_map(|(part, car, at)| format!("move {part} -> {car} {at}")),
        2 => (part(), pick(&["", " with all"])).prop_map(|(part, all)| format!("rebuild {part}{all}")),
        4 => (part(), pick(&["", " during s1", " during s2 lap 3", " during s3 lap 0", " after s1"]), pick(&["", " mode split", " mode bent cause hit"]))
            .prop_map(|(part, when, mode)| format!("failed {part}{when}{mode}")),
        1 => (part(), pick(&["quarantine", "release", "scrap"])).prop_map(|(part, verb)| format!("{verb} {part} because so")),
        1 => part().prop_map(|part| format!("sell {part}")),
        1 => part().prop_map(|part| format!("buy {part} 38.00 EUR")),
        1 => pick(&CARS).prop_map(|car| format!("sell {car}")),
        1 => (part(), pick(&["", "good", "failed"])).prop_map(|(part, how)| format!("inspect {part} {how}")),
    ];
    (clock, said, any::<bool>()).prop_map(|(clock, said, under)| {
        if under { format!("    {said}\n") } else { format!("  {clock}{said}\n") }
    })
}

fn block() -> impl Strategy<Value = String> {
    let head = (
        pick(&[
            "2025-05-03",
            "2025-05-10",
            "2025-05-11",
            "2025-07-05",
            "2025-10-26",
            "2026-01-31",
            "2027-02-01",
        ]),
        0..5_usize,
    );
    (head, prop::collection::vec(line(), 1..9)).prop_map(|((date, car), lines)| {
        let event = match date {
            "2025-05-10" | "2025-05-11" => " at pell-1",
            "2025-07-05" => " at pell-2",
            _ => "",
        };
        let head = CARS.get(car).map_or(String::new(), |car| format!(" {car}{event}"));
        format!("{date}{head}\n{}\n", lines.concat())
    })
}

fn book() -> impl Strategy<Value = String> {
    let openings = prop::collection::vec(pick(&OPENINGS), PARTS.len());
    let limits = prop::collection::vec(pick(&LIMITS), 4);
    (openings, limits, prop::collection::vec(block(), 1..12)).prop_map(|(openings, limits, blocks)| {
        let mut text = String::from(
            "car heron \"Heron\"\ncar plover \"Plover\"\ncar wren \"Wren\"\ncircuit pell \"Pell\"  length 1.20 km\n\
             event pell-1 2025-05-10..11 at pell \"one\"\nevent pell-2 2025-07-05 at pell \"two\"  entered heron, plover\n\
             event pell-3 2025-09-06 at pell \"three\"  entered wren\nevent pell-4 2027-04-03 at pell \"four\"\n",
        );
        text += &format!("kind coupling \"c\"  fits LR RR on heron, wren  {}  failure-costs 70.00 EUR\n  fits prop on plover\n", limits[0]);
        text += "spec std of coupling \"s\"  price 38.00 EUR\nspec aramid of coupling \"a\"  price 127.00 EUR\n";
        text += &format!("kind upright \"u\"  fits LF RF  {}\nkind hub \"h\"  inside upright  {}\n", limits[1], limits[2]);
        text += &format!("kind bearing \"b\"  inside hub  {}\n", limits[3]);
        for (part, opening) in PARTS.iter().zip(openings) {
            let kind = match part.split('-').next().unwrap_or("") {
                "cp" => "coupling  spec std",
                "ar" => "coupling  spec aramid",
                "up" => "upright",
                "hub" => "hub",
                _ => "bearing",
            };
            text += &format!("part {part} {kind}  {opening}\n");
        }
        text + "\n" + &blocks.concat()
    })
}

/// A word that no number may show as.
pub fn sick(text: &str) -> Option<&str> {
    text.split(|c: char| !c.is_alphanumeric())
        .find(|word| matches!(*word, "NaN" | "inf" | "Infinity" | "infinity"))
}

/// Everything that is said of the lives and of what is due, with every number as Rust shows it: JSON would write "null" for what
/// is no number.
fn said(compiled: &Compiled) -> String {
    let mut told = String::new();
    let all = lives(&compiled.book, &compiled.history, Rank::END);
    let countings = [
        CountedFailures::default(),
        CountedFailures { only: Some((Field::Mode, "split".to_owned())), without: None },
        CountedFailures { only: None, without: Some((Field::Cause, "hit".to_owned())) },
    ];
    for id in compiled.book.kinds.keys() {
        for counting in &countings {
            for clock in [
                None,
                Some(stringline::book::model::Clock::Laps),
                Some(stringline::book::model::Clock::Distance),
            ] {
                told += &format!("{:?}\n", kind(compiled, &all, id, clock, counting));
            }
        }
    }
    for event in compiled.book.events.keys() {
        for today in ["2025-05-10", "2025-07-01", "2027-06-01"] {
            let ask = Ask { event: Some(event), today: today.parse().unwrap(), confidence: 0.9 };
            told += &format!("{:?}\n", view(compiled, ask, true));
        }
    }
    told
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 128, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_infinite_or_undefined(text in book()) {
        let compiled = compile(&Memory::new(&[("book.sline", &text)], crate::checks::now())).unwrap();
        let told = said(&compiled);
        if let Some(word) = sick(&told) {
            let at = told.find(word).unwrap_or(0);
            let from = (0..=at.saturating_sub(300)).rev().find(|at| told.is_char_boundary(*at)).unwrap_or(0);
            prop_assert!(false, "{text}\n{}", told[from..].chars().take(600).collect::<String>());
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn nor_in_the_commands_words(text in book()) {
        for words in [
            &["lives"][..], &["lives", "coupling"], &["lives", "bearing", "--clock", "days"],
            &["lives", "coupling", "--format", "json", "--only", "mode=split"],
            &["due", "--before", "pell-2", "--all"], &["due"], &["due", "--before", "pell-4", "--format", "json"],
        ] {
            let told = crate::lives::printed(&text, words);
            prop_assert!(!told.is_empty(), "{words:?}");
            prop_assert_eq!(sick(&told), None, "{:?}\n{}\n{}", words, text, told);
        }
    }
}
