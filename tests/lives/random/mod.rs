//! Books that nobody thought of: lawful ones against a plain walk, and wild ones that must only stay sane.

mod agree;
mod invariance;
mod script;
mod walk;
mod wild;

pub use wild::sick;
