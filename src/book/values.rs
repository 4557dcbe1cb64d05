//! Reading a quantity's values off a line: places, numbers, repeats, old and new, units.
//!
//! Knows the vocabulary. Must not know verbs beyond what [`Mode`] says, nor any state.

mod numbers;
mod places;
mod toe;
mod units;

use super::Book;
use super::entry::{Flags, Item};
use super::names::Names;
use super::place::Place;
use super::single::{number, tolerance};
use super::trouble::{Trouble, What};
pub use crate::book::context::Context;
pub use crate::book::ends::ends_values;
use crate::source::Span;
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, table};
use crate::vocabulary::{Form, Places, Quantity, QuantityId};

/// How a line states its values.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mode {
    /// Absolute, perhaps old -> new.
    Set,
    /// Signed changes.
    Adjust,
    /// Read off something.
    Reading,
}

#[derive(Debug, Clone, Copy, Default)]
struct Group {
    place: Option<(Place, Span)>,
    olds: (usize, usize),
    news: (usize, usize),
}

/// Reads values; keeps its buffers between lines.
#[derive(Debug, Default)]
pub struct ValueReader {
    raw: Vec<Item>,
    groups: Vec<Group>,
    places: Vec<&'static [Place]>,
    /// Whether its numbers are changes.
    changes: bool,
}

impl ValueReader {
    /// Reads values up to the first clause and appends one item per place (old ones before their new ones).
    ///
    /// # Errors
    /// The line's one mistake; nothing is appended then.
    pub fn read(
        &mut self,
        cur: &mut Cursor<'_>,
        book: &Book,
        id: QuantityId,
        mode: Mode,
        context: Context,
        out: &mut Vec<Item>,
    ) -> Result<(), Trouble> {
        let Book { vocabulary, names, .. } = book;
        let quantity = vocabulary.get(id);
        self.raw.clear();
        self.groups.clear();
        self.changes = mode == Mode::Adjust;
        if self.changes && quantity.form != Form::One {
            return Err(Trouble { span: cur.here(), what: What::ChangeOfPair(id) });
        }
        let share = self.collect(cur, names, (id, quantity), mode, context)?;
        self.finish_units(cur, id, quantity)?;
        self.finest_fraction(cur);
        if quantity.dimension == DimensionId::TOE {
            self.toe(mode, context, share, cur)?;
        }
        if self.raw.is_empty() {
            let place = self.groups.last().and_then(|group| group.place);
            let span = place.map_or_else(|| cur.here(), |(_, span)| span);
            return Err(Trouble { span, what: What::ValueMissing(id) });
        }
        let before = out.len();
        let done = self.expand(id, quantity, context, cur, out);
        if done.is_err() {
            out.truncate(before);
        }
        done
    }

    fn collect(
        &mut self,
        cur: &mut Cursor<'_>,
        names: &Names,
        (id, quantity): (QuantityId, &Quantity),
        mode: Mode,
        context: Context,
    ) -> Result<Option<bool>, Trouble> {
        let is_text = quantity.dimension.get().is_text();
        let is_fluid = quantity.dimension == DimensionId::FLUID;
        let mut group = Group::default();
        let mut open = false;
        let mut repeat = false;
        let mut share = None;
        let mut unit_from = 0;
        while let Some(word) = cur.peek() {
            let text = cur.str(word);
            match word.shape {
                Shape::Because => break,
                Shape::Word => {
                    // Of something said in words `on` can be the value: `set lamps on`.
                    let said_on = is_text && self.is_grade_next(&group) && text.eq_ignore_ascii_case("on");
                    if ends_values(text) && !said_on {
                        break;
                    }
                    if let Some(place) = names.place(text).filter(|_| takes_place(quantity, text)) {
                        if let Some(has) = context.beyond(place) {
                            return Err(Trouble { span: cur.span(word), what: What::PlaceBeyond(has) });
                        }
                        self.close(&mut group, &mut open);
                        group.place = Some((place, cur.span(word)));
                        open = true;
                        repeat = false;
                    } else if text.eq_ignore_ascii_case("each") || text.eq_ignore_ascii_case("total") {
                        share = Some(text.eq_ignore_ascii_case("each"));
                    } else if text.eq_ignore_ascii_case("off") && !is_text {
                        self.push(word, 0.0, 0.0, Flags::OFF, 0);
                        open = true;
                    } else if is_text || (is_fluid && self.is_grade_next(&group)) {
                        self.push(word, 0.0, 0.0, Flags::TEXT, 0);
                        open = true;
                    } else {
                        self.unit(cur, word, id, quantity, &mut unit_from)?;
                    }
                }
                Shape::Number | Shape::Ratio if is_text || (is_fluid && is_grade(cur)) => {
                    self.text_item(cur, word);
                    open = true;
                }
                Shape::Text | Shape::Code | Shape::Odd if is_text || is_fluid => {
                    self.push(word, 0.0, 0.0, Flags::TEXT, 0);
                    open = true;
                }
                Shape::Number => {
                    let number = number(cur, word)?;
                    if mode == Mode::Adjust && !number.signed && number.value != 0.0 {
                        return Err(Trouble { span: cur.span(word), what: What::ChangeUnsigned(id) });
                    }
                    if quantity.form != Form::One && quantity.dimension != DimensionId::RATIO {
                        let wanted = if quantity.form == Form::Pair { 2 } else { 3 };
                        return Err(Trouble { span: cur.span(word), what: What::NotAPair(id, wanted) });
                    }
                    let mut flags = if repeat { Flags::REPEAT } else { 0 };
                    if is_fluid {
                        flags |= Flags::PART;
                    }
                    self.push(word, number.value, number.half, flags, number.decimals);
                    open = true;
                    repeat = false;
                }
                Shape::Ratio => {
                    self.parts(cur, word, id, quantity, repeat)?;
                    open = true;
                    repeat = false;
                }
                Shape::Tolerance => {
                    let span = cur.span(word);
                    let stated = tolerance(cur, word)?;
                    let Some(item) = self.raw.last_mut() else {
                        return Err(Trouble { span, what: What::WordUnexpected { near: None } });
                    };
                    item.half = stated as f32;
                    item.flags |= Flags::STATED;
                }
                Shape::Dash => {
                    self.push(word, 0.0, 0.0, Flags::NOT_READ, 0);
                    open = true;
                }
                Shape::Unknown => {
                    self.push(word, 0.0, 0.0, Flags::UNKNOWN, 0);
                    open = true;
                }
                // A setting is one number: `1, 5 bar` is no repeat of it.
                Shape::Comma
                    if mode != Mode::Reading
                        && self.raw.len() == group.news.0 + 1
                        && is_between_numbers(cur) =>
                {
                    let ends = [cur.before(), cur.peek_at(1)]
                        .map(|word| word.map_or(cur.here(), |word| cur.span(word)));
                    let [first, last] = ends;
                    let what = What::Syntax(crate::syntax::Mistake::DecimalComma);
                    return Err(Trouble { span: first.to(last), what });
                }
                Shape::Comma => repeat = true,
                Shape::Arrow => {
                    let from = group.olds.0.max(group.news.0);
                    if mode != Mode::Set || from == self.raw.len() || group.olds.1 > group.olds.0 {
                        return Err(Trouble { span: cur.span(word), what: What::ArrowBad });
                    }
                    for item in self.raw.iter_mut().skip(from) {
                        item.flags |= Flags::OLD;
                    }
                    group.olds = (from, self.raw.len());
                    group.news.0 = self.raw.len();
                }
                Shape::Range
                | Shape::Date
                | Shape::Clock
                | Shape::Lap
                | Shape::Code
                | Shape::Odd
                | Shape::Text => {
                    return Err(Self::unexpected(cur, word));
                }
            }
            cur.bump();
        }
        self.close(&mut group, &mut open);
        Ok(share)
    }

    /// A fluid's first word in a group is its grade.
    fn is_grade_next(&self, group: &Group) -> bool {
        self.raw.len() == group.news.0
    }

    fn close(&mut self, group: &mut Group, open: &mut bool) {
        group.news.1 = self.raw.len();
        if *open {
            self.groups.push(*group);
        }
        let end = self.raw.len();
        *group = Group { place: None, olds: (end, end), news: (end, end) };
        *open = false;
    }
}

/// Whether a word that could be a place is one after this quantity: `c1` is a cylinder only where there are cylinders.
pub fn takes_place(quantity: &Quantity, text: &str) -> bool {
    match Place::parse(text) {
        Some(place) if place.cylinder_number().is_some() => quantity.places.has(Places::CYLINDER),
        Some(place) if place.gear_number().is_some() => quantity.places.has(Places::GEAR),
        _ => true,
    }
}

/// Whether the comma here stands between two numbers, and no other behind them.
fn is_between_numbers(cur: &Cursor<'_>) -> bool {
    let number = |word: Option<crate::syntax::Word>| word.is_some_and(|word| word.shape == Shape::Number);
    let more = cur.peek_at(2).is_some_and(|next| next.shape == Shape::Comma);
    number(cur.before()) && number(cur.peek_at(1)) && !more
}

/// A number that starts a fluid's grade: stuck to a word (`80W`) that is not a unit of volume.
fn is_grade(cur: &Cursor<'_>) -> bool {
    cur.is_stuck(1)
        && cur.peek_at(1).is_some_and(|next| {
            next.shape == Shape::Word && table().find_one(cur.str(next), DimensionId::VOLUME).is_none()
        })
}
