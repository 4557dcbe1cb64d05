//! Every check, by family. A check that is not listed here does not run.

use super::{Check, waive};

macro_rules! checks {
    ($($module:ident),* $(,)?) => {
        /// Every check of the language.
        pub const CHECKS: &[&Check] = &[$(&super::$module::CHECK,)* &waive::WAIVER_UNKNOWN, &waive::WAIVER_UNUSED];
    };
}

// One line a family, in the families' order.
checks! {
    // Units, numbers, places.
    unit_missing,
    // Old against new, found against left.
    old_value_differs, found_has_drifted,
}
