//! Pieces of what was typed as inputs of a chain: the numbers inside `205/55R16`, `41/11`, `72/80`, laps and minutes of a
//! session; and the lines a figure needs to find.
//!
//! Must not know any particular figure.

use super::calc::{Calc, Fig, Got, Missing, Node, Root, Status};
use crate::book::entry::{EntryId, Item, ItemId, Verb};
use crate::book::place::Place;
use crate::history::sessions::Session;
use crate::history::slots::{Register, SlotEvent};
use crate::source::{FileId, Span};
use crate::units::{DimensionId, UnitId, table};

/// A number that stands inside something typed.
pub(super) struct Piece {
    /// What it is.
    pub name: String,
    /// Where on the car.
    pub place: Place,
    /// SI.
    pub value: f64,
    /// Its kind.
    pub dimension: DimensionId,
    /// Unit it is shown in.
    pub unit: UnitId,
    /// Where it was typed.
    pub span: Span,
    /// The dated line; `None` for a car's declaration.
    pub entry: Option<EntryId>,
    /// Read or stated.
    pub status: Status,
}

impl Calc<'_> {
    /// Enters a piece as a root of the chain. It carries no uncertainty: teeth and codes are exact.
    pub(super) fn piece(&mut self, piece: Piece) -> Fig {
        let text = self.files.text(piece.span);
        let after = text.split_once('.').filter(|_| text.parse::<f64>().is_ok());
        let decimals = after.map_or(0, |(_, after)| after.len().min(6) as u8);
        let node = self.nodes.push(Node {
            name: piece.name,
            place: piece.place,
            value: piece.value,
            u: None,
            dimension: piece.dimension,
            status: piece.status,
            formula: None,
            inputs: Vec::new(),
            span: Some(piece.span),
            entry: piece.entry,
            unit: Some(piece.unit),
            decimals,
            sure: String::new(),
            source: "",
            stale: None,
        });
        let by = vec![(Root::Typed(piece.span), 1.0)];
        Fig { value: piece.value, status: piece.status, by, stale: None, node, back: None }
    }

    /// What is typed for a quantity at a place (the later of asked and read): its line, its first item, its words, and
    /// whether it was read. What is supposed was typed nowhere.
    pub(super) fn typed(&mut self, name: &str, place: Place) -> Got<Typed> {
        let id = self.quantity(name)?;
        if self.instead(id, place).is_some() {
            return Err(Missing::one(format!(
                "every number typed of {} (what is supposed of it is one)",
                self.slot_name(id, place)
            )));
        }
        self.typed_in_book(name, place)
    }

    /// The same, whatever is supposed in its place: its line says when it was, by which gauge and how.
    pub(super) fn typed_in_book(&mut self, name: &str, place: Place) -> Got<Typed> {
        let id = self.quantity(name)?;
        let what = self.slot_name(id, place);
        let missing = || Missing::one(format!("a value of {what}"));
        let slot = self.state(id, place).ok_or_else(missing)?;
        let event = slot.held.is(self.history).ok_or_else(missing)?;
        let item = *self.history.item(self.book, slot.track, &event).ok_or_else(missing)?;
        let entry = event.entry;
        let file = match entry {
            Some(entry) => self.book.entries[entry].file,
            None => self.declared().ok_or_else(missing)?.named.declared.file,
        };
        let status = if event.register() == Register::Read { Status::Measured } else { Status::Stated };
        Ok(Typed { name: what, place, item, entry, file, status, at: event.item() })
    }

    /// The further numbers of a pair or triple typed at an item of a line.
    pub(super) fn parts_of(&self, typed: &Typed, name: &str) -> Vec<Item> {
        if typed.entry.is_some() {
            return self.book.further(typed.at).copied().collect();
        }
        let of_car = self.book.vocabulary.find(name).zip(self.declared());
        let items = of_car.into_iter().flat_map(|(id, car)| car.opening_of(id).skip(typed.at.index() + 1));
        items.take_while(|item| item.is_further()).copied().collect()
    }

    /// The readings of a slot up to the moment, oldest first, each with its line: those since the last line of which nobody knows to what it
    /// set it. One that only read it, and cannot be read, is missing and no more.
    pub(super) fn readings(&self, name: &str, place: Place) -> Got<Vec<(EntryId, SlotEvent)>> {
        let id = self.quantity(name)?;
        let Some(slot) = self.state(id, place) else {
            return Err(Missing::one(format!("a reading of {}", self.slot_name(id, place))));
        };
        let before =
            |event: &&SlotEvent| event.rank(&self.history.order).is_some_and(|rank| rank < self.rank);
        let all = &slot.track.events;
        let reads = |event: &SlotEvent| {
            let verb = event.line(self.book).map(|line| line.verb);
            verb.is_some_and(|verb| matches!(verb, Verb::Read | Verb::Found))
        };
        let lost = |event: &SlotEvent| event.register() == Register::Unknown && !reads(event);
        let known = all.iter().rposition(|event| lost(event) && before(&event)).map_or(0, |at| at + 1);
        let read = all.iter().skip(known).filter(|event| event.register() == Register::Read);
        Ok(read.filter(before).filter_map(|event| Some((event.entry?, *event))).collect())
    }

    /// What was read at a place during a session (its `run` line), and on which line.
    pub(super) fn reading_during(&mut self, name: &str, place: Place, run: EntryId) -> Got<(Fig, EntryId)> {
        let id = self.quantity(name)?;
        // A moment "during" a session has not seen its last lines yet, so the whole track is looked through.
        let found = self.state(id, place).and_then(|slot| {
            let read = slot.track.events.iter().rev().filter(|event| event.register() == Register::Read);
            read.filter_map(|event| event.entry)
                .find(|entry| self.history.during(self.book, *entry) == Some(run))
        });
        let Some(entry) = found else {
            let label = self.session_of(run).map_or("the session", |session| self.files.text(session.label));
            return Err(Missing::one(format!("a reading of {} during {label}", self.slot_name(id, place))));
        };
        let now = self.rank;
        self.rank = self.history.order.rank[entry].next();
        let reading = self.reading_in_book(name, place);
        self.rank = now;
        Ok((reading?, entry))
    }

    /// The session of the moment, or the last before it.
    ///
    /// # Errors
    /// When none ran by then.
    pub fn session_now(&self) -> Got<&Session> {
        match self.session {
            Some(entry) => self.session_of(entry),
            None => self.session_before(self.rank).ok_or_else(|| Missing::one("a session (`run`)")),
        }
    }

    /// Whether a line is of the session of the moment: it stands under it, or names it, or no session came between.
    pub(super) fn is_of_session_now(&self, line: EntryId) -> bool {
        let Ok(now) = self.session_now() else { return true };
        let rank = self.history.order.rank.get(line).copied();
        self.history.during(self.book, line).map_or_else(
            || {
                let before = rank.and_then(|rank| self.session_before(rank));
                before.is_some_and(|last| last.entry == now.entry)
            },
            |run| run == now.entry,
        )
    }

    /// A session's laps, as an input.
    pub(super) fn laps_of(&mut self, entry: EntryId) -> Got {
        let session = self.session_of(entry)?;
        let label = self.label_of(session);
        let Some(laps) = session.laps.filter(|laps| *laps > 0) else {
            return Err(Missing::one(format!("laps of the session {label}, above zero")));
        };
        let unit = table().find_one("laps", DimensionId::LAPS).unwrap_or_else(|| table().plain());
        let name = format!("laps of {label}");
        Ok(self.of_session(entry, name, f64::from(laps), DimensionId::LAPS, unit))
    }

    /// A session's running time, as an input.
    pub(super) fn running_of(&mut self, entry: EntryId) -> Got {
        let session = self.session_of(entry)?;
        let label = self.label_of(session);
        let Some(minutes) = session.minutes else {
            return Err(Missing::one(format!("minutes of the session {label}")));
        };
        let unit = table().find_one("min", DimensionId::TIME).unwrap_or_else(|| table().plain());
        let name = format!("running in {label}");
        Ok(self.of_session(entry, name, minutes * 60.0, DimensionId::TIME, unit))
    }

    /// So many minutes of a session, as an input.
    pub(super) fn minutes_in(&mut self, entry: EntryId, minutes: f64) -> Got {
        let name = format!("running in {}", self.label_of(self.session_of(entry)?));
        let unit = table().find_one("min", DimensionId::TIME).unwrap_or_else(|| table().plain());
        Ok(self.of_session(entry, name, minutes * 60.0, DimensionId::TIME, unit))
    }

    /// "quern-1/s1", or "s1" outside events.
    fn label_of(&self, session: &Session) -> String {
        let label = self.files.text(session.label);
        let event = session.event.and_then(|event| self.book.events.get(event));
        event.map_or_else(|| label.to_owned(), |event| format!("{}/{label}", event.named.typed))
    }

    fn of_session(
        &mut self,
        entry: EntryId,
        name: String,
        value: f64,
        dimension: DimensionId,
        unit: UnitId,
    ) -> Fig {
        let span = self.book.entries[entry].span();
        let entry = Some(entry);
        let status = Status::Stated;
        self.piece(Piece { name, place: Place::CAR, value, dimension, unit, span, entry, status })
    }

    /// Holds an input to being above zero.
    pub(super) fn positive(&self, fig: Fig) -> Got {
        if fig.value > 0.0 { Ok(fig) } else { Err(self.refused(&fig, "above zero")) }
    }

    /// Holds an input to lying from `low` to `high`, in SI; `words` says it: "from 0 to 100 %".
    pub(super) fn within(&self, fig: Fig, low: f64, high: f64, words: &str) -> Got {
        if fig.value >= low && fig.value <= high { Ok(fig) } else { Err(self.refused(&fig, words)) }
    }

    fn refused(&self, fig: &Fig, words: &str) -> Missing {
        let name = self.nodes.get(fig.node).map_or("a value", |node| node.name.as_str());
        Missing::one(format!("{name} {words}"))
    }

    /// A value that must be above zero.
    pub(super) fn above_zero(&mut self, name: &str, place: Place) -> Got {
        let fig = self.value(name, place)?;
        self.positive(fig)
    }

    /// Whether the car shows inches and psi.
    pub(crate) fn imperial(&self) -> bool {
        self.declared().is_some_and(|car| car.imperial)
    }
}

/// What is typed for a quantity at a place.
pub(super) struct Typed {
    /// "tyre-size LF".
    pub name: String,
    /// The place.
    pub place: Place,
    /// The item.
    pub item: Item,
    /// Its line; `None` for the car's declaration.
    pub entry: Option<EntryId>,
    /// Its file.
    pub file: FileId,
    /// Read or stated.
    pub status: Status,
    /// Its number in the book's items (or among the declaration's).
    pub at: ItemId,
}

impl Typed {
    /// A number inside it: `length` bytes from `start` of what was typed.
    pub(super) fn piece(
        &self,
        name: String,
        value: f64,
        (dimension, unit): (DimensionId, UnitId),
        (start, length): (usize, usize),
    ) -> Piece {
        let start = self.item.start + start as u32;
        let span = Span::new(self.file, start, start + length as u32);
        Piece {
            name,
            place: self.place,
            value,
            dimension,
            unit,
            span,
            entry: self.entry,
            status: self.status,
        }
    }
}

/// Gathers inputs, so that everything missing is named at once.
#[derive(Default)]
pub(super) struct Needs(Vec<String>);

impl Needs {
    /// Takes an input, or notes what it needs.
    pub(super) fn take<T>(&mut self, got: Got<T>) -> Option<T> {
        match got {
            Ok(value) => Some(value),
            Err(missing) => {
                for need in missing.needs {
                    if !self.0.contains(&need) {
                        self.0.push(need);
                    }
                }
                None
            }
        }
    }

    /// What was noted.
    pub(super) fn missing(self) -> Missing {
        Missing { needs: self.0 }
    }
}

/// All of several inputs, or everything that is missing for them.
pub(super) fn all<const N: usize>(inputs: [Got; N]) -> Got<[Fig; N]> {
    let mut needs = Needs::default();
    let figs: Vec<Fig> = inputs.into_iter().filter_map(|input| needs.take(input)).collect();
    figs.try_into().map_err(|_| needs.missing())
}
