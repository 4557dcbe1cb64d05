//! Every check, by family. A check that its family does not list does not run.

use super::{Check, waive};
use std::sync::LazyLock;

/// Every check of the language, family by family.
pub static CHECKS: LazyLock<Vec<&'static Check>> = LazyLock::new(|| {
    let families = [
        super::reading::CHECKS,
        super::words::CHECKS,
        super::formulas::CHECKS,
        super::typing::CHECKS,
        super::settings::CHECKS,
        super::parts::CHECKS,
        super::sessions::CHECKS,
        super::instruments::CHECKS,
        super::work::CHECKS,
        super::rules::CHECKS,
        super::money::CHECKS,
        super::jobs::CHECKS,
        super::book::CHECKS,
        waive::CHECKS,
    ];
    families.concat()
});
