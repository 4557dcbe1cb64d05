//! Books that nobody thought of: lawful ones against a plain walk, and wild ones that must only stay sane.

// A walk that is to be checked by eye is written as plainly as can be.
#![allow(clippy::format_collect, clippy::needless_for_each, clippy::needless_range_loop)]

mod agree;
mod invariance;
mod script;
mod walk;
mod wild;

pub use wild::sick;
