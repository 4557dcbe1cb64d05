//! `fit gravel`: the lines of an outfit, read where it is fitted, so that each is a line of that moment.
//!
//! Must not know what they say.

use super::{Part, Reader};
use crate::book::Book;
use crate::book::entry::{EntryId, Head};
use crate::book::model::{Outfit, OutfitId};
use crate::book::trouble::Trouble;
use crate::book::values::ValueReader;
use crate::source::Files;
use crate::syntax::Chunk;
use jiff::civil::Date;

impl Reader<'_> {
    /// Enters the lines of the outfit that a line fits, under it. Their mistakes are said where they are typed.
    pub(super) fn wear(&mut self, under: EntryId) {
        let entry = &self.out.entries[under];
        let Some(extra) = entry.extra.and_then(|extra| self.out.extras.get(extra)) else { return };
        let Some(id) = extra.parts.as_ref().and_then(|facts| facts.outfit) else { return };
        // What the line says of all of them: when, who may read it, on which job, who and why.
        let (broken, by) = (entry.broken, entry.by);
        let said = (extra.after, extra.during, extra.audience, extra.job, extra.because);
        let book = self.book;
        let Some(outfit) = book.outfits.get(id).filter(|_| !broken) else { return };
        let Some(text) = self.files.get(outfit.lines.file).map(|file| &*file.text) else { return };
        let before = self.out.troubles.len();
        let mut reader = Reader { chunk: &outfit.lines, text, lines: Vec::new(), ..self.again() };
        let made: Vec<EntryId> =
            outfit.lines.lines.iter().map(|line| reader.line(line, Some(under))).collect();
        for entry in made {
            let entry = &mut self.out.entries[entry];
            entry.by = by;
            let extra = match entry.extra {
                Some(extra) => extra,
                None => self.out.extras.push(crate::book::entry::Extra::default()),
            };
            entry.extra = Some(extra);
            let extra = &mut self.out.extras[extra];
            (extra.after, extra.during, extra.audience, extra.job, extra.because) = said;
            if let Some(facts) = &mut extra.parts {
                facts.instead = true;
            }
        }
        self.out.troubles.truncate(before);
    }

    fn again(&mut self) -> Reader<'_> {
        Reader {
            book: self.book,
            files: self.files,
            chunk: self.chunk,
            text: self.text,
            out: self.out,
            values: ValueReader::default(),
            lines: Vec::new(),
            orphans: false,
            headless: false,
            no_car: false,
        }
    }
}

/// The mistakes in the lines of an outfit, found once, whether it is ever fitted or not.
pub fn mistakes(book: &Book, files: &Files, id: OutfitId) -> Vec<Trouble> {
    let Some(outfit) = book.outfits.get(id) else { return Vec::new() };
    let Some(text) = files.get(outfit.lines.file).map(|file| &*file.text) else { return Vec::new() };
    let mut part = Part::default();
    part.heads.push(head_of(outfit));
    let mut reader = reader(book, files, &outfit.lines, text, &mut part);
    for line in &outfit.lines.lines {
        reader.line(line, None);
    }
    part.troubles
}

fn head_of(outfit: &Outfit) -> Head {
    Head {
        span: outfit.named.declared,
        date: Date::constant(2000, 1, 1),
        car: outfit.car,
        event: None,
        clock: None,
        offset: None,
        person: None,
        written: None,
        owner: None,
        // Which car it is for has its own message where it is not known.
        car_unknown: outfit.car.is_none(),
        first: EntryId::new(0),
        end: EntryId::new(0),
    }
}

fn reader<'a>(
    book: &'a Book,
    files: &'a Files,
    chunk: &'a Chunk,
    text: &'a str,
    out: &'a mut Part,
) -> Reader<'a> {
    Reader {
        book,
        files,
        chunk,
        text,
        out,
        values: ValueReader::default(),
        lines: Vec::new(),
        orphans: false,
        headless: false,
        no_car: false,
    }
}
