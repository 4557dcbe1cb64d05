//! A book without some of its dated lines. Lines that go are left empty, so that the others keep their numbers.

use super::Files;
use std::collections::BTreeSet;
use stringline::Compiled;
use stringline::book::entry::{EntryId, Head, SplitKey};
use stringline::history::order::Rank;
use stringline::history::parts::Sale;

/// The book without every dated line after that rank of its order.
pub fn after(compiled: &Compiled, files: &Files, rank: Rank) -> Files {
    let last = compiled.history.order.entries.get(rank).copied();
    let day = last.and_then(|entry| compiled.book.head(&compiled.book.entries[entry])).map(|head| head.date);
    without(compiled, files, &|entry, _| compiled.history.order.rank[entry] > rank, &|head| {
        day.is_some_and(|day| head.date > day)
    })
}

/// The book without every line about a sold car under a head `for` its new owner, but for bills that the line itself sends to
/// somebody else.
pub fn for_new_owner(compiled: &Compiled, files: &Files, sale: &Sale) -> Files {
    let his = |head: &Head| head.owner.is_some() && head.owner == sale.to && head.car == Some(sale.car);
    let goes = |entry: EntryId| {
        let extra = compiled.book.extra(&compiled.book.entries[entry]);
        let bill = extra.and_then(|extra| extra.costs.as_deref());
        let elsewhere = bill.is_some_and(|bill| bill.client.is_some() || bill.split.is_some());
        compiled.history.order.rank[entry] > sale.rank && !elsewhere
    };
    without(compiled, files, &|entry, head| his(head) && goes(entry), &his)
}

/// The book without the bills that are shared by what cars ran.
pub fn shared_by_running(compiled: &Compiled, files: &Files) -> Files {
    let by_running = |entry: EntryId| {
        let extra = compiled.book.extra(&compiled.book.entries[entry]);
        let split = extra.and_then(|extra| extra.costs.as_deref()?.split.as_ref());
        split.is_some_and(|split| !matches!(split.key, SplitKey::Equal | SplitKey::Parts(_)))
    };
    without(compiled, files, &|entry, _| by_running(entry), &|_| false)
}

fn without(
    compiled: &Compiled,
    files: &Files,
    goes: &dyn Fn(EntryId, &Head) -> bool,
    empty_head_goes: &dyn Fn(&Head) -> bool,
) -> Files {
    let mut gone: BTreeSet<(u32, u32)> = BTreeSet::new();
    let book = &compiled.book;
    for head in &book.heads {
        let entries = head.lines();
        let all: Vec<EntryId> = entries.clone().filter(|at| goes(*at, head)).collect();
        for at in &all {
            let span = book.entries[*at].span();
            gone.insert((span.file.0, compiled.files.line(span)));
        }
        let whole = if head.is_empty() { empty_head_goes(head) } else { all.len() == entries.len() };
        if whole {
            gone.insert((head.span.file.0, compiled.files.line(head.span)));
        }
    }
    files
        .iter()
        .map(|(path, text)| {
            let file = compiled.files.iter().find(|(_, file)| file.path == *path).map(|(id, _)| id.0);
            let lines = text.split('\n').enumerate().map(|(at, line)| {
                let here = file.map(|file| (file, at as u32 + 1));
                if here.is_some_and(|here| gone.contains(&here)) { "" } else { line }
            });
            (path.clone(), lines.collect::<Vec<_>>().join("\n"))
        })
        .collect()
}
