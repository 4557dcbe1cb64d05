//! The only door to disk, git and the clock: ledger files as text, their lines, and spans in them.
//!
//! Must not know the language. Everything outside is reached through the [`World`] trait, so that
//! tests run from memory.

mod files;
mod span;
mod world;

pub use files::{Files, SourceFile};
pub use span::{FileId, Span};
pub use world::{Disk, LoadTrouble, Memory, World};
