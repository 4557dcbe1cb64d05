//! A dated head.

use super::Reader;
use super::line::is_offset;
use crate::book::HEAD_CLAUSES;
use crate::book::clauses::{client_here, event_here, look_up};
use crate::book::dates::{YEARS, clock, date, offset};
use crate::book::declare::{no_date, of_date};
use crate::book::entry::Head;
use crate::book::names::Thing;
use crate::book::trouble::{Trouble, What};
use crate::source::Span;
use crate::syntax::{Cursor, Line, Shape};

impl Reader<'_> {
    /// Reads a head; `None` when its date is none, and then its block says nothing (one mistake, one message).
    pub(super) fn head(&mut self, line: &Line) -> Option<Head> {
        let mut cur =
            Cursor::new(self.chunk.file, self.text, self.chunk.words_of(line), (line.start, line.end));
        let word = cur.take(Shape::Date)?;
        let typed = cur.str(word);
        let day = match date(typed.split_once("..").map_or(typed, |(first, _)| first)) {
            Ok(_) if typed.contains("..") => Err(What::HeadRange),
            Ok(day) if !YEARS.contains(&day.year()) => Err(What::YearFar),
            Ok(day) => Ok(day),
            Err(trouble) => Err(of_date(trouble)),
        };
        let day = match day {
            Ok(day) => day,
            Err(what) => {
                self.trouble(Trouble { span: cur.span(word), what });
                return None;
            }
        };
        let first = self.out.entries.next_key();
        let mut head = Head {
            span: cur.said(),
            date: day,
            car: None,
            event: None,
            clock: None,
            offset: None,
            person: None,
            written: None,
            owner: None,
            car_unknown: false,
            event_unknown: false,
            first,
            end: first,
        };
        let mut told = self.head_start(&mut cur, &mut head).err();
        // What stands beside a mistake is read all the same; of several the first is said.
        let mut stated = [None; HEAD_CLAUSES.len()];
        while !cur.is_done() {
            let before = cur.here();
            if let Err(trouble) = self.head_clause(&mut cur, &mut head, &mut stated) {
                told.get_or_insert(trouble);
                if cur.here() == before {
                    cur.bump();
                }
            }
        }
        if let Some(trouble) = told {
            // Its lines may be about a car that stands after the mistake, and must not each miss it.
            head.car_unknown |= head.car.is_none();
            self.trouble(trouble);
        }
        Some(head)
    }

    /// The time and the car.
    fn head_start(&self, cur: &mut Cursor<'_>, head: &mut Head) -> Result<(), Trouble> {
        let names = &self.book.names;
        if let Some(word) = cur.take(Shape::Clock) {
            let (start, _) =
                clock(cur.str(word)).ok_or(Trouble { span: cur.span(word), what: What::ClockImpossible })?;
            head.clock = Some(start as u16);
            if let Some(apart) = cur.peek().filter(|next| is_offset(cur.str(*next))) {
                let wrong = Trouble { span: cur.span(apart), what: What::ClockImpossible };
                head.offset = Some(offset(cur.str(apart)).ok_or(wrong)?);
                cur.bump();
            }
        }
        let keyword = |cur: &Cursor<'_>| {
            cur.peek().is_some_and(|word| {
                HEAD_CLAUSES.iter().any(|keyword| cur.str(word).eq_ignore_ascii_case(keyword))
            })
        };
        if cur.peek().is_some_and(|word| word.shape == Shape::Word) && !keyword(cur) {
            let car = look_up(cur, names, "car", |thing| match thing {
                Thing::Car(id) => Some(id),
                _ => None,
            });
            // The block's lines cannot be laid to any car, and must not each say so again.
            head.car_unknown = car.is_err();
            head.car = Some(car?);
            cur.bump();
        }
        Ok(())
    }

    /// A clause of a head, or its words; past it where it can be read.
    fn head_clause(
        &self,
        cur: &mut Cursor<'_>,
        head: &mut Head,
        stated: &mut [Option<Span>; HEAD_CLAUSES.len()],
    ) -> Result<(), Trouble> {
        let names = &self.book.names;
        let Some(word) = cur.peek() else { return Ok(()) };
        let text = cur.str(word);
        let mut clauses = HEAD_CLAUSES.into_iter().zip(stated);
        if let Some((clause, slot)) = clauses.find(|(clause, _)| text.eq_ignore_ascii_case(clause))
            && let Some(before) = slot.replace(cur.span(word))
        {
            if clause == "at" {
                (head.event, head.event_unknown) = (None, true);
            }
            return Err(Trouble { span: cur.span(word), what: What::ClauseTwice(clause, before) });
        }
        if cur.take_keyword("at") {
            let event = event_here(cur, names);
            head.event_unknown |= event.is_err();
            head.event = Some(event?);
        } else if cur.take_keyword("by") {
            head.person = Some(look_up(cur, names, "person", |thing| names.person(thing))?);
            cur.bump();
        } else if cur.take_keyword("for") {
            head.owner = Some(client_here(cur, names)?);
        } else if cur.take_keyword("written") {
            let Some(word) = cur.take(Shape::Date) else {
                return Err(no_date(cur, "written", "a date"));
            };
            let day = date(cur.str(word));
            head.written =
                Some(day.map_err(|trouble| Trouble { span: cur.span(word), what: of_date(trouble) })?);
        } else if word.shape == Shape::Text {
            cur.bump();
        } else {
            let near = crate::book::names::nearest(text, HEAD_CLAUSES.into_iter());
            match names.find(text) {
                // Of two cars nobody knows which the block is about.
                Some(Thing::Car(car)) if head.car != Some(car) => (head.car, head.car_unknown) = (None, true),
                Some(Thing::Event(_)) => head.event_unknown |= head.event.is_none(),
                _ => head.event_unknown |= head.event.is_none() && near.as_deref() == Some("at"),
            }
            return Err(Trouble { span: cur.span(word), what: What::WordUnexpected { near } });
        }
        Ok(())
    }
}
