//! `outfit NAME CAR TEXT`: parts at places and settings that go on together, as the `fit` and `set` lines under it.
//!
//! Must not know what those lines say: they are read where they are used.

use super::{Declared, enter};
use crate::book::clauses::look_up;
use crate::book::model::{Outfit, OutfitId};
use crate::book::names::Thing;
use crate::book::trouble::What;
use crate::book::{Book, Named};
use crate::syntax::{Block, Chunk, Cursor, LineKind, Shape};
use std::sync::Arc;

pub(super) fn new_outfit(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Outfit(OutfitId::from(book.outfits.len()));
    enter(book, &named.name, thing, named.declared);
    book.outfits.push(Outfit { named, car: None, lines: Arc::default(), read: Arc::default() });
    thing
}

/// Its car, and its lines, kept as they stand.
pub(super) fn read_outfit(book: &mut Book, id: OutfitId, cur: &mut Cursor<'_>, one: &Declared<'_>) {
    let car = look_up(cur, &book.names, "car", |thing| match thing {
        Thing::Car(id) => Some(id),
        _ => None,
    });
    match car {
        Ok(car) => book.outfits[id].car = Some(car),
        Err(trouble) => book.troubles.push(trouble),
    }
    let chunk = one.chunk;
    let mut kept = Chunk { file: chunk.file, first_line: chunk.first_line, ..Chunk::default() };
    for line in one.lines {
        let bad = line.kind == LineKind::Bad;
        let words = if bad { chunk.salvaged_of(line) } else { chunk.words_of(line) };
        let verb =
            words.first().filter(|word| word.shape == Shape::Word).map_or("", |word| word.text(one.text));
        if line.kind == LineKind::Note {
            continue;
        }
        if !bad && !["fit", "set"].iter().any(|known| verb.eq_ignore_ascii_case(known)) {
            let cur = Cursor::new(chunk.file, one.text, words, (line.start, line.end));
            let wants = "lines that `fit` a part or `set` a quantity";
            book.trouble(cur.said(), What::PropertyValue { property: "outfit", wants });
            continue;
        }
        let mut own = *line;
        own.first_word = kept.words.len() as u32;
        own.parent = kept.lines.len() as u32;
        kept.words.extend_from_slice(words);
        kept.lines.push(own);
    }
    kept.blocks.push(Block { head: 0, end: kept.lines.len() as u32 });
    if kept.lines.is_empty() {
        let wants = "lines under it that `fit` a part or `set` a quantity";
        book.trouble(one.head().said(), What::PropertyValue { property: "outfit", wants });
    }
    book.outfits[id].lines = Arc::new(kept);
}
