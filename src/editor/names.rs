//! Where a name is declared, where it stands, and giving it another one in all files.
//!
//! Must not know what a thing does. A new name is tried on the whole book first: it is refused, with a sentence, where anything else would
//! change.

use super::desk::Desk;
use super::leaf::{Leaf, Named};
use super::namesakes;
use crate::Compiled;
use crate::answer::layout;
use crate::book::names::{Thing, is_name, same};
use crate::source::{FileId, Span};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::path::Path;

/// Where the name at a byte is declared; null for what is built in or no name.
#[must_use]
pub fn definition(page: &Leaf<'_>, offset: usize) -> Value {
    let declared = page.name(offset).and_then(|(piece, named)| declared(page.compiled, piece.text, named));
    declared.and_then(|span| location(page, span)).unwrap_or(Value::Null)
}

/// The lines on which the name at a byte stands, in all files.
#[must_use]
pub fn references(page: &Leaf<'_>, offset: usize, with_declaration: bool) -> Value {
    let Some((piece, named)) = page.name(offset) else { return json!([]) };
    let home = declared(page.compiled, piece.text, named);
    let mut found = Vec::new();
    for (file, from, to) in everywhere(page.desk, page.compiled, piece.text) {
        let first = home.is_some_and(|span| span.file == file && span.start <= from && to <= span.end);
        if with_declaration || !first {
            found.extend(location(page, Span::new(file, from, to)));
        }
    }
    Value::Array(found)
}

/// The range of the name at a byte, where it can be given another one.
///
/// # Errors
/// Why it cannot, in a sentence.
pub fn prepare(page: &Leaf<'_>, offset: usize) -> Result<Value, String> {
    let Some((piece, named)) = page.name(offset) else {
        return Err("Here stands no name that the book declares.".to_owned());
    };
    may_change(piece.text, named)?;
    Ok(json!({ "range": page.text.range(piece.start, piece.end()), "placeholder": piece.text }))
}

/// The edits that give the name at a byte another one.
///
/// # Errors
/// Why it cannot have it, in a sentence.
pub fn rename(page: &Leaf<'_>, root: &Path, offset: usize, new: &str) -> Result<Value, String> {
    let Some((piece, named)) = page.name(offset) else {
        return Err("Here stands no name that the book declares.".to_owned());
    };
    may_change(piece.text, named)?;
    if !is_name(new) {
        return Err(format!("`{new}` cannot be a name: a name has letters and digits, with `-` and `.`."));
    }
    let book = &page.compiled.book;
    if let Some(sort) = namesakes::find(page.compiled, piece.text) {
        return Err(format!(
            "`{}` is {sort} too: which of the two a line means is not told apart, so it keeps its name.",
            piece.text
        ));
    }
    if !same(new, piece.text) {
        if let Some(other) = book.names.find(new) {
            return Err(format!("`{new}` is {} already.", crate::words::a(other.sort())));
        }
        if book.vocabulary.find(&crate::book::names::folded(new)).is_some() {
            return Err(format!("`{new}` is a quantity already."));
        }
        if let Some(sort) = namesakes::find(page.compiled, new) {
            return Err(format!("`{new}` is {sort} already."));
        }
    }
    let mut edits: BTreeMap<FileId, Vec<(u32, u32)>> = BTreeMap::new();
    for (file, from, to) in everywhere(page.desk, page.compiled, piece.text) {
        edits.entry(file).or_default().push((from, to));
    }
    if let Some(file) = edits.keys().find(|file| !layout::is_utf8(page.compiled, **file)) {
        let path = page.compiled.files.get(*file).map_or("a file", |file| file.path.as_str());
        return Err(format!("`{path}` is not all UTF-8, so nothing is written into it."));
    }
    tried(page, root, piece.text, new, &edits)?;
    let mut changes = serde_json::Map::new();
    for (file, places) in edits {
        let Some(path) = Desk::path_of(page.compiled, file) else { continue };
        let text = page.desk.text(page.compiled, file);
        let list: Vec<Value> = places
            .iter()
            .map(|(from, to)| json!({ "range": text.range(*from, *to), "newText": new }))
            .collect();
        changes.insert(page.desk.address_of(&path), Value::Array(list));
    }
    Ok(json!({ "changes": changes }))
}

fn may_change(word: &str, named: Named) -> Result<(), String> {
    match named {
        Named::Quantity(_) => {
            Err(format!("`{word}` is a quantity: formulas and rules know it by this name, so it keeps it."))
        }
        Named::Thing(Thing::Position(_)) => {
            Err(format!("`{word}` is a position, which is named where it is first used."))
        }
        Named::Thing(_) => Ok(()),
    }
}

/// Whether the book says the same under the new name: as many messages of each check, and the word stands for the same sort of thing.
fn tried(
    page: &Leaf<'_>,
    root: &Path,
    old: &str,
    new: &str,
    edits: &BTreeMap<FileId, Vec<(u32, u32)>>,
) -> Result<(), String> {
    let cannot = || format!("The book cannot be read with `{new}` in it.");
    let mut world = page.desk.world(root).ok_or_else(cannot)?;
    for (file, places) in edits {
        let (Some(path), Some(source)) =
            (Desk::path_of(page.compiled, *file), page.compiled.files.get(*file))
        else {
            return Err(cannot());
        };
        let mut text = source.text.clone();
        for (from, to) in places.iter().rev() {
            text.replace_range(*from as usize..*to as usize, new);
        }
        world.texts.insert(path, text);
    }
    let then = crate::compile(&world).map_err(|_| cannot())?;
    let sort = |compiled: &Compiled, word| compiled.book.names.find(word).map(Thing::sort);
    if sort(&then, new) != sort(page.compiled, old) {
        return Err(format!(
            "`{new}` cannot be the name: the line that declares `{old}` cannot be read with it."
        ));
    }
    let (was, is) = (counted(page.compiled), counted(&then));
    for check in was.keys().chain(is.keys()) {
        if was.get(check) != is.get(check) {
            return Err(format!(
                "With `{new}` for `{old}` the book would say something else: `{check}` tells of it."
            ));
        }
    }
    Ok(())
}

fn counted(compiled: &Compiled) -> BTreeMap<&'static str, u32> {
    let mut counts = BTreeMap::new();
    for one in &compiled.diagnostics {
        *counts.entry(one.check).or_insert(0) += one.times;
    }
    counts
}

fn declared(compiled: &Compiled, word: &str, named: Named) -> Option<Span> {
    match named {
        Named::Thing(_) => compiled.book.names.declared(word),
        Named::Quantity(id) => compiled.book.vocabulary.get(id).declared,
    }
}

/// Every place where a name stands: file, first byte, one past the last.
fn everywhere(desk: &Desk, compiled: &Compiled, name: &str) -> Vec<(FileId, u32, u32)> {
    let mut found = Vec::new();
    for (file, _) in compiled.files.iter() {
        if let Some(page) = Leaf::of(desk, compiled, file) {
            found.extend(page.places(name).map(|piece| (file, piece.start, piece.end())));
        }
    }
    found
}

fn location(page: &Leaf<'_>, span: Span) -> Option<Value> {
    let path = Desk::path_of(page.compiled, span.file)?;
    let text = page.desk.text(page.compiled, span.file);
    Some(json!({ "uri": page.desk.address_of(&path), "range": text.range(span.start, span.end) }))
}
