//! Exit codes, and the word about the errors behind a result.
//!
//! Must not know any command.

use crate::command::output::Output;

/// Everything went well, and the book has no error.
pub const CLEAN: u8 = 0;

/// The book has errors, or a ledger would change its layout.
pub const ERRORS: u8 = 1;

/// Wrong usage, or the disk: something could not be read, written or removed, a ledger was left, output did not arrive.
pub const TROUBLE: u8 = 2;

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
