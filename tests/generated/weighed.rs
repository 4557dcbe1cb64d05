//! Small books of one car that is weighed, lifted, aligned, raised, hit and shod in any order: more ways for readings not to belong
//! together than a season has.

use super::holds::Files;
use super::holds::compiled;
use super::holds::together::{Met, inputs_were_true_together, rest_on};
use super::hunt::books;
use std::collections::{BTreeMap, BTreeSet};
use stringline::book::place::Place;
use stringline::history::order::Rank;

/// Numbers from a seed (Marsaglia's xorshift, 2003).
struct Pick(u64);

impl Pick {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % n
    }
}

const HEAD: &str = "gauge pads \"pads\"  reads weight  resolution 0.5 kg
kind rubber \"set of four\"  fits all  carries tread
kind spring \"spring\"  fits LF RF LR RR  gives spring-rate
part r1 rubber
part r2 rubber
part k1 spring  tag spring-rate 70 N/mm
part k2 spring  tag spring-rate 80 N/mm
car wren \"Wren\"
  wheelbase 2350 mm
  track front 1400 mm rear 1400 mm
  motion-ratio all 0.9
  toe-over 400 mm
";

fn line(pick: &mut Pick) -> String {
    let n = pick.below(6);
    let corner = ["LF", "RF", "LR", "RR"][pick.below(4) as usize];
    match pick.below(18) {
        0 | 1 => {
            let driver = ["", "  with driver 78 kg", "  with driver 0 kg"][pick.below(3) as usize];
            format!("left weight 15{n}.0 151.0 17{n}.0 171.0 kg{driver}  by pads")
        }
        2 | 3 => {
            let driver = ["", "", "  with driver 78 kg"][pick.below(3) as usize];
            format!("read cg-height{driver}\n    lift rear 254 mm front 31{n}.5 kg radius 300 mm")
        }
        4 => format!("set ride-height all 6{n} mm"),
        5 => format!("adjust perch {corner} +1/2 turn"),
        6 => format!("hit {corner} \"kerb\""),
        7 => format!("read camber LF -2.{n} RF -2.0 LR -1.5 RR -1.5 deg"),
        8 => format!("read camber {corner} -2.{n} deg"),
        9 => format!("set camber {corner} -2.{n} deg"),
        10 => format!("read toe-in {corner} 1.{n} mm  over 400 mm"),
        11 => format!("found caster\n    sweep {corner} 20 deg inner 1.{n} outer -2.0"),
        12 => format!("read tread LF 5.{n} RF 5.0 LR 5.0 RR 5.0 mm"),
        13 => format!("fit {}", ["r1", "r2"][pick.below(2) as usize]),
        14 => format!("fit {} {corner}", ["k1", "k2"][pick.below(2) as usize]),
        15 => format!("read ride-height {corner} 6{n} mm"),
        16 => format!("read track front 140{n} mm"),
        _ => format!("read wheelbase 235{n} mm"),
    }
}

fn written(seed: u64) -> Files {
    let mut pick = Pick(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let mut text = HEAD.to_owned();
    for day in 1..=4 + pick.below(12) {
        text += &format!("\n2026-04-{day:02} wren\n");
        for _ in 0..=pick.below(2) {
            text += &format!("  {}\n", line(&mut pick));
        }
    }
    vec![("wren.sline".to_owned(), text)]
}

#[test]
fn no_figure_joins_readings_of_two_states() {
    let mut all = Met::default();
    for seed in 0..books(120, 10_000) {
        let files = written(seed);
        let (broken, met) = inputs_were_true_together(&files);
        assert!(broken.is_none(), "seed {seed}: {broken:?}\n{}", files[0].1);
        all.several += met.several;
        all.older += met.older;
        all.missing += met.missing;
    }
    // A law that never meets its case holds of anything.
    assert!(all.several > 0 && all.older > 0 && all.missing > 0, "{all:?}");
}

/// What work on a car moves (common practice, told here by hand): turning a collar, another spring, another height, a blow. Each only
/// where a change of it can be told from the words alone.
const MOVES: [(&str, &[&str]); 4] = [
    ("perch", &["weight", "cg-height", "ride-height", "camber"]),
    ("spring", &["weight", "cg-height", "ride-height"]),
    ("height", &["weight", "cg-height", "camber", "caster", "track"]),
    ("blow", &["weight", "cg-height", "ride-height", "camber", "caster", "track", "wheelbase"]),
];

/// The work that a line of a story is, and where: by its words, as whoever wrote them meant it.
fn work(line: &str, heights: &mut Option<String>, known: &mut BTreeSet<String>) -> Option<(usize, String)> {
    let words: Vec<&str> = line.split_whitespace().collect();
    match words.as_slice() {
        ["adjust", "perch", corner, ..] => Some((0, (*corner).to_owned())),
        // Only a spring that was nowhere yet, into a place where none was: of others the story is not sure.
        ["fit", spring @ ("k1" | "k2"), corner] => {
            let new = [known.insert((*spring).to_owned()), known.insert((*corner).to_owned())] == [true; 2];
            new.then(|| (1, (*corner).to_owned()))
        }
        ["set", "ride-height", "all", height, ..] => {
            let before = heights.replace((*height).to_owned());
            (before.as_deref().is_some_and(|before| before != *height)).then(|| (2, "all".to_owned()))
        }
        ["read", "ride-height", ..] => {
            // What was read between makes the next setting unsure.
            *heights = None;
            None
        }
        ["hit", corner, ..] => Some((3, (*corner).to_owned())),
        _ => None,
    }
}

/// Whether work at one place moves what is read at another: the whole car and its loads anywhere, else where they meet.
fn meets(work: &str, quantity: &str, place: Place) -> bool {
    let corners: &[Place] = match work {
        "LF" => &[Place::LF],
        "RF" => &[Place::RF],
        "LR" => &[Place::LR],
        "RR" => &[Place::RR],
        _ => &Place::CORNERS,
    };
    let of_all = place == Place::CAR || ["weight", "cg-height", "wheelbase"].contains(&quantity);
    of_all || corners.iter().any(|corner| *corner == place || corner.axle() == Some(place))
}

/// The story is known as it is written: in no figure does work that moves two of its readings lie between them.
#[test]
fn no_figure_joins_what_the_story_parts() {
    let mut between = 0;
    for seed in 0..books(120, 10_000) {
        let files = written(seed);
        let book = compiled(&files);
        let text = &files[0].1;
        let (mut heights, mut known) = (None, BTreeSet::new());
        let mut works: BTreeMap<usize, (usize, String)> = BTreeMap::new();
        for (at, line) in text.lines().enumerate() {
            works.extend(work(line, &mut heights, &mut known).map(|work| (at, work)));
        }
        let line_of = |start: u32| text[..start as usize].matches('\n').count();
        let ranks = book.book.entries.iter_enumerated();
        let lines: BTreeMap<Rank, usize> =
            ranks.map(|(id, entry)| (book.history.order.rank[id], line_of(entry.span().start))).collect();
        for (figure, read) in rest_on(&book) {
            for older in &read {
                for newer in read.iter().filter(|newer| (newer.0, newer.1) != (older.0, older.1)) {
                    let (from, until) = (lines[&older.2], lines[&newer.2]);
                    let name = |id| &*book.book.vocabulary.get(id).name;
                    let (a, b) = (name(older.0), name(newer.0));
                    between += usize::from(from < until);
                    for (at, (sort, place)) in works.iter().filter(|(at, _)| from < **at && **at < until) {
                        let (what, moved) = MOVES[*sort];
                        assert!(
                            !(moved.contains(&a) && moved.contains(&b) && meets(place, a, older.1)),
                            "seed {seed}: {figure} rests on {a} of line {from} and {b} of line {until}, and on line {at} came \
                             {what} {place}\n{text}"
                        );
                    }
                }
            }
        }
    }
    assert!(between > 0);
}
