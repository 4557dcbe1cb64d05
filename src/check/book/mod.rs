//! Checks on the book's own means: named setups, pages that were handed out.

crate::check::family! {
    baseline_unresolved,
    line_twice,
    page_handed_twice,
    page_not_his,
    page_not_made,
    page_unknown,
    print_unreadable,
}
