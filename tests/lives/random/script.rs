//! Lawful books at random: two cars, couplings that change cars within a day, nests of upright, hub and bearing, rebuilds, failures.
//!
//! Every line has a clock time of its own, so that the order is that of the clock however the lines are spread over files.

use super::walk::{PARTS, Shop, Step};
use proptest::prelude::*;
use std::fmt::Write as _;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// What chance gives: which of the lawful lines comes next, and its numbers.
#[derive(Debug, Clone, Copy)]
pub struct Draw {
    pub what: u8,
    pub who: u16,
    pub minutes: u8,
    pub laps: u8,
    pub gap: u8,
}

pub fn draws(most: usize) -> impl Strategy<Value = Vec<Draw>> {
    let one = (any::<u8>(), any::<u16>(), any::<u8>(), any::<u8>(), 1..9_u8)
        .prop_map(|(what, who, minutes, laps, gap)| Draw { what, who, minutes, laps, gap });
    prop::collection::vec(one, 1..most)
}

/// One line: when, under which head, and its words without the clock.
#[derive(Debug, Clone)]
pub struct Line {
    pub day: usize,
    /// The car of the head; none for shop work.
    pub car: Option<usize>,
    pub minute: u32,
    /// Under the session above it, without a clock of its own.
    pub nested: bool,
    pub words: String,
    /// The session that it states.
    pub session: Option<usize>,
}

/// Dates, and the event of each car's blocks on them. The plover's last day is a test day inside the event's dates.
pub const DAYS: [(&str, [Option<&str>; 2]); 5] = [
    ("2025-05-09", [None, None]),
    ("2025-05-10", [Some("pell-1"), Some("pell-1")]),
    ("2025-05-11", [Some("pell-1"), None]),
    ("2025-05-24", [Some("pell-2"), Some("pell-2")]),
    ("2025-06-01", [None, None]),
];

pub const CARS: [&str; 2] = ["heron", "plover"];

/// The declarations. Openings by what the coupling's number is: new, none said, some clocks said.
pub fn declarations() -> String {
    let mut text = String::from(
        "car heron \"Heron\"\ncar plover \"Plover\"\n\
         circuit pell \"Pell Hill\"  length 1.20 km\n\
         event pell-1 2025-05-10..11 at pell \"Pell Hill, spring\"\n\
         event pell-2 2025-05-24 at pell \"Pell Hill, May\"\n\
         kind coupling \"coupling\"  fits LR RR on heron\n  fits prop on plover\n\
         kind upright \"upright\"  fits LF RF\nkind hub \"hub\"  inside upright\nkind bearing \"bearing\"  inside hub\n",
    );
    for part in &PARTS {
        let opening =
            if part.opening.is_empty() { String::new() } else { format!("  opening {}", part.opening) };
        let _ = writeln!(text, "part {} {}{opening}", part.name, part.kind);
    }
    text
}

/// How the lines are spread over files.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Spread {
    /// All in one, in the order they happened.
    One,
    /// Each car and the shop in a file of its own.
    Apart,
    /// The same, with names that sort the other way about.
    Backwards,
}

fn clock(minute: u32) -> String {
    format!("{:02}:{:02}", minute / 60, minute % 60)
}

/// The files of those lines.
pub fn files(lines: &[Line], spread: Spread) -> Vec<(String, String)> {
    let name = |line: &Line| match (spread, line.car) {
        (Spread::One, _) => "all".to_owned(),
        (Spread::Apart, Some(car)) => CARS[car].to_owned(),
        (Spread::Apart, None) => "shop".to_owned(),
        (Spread::Backwards, Some(car)) => format!("z{}", 9 - car),
        (Spread::Backwards, None) => "a".to_owned(),
    };
    let mut files: Vec<(String, String, Option<(usize, Option<usize>)>)> = Vec::new();
    for line in lines {
        let path = format!("{}.sline", name(line));
        let at = files.iter().position(|(known, ..)| *known == path).unwrap_or_else(|| {
            files.push((path, String::new(), None));
            files.len() - 1
        });
        let (_, text, head) = &mut files[at];
        if *head != Some((line.day, line.car)) {
            let (date, events) = DAYS[line.day];
            let _ = write!(text, "\n{date}");
            if let Some(car) = line.car {
                let _ = write!(text, " {}", CARS[car]);
                if let Some(event) = events[car] {
                    let _ = write!(text, " at {event}");
                }
            }
            text.push('\n');
            *head = Some((line.day, line.car));
        }
        let _ = if line.nested {
            writeln!(text, "    {}", line.words)
        } else if line.session.is_some() {
            // A session's words bring its own clock.
            writeln!(text, "  {}", line.words)
        } else {
            writeln!(text, "  {} {}", clock(line.minute), line.words)
        };
    }
    let mut files: Vec<(String, String)> = files.into_iter().map(|(path, text, _)| (path, text)).collect();
    // Where the declarations stand must not matter either.
    files.push((if spread == Spread::Backwards { "zz.sline" } else { "0.sline" }.to_owned(), declarations()));
    files
}

pub fn compiled(files: &[(String, String)]) -> Compiled {
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&Memory::new(&files, crate::checks::now())).unwrap()
}

/// Plays the draws: the walked shop and the lines that say the same.
pub fn play(draws: &[Draw]) -> (Shop, Vec<Line>) {
    let mut shop = Shop::new();
    let mut lines: Vec<Line> = Vec::new();
    let (mut day, mut minute) = (0, 480);
    let mut busy = [0_u32; 2];
    // The car whose session is the last line typed, so that a line may stand under it.
    let mut open: Option<usize> = None;
    for draw in draws {
        minute += u32::from(draw.gap);
        if (draw.what.is_multiple_of(23) || minute > 1320) && day + 1 < DAYS.len() {
            (day, minute, busy, open) = (day + 1, 480, [0, 0], None);
        }
        if minute > 1320 {
            break;
        }
        let Some(step) = shop.lawful(*draw, day) else { continue };
        let own = shop.car_of(&step);
        // What is about parts waits until the sessions of the cars it touches are over.
        let touched = shop.touched(&step);
        let until = touched.iter().map(|car| busy[*car]).max().unwrap_or(0);
        let nested =
            open.is_some() && own == open && touched.iter().all(|car| Some(*car) == open) && step.may_nest();
        // A line under a session happens at its end.
        minute = minute.max(if nested { until } else { until + 1 });
        let (words, session) = match &step {
            Step::Run { car, minutes, laps, launches, heat, way, .. } => {
                let label = format!("s{}", shop.sessions.len() + 1);
                let length = minutes.map_or(0, |minutes| minutes);
                let mut words = match (way, minutes) {
                    (0, Some(_)) => format!("{}..{} run {label}", clock(minute), clock(minute + length)),
                    (_, Some(minutes)) => format!("{} run {label}  {minutes} min", clock(minute)),
                    (_, None) => format!("{} run {label}", clock(minute)),
                };
                if let Some(laps) = laps {
                    let _ = write!(words, "  {laps} laps");
                }
                if let Some(launches) = launches {
                    let _ = write!(words, "  {launches} launches");
                }
                if let Some(heat) = heat {
                    let _ = write!(words, "  {heat} heat-cycles");
                }
                busy[*car] = minute + length;
                (words, Some(shop.sessions.len()))
            }
            other => (shop.words(other), None),
        };
        lines.push(Line { day, car: own, minute, nested: nested && session.is_none(), words, session });
        open = match &step {
            Step::Run { car, .. } => Some(*car),
            _ if nested => open,
            _ => None,
        };
        shop.take(&step, day);
    }
    shop.close();
    (shop, lines)
}
