//! All integration tests, in one binary.

// Clippy's own exception for tests reaches only functions marked `#[test]`, not their helpers.
#![allow(clippy::unwrap_used, clippy::expect_used, clippy::indexing_slicing, clippy::string_slice)]

mod agreement;
mod answer;
mod audience;
mod board;
mod browser;
mod checks;
mod clocks;
mod command;
mod demo;
mod diagnostics;
mod disk;
mod due;
mod editor;
mod figures;
mod format;
mod generated;
mod growth;
mod history;
mod hostile;
mod language;
mod layers;
mod lives;
mod money;
mod reference;
mod report;
mod rules;
mod settings_fold;
mod source;
mod source_text;
mod statistics;
mod stranger;
mod tables;
mod transcribe;
mod trials;
mod units;
mod unread;
mod verbs;
mod words;
mod worth;
