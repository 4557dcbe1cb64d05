//! Derived numbers on the pages: what can be had at an event, by area, each with its chain; what cannot, and what is missing.
//!
//! Which figures there are is the registry's business (`book.figures`). Must not know how one is worked out.

pub mod chain;
pub mod derived;
pub mod drift;
pub mod event;
pub mod health;
pub mod sheet;
pub mod wanted;
