//! What a block says of the air: its temperature, dew point and humidity, read together.
//!
//! Must not know any particular check.

use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, Condition};
use crate::check::Context;
use crate::history::grain;
use crate::source::Span;
use crate::units::Number;

/// One of the three as typed.
#[derive(Debug, Clone)]
pub struct Stated {
    /// SI: kelvin, or a share.
    pub value: f64,
    /// How far off it may be, SI.
    pub half: f64,
    /// Where it is typed.
    pub span: Span,
    /// As typed, with its unit: `14 C`.
    pub text: String,
}

/// What was said of the air by one line and those above it, since the session before.
#[derive(Debug, Clone, Default)]
pub struct Air {
    /// Its temperature.
    pub temperature: Option<Stated>,
    /// Its dew point.
    pub dew: Option<Stated>,
    /// Its relative humidity, a share.
    pub humidity: Option<Stated>,
}

/// Which of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Which {
    Air,
    Dew,
    Humidity,
}

fn which(name: &str) -> Option<Which> {
    let is = |word: &str| name.eq_ignore_ascii_case(word);
    if is("air") || is("air-temp") {
        Some(Which::Air)
    } else if is("dew-point") {
        Some(Which::Dew)
    } else {
        is("humidity").then_some(Which::Humidity)
    }
}

impl Air {
    fn put(&mut self, which: Which, stated: Stated) {
        let place = match which {
            Which::Air => &mut self.temperature,
            Which::Dew => &mut self.dew,
            Which::Humidity => &mut self.humidity,
        };
        *place = Some(stated);
    }
}

/// The air at every line of a car that says something of it. What was read before a session is not held against what was read after it.
pub fn of_car(cx: &Context<'_>, car: CarId, mut look: impl FnMut(&Air)) {
    for head in cx.book.heads_of(car) {
        let mut known = Air::default();
        for index in head.lines() {
            let entry = cx.entry(index);
            if entry.broken || entry.void {
                continue;
            }
            let mut here = known.clone();
            let mut new = false;
            for (which, stated) in stated(cx, index, entry) {
                here.put(which, stated);
                new = true;
            }
            if new {
                look(&here);
            }
            known = if entry.verb == Verb::Run { Air::default() } else { here };
        }
    }
}

fn stated(cx: &Context<'_>, index: EntryId, entry: &Entry) -> Vec<(Which, Stated)> {
    let mut all = Vec::new();
    let conditions = cx.book.extra(entry).map_or(&[][..], |extra| &extra.conditions);
    for condition in conditions {
        let which = which(cx.text(condition.key));
        all.extend(which.zip(of_condition(cx, condition)));
    }
    let read = matches!(entry.verb, Verb::Set | Verb::Found | Verb::Left | Verb::Read);
    let quantity = entry.quantity.filter(|_| read).and_then(|id| which(&cx.quantity(id).name));
    let item = cx.book.items_of(entry).iter().find(|item| Context::is_number(item));
    if let Some((which, item)) = quantity.zip(item) {
        let half = grain::half(cx.book, cx.files, entry, item);
        let span = cx.item_span(index, entry.items);
        all.push((which, Stated { value: item.si, half, span, text: cx.typed(index, item) }));
    }
    all
}

/// A condition is as good as its last digit.
fn of_condition(cx: &Context<'_>, condition: &Condition) -> Option<Stated> {
    let (value, unit) = condition.value?;
    let words = cx.text(condition.said).split_whitespace();
    let number = words
        .map(|word| word.trim_end_matches(char::is_alphabetic))
        .find_map(|word| Number::parse(word).ok());
    let half = number.map_or(0.0, |number| unit.get().difference_to_si(number.half));
    let said = cx.text(condition.said);
    let text = said.strip_prefix(cx.text(condition.key)).unwrap_or(said).trim().to_owned();
    Some(Stated { value, half, span: condition.said, text })
}
