//! Sharing out by largest remainders (Hamilton's method; Balinski and Young, *Fair Representation*, 1982).

use proptest::prelude::*;
use stringline::money::share;

/// 100.00 among three: 33.33 each and one cent over, which goes to the first.
#[test]
fn a_hundred_among_three() {
    assert_eq!(share::out(10_000, &[1, 1, 1]).unwrap(), [3334, 3333, 3333]);
    assert_eq!(share::out(-10_000, &[1, 1, 1]).unwrap(), [-3334, -3333, -3333]);
    assert_eq!(share::out(1, &[1, 1, 1]).unwrap(), [1, 0, 0]);
    assert_eq!(share::out(2, &[1, 1, 1]).unwrap(), [1, 1, 0]);
}

/// Worked by hand: 46.00 by running minutes 159 : 650 : 537 : 1002 of 2348 is 3.11499, 12.73424, 10.52044, 19.63032; rounded
/// down 3.11 + 12.73 + 10.52 + 19.63 = 45.99; the largest remainder, 0.499 of a cent, is the first.
#[test]
fn by_running_minutes() {
    assert_eq!(share::out(4600, &[159, 650, 537, 1002]).unwrap(), [312, 1273, 1052, 1963]);
}

/// The Alabama paradox in small (Balinski and Young, chapter 5): of 10, weights 6 : 6 : 2 get 4, 4, 2; of 11 they get 5, 5, 1.
#[test]
fn the_alabama_paradox_is_hamiltons() {
    assert_eq!(share::out(10, &[6, 6, 2]).unwrap(), [4, 4, 2]);
    assert_eq!(share::out(11, &[6, 6, 2]).unwrap(), [5, 5, 1]);
}

#[test]
fn nothing_to_share_by() {
    assert_eq!(share::out(100, &[]), None);
    assert_eq!(share::out(100, &[0, 0]), None);
    assert_eq!(share::out(100, &[0, 7]).unwrap(), [0, 100]);
    assert_eq!(share::out(i128::MAX, &[2, 3]), None);
}

proptest! {
    /// Shares add up to the whole, each lies within one unit of its exact part, and no weight of nothing gets anything.
    #[test]
    fn shares_add_up(units in -1_000_000_000_i128..1_000_000_000, weights in prop::collection::vec(0_u64..100_000, 1..12)) {
        let all: i128 = weights.iter().map(|weight| i128::from(*weight)).sum();
        let Some(shares) = share::out(units, &weights) else {
            prop_assert_eq!(all, 0);
            return Ok(());
        };
        prop_assert_eq!(shares.iter().sum::<i128>(), units);
        for (share, weight) in shares.iter().zip(&weights) {
            prop_assert!((share * all - units * i128::from(*weight)).abs() < all);
            prop_assert!(*weight > 0 || *share == 0);
        }
    }
}
