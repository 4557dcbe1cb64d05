//! Properties of whole books that a generator writes: thousands with `STRINGLINE_LONG` set (`./tests/run --long`), a short share
//! of them always.

pub mod book;
mod clocks;
pub mod holds;
mod hunt;
mod json;
mod met;
mod properties;
mod scales;
mod slots;
mod weighed;
