//! Words that end a list of values.
//!
//! Must not know the values.

/// Words that end a list of values.
#[must_use]
pub fn ends_values(word: &str) -> bool {
    let clause = |keyword: &str| word.eq_ignore_ascii_case(keyword);
    match word.len() {
        2 => clause("by") || clause("at") || clause("to") || clause("on"),
        3 => clause("for"),
        4 => clause("with") || clause("over") || clause("from") || clause("into"),
        5 => clause("after"),
        6 => clause("during"),
        8 => clause("found-by"),
        _ => false,
    }
}
