//! Above each dated head: how many jobs of its car were still open at the end of that block, and the pages that can be opened from there.
//!
//! Must not know what a job is.

use super::leaf::Leaf;
use super::pages;
use crate::answer::job;
use crate::words;
use serde_json::{Value, json};

/// The lenses of a file.
#[must_use]
pub fn all(page: &Leaf<'_>) -> Value {
    let (book, history) = (&page.compiled.book, &page.compiled.history);
    let heads = book.heads.iter().filter(|head| head.span.file == page.file);
    let one = |head: &crate::book::entry::Head| {
        let last = head.lines().filter_map(|line| history.order.rank.get(line)).max()?;
        let open = job::to_do(page.compiled, head.car?, last.next()).len();
        (open > 0).then(|| {
            json!({
                "range": page.text.range(head.span.start, head.span.end),
                "command": { "title": words::count(open, "job open", "jobs open"), "command": "" },
            })
        })
    };
    let pages = |head: &crate::book::entry::Head| {
        let range = page.text.range(head.span.start, head.span.end);
        let lens = move |command: Value| json!({ "range": range, "command": command });
        pages::of_head(page, head).into_iter().map(lens)
    };
    heads.flat_map(|head| one(head).into_iter().chain(pages(head))).collect()
}
