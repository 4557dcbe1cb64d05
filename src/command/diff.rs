//! `stringline diff`: the setup of a car at two moments.

use super::ask;
use super::output::{Format, Output};
use super::table::{Rows, left, right, width};
use super::tried::tried;
use crate::answer::diff::{DiffView, PartChange, SlotView, build};
use crate::answer::value::TypedValue;
use crate::answer::{LedgerLine, json};
use crate::book::model::OutfitId;
use crate::book::names::Thing;
use crate::history::diff::Fate;
use crate::history::moment::Which;
use std::fmt::Write as _;

/// Say how a car's setup differs between two moments
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline diff [OPTIONS] [BOOK] <CAR> <A> <B>",
    after_help = "A and B are moments: EVENT (during its last session), EVENT/SESSION, EVENT/before-SESSION, \
                  EVENT/after-SESSION, EVENT/start, EVENT/end, EVENT/best, a date, or a baseline.\n\
                  BOOK is the book's folder, the current one where it is left out.\n\n\
                  Example:\n  stringline diff bittern quern-1/start quern-1/end\n  \
                  stringline diff ledgers/2026 bittern quern-1/s1 ardwell"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the two moments
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let (book, words) = match arguments.words.as_slice() {
        [book, words @ ..] if words.len() == 3 => (Some(std::path::PathBuf::from(book)), words),
        words => (None, words),
    };
    let words = ask::texts(words)?;
    let [car, then_typed, now_typed] = words.as_slice() else {
        anyhow::bail!(
            "diff wants a car and two moments, such as `stringline diff bittern quern-1/start quern-1/end`"
        )
    };
    let whole = arguments.revision.compile(book.as_deref(), output)?;
    let today = whole.today.to_string();
    let [then_typed, now_typed] =
        [then_typed, now_typed].map(|typed| if typed.eq_ignore_ascii_case("now") { &today } else { typed });
    let own = |outfit: &OutfitId| {
        let of = whole.book.outfits.get(*outfit).and_then(|outfit| outfit.car);
        of.is_some() && of == ask::car(&whole, car).ok()
    };
    let worn = [then_typed, now_typed].map(|typed| match whole.book.names.find(typed) {
        Some(Thing::Outfit(outfit)) => Some(outfit).filter(own),
        _ => None,
    });
    if let [then, Some(outfit)] = worn {
        // As the car stood then, and with the outfit on; between two outfits what the second changes of the first.
        let id = ask::car(&whole, car)?;
        let from = if then.is_some() { &today } else { then_typed };
        let base = ask::moment(&whole, id, Some(from))?;
        let date = if let Which::Day(day) = base.which { day } else { jiff::civil::Date::MIN };
        let outfits: Vec<_> = then.into_iter().chain([outfit]).collect();
        let (made, days) = tried(&whole, id, (base.rank, date), &outfits)?;
        let made = ask::read_by(made, arguments.reader.as_deref())?;
        ask::car(&made, car)?;
        let days: Vec<String> = days.iter().map(ToString::to_string).collect();
        let named = |typed: &str| ask::moment(&made, id, Some(typed));
        let first = if then.is_some() { days.first().map_or(from.as_str(), String::as_str) } else { from };
        let last = days.last().map_or(first, String::as_str);
        let mut view = build(&made, id, [&named(first)?, &named(last)?], [then_typed, now_typed]);
        let words = |outfit| format!("with the outfit `{}` on", whole.book.outfits[outfit].named.typed);
        if let Some(then) = then {
            view.then.words = words(then);
        }
        view.now.words = words(outfit);
        output.result(&match arguments.format {
            Format::Text => text(&view, output.width),
            Format::Json => json(&view),
        });
        return Ok(super::verdict(&whole, output));
    }
    let compiled = ask::read_by(whole, arguments.reader.as_deref())?;
    let car = ask::car(&compiled, car)?;
    let moment = |typed| ask::moment(&compiled, car, Some(typed));
    let (mut then, mut now) = ((then_typed, moment(then_typed)?), (now_typed, moment(now_typed)?));
    if then.1.rank > now.1.rank {
        std::mem::swap(&mut then, &mut now);
        output.message(&format!(
            "stringline: `{now_typed}` is before `{then_typed}`; the earlier one stands first.\n"
        ));
    }
    let view = build(&compiled, car, [&then.1, &now.1], [then.0, now.0]);
    output.result(&match arguments.format {
        Format::Text => text(&view, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

/// Slots of one quantity that changed the same way by the same lines are one row.
struct Row<'a> {
    what: String,
    slot: &'a SlotView,
}

fn text(view: &DiffView, columns: usize) -> String {
    let mut out = format!(
        "{}: {}\nthen: {}\nnow:  {}\n",
        view.car.name, view.car.title, view.then.words, view.now.words
    );
    let changed: Vec<&SlotView> = view.slots.iter().filter(|slot| slot.fate == Fate::Changed).collect();
    let mut areas: Vec<&str> = Vec::new();
    for slot in &changed {
        if areas.last() != Some(&slot.area.as_str()) {
            areas.push(&slot.area);
        }
    }
    for area in areas {
        let slots: Vec<&SlotView> = changed.iter().copied().filter(|slot| slot.area == area).collect();
        section(&mut out, area, &slots, columns);
    }
    let sections = [
        (Fate::PutBack, "tried and put back"),
        (Fate::SameByGauges, "set by another gauge, the same by the comparison of both"),
        (Fate::ReadsOtherwise, "reads otherwise, not set itself"),
        (Fate::ReadAgain, "read again, the same"),
        (Fate::FirstStated, "first stated in between"),
        (Fate::Unknown, "not known at one of the two"),
    ];
    for (fate, title) in sections {
        let slots: Vec<&SlotView> = view.slots.iter().filter(|slot| slot.fate == fate).collect();
        if !slots.is_empty() {
            section(&mut out, title, &slots, columns);
        }
    }
    if !view.parts.is_empty() {
        out.push_str("\nparts\n");
        let mut table = Rows::default();
        for part in &view.parts {
            part_row(&mut table, part);
        }
        table.write(&mut out, 6, columns);
    }
    if view.slots.is_empty() && view.parts.is_empty() {
        out.push_str("\nNo difference: nothing was set, read or fitted otherwise.\n");
    }
    out
}

fn section(out: &mut String, title: &str, slots: &[&SlotView], columns: usize) {
    let _ = writeln!(out, "\n{title}");
    let rows = rows(slots);
    let what = rows.iter().map(|row| width(&row.what)).max().unwrap_or(0).clamp(16, 26);
    let shown: Vec<(String, String)> = rows.iter().map(|row| values(row.slot)).collect();
    let values = shown.iter().map(|(values, _)| width(values)).max().unwrap_or(0).min(34);
    let change = shown.iter().map(|(_, change)| width(change)).max().unwrap_or(0);
    let mut table = Rows::default();
    for (at, (row, (value, changed))) in rows.iter().zip(&shown).enumerate() {
        let line =
            format!("  {}  {}  {}", left(&row.what, what), left(value, values), right(changed, change));
        let (date, lines) = reference(row.slot);
        table.push(&line, date, &lines);
        let said = reasons(row.slot);
        // Rows changed by the same lines give their reason once, under the last of them.
        if rows.get(at + 1).is_some_and(|next| reasons(next.slot) == said) {
            continue;
        }
        for words in said {
            table.under(words);
        }
    }
    table.write(out, 6, columns);
}

/// Rows, with equal changes of several places joined.
fn rows<'a>(slots: &[&'a SlotView]) -> Vec<Row<'a>> {
    let mut rows: Vec<(Vec<String>, &'a SlotView)> = Vec::new();
    for slot in slots {
        let place = slot.place.clone().unwrap_or_default();
        let same = |other: &SlotView| {
            other.quantity == slot.quantity
                && other.at.is_corner() == slot.at.is_corner()
                && other.then == slot.then
                && other.now == slot.now
                && other.steps == slot.steps
        };
        match rows.iter_mut().find(|(_, other)| same(other)) {
            Some((places, _)) => places.push(place),
            None => rows.push((vec![place], slot)),
        }
    }
    rows.into_iter()
        .map(|(places, slot)| {
            let words: Vec<&str> = places.iter().map(String::as_str).collect();
            // Toe of an axle is another thing than the toe of its two wheels.
            let place = match words.as_slice() {
                ["LF" | "LR", ..] if slot.quantity == "toe" => words.join(" "),
                ["LF", "RF", "LR", "RR"] => "all".to_owned(),
                ["LF", "RF"] => "front".to_owned(),
                ["LR", "RR"] => "rear".to_owned(),
                [first, _, _, .., last] => format!("{first} to {last}"),
                few => few.join(" "),
            };
            Row { what: format!("{} {place}", slot.quantity).trim_end().to_owned(), slot }
        })
        .collect()
}

/// `70 -> 80 N/mm` and `+10 N/mm`.
fn values(slot: &SlotView) -> (String, String) {
    let change = slot.change.as_ref().map_or_else(String::new, |change| change.text.clone());
    let end = |value: &TypedValue| value.conditions.iter().find(|one| one.starts_with("from full-")).cloned();
    let text = match (slot.fate, &slot.then, &slot.now) {
        (Fate::FirstStated | Fate::ReadAgain | Fate::PutBack, _, Some(now)) => now.text.clone(),
        (_, Some(then), Some(now)) if then.unit == now.unit => format!("{} -> {}", then.digits(), now.text),
        (_, then, now) => {
            let word = |value: &Option<TypedValue>| {
                value.as_ref().map_or_else(|| "unknown".to_owned(), |value| value.text.clone())
            };
            format!("{} -> {}", word(then), word(now))
        }
    };
    let end = slot.now.as_ref().and_then(end).map_or_else(String::new, |end| format!(" {end}"));
    (text + &end, change)
}

/// The day and lines: of the settings in between and of the present value.
fn reference(slot: &SlotView) -> (&str, Vec<&LedgerLine>) {
    let values: Vec<&TypedValue> = slot.steps.iter().chain(&slot.now).collect();
    let date = values.iter().filter_map(|value| value.date.as_deref()).max().unwrap_or_default();
    (date, values.iter().filter_map(|value| value.line.as_ref()).collect())
}

/// Why: the reasons typed, with the way there where it took several steps.
fn reasons(slot: &SlotView) -> Vec<String> {
    let mut said = Vec::new();
    let read_after = match (slot.steps.last(), &slot.now) {
        (Some(last), Some(now)) if now.line != last.line && now.text != last.text => Some(now),
        _ => None,
    };
    let stops = slot.steps.len() + usize::from(read_after.is_some());
    if stops > 1 && slot.fate != Fate::Unknown {
        let mut way: Vec<String> =
            slot.then.iter().chain(&slot.steps).map(|value| value.digits().to_owned()).collect();
        way.extend(read_after.map(|now| format!("{} as read", now.digits())));
        let back = match slot.returns {
            0 | 1 => String::new(),
            n => format!(", {n} times back"),
        };
        said.push(format!("by way of {}{back}", way.join(" -> ")));
    }
    for step in &slot.steps {
        if let Some(because) = &step.because {
            let of = if slot.steps.len() > 1 { format!("{}: ", step.text) } else { String::new() };
            said.push(format!("{of}because {because}"));
        }
    }
    said
}

fn part_row(table: &mut Rows, part: &PartChange) {
    let what = format!("{} {}", part.kind, part.place.as_deref().unwrap_or(""));
    let change = match (&part.then, &part.now) {
        (Some(then), Some(now)) => format!("{then} -> {now}"),
        (None, Some(now)) => format!("{now} fitted"),
        (Some(then), None) => format!("{then} taken off"),
        (None, None) => String::new(),
    };
    let line = format!("  {}  {change}", left(what.trim_end(), 26));
    let lines: Vec<&LedgerLine> = part.line.iter().collect();
    table.push(&line, part.date.as_deref().unwrap_or(""), &lines);
    if let Some(because) = &part.because {
        table.under(format!("because {because}"));
    }
}
