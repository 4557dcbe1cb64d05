//! Whole books made of a stream of bytes: a shop with clients, cars, events, parts, jobs, bills and a sale, told honestly day by
//! day, so that nearly no line of it is wrong. The tests and the fuzz target share it.
//!
//! Every verb is written by an arm of one `match` over [`Verb`]; a new verb does not compile until it has one, and
//! `tests/generated/slots.rs` fails until its line, and those with new clauses and properties, come up.
//!
//! Must not know what a book means to the compiler: it keeps a walk of its own of who owns what and which part is where.

mod away;
pub mod chooser;
mod declared;
mod office;
mod parts;
mod piece;
mod running;
mod season;
mod setup;
mod slips;
mod stock;
mod words;

pub use chooser::{Chooser, stretch};
pub use piece::{ALL, Form, Known, Line, Piece, Readers, Text, Thing, Written};

use jiff::civil::Date;
use std::collections::{BTreeMap, BTreeSet};

/// What sort of book.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Knobs {
    /// Of a hundred lines, how many get a slip of the hand.
    pub slips: u32,
    /// Titles that everybody reads may name a client.
    pub loud_titles: bool,
    /// A car that was sold may be sold on.
    pub resale: bool,
}

/// A car, and how it stands.
#[derive(Debug, Clone)]
struct Car {
    /// Its ledger.
    file: usize,
    owner: usize,
    /// Its sellers, one after another.
    sold_by: Vec<usize>,
    meter: i32,
    /// Settings and readings by quantity and place, in their last digits.
    values: BTreeMap<(&'static str, &'static str), i32>,
    /// The sessions it ran at each event.
    ran: BTreeMap<usize, usize>,
    /// Wheels that were tightened and not looked at again.
    tight: bool,
}

/// Where a part is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Spot {
    /// Not yet in any line; bought by one, or fitted as it is.
    Stock,
    Shelf,
    On(usize, &'static str),
    In(usize),
    Quarantine,
    /// Lent.
    Away,
    /// Another's, on the shelf until it goes back.
    Borrowed,
    Gone,
}

#[derive(Debug, Clone)]
struct Part {
    kind: usize,
    spot: Spot,
    /// Whose it is, where it went along with a car.
    owner: Option<usize>,
    failed: bool,
    /// It had an opening, so that no line buys it.
    used: bool,
    /// The day and the block that touched it last.
    touched: (i32, usize),
}

#[derive(Debug, Clone)]
struct Job {
    /// None for a job of the shop's.
    car: Option<usize>,
    open: bool,
    opened: i32,
    owner: Option<usize>,
}

#[derive(Debug, Clone, Copy)]
struct Event {
    first: i32,
    days: i32,
}

/// The block being written.
#[derive(Debug, Clone, Copy, Default)]
struct Block {
    car: Option<usize>,
    event: Option<usize>,
    /// Counts blocks.
    number: usize,
    /// Minutes of the day up to which it is told.
    clock: i32,
    /// The session run last in it.
    last: Option<usize>,
    /// Its lap times stand in the book.
    laps: bool,
    sold: bool,
}

/// What writes.
struct Writer<'a> {
    pick: Chooser<'a>,
    knobs: Knobs,
    out: Written,
    cars: Vec<Car>,
    parts: Vec<Part>,
    jobs: Vec<Job>,
    events: Vec<Event>,
    /// Cars that ran at an event, session by session.
    sessions: BTreeSet<(usize, usize)>,
    /// Days since the first of March.
    day: i32,
    block: Block,
    invoices: usize,
    /// How many nuts are on hand, once counted.
    nuts: Option<u32>,
    /// The day on which a letter went out last.
    handed_on: Option<i32>,
    /// Drivers of each client.
    drivers: Vec<usize>,
}

/// The file of declarations, and that of shop work.
const SHOP: usize = 0;
const WORK: usize = 1;

/// The book of these bytes.
pub fn write(bytes: &[u8], knobs: Knobs) -> Written {
    // The last bytes are those of what comes after the season is told: the last declarations, and slips.
    let told = if knobs.slips > 0 { bytes.len() * 4 / 5 } else { bytes.len() - (bytes.len() / 8).min(40) };
    let mut writer = Writer {
        pick: Chooser::new(&bytes[..told]),
        knobs,
        out: Written::default(),
        cars: Vec::new(),
        parts: Vec::new(),
        jobs: Vec::new(),
        events: Vec::new(),
        sessions: BTreeSet::new(),
        day: 0,
        block: Block::default(),
        invoices: 0,
        nuts: None,
        handed_on: None,
        drivers: Vec::new(),
    };
    writer.declare();
    writer.season();
    writer.pick = Chooser::new(&bytes[told..]);
    writer.declare_what_came_of_it();
    if knobs.slips > 0 {
        writer.slip();
    }
    writer.out
}

/// The book of a seed, of about that many choices.
pub fn seeded(seed: u64, choices: usize, knobs: Knobs) -> Written {
    write(&stretch(seed, choices), knobs)
}

/// A day by its number.
fn date(day: i32) -> Date {
    Date::constant(2025, 3, 1).saturating_add(jiff::Span::new().days(day))
}

fn clock(minutes: i32) -> String {
    format!("{:02}:{:02}", minutes / 60, minutes % 60)
}

impl Writer<'_> {
    fn line(&mut self, file: usize, text: Text) {
        self.out.lines.push(Line { file, text });
    }

    /// A line of the block, so deep.
    fn say_at(&mut self, depth: usize, text: Text) {
        let file = self.block.car.map_or(WORK, |car| self.cars[car].file);
        let indent = "  ".repeat(depth);
        self.line(file, Text::of(&indent).and(text));
    }

    fn say(&mut self, text: Text) {
        self.say_at(1, text);
    }

    /// Who reads what the head's car's owner reads.
    fn owner(&self) -> Readers {
        self.block.car.map_or(0, |car| 1 << self.cars[car].owner)
    }

    /// `for shop`, `for client` or `for buyer`, rarely; and who reads the line's words then.
    fn audience(&mut self, usual: Readers) -> (Text, Readers) {
        if !self.pick.chance(12) {
            return (Text::default(), usual);
        }
        let word = self.pick.of(&["shop", "client", "buyer"]);
        // In a block of the shop's own it depends on the parts: taken as everybody's.
        let readers = match (word, self.block.car) {
            ("shop", _) => 0,
            (_, Some(_)) => self.owner() | usual,
            (_, None) => ALL,
        };
        (Text::of("  for ").s(word), readers)
    }

    /// Free words, with somebody's name among them now and then.
    fn words(&mut self, readers: Readers) -> Text {
        let (text, other) = self.pick.of(&words::PHRASES);
        let phrase = Text::default().slot(text, other, readers);
        match self.pick.below(8) {
            0 => {
                let client = Thing::Client(1 + self.pick.below(self.out.clients.len() - 1));
                let form = self.pick.of(&[
                    Form::Title,
                    Form::Possessive,
                    Form::Plural,
                    Form::PluralPossessive,
                    Form::Loud,
                    Form::Name,
                ]);
                let before = self.pick.of(&["for ", "ask ", "the ", ""]);
                Text::of(before).titled(client, form).s(", ").and(phrase)
            }
            1 => {
                let car = Thing::Car(self.pick.below(self.cars.len()));
                let form = self.pick.of(&[Form::Name, Form::Title, Form::Possessive]);
                phrase.s(" (").titled(car, form).s(")")
            }
            2 => {
                let driver = self.pick.of(&self.drivers.clone());
                let form = self.pick.of(&[Form::Title, Form::Possessive]);
                Text::default().titled(Thing::Person(driver), form).s(" says: ").and(phrase)
            }
            _ => phrase,
        }
    }

    /// The same in quotes.
    fn quoted(&mut self, readers: Readers) -> Text {
        let (open, close) = if self.pick.chance(5) { ("\u{201C}", "\u{201D}") } else { ("\"", "\"") };
        let words = self.words(readers);
        Text::of(open).and(words).s(close)
    }

    fn because(&mut self, readers: Readers) -> Text {
        let (text, other) = self.pick.of(&words::REASONS);
        let reason = Text::of("  because ").slot(text, other, readers);
        if self.pick.chance(10) {
            let client = Thing::Client(1 + self.pick.below(self.out.clients.len() - 1));
            return reason.s(", as at ").titled(client, Form::Possessive);
        }
        reason
    }

    /// A sum, most often in the shop's currency; the other has as many digits.
    fn sum(&mut self, readers: Readers) -> Text {
        let (text, other) = self.amount();
        let code = if self.pick.chance(10) { " GBP" } else { " EUR" };
        Text::default().slot(&text, &other, readers).s(code)
    }

    /// A sum in digits, and another.
    fn amount(&mut self) -> (String, String) {
        let (whole, cents) = (self.pick.between(10, 400), self.pick.between(0, 99));
        (format!("{whole}.{cents:02}"), format!("{}.{:02}", whole + 37, (cents + 41) % 100))
    }

    /// `by` somebody who may work on this car; the line's readers then know the name.
    fn by_person(&mut self) -> Text {
        if !self.pick.chance(30) {
            return Text::default();
        }
        let at = self.pick.of(&[2, 4]);
        self.out.people[at].readers |= self.owner();
        Text::of("  by ").name(Thing::Person(at))
    }

    /// `by` the driver of the head's car.
    fn by_driver(&mut self, car: usize) -> Text {
        if self.pick.chance(15) {
            return Text::default();
        }
        let owner = self.cars[car].owner;
        if self.pick.chance(25) {
            return Text::of("  by ").name(Thing::Client(owner));
        }
        let driver = self.drivers[owner % self.drivers.len()];
        self.out.people[driver].readers |= 1 << owner;
        Text::of("  by ").name(Thing::Person(driver))
    }

    /// The same, where somebody must be named.
    fn by_driver_named(&mut self, car: usize) -> Text {
        let owner = self.cars[car].owner;
        Text::of("  by ").name(Thing::Client(owner))
    }

    /// The part's name, which the readers of the block then know.
    fn part(&mut self, part: usize) -> Thing {
        self.know(part, self.owner());
        Thing::Part(part)
    }

    /// Those readers know the part and what is in it.
    fn know(&mut self, part: usize, readers: Readers) {
        self.out.parts[part].2 |= readers;
        for inner in 0..self.parts.len() {
            if self.parts[inner].spot == Spot::In(part) {
                self.out.parts[inner].2 |= readers;
            }
        }
    }
}
