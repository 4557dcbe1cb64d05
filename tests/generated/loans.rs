//! Small books of one car whose parts are lent, whose outfit is fitted, and whose clients pay.

use super::book::{Chooser, Knobs, seeded, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use std::collections::BTreeMap;
use stringline::Compiled;
use stringline::audience::{Reader, cut};
use stringline::book::model::Clock;
use stringline::book::names::Thing;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

const HEAD: &str = "shop \"Hollin Lane\"  currency EUR  zone Europe/Dublin
client orr \"Orr\"
person ned \"Ned\"
person ada \"Ada\"
car wren \"Wren\"  client orr
kind coupling \"drive coupling\"  fits LR RR
part c-1 coupling  opening new
part c-2 coupling  opening 30 min, 4 laps
part c-3 coupling  opening new
kind spring \"spring\"  fits LF RF  gives spring-rate
part s-1 spring  opening new  tag spring-rate 60 N/mm
part s-2 spring  opening new  tag spring-rate 60 N/mm
part w-1 spring  opening new  tag spring-rate 45 N/mm
part w-2 spring  opening new  tag spring-rate 45 N/mm
";

const PARTS: [&str; 3] = ["c-1", "c-2", "c-3"];

/// What a part ran away, by what its lines say.
#[derive(Default, Clone, Copy)]
struct Away {
    seconds: f64,
    laps: f64,
    /// A clock that no line speaks of.
    unsaid: [bool; 3],
    lent: u32,
}

/// The same season twice: with parts lent while they lie on the shelf, and with a note in place of each such line.
fn lent(seed: u64) -> (String, String, BTreeMap<&'static str, Away>) {
    let bytes = stretch(seed ^ 0x1e_47, 400);
    let mut pick = Chooser::new(&bytes);
    let (mut with, mut without) = (HEAD.to_owned(), HEAD.to_owned());
    let mut away: BTreeMap<&'static str, Away> = BTreeMap::new();
    // Where each is: on the car at a place, on the shelf (none), lent.
    let mut spots: BTreeMap<&'static str, Option<&'static str>> = BTreeMap::new();
    for day in 1..=8 + pick.below(12) {
        let head = format!("\n2026-04-{day:02} wren\n");
        let mut both = |text: &str, other: &str| {
            with.push_str(text);
            without.push_str(other);
        };
        both(&head, &head);
        for _ in 0..=pick.below(3) {
            let part = pick.of(&PARTS);
            let taken: Vec<&str> = spots.values().flatten().copied().collect();
            match spots.get(part).copied() {
                Some(Some("lent")) => {
                    let away = away.entry(part).or_default();
                    let (words, seconds, laps, unsaid) = pick.of(&[
                        ("", 0.0, 0.0, [true, true, true]),
                        (" unused", 0.0, 0.0, [false; 3]),
                        (" ran 95 min", 95.0 * 60.0, 0.0, [false, true, true]),
                        (" ran 12 laps", 0.0, 12.0, [true, false, true]),
                        (" ran 2 h, 7 laps", 7200.0, 7.0, [false, false, true]),
                    ]);
                    away.seconds += seconds;
                    away.laps += laps;
                    (0..3).for_each(|at| away.unsaid[at] |= unsaid[at]);
                    spots.insert(part, None);
                    both(&format!("  return {part}{words}\n"), "  | back\n");
                }
                Some(Some(_)) => {
                    spots.insert(part, None);
                    both(&format!("  remove {part}\n"), &format!("  remove {part}\n"));
                }
                _ if pick.chance(50) => {
                    away.entry(part).or_default().lent += 1;
                    spots.insert(part, Some("lent"));
                    both(&format!("  lend {part} to \"the next shop\"\n"), "  | gone\n");
                }
                _ => {
                    let free: Vec<&'static str> =
                        ["LR", "RR"].into_iter().filter(|place| !taken.contains(place)).collect();
                    let Some(place) = pick.any(&free) else { continue };
                    spots.insert(part, Some(place));
                    let line = format!("  fit {part} {place}\n");
                    both(&line, &line);
                }
            }
        }
        let run = format!("  10:00..10:{:02} run s{day} {} laps\n", 10 + pick.below(40), 1 + pick.below(20));
        both(&run, &run);
    }
    // What is still lent at the end came to no end: nobody knows what it runs.
    for (part, spot) in spots {
        if spot == Some("lent") {
            away.entry(part).or_default().unsaid = [true; 3];
        }
    }
    (with, without, away)
}

fn book(text: &str) -> Compiled {
    let files: Files = vec![("wren.sline".to_owned(), text.to_owned())];
    let book = compiled(&files);
    let errors: Vec<&str> = book
        .diagnostics
        .iter()
        .filter(|one| one.severity == Severity::Error)
        .map(|one| one.message.as_str())
        .collect();
    assert!(errors.is_empty(), "{errors:?}\n{text}");
    book
}

fn use_on(book: &Compiled, name: &str, clock: Clock) -> (f64, bool) {
    let Some(Thing::Part(part)) = book.book.names.find(name) else { panic!("{name}") };
    of_part(&book.book, &book.history, part, Rank::START, Rank::END).on(clock)
}

/// A part that was lent and came back is as one that never was, but for what it ran away; a clock of that which nobody told is
/// "at least".
#[test]
fn lend_then_return_is_never_lent_but_for_the_hours_away() {
    let (mut told, mut untold, mut unused) = (0, 0, 0);
    for seed in 0..books(60, 5000) {
        let (with, without, away) = lent(seed);
        let (lent, kept) = (book(&with), book(&without));
        for part in PARTS {
            let gone = away.get(part).copied().unwrap_or_default();
            let expected = [(Clock::Time, gone.seconds), (Clock::Laps, gone.laps), (Clock::Days, 0.0)];
            for (at, (clock, more)) in expected.into_iter().enumerate() {
                let (before, least) = use_on(&kept, part, clock);
                let (after, at_least) = use_on(&lent, part, clock);
                assert!((after - before - more).abs() < 1e-6, "seed {seed}, {part}, {clock:?}\n{with}");
                assert_eq!(at_least, least || gone.unsaid[at], "seed {seed}, {part}, {clock:?}\n{with}");
            }
            told += usize::from(gone.seconds + gone.laps > 0.0);
            untold += usize::from(gone.unsaid[0]);
            unused += usize::from(gone.lent > 0 && !gone.unsaid[2]);
        }
        let costs = |book: &Compiled| format!("{:?}", book.costs.postings);
        assert_eq!(costs(&lent), costs(&kept), "seed {seed}\n{with}");
    }
    assert!(told > 10 && untold > 10 && unused > 3, "{told} {untold} {unused}");
}

/// The same season twice: with outfits fitted, and with their lines typed out, what was in a place taken off first.
fn worn(seed: u64) -> (String, String, usize) {
    let bytes = stretch(seed ^ 0x00f1, 400);
    let mut pick = Chooser::new(&bytes);
    let sets = [("dry", ["s-1", "s-2"]), ("wet", ["w-1", "w-2"])];
    let mut head = HEAD.to_owned();
    let mut settings: Vec<String> = Vec::new();
    for (name, [left, right]) in sets {
        // What a line says of itself it says wherever it stands.
        let mut own =
            || pick.of(&["", "", "  for shop  because of the rain", "  by ned", "  for buyer  by ada"]);
        let (first, second) = (own(), own());
        let set = format!(
            "  set camber LF -{}.{} deg{first}\n  set bar-hole rear {}{second}\n",
            1 + pick.below(3),
            pick.below(10),
            1 + pick.below(5)
        );
        head += &format!("outfit {name} wren \"{name}\"\n  fit {left} LF\n  fit {right} RF\n{set}");
        settings.push(set);
    }
    let (mut whole, mut typed) = (head.clone(), head);
    let mut on: [Option<&str>; 2] = [None, None];
    let mut worn = 0;
    for day in 1..=6 + pick.below(14) {
        let date = format!("\n2026-04-{day:02} wren\n");
        whole += &date;
        typed += &date;
        match pick.below(4) {
            0 | 1 => {
                let at = pick.below(2);
                let (name, parts) = sets[at];
                whole += &format!("  fit {name}\n");
                for (place, part) in parts.into_iter().enumerate() {
                    if on[place] != Some(part) {
                        if let Some(old) = on[place] {
                            typed += &format!("  remove {old}\n");
                        }
                        typed += &format!("  fit {part} {}\n", ["LF", "RF"][place]);
                        on[place] = Some(part);
                    }
                }
                typed += &settings[at];
                worn += 1;
            }
            2 => {
                // By hand in between, so that an outfit finds other things there.
                let line = format!("  set bar-hole rear {}\n", 6 + day % 6);
                whole += &line;
                typed += &line;
            }
            _ => {
                if let Some(old) = on[1].take() {
                    let line = format!("  remove {old}\n");
                    whole += &line;
                    typed += &line;
                }
            }
        }
        let run = format!("  10:00..10:{:02} run s{day} 9 laps\n", 10 + pick.below(40));
        whole += &run;
        typed += &run;
    }
    (whole, typed, worn)
}

/// What is on the car and what stands, at the end of each day, as text.
fn stands(book: &Compiled) -> Vec<String> {
    let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
    let mut all = Vec::new();
    for head in &book.book.heads {
        let moment = stringline::history::moment::parse(
            &book.book,
            &book.files,
            &book.history,
            car,
            &head.date.to_string(),
        )
        .unwrap();
        let state = book.facts().on(car, moment.rank);
        for slot in state.slots() {
            let value = slot.held.is(&book.history).map(|event| event.value);
            all.push(format!("{} {:?} {:?} {value:?}", head.date, slot.quantity, slot.place));
        }
        for name in ["s-1", "s-2", "w-1", "w-2"] {
            let Some(Thing::Part(part)) = book.book.names.find(name) else { panic!() };
            let at = book.history.parts.get(part).at(moment.rank).map(|stay| stay.at);
            let run = of_part(&book.book, &book.history, part, Rank::START, moment.rank);
            all.push(format!(
                "{} {name} {at:?} {:?} {:?}",
                head.date,
                run.on(Clock::Time),
                run.on(Clock::Laps)
            ));
        }
    }
    all
}

#[test]
fn fitting_an_outfit_is_its_lines_typed_out() {
    let mut all = 0;
    for seed in 0..books(60, 5000) {
        let (whole, typed, worn) = worn(seed);
        all += worn;
        let (one, other) = (book(&whole), book(&typed));
        assert_eq!(stands(&one), stands(&other), "seed {seed}\n{whole}");
        // The client of the car knows as much of the one as of the other.
        let Some(Thing::Client(orr)) = one.book.names.find("orr") else { panic!() };
        let his = |book: &Compiled| stands(&cut(book, &Reader::Client(orr)));
        assert_eq!(his(&one), his(&other), "seed {seed}, orr\n{whole}");
    }
    assert!(all > 100, "{all}");
}

/// A season with its payments, and with a note in the place of each: every line about money is the same.
#[test]
fn payments_leave_what_everything_cost_unchanged() {
    let mut payments = 0;
    for seed in 0..books(24, 2000) {
        let files = seeded(seed, 1200, Knobs::default()).files();
        let without: Files = files
            .iter()
            .map(|(path, text)| {
                let lines = text.lines().map(|line| {
                    let line = line.trim_end();
                    if line.trim_start().starts_with("paid ") {
                        "  | nothing".to_owned()
                    } else {
                        line.to_owned()
                    }
                });
                (path.clone(), lines.collect::<Vec<_>>().join("\n") + "\n")
            })
            .collect();
        let (paid, unpaid) = (compiled(&files), compiled(&without));
        payments += paid.costs.payments.len();
        assert!(unpaid.costs.payments.is_empty(), "seed {seed}");
        let money = |book: &Compiled| {
            let all = book.costs.postings.iter();
            all.map(|one| format!("{:?} {:?} {:?} {:?}", one.amount, one.client, one.job, one.date))
                .collect::<Vec<_>>()
        };
        assert_eq!(money(&paid), money(&unpaid), "seed {seed}");
        assert_eq!(
            format!("{:?}", paid.costs.failures),
            format!("{:?}", unpaid.costs.failures),
            "seed {seed}"
        );
    }
    assert!(payments > 20, "{payments}");
}
