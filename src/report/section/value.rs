//! One value of a slot as it is shown: what was typed first, its unit, and whether it was set, read or worked out.
//!
//! Must not know tables.

use crate::book::entry::{Flags, Item, Verb};
use crate::history::fuel;
use crate::history::slots::{Owner, Register, SlotEvent, Track};
use crate::report::teller::Teller;
use crate::report::words;
use crate::source::{FileId, Span};
use crate::units::DimensionId;
use serde::Serialize;

/// How a value came about. Shown by weight and slant and by this word.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(rename_all = "lowercase")]
pub enum ValueOrigin {
    /// Asked for: `set`, `fill`.
    Set,
    /// Read off a gauge.
    Read,
    /// Worked out: a sum of changes, a mean, a conversion.
    Derived,
    /// Not known: an error or a dispute, or nothing said.
    Missing,
    /// Left as it was by the line told of.
    Same,
}

/// A value.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct ShownValue {
    /// Digits as typed, or worked out; an en dash where it is missing.
    pub text: String,
    /// Its unit and what belongs to it: "mm out total", "click from full hard". May be empty for a plain number.
    pub unit: String,
    /// How it came about.
    pub how: ValueOrigin,
}

impl ShownValue {
    /// A missing value.
    pub(in crate::report) fn missing() -> Self {
        Self { text: words::DASH.to_owned(), unit: String::new(), how: ValueOrigin::Missing }
    }

    /// "−3.2 deg".
    pub(in crate::report) fn full(&self) -> String {
        if self.unit.is_empty() {
            return self.text.clone();
        }
        let space = if self.unit.starts_with('%') { "" } else { " " };
        format!("{}{space}{}", self.text, self.unit)
    }
}

/// Where a value was said: its line, or the car's declaration.
pub(in crate::report) fn span(tell: &Teller<'_>, track: &Track, event: &SlotEvent) -> Span {
    if let Some(entry) = tell.entry(event.entry) {
        return entry.span();
    }
    let car = match track.owner {
        Owner::Car(car) => &tell.cx.book.cars[car],
        Owner::Part(part) => return tell.cx.book.parts[part].named.declared,
    };
    let Some(item) = tell.cx.history.item(tell.cx.book, track, event) else { return car.named.declared };
    let of_it = |items: &[Item]| items.iter().any(|one| std::ptr::eq(one, item));
    let line = car.opening.iter().find(|(_, items, _)| of_it(items));
    line.map_or(car.named.declared, |(.., span)| *span)
}

/// A slot's value.
pub(in crate::report) fn value(tell: &Teller<'_>, track: &Track, event: &SlotEvent) -> ShownValue {
    let cx = &tell.cx;
    let Some(item) = cx.history.item(cx.book, track, event) else { return ShownValue::missing() };
    let file = span(tell, track, event).file;
    let entry = tell.entry(event.entry);
    let own = entry.is_none_or(|entry| {
        let first = entry.items;
        (first..first.plus(entry.item_count.into())).contains(&event.item())
    });
    let typed = typed(tell, file, event, item);
    if item.is(Flags::TEXT) && !typed.contains(char::is_whitespace) || item.is(Flags::OFF) {
        return ShownValue { text: typed, unit: String::new(), how: how(event, true) };
    }
    let unit = unit(tell, track, event, item);
    if item.is(Flags::TEXT) {
        return ShownValue { text: typed, unit, how: how(event, true) };
    }
    let filled = event.entry.is_some_and(|line| fuel::adds(cx.book, cx.files, line, item));
    if filled && event.register() == Register::Unknown {
        return ShownValue::missing();
    }
    // Whatever end its line counted clicks from, they are told from that of their slot.
    let turned = track.from_hard.is_some() && item.has_value() && (event.value - item.si).abs() > 1e-9;
    let added = filled || turned || entry.is_some_and(|entry| entry.verb == Verb::Adjust);
    if !own || added {
        let shown = difference(tell, event.value, file, item, item.decimals + 2);
        let text = shown.split(' ').next().unwrap_or_default().to_owned();
        return ShownValue { text, unit, how: ValueOrigin::Derived };
    }
    ShownValue { text: typed, unit, how: how(event, true) }
}

/// Why nobody knows what stands there: a line with an error; or one that adds to what nobody states.
pub(in crate::report) fn unknown_words(tell: &Teller<'_>, unknown: Option<SlotEvent>) -> String {
    let cx = &tell.cx;
    let line = unknown.and_then(|event| event.entry.zip(event.line(cx.book)));
    let adds = unknown.zip(line).is_some_and(|(event, (entry, line))| {
        let item = cx.book.items.get(event.item()).filter(|_| !line.broken && !line.withheld);
        item.is_some_and(|item| fuel::adds(cx.book, cx.files, entry, item))
    });
    match line {
        _ if adds => "filled on top of nobody knows how much",
        Some((_, line)) => crate::words::lost_by(line),
        None => "a line with an error makes it unknown",
    }
    .to_owned()
}

/// A difference or a sum in an item's unit, with the item's decimals and, where they would round it, more: 3.5 less 0.25
/// is 3.25.
pub(in crate::report) fn difference(
    tell: &Teller<'_>,
    si: f64,
    file: FileId,
    item: &Item,
    most: u8,
) -> String {
    let text = |decimals: u8| tell.cx.difference_in(si, file, &Item { decimals, ..*item });
    let size =
        |text: &str| text.split(' ').next().and_then(|digits| digits.parse::<f64>().ok()).unwrap_or(0.0);
    let fine = size(&text(most.saturating_add(4).min(12)));
    (item.decimals..most)
        .map(text)
        .find(|text| (size(text) - fine).abs() < 1e-4)
        .unwrap_or_else(|| text(most))
}

fn how(event: &SlotEvent, known: bool) -> ValueOrigin {
    match event.register() {
        Register::Asked if known => ValueOrigin::Set,
        Register::Read if known => ValueOrigin::Read,
        _ => ValueOrigin::Missing,
    }
}

/// What was typed, with the further numbers of a pair, of a triple, of repeats, of a fluid.
fn typed(tell: &Teller<'_>, file: FileId, event: &SlotEvent, item: &Item) -> String {
    let mut end = item.span(file).end;
    if let Some(entry) = tell.entry(event.entry) {
        let last = entry.items.plus(entry.item_count.into());
        let next = event.item().plus(1);
        for more in tell.cx.book.items.within(next..last.max(next)) {
            if !more.is(Flags::PART | Flags::REPEAT) || more.start < end {
                break;
            }
            end = more.span(file).end;
        }
    }
    let text = tell.cx.text(item.span(file).until(end)).trim();
    if text.starts_with(['"', '\u{201C}', '\u{201E}']) && text.ends_with(['"', '\u{201D}', '\u{201C}']) {
        return crate::syntax::unquote(text).to_owned();
    }
    text.replace(['"', '\u{201C}', '\u{201D}', '\u{201E}'], "")
}

fn unit(tell: &Teller<'_>, track: &Track, event: &SlotEvent, item: &Item) -> String {
    let mut unit = item.unit().get().shown().to_owned();
    if item.is(Flags::TEXT) {
        // A fluid's unit stands on its amount.
        let next = tell.cx.book.items.get(event.item().plus(1));
        unit = next
            .filter(|next| next.is(Flags::PART))
            .map_or_else(String::new, |next| next.unit().get().shown().to_owned());
    }
    let entry = tell.entry(event.entry);
    if tell.cx.quantity(track.quantity).dimension == DimensionId::TOE {
        if event.value != 0.0 {
            unit.push_str(if event.value < 0.0 { " out" } else { " in" });
        }
        if entry.is_some_and(|entry| says(tell.cx.text(entry.span()), "total")) {
            unit.push_str(" total");
        }
    }
    if let Some(hard) = track.from_hard.filter(|_| item.has_value()) {
        unit.push_str(if hard { " from full hard" } else { " from full soft" });
    }
    unit.trim_start().to_owned()
}

/// Whether a line has that word, before its `because`.
fn says(line: &str, word: &str) -> bool {
    line.split_whitespace().take_while(|each| *each != "because").any(|each| each.eq_ignore_ascii_case(word))
}
