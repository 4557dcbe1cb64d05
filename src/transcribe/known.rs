//! What of the lines the book has already: those are left out, and what the book says otherwise is left out and said.
//!
//! The lines are read as one more file of the book, so that both sides mean what the language makes of them. Must not know the
//! sheet.

use super::lines::{Block, Line};
use super::remark::Remark;
use crate::book::Book;
use crate::book::entry::{Entry, Item, Run, Verb};
use crate::book::model::CarId;
use crate::source::{FileId, Files};
use crate::vocabulary::QuantityId;
use crate::words::place;
use jiff::civil::Date;
use rustc_hash::FxHashMap;

/// What a line is about: the same of two lines means that they tell of the same thing.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
struct About {
    date: Date,
    car: Option<CarId>,
    verb: Verb,
    quantity: Option<QuantityId>,
    session: Option<String>,
    clock: Option<i16>,
}

/// What the book says of a line.
#[derive(Debug, Clone)]
enum Said {
    /// Nothing.
    New,
    /// The same; where.
    Same(String),
    /// Something else of the same thing; where, and the line.
    Otherwise(String, String),
}

/// Takes out of blocks what the book has. `book` has the lines as its file `printed`.
///
/// Gives the blocks that are left and how many lines were known.
#[must_use]
pub fn left(
    (blocks, places): (Vec<Block>, Vec<(u32, Vec<usize>)>),
    (book, files): (&Book, &Files),
    printed: FileId,
    remarks: &mut Vec<Remark>,
) -> (Vec<Block>, usize) {
    let said = said(book, files, printed);
    let number: FxHashMap<Vec<usize>, u32> = places.into_iter().map(|(line, at)| (at, line)).collect();
    let of = |at: &[usize]| number.get(at).and_then(|line| said.get(line)).unwrap_or(&Said::New);
    let mut known = 0;
    let mut kept = Vec::new();
    for (block_at, block) in blocks.into_iter().enumerate() {
        let mut lines = Vec::new();
        // The session that each line stands before, where the book has it: what is pasted comes behind it, and would be of another.
        let mut next: Vec<Option<String>> = Vec::new();
        for (line_at, line) in block.lines.iter().enumerate().rev() {
            let after = next.last().cloned().flatten();
            next.push(match of(&[block_at, line_at]) {
                Said::Same(at) | Said::Otherwise(at, _) if line.is_session => Some(at.clone()),
                Said::New if line.is_session => None,
                _ => after,
            });
        }
        next.reverse();
        for (line_at, mut line) in block.lines.into_iter().enumerate() {
            let mut under = Vec::new();
            let run = of(&[block_at, line_at]).clone();
            for (under_at, below) in std::mem::take(&mut line.under).into_iter().enumerate() {
                match (of(&[block_at, line_at, under_at]), &run) {
                    (Said::Same(_), _) => known += 1,
                    (Said::Otherwise(at, there), _) => remarks.push(otherwise(&below, at, there)),
                    (Said::New, Said::New) => under.push(below),
                    (Said::New, Said::Same(at) | Said::Otherwise(at, _)) => remarks.push(Remark {
                        line: below.from,
                        text: format!(
                            "the book has the session ({at}) without this; below its line goes `{}`",
                            below.text()
                        ),
                    }),
                }
            }
            line.under = under;
            match run {
                Said::Same(_) => known += 1,
                Said::Otherwise(at, there) => remarks.push(otherwise(&line, &at, &there)),
                Said::New => match next.get(line_at).and_then(Option::as_ref) {
                    Some(at) if !line.is_session && !line.values.is_empty() && !line.is_timed() => {
                        remarks.push(Remark {
                            line: line.from,
                            text: format!(
                                "the book has the session ({at}) without this; above its line goes `{}`",
                                line.text()
                            ),
                        });
                    }
                    _ => lines.push(line),
                },
            }
        }
        if !lines.is_empty() {
            kept.push(Block { head: block.head, lines });
        }
    }
    remarks.sort();
    (kept, known)
}

fn otherwise(line: &Line, at: &str, there: &str) -> Remark {
    Remark { line: line.from, text: format!("`{}` is left out: {at} says `{there}`", line.text()) }
}

/// By line of the printed file what the rest of the book says.
fn said(book: &Book, files: &Files, printed: FileId) -> FxHashMap<u32, Said> {
    let mut ours: Vec<(&Entry, About)> = Vec::new();
    let mut theirs: FxHashMap<About, Vec<&Entry>> = FxHashMap::default();
    let wanted: Vec<&Entry> = book.entries.iter().filter(|entry| entry.file == printed).collect();
    let days: rustc_hash::FxHashSet<(Date, Option<CarId>)> =
        wanted.iter().filter_map(|entry| day(book, entry)).collect();
    for entry in &book.entries {
        if !day(book, entry).is_some_and(|day| days.contains(&day)) {
            continue;
        }
        let Some(about) = about(book, files, entry) else { continue };
        if entry.file == printed {
            ours.push((entry, about));
        } else if !entry.withheld {
            theirs.entry(about).or_default().push(entry);
        }
    }
    let before = Before::of(book, files, &days);
    let one = |(entry, about): (&Entry, About)| {
        let line = files.line(entry.span());
        let found = theirs.get(&about).map_or(&[][..], Vec::as_slice);
        let found: Vec<&Entry> =
            found.iter().copied().filter(|other| before.may_be_one(entry, other)).collect();
        let found = found.as_slice();
        let same = found.iter().find(|other| same(book, files, entry, other));
        let at = |other: &Entry| place(files.path(other.file), files.line(other.span()));
        let said = match (same, found.first()) {
            (Some(other), _) => Said::Same(at(other)),
            // Notes and what two lines say together: the values one by one.
            (None, Some(_)) if entry.verb == Verb::Note => Said::New,
            (None, Some(other)) => {
                by_value(book, entry, found).filter(|_| entry.quantity.is_some()).map_or_else(
                    || Said::Otherwise(at(other), files.typed(other.span()).to_owned()),
                    |known| if known { Said::Same(at(other)) } else { Said::New },
                )
            }
            (None, None) => Said::New,
        };
        (line, said)
    };
    ours.into_iter().map(one).collect()
}

/// The session that each setting of some days stands before, by the file and the place of its line: what was set for one session was not
/// set for another, though it be the same value.
struct Before {
    next: FxHashMap<(FileId, u32), String>,
}

impl Before {
    fn of(book: &Book, files: &Files, days: &rustc_hash::FxHashSet<(Date, Option<CarId>)>) -> Self {
        let mut next = FxHashMap::default();
        let mut coming: FxHashMap<(FileId, (Date, Option<CarId>)), String> = FxHashMap::default();
        let entries: Vec<&Entry> = book.entries.iter().collect();
        for entry in entries.into_iter().rev() {
            let Some(day) = day(book, entry).filter(|day| days.contains(day)) else { continue };
            let run = Some(entry).filter(|entry| entry.verb == Verb::Run).and_then(Entry::run);
            if let Some(run) = run.and_then(|run| book.runs.get(run)) {
                coming.insert((entry.file, day), files.typed(run.label).to_lowercase());
            } else if matches!(entry.verb, Verb::Set | Verb::Adjust | Verb::Fill)
                && let Some(label) = coming.get(&(entry.file, day))
            {
                next.insert((entry.file, entry.start), label.clone());
            }
        }
        Self { next }
    }

    /// Whether two settings of a day may be one: not where each stands before another session.
    fn may_be_one(&self, entry: &Entry, other: &Entry) -> bool {
        let label = |entry: &Entry| self.next.get(&(entry.file, entry.start));
        let (Some(one), Some(two)) = (label(entry), label(other)) else { return true };
        one == two
    }
}

fn day(book: &Book, entry: &Entry) -> Option<(Date, Option<CarId>)> {
    let head = book.heads.get(entry.head).filter(|head| head.is_dated())?;
    Some((head.date, head.car))
}

fn about(book: &Book, files: &Files, entry: &Entry) -> Option<About> {
    let (date, car) = day(book, entry)?;
    let label = |run: &Run| files.typed(run.label).to_lowercase();
    let above = entry.parent.and_then(|above| book.entries.get(above)).and_then(Entry::run);
    let run = entry.run().or(above).and_then(|run| book.runs.get(run));
    let during = || {
        let extra = entry.extra.and_then(|extra| book.extras.get(extra))?;
        extra.during.or(extra.after).map(|label| files.typed(label).to_lowercase())
    };
    let session = run.map(label).or_else(during);
    let clock = Some(entry.clock.0).filter(|clock| session.is_none() && *clock >= 0);
    Some(About { date, car, verb: entry.verb, quantity: entry.quantity, session, clock })
}

fn alike(one: &Item, other: &Item) -> bool {
    let near = (one.si - other.si).abs() <= 1e-9 * one.si.abs().max(other.si.abs()).max(1e-6);
    one.flags == other.flags && near
}

/// Whether two lines about the same thing say the same.
fn same(book: &Book, files: &Files, entry: &Entry, other: &Entry) -> bool {
    if let [Some(one), Some(two)] = [entry, other].map(|entry| entry.run().and_then(|run| book.runs.get(run)))
    {
        let laps = entry.verb == Verb::Laps;
        return if laps {
            one.times == two.times
        } else {
            says_no_more(book, files, (entry, one), (other, two))
        };
    }
    if entry.verb == Verb::Note {
        return files.typed(entry.span()).trim() == files.typed(other.span()).trim();
    }
    by_value(book, entry, &[other]) == Some(true)
}

/// Whether the session's line says nothing that the other does not say as well.
fn says_no_more(
    book: &Book,
    files: &Files,
    (entry, one): (&Entry, &Run),
    (other, two): (&Entry, &Run),
) -> bool {
    let within = |typed: Option<f64>, known: Option<f64>| {
        typed.is_none_or(|typed| known.is_some_and(|known| (typed - known).abs() < 1e-6))
    };
    let listed =
        |run: &Run| run.laps.or_else(|| u32::try_from(run.times.len()).ok().filter(|laps| *laps > 0));
    let conditions = |entry: &Entry| -> Vec<String> {
        let extra = entry.extra.and_then(|extra| book.extras.get(extra));
        extra.map_or_else(Vec::new, |extra| {
            extra.conditions.iter().map(|one| squeezed(files.typed(one.said))).collect()
        })
    };
    let known = conditions(other);
    let clock = |typed: i16, known: i16| typed < 0 || typed == known;
    within(one.minutes, two.minutes)
        && within(one.best, two.best)
        && one.laps.is_none_or(|laps| listed(two) == Some(laps))
        && clock(entry.clock.0, other.clock.0)
        && clock(entry.clock.1, other.clock.1)
        && (entry.by == crate::book::entry::By::Nobody || entry.by == other.by)
        && conditions(entry).iter().all(|one| known.contains(one))
}

fn squeezed(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}

/// Whether some lines have every value of this one (`Some(true)`) or none of its places (`Some(false)`); `None` where one differs, or
/// some are there and some are not.
fn by_value(book: &Book, entry: &Entry, others: &[&Entry]) -> Option<bool> {
    let known: Vec<&Item> = others.iter().flat_map(|other| book.items_of(other)).collect();
    let ours = book.items_of(entry);
    let there = |item: &Item| known.iter().any(|other| other.place == item.place);
    if !ours.iter().any(there) {
        return Some(false);
    }
    ours.iter()
        .all(|item| known.iter().any(|other| other.place == item.place && alike(item, other)))
        .then_some(true)
}
