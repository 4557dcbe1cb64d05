//! Readings: every number that a line read, by itself.

use super::cell::Cell;
use super::schema::{Column, FILE, FactTable, Give, LINE, refers};
use super::sessions::conditions;
use super::shown::Shown;
use crate::book::entry::{Entry, EntryId, Flags, HeldAgainst, Item, Verb};
use crate::book::verbs::VerbGroup;
use crate::history::grain;
use crate::units::DimensionId;

/// Readings.
pub const TABLE: FactTable = FactTable {
    name: "readings",
    what: "A number that was read: of `found`, `left`, `read`, `torque` and `bench` lines and the rows under them. Repeats and the numbers \
           of a pair have a row each. A line with an error has none.",
    key: &[],
    columns: &[
        Column::text("car", "The car it was read on; empty on the bench"),
        Column::text("event", "The event of its block"),
        Column::whole("session", "The session it stands under or names"),
        Column::text("part", "The part it was read of, on the bench"),
        Column::date("date", "The day"),
        Column::text("verb", "`found`, `left`, `read`, `torque`, `bench`, `points`, `sweep` or `lift`")
            .needed(),
        Column::text("quantity", "What was read"),
        Column::text("place", "Where on the car; empty for the whole of it"),
        Column::whole("repeat", "Which reading of the same, from 1").needed(),
        Column::whole("number", "Which number of a pair or triple, from 1").needed(),
        Column::text("typed", "As typed, without the unit; `-` is not read and `off` is disconnected"),
        Column::text("unit", "The unit typed"),
        Column::real("value_si", "SI", "The number; toe is an angle, in positive"),
        Column::text("si_unit", "What the SI numbers of the row are counted in"),
        Column::real(
            "half_si",
            "SI",
            "By how much it may be off, either way: half a division of its gauge or half the last digit typed, or the ± stated",
        ),
        Column::real(
            "corrected_si",
            "SI",
            "The number as comparisons of its gauge with a reference put it right; empty where none leads to one",
        ),
        Column::real("correction_half_si", "SI", "By how much that correction may be off, either way"),
        Column::text("gauge", "The gauge after `by`"),
        Column::text("person", "The person after `by`"),
        Column::text("conditions", "What is said after `with`"),
        FILE,
        LINE,
    ],
    refers: &[
        refers(&["car"], "cars"),
        refers(&["event"], "events"),
        refers(&["session"], "sessions"),
        refers(&["part"], "parts"),
        refers(&["gauge"], "gauges"),
        refers(&["person"], "people"),
    ],
    rows,
};

/// Whether the line, or that of the reading it is a row of, reads.
fn reads(verb: Verb) -> bool {
    verb.is_reading() || matches!(verb.group(), VerbGroup::Bench | VerbGroup::Row(_))
}

fn rows(shown: &Shown<'_>, give: &mut Give<'_>) {
    for (id, entry) in shown.compiled.book.entries.iter_enumerated() {
        if reads(entry.verb) && !(entry.withheld || entry.broken || entry.void) {
            line(shown, id, entry, give);
        }
    }
}

fn line(shown: &Shown<'_>, id: EntryId, entry: &Entry, give: &mut Give<'_>) {
    let compiled = shown.compiled;
    let (book, files) = (&compiled.book, &compiled.files);
    let row = matches!(entry.verb.group(), VerbGroup::Row(_));
    // A row under a reading has that reading's gauge, part and quantity.
    let above = entry.parent.filter(|_| row).and_then(|above| book.entries.get(above));
    if above.is_some_and(|above| above.withheld || above.broken || above.void) {
        return;
    }
    let of = above.unwrap_or(entry);
    let head = book.head(entry);
    let part = of.part();
    let car = shown.car(head.and_then(|head| head.car).filter(|_| part.is_none()));
    let quantity = entry.quantity.or(of.quantity);
    let kind = quantity.map(|quantity| book.vocabulary.get(quantity).dimension);
    let said = conditions(shown, id);
    let [file, at] = shown.line(id);
    let (day, event) = (shown.day(id), shown.event(head.and_then(|head| head.event)));
    let session = shown.session_of(compiled.history.during(book, id));
    let (part, gauge, person) = (shown.part(part), shown.by_gauge(of.by), shown.by_person(of.by));
    let (mut repeat, mut number) = (0_u32, 0_u32);
    let items = book.items_of(entry);
    for (index, item) in items.iter().enumerate() {
        if item.is(Flags::OLD) {
            continue;
        }
        if item.is(Flags::PART) {
            number += 1;
        } else {
            number = 1;
            repeat = if item.is(Flags::REPEAT) { repeat + 1 } else { 1 };
        }
        let is_number = item.has_value();
        // Each row has its own number: of teeth those of the driven wheel.
        let teeth = items
            .get(index + 1)
            .filter(|next| kind == Some(DimensionId::RATIO) && next.is(Flags::PART) && !item.is(Flags::PART));
        let si = teeth.map_or(item.si, |driving| item.driven_teeth(driving));
        // What a row's numbers are their units say: travel beside force.
        let si_unit = match kind.filter(|_| !row) {
            _ if !is_number => Cell::Nothing,
            Some(kind) => shown.si(kind, item.unit),
            None => Cell::from(crate::units::si(item.unit().get().kind)),
        };
        let corrected = corrected(shown, id, item);
        give(&[
            car.clone(),
            event.clone(),
            session.clone(),
            part.clone(),
            day.clone(),
            Cell::from(entry.verb.word()),
            Cell::from(quantity.map(|quantity| &*book.vocabulary.get(quantity).name)),
            shown.place(item.place),
            Cell::from(repeat),
            Cell::from(number),
            shown.words(item.span(entry.file)),
            Cell::from(Some(item.unit().get().shown()).filter(|_| is_number)),
            Cell::from(Some(si).filter(|_| is_number)),
            si_unit,
            match (is_number, row) {
                (false, _) => Cell::Nothing,
                (true, true) => Cell::from(item.half),
                (true, false) => Cell::half(grain::half(book, files, entry, item)),
            },
            Cell::from(corrected.map(|(value, _)| value)),
            Cell::from(corrected.map(|(_, half)| half)),
            gauge.clone(),
            person.clone(),
            said.clone(),
            file.clone(),
            at.clone(),
        ]);
    }
}

/// A reading as its gauge's comparisons put it right, and by how much they may be off, where they lead to a reference.
fn corrected(shown: &Shown<'_>, id: EntryId, item: &Item) -> Option<(f64, f64)> {
    let facts = shown.compiled.facts();
    let (_, by) = facts.correction(id, item)?;
    if by.against != HeldAgainst::Reference {
        return None;
    }
    let scale = grain::si_per_metre(facts.files, facts.book.entries.get(id)?.file, item)?;
    Some((item.si - by.high * scale, by.half() * scale))
}
