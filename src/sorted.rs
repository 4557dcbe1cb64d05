//! Lists that are sorted by a test, cut where it ends to hold.
//!
//! Must not know what any of them lists.

/// Those that the test holds of, and those after them.
pub fn parted<T>(list: &[T], holds: impl FnMut(&T) -> bool) -> (&[T], &[T]) {
    list.split_at(list.partition_point(holds))
}

/// Those that the test holds of.
pub fn until<T>(list: &[T], holds: impl FnMut(&T) -> bool) -> &[T] {
    parted(list, holds).0
}

/// Those from the first on that the test does not hold of.
pub fn from<T>(list: &[T], before: impl FnMut(&T) -> bool) -> &[T] {
    parted(list, before).1
}
