//! Views: what stands on a page, as plain data. One file a section.
//!
//! Every number is a text already, with its unit beside it and its ledger line in a `src`. A view must not know HTML;
//! only [`note::Note::html`] holds any, made by [`super::markdown`].

pub mod bench;
pub mod bests;
pub mod change;
pub mod costs;
pub mod diff;
pub mod entry;
pub mod failures;
pub mod figures;
pub mod frame;
pub mod handover;
pub mod index;
pub mod jobs;
pub mod laps;
pub mod legality;
pub mod link;
pub mod money;
pub mod moves;
pub mod note;
pub mod parts;
pub mod problems;
pub mod season;
pub mod setup;
pub mod timeline;
pub mod totals;
pub mod tyres;
pub mod value;
