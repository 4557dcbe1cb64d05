//! The language as people type it: what just works, and what gets a clear answer.

mod alike;
mod typed;
