//! Sections: what stands on a page, as plain data. One file a section; what a template is filled with is a page's view.
//!
//! Every number is a text already, with its unit beside it and its ledger line in a `src`. A section shows answers
//! (`answer`, what a command says) and must not know HTML;
//! only [`note::Note::html`] holds any, made by [`super::markdown`].

pub mod aboard;
pub mod back_to_back;
pub mod bench;
pub mod bests;
pub mod change;
pub mod client;
pub mod costs;
pub mod crash;
pub mod diff;
pub mod due;
pub mod entry;
pub mod fact;
pub mod failures;
pub mod figures;
pub mod frame;
pub mod handover;
pub mod index;
pub mod jobs;
pub mod laps;
pub mod legality;
pub mod link;
pub mod lives;
pub mod load;
pub mod margins;
pub mod method;
pub mod money;
pub mod moves;
pub mod night;
pub mod note;
pub mod now;
pub mod outlook;
pub mod part;
pub mod parts;
pub mod plan;
pub mod problems;
mod ran;
pub mod season;
pub mod setup;
pub mod sheet;
mod stacks;
pub mod stops;
pub mod timeline;
pub mod todo;
pub mod totals;
pub mod tyres;
mod unseen;
pub mod until;
pub mod usage;
pub mod value;
mod whose;
pub mod winter;
pub(in crate::report) mod year;
