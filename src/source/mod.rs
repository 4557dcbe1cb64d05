//! The only door to disk, git and the clock: ledger files as text, their lines, and spans in them.
//!
//! Must not know the language. Everything outside is reached through the [`World`] trait, so that
//! tests run from memory.

mod aside;
mod attributes;
mod begin;
mod commit;
pub mod covered;
mod disk;
mod files;
mod fingerprint;
mod handed;
mod leftover;
mod line_table;
mod lock;
mod overlay;
mod places;
mod revision;
mod rewrite;
mod shown;
mod span;
mod swap;
mod temporary;
mod walk;
mod world;
mod write;

pub use aside::Aside;
pub use begin::begin;
pub use disk::Disk;
pub use files::{Files, Origin, SourceFile};
pub use fingerprint::{FINGERPRINT, Running, fingerprint};
pub use handed::HandedIn;
pub use leftover::{Leftover, clear};
pub use line_table::LineTable;
pub use lock::Lock;
pub use overlay::Overlay;
pub use places::{Place, Places};
pub use revision::Revision;
pub use rewrite::{Hook, Left, Means, Rewrite, Step, rewrite};
pub use shown::shown;
pub use span::{FileId, Span};
pub use walk::{is_ledger, reason};
pub use world::{LoadTrouble, Memory, World};
pub use write::{Draft, Journal, print, put, sweep, write_to};
