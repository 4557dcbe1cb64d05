//! `fit gravel`: the lines of an outfit, read where it is fitted, so that each is a line of that moment.
//!
//! Must not know what they say.

use super::{Part, Reader};
use crate::book::Book;
use crate::book::clause::Clause;
use crate::book::entry::{By, Entry, EntryId, Extra, Flags, Head, Item};
use crate::book::model::{Outfit, OutfitId, OutfitLines};
use crate::book::place::Place;
use crate::book::trouble::{Trouble, What};
use crate::book::values::ValueReader;
use crate::source::Files;
use crate::syntax::Chunk;
use jiff::civil::Date;

impl Reader<'_> {
    /// Enters the lines of the outfit that a line fits, under it.
    pub(super) fn wear(&mut self, under: EntryId) {
        let fits = self.out.entries[under];
        let Some(said) = fits.extra.and_then(|extra| self.out.extras.get(extra)) else { return };
        let facts = said.parts.as_ref();
        let named = facts.and_then(|facts| facts.outfit);
        let said = said.clone();
        if fits.broken {
            // Of a line whose part and place nobody can read, any outfit of the car may have been meant.
            let any = facts.is_some_and(|facts| facts.place.is_none()) && fits.part().is_none();
            let car = self.out.heads.last().and_then(|head| head.car);
            let may = |(id, outfit): &(OutfitId, &Outfit)| match named {
                Some(named) => named == *id,
                None => any && car.is_some() && outfit.car == car,
            };
            for (_, outfit) in self.book.outfits.iter_enumerated().filter(may) {
                self.put_on(under, outfit, &said);
            }
        } else if let Some(outfit) = named.and_then(|id| self.book.outfits.get(id)) {
            self.put_on(under, outfit, &said);
        }
    }

    /// Enters an outfit's lines under the one that fits it; as broken as it is.
    fn put_on(&mut self, under: EntryId, outfit: &Outfit, said: &Extra) {
        let fits = self.out.entries[under];
        let items = self.out.items.len();
        self.out.items.extend(outfit.read.items.iter().copied());
        for line in &outfit.read.entries {
            let own = line.extra.and_then(|extra| outfit.read.extras.get(extra));
            let mut extra = own.cloned().unwrap_or_default();
            let mut entry = Entry { head: fits.head, parent: Some(under), extra: None, ..*line };
            entry.items = entry.items.plus(items);
            entry.broken |= fits.broken;
            add(&mut entry, &mut extra, &fits, said);
            self.enter(entry, extra);
        }
    }
}

/// What the line that fits an outfit says of all its lines stands for each that does not say it itself: when, on which job, who and
/// why. Who may read a line is the narrower of both. What a bad clause would have said is unknown, and nothing takes its place.
fn add(entry: &mut Entry, extra: &mut Extra, fits: &Entry, said: &Extra) {
    let lacks = |extra: &Extra, clause| !extra.unclear.has(clause);
    let mut lost = Vec::new();
    let mut take = |clause: Clause, has: bool, extra: &mut Extra| {
        if has || !lacks(extra, clause) {
            return false;
        }
        if said.unclear.has(clause) {
            lost.push(clause);
        }
        true
    };
    if take(Clause::By, entry.by != By::Nobody, extra) {
        entry.by = fits.by;
    }
    if take(Clause::On, extra.job.is_some(), extra) {
        extra.job = said.job;
    }
    if take(Clause::Because, extra.because.is_some(), extra) {
        extra.because = said.because;
    }
    let timed = extra.during.is_some() || extra.after.is_some() || extra.unclear.has(Clause::During);
    if take(Clause::After, timed, extra) {
        (extra.during, extra.after) = (said.during, said.after);
    }
    for clause in lost {
        extra.unclear.add(clause);
    }
    extra.audience = [extra.audience, said.audience].into_iter().flatten().min();
    if let Some(facts) = &mut extra.parts {
        facts.instead = true;
    }
}

/// The lines of an outfit, and the mistakes in them, found once, whether it is ever fitted or not.
pub fn read_outfit(book: &Book, files: &Files, id: OutfitId) -> (OutfitLines, Vec<Trouble>) {
    let Some(outfit) = book.outfits.get(id) else { return Default::default() };
    let Some(file) = files.get(outfit.lines.file) else { return Default::default() };
    let mut part = Part::default();
    part.heads.push(head_of(outfit));
    let mut reader = reader(book, &outfit.lines, &file.text, &mut part);
    for line in &outfit.lines.lines {
        reader.line(line, None);
    }
    let Part { mut entries, items, extras, mut troubles, .. } = part;
    let entries = std::mem::take(entries.as_vec());
    let mut read = OutfitLines { entries, items, extras };
    for index in slips(book, &read) {
        let Some(entry) = read.entries.get_mut(index) else { continue };
        entry.broken = true;
        let wants = "a part and its place, or a setting, each once";
        troubles
            .push(Trouble { span: entry.span(), what: What::PropertyValue { property: "outfit", wants } });
    }
    (read, troubles)
}

/// The lines that fit an outfit inside this one, a part or into a place that another line did already, or set once more what is set.
fn slips(book: &Book, read: &OutfitLines) -> Vec<usize> {
    let mut slips = Vec::new();
    let mut before: Vec<&Entry> = Vec::new();
    for (index, entry) in read.entries.iter().enumerate().filter(|(_, entry)| !entry.broken) {
        let facts = facts(read, entry);
        if facts.is_some_and(|facts| facts.outfit.is_some())
            || before.iter().any(|other| same(book, read, other, entry))
        {
            slips.push(index);
        } else {
            before.push(entry);
        }
    }
    slips
}

fn facts<'a>(read: &'a OutfitLines, entry: &Entry) -> Option<&'a crate::book::entry::PartFacts> {
    read.extras.get(entry.extra?)?.parts.as_deref()
}

/// Whether two lines are about the same place of a kind, the same part, or the same setting.
fn same(book: &Book, read: &OutfitLines, one: &Entry, other: &Entry) -> bool {
    if let (Some(one_part), Some(other_part)) = (one.part(), other.part()) {
        let kind = |part| book.parts.get(part).and_then(|part: &crate::book::model::Part| part.kind);
        let place = |entry: &Entry| facts(read, entry).and_then(|facts| facts.place);
        return one_part == other_part
            || kind(one_part).is_some()
                && kind(one_part) == kind(other_part)
                && overlap(place(one), place(other));
    }
    let places = |entry: &Entry| {
        let items = read.items.within(entry.items..entry.items.plus(usize::from(entry.item_count)));
        let stated = |item: &&Item| !item.is(Flags::OLD | Flags::PART | Flags::REPEAT);
        items.iter().filter(stated).map(|item| item.place).collect::<Vec<Place>>()
    };
    one.quantity.is_some()
        && one.quantity == other.quantity
        && places(one).iter().any(|place| places(other).contains(place))
}

/// Whether two places have a corner in common; a line without one means the kind's only place.
fn overlap(one: Option<Place>, other: Option<Place>) -> bool {
    one == other
        || one
            .zip(other)
            .is_some_and(|(one, other)| one.corners().iter().any(|corner| other.corners().contains(corner)))
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
        event_unknown: false,
        first: EntryId::new(0),
        end: EntryId::new(0),
    }
}

fn reader<'a>(book: &'a Book, chunk: &'a Chunk, text: &'a str, out: &'a mut Part) -> Reader<'a> {
    Reader {
        book,
        chunk,
        text,
        out,
        values: ValueReader::default(),
        lines: Vec::new(),
        unread: Vec::new(),
        orphans: false,
        headless: false,
        no_car: false,
    }
}
