//! A pair or a triple is told apart by each of its numbers: by what changes nothing, old values, corrections, differences, plans, rules.

use crate::checks::compile_text;
use stringline::Compiled;
use stringline::answer::{diff, state};
use stringline::book::model::CarId;
use stringline::history::diff::Fate;
use stringline::history::moment;

const HEAD: &str = "shop \"S\"  zone Europe/London\ncar heron \"Heron\"  class E\n  gears 3\ncircuit pell \"Pell\"\nevent pell-1 2025-05-10 at pell \"P\"\n";

/// A quantity at a place, its unit, its numbers, and the step by which one is made another.
const MANY: [(&str, &str, &[i32], i32); 5] = [
    ("final-drive", "", &[41, 11], 1),
    ("gear-ratio g2", "", &[32, 15], 1),
    ("diff-ramp rear", " deg", &[45, 60], 10),
    ("bar-rate-wanted front", " N/mm", &[20, 40], 5),
    ("tyre-temp LF", " C", &[80, 90, 100], 7),
];

fn text(numbers: &[i32]) -> String {
    numbers.iter().map(ToString::to_string).collect::<Vec<_>>().join("/")
}

/// Each quantity with what was typed of it and the same with one number otherwise, for every number of it.
fn cases() -> impl Iterator<Item = (&'static str, &'static str, String, String)> {
    MANY.into_iter().flat_map(|(slot, unit, numbers, step)| {
        (0..numbers.len()).map(move |at| {
            let mut other = numbers.to_vec();
            other[at] += step;
            (slot, unit, text(numbers), text(&other))
        })
    })
}

fn book(lines: &str) -> Compiled {
    compile_text(&format!("{HEAD}{lines}"))
}

fn named(book: &Compiled, check: &str) -> Vec<String> {
    book.diagnostics.iter().filter(|one| one.check == check).map(|one| one.message.clone()).collect()
}

/// What stands at the end, as typed.
fn stands(book: &Compiled, slot: &str) -> String {
    let all = state::build(book, CarId::new(0), &moment::end(&book.history), None);
    let of = |one: &&state::Slot| {
        format!("{} {}", one.quantity, one.place.as_deref().unwrap_or("")).trim_end() == slot
    };
    let one = all.slots.iter().find(of).unwrap_or_else(|| panic!("{slot}"));
    one.value().map_or_else(String::new, |value| value.text.clone())
}

#[test]
fn one_number_otherwise_is_a_change_and_all_alike_are_none() {
    for (slot, unit, typed, other) in cases() {
        let two = |first: &str, second: &str| {
            book(&format!(
                "2025-05-01 heron\n  set {slot} {first}{unit}\n2025-05-03 heron\n  set {slot} {second}{unit}\n"
            ))
        };
        let same = named(&two(&typed, &typed), "change-is-nothing");
        assert_eq!(same.len(), 1, "{slot} {typed}");
        assert!(same[0].contains(&format!("is {typed}{unit} already")), "{same:?}");
        let changed = two(&typed, &other);
        assert_eq!(named(&changed, "change-is-nothing").len(), 0, "{slot} {typed} {other}");
        assert_eq!(stands(&changed, slot), format!("{other}{unit}"));
        let at = |day: &str| {
            moment::parse(&changed.book, &changed.files, &changed.history, CarId::new(0), day).unwrap()
        };
        let (then, now) = (at("2025-05-02"), at("2025-05-04"));
        let found = diff::build(&changed, CarId::new(0), [&then, &now], ["2025-05-02", "2025-05-04"]);
        let [one] = found.slots.as_slice() else { panic!("{slot} {typed} {other}: {}", found.slots.len()) };
        assert_eq!(one.fate, Fate::Changed, "{slot} {typed} {other}");
        let both = [&one.then, &one.now].map(|value| value.as_ref().unwrap().text.clone());
        assert_eq!(both, [format!("{typed}{unit}"), format!("{other}{unit}")]);
    }
}

#[test]
fn what_reads_otherwise_in_one_number_is_not_read_again() {
    for (slot, unit, typed, other) in cases() {
        let text = format!(
            "2025-05-01 heron\n  read {slot} {typed}{unit}\n2025-05-03 heron\n  read {slot} {other}{unit}\n"
        );
        let book = book(&text);
        let at =
            |day: &str| moment::parse(&book.book, &book.files, &book.history, CarId::new(0), day).unwrap();
        let (then, now) = (at("2025-05-02"), at("2025-05-04"));
        let found = diff::build(&book, CarId::new(0), [&then, &now], ["2025-05-02", "2025-05-04"]);
        assert!(found.slots.iter().all(|one| one.fate == Fate::ReadsOtherwise), "{slot} {typed} {other}");
        assert_eq!(found.slots.len(), 1);
    }
}

#[test]
fn an_old_value_is_held_to_every_number() {
    for (slot, unit, typed, other) in cases() {
        let change = |old: &str| {
            book(&format!(
                "2025-05-01 heron\n  set {slot} {typed}{unit}\n2025-05-03 heron\n  set {slot} {old} -> {other}{unit}\n"
            ))
        };
        assert_eq!(named(&change(&typed), "old-value-differs").len(), 0, "{slot} {typed}");
        let wrong = named(&change(&other), "old-value-differs");
        assert_eq!(wrong.len(), 1, "{slot} {typed} {other}");
        assert!(wrong[0].contains(&typed) && wrong[0].contains(&other), "{wrong:?}");
    }
}

/// All of it or nothing: never half of a correction.
#[test]
fn a_correction_puts_every_number_right() {
    for (slot, unit, typed, other) in cases() {
        let correct = |old: &str, new: &str| {
            book(&format!(
                "2025-05-01 heron\n  set {slot} {typed}{unit}\n2025-05-03 heron\n  correct {slot} {old} -> {new}{unit}\n"
            ))
        };
        let right = correct(&typed, &other);
        assert_eq!(named(&right, "correction-misses").len(), 0, "{slot} {typed} {other}");
        assert_eq!(stands(&right, slot), format!("{other}{unit}"));
        let missed = correct(&other, &typed);
        assert_eq!(named(&missed, "correction-misses").len(), 1, "{slot} {typed} {other}");
        assert_eq!(stands(&missed, slot), format!("{typed}{unit}"));
    }
    let repeats = "2025-05-01 heron\n  read ride-height LF 60, 61, 62 mm\n";
    let one = book(&format!("{repeats}  correct ride-height LF 61 -> 64 mm\n"));
    assert_eq!(stands(&one, "ride-height LF"), "60, 64, 62 mm");
    let all = book(&format!("{repeats}  correct ride-height LF 60, 61, 62 -> 50, 51, 53 mm\n"));
    assert_eq!(stands(&all, "ride-height LF"), "50, 51, 53 mm");
}

/// A letter of a plan is met by every number, and by no other.
#[test]
fn a_plan_is_held_to_every_number() {
    for (slot, unit, typed, other) in cases().filter(|case| !case.0.starts_with("tyre-temp")) {
        let day = format!(
            "2025-05-01 heron\n  set {slot} {typed}{unit}\n2025-05-10 heron at pell-1\n  07:00 try {slot} A {typed}{unit}, B {other}{unit} order A B A B\n  \
             08:00..08:20 run s1  10 laps  best 1:00.0\n  08:30 set {slot} {other}{unit}  because asked\n  09:00..09:20 run s2  10 laps  best 1:00.1\n"
        );
        let book = book(&day);
        let view = stringline::answer::trials::build(&book, CarId::new(0), None, None);
        let [plan] = view.planned.as_slice() else { panic!("{slot}: {:?}", book.diagnostics) };
        let runs: Vec<_> = plan.runs.iter().map(|run| (run.session.as_str(), run.letter.as_str())).collect();
        assert_eq!(runs, [("s1", "A"), ("s2", "B")], "{slot} {typed} {other}: {}", plan.sentence);
    }
}

/// Teeth are one ratio: 41/11 is 3.727, 40/13 is 3.077.
#[test]
fn teeth_are_judged_as_their_ratio() {
    let judged = |rule: &str, lines: &str| {
        let text = format!("{HEAD}rule r class E  {rule}\n2025-05-01 heron\n  {lines}\n");
        let compiled = compile_text(&text);
        let end = moment::end(&compiled.history);
        let card = stringline::answer::rules::build(&compiled, CarId::new(0), &end, None, None);
        card.rules[0].verdict
    };
    assert_eq!(judged("final-drive max 4", "read final-drive 41/11"), "passes");
    assert_eq!(judged("final-drive max 3.7", "read final-drive 41/11"), "fails");
    assert_eq!(judged("gear-ratio g1 max 3.2", "read gear-ratio g1 40/13"), "passes");
    assert_eq!(judged("gear-ratio g1 max 3.0", "read gear-ratio g1 40/13"), "fails");
    for (line, typed) in [
        ("set final-drive 20.5", "20.5"),
        ("set final-drive 41/2", "41/2"),
        ("set gear-ratio g1 9.5", "9.5"),
        ("set primary-drive 77", "77"),
    ] {
        let book = book(&format!("2025-05-01 heron\n  {line}\n"));
        let said = named(&book, "value-impossible");
        assert_eq!(said.len(), 1, "{line}");
        assert!(said[0].starts_with(&format!("{typed} cannot be: ")), "{said:?}");
    }
}

/// A shop's own figure gets the ratio of teeth, one of three temperatures where it says which, and is refused where it does not.
#[test]
fn a_figure_takes_one_number() {
    let text = |figure: &str| {
        format!(
            "{figure}{HEAD}2025-05-01 heron\n  set gear-ratio g1 40/13 g2 32/15\n  read tyre-temp LF 80/90/100 C\n"
        )
    };
    let step = "figure ratio-step ratio gear \"step\"\n  is a / b\n  a = gear-ratio\n  b = gear-ratio next\n";
    let (value, said) = crate::figures::trace(&text(step), &["heron", "ratio-step", "g1"]);
    let found = value["value_si"].as_f64().unwrap_or_else(|| panic!("{value} {said}"));
    assert!((found - (40.0 / 13.0) / (32.0 / 15.0)).abs() < 1e-9, "{found}");
    let of = |which: &str| {
        format!("figure own-temp temperature corner \"own\"\n  is a + 0 K\n  a = {which}tyre-temp\n")
    };
    let refused = compile_text(&text(&of("")));
    let said = named(&refused, "formula-name-unknown");
    assert_eq!(said.len(), 1, "{:?}", refused.diagnostics);
    assert!(said[0].contains("has three numbers at a place"), "{said:?}");
    assert_eq!(named(&compile_text(&text(&of("second of "))), "formula-name-unknown").len(), 0);
}
