//! A covered name's length is nobody's business.

use stringline::source::covered::{COVER, COVER_NOTE, signed};

#[test]
fn a_long_name_reads_like_a_short_one() {
    let text = |n: usize, with: u8| format!("to {} and", char::from(with).to_string().repeat(n));
    assert_eq!(signed(&text(3, COVER)), "to ___ and");
    assert_eq!(signed(&text(12, COVER)), "to ___ and");
    assert_eq!(signed(&text(5, COVER_NOTE)), "to ... and");
}
