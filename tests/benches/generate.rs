//! Writes a book of any length that a shop could have kept: cars, years, events, settings that follow from one another.
//!
//! The same number of lines gives the same bytes everywhere. Knows the language as a person who types it does; must
//! not use the compiler.

use super::words::{BIRDS, BUYERS, CIRCUITS, DRIVERS, FELT, NOTES, REASONS, SAID, SEEN};
use jiff::ToSpan;
use jiff::civil::{Date, date};
use std::fmt::Write as _;

/// First year of a generated book, and how many.
const FIRST_YEAR: i16 = 2006;
const YEARS: usize = 20;
/// Rounds in a season at most: one every fortnight.
const ROUNDS: usize = 17;

/// A file of a generated book: path and text.
pub type File = (String, String);

/// A small generator of numbers (splitmix64, Steele, Lea, Flood 2014).
struct Dice(u64);

impl Dice {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^ (z >> 31)
    }

    fn below(&mut self, n: usize) -> usize {
        (self.next() % n as u64) as usize
    }

    fn of<T: Copy>(&mut self, list: &[T]) -> T {
        list[self.below(list.len())]
    }

    /// A small step, never 0.
    fn step(&mut self) -> i32 {
        self.of(&[-1, 1])
    }
}

/// A kind that wears out: its name, the stem of its parts' names, a place, what one costs.
#[derive(Clone)]
struct Wearing {
    kind: String,
    stem: String,
    place: &'static str,
    price: &'static str,
}

const USUAL: [(&str, &str, &str, &str); 6] = [
    ("coupling", "cp", "LR", "38.00"),
    ("coupling", "cp", "RR", "38.00"),
    ("pad-set", "pd", "front", "112.50"),
    ("pad-set", "pd", "rear", "96.00"),
    ("bearing", "wb", "LF", "54.20"),
    ("bearing", "wb", "RF", "54.20"),
];
const MODES: [(&str, &str, &str); 4] = [
    ("split", "tear", "wear"),
    ("split", "tear", "misaligned"),
    ("loose", "bond-peeled", "oil"),
    ("cracked", "fatigue", "kerb"),
];

/// Kinds of a book that has so many that wear: the usual three, then others of one place each and of two specs.
fn wearing(kinds: usize) -> Vec<Wearing> {
    let usual = USUAL.map(|(kind, stem, place, price)| Wearing {
        kind: kind.into(),
        stem: stem.into(),
        place,
        price,
    });
    let more = (4..=kinds).map(|number| Wearing {
        kind: format!("wear-{number}"),
        stem: format!("w{number}"),
        place: "LF",
        price: "21.00",
    });
    usual.into_iter().chain(more).collect()
}

/// A car as the generator remembers it; lengths and pressures in the last digit that is typed.
struct Car {
    index: usize,
    name: String,
    dice: Dice,
    camber: [i32; 4],
    toe: [i32; 2],
    ride: [i32; 4],
    weight: [i32; 4],
    cold: [i32; 4],
    spring: [i32; 2],
    rebound: [i32; 2],
    hole: i32,
    bias: i32,
    wing: i32,
    hours: i32,
    tread: i32,
    parts: Vec<u32>,
    tyres: [u32; 2],
    springs: [u32; 2],
    /// Which part is changed next, next but one ...: each once in a while, in no fixed order, so that lives differ.
    turns: Vec<usize>,
    rounds: usize,
    text: String,
    lines: usize,
}

/// What all cars share: numbers of parts, their declarations by year.
struct Shop {
    parts: u32,
    declared: String,
    wearing: Vec<Wearing>,
}

impl Shop {
    fn part(&mut self, kind: &str, stem: &str, more: &str) -> u32 {
        self.parts += 1;
        let _ = writeln!(self.declared, "part {stem}-{} {kind}  {more}", self.parts);
        self.parts
    }
}

/// A book of about `lines` indented lines of dated blocks (within one race weekend's worth).
pub fn book(lines: usize) -> Vec<File> {
    book_of(lines, 3)
}

/// The same with so many kinds that wear, three at least.
pub fn book_of(lines: usize, kinds: usize) -> Vec<File> {
    let cars = (lines / 2000).clamp(5, 50);
    let mut shop = Shop { parts: 0, declared: String::new(), wearing: wearing(kinds) };
    let mut files = vec![("shop.sline".to_owned(), declarations(cars, kinds))];
    let mut written = 0;
    for index in 0..cars {
        let mut car = Car::new(index, &mut shop);
        for year in 0..YEARS {
            let until = lines * (index * YEARS + year + 1) / (cars * YEARS);
            if year == 0 {
                car.first(&shop, FIRST_YEAR);
            }
            let mut round = 0;
            while written + car.lines < until && round < ROUNDS {
                car.round(&mut shop, FIRST_YEAR + year as i16, round);
                round += 1;
            }
            if !car.text.is_empty() {
                let path = format!("cars/{}/{}.sline", car.name, FIRST_YEAR + year as i16);
                files.push((path, std::mem::take(&mut car.text)));
            }
        }
        written += car.lines;
    }
    files.push(("parts.sline".to_owned(), shop.declared));
    files.sort();
    files
}

fn saturday(year: i16, round: usize) -> Date {
    let first = date(year, 3, 1);
    let to_saturday = (13 - i64::from(first.weekday().to_sunday_zero_offset())) % 7;
    first + (to_saturday + 14 * round as i64).days()
}

fn event(year: i16, round: usize) -> String {
    format!("{}-{:02}-{}", CIRCUITS[round % CIRCUITS.len()], year % 100, round + 1)
}

fn declarations(cars: usize, kinds: usize) -> String {
    let mut text = String::from(
        "# The shop, its people, the places it goes and the things it measures with.\n\n\
         shop \"Tarn Row Race Preparation\"  currency EUR  zone Europe/Dublin  rate 58.00 EUR\n\
         person ned \"Ned Larkin\"  role \"mechanic\"\n\
         client orr \"The Orr family\"\n\
         gauge cg-1 \"camber gauge\"  reads camber, caster  resolution 0.1 deg  valid-until 2026-12-31\n\
         gauge st-1 \"string and a steel rule\"  reads toe  resolution 0.5 mm\n\
         gauge bg-1 \"block gauge\"  reads ride-height  resolution 1 mm\n\
         gauge sb-1 \"scale pads, set of four\"  reads weight  resolution 0.5 kg  valid-until 2026-12-31\n\
         gauge pg-1 \"dial gauge\"  reads tyre-cold, tyre-hot  resolution 0.01 bar\n\
         gauge py-1 \"needle pyrometer\"  reads tyre-temp  resolution 1 C\n\
         gauge tg-1 \"tread gauge\"  reads tread  resolution 0.1 mm\n\
         gauge mi-1 \"micrometer\"  reads pad-thickness  resolution 0.1 mm  valid-until 2026-12-31\n\
         gauge tw-1 \"torque wrench\"  reads wheel-torque  resolution 2 N.m  valid-until 2026-12-31\n\
         kind coupling \"rubber drive coupling\"  fits LR RR  life 60 h  safety\n\
         spec std of coupling \"natural rubber\"  price 38.00 EUR\n\
         kind pad-set \"pads of one axle\"  fits front rear  life 60 h\n\
         kind bearing \"wheel bearing\"  fits LF RF  life 60 h\n\
         kind tyre-set \"set of four\"  fits all\n\
         kind spring \"coil spring\"  fits LF RF LR RR\n\n",
    );
    if kinds > 3 {
        // With so many to change, each stays on longer.
        text = text.replace("life 60 h", "life 400 h");
    }
    for number in 4..=kinds {
        let _ = writeln!(
            text,
            "kind wear-{number} \"a thing that wears\"  fits LF  life 400 h\n\
             spec old-{number} of wear-{number} \"as it was\"  price 21.00 EUR\nspec new-{number} of wear-{number} \"the new one\"  price 34.00 EUR"
        );
    }
    for circuit in CIRCUITS {
        let _ = writeln!(text, "circuit {circuit} \"{circuit}\"  length 2.40 km");
    }
    for index in 0..cars {
        let name = car_name(index);
        // A car's drivers are its own: a shop with fifty cars out at once has a hundred of them.
        for first in DRIVERS {
            let _ = writeln!(text, "person {first}-{index} \"{first} of {name}\"  role \"drives\"");
        }
        let _ = write!(
            text,
            "\ncar {name} \"{name}, a sprint two-seater\"  client orr  class S-1  units metric\n  cylinders 4\n  \
             drive rear\n  wheelbase 2350 mm\n  track 1420 1400 mm\n  motion-ratio 0.92 0.88\n  toe-over 400 mm\n  \
             reference driver 76 kg, fuel 20 L, bars off\n  about chassis \"{index:03}\"\n"
        );
    }
    text.push('\n');
    // Something to plan for after the last season.
    let ahead = saturday(FIRST_YEAR + YEARS as i16, 0);
    let _ = writeln!(
        text,
        "event ahead {ahead}..{} at {} \"the first of next year\"",
        ahead + 1.day(),
        CIRCUITS[0]
    );
    for year in 0..YEARS as i16 {
        for round in 0..ROUNDS {
            let first = saturday(FIRST_YEAR + year, round);
            let circuit = CIRCUITS[round % CIRCUITS.len()];
            let name = event(FIRST_YEAR + year, round);
            let last = first + 1.day();
            let _ = writeln!(
                text,
                "event {name} {first}..{last} at {circuit} \"{circuit}, round {}\"",
                round + 1
            );
        }
    }
    text
}

fn car_name(index: usize) -> String {
    format!("{}-{}", BIRDS[index % BIRDS.len()], index / BIRDS.len() + 1)
}

/// `-32` of tenths is `-3.2`.
fn tenths(value: i32) -> String {
    format!("{}{}.{}", if value < 0 { "-" } else { "" }, value.abs() / 10, value.abs() % 10)
}

fn hundredths(value: i32) -> String {
    format!("{}.{:02}", value / 100, value % 100)
}

fn list<const N: usize>(values: [i32; N], shown: fn(i32) -> String) -> String {
    values.map(shown).join(" ")
}

fn whole(value: i32) -> String {
    value.to_string()
}

/// The next value of a setting: a small step that stays between two bounds.
fn stepped(value: i32, step: i32, low: i32, high: i32) -> i32 {
    let next = value + step;
    if next < low || next > high { value - step } else { next }
}

impl Car {
    fn new(index: usize, shop: &mut Shop) -> Self {
        let wearing = shop.wearing.clone();
        let parts = wearing.iter().map(|one| shop.part(&one.kind, &one.stem, "opening new")).collect();
        Self {
            index,
            name: car_name(index),
            dice: Dice(index as u64 + 1),
            camber: [-32, -32, -20, -20],
            toe: [10, 10],
            ride: [62, 62, 68, 68],
            weight: [298, 302, 342, 342],
            cold: [150, 150, 145, 145],
            spring: [70, 85],
            rebound: [9, 11],
            hole: 2,
            bias: 58,
            wing: 7,
            hours: 112,
            tread: 60,
            parts,
            tyres: [shop.part("tyre-set", "ts", "opening new"), shop.part("tyre-set", "ts", "opening new")],
            springs: [shop.part("spring", "sp", "opening new"), shop.part("spring", "sp", "opening new")],
            turns: Vec::new(),
            rounds: 0,
            text: String::new(),
            lines: 0,
        }
    }

    fn head(&mut self, day: Date, rest: &str) {
        let _ = writeln!(self.text, "{}{day}{rest}", if self.text.is_empty() { "" } else { "\n" });
    }

    fn line(&mut self, line: &str) {
        self.text.push_str("  ");
        self.text.push_str(line);
        self.text.push('\n');
        self.lines += 1;
    }

    /// A line under a session.
    fn under(&mut self, line: &str) {
        self.text.push_str("  ");
        self.line(line);
    }

    /// Everything stated once.
    fn first(&mut self, shop: &Shop, year: i16) {
        let _ = writeln!(self.text, "# {}, from the day it came.", self.name);
        self.head(date(year, 1, 14), &format!(" {}", self.name));
        self.line("| Out of the back bay, dust sheet off. Everything below is as it came off the trailer.");
        for (part, Wearing { stem, place, .. }) in self.parts.clone().into_iter().zip(&shop.wearing) {
            self.line(&format!("fit {stem}-{part} {place}"));
        }
        self.line(&format!("fit ts-{}", self.tyres[0]));
        self.line(&format!("set camber {} deg", list(self.camber, tenths)));
        self.line(&format!("set toe-in LR {0} RR {0} mm", tenths(self.toe[0])));
        self.line(&format!("set ride-height {} mm", list(self.ride, whole)));
        self.line(&format!("set spring-rate {} N/mm", list(self.spring, whole)));
        self.line(&format!("set rebound front {} click from full-hard", self.rebound[0]));
        self.line(&format!("set rebound rear {} click from full-hard", self.rebound[1]));
        self.line(&format!("set bar-hole rear {}", self.hole));
        self.line(&format!("set brake-bias {} %", self.bias));
        self.line(&format!("set wing-angle {} deg", self.wing));
        self.line(&format!("read engine-hours {} h", tenths(self.hours)));
        self.line("set final-drive 41/11");
        self.line("fill engine-oil 10W-60 5.2 L");
        self.line("fill gearbox-oil 75W-90 1.6 L");
    }

    /// Five blocks: bench, workshop, two days at an event, the Monday after.
    fn round(&mut self, shop: &mut Shop, year: i16, round: usize) {
        let day = saturday(year, round);
        if self.turns.is_empty() {
            self.turns = (0..shop.wearing.len()).collect();
        }
        let next = self.dice.below(self.turns.len());
        let at = self.turns.swap_remove(next);
        let one = shop.wearing[at].clone();
        let spec = match (one.kind.as_str(), one.kind.strip_prefix("wear-")) {
            ("coupling", _) => "spec std  opening new".to_owned(),
            (_, Some(number)) => {
                format!("spec {}-{number}  opening new", if self.dice.below(2) == 0 { "old" } else { "new" })
            }
            _ => "opening new".to_owned(),
        };
        let fresh = shop.part(&one.kind, &one.stem, &spec);
        self.bench(day - 4.days(), &format!("{}-{fresh}", one.stem), one.price);
        self.workshop(day - 3.days(), fresh, at, &shop.wearing);
        let event = event(year, round);
        self.race(day, &event, 1);
        self.race(day + 1.day(), &event, 4);
        self.monday(day + 2.days(), &shop.wearing);
        self.rounds += 1;
    }

    fn bench(&mut self, day: Date, fresh: &str, price: &str) {
        self.head(day, "");
        let from = self.dice.of(&BUYERS);
        self.line(&format!("buy {fresh} {price} EUR from \"{from}\""));
        if !self.rounds.is_multiple_of(4) {
            let spring = self.springs[self.rounds % 2];
            self.line(&format!("bench sp-{spring} spring-rate  by ned"));
            for _ in 0..3 {
                let (half, full) = (1040 + self.dice.below(9), 2140 + self.dice.below(9));
                self.under(&format!("points 0 mm 60 N, 15 mm {half} N, 30 mm {full} N"));
            }
        }
    }

    fn workshop(&mut self, day: Date, fresh: u32, at: usize, wearing: &[Wearing]) {
        let Wearing { kind, stem, place, .. } = &wearing[at];
        let head = format!(" {}", self.name);
        self.head(day, &head);
        let note = self.dice.of(&NOTES);
        self.line(&format!("| {note}"));
        let reason = self.dice.of(&REASONS);
        self.line(&format!("found ride-height {} mm  by bg-1", list(self.ride, whole)));
        self.line(&format!("found camber {} deg  by cg-1", list(self.camber, tenths)));
        let corner = self.dice.below(4);
        let (word, old) = (["LF", "RF", "LR", "RR"][corner], self.camber[corner]);
        let bounds = if corner < 2 { (-36, -28) } else { (-24, -16) };
        self.camber[corner] = stepped(old, self.dice.step(), bounds.0, bounds.1);
        let new = self.camber[corner];
        self.line(&format!("set camber {word} {} -> {} deg  because {reason}", tenths(old), tenths(new)));
        self.line(&format!("found toe-in LR {} RR {} mm  by st-1", tenths(self.toe[0]), tenths(self.toe[1])));
        self.line(&format!("left camber {} deg  by cg-1", list(self.camber, tenths)));
        self.line(&format!("left toe-in LR {} RR {} mm  by st-1", tenths(self.toe[0]), tenths(self.toe[1])));
        let halves = |weight: i32| tenths(weight * 5);
        if self.rounds.is_multiple_of(2) {
            let turn = self.dice.of(&["+1/4", "-1/4", "+1/2", "-0.5"]);
            self.line(&format!(
                "adjust perch {word} {turn} turn  because that corner had settled a millimetre"
            ));
        }
        for weight in &mut self.weight {
            *weight = stepped(*weight, self.dice.step(), 290, 350);
        }
        let weights = list(self.weight, halves);
        // Left again where the perch was turned, else only read.
        let verb = if self.rounds.is_multiple_of(2) { "left" } else { "read" };
        self.line(&format!("{verb} weight {weights} kg  by sb-1 with driver 76 kg, fuel 20 L, bars off"));
        // One in five had failed, the others come off good.
        let (old, broken) = (self.parts[at], self.dice.below(5) == 0);
        if broken {
            let (mode, mechanism, cause) = self.dice.of(&MODES);
            self.line(&format!(
                "failed {stem}-{old} mode {mode} mechanism {mechanism} cause {cause} found-by inspection"
            ));
        }
        self.line(&format!("swap {kind} {place} {stem}-{old} -> {stem}-{fresh}"));
        let seen = self.dice.of(&SEEN);
        if !broken {
            self.line(&format!("inspect {stem}-{old} good \"{seen}\""));
            self.line(&format!("shelve {stem}-{old}"));
        }
        if broken || self.rounds.is_multiple_of(2) {
            self.line(&format!("scrap {stem}-{old} because its time is up"));
        }
        self.parts[at] = fresh;
        let other = (at + 3) % wearing.len();
        self.line(&format!("inspect {}-{} good \"{seen}\"", wearing[other].stem, self.parts[other]));
        self.line(&format!("remove ts-{}", self.tyres[0]));
        self.tyres.swap(0, 1);
        self.line(&format!("fit ts-{}", self.tyres[0]));
        if self.rounds.is_multiple_of(3) {
            let text = format!("# the tin on the {} shelf is the old one", self.dice.of(&["top", "low"]));
            let _ = writeln!(self.text, "  {text}");
            self.line("fill brake-fluid DOT4 0.5 L  # the last of the tin");
        }
        self.line("fill fuel 20 L");
        let quarters = 2 + self.dice.below(20);
        self.line(&format!("hours {}.{:02} h \"set up\"  by ned", quarters / 4, quarters % 4 * 25));
        let cents = self.dice.below(90);
        self.line(&format!("cost 46.{:02} EUR consumables \"oil, rags, cleaner\"", 10 + cents));
    }

    fn race(&mut self, day: Date, event: &str, first: usize) {
        let head = format!(" {} at {event}", self.name);
        self.head(day, &head);
        let step = self.dice.step();
        self.cold = self.cold.map(|cold| stepped(cold, step, 138, 158));
        self.line(&format!("08:15 set tyre-cold {} bar  by pg-1", list(self.cold, hundredths)));
        self.line("08:20 torque wheel-torque all 85 N.m  by tw-1");
        for (run, hour) in (first..).zip([9, 11, 14]) {
            // Twelve of them are the twenty minutes of the run.
            let best = format!("1:3{}.{:02}", self.dice.below(9), self.dice.below(100));
            let (driver, sky) = (self.dice.of(&DRIVERS), self.dice.of(&["dry", "damp", "dry", "overcast"]));
            let (air, track) = (11 + self.dice.below(14), 14 + self.dice.below(24));
            self.line(&format!(
                "{hour:02}:30..{hour:02}:50 run s{run}  12 laps  best {best}  by {driver}-{}  \
                 with air {air} C, track {track} C, {sky}",
                self.index
            ));
            let (entry, exit, said) = (self.dice.of(&FELT), self.dice.of(&FELT), self.dice.of(&SAID));
            self.under(&format!("say entry {entry}, exit {exit} \"{said}\""));
            let hot = self.cold.map(|cold| cold + 30 + self.dice.below(4) as i32);
            self.under(&format!("read tyre-hot {} bar  by pg-1", list(hot, hundredths)));
            match run % 3 {
                0 => {
                    let t = self.dice.below(9) as i32;
                    let three =
                        |corner: i32| format!("{}/{}/{}", 84 + t - corner, 80 + t - corner, 73 + t - corner);
                    self.under(&format!(
                        "read tyre-temp LF {} RF {} LR {} RR {} C  by py-1",
                        three(0),
                        three(-2),
                        three(6),
                        three(5)
                    ));
                }
                1 => self.under("recheck wheel-torque ok"),
                _ => {
                    if self.dice.below(3) == 0 {
                        self.under("think \"the outside front is on its stop by the apex; spring, not damper\" unsure");
                    }
                }
            }
            if run % 3 != 0 {
                let clock = format!("{hour:02}:{}", 52 + self.dice.below(8));
                self.change(&clock);
            }
        }
        let (minute, litres) = (10 + self.dice.below(40), 8 + self.dice.below(14));
        self.line(&format!("17:{minute} fill fuel {litres} L"));
        if self.dice.below(2) == 0 {
            let note = self.dice.of(&NOTES);
            self.line(&format!("| {note}"));
        }
        if first == 1 {
            let number = format!("{event}/{}", self.index);
            self.line(&format!("cost 220.00 EUR entry  from \"the club\"  invoice \"{number}\""));
            if self.index.is_multiple_of(10) {
                self.line("cost 100.00 EUR other \"the big tent\"  split minutes");
            }
        }
        self.hours += 10;
    }

    /// One thing set otherwise, with the old value and the reason.
    fn change(&mut self, clock: &str) {
        let (reason, step) = (self.dice.of(&REASONS), self.dice.step());
        let what = match self.dice.below(6) {
            0 => {
                let old = self.spring[0];
                self.spring[0] = stepped(old, 5 * step, 60, 90);
                format!("spring-rate front {old} -> {} N/mm", self.spring[0])
            }
            1 => {
                let old = self.rebound[0];
                self.rebound[0] = stepped(old, step, 4, 16);
                format!("rebound front {old} -> {} click from full-hard", self.rebound[0])
            }
            2 => {
                let old = self.rebound[1];
                self.rebound[1] = stepped(old, step, 4, 16);
                format!("rebound rear {old} -> {} click from full-hard", self.rebound[1])
            }
            3 => {
                let old = self.hole;
                self.hole = stepped(old, step, 1, 5);
                format!("bar-hole rear {old} -> {}", self.hole)
            }
            4 => {
                let old = self.bias;
                self.bias = stepped(old, step, 54, 64);
                format!("brake-bias {old} -> {} %", self.bias)
            }
            _ => {
                let old = self.wing;
                self.wing = stepped(old, step, 2, 12);
                format!("wing-angle {old} -> {} deg", self.wing)
            }
        };
        self.line(&format!("{clock} set {what}  because {reason}"));
    }

    fn monday(&mut self, day: Date, wearing: &[Wearing]) {
        let head = format!(" {}", self.name);
        self.head(day, &head);
        self.line(&format!("read engine-hours {} h", tenths(self.hours)));
        self.tread = if self.tread < 25 { 60 } else { self.tread - 1 };
        let tread = tenths(self.tread);
        self.line(&format!("read tread {tread} {tread} {tread} {tread} mm  by tg-1"));
        let pad = |n: usize| tenths(70 + 5 * n as i32);
        let (front, rear) = (pad(self.rounds % 7), pad(self.rounds % 5));
        self.line(&format!("read pad-thickness {front} {front} {rear} {rear} mm  by mi-1"));
        let at = self.rounds % wearing.len();
        let seen = self.dice.of(&SEEN);
        self.line(&format!("inspect {}-{} good \"{seen}\"", wearing[at].stem, self.parts[at]));
        self.line("fill engine-oil 10W-60 0.4 L");
    }
}
