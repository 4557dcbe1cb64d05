//! What makes a family of checks of its modules.
//!
//! Must not know any check.

/// Declares a family's modules, one check each, and lists their checks.
macro_rules! family {
    ($($module:ident),* $(,)?) => {
        $(pub(in $crate::check) mod $module;)*
        /// The family's checks.
        pub const CHECKS: &[&$crate::check::Check] = &[$(&$module::CHECK),*];
    };
}
pub(crate) use family;
