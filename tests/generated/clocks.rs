//! Lines of a story whose every moment is known, typed as a clock on the wall showed it: what the book then counts is true or is not
//! counted, and what it does not count it says. When the clocks change is as Python's zoneinfo has it (tzdata 2025b); what a clock on
//! the wall showed is reckoned from that by adding, without the zones that the book reads.

use super::book::chooser::{Chooser, stretch};
use super::hunt::books;
use jiff::civil::Date;
use jiff::{Timestamp, ToSpan as _};
use std::fmt::Write as _;
use stringline::book::entry::EntryId;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// A zone and a change of its clock: when, in minutes since 1970 UTC, and the minutes ahead of UTC before and after.
struct Place {
    zone: &'static str,
    change: i32,
    before: i32,
    after: i32,
}

const fn place(zone: &'static str, change: i32, before: i32, after: i32) -> Place {
    Place { zone, change, before, after }
}

/// Forward and back, by an hour and by half of one, at midnight too, in zones of whole hours, half hours and a quarter; and two that
/// change nothing.
const PLACES: [Place; 18] = [
    place("Europe/Dublin", 29_579_100, 0, 60),
    place("Europe/Dublin", 29_881_500, 60, 0),
    place("America/St_Johns", 29_549_130, -210, -150),
    place("America/St_Johns", 29_891_790, -150, -210),
    place("Australia/Lord_Howe", 29_588_580, 660, 630),
    place("Australia/Lord_Howe", 29_850_690, 630, 660),
    place("Pacific/Auckland", 29_588_520, 780, 720),
    place("Pacific/Chatham", 29_588_520, 825, 765),
    place("Pacific/Chatham", 29_840_520, 765, 825),
    place("Africa/Casablanca", 29_518_680, 60, 0),
    place("America/Santiago", 29_589_300, -180, -240),
    place("America/Santiago", 29_811_120, -240, -180),
    place("Atlantic/Azores", 29_579_100, -60, 0),
    place("Atlantic/Azores", 29_881_500, 0, -60),
    place("Asia/Beirut", 29_578_920, 120, 180),
    place("Asia/Beirut", 29_881_260, 180, 120),
    place("America/Sao_Paulo", 29_519_000, -180, -180),
    place("Asia/Kolkata", 29_519_000, 330, 330),
];

/// A date and the minutes of the day, of minutes since 1970 on the clock on the wall.
fn face(shown: i32) -> (Date, i32) {
    (Date::constant(1970, 1, 1) + shown.div_euclid(1440).days(), shown.rem_euclid(1440))
}

impl Place {
    fn ahead(&self, at: i32) -> i32 {
        if at < self.change { self.before } else { self.after }
    }

    /// Noon of the day that the night of the change begins on.
    fn noon(&self) -> i32 {
        let evening = self.change + self.before - 240;
        evening.div_euclid(1440) * 1440 + 720 - self.before
    }

    /// A book of one line on a car of its own for each minute that the clock shows: `line` says of which day, and what.
    fn minutes(&self, shown: std::ops::Range<i32>, line: impl Fn(i32) -> (i32, String)) -> Compiled {
        let mut text = format!("shop \"S\"  zone {}\n", self.zone);
        for at in shown.clone() {
            writeln!(text, "car c-{at} \"C\"").unwrap();
        }
        for at in shown {
            let (day, line) = line(at);
            writeln!(text, "{} c-{at}\n  {line}", face(day).0).unwrap();
        }
        compile(&Memory::new(&[("a.sline", &text)], Timestamp::constant(1_793_534_400, 0))).unwrap()
    }
}

/// `01:30`.
fn clock(shown: i32) -> String {
    let (_, minutes) = face(shown);
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

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
    place: &'a Place,
    typed: Typed,
    now: i32,
    text: String,
    told: Vec<Told>,
    date: Date,
}

impl Story<'_> {
    fn civil(&self, at: i32) -> (Date, i32, i32) {
        let ahead = self.place.ahead(at);
        let (date, minutes) = face(at + ahead);
        (date, minutes, ahead)
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
    let at = pick.between(0, PLACES.len() as i32 - 1) as usize;
    let place = &PLACES[at];
    let now = place.noon() + pick.between(0, 700);
    let text = format!("shop \"S\"  zone {}\ncar heron \"Heron\"\n", place.zone);
    let date = face(now).0;
    let mut story = Story { pick, place, typed, now, text, told: Vec::new(), date };
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

/// The lines of a block keep their order, whatever the times say. One under a session is of its end, and one below it may be within it.
fn in_order(book: &Compiled, text: &str) {
    for head in &book.book.heads {
        let (mut last, order) = (None, &book.history.order);
        for entry in head.lines() {
            let rank = Some(order.rank[entry]);
            if let Some(above) = book.book.entries[entry].parent {
                assert!(rank > Some(order.rank[above]), "{text}");
            } else {
                assert!(rank > last, "{text}");
                last = rank;
            }
        }
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

/// The checks of each line's message, by the minute that its clock shows.
fn said(book: &Compiled, shown: &std::ops::Range<i32>) -> Vec<(i32, Vec<&'static str>)> {
    let of = |entry: EntryId| {
        let line = book.book.entries[entry].span();
        let within = |at: u32| (line.start..line.end).contains(&at);
        let own =
            book.diagnostics.iter().filter(|one| one.at.as_ref().is_some_and(|at| within(at.span.start)));
        own.map(|one| one.check).filter(|check| ASK.contains(check)).collect()
    };
    shown.clone().zip(book.book.entries.keys()).map(|(at, entry)| (at, of(entry))).collect()
}

/// Each minute that the clock skips, and one on each side.
#[test]
fn a_missing_time_is_an_error_to_the_minute() {
    let mut missing = 0;
    for place in PLACES.iter().filter(|place| place.after > place.before) {
        let gap = place.change + place.before..place.change + place.after;
        let shown = gap.start - 1..gap.end + 1;
        let book = place.minutes(shown.clone(), |at| (at, format!("{} run s1  10 min", clock(at))));
        for (at, said) in said(&book, &shown) {
            let skipped = gap.contains(&at);
            assert_eq!(said, Vec::from_iter(skipped.then_some("clock-skipped")), "{} {at}", place.zone);
            missing += usize::from(skipped);
        }
        // One that ends in it has no minutes.
        let from = gap.start - 5;
        let book = place.minutes(gap.clone(), |at| (from, format!("{}..{} run s1", clock(from), clock(at))));
        assert!(book.history.sessions.all.iter().all(|one| one.minutes.is_none()), "{}", place.zone);
    }
    assert_eq!(missing, 60 + 60 + 30 + 60 + 60 + 60 + 60);
}

/// Each minute that comes twice, and one on each side: a line, and a session with its minutes, which fit both.
#[test]
fn a_double_time_is_asked_about_to_the_minute() {
    let mut double = 0;
    for place in PLACES.iter().filter(|place| place.after < place.before) {
        let twice = place.change + place.after..place.change + place.before;
        let shown = twice.start - 1..twice.end + 1;
        let lines = place.minutes(shown.clone(), |at| (at, format!("{} think \"a\"", clock(at))));
        for ((at, said), entry) in said(&lines, &shown).into_iter().zip(lines.book.entries.keys()) {
            let unsure = twice.contains(&at);
            assert_eq!(said, Vec::from_iter(unsure.then_some("clock-twice")), "{} {at}", place.zone);
            assert_eq!(lines.history.order.decided[entry], !unsure, "{} {at}", place.zone);
            double += usize::from(unsure);
        }
        let starts = twice.start..twice.end - 5;
        let line = |at| (at, format!("{}..{} run s1  5 min", clock(at), clock(at + 5)));
        let runs = place.minutes(starts.clone(), line);
        for (at, said) in said(&runs, &starts) {
            assert_eq!(said, ["clock-twice"], "{} {at}", place.zone);
        }
        assert!(runs.history.sessions.all.iter().all(|one| one.minutes == Some(5.0)), "{}", place.zone);
    }
    assert_eq!(double, 60 + 60 + 30 + 60 + 60 + 60 + 60 + 60 + 60);
}
