//! The usual layout of one open text: what `stringline format` would write, as one edit.
//!
//! Must not know the layout.

use super::leaf::Leaf;
use crate::answer::layout;
use serde_json::{Value, json};

/// The edit, if any is needed; lines that are alike above and below are left out of it.
#[must_use]
pub fn edits(page: &Leaf<'_>) -> Value {
    let Some(laid) = layout::of_file(page.compiled, page.file) else { return json!([]) };
    let (old, new) = (page.source, laid.text.as_str());
    if old == new {
        return json!([]);
    }
    let above: usize = old
        .split_inclusive('\n')
        .zip(new.split_inclusive('\n'))
        .take_while(|(old, new)| old == new)
        .map(|(line, _)| line.len())
        .sum();
    let (old, new) = (old.get(above..).unwrap_or_default(), new.get(above..).unwrap_or_default());
    let lines = |text| str::split_inclusive(text, '\n').rev();
    let below: usize =
        lines(old).zip(lines(new)).take_while(|(old, new)| old == new).map(|(line, _)| line.len()).sum();
    let end = above + old.len() - below;
    let text = new.get(..new.len() - below).unwrap_or_default();
    json!([{ "range": page.text.range(above as u32, end as u32), "newText": text }])
}
