//! Above each dated head: how many jobs of its car were still open at the end of that block.
//!
//! Must not know what a job is.

use super::leaf::Leaf;
use crate::answer::job;
use crate::words;
use serde_json::{Value, json};

/// The lenses of a file.
#[must_use]
pub fn all(page: &Leaf<'_>) -> Value {
    let (book, history) = (&page.compiled.book, &page.compiled.history);
    let heads = book.heads.iter().filter(|head| head.span.file == page.file);
    let one = |head: &crate::book::entry::Head| {
        let last = head.lines().last()?;
        let open = job::to_do(page.compiled, head.car?, history.rank(book, last).next()).len();
        (open > 0).then(|| {
            json!({
                "range": page.text.range(head.span.start, head.span.end),
                "command": { "title": words::count(open, "job open", "jobs open"), "command": "" },
            })
        })
    };
    heads.filter_map(one).collect()
}
