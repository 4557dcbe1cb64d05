//! The book as it stood at an earlier moment: on a day that was asked for, or when a reader's last car was sold, since for him it ends there.
//!
//! The lines after that are taken out of the texts and the rest is compiled as if they had never been typed; so nothing of
//! them can reach him, by construction. Must not know what else a reader may read.

use crate::Compiled;
use crate::book::Book;
use crate::book::entry::{Entry, EntryId, Head};
use crate::book::model::{Baseline, CarId, ClientId};
use crate::history::moment;
use crate::history::order::Rank;
use crate::history::parts::Sale;
use crate::source::{FileId, Files, SourceFile, Span};
use jiff::civil::Date;

/// The sale after which a client has no car left; `None` while he has one, and where he never had any.
#[must_use]
pub(super) fn last_sale(compiled: &Compiled, client: ClientId) -> Option<Sale> {
    let (book, parts) = (&compiled.book, &compiled.history.parts);
    let owner = |car: CarId, rank: Rank| parts.owner(book, car, rank);
    let end = Rank::END;
    if book.cars.keys().any(|car| owner(car, end) == Some(client)) {
        return None;
    }
    let his = parts.sales.iter().filter(|sale| owner(sale.car, sale.rank) == Some(client));
    his.max_by_key(|sale| sale.rank).copied()
}

/// The book without its dated lines after a sale.
#[must_use]
pub(super) fn before(compiled: &Compiled, sale: Sale) -> Compiled {
    let texts = compiled
        .files
        .iter()
        .map(|(id, file)| SourceFile { text: before_sale(compiled, id, &file.text, sale), ..file.clone() });
    let files = Files::new(texts.collect());
    let then = crate::of_texts(files, Vec::new(), |_| compiled.today, compiled.commit.clone());
    Compiled { at: compiled.at, upto: compiled.upto, ..then }
}

/// The book as it stood at the end of a day, and that day for today: without the blocks of later days.
#[must_use]
pub fn as_of(compiled: Compiled, day: Date) -> Compiled {
    let late = |head: &&Head| head.date > day;
    if !compiled.book.heads.iter().any(|head| late(&head)) && day == compiled.today {
        return Compiled { at: Some(day), ..compiled };
    }
    let texts = compiled.files.iter().map(|(id, file)| {
        let mut bytes = file.text.as_bytes().to_vec();
        for head in compiled.book.heads.iter().filter(|head| head.span.file == id).filter(late) {
            blank(&mut bytes, block(&file.text, head.span.start as usize));
        }
        SourceFile { text: String::from_utf8(bytes).unwrap_or_default(), ..file.clone() }
    });
    let texts: Vec<SourceFile> = texts.collect();
    let made = |texts| crate::of_texts(Files::new(texts), Vec::new(), |_| day, compiled.commit.clone());
    let then = made(texts.clone());
    let to_come = to_come(&compiled, &then);
    let ids = compiled.files.iter().map(|(id, _)| id);
    let then = if to_come.is_empty() {
        then
    } else {
        made(ids.zip(texts).map(|(id, file)| without(id, file, &to_come)).collect())
    };
    Compiled { at: Some(day), ..then }
}

/// Where the baselines are declared whose moment was still to come: those of the whole book that have one in it and had none then.
fn to_come(whole: &Compiled, then: &Compiled) -> Vec<Span> {
    let resolves = |of: &Compiled, setup: &Baseline| {
        let typed = of.files.text(setup.moment);
        setup.car.is_some_and(|car| moment::parse(&of.book, &of.files, &of.history, car, typed).is_ok())
    };
    // Declarations are in both: no head is one.
    let both = whole.book.baselines.iter().zip(&then.book.baselines);
    let late = both.filter(|(setup, before)| resolves(whole, setup) && !resolves(then, before));
    late.map(|(setup, _)| setup.named.declared).collect()
}

/// A text with the blocks blanked that stand at some places.
fn without(id: FileId, file: SourceFile, places: &[Span]) -> SourceFile {
    let mut bytes = file.text.as_bytes().to_vec();
    for place in places.iter().filter(|place| place.file == id) {
        blank(&mut bytes, block(&file.text, place.start as usize));
    }
    SourceFile { text: String::from_utf8(bytes).unwrap_or_default(), ..file }
}

/// The book as it stood at a moment, everything of a rank below it having happened, and with one more text behind the others.
#[must_use]
pub fn until(compiled: &Compiled, rank: Rank, more: SourceFile) -> Compiled {
    let late = |at: Rank| at >= rank;
    let texts = compiled.files.iter();
    let mut texts: Vec<SourceFile> = texts
        .map(|(id, file)| SourceFile { text: cut(compiled, id, &file.text, late, None), ..file.clone() })
        .collect();
    texts.push(more);
    crate::of_texts(Files::new(texts), Vec::new(), |_| compiled.today, compiled.commit.clone())
}

/// A text with every dated line after the sale blanked.
fn before_sale(compiled: &Compiled, file: FileId, text: &str, sale: Sale) -> String {
    cut(compiled, file, text, |at| at > sale.rank, Some(sale.entry))
}

/// The lines of a block that are typed in it: those of an outfit that it fits stand where that is declared, and go with the line that fits it.
pub(super) fn typed(book: &Book, head: &Head) -> impl Iterator<Item = EntryId> + Clone {
    let fits_outfit = |above: EntryId| {
        let extra = book.entries.get(above).and_then(|above| book.extra(above));
        extra.and_then(|extra| extra.parts.as_ref()).is_some_and(|facts| facts.outfit.is_some())
    };
    let typed = move |line: &Entry| !line.parent.is_some_and(fits_outfit);
    head.lines().filter(move |index| book.entries.get(*index).is_some_and(typed))
}

/// A text with every dated line blanked that is too late, as its rank says; of blocks without a line, those after the sale, where there is one.
fn cut(
    compiled: &Compiled,
    file: FileId,
    text: &str,
    late: impl Fn(Rank) -> bool,
    line: Option<EntryId>,
) -> String {
    let book = &compiled.book;
    let late = |index: EntryId| compiled.history.order.rank.get(index).is_some_and(|rank| late(*rank));
    let (sold, sold_on) = match line.and_then(|line| book.entries.get(line)) {
        Some(line) => (Some((line.file, line.start)), book.head(line).map(|head| head.date)),
        None => (None, None),
    };
    let mut bytes = text.as_bytes().to_vec();
    for head in book.heads.iter().filter(|head| head.span.file == file) {
        let (start, end) = block(text, head.span.start as usize);
        let lines = typed(book, head);
        let kept = lines
            .clone()
            .filter(|index| !late(*index))
            .filter_map(|index| book.entries.get(index).map(|entry| line_of(text, entry).1));
        if let Some(last) = kept.max() {
            // What follows the last line that stays is after the sale too, whether it can be read or not.
            if lines.clone().any(late) {
                blank(&mut bytes, (last, end));
            }
            for entry in lines.filter(|index| late(*index)) {
                if let Some(entry) = book.entries.get(entry) {
                    blank(&mut bytes, line_of(text, entry));
                }
            }
        } else if head.end > head.first {
            blank(&mut bytes, (start, end));
        } else {
            let day_after = sold_on.is_some_and(|day| head.date > day);
            let below = sold_on == Some(head.date) && sold.is_some_and(|sold| sold < (file, head.span.start));
            if day_after || below {
                blank(&mut bytes, (start, end));
            }
        }
    }
    // Whole lines are blanked, so the rest is whole characters still.
    String::from_utf8(bytes).unwrap_or_default()
}

pub(super) fn blank(bytes: &mut [u8], (start, end): (usize, usize)) {
    for byte in bytes.get_mut(start..end).into_iter().flatten() {
        if !matches!(byte, b'\n' | b'\r') {
            *byte = b' ';
        }
    }
}

/// The line an entry stands on: its first byte, and one past its last.
pub(super) fn line_of(text: &str, entry: &Entry) -> (usize, usize) {
    let start = text.get(..entry.start as usize).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let rest = text.get(entry.start as usize..).unwrap_or_default();
    (start, entry.start as usize + rest.find('\n').unwrap_or(rest.len()))
}

/// A block: from its head to where the next line begins that stands at the margin and is no comment.
pub(super) fn block(text: &str, head: usize) -> (usize, usize) {
    let start = text.get(..head).and_then(|before| before.rfind('\n')).map_or(0, |at| at + 1);
    let mut end = head;
    for (at, line) in text.get(head..).unwrap_or_default().split_inclusive('\n').enumerate() {
        let margin = !line.starts_with([' ', '\t', '#', '\n', '\r']);
        if at > 0 && margin {
            break;
        }
        end += line.len();
    }
    (start, end)
}
