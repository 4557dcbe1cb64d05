//! The vocabulary uses kinds and units that the unit table knows.

use super::vocabulary_lines::lines;
use stringline::units::{DimensionId, Found, table};

#[test]
fn every_kind_of_quantity_is_known() {
    for line in lines() {
        assert!(DimensionId::by_name(&line.dimension).is_some(), "{}: {}", line.name, line.dimension);
    }
}

#[test]
fn every_unit_fits_its_quantity() {
    for line in lines() {
        let kind = DimensionId::by_name(&line.dimension).expect("see the test above");
        for unit in &line.units {
            let found = table().find(unit, kind);
            assert!(matches!(found, Found::One(_)), "{}: `{unit}` is {found:?}", line.name);
        }
    }
}

#[test]
fn numbers_that_need_a_unit_have_one() {
    for line in lines() {
        let kind = DimensionId::by_name(&line.dimension).expect("see the test above").get();
        if kind.is_text() {
            assert!(
                line.units.is_empty() && line.usual.is_none() && line.possible.is_none(),
                "{}",
                line.name
            );
        } else if !kind.bare {
            // Two to show, and one for each range.
            let ranges = usize::from(line.usual.is_some()) + usize::from(line.possible.is_some());
            assert_eq!(line.units.len(), 2 + ranges, "{}", line.name);
        }
    }
}
