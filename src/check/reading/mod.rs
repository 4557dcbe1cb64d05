//! Checks on files and lines that cannot be read.

crate::check::family! {
    book_empty,
    comma_glued,
    file_unreadable,
    folder_loop,
    head_unreadable,
    line_too_long,
    line_unreadable,
    not_utf8,
    orphan_line,
    quote_glued,
    quote_open,
}
