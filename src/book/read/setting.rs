//! Lines with a quantity: `set`, `adjust`, `found`, `left`, `read`, `fill`, `torque`, `recheck`, `bench`, and the rows under them.

use super::Reader;
use super::line::Reading;
use crate::book::clause::Clause;
use crate::book::clauses::part_here;
use crate::book::entry::{Flags, Item, PartFacts, Subject, Verb};
use crate::book::model::{CarId, PartId};
use crate::book::names::{folded, lowered, nearest};
use crate::book::normal::judged;
use crate::book::place::Place;
use crate::book::single::one;
use crate::book::touched::touched;
use crate::book::trouble::{Trouble, What};
use crate::book::values::{Context, Mode};
use crate::book::verbs::{RowVerb, SettingVerb};
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, UnitId};
use crate::vocabulary::QuantityId;

impl Reader<'_> {
    /// The quantity named here, and the direction spelt with it (`toe-in`, `toe-out`).
    pub(super) fn quantity(
        &self,
        cur: &mut Cursor<'_>,
        verb: &'static str,
    ) -> Result<(QuantityId, i8), Trouble> {
        let vocabulary = &self.book.vocabulary;
        let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else {
            return Err(Trouble { span: cur.here(), what: What::Incomplete { verb, wants: "a quantity" } });
        };
        let text = cur.str(word);
        let found = lowered(text, |name| vocabulary.find_spelt(name));
        cur.bump();
        found.ok_or_else(|| {
            let spelt = ["toe-in", "toe-out"].into_iter();
            // `tyre cold`: the name in two words.
            let next = cur.peek().filter(|next| next.shape == Shape::Word);
            let joined = next.map(|next| folded(&format!("{text}-{}", cur.str(next))));
            let near = joined.filter(|joined| vocabulary.find(joined).is_some()).or_else(|| {
                nearest(text, vocabulary.iter().map(|(_, quantity)| &*quantity.name).chain(spelt))
            });
            let what = if near.is_none() && self.book.names.find(text).is_some() {
                What::Incomplete { verb, wants: "a quantity first, then the place" }
            } else {
                What::QuantityUnknown { near }
            };
            Trouble { span: cur.span(word), what }
        })
    }

    /// The same of a line about the car. Where it has no such name, what the nearest one is at is not known from here on.
    fn quantity_of(
        &mut self,
        reading: &mut Reading<'_>,
        verb: &'static str,
    ) -> Result<(QuantityId, i8), Trouble> {
        let vocabulary = &self.book.vocabulary;
        let found = self.quantity(&mut reading.cur, verb);
        let id = match &found {
            Ok((id, _)) => {
                reading.entry.quantity = Some(*id);
                // Only clicks are counted from an end, and only toe is over a length.
                let dimension = vocabulary.get(*id).dimension;
                if dimension != DimensionId::CLICK {
                    reading.side.takes.remove(Clause::From);
                }
                if dimension != DimensionId::TOE {
                    reading.side.takes.remove(Clause::Over);
                }
                return found;
            }
            Err(Trouble { what: What::QuantityUnknown { near: Some(near) }, .. }) => {
                let stem = near.strip_suffix("-in").or_else(|| near.strip_suffix("-out")).unwrap_or(near);
                vocabulary.find(near).or_else(|| vocabulary.find(stem))
            }
            Err(_) => None,
        };
        // One that it names further on is sooner meant than one that is near.
        let mut ahead = reading.cur.clone();
        let named = self.quantity_ahead(&mut ahead);
        if named.is_some() {
            reading.cur = ahead;
        }
        let id = named.or(id);
        reading.entry.quantity = id;
        if let Some(id) = id {
            self.may_touch(&reading.cur, id);
        }
        found
    }

    /// The first word of a line, before its clauses, that names a quantity; moves behind it.
    pub(super) fn quantity_ahead(&self, cur: &mut Cursor<'_>) -> Option<QuantityId> {
        while let Some(word) = cur.peek() {
            cur.bump();
            if word.shape == Shape::Word
                && let Some(found) = lowered(cur.str(word), |name| self.book.vocabulary.find(name))
            {
                return Some(found);
            }
        }
        None
    }

    /// Of a line with a mistake: a value that is not known at each place that it can have been about.
    pub(super) fn may_touch(&mut self, cur: &Cursor<'_>, id: QuantityId) {
        let (_, context) = self.of_head();
        let quantity = self.book.vocabulary.get(id);
        self.out.items.as_vec().extend(touched(cur, &self.book.names, (id, quantity), context));
    }

    pub(super) fn setting(&mut self, reading: &mut Reading<'_>, verb: SettingVerb) -> Result<(), Trouble> {
        let (id, direction) = self.quantity_of(reading, Verb::from(verb).word())?;
        let cur = &mut reading.cur;
        if verb == SettingVerb::Recheck {
            if let Some(place) = cur.peek().and_then(|word| self.book.names.place(cur.str(word)))
                && !cur.peek_at(1).is_some_and(|word| word.shape == Shape::Number)
            {
                cur.bump();
                let facts = PartFacts { place: Some(place), ..PartFacts::default() };
                reading.extra.parts = Some(Box::new(facts));
            }
            if cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("ok"))
                || cur.is_done()
                || at_clause(cur)
            {
                return self.clauses(reading);
            }
        }
        if verb == SettingVerb::Fill && !self.book.vocabulary.get(id).is_filled() {
            let wants = "a fluid or fuel: what is filled in, and how much";
            let span = cur.before().map_or(cur.here(), |word| cur.span(word));
            return Err(Trouble { span, what: What::Incomplete { verb: "fill", wants } });
        }
        // A structured reading has its values on the lines under it.
        let structured = matches!(verb, SettingVerb::Found | SettingVerb::Left | SettingVerb::Read);
        if !(structured && (cur.is_done() || at_clause(cur))) {
            let (of_head, context) = self.context(cur, direction)?;
            let mode = match verb {
                SettingVerb::Set | SettingVerb::Fill => Mode::Set,
                SettingVerb::Adjust => Mode::Adjust,
                SettingVerb::Found
                | SettingVerb::Left
                | SettingVerb::Read
                | SettingVerb::Torque
                | SettingVerb::Recheck => Mode::Reading,
            };
            self.values_of(cur, id, (mode, of_head), context)?;
        }
        self.clauses(reading)
    }

    /// The values of a setting or a reading. Of a line with a mistake in them the places are kept that it can have been about.
    fn values_of(
        &mut self,
        cur: &mut Cursor<'_>,
        id: QuantityId,
        of: (Mode, Option<CarId>),
        context: Context,
    ) -> Result<(), Trouble> {
        let before = self.out.items.len();
        let book = self.book;
        let whole = cur.clone();
        let read = self.values.read(cur, book, id, of.0, context, self.out.items.as_vec());
        if read.is_err() {
            let quantity = book.vocabulary.get(id);
            self.out.items.as_vec().extend(touched(&whole, &book.names, (id, quantity), context));
        }
        read?;
        self.possible(id, of, before, cur)
    }

    /// `correct QUANTITY PLACE OLD -> NEW UNIT`: what a line should have said.
    pub(super) fn correct(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let (id, direction) = self.quantity_of(reading, "correct")?;
        let cur = &mut reading.cur;
        let (of_head, context) = self.context(cur, direction)?;
        let before = self.out.items.len();
        self.values_of(cur, id, (Mode::Set, of_head), context)?;
        let items = self.out.items.as_slice().get(before..).unwrap_or_default();
        let old = items.iter().filter(|item| item.is(Flags::OLD)).count();
        if old == 0
            || old * 2 != items.len()
            || items.iter().any(|item| item.is(Flags::UNKNOWN | Flags::NOT_READ))
        {
            let wants = "what was typed, `->`, and what it should have been";
            return Err(Trouble { span: cur.said(), what: What::Incomplete { verb: "correct", wants } });
        }
        self.clauses(reading)
    }

    /// The car of the head, and what it and the rest of the line say of the values.
    pub(super) fn context(
        &self,
        cur: &Cursor<'_>,
        direction: i8,
    ) -> Result<(Option<CarId>, Context), Trouble> {
        let (of_head, context) = self.of_head();
        let toe_over = over_on_line(cur)?.or(context.toe_over);
        Ok((of_head, Context { toe_over, direction, ..context }))
    }

    /// The car of the head, and what it says of the values.
    fn of_head(&self) -> (Option<CarId>, Context) {
        let of_head = self.out.heads.last().and_then(|head| head.car);
        let car = of_head.and_then(|car| self.book.cars.get(car));
        let context = Context {
            cylinders: car.and_then(|car| car.cylinders),
            gears: car.and_then(|car| car.gears),
            toe_over: car.and_then(|car| car.toe_over),
            direction: 0,
        };
        (of_head, context)
    }

    /// Refuses what cannot be, of the values from there on.
    fn possible(
        &self,
        id: QuantityId,
        of: (Mode, Option<CarId>),
        from: usize,
        cur: &Cursor<'_>,
    ) -> Result<(), Trouble> {
        self.possible_of(id, of, self.out.items.as_slice().get(from..).unwrap_or_default(), cur)
    }

    /// Refuses what cannot be: it is taken for a typing error, and what it touches is then unknown.
    pub(super) fn possible_of(
        &self,
        id: QuantityId,
        (mode, car): (Mode, Option<CarId>),
        all: &[Item],
        cur: &Cursor<'_>,
    ) -> Result<(), Trouble> {
        if mode == Mode::Adjust {
            return Ok(());
        }
        let quantity = self.book.vocabulary.get(id);
        let mut items = all.iter();
        if quantity.form == crate::vocabulary::Form::Pair
            && quantity.dimension == DimensionId::RATIO
            && let Some(none) = items.find(|item| item.has_value() && item.si == 0.0)
        {
            return Err(Trouble { span: none.span(cur.file), what: What::NoTeeth(id) });
        }
        for item in all {
            let Some(value) = judged(quantity, item) else { continue };
            let limits = self.book.normal(car, id, item.place).possible;
            if let Some(limits) = limits.filter(|limits| !limits.hold(value)) {
                let (place, unit) = (item.place, item.unit());
                let what = What::ValueImpossible { quantity: id, place, car, limits, unit };
                // Of teeth both are what cannot be.
                let next = all.iter().skip_while(|one| one.start != item.start).nth(1);
                let teeth =
                    next.filter(|next| quantity.dimension == DimensionId::RATIO && next.is(Flags::PART));
                let end =
                    teeth.map_or(item.start + u32::from(item.len), |next| next.start + u32::from(next.len));
                return Err(Trouble { span: item.span(cur.file).until(end), what });
            }
        }
        Ok(())
    }

    /// `bench PART QUANTITY [values]`.
    pub(super) fn bench(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let part = self.part_here(&mut reading.cur)?;
        reading.entry.subject = Subject::Part(part);
        let (id, direction) = self.quantity(&mut reading.cur, "bench")?;
        reading.entry.quantity = Some(id);
        if !reading.cur.is_done() && !at_clause(&reading.cur) {
            let cur = &mut reading.cur;
            let first = self.out.items.len();
            // A part on the bench has no place on a car: plain readings with commas between.
            if cur.peek().is_some_and(|word| word.shape == Shape::Number) {
                self.bench_values(cur, id)?;
            } else {
                let context = Context { direction, ..Context::default() };
                let book = self.book;
                self.values.read(cur, book, id, Mode::Reading, context, self.out.items.as_vec())?;
            }
            self.possible(id, (Mode::Reading, None), first, cur)?;
        }
        self.clauses(reading)
    }

    fn bench_values(&mut self, cur: &mut Cursor<'_>, id: QuantityId) -> Result<(), Trouble> {
        let dimension = self.book.vocabulary.get(id).dimension;
        let mut numbers = Vec::new();
        while let Some(word) = cur.take(Shape::Number) {
            let number = crate::book::single::number(cur, word)?;
            let stated = match cur.take(Shape::Tolerance) {
                Some(word) => Some(crate::book::single::tolerance(cur, word)?),
                None => None,
            };
            numbers.push((word, number, stated));
            if !cur.take_comma() {
                break;
            }
        }
        let unit = match cur.peek().filter(|word| word.shape == Shape::Word) {
            Some(word) => {
                let found = crate::book::single::unit_for(cur, word, dimension, Some(id))?;
                cur.bump();
                found
            }
            None if dimension.get().bare => crate::units::table().plain(),
            None => {
                let span = numbers.last().map_or(cur.here(), |(word, ..)| cur.span(*word));
                return Err(Trouble { span, what: What::UnitMissing(id) });
            }
        };
        for (index, (word, number, stated)) in numbers.into_iter().enumerate() {
            let half = stated.unwrap_or(number.half);
            let repeat = if index > 0 { Flags::REPEAT } else { 0 };
            self.out.items.push(Item {
                si: unit.get().to_si(number.value),
                half: unit.get().half_to_si(half, number.value) as f32,
                start: word.start,
                len: word.len,
                place: Place::CAR,
                unit: Some(unit),
                flags: repeat | if stated.is_some() { Flags::STATED } else { 0 },
                decimals: number.decimals,
            });
        }
        Ok(())
    }

    /// The part named here; moves past it.
    pub(super) fn part_here(&self, cur: &mut Cursor<'_>) -> Result<PartId, Trouble> {
        part_here(cur, &self.book.names)
    }

    /// `points 0 mm 60 N, 30 mm 2142 N`, `sweep RF 20 deg inner 1.5 outer -2.0`, `lift rear 254 mm front 310 kg radius 300 mm`.
    pub(super) fn row(&mut self, reading: &mut Reading<'_>, verb: RowVerb) -> Result<(), Trouble> {
        if self.under_broken_note(reading) {
            return Ok(());
        }
        let under =
            reading.entry.parent.and_then(|above| self.out.entries.get(above)).map(|above| above.verb);
        let right = match verb {
            RowVerb::Points => under == Some(Verb::Bench),
            RowVerb::Sweep | RowVerb::Lift => matches!(under, Some(Verb::Found | Verb::Left | Verb::Read)),
        };
        if !right || reading.entry.parent.is_none() {
            let under =
                if verb == RowVerb::Points { "`bench`" } else { "a reading without values of its own" };
            return Err(Trouble {
                span: reading.cur.said(),
                what: What::OutOfPlace { line: Verb::from(verb).word(), under },
            });
        }
        // A sweep under `sai` reads spindle pitch, under anything else camber.
        let sai = reading.entry.parent.and_then(|above| self.out.entries.get(above)?.quantity);
        let pitch = sai.is_some_and(|id| &*self.book.vocabulary.get(id).name == "sai");
        let ends =
            if pitch && verb == RowVerb::Sweep { ["pitch-in", "pitch-out"] } else { ["inner", "outer"] };
        let cur = &mut reading.cur;
        let mut place = Place::CAR;
        let mut angle_unit = None;
        while let Some(word) = cur.peek() {
            let text = cur.str(word);
            match word.shape {
                Shape::Comma => cur.bump(),
                Shape::Word if self.book.names.place(text).is_some() && verb != RowVerb::Points => {
                    place = self.book.names.place(text).unwrap_or(Place::CAR);
                    cur.bump();
                }
                Shape::Word if ends.iter().chain(&["radius"]).any(|key| text.eq_ignore_ascii_case(key)) => {
                    cur.bump();
                }
                Shape::Number => {
                    let mut item = match verb {
                        RowVerb::Sweep => {
                            let bare = !cur.peek_at(1).is_some_and(|next| {
                                next.shape == Shape::Word
                                    && crate::units::table()
                                        .find_one(cur.str(next), DimensionId::ANGLE)
                                        .is_some()
                            });
                            if let (true, Some(unit)) = (bare, angle_unit) {
                                cur.bump();
                                let number = crate::book::single::number(cur, word)?;
                                bare_angle(word, &number, unit)
                            } else {
                                let item = one(cur, DimensionId::ANGLE)?;
                                angle_unit = Some(item.unit());
                                item
                            }
                        }
                        RowVerb::Points | RowVerb::Lift => {
                            let mut done = self.out.items.iter_from(reading.items).map(|(_, item)| item);
                            let last = done.next_back().copied();
                            let odd = (self.out.items.len() - reading.items.index()) % 2 == 1;
                            let pair = last.filter(|_| odd && verb == RowVerb::Points);
                            Self::length_or_force(cur, verb == RowVerb::Points, pair)?
                        }
                    };
                    item.place = place;
                    self.out.items.push(item);
                }
                _ => break,
            }
        }
        let got = self.out.items.len() - reading.items.index();
        let enough = match verb {
            RowVerb::Points => got >= 4 && got.is_multiple_of(2),
            RowVerb::Sweep => got == 3,
            RowVerb::Lift => got >= 2,
        };
        if !enough {
            let wants = match verb {
                RowVerb::Points => "at least two pairs of travel and load, such as `0 mm 60 N, 30 mm 2142 N`",
                RowVerb::Sweep if pitch => {
                    "a corner, the steering angle, and spindle pitch as inner and as outer wheel (`pitch-in 3.9 pitch-out -4.4`)"
                }
                RowVerb::Sweep => "a corner, the steering angle, and camber as inner and as outer wheel",
                RowVerb::Lift => "which end, how high, and what the other end then weighs",
            };
            return Err(Trouble {
                span: reading.cur.said(),
                what: What::Incomplete { verb: Verb::from(verb).word(), wants },
            });
        }
        self.clauses(reading)
    }

    /// A travel or a load, by its unit; of a pair the second is what the first (`pair`) is not, and without a unit the first is the travel.
    fn length_or_force(cur: &mut Cursor<'_>, points: bool, pair: Option<Item>) -> Result<Item, Trouble> {
        let table = crate::units::table();
        let is = |dimension| {
            let unit = cur.peek_at(1).filter(|next| next.shape == Shape::Word);
            unit.is_some_and(|unit| table.find_one(cur.str(unit), dimension).is_some())
        };
        let length = |item: Item| item.unit().get().kind == DimensionId::LENGTH;
        let is_length = match pair {
            Some(first) => !length(first),
            None => is(DimensionId::LENGTH) || points && !is(DimensionId::FORCE),
        };
        one(cur, if is_length { DimensionId::LENGTH } else { DimensionId::FORCE })
    }
}

fn bare_angle(word: crate::syntax::Word, number: &crate::units::Number, unit: UnitId) -> Item {
    Item {
        si: unit.get().to_si(number.value),
        half: unit.get().half_to_si(number.half, number.value) as f32,
        start: word.start,
        len: word.len,
        place: Place::CAR,
        unit: Some(unit),
        flags: 0,
        decimals: number.decimals,
    }
}

fn at_clause(cur: &Cursor<'_>) -> bool {
    cur.peek().is_some_and(|word| {
        word.shape == Shape::Because
            || word.shape == Shape::Word && crate::book::values::ends_values(cur.str(word))
    })
}

/// The diameter of an `over` further on the line, metres. Its own mistake is the line's, not the toe's lack of it.
fn over_on_line(cur: &Cursor<'_>) -> Result<Option<f64>, Trouble> {
    let mut ahead = 0;
    while let Some(word) = cur.peek_at(ahead) {
        if word.shape == Shape::Word && cur.str(word).eq_ignore_ascii_case("over") {
            let mut there = cur.clone();
            for _ in 0..=ahead {
                there.bump();
            }
            let over = one(&mut there, DimensionId::LENGTH)?;
            return Ok(Some(over.si).filter(|over| *over > 0.0));
        }
        ahead += 1;
    }
    Ok(None)
}
