//! Lines of a story whose every moment is known, typed as a clock on the wall showed it: what the book then counts is true or is not
//! counted, and what it does not count it says. Zones and instants are jiff's own, taken straight.

use super::book::chooser::{Chooser, stretch};
use super::hunt::books;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use std::fmt::Write as _;
use stringline::book::entry::EntryId;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// Zones, with the eve of a change of each: forward and back, by an hour and by half of one, at midnight too.
const PLACES: [(&str, &str); 12] = [
    ("Europe/Dublin", "2026-03-28"),
    ("Europe/Dublin", "2026-10-24"),
    ("America/St_Johns", "2026-03-07"),
    ("America/St_Johns", "2026-10-31"),
    ("Australia/Lord_Howe", "2026-04-04"),
    ("Australia/Lord_Howe", "2026-10-03"),
    ("Pacific/Auckland", "2026-04-04"),
    ("Pacific/Chatham", "2026-09-26"),
    ("Africa/Casablanca", "2026-02-14"),
    ("America/Santiago", "2026-04-04"),
    ("America/Santiago", "2026-09-05"),
    ("America/Sao_Paulo", "2026-02-14"),
];

/// How a story is typed.
#[derive(Clone, Copy, PartialEq)]
enum Typed {
    /// What the clock showed.
    Bare,
    /// With its offset behind every time.
    Offsets,
    /// With a slip in some times.
    Slips,
}

/// A line of the story: when it really was, and how long it really took.
struct Told {
    start: i32,
    minutes: Option<i32>,
    /// It stands under a session.
    under: bool,
}

struct Story<'a> {
    pick: Chooser<'a>,
    zone: TimeZone,
    typed: Typed,
    now: i32,
    text: String,
    told: Vec<Told>,
    date: Date,
}

impl Story<'_> {
    fn civil(&self, at: i32) -> (Date, i32, i32) {
        let stamp = Timestamp::from_second(i64::from(at) * 60).unwrap();
        let civil = self.zone.to_datetime(stamp);
        let ahead = self.zone.to_offset(stamp).seconds() / 60;
        (civil.date(), i32::from(civil.hour()) * 60 + i32::from(civil.minute()), ahead)
    }

    fn face(&mut self, at: i32) -> String {
        let (_, clock, ahead) = self.civil(at);
        let clock = if self.typed == Typed::Slips && self.pick.chance(20) {
            self.pick.between(0, 1439)
        } else {
            clock
        };
        let offset = match self.typed {
            Typed::Offsets => format!(" {}", stringline::words::offset(ahead as i16)),
            _ => String::new(),
        };
        format!("{:02}:{:02}{offset}", clock / 60, clock % 60)
    }

    /// A line without a length.
    fn think(&mut self, indent: &str, typed: &str, at: i32, under: bool) {
        writeln!(self.text, "{indent}{typed}think \"l{}\"", self.told.len()).unwrap();
        self.told.push(Told { start: at, minutes: None, under });
    }

    /// A session, perhaps with its minutes typed, with lines under it that are of its end, and with a line below that was within it.
    fn session(&mut self) {
        let minutes = self.pick.between(1, 150);
        let (from, to) = (self.face(self.now), self.face(self.now + minutes));
        let long = if self.pick.chance(30) { format!("  {minutes} min") } else { String::new() };
        writeln!(self.text, "  {from}..{to} run s{}{long}", self.told.len()).unwrap();
        self.told.push(Told { start: self.now, minutes: Some(minutes), under: false });
        if self.pick.chance(25) {
            self.think("    ", "", self.now + minutes, true);
        }
        if minutes > 1 && self.pick.chance(25) {
            let within = self.now + self.pick.between(1, minutes - 1);
            let at = self.face(within);
            self.think("  ", &format!("{at} "), within, false);
        }
        self.now += minutes;
    }

    fn block(&mut self) {
        self.date = self.civil(self.now).0;
        let head = if self.pick.chance(30) { format!("{} ", self.face(self.now)) } else { String::new() };
        writeln!(self.text, "{} {head}heron", self.date).unwrap();
        let mut past = false;
        for _ in 0..self.pick.between(1, 6) {
            self.now += self.pick.between(1, 100);
            let (date, clock, _) = self.civil(self.now);
            // After midnight a block goes on only behind a session that did, and not till the next evening.
            if date != self.date && (!past || clock > 600) {
                return;
            }
            if self.pick.chance(60) {
                self.session();
                past |= self.civil(self.now).0 != self.date;
            } else {
                let at = self.face(self.now);
                self.think("  ", &format!("{at} "), self.now, false);
            }
        }
    }
}

/// A story typed so: its book and what really was.
fn story(seed: u64, typed: Typed) -> (Compiled, Vec<Told>, String) {
    let bytes = stretch(seed, 400);
    let mut pick = Chooser::new(&bytes);
    let (name, eve) = pick.of(&PLACES);
    let zone = TimeZone::get(name).unwrap();
    let date: Date = eve.parse().unwrap();
    let noon = zone.to_timestamp(date.at(12, 0, 0, 0)).unwrap().as_second() / 60;
    let now = noon as i32 + pick.between(0, 700);
    let text = format!("shop \"S\"  zone {name}\ncar heron \"Heron\"\n");
    let mut story = Story { pick, zone, typed, now, text, told: Vec::new(), date };
    for _ in 0..story.pick.between(1, 4) {
        story.block();
        story.now += story.pick.between(1, 200);
    }
    let Story { text, told, .. } = story;
    let book = compile(&Memory::new(&[("a.sline", &text)], Timestamp::constant(1_793_534_400, 0))).unwrap();
    assert_eq!(book.book.entries.len(), told.len(), "{text}");
    (book, told, text)
}

/// Checks that ask about a time.
const ASK: [&str; 5] =
    ["clock-twice", "clock-skipped", "clock-offset-wrong", "times-backward", "ends-before-start"];

fn asked(book: &Compiled, entry: EntryId) -> bool {
    let line = book.book.entries[entry].span();
    book.diagnostics.iter().any(|one| {
        let at = one.at.as_ref().map(|mark| mark.span);
        ASK.contains(&one.check) && at.is_some_and(|at| (line.start..line.end).contains(&at.start))
    })
}

/// The lines of a block keep their order, whatever the times say.
fn in_order(book: &Compiled, text: &str) {
    for head in &book.book.heads {
        let ranks: Vec<_> = head.lines().map(|entry| book.history.order.rank[entry]).collect();
        assert!(ranks.is_sorted(), "{text}");
    }
}

/// A session without minutes has a message, and no message is without reason.
fn unknown_is_said(book: &Compiled, text: &str) {
    for session in &book.history.sessions.all {
        assert!(session.minutes.is_some() || asked(book, session.entry), "{text}");
    }
}

#[test]
fn what_is_counted_is_true_and_what_is_not_is_said() {
    let (mut counted, mut lost) = (0, 0);
    for seed in 0..books(300, 10_000) {
        let (book, told, text) = story(seed, Typed::Bare);
        in_order(&book, &text);
        unknown_is_said(&book, &text);
        for session in &book.history.sessions.all {
            let really = &told[session.entry.index()];
            match session.minutes {
                Some(minutes) => {
                    counted += 1;
                    assert_eq!(really.minutes.map(f64::from), Some(minutes), "{text}");
                }
                None => lost += 1,
            }
        }
        for (entry, really) in told.iter().enumerate() {
            let entry = EntryId::from(entry);
            if book.history.order.decided[entry] {
                assert_eq!(book.history.order.at[entry], really.start, "seed {seed}, line {entry:?}\n{text}");
            } else {
                // A line under another has no time of its own to ask about.
                let line = book.book.entries[entry].parent.filter(|_| really.under).unwrap_or(entry);
                assert!(asked(&book, line), "{text}");
            }
        }
    }
    assert!(lost > 5 && counted > 10 * lost, "{counted} counted, {lost} not");
}

#[test]
fn with_its_offset_every_time_is_clear() {
    for seed in 0..books(300, 10_000) {
        let (book, told, text) = story(seed, Typed::Offsets);
        in_order(&book, &text);
        for (entry, really) in told.iter().enumerate() {
            let entry = EntryId::from(entry);
            assert!(!asked(&book, entry), "{text}{:?}", book.diagnostics);
            assert_eq!(book.history.order.at[entry], really.start, "{text}");
        }
        for session in &book.history.sessions.all {
            let really = told[session.entry.index()].minutes;
            assert_eq!(session.minutes, really.map(f64::from), "{text}");
        }
    }
}

#[test]
fn with_slips_the_order_of_lines_stands() {
    let mut back = 0;
    for seed in 0..books(300, 10_000) {
        let (book, _, text) = story(seed, Typed::Slips);
        in_order(&book, &text);
        unknown_is_said(&book, &text);
        back += usize::from(book.diagnostics.iter().any(|one| one.check == "times-backward"));
    }
    assert!(back > 50, "{back}");
}
