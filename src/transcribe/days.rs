//! Rows gathered into days of a car and their sessions: each says a thing once, or it is left out and said.
//!
//! Must not know the sheet's columns, nor how a line is laid out.

use super::remark::Remark;
use super::rows::{Facts, Read};
use crate::book::entry::Verb;
use jiff::civil::Date;

/// Something that rows say once.
#[derive(Debug, Clone, PartialEq, Default)]
pub enum Once<T> {
    /// No row says it.
    #[default]
    Nothing,
    /// All that do say this.
    One(T),
    /// Two differ: nobody knows.
    Torn,
}

impl<T: PartialEq + Clone> Once<T> {
    /// Adds what a row says; `false` where it is the first to differ.
    fn add(&mut self, value: Option<&T>) -> bool {
        match (&*self, value) {
            (_, None) | (Self::Torn, _) => true,
            (Self::Nothing, Some(value)) => {
                *self = Self::One(value.clone());
                true
            }
            (Self::One(before), Some(value)) if before == value => true,
            (Self::One(_), Some(_)) => {
                *self = Self::Torn;
                false
            }
        }
    }

    /// What all say.
    #[must_use]
    pub const fn known(&self) -> Option<&T> {
        if let Self::One(value) = self { Some(value) } else { None }
    }
}

/// A lap: its number where one is told, its time, what it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Lap {
    /// Its number.
    pub number: Option<u32>,
    /// Its time.
    pub time: String,
    /// `in-lap`, say.
    pub mark: Option<String>,
}

/// A session of a car on a day.
#[derive(Debug, Clone, Default)]
pub struct Session {
    /// Its label.
    pub label: String,
    /// Minutes of the day.
    pub start: Once<u16>,
    /// Minutes of the day.
    pub end: Once<u16>,
    /// By his name in the book.
    pub driver: Once<String>,
    /// As typed.
    pub minutes: Once<String>,
    /// Counted by the sheet.
    pub count: Once<u32>,
    /// As a ledger has it.
    pub best: Once<String>,
    /// `air`, `14 C`.
    pub conditions: Vec<(String, Once<String>)>,
    /// In their order.
    pub laps: Vec<Lap>,
    /// Values, each once: those set, found and left before it, those read at its end.
    pub values: Vec<(Read, Once<String>)>,
    /// Words.
    pub notes: Vec<String>,
    /// The first line of the sheet that tells of it.
    pub line: u32,
}

/// What was read outside a session, of one row.
#[derive(Debug, Clone, Default)]
pub struct Loose {
    /// Minutes of the day.
    pub time: Option<u16>,
    /// Values.
    pub values: Vec<Read>,
    /// Words.
    pub notes: Vec<String>,
    /// The sheet's line.
    pub line: u32,
}

/// A day of a car.
#[derive(Debug, Clone, Default)]
pub struct CarDay {
    /// The day.
    pub date: Date,
    /// The car.
    pub car: String,
    /// The event, where rows say it.
    pub event: Once<String>,
    /// Outside sessions, in the order of the rows.
    pub loose: Vec<Loose>,
    /// In the order of their beginnings where all tell one, else in the order of the rows.
    pub sessions: Vec<Session>,
}

/// Gathers rows. Where a sheet's days only ever go back, its newest row is the first, and it is read from below.
pub fn gather(mut rows: Vec<Facts>, remarks: &mut Vec<Remark>) -> Vec<CarDay> {
    let back = rows.windows(2).all(|two| matches!(two, [one, next] if next.date <= one.date));
    if back && rows.first().map(|row| row.date) != rows.last().map(|row| row.date) {
        rows.reverse();
    }
    let mut days: Vec<CarDay> = Vec::new();
    for row in &rows {
        let at =
            days.iter().rposition(|day| day.date == row.date && day.car == row.car).unwrap_or(days.len());
        if at == days.len() {
            days.push(CarDay { date: row.date, car: row.car.clone(), ..CarDay::default() });
        }
        let Some(day) = days.get_mut(at) else { continue };
        let mut say = |text: String| remarks.push(Remark { line: row.line, text });
        if !day.event.add(row.event.as_ref()) {
            say(format!(
                "{} {} is at two events by its rows; the head is left without one",
                day.date, day.car
            ));
        }
        match &row.session {
            Some(label) => session(day, label, row, &mut say),
            None => loose(day, row, &mut say),
        }
    }
    for day in &mut days {
        for session in &mut day.sessions {
            numbered(session, remarks);
        }
        if day.sessions.iter().all(|session| session.start.known().is_some()) {
            day.sessions.sort_by_key(|session| session.start.known().copied());
        }
    }
    days.sort_by_key(|day| day.date);
    days
}

fn session(day: &mut CarDay, label: &str, row: &Facts, say: &mut impl FnMut(String)) {
    let at = day.sessions.iter().position(|one| one.label == label).unwrap_or(day.sessions.len());
    if at == day.sessions.len() {
        day.sessions.push(Session { label: label.to_owned(), line: row.line, ..Session::default() });
    }
    let Some(into) = day.sessions.get_mut(at) else { return };
    // A row that is one lap tells when the lap began, not the session: the first is its beginning.
    let of_lap = row.lap.is_some();
    if of_lap {
        if into.start == Once::Nothing && matches!(row.lap, Some(0 | 1)) {
            into.start.add(row.start.as_ref());
        }
    } else if !into.start.add(row.start.as_ref()) {
        say(format!("{label} begins at two times by its rows; it is left without one"));
    }
    let mut once = |same: bool, what: &str| {
        if !same {
            say(format!("{label} has two {what} by its rows; it is left without any"));
        }
    };
    once(into.end.add(row.end.as_ref()), "ends");
    once(into.driver.add(row.driver.as_ref()), "drivers");
    once(into.minutes.add(row.minutes.as_ref()), "lengths in minutes");
    once(into.count.add(row.laps.as_ref()), "numbers of laps");
    once(into.best.add(row.best.as_ref()), "best laps");
    for (key, said) in &row.conditions {
        let known = into.conditions.iter().position(|(one, _)| one == key).unwrap_or(into.conditions.len());
        if known == into.conditions.len() {
            into.conditions.push((key.clone(), Once::Nothing));
        }
        if let Some((_, value)) = into.conditions.get_mut(known) {
            once(value.add(Some(said)), &format!("values of {key}"));
        }
    }
    for read in &row.values {
        let same = |(one, _): &(Read, _)| {
            one.what.verb == read.what.verb
                && one.what.quantity == read.what.quantity
                && one.what.place == read.what.place
        };
        let known = into.values.iter().position(same).unwrap_or(into.values.len());
        if known == into.values.len() {
            into.values.push((read.clone(), Once::Nothing));
        }
        if let Some((_, value)) = into.values.get_mut(known) {
            let place = read.what.place.as_ref().map_or_else(String::new, |place| format!(" at {place}"));
            once(value.add(Some(&read.typed)), &format!("values of {}{place}", read.what.word));
        }
    }
    if let Some(time) = &row.time {
        into.laps.push(Lap { number: row.lap, time: time.clone(), mark: row.mark.clone() });
    }
    for note in &row.notes {
        if !into.notes.contains(note) {
            into.notes.push(note.clone());
        }
    }
}

fn loose(day: &mut CarDay, row: &Facts, say: &mut impl FnMut(String)) {
    let of_session = row.time.is_some()
        || row.best.is_some()
        || row.laps.is_some()
        || row.minutes.is_some()
        || row.end.is_some()
        || !row.conditions.is_empty();
    if of_session {
        say("the row has no session; what it says of laps, minutes and conditions is left out".to_owned());
    }
    if !row.values.is_empty() || !row.notes.is_empty() {
        day.loose.push(Loose {
            time: row.start,
            values: row.values.clone(),
            notes: row.notes.clone(),
            line: row.line,
        });
    }
}

/// Laps in the order of their numbers. A number that two rows give different times has none, and then the laps after it would have
/// the wrong numbers: none is kept.
fn numbered(session: &mut Session, remarks: &mut Vec<Remark>) {
    let numbers = session.laps.iter().filter(|lap| lap.number.is_some()).count();
    if numbers == 0 {
        return;
    }
    let mut say = |text: String| remarks.push(Remark { line: session.line, text });
    let label = &session.label;
    if numbers < session.laps.len() {
        say(format!("some laps of {label} have a number and some have none; its laps are left out"));
        session.laps.clear();
        return;
    }
    session.laps.sort_by_key(|lap| lap.number);
    session.laps.dedup();
    let twice = session.laps.windows(2).find_map(|two| match two {
        [one, next] if one.number == next.number => one.number,
        _ => None,
    });
    if let Some(number) = twice {
        say(format!("lap {number} of {label} has two times; its laps are left out"));
        session.laps.clear();
        return;
    }
    let last = session.laps.last().and_then(|lap| lap.number).unwrap_or_default();
    let first = session.laps.first().and_then(|lap| lap.number).unwrap_or_default();
    let run = last.saturating_sub(first) + 1;
    if first > 1 || run as usize != session.laps.len() {
        let lacks =
            (1..=last.min(10_000)).find(|number| !session.laps.iter().any(|lap| lap.number == Some(*number)));
        say(format!(
            "lap {} of {label} has no time on the sheet; the laps printed are numbered without it",
            lacks.unwrap_or_default()
        ));
    }
}

impl Session {
    /// Values of its settings, which stand before it.
    pub fn before(&self) -> impl Iterator<Item = Read> + '_ {
        self.kept(|verb| verb != Verb::Read)
    }

    /// Values read at its end, which stand under it.
    pub fn after(&self) -> impl Iterator<Item = Read> + '_ {
        self.kept(|verb| verb == Verb::Read)
    }

    fn kept(&self, wanted: fn(Verb) -> bool) -> impl Iterator<Item = Read> + '_ {
        let known = move |(read, value): &(Read, Once<String>)| {
            let typed = value.known()?.clone();
            wanted(read.what.verb).then(|| Read { typed, ..read.clone() })
        };
        self.values.iter().filter_map(known)
    }
}
