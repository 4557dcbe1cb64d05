//! The word about the errors behind a result.
//!
//! Must not know any command.

use crate::command::exit::{CLEAN, ERRORS};
use crate::command::output::Output;

/// The exit code of a command that has printed its result, and a word about the errors behind it.
pub(super) fn verdict(compiled: &crate::Compiled, output: &mut Output<'_>) -> u8 {
    let errors = compiled.count(crate::diagnostics::Severity::Error);
    if errors == 0 {
        return CLEAN;
    }
    let what = if errors == 1 { "it touches" } else { "they touch" };
    let errors = crate::words::count(errors, "error", "errors");
    output.message(&format!(
        "stringline: the book has {errors}; what {what} is left unknown. `stringline check` lists them.\n"
    ));
    ERRORS
}
