//! What must not matter, and what must.

use super::script::{Line, Spread, compiled, draws, files, play};
use super::walk::PARTS;
use crate::history::part;
use proptest::prelude::*;
use stringline::Compiled;
use stringline::book::model::Clock;
use stringline::history::order::Rank;
use stringline::history::usage;
use stringline::lives::lives;

/// What is told of a part: each life's end and every clock, without line numbers.
fn facts(book: &Compiled, name: &str, clocks: &[Clock]) -> String {
    let all = lives(&book.book, &book.history, Rank::END);
    let mut told = String::new();
    for life in all.of_part(part(book, name)) {
        let end = format!("{:?}", life.end);
        // Not the line's number, but whether and how.
        told += &format!("{} {:?} {:?}", end.split('(').next().unwrap_or(""), life.first, life.ended);
        for clock in clocks {
            let lived = life.on(&book.book, *clock);
            // Sums in another order differ in their last digits.
            told += &format!(" {:?} {:.6} {}", clock, lived.value, lived.at_least);
        }
        told.push('\n');
    }
    told
}

fn all_facts(book: &Compiled, clocks: &[Clock]) -> Vec<String> {
    PARTS.iter().map(|declared| facts(book, declared.name, clocks)).collect()
}

fn minutes(book: &Compiled, name: &str) -> f64 {
    usage::of_part(&book.book, &book.history, part(book, name), Rank::START, Rank::END).minutes
}

/// The same lines with one session told in two: half its minutes and laps each, the launches in the first, the heat cycles once.
fn split(lines: &[Line], at: usize, halves: (u32, Option<u32>)) -> Vec<Line> {
    let mut told = Vec::new();
    for line in lines {
        if line.session != Some(at) {
            told.push(line.clone());
            continue;
        }
        let clock = line.words.split_whitespace().next().unwrap_or("")[..5].to_owned();
        let rest: Vec<&str> = line.words.split("  ").collect();
        let others: String = rest[1..]
            .iter()
            .filter(|word| !word.ends_with("min") && !word.ends_with("laps"))
            .map(|word| format!("  {word}"))
            .collect();
        let heat = if others.contains("heat") { "" } else { "  1 heat-cycles" };
        let laps = halves.1.map_or(String::new(), |laps| format!("  {laps} laps"));
        let (own, half) = (at + 1, halves.0);
        told.push(Line {
            words: format!("{clock} run s{own}a  {half} min{laps}{others}{heat}"),
            ..line.clone()
        });
        told.push(Line { words: format!("run s{own}  {half} min{laps}  0 heat-cycles"), ..line.clone() });
    }
    told
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_order_of_the_files_changes_nothing(draws in draws(100)) {
        let (_, lines) = play(&draws);
        let told = |spread| all_facts(&compiled(&files(&lines, spread)), &Clock::ALL);
        let one = told(Spread::One);
        prop_assert_eq!(&told(Spread::Apart), &one);
        prop_assert_eq!(&told(Spread::Backwards), &one);
    }

    #[test]
    fn a_session_told_in_two_changes_no_total(draws in draws(100), which in any::<prop::sample::Index>()) {
        let (shop, lines) = play(&draws);
        let may = |at: &usize| shop.sessions[*at].minutes.is_some() && !shop.named.contains(at);
        let all: Vec<usize> = (0..shop.sessions.len()).filter(may).collect();
        prop_assume!(!all.is_empty());
        let at = all[which.index(all.len())];
        let session = &shop.sessions[at];
        let halves = (session.minutes.unwrap_or(0) / 2, session.laps.map(|laps| laps / 2));
        let clocks: Vec<Clock> = Clock::ALL.into_iter().filter(|clock| *clock != Clock::Sessions).collect();
        let (before, after) = (files(&lines, Spread::Apart), files(&split(&lines, at, halves), Spread::Apart));
        let told = all_facts(&compiled(&after), &clocks);
        prop_assert_eq!(told, all_facts(&compiled(&before), &clocks), "{:#?}", after);
    }

    /// Without one session, the parts that were aboard have just that much less, and the others are as they were.
    #[test]
    fn without_a_line_only_what_depends_on_it_changes(draws in draws(100), which in any::<prop::sample::Index>()) {
        let (shop, mut lines) = play(&draws);
        let all: Vec<usize> = (0..shop.sessions.len()).filter(|at| !shop.named.contains(at)).collect();
        prop_assume!(!all.is_empty());
        let at = all[which.index(all.len())];
        let whole = compiled(&files(&lines, Spread::One));
        // What stands under the session stays, as a line of its own at the session's end.
        let place = lines.iter().position(|line| line.session == Some(at)).unwrap();
        lines.remove(place);
        for line in lines.iter_mut().skip(place).take_while(|line| line.nested) {
            line.nested = false;
        }
        let less = compiled(&files(&lines, Spread::One));
        for (index, declared) in PARTS.iter().enumerate() {
            let aboard = shop.sessions[at].aboard.contains(&index);
            let own = if aboard { f64::from(shop.sessions[at].minutes.unwrap_or(0)) } else { 0.0 };
            let gone = minutes(&whole, declared.name) - minutes(&less, declared.name);
            prop_assert!((gone - own).abs() < 1e-6, "{}: {gone} for {own}", declared.name);
            if !aboard {
                prop_assert_eq!(facts(&less, declared.name, &Clock::ALL), facts(&whole, declared.name, &Clock::ALL));
            }
        }
    }
}
