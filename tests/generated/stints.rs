//! Small books of one car whose sessions are divided: stints, stops at which fuel goes in or pads are changed, and values that were
//! typed wrong and corrected. A walk of its own over what was written says what each comes to.

use super::book::{Chooser, stretch};
use super::holds::{Files, compiled};
use super::hunt::books;
use std::collections::BTreeMap;
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::book::names::Thing;
use stringline::book::place::Place;
use stringline::diagnostics::Severity;
use stringline::figures::Calc;
use stringline::history::moment;
use stringline::history::order::Rank;
use stringline::history::usage::of_part;

const HEAD: &str = "circuit pell \"Pell\"  length 2 km
person ned \"Ned\"
person ann \"Ann\"
person orr \"Orr\"
kind pads \"pads\"  fits front
part p0 pads  opening new
part p1 pads  opening new
part p2 pads  opening new
car wren \"Wren\"

2026-04-01 wren
  set fuel-rate 60 L/h
  fit p0 front
";

const DRIVERS: [&str; 3] = ["ned", "ann", "orr"];

/// What a book should come to. Fuel in litres: a litre is burnt each minute.
#[derive(Default)]
pub(super) struct Meant {
    pub(super) text: String,
    /// Minutes by pads, drivers, sessions.
    pads: BTreeMap<String, i32>,
    drivers: BTreeMap<String, i32>,
    sessions: Vec<i32>,
    fuel: i32,
    least: i32,
}

fn clock(minutes: i32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

pub(super) fn written(seed: u64) -> Meant {
    let bytes = stretch(seed ^ 0x57_1e, 300);
    let mut pick = Chooser::new(&bytes);
    let mut meant = Meant { text: HEAD.to_owned(), least: i32::MAX, ..Meant::default() };
    let mut on = 0;
    for day in 2..=3 + pick.below(4) {
        let fuel = 40 + pick.below(60) as i32;
        meant.fuel = fuel;
        meant.text += &format!("\n2026-04-{day:02} wren\n  fill fuel {fuel} L\n");
        let from = 600;
        let (mut now, mut lines, mut ran) = (from, String::new(), 0);
        let stints = 1 + pick.below(4);
        for stint in 0..stints {
            let minutes = 5 + pick.below(40) as i32;
            let driver = pick.of(&DRIVERS);
            // By its times, or by its minutes.
            if pick.below(2) == 0 {
                lines += &format!("    {}..{} stint {driver}\n", clock(now), clock(now + minutes));
            } else {
                lines += &format!("    stint {driver}  {minutes} min\n");
            }
            now += minutes;
            ran += minutes;
            meant.fuel -= minutes;
            meant.least = meant.least.min(meant.fuel);
            *meant.drivers.entry(driver.to_owned()).or_default() += minutes;
            *meant.pads.entry(format!("p{on}")).or_default() += minutes;
            if stint + 1 == stints {
                break;
            }
            let stood = 1 + pick.below(6) as i32;
            lines += &format!("    {}..{} stop\n", clock(now), clock(now + stood));
            now += stood;
            if pick.below(2) == 0 {
                let more = 1 + pick.below(50) as i32;
                lines += &format!("      fill fuel +{more} L\n");
                meant.fuel += more;
            }
            if pick.below(3) == 0 {
                let next = (on + 1) % 3;
                lines += &format!("      swap pads front p{on} -> p{next}  because worn\n");
                on = next;
            }
        }
        meant.sessions.push(ran);
        meant.text += &format!("  {}..{} run race\n{lines}", clock(from), clock(now));
    }
    meant
}

pub(super) fn files(text: &str) -> Files {
    vec![("wren.sline".to_owned(), text.to_owned())]
}

fn named(book: &Compiled, check: &str) -> bool {
    book.diagnostics.iter().any(|one| one.check == check)
}

/// Stints sum to the minutes of their session, drivers' and pads' own minutes to theirs, and fuel to what was put in less what was burnt;
/// it is never less than none without a message.
#[test]
fn stints_stops_and_fuel_add_up() {
    let (mut dry, mut changed) = (0, 0);
    for seed in 0..books(150, 10_000) {
        let meant = written(seed);
        let book = compiled(&files(&meant.text));
        let wrong: Vec<_> = book.diagnostics.iter().filter(|one| one.severity == Severity::Error).collect();
        assert!(wrong.is_empty(), "{wrong:#?}\n{}", meant.text);
        for check in ["stints-leave-hole", "minutes-against-clock", "outside-session", "times-backward"] {
            assert!(!named(&book, check), "{check}\n{}", meant.text);
        }
        let mut drivers: BTreeMap<String, i32> = BTreeMap::new();
        for ((id, session), ran) in book.history.sessions.all.iter_enumerated().zip(&meant.sessions) {
            assert_eq!(session.minutes.map(|minutes| minutes as i32), Some(*ran), "{}", meant.text);
            let mut sum = 0;
            for (_, driver, minutes) in book.history.sessions.drives(id) {
                let name = book.book.people.get(driver.unwrap()).unwrap().named.typed.to_string();
                *drivers.entry(name).or_default() += minutes.unwrap() as i32;
                sum += minutes.unwrap() as i32;
            }
            assert_eq!(sum, *ran, "{}", meant.text);
        }
        assert_eq!(drivers, meant.drivers, "{}", meant.text);
        for (name, minutes) in &meant.pads {
            let Some(Thing::Part(part)) = book.book.names.find(name) else { panic!() };
            let ran = of_part(&book.book, &book.history, part, Rank::START, Rank::END);
            let (seconds, at_least) = ran.on(Clock::Time);
            assert!(
                !at_least && (seconds - f64::from(*minutes) * 60.0).abs() < 1e-6,
                "{name}\n{}",
                meant.text
            );
        }
        changed += usize::from(meant.pads.len() > 1);
        let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
        let now = moment::parse(&book.book, &book.files, &book.history, car, "2026-04-30").unwrap();
        let mut calc = Calc::new(book.facts(), car, &now);
        let left = calc.named("fuel-aboard", Place::CAR);
        if meant.least < 0 {
            dry += 1;
            assert!(named(&book, "fuel-below-none"), "{}", meant.text);
        } else {
            assert!(!named(&book, "fuel-below-none"), "{}", meant.text);
            let litres = left.unwrap().value * 1000.0;
            assert!(
                (litres - f64::from(meant.fuel)).abs() < 1e-6,
                "{litres}, not {}\n{}",
                meant.fuel,
                meant.text
            );
        }
    }
    assert!(dry > 10 && changed > 10, "{dry} {changed}");
}

/// A value that was typed wrong and corrected is as good as the right one typed: what is held at the end, what a difference says, what a
/// figure is worked out from.
#[test]
fn a_correction_is_the_right_value_typed() {
    for seed in 0..books(100, 5000) {
        let bytes = stretch(seed ^ 0xc0_44, 200);
        let mut pick = Chooser::new(&bytes);
        let (mut slip, mut right) = (String::new(), String::new());
        for text in [&mut slip, &mut right] {
            *text = "car wren \"Wren\"\n  wheelbase 2400 mm\n".to_owned();
        }
        let mut held = 57.0;
        for day in 1..=4 + pick.below(5) {
            let head = format!("\n2026-04-{day:02} wren\n");
            slip += &head;
            right += &head;
            let next = 50.0 + pick.below(140) as f64 / 10.0;
            let wrong = next + 0.1 + pick.below(9) as f64 / 10.0;
            let verb = pick.of(&["set", "read", "found"]);
            let quoted = pick.below(3) == 0 && verb == "set" && day > 1;
            let old = if quoted { format!("{held:.1} -> ") } else { String::new() };
            if pick.below(2) == 0 {
                slip += &format!("  {verb} brake-bias {old}{wrong:.1} %\n");
                right += &format!("  {verb} brake-bias {old}{next:.1} %\n");
                // At once, or a day on.
                slip += &format!("  correct brake-bias {wrong:.1} -> {next:.1} %  because misread\n");
            } else {
                for text in [&mut slip, &mut right] {
                    *text += &format!("  {verb} brake-bias {old}{next:.1} %\n");
                }
            }
            held = next;
        }
        let (slip, right) = (files(&slip), files(&right));
        let (one, other) = (compiled(&slip), compiled(&right));
        assert!(!named(&one, "correction-misses"), "{}", slip[0].1);
        for day in 1..=9 {
            let at = |book: &Compiled| {
                let Some(Thing::Car(car)) = book.book.names.find("wren") else { panic!() };
                let day = format!("2026-04-{day:02}");
                let moment = moment::parse(&book.book, &book.files, &book.history, car, &day).ok()?;
                let mut calc = Calc::new(book.facts(), car, &moment);
                calc.value("brake-bias", Place::CAR).ok().map(|fig| fig.value)
            };
            assert!(day < 9 || at(&one).is_some(), "{}", slip[0].1);
            assert_eq!(at(&one), at(&other), "{}", slip[0].1);
        }
        let without = |book: &Compiled| {
            let all = book.diagnostics.iter().map(|one| one.check.to_owned());
            all.collect::<Vec<_>>()
        };
        assert_eq!(without(&one), without(&other), "{}\n{}", slip[0].1, right[0].1);
    }
}
