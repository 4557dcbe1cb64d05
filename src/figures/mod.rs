//! Derived numbers, each with its origin: formula and source, input lines, convention, how sure it is.
//!
//! A field of figures a file. Must not know HTML, the terminal, nor how a line is written. A figure that cannot be had
//! says which reading is missing; nothing is silently assumed, and a default is a named input with its source.

mod adjusted;
mod alignment;
pub mod bench;
pub mod calc;
mod car;
mod cg;
mod chain;
mod code;
mod compute;
mod condition;
mod corrected;
mod derive;
pub mod drift;
pub mod dual;
mod engine;
mod evaluate;
pub mod formula;
mod fuel;
mod gearing;
mod given;
mod injectors;
mod inputs;
mod memo;
mod read;
mod roll;
mod source;
mod springs;
mod supposed;
mod sure;
mod tank;
mod terms;
mod together;
pub mod trace;
mod typed;
mod tyres;
pub mod uncertainty;
mod wear;
mod weights;

pub use calc::{Calc, Fig, Got, Missing};
pub use code::in_code;
pub use engine::{AtHours, Taken, alike_over_hours, apart, taken};
pub use formula::Formula;
pub use inputs::WhatIf;
pub use read::{BESIDE, lines_under};
pub use supposed::Supposed;
pub use wear::read_lines;
