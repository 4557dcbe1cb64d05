//! From text to a tree of lines and words, and back: the only place that knows pest.
//!
//! Parsing never fails: it returns a tree and [`Trouble`]s, at most one a line. Must not know units, names or
//! cars: a word has a lexical shape, and what it means is for the slot it fills (see `book`).

mod cursor;
mod fast;
mod figure;
pub mod formula;
mod kind;
mod layout;
mod mistake;
mod parse;
mod pieces;
mod salvage;
mod tree;

pub use cursor::{Cursor, unquote};
pub use layout::layout;
pub use mistake::{Mistake, Trouble, looks_like_a_date};
pub use parse::{MAX_LINE, parse, parse_lines_only};
#[doc(hidden)]
pub use parse::{lines_by_fast, parse_by_grammar, words_by_grammar};
pub use salvage::QUOTES;
pub use tree::{Block, Chunk, Line, LineKind, Shape, Tree, Word};
