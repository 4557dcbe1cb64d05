//! The setup at a moment: by area, corner quantities in the columns LF RF LR RR.
//!
//! Must not know how it got there.

use super::problems::{ProblemMark, Problems};
use super::value::{self, ShownValue, ValueOrigin};
use crate::book::entry::Flags;
use crate::book::model::{CarId, PartId};
use crate::book::place::Place;
use crate::history::order::Rank;
use crate::history::slots::SlotEvent;
use crate::history::state::SlotState;
use crate::report::sources;
use crate::report::teller::Teller;
use crate::report::words;
use crate::source::Span;
use crate::vocabulary::QuantityId;
use serde::Serialize;

/// One area: alignment, weights, springs ...
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Area {
    /// Its name.
    pub name: String,
    /// Whether any row has corners or axles, so that the columns need their names.
    pub corners: bool,
    /// Its rows.
    pub rows: Vec<SetupRow>,
}

/// One quantity.
#[derive(Debug, Clone, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SetupRow {
    /// Its name.
    pub name: String,
    /// What it is, in a sentence.
    pub sentence: String,
    /// The unit, where all values have the same.
    pub unit: String,
    /// The cells; their spans add up to four columns.
    pub cells: Vec<SetupCell>,
    /// "read 3 Sep", "set 22 Aug (LR RR)".
    pub how: String,
    /// What else to know: conditions, stale readings, settings that read otherwise.
    pub notes: Vec<String>,
    /// What is wrong with its lines.
    pub marks: Vec<ProblemMark>,
    /// Its lines.
    pub src: String,
}

/// One cell: a corner, an axle, or everything else in one.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct SetupCell {
    /// Columns it takes.
    pub span: u8,
    /// What stands in it.
    pub items: Vec<Labelled>,
}

/// A value with its place, where the column does not say it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct Labelled {
    /// "c1", "front", or empty.
    pub label: String,
    /// The value.
    pub value: ShownValue,
    /// Whether its unit must be shown with it.
    pub own_unit: bool,
}

/// Places that can share a row: corners, axles, the rest.
fn layer(place: Place) -> u8 {
    if place.is_corner() {
        0
    } else if place.is_axle() {
        1
    } else {
        2
    }
}

/// Lays values out in four columns and says the unit they share.
pub(in crate::report) fn cells(
    tell: &Teller<'_>,
    values: &[(Place, ShownValue)],
) -> (Vec<SetupCell>, String) {
    let known: Vec<&ShownValue> =
        values.iter().map(|(_, value)| value).filter(|value| value.how != ValueOrigin::Missing).collect();
    // "off" and words have no unit; they do not stand in the way of one that the others share.
    let counts = |value: &&&ShownValue| {
        !value.unit.is_empty() || value.text.starts_with(|c: char| c.is_ascii_digit() || "+-".contains(c))
    };
    let unit = known.iter().find(counts).map_or_else(String::new, |value| value.unit.clone());
    let shared = known.iter().filter(counts).all(|value| value.unit == unit);
    let labelled = |label: String, value: ShownValue| Labelled {
        label,
        own_unit: !shared && !value.unit.is_empty(),
        value,
    };
    let at = |place: Place| {
        values
            .iter()
            .find(|(here, _)| *here == place)
            .map_or_else(ShownValue::missing, |(_, value)| value.clone())
    };
    let cells = match values.first().map_or(2, |(place, _)| layer(*place)) {
        0 => Place::CORNERS
            .iter()
            .map(|place| SetupCell { span: 1, items: vec![labelled(String::new(), at(*place))] })
            .collect(),
        1 => [Place::FRONT, Place::REAR]
            .iter()
            .map(|place| SetupCell { span: 2, items: vec![labelled(tell.cx.place(*place), at(*place))] })
            .collect(),
        _ => vec![SetupCell {
            span: 4,
            items: values
                .iter()
                .map(|(place, value)| labelled(tell.cx.place(*place), value.clone()))
                .collect(),
        }],
    };
    (cells, if shared { unit } else { String::new() })
}

/// The setup before a rank, by area.
pub(in crate::report) fn areas(tell: &Teller<'_>, car: CarId, rank: Rank, problems: &Problems) -> Vec<Area> {
    let cx = &tell.cx;
    let slots = cx.on(car, rank).slots();
    let tags = tags(tell, car, rank, &slots);
    let mut quantities: Vec<QuantityId> =
        slots.iter().map(|slot| slot.quantity).chain(tags.iter().map(|tag| tag.quantity)).collect();
    quantities.sort_by_key(|quantity| (cx.quantity(*quantity).area, *quantity));
    quantities.dedup();
    let mut areas: Vec<(u32, Area)> = Vec::new();
    for quantity in quantities {
        let area = cx.quantity(quantity).area;
        if areas.last().is_none_or(|(last, _)| *last != area) {
            let name = cx.book.vocabulary.areas.get(area as usize).map_or("other", |name| name);
            areas.push((area, Area { name: name.to_owned(), corners: false, rows: Vec::new() }));
        }
        for wanted in 0..=2 {
            let own: Vec<&SlotState<'_>> = slots
                .iter()
                .filter(|slot| slot.quantity == quantity && layer(slot.place) == wanted)
                .collect();
            let tags: Vec<&Tag> =
                tags.iter().filter(|tag| tag.quantity == quantity && layer(tag.place) == wanted).collect();
            if !(own.is_empty() && tags.is_empty())
                && let Some((_, area)) = areas.last_mut()
            {
                area.corners |= wanted < 2;
                area.rows.push(row(tell, quantity, &own, &tags, problems));
            }
        }
    }
    areas.into_iter().map(|(_, area)| area).collect()
}

/// What the tag of a part says that gives the quantity in its place, where nothing better is in the book.
pub(in crate::report) struct Tag {
    pub quantity: QuantityId,
    pub place: Place,
    pub value: ShownValue,
    pub part: PartId,
    pub at: Span,
}

/// What the tags of the parts on a car say.
pub(in crate::report) fn tags(
    tell: &Teller<'_>,
    car: CarId,
    rank: Rank,
    slots: &[SlotState<'_>],
) -> Vec<Tag> {
    let cx = &tell.cx;
    let mut tags = Vec::new();
    for place in cx.on(car, rank).places() {
        let Some(part) = place.part else { continue };
        let gives = cx.book.kinds.get(place.kind).map_or(&[][..], |kind| kind.gives.as_slice());
        for (quantity, text, unit, at) in super::parts::tags(tell, part) {
            let known = slots.iter().any(|slot| slot.quantity == quantity && slot.place == place.place);
            if gives.contains(&quantity) && !known {
                let value =
                    ShownValue { text: text.to_owned(), unit: unit.to_owned(), how: ValueOrigin::Set };
                tags.push(Tag { quantity, place: place.place, value, part, at });
            }
        }
    }
    tags
}

fn row(
    tell: &Teller<'_>,
    quantity: QuantityId,
    slots: &[&SlotState<'_>],
    tags: &[&Tag],
    problems: &Problems,
) -> SetupRow {
    let cx = &tell.cx;
    let mut values = Vec::new();
    let mut spans: Vec<Span> = Vec::new();
    let mut hows: Vec<(String, Vec<String>)> = Vec::new();
    let mut notes: Vec<(String, Vec<String>)> = Vec::new();
    let mut marks: Vec<ProblemMark> = Vec::new();
    for slot in slots {
        let place = cx.place(slot.place);
        let Some(event) = slot.held.is(cx.history) else {
            values.push((slot.place, ShownValue::missing()));
            gather(&mut hows, "not known".to_owned(), &place);
            if let Some(entry) = slot.held.unknown.and_then(|unknown| tell.entry(unknown.entry)) {
                spans.push(entry.span());
                marks.extend(problems.marks(tell, entry.span()));
                gather(&mut notes, value::unknown_words(tell, slot.held.unknown), &place);
            }
            continue;
        };
        let value = value::value(tell, slot.track, &event);
        let span = value::span(tell, slot.track, &event);
        spans.push(span);
        marks.extend(problems.marks(tell, span));
        gather(&mut hows, how(tell, &value, &event), &place);
        if let Some(part) = slot.part {
            gather(&mut notes, format!("of {}", cx.part(part)), "");
        }
        let entry = tell.entry(event.entry);
        let conditions = entry.map_or_else(Vec::new, |entry| tell.conditions(entry));
        if !conditions.is_empty() {
            gather(&mut notes, format!("with {}", conditions.join(", ")), "");
        }
        if let Some(words) = corrected_words(tell, &event) {
            gather(&mut notes, words, &place);
        }
        if value.how == ValueOrigin::Read {
            for words in stale_words(tell, slot).into_iter().chain(set_words(tell, slot, &event)) {
                gather(&mut notes, words, &place);
            }
        }
        values.push((slot.place, value));
    }
    for tag in tags {
        gather(&mut hows, "as the part is tagged".to_owned(), &cx.place(tag.place));
        gather(&mut notes, format!("of {}", cx.part(tag.part)), &cx.place(tag.place));
        spans.push(tag.at);
        values.push((tag.place, tag.value.clone()));
    }
    values.sort_by_key(|(place, _)| *place);
    marks.dedup();
    let (cells, unit) = cells(tell, &values);
    let what = cx.quantity(quantity);
    SetupRow {
        name: what.name.replace('-', " "),
        sentence: what.sentence.to_string(),
        unit,
        cells,
        how: joined(&hows, slots.len() + tags.len()).join("; "),
        notes: joined(&notes, slots.len() + tags.len()),
        marks,
        src: sources::lines(tell.cx.files, spans),
    }
}

/// What was typed first, where a later line put it right.
pub(in crate::report) fn corrected_words(tell: &Teller<'_>, event: &SlotEvent) -> Option<String> {
    let first = event.entry.and_then(|_| tell.cx.typed_first(event.item()))?;
    Some(format!("typed {first} first, and corrected"))
}

/// Which change came after a slot was read, so that it may be otherwise by now; or that it was read on the bench only later.
pub(in crate::report) fn stale_words(tell: &Teller<'_>, slot: &SlotState<'_>) -> Option<String> {
    let cx = &tell.cx;
    if slot.held.later {
        let day = cx.date(slot.held.read?.entry).map_or_else(String::new, words::short);
        return Some(crate::words::stale::benched_later(&day));
    }
    let stale = slot.held.stale?;
    let what = crate::answer::state::stale(tell.compiled, stale).changed;
    let when = cx.date(stale.entry).map_or_else(String::new, words::short);
    Some(crate::words::stale::came_after(&[what], &when, &tell.src_of(stale.entry)))
}

/// What a slot was set to before it read something else.
pub(in crate::report) fn set_words(
    tell: &Teller<'_>,
    slot: &SlotState<'_>,
    read: &SlotEvent,
) -> Option<String> {
    let cx = &tell.cx;
    let asked = slot.held.asked?;
    let alike = crate::history::diff::same(cx.facts, (asked, slot.track), (*read, slot.track));
    let words = cx.history.item(cx.book, slot.track, &asked).is_none_or(|item| item.is(Flags::TEXT));
    if alike || words {
        return None;
    }
    let set = value::value(tell, slot.track, &asked).full();
    Some(format!("set to {set} before ({})", tell.src(value::span(tell, slot.track, &asked))))
}

/// "read 3 Sep".
fn how(tell: &Teller<'_>, value: &ShownValue, event: &SlotEvent) -> String {
    let word = match value.how {
        ValueOrigin::Set => "set",
        ValueOrigin::Read => "read",
        ValueOrigin::Derived => "worked out",
        ValueOrigin::Missing | ValueOrigin::Same => "not known",
    };
    match tell.cx.date(event.entry) {
        Some(date) => format!("{word} {}", words::short(date)),
        None => format!("{word} as the car was declared"),
    }
}

fn gather(list: &mut Vec<(String, Vec<String>)>, text: String, place: &str) {
    let at = list.iter().position(|(known, _)| *known == text).unwrap_or_else(|| {
        list.push((text, Vec::new()));
        list.len() - 1
    });
    if let Some((_, places)) = list.get_mut(at)
        && !place.is_empty()
        && !places.iter().any(|known| known == place)
    {
        places.push(place.to_owned());
    }
}

/// Texts with the places they are true of, where that is not all.
fn joined(list: &[(String, Vec<String>)], all: usize) -> Vec<String> {
    list.iter()
        .map(|(text, places)| {
            if places.is_empty() || places.len() == all {
                text.clone()
            } else {
                format!("{text} ({})", places.join(" "))
            }
        })
        .collect()
}
