//! Exit codes.
//!
//! Must not know any command.

/// Everything went well, and the book has no error.
pub const CLEAN: u8 = 0;

/// The book has errors, or a ledger would change its layout.
pub const ERRORS: u8 = 1;

/// Wrong usage, or the disk: something could not be read, written or removed, a ledger was left, output did not arrive.
pub const TROUBLE: u8 = 2;
