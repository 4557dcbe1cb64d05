//! Days as lines of a ledger.
//!
//! Every word in them is a name of the book, a checked number, or a note; nothing of a cell is copied that could be more. Must not
//! know what the book has already.

use super::days::{CarDay, Loose, Session};
use super::rows::Read;
use crate::book::Book;
use crate::book::names::Thing;
use crate::words::{clock, count};

/// One line, with what stands under it.
#[derive(Debug, Clone, Default)]
pub struct Line {
    /// Its words, without the indent; of a value line those before its values.
    pub words: String,
    /// Each value with its place, where it has one: `LF 26.5`.
    pub values: Vec<(Option<String>, String)>,
    /// What stands behind the values: the unit, the gauge.
    pub tail: String,
    /// The sheet's line.
    pub from: u32,
    /// Lines under it.
    pub under: Vec<Line>,
    /// Whether it is a session's.
    pub is_session: bool,
}

impl Line {
    fn of(words: String, from: u32) -> Self {
        Self { words, from, ..Self::default() }
    }

    /// Whether its time says where in the day it belongs.
    #[must_use]
    pub fn is_timed(&self) -> bool {
        self.words.starts_with(|c: char| c.is_ascii_digit())
    }

    /// The whole line, without the indent.
    #[must_use]
    pub fn text(&self) -> String {
        let mut text = self.words.clone();
        for (place, value) in &self.values {
            for word in place.iter().chain([value]) {
                text.push(' ');
                text.push_str(word);
            }
        }
        text.push_str(&self.tail);
        text
    }
}

/// A dated head with its lines.
#[derive(Debug, Clone)]
pub struct Block {
    /// The head.
    pub head: String,
    /// What stands below it.
    pub lines: Vec<Line>,
}

/// Every day as a block.
#[must_use]
pub fn blocks(days: &[CarDay], book: &Book) -> Vec<Block> {
    days.iter().map(|day| block(day, book)).filter(|block| !block.lines.is_empty()).collect()
}

/// The text of blocks, and of each line of it which it is, counted from 1: the indices from the block down.
#[must_use]
pub fn text(blocks: &[Block]) -> (String, Vec<(u32, Vec<usize>)>) {
    let (mut out, mut at, mut number) = (String::new(), Vec::new(), 0);
    for (index, block) in blocks.iter().enumerate() {
        if index > 0 {
            out.push('\n');
            number += 1;
        }
        out += &format!("{}\n", block.head);
        number += 1;
        for (line_at, line) in block.lines.iter().enumerate() {
            number += 1;
            out += &format!("  {}\n", line.text());
            at.push((number, vec![index, line_at]));
            for (under_at, under) in line.under.iter().enumerate() {
                number += 1;
                out += &format!("    {}\n", under.text());
                at.push((number, vec![index, line_at, under_at]));
            }
        }
    }
    (out, at)
}

fn block(day: &CarDay, book: &Book) -> Block {
    let event = day.event.known().cloned().or_else(|| held(day, book));
    let at = event.map_or_else(String::new, |event| format!(" at {event}"));
    let mut timed: Vec<(Option<u16>, Vec<Line>)> = Vec::new();
    for loose in &day.loose {
        timed.push((loose.time, of_loose(loose)));
    }
    let mut sessions: Vec<(Option<u16>, Vec<Line>)> =
        day.sessions.iter().map(|one| (one.start.known().copied(), of_session(one))).collect();
    // What has no time was read before the day began; the rest goes by the clock where all of it has one.
    let (mut lines, mut later): (Vec<_>, Vec<_>) = timed.into_iter().partition(|(time, _)| time.is_none());
    later.append(&mut sessions);
    if later.iter().all(|(time, _)| time.is_some()) {
        later.sort_by_key(|(time, _)| *time);
    }
    lines.append(&mut later);
    Block {
        head: format!("{} {}{at}", day.date, day.car),
        lines: lines.into_iter().flat_map(|(_, lines)| lines).collect(),
    }
}

/// The one event of the book that is held on a day and takes the car.
fn held(day: &CarDay, book: &Book) -> Option<String> {
    let Some(Thing::Car(car)) = book.names.find(&day.car) else { return None };
    let mut held =
        book.events.iter().filter(|event| (event.first..=event.last).contains(&day.date) && event.takes(car));
    match (held.next(), held.next()) {
        (Some(event), None) => Some(event.named.typed.to_string()),
        _ => None,
    }
}

fn time(minutes: u16) -> String {
    clock(minutes as i16)
}

fn of_loose(loose: &Loose) -> Vec<Line> {
    let at = loose.time.map_or_else(String::new, |minutes| format!("{} ", time(minutes)));
    let mut lines = values(&loose.values, loose.line);
    lines.extend(loose.notes.iter().map(|note| Line::of(format!("| {note}"), loose.line)));
    for line in &mut lines {
        line.words.insert_str(0, &at);
    }
    lines
}

fn of_session(session: &Session) -> Vec<Line> {
    let before: Vec<Read> = session.before().collect();
    let mut lines = values(&before, session.line);
    let mut words = match (session.start.known(), session.end.known()) {
        (Some(start), Some(end)) => format!("{}..{} ", time(*start), time(*end)),
        (Some(start), None) => format!("{} ", time(*start)),
        _ => String::new(),
    };
    words += &format!("run {}", session.label);
    if let Some(minutes) = session.minutes.known() {
        words += &format!("  {minutes} min");
    }
    let counted = u32::try_from(session.laps.len()).ok().filter(|laps| *laps > 0);
    if let Some(laps) = session.count.known().copied().or(counted) {
        words += &format!("  {}", count(laps, "lap", "laps"));
    }
    if let Some(best) = session.best.known() {
        words += &format!("  best {best}");
    }
    if let Some(driver) = session.driver.known() {
        words += &format!("  by {driver}");
    }
    let conditions: Vec<String> = session
        .conditions
        .iter()
        .filter_map(|(key, value)| Some(format!("{key} {}", value.known()?)))
        .collect();
    if !conditions.is_empty() {
        words += &format!("  with {}", conditions.join(", "));
    }
    let mut run = Line { is_session: true, ..Line::of(words, session.line) };
    if !session.laps.is_empty() {
        let laps: Vec<String> = session
            .laps
            .iter()
            .map(|lap| {
                lap.mark.as_ref().map_or_else(|| lap.time.clone(), |mark| format!("{} {mark}", lap.time))
            })
            .collect();
        run.under.push(Line::of(format!("laps {}", laps.join(" ")), session.line));
    }
    let after: Vec<Read> = session.after().collect();
    run.under.extend(values(&after, session.line));
    run.under.extend(session.notes.iter().map(|note| Line::of(format!("| {note}"), session.line)));
    lines.push(run);
    lines
}

/// Values of one sort that follow one another share a line.
fn values(reads: &[Read], from: u32) -> Vec<Line> {
    let joined = |one: &Read, two: &Read| {
        let (one_is, two_is) = (&one.what, &two.what);
        one_is.verb == two_is.verb
            // `toe-in` and `toe-out` are of one quantity, and no line says both.
            && one_is.word == two_is.word
            && one_is.quantity == two_is.quantity
            && one_is.unit == two_is.unit
            && one_is.form == two_is.form
            && one.gauge == two.gauge
            && one_is.place.is_some()
            && two_is.place.is_some()
    };
    let line = |group: &[Read]| {
        let first = group.first()?;
        let unit = first.what.unit.as_ref().map_or_else(String::new, |unit| format!(" {unit}"));
        let form = first.what.form.as_ref().map_or_else(String::new, |form| format!(" {form}"));
        let by = first.gauge.as_ref().map_or_else(String::new, |gauge| format!("  by {gauge}"));
        Some(Line {
            words: format!("{} {}", first.what.verb.word(), first.what.word),
            values: group.iter().map(|read| (read.what.place.clone(), read.typed.clone())).collect(),
            tail: format!("{unit}{form}{by}"),
            from,
            ..Line::default()
        })
    };
    reads.chunk_by(joined).filter_map(line).collect()
}
