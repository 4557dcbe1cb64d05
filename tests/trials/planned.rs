//! A trial that was declared beforehand, and how it was followed: held to a count by hand.

use super::random::Random;
use super::{SHOP, book, typed, view};
use crate::generated::hunt::books;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::answer::json;
use stringline::answer::trials::build;
use stringline::answer::trials::planned::{PlanState, PlannedView};
use stringline::audience::{self, Reader};
use stringline::book::names::Thing;

/// A run of the day.
#[derive(Debug, Clone, Copy)]
struct Ran {
    hole: u32,
    bias: u32,
    /// A red flag: it says nothing of any change.
    stopped: bool,
}

const fn hole(hole: u32) -> Ran {
    Ran { hole, bias: 60, stopped: false }
}

/// A day of runs after a line that declares a trial.
fn day(declared: &str, runs: &[Ran]) -> String {
    let mut text = format!("2025-05-10 heron at pell-1\n  07:50 {declared}\n");
    let (mut hole, mut bias) = (1, 60);
    for (number, run) in runs.iter().enumerate() {
        let hour = 8 + number;
        if run.hole != hole {
            writeln!(text, "  {hour:02}:00 set bar-hole front {hole} -> {}  because asked", run.hole)
                .unwrap();
            hole = run.hole;
        }
        if run.bias != bias {
            writeln!(text, "  {hour:02}:01 set brake-bias {bias} -> {} %  because asked", run.bias).unwrap();
            bias = run.bias;
        }
        let flag = if run.stopped { ", red-flag" } else { "" };
        let lap = typed(58.0 + 0.01 * number as f64);
        let label = number + 1;
        writeln!(
            text,
            "  {hour:02}:05..{hour:02}:20 run s{label}  10 laps  best {lap}  by ned  with dry{flag}"
        )
        .unwrap();
    }
    text
}

fn only(lines: &str) -> PlannedView {
    let mut planned = view(&book(lines)).planned;
    assert_eq!(planned.len(), 1, "{planned:?}");
    planned.remove(0)
}

const DECLARED: &str = "try bar-hole front A 1, B 3 order A B A B A";

#[test]
fn it_says_whose_turn_it_is() {
    let turns = [(0, "Run 1 of 5: A next"), (1, "Run 2 of 5: B next"), (4, "Run 5 of 5: A next")];
    for (count, wanted) in turns {
        let plan = only(&day(DECLARED, &[1, 3, 1, 3, 1].map(hole)[..count]));
        assert_eq!((plan.sentence.as_str(), plan.state), (wanted, PlanState::Open));
        assert_eq!(plan.runs.len(), count);
    }
    let plan = only(&day(DECLARED, &[1, 3, 1, 3, 1, 5].map(hole)));
    assert_eq!((plan.sentence.as_str(), plan.state), ("Done as planned", PlanState::Done));
    assert_eq!((plan.what.as_str(), plan.order.as_str()), ("bar-hole front", "A B A B A"));
    let settings: Vec<String> =
        plan.settings.iter().map(|one| format!("{} {}", one.letter, one.text)).collect();
    assert_eq!(settings, ["A 1", "B 3"]);
}

#[test]
fn it_says_where_it_was_not_followed() {
    let said = |lines: &str| only(lines).sentence;
    assert_eq!(
        said(&day(DECLARED, &[1, 3, 3].map(hole))),
        "Not followed: run 3 of 5 was to be A, and s3 was B"
    );
    assert_eq!(
        said(&day(DECLARED, &[1, 2].map(hole))),
        "Not followed: in s2, run 2 of 5, bar-hole front stood at 2, which no letter names"
    );
    let other = Ran { bias: 58, ..hole(3) };
    assert_eq!(
        said(&day(DECLARED, &[hole(1), other])),
        "Not followed: in s2, run 2 of 5, something else was otherwise: brake-bias"
    );
    let wet = day(DECLARED, &[1, 3].map(hole)).replace(
        "s2  10 laps  best 0:58.01  by ned  with dry",
        "s2  10 laps  best 0:58.01  by ned  with damp",
    );
    assert_eq!(
        said(&wet),
        "Not followed: in s2, run 2 of 5, something else was otherwise: its line says damp"
    );
    let rear = day(DECLARED, &[1, 3].map(hole))
        .replace("  09:05..", "  09:02 set bar-hole rear 2 -> 3  because asked\n  09:05..");
    assert_eq!(said(&rear), "Not followed: in s2, run 2 of 5, bar-hole was otherwise at another place too");
    let over = day(DECLARED, &[1, 3, 1].map(hole)) + "\n2025-05-20 heron\n  read engine-hours 5 h\n";
    assert_eq!(said(&over), "Not followed: pell-1 was over after 3 of 5 runs, without B A");
}

/// A run that says nothing takes no place; who drove is something else too.
#[test]
fn a_run_that_does_not_count_is_run_again() {
    let stopped = Ran { stopped: true, ..hole(3) };
    let plan = only(&day(DECLARED, &[hole(1), stopped, hole(3), hole(1)]));
    assert_eq!(plan.sentence, "Run 4 of 5: B next");
    assert_eq!(plan.passed.iter().map(|run| run.session.as_str()).collect::<Vec<_>>(), ["s2"]);
    let text = day(DECLARED, &[1, 3].map(hole)).replace("0:58.01  by ned", "0:58.01  by ann");
    assert_eq!(
        only(&text).sentence,
        "Not followed: in s2, run 2 of 5, something else was otherwise: the driver"
    );
}

/// What follows from the order of the runs, counted by hand.
fn by_hand(order: &str, runs: &[Ran], over: bool) -> (PlanState, usize, Option<String>) {
    let wanted: Vec<u32> = order.chars().map(|letter| if letter == 'A' { 1 } else { 3 }).collect();
    let mut counted = 0;
    let mut bias = None;
    for (number, run) in runs.iter().enumerate() {
        if counted == wanted.len() {
            break;
        }
        if run.stopped {
            continue;
        }
        if *bias.get_or_insert(run.bias) != run.bias || run.hole != wanted[counted] {
            return (PlanState::NotFollowed, counted, Some(format!("s{}", number + 1)));
        }
        counted += 1;
    }
    let state = match (counted == wanted.len(), over) {
        (true, _) => PlanState::Done,
        (false, true) => PlanState::CutShort,
        (false, false) => PlanState::Open,
    };
    (state, counted, None)
}

#[test]
fn generated_days_are_followed_as_counted_by_hand() {
    let mut random = Random(20_261_130);
    let mut met = [0_usize; 4];
    for _ in 0..books(150, 3000) {
        let length = 2 + random.next() as usize % 5;
        let mut order: String =
            (0..length).map(|_| if random.next().is_multiple_of(2) { 'A' } else { 'B' }).collect();
        // Each letter is run.
        if !order.contains('A') || !order.contains('B') {
            order.replace_range(0..2, "AB");
        }
        let mut place = 0;
        let runs: Vec<Ran> = (0..random.next() % 8)
            .map(|_| {
                let stopped = random.next().is_multiple_of(6);
                let wanted = order.chars().nth(place).map_or(1, |letter| if letter == 'A' { 1 } else { 3 });
                place += usize::from(!stopped);
                let other = [1, 2, 3][random.next() as usize % 3];
                let hole = if random.next().is_multiple_of(8) { other } else { wanted };
                Ran { hole, bias: if random.next().is_multiple_of(12) { 58 } else { 60 }, stopped }
            })
            .collect();
        let over = random.next().is_multiple_of(2);
        let declared = format!("try bar-hole front A 1, B 3 order {}", spaced(&order));
        let end = if over { "\n2025-05-20 heron\n  read engine-hours 5 h\n" } else { "" };
        let text = day(&declared, &runs) + end;
        let plan = only(&text);
        let wanted = by_hand(&order, &runs, over);
        assert_eq!((plan.state, plan.runs.len(), plan.departed.clone()), wanted, "{text}{}", plan.sentence);
        let next = (wanted.0 == PlanState::Open).then(|| order[wanted.1..=wanted.1].to_owned());
        assert_eq!(plan.next, next, "{text}");
        met[match wanted.0 {
            PlanState::Open => 0,
            PlanState::Done => 1,
            PlanState::NotFollowed => 2,
            PlanState::CutShort | PlanState::Replaced | PlanState::NotKnown => 3,
        }] += 1;
    }
    assert!(met.iter().all(|count| *count > 9), "{met:?}");
}

fn spaced(order: &str) -> String {
    order.chars().map(String::from).collect::<Vec<_>>().join(" ")
}

fn warned(lines: &str, check: &str) -> Option<String> {
    let compiled = book(lines);
    let found: Vec<_> = compiled.diagnostics.iter().filter(|one| one.check == check).collect();
    assert!(found.len() < 2, "{found:?}");
    found.first().map(|one| one.cure.clone().unwrap_or_default())
}

/// Every order of two settings up to six runs: fooled is one whose letters change once, and what is offered is not.
#[test]
fn an_order_that_never_goes_back_is_warned_about() {
    for length in 2..=6_u32 {
        for code in 1..(1_u32 << length) - 1 {
            let order: String = (0..length).map(|bit| if code >> bit & 1 == 0 { 'A' } else { 'B' }).collect();
            let changes = order.as_bytes().windows(2).filter(|pair| pair[0] != pair[1]).count();
            let text = format!(
                "2025-05-10 heron at pell-1\n  try bar-hole front A 1, B 3 order {}\n",
                spaced(&order)
            );
            let cure = warned(&text, "order-fooled-by-trend");
            assert_eq!(cure.is_some(), changes == 1, "{order}");
            assert!(cure.is_none_or(|cure| cure.contains("`order A B A B A`")), "{order}");
        }
    }
    for (order, fooled) in
        [("A B C", true), ("A A B C C", true), ("C B A", true), ("A C B", false), ("A B C C B A", false)]
    {
        let text = format!("2025-05-10 heron at pell-1\n  try bar-hole front A 1, B 2, C 3 order {order}\n");
        assert_eq!(warned(&text, "order-fooled-by-trend").is_some(), fooled, "{order}");
    }
}

/// What it does not do: no verdict, no setting and no best lap rests on it.
#[test]
fn the_line_changes_no_estimate_and_no_setting() {
    let runs = [1, 3, 1, 3, 1].map(hole);
    let text = day(DECLARED, &runs);
    let without = text.replace(&format!("  07:50 {DECLARED}\n"), "  # Nothing declared.\n");
    let strip = |compiled: &Compiled| {
        let mut view = view(compiled);
        view.planned.clear();
        json(&view)
    };
    let (with, without) = (book(&text), book(&without));
    assert_eq!(strip(&with), strip(&without));
    let events = |compiled: &Compiled| {
        let tracks = &compiled.history.slots.tracks;
        tracks
            .iter()
            .map(|track| track.events.iter().map(|event| event.value).collect::<Vec<_>>())
            .collect::<Vec<_>>()
    };
    assert_eq!(events(&with), events(&without));
}

/// Parts by name and by spec; a reading that stands for a setting within what it leaves open.
#[test]
fn parts_specs_and_readings_are_settings_too() {
    let parts = "spec soft of spring-set\nspec hard of spring-set\npart sp-1 spring-set  spec soft\npart sp-2 spring-set  spec hard\n";
    let swaps = [
        ("08", "fit sp-1 LF"),
        ("09", "swap spring-set LF sp-1 -> sp-2"),
        ("10", "swap spring-set LF sp-2 -> sp-1"),
    ];
    for levels in ["LF A sp-1, B sp-2", "LF A soft, B hard", "A soft, B hard"] {
        let mut text =
            format!("{parts}\n2025-05-10 heron at pell-1\n  07:00 try spring-set {levels} order A B A B A\n");
        for (hour, line) in swaps {
            writeln!(text, "  {hour}:00 {line}  because asked\n  {hour}:05..{hour}:20 run s{hour}  10 laps  best 0:58.4  by ned  with dry").unwrap();
        }
        assert_eq!(only(&text).sentence, "Run 4 of 5: B next", "{levels}");
    }
    let read = day("try brake-bias A 60.0, B 58.0 % order A B A B A", &[hole(1)]);
    let read = read.replace("  08:05", "  08:01 left brake-bias 59.9 ± 0.2 %\n  08:05");
    assert_eq!(only(&read).sentence, "Run 2 of 5: B next");
}

fn of_client(lines: &str) -> String {
    let text = format!("{SHOP}{lines}").replace("car heron \"Heron\"", "car heron \"Heron\"  client orr");
    let compiled = crate::checks::compile_text(&text);
    let Some(Thing::Client(orr)) = compiled.book.names.find("orr") else { panic!() };
    let cut = audience::cut(&compiled, &Reader::Client(orr));
    json(&build(&cut, crate::history::car(&cut, "heron"), None, None))
}

/// It goes as far as the settings of its car; what is hidden of what it names hides it.
#[test]
fn a_plan_of_a_hidden_setting_is_hidden() {
    let text = day(DECLARED, &[1, 3].map(hole));
    assert!(of_client(&text).contains("Run 3 of 5: A next"));
    for hidden in [
        text.replace("-> 3  because asked", "-> 3  for shop  because asked"),
        text.replace("order A B A B A", "order A B A B A  for shop"),
        format!("{text}\n2025-07-01 heron\n  read bar-hole front 3  for shop\n"),
    ] {
        assert_ne!(hidden, text);
        let said = of_client(&hidden);
        assert!(said.contains("\"planned\": []"), "{said}");
    }
}

/// A run that he may not read may have been any: whose turn it is, nobody tells him.
#[test]
fn a_run_that_is_hidden_leaves_the_plan_unknown() {
    let text = day(DECLARED, &[1, 3, 1].map(hole))
        .replace("0:58.01  by ned  with dry", "0:58.01  by ned  with dry  for shop");
    let said = of_client(&text);
    assert!(said.contains("Not known: this reader may not read s2"), "{said}");
    assert!(said.contains("\"state\": \"not-known\"") && !said.contains("next\": \"B"), "{said}");
}

/// The line that the setup sheet offers can be pasted.
#[test]
fn what_the_sheet_offers_can_be_read() {
    let compiled = book(
        "2025-05-10 heron at pell-1\n  try brake-bias A 58 %, B 57 % order A B A B A\n  try tyre-cold LF RF A 1.50 bar, B 1.60 bar order A B B A\n",
    );
    let errors = compiled.count(stringline::diagnostics::Severity::Error);
    assert_eq!((errors, view(&compiled).planned.len()), (0, 2));
}

/// An event is over when the book writes of a later day, whichever car that is about.
#[test]
fn an_event_is_over_when_the_book_goes_on_with_another_car() {
    let runs = day(DECLARED, &[1, 3].map(hole));
    assert_eq!(only(&runs).state, PlanState::Open);
    let other = format!("car stoat \"Stoat\"\n{runs}\n2025-06-04 stoat\n  set bar-hole front 2\n");
    let plan = only(&other);
    assert!(
        plan.sentence.starts_with("Not followed: pell-1 was over after 2 of 5 runs"),
        "{}",
        plan.sentence
    );
    // Of the same days it is not.
    let same = format!("car stoat \"Stoat\"\n{runs}\n2025-05-11 stoat\n  set bar-hole front 2\n");
    assert_eq!(only(&same).state, PlanState::Open);
}
