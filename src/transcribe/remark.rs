//! What is said of a sheet beside the lines.
//!
//! Must not know what was read.

/// Something that is left out, or asked about.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Remark {
    /// The sheet's line it is about.
    pub line: u32,
    /// A sentence without its full stop.
    pub text: String,
}
