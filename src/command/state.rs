//! `stringline state`: what is on a car at a moment.

use super::ask;
use super::output::{Format, Output};
use super::table::{Rows, left, references, right, width, wrap};
use crate::answer::job::{JobView, PromiseView};
use crate::answer::part::{Amounted, PartView};
use crate::answer::state::{Is, Slot, State, build};
use crate::answer::value::TypedValue;
use crate::answer::{LedgerLine, json};
use crate::book::place::Place;
use crate::history::jobs::Status;
use crate::words::{self, dated::MAY_BE_OFF};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// Say what is on a car at a moment
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline state [OPTIONS] [BOOK] <CAR> [AT]",
    after_help = "AT is EVENT (during its last session), EVENT/SESSION, EVENT/before-SESSION, EVENT/after-SESSION, \
                  EVENT/start, EVENT/end, EVENT/best, a date, or a baseline; without it, the end of the book.\n\
                  The first word is the book's folder if it names one and a car follows; `.` is the current one.\n\n\
                  Example:\n  stringline state bittern\n  stringline state ledgers/2026 bittern quern-1/s4"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the moment (may be left out)
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
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!(
            "state wants a car and perhaps a moment, such as `stringline state bittern quern-1/s4`"
        );
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let compiled =
        ask::read_by(arguments.revision.compile(book.as_deref(), output)?, arguments.reader.as_deref())?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let typed = words.get(1).map(String::as_str);
    let moment = ask::moment(&compiled, car, typed)?;
    let view = build(&compiled, car, &moment, typed);
    output.result(&match arguments.format {
        Format::Text => text(&view, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

/// Columns of a register's word.
const REGISTER: usize = 5;

fn text(view: &State, columns: usize) -> String {
    let mut out = format!("{}: {}\n{}\n", view.car.name, view.car.title, view.at.words);
    let mut areas: Vec<&str> = Vec::new();
    for slot in &view.slots {
        if areas.last() != Some(&slot.area.as_str()) {
            areas.push(&slot.area);
        }
    }
    let name = view.slots.iter().map(|slot| width(&slot.quantity)).max().unwrap_or(0).clamp(12, 20);
    for area in areas {
        let slots: Vec<&Slot> = view.slots.iter().filter(|slot| slot.area == area).collect();
        area_text(&mut out, area, &slots, name, columns);
    }
    if !view.parts.is_empty() {
        parts_text(&mut out, &view.parts, columns);
    }
    if !view.jobs.is_empty() {
        jobs_text(&mut out, &view.jobs, columns);
    }
    if view.slots.is_empty() && view.parts.is_empty() && view.jobs.is_empty() {
        out += "\nThe book says nothing of this car by then.\n";
    }
    out
}

/// What stands in a slot's cell and in which row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Row {
    Asked,
    Read,
    Tag,
    Lost,
}

fn area_text(out: &mut String, area: &str, slots: &[&Slot], name: usize, columns: usize) {
    let cell = slots
        .iter()
        .filter(|slot| slot.at.is_corner())
        .flat_map(|slot| cells(slot).into_iter().map(|(_, text)| width(&text)))
        .max()
        .unwrap_or(0)
        .clamp(5, 10);
    let head = if slots.iter().any(|slot| slot.at.is_corner()) {
        ["LF", "RF", "LR", "RR"].iter().fold(String::new(), |text, corner| text + " " + &right(corner, cell))
    } else {
        String::new()
    };
    let _ = writeln!(out, "\n{}", (left(area, 2 + name + 1 + REGISTER) + &head).trim_end());
    let mut table = Rows::default();
    // Those of one quantity stand together.
    for slots in slots.chunk_by(|a, b| a.quantity == b.quantity) {
        let Some(quantity) = slots.first().map(|slot| slot.quantity.as_str()) else { continue };
        for corners in [true, false] {
            let mut rows: BTreeMap<Row, Vec<(&Slot, String)>> = BTreeMap::new();
            for slot in slots.iter().filter(|slot| slot.at.is_corner() == corners) {
                for (row, text) in cells(slot) {
                    rows.entry(row).or_default().push((slot, text));
                }
            }
            for (row, list) in &rows {
                row_text(&mut table, &left(quantity, name), *row, list, corners.then_some(cell));
            }
        }
    }
    table.write(out, 2 + name + 1, columns);
}

/// The cells of a slot: the value it is, and an older setting that a reading departs from.
fn cells(slot: &Slot) -> Vec<(Row, String)> {
    let digits = |value: &TypedValue| {
        if slot.at.is_corner() { value.digits().to_owned() } else { value.text.clone() }
    };
    let mut cells = Vec::new();
    match slot.is {
        Is::Asked => cells.extend(slot.asked.as_ref().map(|value| (Row::Asked, digits(value)))),
        Is::Read => {
            let read = slot.read.as_ref();
            let asked = slot.asked.as_ref().filter(|asked| read.is_none_or(|read| read.text != asked.text));
            cells.extend(asked.map(|value| (Row::Asked, digits(value))));
            cells.extend(read.map(|value| (Row::Read, digits(value))));
        }
        Is::Tag => cells.extend(slot.tag.as_ref().map(|value| (Row::Tag, digits(value)))),
        Is::Unknown => cells.push((Row::Lost, "unknown".to_owned())),
        Is::Disputed => cells.push((Row::Lost, "disputed".to_owned())),
    }
    cells
}

fn row_text(table: &mut Rows, quantity: &str, row: Row, list: &[(&Slot, String)], cell: Option<usize>) {
    let value = |slot: &Slot| match row {
        Row::Asked => slot.asked.clone(),
        Row::Read => slot.read.clone(),
        Row::Tag => slot.tag.clone(),
        Row::Lost => None,
    };
    let values: Vec<TypedValue> = list.iter().filter_map(|(slot, _)| value(slot)).collect();
    let unknowns: Vec<&LedgerLine> = list.iter().filter_map(|(slot, _)| slot.unknown.as_ref()).collect();
    let mut lines: Vec<&LedgerLine> = values.iter().filter_map(|value| value.line.as_ref()).collect();
    let register = match row {
        Row::Asked => "asked",
        Row::Read => "read",
        Row::Tag => "tag",
        Row::Lost => {
            lines = unknowns;
            ""
        }
    };
    let units: Vec<&str> = values.iter().filter_map(|value| value.unit.as_deref()).collect();
    let one_unit = units.iter().all(|unit| Some(unit) == units.first());
    let mut line = format!("  {quantity} {}", left(register, REGISTER));
    if let Some(cell) = cell {
        for corner in Place::CORNERS {
            let here = list.iter().find(|(slot, _)| slot.at == corner);
            let shown = match here {
                Some((_, text)) if one_unit => text.clone(),
                Some((slot, text)) => value(slot).map_or_else(|| text.clone(), |value| value.text),
                None => String::new(),
            };
            let _ = write!(line, " {}", right(&shown, cell));
        }
        let _ = write!(line, " {}", if one_unit { units.first().copied().unwrap_or("") } else { "" });
    } else {
        let _ = write!(line, "  {}", flow(list, one_unit.then(|| units.first().copied()).flatten()));
    }
    let latest = values.iter().filter_map(|value| value.date.clone()).max().unwrap_or_default();
    table.push(&line, &latest, &lines);
    for words in conditions(list, &value) {
        table.under(words);
    }
    for value in &values {
        if let Some(typed) = &value.corrected_from {
            table.under(format!("{} was typed {typed} and corrected", value.text));
        }
    }
    notes(table, row, list);
}

/// The conditions of the values of a row: once where all share them, else with the places of which each is said.
fn conditions(list: &[(&Slot, String)], value: &dyn Fn(&Slot) -> Option<TypedValue>) -> Vec<String> {
    let mut said: Vec<(Vec<&str>, Vec<String>)> = Vec::new();
    let mut all = 0;
    for (slot, _) in list {
        let Some(value) = value(slot) else { continue };
        all += 1;
        let place = slot.place.as_deref().unwrap_or_default();
        match said.iter_mut().find(|(_, conditions)| *conditions == value.conditions) {
            Some((places, _)) => places.push(place),
            None => said.push((vec![place], value.conditions)),
        }
    }
    let words = |(places, conditions): (Vec<&str>, Vec<String>)| {
        let first = conditions.first()?;
        let bare = ["at ", "from ", "over "].iter().any(|word| first.starts_with(word));
        let of = if places.len() == all { String::new() } else { format!("{}: ", places.join(" ")) };
        Some(format!("{of}{}{}", if bare { "" } else { "with " }, conditions.join(", ")))
    };
    said.into_iter().filter_map(words).collect()
}

/// `front 1, rear 2 mm`: equal values are said once, and so is the unit that all have.
fn flow(list: &[(&Slot, String)], unit: Option<&str>) -> String {
    let ends = |text: &str, unit: &str| text.ends_with(unit) && text.len() > unit.len();
    let unit = unit.filter(|unit| list.len() > 1 && list.iter().all(|(_, text)| ends(text, unit)));
    let said = |slot: &Slot, text: &str| {
        let short = unit.and_then(|unit| text.strip_suffix(unit)).unwrap_or(text).trim_end();
        let words = slot.value().is_some_and(|value| value.value_si.is_none() && value.unit.is_none());
        if words && short.contains(' ') { format!("\"{short}\"") } else { short.to_owned() }
    };
    let unit_word = match unit {
        Some(unit @ "%") => unit.to_owned(),
        Some(unit) => format!(" {unit}"),
        None => String::new(),
    };
    let equal = list.len() > 2 && list.array_windows().all(|[one, next]| one.1 == next.1);
    if let ([(first, _), .., (last, text)], true) = (list, equal)
        && let (Some(from), Some(to)) = (&first.place, &last.place)
    {
        return format!("{from} to {to} {}{unit_word}", said(last, text));
    }
    let one = |(slot, text): &(&Slot, String)| match &slot.place {
        Some(place) => format!("{place} {}", said(slot, text)),
        None => said(slot, text),
    };
    list.iter().map(one).collect::<Vec<_>>().join(", ") + &unit_word
}

/// The corners that one cause concerns, what changed and on which day.
type Cause<'a> = (BTreeSet<Place>, BTreeSet<(&'a str, &'a str)>);

/// What a row needs said in words: stale readings, errors, disputes; corners that share a cause share a line.
fn notes(table: &mut Rows, row: Row, list: &[(&Slot, String)]) {
    let mut said: BTreeMap<(String, String), Cause<'_>> = BTreeMap::new();
    for (slot, _) in list {
        let (kind, line, changed) = match (row, slot.is, &slot.stale) {
            (Row::Read, _, _) if slot.benched_later => {
                let day = slot.read.as_ref().and_then(|read| read.date.as_deref()).unwrap_or_default();
                ("later", day.to_owned(), ("", ""))
            }
            (Row::Read, _, Some(stale)) => {
                let line = stale.because.as_ref().map_or_else(String::new, |line| references(&[line]));
                ("stale", line, (stale.changed.as_str(), stale.date.as_deref().unwrap_or_default()))
            }
            (Row::Lost, Is::Unknown, _) => ("unknown", words::and(&slot.needs), ("", "")),
            (Row::Lost, Is::Disputed, _) => {
                let said: Vec<String> = slot
                    .claims
                    .iter()
                    .map(|value| {
                        let lines: Vec<&LedgerLine> = value.line.iter().collect();
                        format!("{} says {}", references(&lines), value.text)
                    })
                    .collect();
                ("disputed", said.join(", "), ("", ""))
            }
            _ => continue,
        };
        let (corners, causes) = said.entry((kind.to_owned(), line)).or_default();
        corners.insert(slot.at);
        causes.insert(changed);
    }
    for ((kind, line), (places, changes)) in said {
        let words: Vec<&str> = list
            .iter()
            .filter(|(slot, _)| places.contains(&slot.at))
            .filter_map(|(slot, _)| slot.place.as_deref())
            .collect();
        let place = if places.len() == list.len() { String::new() } else { format!("{}: ", words.join(" ")) };
        table.under(match kind.as_str() {
            "stale" => {
                // One line is of one day.
                let day = changes.first().map_or("", |(_, day)| *day);
                let changes: Vec<&str> = changes.iter().map(|(what, _)| *what).collect();
                format!("{place}stale, {}", words::stale::came_after(&changes, day, &line))
            }
            "later" => format!("{place}{}", words::stale::benched_later(&line)),
            "unknown" if !line.is_empty() => format!("{place}not known: needs {line}"),
            "unknown" => {
                format!("{place}not known until the line named here is mended, or a value is stated after it")
            }
            _ => format!("{place}{line}, and no times decide which is later"),
        });
    }
}

fn parts_text(out: &mut String, parts: &[PartView], columns: usize) {
    let empty: Vec<&PartView> = parts.iter().filter(|part| part.part.is_none()).collect();
    out.push_str("\nparts\n");
    let what = |part: &PartView| {
        format!("{} {}", part.kind, part.place.as_deref().unwrap_or("")).trim_end().to_owned()
    };
    let most = |column: &dyn Fn(&PartView) -> usize| parts.iter().map(column).max().unwrap_or(0);
    let kinds = most(&|part| width(&what(part)));
    let names = most(&|part| part.part.as_deref().map_or(0, width));
    let specs = most(&|part| part.spec.as_deref().map_or(0, width));
    let mut table = Rows::default();
    for part in parts {
        let Some(name) = &part.part else { continue };
        let mut line = format!("  {} {}", left(&what(part), kinds), left(name, names));
        if specs > 0 {
            let _ = write!(line, " {}", left(part.spec.as_deref().unwrap_or(""), specs));
        }
        let _ = write!(line, " {}", amounts(&part.since_new));
        if let Some(rebuilt) = &part.since_rebuild {
            let _ = write!(line, "; {} since rebuild", amounts(rebuilt));
        }
        let lines: Vec<&LedgerLine> = part.line.iter().collect();
        table.push(&line, part.date.as_deref().unwrap_or(""), &lines);
        if part.carried {
            table.under("carried: it does not work there, and nothing counts it".to_owned());
        }
        if part.doubtful {
            table.under(MAY_BE_OFF.to_owned());
        }
        if !part.holds.is_empty() {
            table.under(format!("with {} in it", part.holds.join(", ")));
        }
    }
    table.write(out, 6, columns);
    if !empty.is_empty() {
        let places: Vec<String> = empty.iter().map(|part| what(part)).collect();
        out.push_str(&wrap(&format!("nothing there: {}", places.join(", ")), 2, columns));
    }
}

fn amounts(list: &[Amounted]) -> String {
    list.iter().map(|amount| amount.text.as_str()).collect::<Vec<_>>().join(", ")
}

fn jobs_text(out: &mut String, jobs: &[JobView], columns: usize) {
    out.push_str("\njobs to do\n");
    let names = jobs.iter().map(|job| width(&job.name)).max().unwrap_or(0);
    let mut table = Rows::default();
    for job in jobs {
        let lines: Vec<&LedgerLine> = job.line.iter().collect();
        table.push(&format!("  {} {}", left(&job.name, names), job.title), &job.opened, &lines);
        let mut words = match job.status {
            Status::Planned => vec!["planned for later".to_owned()],
            Status::Deferred => vec![format!("put off to {}", job.until.as_deref().unwrap_or("?"))],
            Status::Unknown => vec!["how it stands is not known: a line about it has an error".to_owned()],
            Status::Open | Status::Done => Vec::new(),
        };
        words.extend(job.part.as_ref().map(|part| format!("about {part}")));
        words.extend(job.promises.last().map(promised));
        if !words.is_empty() {
            table.under(words.join("; "));
        }
    }
    table.write(out, 2 + names + 1, columns);
}

/// "promised to The Varga syndicate by 2026-08-20".
fn promised(promise: &PromiseView) -> String {
    let whom = promise.client.as_ref().map_or_else(String::new, |client| format!(" to {client}"));
    let event = promise.before.as_ref().map_or_else(String::new, |event| format!(", before {event}"));
    format!("promised{whom} by {}{event}", promise.due)
}
