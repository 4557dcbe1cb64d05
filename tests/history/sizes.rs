//! The sizes that keep a book of a million lines within eight times its text; DEVELOPERS.md states them.

use std::mem::size_of;
use stringline::book::entry::{Entry, Item};
use stringline::history::slots::SlotEvent;
use stringline::syntax::Word;

#[test]
fn what_a_book_has_millions_of_is_small() {
    assert!(size_of::<Entry>() <= 56, "{}", size_of::<Entry>());
    assert_eq!(size_of::<Item>(), 24);
    assert_eq!(size_of::<SlotEvent>(), 16);
    assert_eq!(size_of::<Word>(), 8);
}
