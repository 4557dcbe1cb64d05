//! Sets of limits that quarrel, found in one walk, against every pair looked at by itself.

use jiff::ToSpan;
use jiff::civil::{Date, date};
use proptest::prelude::*;
use stringline::rules::sets::{Limits, Quarrel, sets};

fn day(number: i64) -> Date {
    date(2020, 1, 1).checked_add(number.days()).unwrap()
}

/// Lists of places: 0 is every place; 1, 2 and 3 have none in common.
const TOUCHING: [&[usize]; 4] = [&[0, 1, 2, 3], &[0, 1], &[0, 2], &[0, 3]];

fn quarrel(a: &Limits, b: &Limits, quarrel: Quarrel) -> bool {
    let meet = TOUCHING[a.places].contains(&b.places) && a.from <= b.until && b.from <= a.until;
    let both =
        |a: Option<f64>, b: Option<f64>, bad: fn(f64, f64) -> bool| a.zip(b).is_some_and(|(a, b)| bad(a, b));
    meet && match quarrel {
        Quarrel::Impossible => both(a.min, b.max, |a, b| a > b) || both(b.min, a.max, |a, b| a > b),
        Quarrel::Unlike => {
            both(a.min, b.min, |a, b| (a - b).abs() > 1e-9) || both(a.max, b.max, |a, b| (a - b).abs() > 1e-9)
        }
    }
}

/// The same sets pair by pair: who can be reached from whom.
fn by_pairs(all: &[Limits], of: Quarrel) -> Vec<Vec<usize>> {
    let mut label: Vec<usize> = (0..all.len()).collect();
    for _ in 0..all.len() {
        for a in 0..all.len() {
            for b in 0..all.len() {
                if a != b && quarrel(&all[a], &all[b], of) {
                    label[a] = label[a].min(label[b]);
                }
            }
        }
    }
    let set = |root: usize| (0..all.len()).filter(|at| label[*at] == root).collect::<Vec<usize>>();
    (0..all.len()).map(set).filter(|set| set.len() > 1).collect()
}

fn limits() -> impl Strategy<Value = Limits> {
    let side = || prop::option::of((0..4_i32).prop_map(f64::from));
    (0..12_i64, 0..6_i64, side(), side(), 0..4_usize).prop_map(|(from, long, min, max, places)| Limits {
        from: day(from),
        until: day(from + long),
        min,
        max,
        places,
    })
}

proptest! {
    #[test]
    fn one_walk_finds_what_every_pair_says(all in prop::collection::vec(limits(), 0..14)) {
        let touching: Vec<Vec<usize>> = TOUCHING.iter().map(|list| list.to_vec()).collect();
        for of in [Quarrel::Impossible, Quarrel::Unlike] {
            let found = sets(&all, &touching, of);
            for set in &found {
                prop_assert!(quarrel(&all[set.pair.0], &all[set.pair.1], of), "{set:?} of {all:?}");
                prop_assert!(set.all.contains(&set.pair.0) && set.all.contains(&set.pair.1));
            }
            let found: Vec<Vec<usize>> = found.into_iter().map(|set| set.all).collect();
            prop_assert_eq!(found, by_pairs(&all, of), "{:?} of {:?}", of, all);
        }
    }
}
