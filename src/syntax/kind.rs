//! What rule a line is read by.
//!
//! Must not know what stands on it.

/// What rule a line was read by.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[repr(u8)]
pub enum LineKind {
    /// A declaration at column 0.
    Declaration,
    /// A dated head at column 0.
    Head,
    /// An indented line.
    Entry,
    /// A note line; its text is the line's only word.
    Note,
    /// A line that could not be read; it has a [`Trouble`] and no words.
    Bad,
}
