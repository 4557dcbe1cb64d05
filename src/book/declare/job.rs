//! The names of jobs: each is declared by the dated line that opens it, and known in the whole book, as other names are.
//!
//! Must not know what the line says beyond the name; `read` does.

use super::{line_text, named};
use crate::book::Book;
use crate::book::model::{Job, JobId};
use crate::book::names::Thing;
use crate::book::trouble::What;
use crate::source::Files;
use crate::syntax::{Chunk, Cursor, Line, LineKind, Shape};
use rayon::prelude::*;

/// The word that opens a job.
const WORD: &str = "job";

/// Enters every job of the book, in the order of the text. Declared names come first: a job cannot take one of theirs.
pub(super) fn register_all(book: &mut Book, files: &Files, chunks: &[Chunk]) {
    let found: Vec<Vec<(&Line, bool)>> = chunks
        .par_iter()
        .map(|chunk| {
            let text = files.get(chunk.file).map_or("", |file| &*file.text);
            chunk.lines.iter().filter_map(|line| Some((line, opens(chunk, line, text)?))).collect()
        })
        .collect();
    for (chunk, lines) in chunks.iter().zip(found) {
        let Some(file) = files.get(chunk.file) else { continue };
        for (line, sure) in lines {
            let mut cur = Cursor::new(chunk.file, &file.text, chunk.words_of(line), (line.start, line.end));
            if sure {
                register(book, &mut cur);
            } else {
                // The line has a message of its own; whoever names the job it should have opened needs none.
                book.names.refuse(line_text(&cur));
            }
        }
    }
}

/// Whether a line opens a job: `Some(false)` where it should have and cannot be read.
fn opens(chunk: &Chunk, line: &Line, text: &str) -> Option<bool> {
    if line.indent == 0 {
        return None;
    }
    if line.kind == LineKind::Bad {
        let typed = text.get(line.start as usize..line.end as usize)?.trim_start();
        let first = typed.split([' ', '\t']).find(|word| !word.starts_with(|c: char| c.is_ascii_digit()))?;
        return first.eq_ignore_ascii_case(WORD).then_some(false);
    }
    if line.kind != LineKind::Entry {
        return None;
    }
    let words = chunk.words_of(line);
    let word = words.iter().take(2).find(|word| word.shape != Shape::Clock)?;
    if word.shape != Shape::Word || !(2..=4).contains(&word.len) {
        return None;
    }
    let typed = word.text(text);
    if typed.eq_ignore_ascii_case(WORD) {
        return Some(true);
    }
    // `jobs`, `jbo`: no other verb is as near.
    let slip = typed.starts_with(['j', 'J']) && strsim::osa_distance(&typed.to_ascii_lowercase(), WORD) == 1;
    slip.then_some(false)
}

fn register(book: &mut Book, cur: &mut Cursor<'_>) {
    cur.take(Shape::Clock);
    cur.bump();
    let at = cur.here();
    let Some(named) = named(book, cur, WORD) else { return };
    // The word typed twice: the line has a message, and whoever names the job it should have opened needs none.
    if named.typed.eq_ignore_ascii_case(WORD) {
        book.names.refuse(line_text(cur));
    }
    match book.names.add(&named.name, Thing::Job(JobId::from(book.jobs.len())), at) {
        Ok(()) => {
            book.jobs.push(Job { named });
        }
        Err(first) => book.trouble(at, What::NameTwice(Some(first))),
    }
}
