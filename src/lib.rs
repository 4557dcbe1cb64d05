//! Stringline: a plain-text setup ledger and its compiler.
//!
//! Data flows one way: source, syntax, book, history, figures, report.

pub mod book;
pub mod diagnostics;
pub mod source;
pub mod syntax;
pub mod units;
pub mod vocabulary;
