//! A book's pages as a browser has them while its ledgers are typed: what a request is for, the copy of a page that is handed out, and who waits for
//! its next state.
//!
//! A page is made when somebody looks at it, from the book as it stands then; nothing is written. Must not know sockets, the disk or the clock; nor what
//! stands on a page.

mod copy;
mod door;
mod stand;
mod strip;

pub use copy::Copy;
pub use door::{Ask, Door, Refused, Want};
pub use stand::{Board, Stand};

/// What a browser runs beside a copy: it waits for the next state of the page and lays it over the one that stands there.
pub const SCRIPT: &str = include_str!("follow.js");
/// How the strip and what has changed look.
pub const STYLE: &str = include_str!("follow.css");
/// The file name of the script, as a copy asks for it.
pub const SCRIPT_NAME: &str = "follow.js";
/// The file name of the style.
pub const STYLE_NAME: &str = "follow.css";
/// What a browser may do with a copy: run this one script and show this one style, and ask nobody else for anything.
pub const POLICY: &str = "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; connect-src 'self'; base-uri 'none'; \
                          form-action 'none'; frame-ancestors 'none'";
