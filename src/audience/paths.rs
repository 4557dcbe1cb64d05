//! The paths that a reader's line references name.
//!
//! A ledger keeps its path only where every dated block in it is about a car that was the reader's then, and no part of the path
//! names somebody he may not know. Every other file has a number: of those that show him anything, in order; and so have its
//! lines. Must not know texts.

use super::mask::Mask;
use super::scope::Scope;
use crate::Compiled;
use crate::book::entry::EntryId;
use crate::source::FileId;
use std::collections::BTreeSet;

/// The path of each file and whether it is its own; `shown` says which show him anything.
pub(super) fn paths(
    compiled: &Compiled,
    scope: &Scope<'_>,
    mask: &Mask,
    shown: &[bool],
) -> Vec<(String, bool)> {
    let his = his(compiled, scope);
    let kept: Vec<Option<&str>> = (0..compiled.files.len())
        .map(|index| {
            let path = compiled.files.path(FileId(index as u32));
            (his.get(index).copied().unwrap_or(false) && !mask.names_in_path(path)).then_some(path)
        })
        .collect();
    let taken: BTreeSet<String> = kept.iter().flatten().map(|path| path.to_lowercase()).collect();
    let mut number = 0;
    let mut next = || loop {
        number += 1;
        let path = format!("book-{number}.sline");
        if !taken.contains(&path) {
            return path;
        }
    };
    let number = |(path, shown): (Option<&str>, &bool)| match path {
        Some(path) => (path.to_owned(), true),
        None if *shown => (next(), false),
        None => ("book.sline".to_owned(), false),
    };
    kept.into_iter().zip(shown).map(number).collect()
}

/// By file, whether there are dated blocks in it and each is about a car that was his then.
fn his(compiled: &Compiled, scope: &Scope<'_>) -> Vec<bool> {
    let mut his = vec![None; compiled.files.len()];
    let rank = |entry: EntryId| compiled.history.order.rank.get(entry).copied();
    for head in &compiled.book.heads {
        let Some(file) = his.get_mut(head.span.file.0 as usize) else { continue };
        let then = |car| {
            if head.first >= head.end {
                return scope.always_owns(car);
            }
            head.lines().filter_map(rank).all(|rank| scope.owns(car, rank))
        };
        let own = head.car.is_some_and(then);
        *file = Some(file.unwrap_or(true) && own);
    }
    his.into_iter().map(|own| own == Some(true)).collect()
}
