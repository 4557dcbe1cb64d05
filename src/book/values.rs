//! Reading a quantity's values off a line: places, numbers, repeats, old and new, units.
//!
//! Knows the vocabulary. Must not know verbs beyond what [`Mode`] says, nor any state.

use super::Book;
use super::entry::{Flags, Item};
use super::names::Names;
use super::place::Place;
use super::single::{convert, number, of_number, tolerance};
use super::spread::{count, lay, spread};
use super::trouble::{Trouble, What};
pub use crate::book::context::Context;
pub use crate::book::ends::ends_values;
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, Found, Number, NumberTrouble, table};
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
        let share = self.collect(cur, names, id, quantity, mode)?;
        self.finish_units(cur, id, quantity)?;
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
        id: QuantityId,
        quantity: &Quantity,
        mode: Mode,
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
                    if quantity.form != Form::One
                        && quantity.dimension != DimensionId::RATIO
                        && mode != Mode::Adjust
                    {
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
                Shape::Comma => repeat = true,
                Shape::Arrow => {
                    let from = group.olds.0.max(group.news.0);
                    if mode != Mode::Set || from == self.raw.len() || group.olds.1 > group.olds.0 {
                        return Err(Trouble { span: cur.span(word), what: What::ArrowBad });
                    }
                    for item in &mut self.raw[from..] {
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

    fn push(&mut self, word: Word, si: f64, half: f64, flags: u8, decimals: u8) {
        self.raw.push(Item {
            si,
            half: half as f32,
            start: word.start,
            len: word.len,
            place: Place::CAR,
            unit: None,
            flags,
            decimals,
        });
    }

    /// A text value: a code such as `80W` may have been read as a number with a word stuck to it.
    fn text_item(&mut self, cur: &mut Cursor<'_>, word: Word) {
        let mut whole = word;
        while cur.is_stuck(1) && cur.peek_at(1).is_some_and(|next| next.shape != Shape::Comma) {
            cur.bump();
            if let Some(next) = cur.peek() {
                whole.len = (next.end() - whole.start) as u16;
            }
        }
        self.push(whole, 0.0, 0.0, Flags::TEXT, 0);
    }

    fn parts(
        &mut self,
        cur: &Cursor<'_>,
        word: Word,
        id: QuantityId,
        quantity: &Quantity,
        repeat: bool,
    ) -> Result<(), Trouble> {
        let span = cur.span(word);
        let text = cur.str(word);
        let wanted = match quantity.form {
            Form::Pair => 2,
            Form::Triple => 3,
            Form::One => 1,
        };
        let parts = Number::parse_parts(text).map_err(|trouble| of_number(span, &trouble))?;
        if quantity.form == Form::One && quantity.over_supply && parts.len() == 2 && parts[1].value > 0.0 {
            let leak = 1.0 - parts[0].value / parts[1].value;
            let half = (parts[0].half + parts[1].half) / parts[1].value;
            self.push(word, leak, half, if repeat { Flags::REPEAT } else { 0 }, 4);
            if let Some(item) = self.raw.last_mut() {
                item.unit = Some(table().plain());
            }
            return Ok(());
        }
        if parts.len() != wanted {
            return Err(match Number::parse(text) {
                Err(
                    trouble @ (NumberTrouble::FractionImproper { .. }
                    | NumberTrouble::FractionOffRuler { .. }),
                ) if wanted == 1 => of_number(span, &trouble),
                _ if wanted == 1 => Trouble { span, what: What::NotOneNumber(id) },
                _ => Trouble { span, what: What::NotAPair(id, wanted as u8) },
            });
        }
        let mut start = word.start;
        for (index, (part, typed)) in parts.iter().zip(text.split('/')).enumerate() {
            let flags = if index > 0 { Flags::PART } else { 0 } | if repeat { Flags::REPEAT } else { 0 };
            let piece = Word { start, len: typed.len() as u16, shape: Shape::Number };
            self.push(piece, part.value, part.half, flags, part.decimals);
            start += typed.len() as u32 + 1;
        }
        Ok(())
    }

    fn unit(
        &mut self,
        cur: &Cursor<'_>,
        word: Word,
        id: QuantityId,
        quantity: &Quantity,
        unit_from: &mut usize,
    ) -> Result<(), Trouble> {
        let span = cur.span(word);
        let text = cur.str(word);
        let found = match table().find(text, quantity.dimension) {
            Found::One(unit) => unit,
            Found::Ambiguous(units) => return Err(Trouble { span, what: What::UnitAmbiguous(units) }),
            Found::WrongKind(units) => {
                if quantity.over_supply && table().find_one(text, DimensionId::PRESSURE).is_some() {
                    *unit_from = self.raw.len();
                    return Ok(());
                }
                let is = units.first().copied().unwrap_or_else(|| table().plain());
                return Err(Trouble {
                    span,
                    what: What::UnitWrongKind { quantity: Some(id), wanted: quantity.dimension, is },
                });
            }
            Found::Unknown => return Err(self.unexpected_in(cur, word, quantity)),
        };
        let waiting = self.raw[*unit_from..].iter().any(|item| item.unit.is_none());
        if !waiting {
            return Err(match self.raw.last() {
                Some(last) => Trouble { span, what: What::UnitTwice { number: last.span(cur.file) } },
                None => Trouble { span, what: What::WordUnexpected { near: None } },
            });
        }
        for item in &mut self.raw[*unit_from..] {
            convert(item, found);
        }
        *unit_from = self.raw.len();
        Ok(())
    }

    /// Numbers left without a unit: fine where a bare number is complete, or typed as degrees and minutes.
    fn finish_units(&mut self, cur: &Cursor<'_>, id: QuantityId, quantity: &Quantity) -> Result<(), Trouble> {
        let bare = quantity.dimension.get().bare;
        for item in &mut self.raw {
            if item.unit.is_some() {
                continue;
            }
            if !item.has_value() || bare {
                convert(item, table().plain());
                continue;
            }
            let typed = cur
                .text
                .get(item.start as usize..item.start as usize + item.len as usize)
                .unwrap_or_default();
            let angle = matches!(quantity.dimension, DimensionId::ANGLE | DimensionId::TOE);
            match table().find_one("deg", DimensionId::ANGLE) {
                Some(degrees) if angle && typed.contains(['d', '°']) => convert(item, degrees),
                _ => return Err(Trouble { span: item.span(cur.file), what: What::UnitMissing(id) }),
            }
        }
        Ok(())
    }

    /// Toe is kept as an angle, in positive: the total of an axle, or one wheel's.
    fn toe(
        &mut self,
        mode: Mode,
        context: Context,
        share: Option<bool>,
        cur: &Cursor<'_>,
    ) -> Result<(), Trouble> {
        for group in &self.groups {
            let on_axle = match group.place {
                Some((place, _)) => place.is_axle() && group.news.1 - group.news.0 == 1,
                None => group.news.1 - group.news.0 == 2,
            };
            for index in group.olds.0.min(group.news.0)..group.news.1 {
                let item = &mut self.raw[index];
                if !item.has_value() {
                    continue;
                }
                let length = item.unit().get().dim == DimensionId::LENGTH.get().dim;
                let signed = cur
                    .text
                    .as_bytes()
                    .get(item.start as usize)
                    .is_some_and(|b| matches!(b, b'+' | b'-' | 0xE2));
                let direction = context.direction == 0 && !signed && item.si != 0.0 && mode != Mode::Adjust;
                let missing_share = on_axle && share.is_none() && item.si != 0.0;
                let over = length && context.toe_over.is_none();
                if direction || missing_share || over {
                    return Err(Trouble {
                        span: item.span(cur.file),
                        what: What::ToeUnderspecified { direction, share: missing_share, over },
                    });
                }
                let sign = if context.direction < 0 { -1.0 } else { 1.0 };
                // Of an axle the two wheels share the total equally; asin because s = D sin(angle) for one wheel.
                let wheels = if on_axle && share == Some(false) { 2.0 } else { 1.0 };
                let of_slot = if on_axle { 2.0 } else { 1.0 };
                let half = f64::from(item.half);
                let to_angle = |value: f64| {
                    let one = value / wheels;
                    let angle = context
                        .toe_over
                        .filter(|_| length)
                        .map_or(one, |over| libm::asin((one / over).clamp(-1.0, 1.0)));
                    angle * of_slot
                };
                item.half = to_angle(half) as f32;
                item.si = sign * to_angle(item.si);
            }
        }
        Ok(())
    }

    fn unexpected(cur: &Cursor<'_>, word: Word) -> Trouble {
        let span = cur.span(word);
        match Number::parse(cur.str(word)) {
            Err(
                trouble
                @ (NumberTrouble::DecimalComma | NumberTrouble::MinutesRange | NumberTrouble::TooLong),
            ) => of_number(span, &trouble),
            _ => Trouble { span, what: What::WordUnexpected { near: None } },
        }
    }

    fn unexpected_in(&self, cur: &Cursor<'_>, word: Word, quantity: &Quantity) -> Trouble {
        let text = cur.str(word);
        let span = cur.span(word);
        let near = crate::units::suggest(text, quantity.dimension);
        if near.is_some() || self.raw.last().is_some_and(|item| item.unit.is_none() && item.has_value()) {
            return Trouble { span, what: What::UnitUnknown { wanted: quantity.dimension, near } };
        }
        let clauses = [
            "by", "with", "over", "during", "at", "from", "on", "after", "because", "each", "total", "off",
            "front", "rear", "left", "right", "all",
        ];
        Trouble {
            span,
            what: What::WordUnexpected { near: super::names::nearest(text, clauses.into_iter()) },
        }
    }

    fn expand(
        &mut self,
        id: QuantityId,
        quantity: &Quantity,
        context: Context,
        cur: &Cursor<'_>,
        out: &mut Vec<Item>,
    ) -> Result<(), Trouble> {
        let first_new = out.len();
        for group in &self.groups {
            let news = &self.raw[group.news.0..group.news.1];
            let olds = &self.raw[group.olds.0..group.olds.1];
            let span = news
                .first()
                .or(olds.first())
                .map_or_else(|| group.place.map_or(cur.here(), |(_, span)| span), |item| item.span(cur.file));
            if news.is_empty() {
                let what = if olds.is_empty() { What::ValueMissing(id) } else { What::ArrowBad };
                return Err(Trouble { span, what });
            }
            if quantity.dimension == DimensionId::FLUID && count(news) == 0 {
                let wants = "the grade and then the amount, such as `75W-90 1.6 L`";
                return Err(Trouble { span, what: What::Incomplete { verb: "fill", wants } });
            }
            let places = &mut self.places;
            if !olds.is_empty() {
                spread(id, quantity, context, group.place, count(news), span, places)?;
                spread(id, quantity, context, group.place, count(olds), span, places)?;
                lay(olds, places, out);
            }
            spread(id, quantity, context, group.place, count(news), span, places)?;
            let start = out.len();
            lay(news, places, out);
            if let Some(at) = (start..out.len()).find(|&at| {
                !out[at].is(Flags::PART | Flags::REPEAT)
                    && out[first_new..start].iter().any(|before| {
                        before.place == out[at].place && !before.is(Flags::OLD | Flags::PART | Flags::REPEAT)
                    })
            }) {
                let span = group.place.map_or(out[at].span(cur.file), |(_, span)| span);
                let first = out[first_new..start]
                    .iter()
                    .find(|before| before.place == out[at].place)
                    .map_or(span, |before| before.span(cur.file));
                return Err(Trouble { span, what: What::PlaceTwice(first) });
            }
        }
        Ok(())
    }
}

/// Whether a word that could be a place is one after this quantity: `c1` is a cylinder only where there are cylinders.
fn takes_place(quantity: &Quantity, text: &str) -> bool {
    match Place::parse(text) {
        Some(place) if place.cylinder_number().is_some() => quantity.places.has(Places::CYLINDER),
        Some(place) if place.gear_number().is_some() => quantity.places.has(Places::GEAR),
        _ => true,
    }
}

/// A number that starts a fluid's grade: stuck to a word (`80W`) that is not a unit of volume.
fn is_grade(cur: &Cursor<'_>) -> bool {
    cur.is_stuck(1)
        && cur.peek_at(1).is_some_and(|next| {
            next.shape == Shape::Word && table().find_one(cur.str(next), DimensionId::VOLUME).is_none()
        })
}
