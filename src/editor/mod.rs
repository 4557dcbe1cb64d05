//! The Language Server Protocol: an open standard by which an editor asks a compiler about the text that is being typed.
//!
//! One request a file. Every answer is made of a compiled book by what the commands ask too; there is no second reading of the language.
//! Must not know a terminal, a stream or a file: messages come and go over a connection, texts over [`crate::source::Overlay`], and a
//! page that is opened goes into [`crate::source::Aside`].

pub mod address;
mod answers;
mod colours;
mod completion;
pub mod desk;
mod fixes;
mod formatting;
mod hints;
mod hover;
mod kept;
pub mod leaf;
mod lens;
mod moment;
mod names;
mod namesakes;
mod offer;
mod outline;
mod pages;
mod said;
mod server;
pub mod text;
mod told;

pub use server::{Ended, serve};
