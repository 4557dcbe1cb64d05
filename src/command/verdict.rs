//! Exit codes, and the word about the errors behind a result.
//!
//! Must not know any command.

pub use crate::command::exit::{CLEAN, ERRORS, TROUBLE};
use crate::command::output::Output;

/// The exit code of a command that has printed its result, and a word about the errors behind it.
pub(super) fn verdict(compiled: &crate::Compiled, output: &mut Output<'_>) -> u8 {
    let errors = compiled.count(crate::diagnostics::Severity::Error);
    if errors == 0 {
        return CLEAN;
    }
    let (noun, what) = if errors == 1 { ("error", "it touches") } else { ("errors", "they touch") };
    output.message(&format!(
        "stringline: the book has {errors} {noun}; what {what} is left unknown. `stringline check` lists them.\n"
    ));
    ERRORS
}
