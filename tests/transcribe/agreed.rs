//! The one rule of what may be read in several ways, over all small tables: ways along, cells down.

use proptest::prelude::*;
use stringline::transcribe::agree::{Agreed, agree};

proptest! {
    #![proptest_config(ProptestConfig::with_cases(2000))]
    /// An answer is what every way that fits says of every cell; without one, two ways that fit differ, or none fits.
    #[test]
    fn what_every_way_that_fits_says(table in prop::collection::vec(prop::collection::vec(prop::option::of(0_u8..3), 3), 0..6)) {
        let read = |way: usize, cell: usize| table[cell][way];
        let legible: Vec<usize> = (0..table.len()).filter(|&cell| table[cell].iter().any(Option::is_some)).collect();
        let fits = |way: usize| legible.iter().all(|&cell| read(way, cell).is_some());
        let fitting: Vec<usize> = (0..3).filter(|&way| fits(way)).collect();
        match agree(3, table.len(), read) {
            Agreed::Way(way) => {
                prop_assert!(fits(way));
                for &cell in &legible {
                    for &other in &fitting {
                        prop_assert_eq!(read(way, cell), read(other, cell));
                    }
                }
            }
            Agreed::Open { cell, readings: [(one, first), (other, second)] } => {
                prop_assert!(fits(one) && fits(other) && first != second);
                prop_assert_eq!((read(one, cell), read(other, cell)), (Some(first), Some(second)));
            }
            Agreed::Torn { cells: [one, other] } => {
                prop_assert!(fitting.is_empty());
                prop_assert!(legible.contains(&one) && legible.contains(&other));
                // What is shown is a quarrel: some way reads the one and not the other.
                prop_assert!((0..3).any(|way| read(way, one).is_some() != read(way, other).is_some()));
            }
        }
    }
}
