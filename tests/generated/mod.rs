//! Properties of whole books that a generator writes: thousands with `STRINGLINE_LONG` set (`./tests/run --long`), a short share
//! of them always.

mod accounts;
mod alike;
pub mod book;
mod clocks;
mod compared;
mod handed;
pub mod holds;
pub mod hunt;
mod json;
mod loans;
mod met;
mod nights;
mod normal;
mod one_mistake;
mod properties;
mod scales;
mod shod;
mod slipped;
mod slots;
mod stints;
mod untold;
mod weighed;
