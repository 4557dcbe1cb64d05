//! What each row says, in the book's own names: the day, the car, the session, and the values of its cells.
//!
//! Must not know how rows go together.

use super::cell::{self, Numbers, Order};
use super::mapping::Mapping;
use super::meaning::{Columns, Meaning, Value, Word};
use super::remark::Remark;
use super::sheet::{Row, Sheet};
use super::ways;
use crate::book::Book;
use crate::book::names::{Thing, is_name, same};
use crate::book::verbs::LAP_MARKS;
use crate::syntax::QUOTES;
use crate::units::table;
use crate::words;
use jiff::civil::Date;

/// A value with the line of the sheet it stands on.
#[derive(Debug, Clone, PartialEq)]
pub struct Read {
    /// What the column is.
    pub what: Value,
    /// The digits, or quoted words, as a ledger has them.
    pub typed: String,
    /// The gauge, by its name in the book.
    pub gauge: Option<String>,
}

/// What one row says.
#[derive(Debug, Clone, Default)]
pub struct Facts {
    /// The sheet's line.
    pub line: u32,
    /// The day.
    pub date: Date,
    /// The car, as the book has its name.
    pub car: String,
    /// The event, as the book has its name.
    pub event: Option<String>,
    /// The session's label.
    pub session: Option<String>,
    /// Minutes of the day at which it began, or the row was read.
    pub start: Option<u16>,
    /// And at which it ended.
    pub end: Option<u16>,
    /// Who drove, by his name in the book.
    pub driver: Option<String>,
    /// Typed minutes.
    pub minutes: Option<String>,
    /// How many laps.
    pub laps: Option<u32>,
    /// The best lap.
    pub best: Option<String>,
    /// The lap's number.
    pub lap: Option<u32>,
    /// The lap's time.
    pub time: Option<String>,
    /// What the lap was.
    pub mark: Option<String>,
    /// `with air 14 C`.
    pub conditions: Vec<(String, String)>,
    /// Values.
    pub values: Vec<Read>,
    /// Notes, a line each.
    pub notes: Vec<String>,
}

/// Reads every row.
///
/// # Errors
/// A sentence: something on the sheet can be read in two ways, or the mapping says what the book does not have.
pub fn read(
    sheet: &Sheet,
    columns: &Columns,
    mapping: &Mapping,
    book: &Book,
    read_as: &mut Vec<String>,
    remarks: &mut Vec<Remark>,
) -> Result<Vec<Facts>, String> {
    let numbers = ways::numbers(sheet, columns, mapping, read_as)?;
    let order = ways::order(sheet, columns, mapping, read_as)?;
    let row_reader = Reader { columns, mapping, book, numbers, order };
    row_reader.fixed()?;
    let mut all = Vec::new();
    for row in &sheet.rows {
        let mut wrong = Vec::new();
        let facts = row_reader.row(row, sheet, &mut wrong);
        remarks.extend(wrong.into_iter().map(|text| Remark { line: row.line, text }));
        all.extend(facts);
    }
    Ok(all)
}

struct Reader<'a> {
    columns: &'a Columns,
    mapping: &'a Mapping,
    book: &'a Book,
    numbers: Numbers,
    order: Order,
}

impl Reader<'_> {
    /// What the mapping says of every row.
    fn fixed(&self) -> Result<(), String> {
        let Mapping { car, event, driver, gauge, date, session, .. } = self.mapping;
        let said = |of: &str, wrong: String| format!("`{of}` in the mapping: {wrong}");
        for (key, value, find) in [
            ("car", car, Self::car as fn(&Self, &str) -> Result<String, String>),
            ("event", event, Self::event),
            ("driver", driver, Self::driver),
            ("gauge", gauge, Self::gauge),
            ("session", session, Self::session),
        ] {
            if let Some(value) = value {
                find(self, value).map_err(|wrong| said(key, wrong))?;
            }
        }
        if let Some(date) = date
            && cell::day(date, Order::YearMonthDay).is_none()
        {
            return Err(said("date", format!("`{date}` is no day; a day goes 2026-05-10")));
        }
        let has = |word: Word| self.columns.values().any(|meaning| *meaning == Meaning::Word(word));
        for (word, key, value) in [(Word::Date, "date", date), (Word::Car, "car", car)] {
            match (has(word), value.is_some()) {
                (false, false) => {
                    return Err(format!(
                        "nothing says the {key} of a row: name the column that does, or write `{key} = \"...\"` above the columns"
                    ));
                }
                (true, true) => {
                    return Err(format!("the mapping says the {key} of every row, and that a column does"));
                }
                _ => {}
            }
        }
        Ok(())
    }

    fn found<T>(&self, word: &str, what: &str, find: impl Fn(Thing) -> Option<T>) -> Result<T, String> {
        let word = self.mapping.word(word);
        self.book.names.find(word).and_then(&find).ok_or_else(|| {
            let near = self.book.names.near(word, |thing| find(thing).is_some());
            let cure = near.map_or_else(
                || {
                    let word = word.replace('"', "");
                    format!("a line such as \"{word}\" = \"name\" below `[words]` says which")
                },
                words::did_you_mean,
            );
            format!("`{word}` is no {what} of the book; {cure}")
        })
    }

    fn car(&self, word: &str) -> Result<String, String> {
        let id = self.found(word, "car", |thing| if let Thing::Car(id) = thing { Some(id) } else { None })?;
        Ok(self.book.cars.get(id).map_or_else(String::new, |car| car.named.typed.to_string()))
    }

    fn event(&self, word: &str) -> Result<String, String> {
        let id =
            self.found(word, "event", |thing| if let Thing::Event(id) = thing { Some(id) } else { None })?;
        Ok(self.book.events.get(id).map_or_else(String::new, |event| event.named.typed.to_string()))
    }

    fn gauge(&self, word: &str) -> Result<String, String> {
        let id =
            self.found(word, "gauge", |thing| if let Thing::Gauge(id) = thing { Some(id) } else { None })?;
        Ok(self.book.gauges.get(id).map_or_else(String::new, |gauge| gauge.named.typed.to_string()))
    }

    /// By his name, or by the words that the book has for him.
    fn driver(&self, word: &str) -> Result<String, String> {
        let plain = self.mapping.word(word);
        let titled = self.book.people.iter().filter(|one| same(&one.named.title, plain));
        let titled: Vec<&str> = titled.map(|one| &*one.named.typed).collect();
        if let [one] = titled.as_slice() {
            return Ok((*one).to_owned());
        }
        let id = self.found(word, "person", |thing| self.book.names.person(thing))?;
        Ok(self.book.people.get(id).map_or_else(String::new, |person| person.named.typed.to_string()))
    }

    /// A label: as it is where it can be one, a bare number behind an `s`, else its words with `-` between them.
    fn session(&self, word: &str) -> Result<String, String> {
        let word = self.mapping.word(word).trim();
        let label = if word.bytes().all(|byte| byte.is_ascii_digit()) {
            format!("s{word}")
        } else {
            let parts: Vec<&str> =
                word.split(|c: char| c.is_whitespace() || matches!(c, '_' | '/' | ':')).collect();
            parts.into_iter().filter(|part| !part.is_empty()).collect::<Vec<_>>().join("-").to_lowercase()
        };
        let first = label.chars().next().is_some_and(char::is_alphabetic);
        if first && is_name(&label) && label.len() <= 60 {
            Ok(label)
        } else {
            Err(format!(
                "`{word}` cannot be a session's label; a line such as \"{}\" = \"s1\" below `[words]` says its label",
                word.replace('"', "")
            ))
        }
    }

    /// What a row says; nothing where its day, its car or its session cannot be read, since then nobody knows what it is about.
    fn row(&self, row: &Row, sheet: &Sheet, wrong: &mut Vec<String>) -> Option<Facts> {
        let mut facts = Facts { line: row.line, ..Facts::default() };
        let (mut date, mut car) = (None, None);
        let Mapping { event, session, driver, gauge, .. } = self.mapping;
        if let Some(text) = &self.mapping.date {
            date = cell::day(text, Order::YearMonthDay).map(|(date, _)| date);
        }
        if let Some(text) = &self.mapping.car {
            car = self.car(text).ok();
        }
        facts.event = event.as_ref().and_then(|text| self.event(text).ok());
        facts.session = session.as_ref().and_then(|text| self.session(text).ok());
        facts.driver = driver.as_ref().and_then(|text| self.driver(text).ok());
        let mut gauge = gauge.as_ref().and_then(|text| self.gauge(text).ok());
        if let Some(more) = sheet.beyond(row) {
            // A comma too many moves every cell behind it under another head.
            wrong.push(format!("{more}; the row is left out"));
            return None;
        }
        // Without these nobody knows what a row is about.
        let mut lost = None;
        for (at, meaning) in self.columns {
            let Some(text) = row.cells.get(*at).filter(|text| !cell::is_empty(text)) else { continue };
            let of_column = |why: String| format!("{}: {why}", sheet.name(*at));
            let mut lose = |why: String| lost = Some(of_column(why));
            let mut refuse = |why: String| wrong.push(of_column(why));
            match meaning {
                Meaning::Word(Word::Date) => match cell::day(text, self.order) {
                    Some((day, time)) => {
                        date = Some(day);
                        facts.start = facts.start.or(time);
                    }
                    None => lose(format!("`{text}` is no day")),
                },
                Meaning::Word(Word::Car) => match self.car(text) {
                    Ok(found) => car = Some(found),
                    Err(why) => lose(why),
                },
                Meaning::Word(Word::Session) => match self.session(text) {
                    Ok(found) => facts.session = Some(found),
                    Err(why) => lose(why),
                },
                Meaning::Word(Word::Event) => keep(&mut facts.event, self.event(text), &mut refuse),
                Meaning::Word(Word::Driver) => keep(&mut facts.driver, self.driver(text), &mut refuse),
                Meaning::Word(Word::Gauge) => keep(&mut gauge, self.gauge(text), &mut refuse),
                Meaning::Word(Word::Start) => keep(&mut facts.start, time(text), &mut refuse),
                Meaning::Word(Word::End) => keep(&mut facts.end, time(text), &mut refuse),
                Meaning::Word(Word::Laps) => keep(&mut facts.laps, whole(text), &mut refuse),
                Meaning::Word(Word::Lap) => keep(&mut facts.lap, whole(text), &mut refuse),
                Meaning::Word(Word::Best) => keep(&mut facts.best, self.lap(text), &mut refuse),
                Meaning::Word(Word::LapTime) => keep(&mut facts.time, self.lap(text), &mut refuse),
                Meaning::Word(Word::Minutes) => {
                    keep(&mut facts.minutes, self.number(text, Some("min")), &mut refuse);
                }
                Meaning::Word(Word::Mark) => keep(&mut facts.mark, self.mark(text), &mut refuse),
                Meaning::Word(Word::Note) => facts.notes.extend(note(text)),
                Meaning::Condition { key, unit } => match self.number(text, unit.as_deref()) {
                    Ok(digits) => {
                        let unit = unit.as_ref().map_or_else(String::new, |unit| format!(" {unit}"));
                        facts.conditions.push((key.clone(), format!("{digits}{unit}")));
                    }
                    Err(why) => refuse(why),
                },
                Meaning::Value(value) => {
                    let typed =
                        if value.text { quoted(text) } else { self.number(text, value.unit.as_deref()) };
                    match typed {
                        Ok(typed) => facts.values.push(Read { what: value.clone(), typed, gauge: None }),
                        Err(why) => refuse(why),
                    }
                }
            }
        }
        for value in &mut facts.values {
            value.gauge.clone_from(&gauge);
        }
        let lacks = match (date, &car) {
            (None, _) => Some("the row has no day".to_owned()),
            (_, None) => Some("the row has no car".to_owned()),
            _ => None,
        };
        if let Some(why) = lost.or(lacks) {
            // What else is wrong with it is of no use to anybody.
            *wrong = vec![format!("{why}; the row is left out")];
            return None;
        }
        (facts.date, facts.car) = (date?, car?);
        Some(facts)
    }

    fn lap(&self, text: &str) -> Result<String, String> {
        let way = cell::lap(text, self.numbers);
        way.ok_or_else(|| format!("`{text}` is no lap time"))
    }

    /// Digits; a unit behind them must be the mapping's.
    fn number(&self, text: &str, unit: Option<&str>) -> Result<String, String> {
        let Some((digits, own)) = cell::number(text, self.numbers) else {
            return Err(format!("`{text}` is no number"));
        };
        let is_same = |own: &str| {
            unit.is_some_and(|unit| {
                own.eq_ignore_ascii_case(unit)
                    || same_unit(own, unit)
                    || own.trim_start_matches('\u{B0}') == unit
            })
        };
        match own {
            Some(own) if !is_same(own) => Err(format!(
                "`{text}` has `{own}` behind it, and the mapping says {}",
                unit.map_or_else(|| "no unit".to_owned(), |unit| format!("`{unit}`"))
            )),
            _ => Ok(digits),
        }
    }

    fn mark(&self, text: &str) -> Result<String, String> {
        let word = self.mapping.word(text).to_lowercase();
        if LAP_MARKS.contains(&word.as_str()) {
            Ok(word)
        } else {
            Err(format!(
                "`{text}` marks no lap; a line such as \"{}\" = \"in-lap\" below `[words]` says what it is",
                text.replace('"', "")
            ))
        }
    }
}

/// Two spellings of one unit.
fn same_unit(one: &str, other: &str) -> bool {
    crate::units::DimensionId::all().any(|kind| {
        let found = table().find_one(one, kind);
        found.is_some() && found == table().find_one(other, kind)
    })
}

fn keep<T>(into: &mut Option<T>, read: Result<T, String>, refuse: &mut impl FnMut(String)) {
    match read {
        Ok(value) => *into = Some(value),
        Err(why) => refuse(why),
    }
}

fn time(text: &str) -> Result<u16, String> {
    cell::time(text)
        .or_else(|| cell::day(text, Order::YearMonthDay).and_then(|(_, time)| time))
        .ok_or_else(|| format!("`{text}` is no time of day"))
}

fn whole(text: &str) -> Result<u32, String> {
    let digits = text.bytes().all(|byte| byte.is_ascii_digit());
    text.parse().ok().filter(|_| digits).ok_or_else(|| format!("`{text}` is no whole number"))
}

/// Words of a text quantity, as a ledger has them.
fn quoted(text: &str) -> Result<String, String> {
    if text.contains(QUOTES) || text.contains(char::is_control) || text.contains(crate::visible::hides) {
        return Err(format!("`{text}` has a character in it that no quoted words can have"));
    }
    Ok(format!("\"{text}\""))
}

/// The lines of a note.
fn note(text: &str) -> Vec<String> {
    let lines = text.lines().map(|line| {
        let plain: String =
            line.chars().map(|c| if c.is_control() || crate::visible::hides(c) { ' ' } else { c }).collect();
        plain.split_whitespace().collect::<Vec<_>>().join(" ")
    });
    lines.filter(|line| !line.is_empty()).collect()
}
