//! Checks on the book's own means: named setups.

crate::check::family! {
    baseline_unresolved,
}
