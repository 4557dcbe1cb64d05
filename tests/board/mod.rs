//! The pages in a browser, kept at what was saved last: who is let in, what is handed out, who is told of a change.
//!
//! In Chromium: `browser::board`.

mod copies;
mod door;
pub mod live;
mod turns;

use stringline::Compiled;
use stringline::board::Stand;
use stringline::report::{Options, Own};
use stringline::source::Memory;

/// A book of one file.
pub fn compiled(text: &str) -> Compiled {
    stringline::compile(&Memory::new(&[("a.sline", text)], crate::checks::now())).unwrap()
}

/// All its pages.
pub fn stand(compiled: Compiled) -> Stand {
    Stand { compiled, options: Options::default(), own: Own::new() }
}
