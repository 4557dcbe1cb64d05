//! What is normal, over books that say it in any order and number: of a car, of a class, for a place, a side, an axle or every place. The
//! most particular of them holds, in the one function that says so and in what is asked about and refused; and where values are outside
//! for long, the line that the book offers parses, silences what it was offered for, and makes no other message.

use super::hunt::books;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::diagnostics::Severity;
use stringline::source::Memory;
use stringline::{Compiled, compile};

/// Numbers from a seed (Marsaglia's xorshift, 2003).
struct Pick(u64);

impl Pick {
    fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1)
    }

    fn below(&mut self, n: usize) -> usize {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        ((self.0 >> 11) % n as u64) as usize
    }

    fn shuffle<T>(&mut self, list: &mut [T]) {
        for at in (1..list.len()).rev() {
            list.swap(at, self.below(at + 1));
        }
    }
}

fn compiled(files: &[(&str, &str)]) -> Compiled {
    let now = "2026-12-01T12:00:00Z".parse().unwrap();
    compile(&Memory::new(files, now)).unwrap()
}

/// Tenths of a degree of camber, low and high.
type Range = (i32, i32);

/// The built-in ranges of camber, `vocabulary.sline`.
const USUAL: Range = (-50, 5);
const POSSIBLE: Range = (-80, 20);

const CORNERS: [(&str, Place); 4] =
    [("LF", Place::LF), ("RF", Place::RF), ("LR", Place::LR), ("RR", Place::RR)];

/// Which corners each word for places names.
const WORDS: [(&str, [bool; 4]); 9] = [
    ("", [true; 4]),
    ("front", [true, true, false, false]),
    ("rear", [false, false, true, true]),
    ("left", [true, false, true, false]),
    ("right", [false, true, false, true]),
    ("LF", [true, false, false, false]),
    ("RF", [false, true, false, false]),
    ("LR", [false, false, true, false]),
    ("RR", [false, false, false, true]),
];

/// Ranges of a car or a class: for each word for places a usual and a possible one, or none.
#[derive(Default, Clone)]
struct Says {
    usual: [Option<Range>; 9],
    possible: [Option<Range>; 9],
}

impl Says {
    /// No two that are equally close to one place, and nothing usual that is not possible.
    fn new(pick: &mut Pick) -> Self {
        let mut says = Self::default();
        let pairs = [1, 3][pick.below(2)];
        let limits = pick.below(2) == 0;
        for at in [0, pairs, pairs + 1, 5, 6, 7, 8] {
            if pick.below(3) == 0 {
                let low = pick.below(400) as i32 - 250;
                let high = low + 1 + pick.below(200) as i32;
                says.usual[at] = Some((low, if limits { high.min(155) } else { high }));
            }
            if limits && pick.below(2) == 0 {
                says.possible[at] = Some((-260 - pick.below(90) as i32, 160 + pick.below(90) as i32));
            }
        }
        // Somebody who says what is possible may say less than is usual to others.
        if pick.below(3) == 0 {
            says.usual = [None; 9];
            for possible in says.possible.iter_mut().flatten() {
                *possible = (-pick_small(pick), pick_small(pick));
            }
        }
        says
    }

    fn lines(&self, pick: &mut Pick) -> String {
        let tenths = |value: i32| {
            format!("{}{}.{}", if value < 0 { "-" } else { "" }, value.abs() / 10, value.abs() % 10)
        };
        let mut lines: Vec<String> = Vec::new();
        for (word, ranges) in [("usual", &self.usual), ("possible", &self.possible)] {
            for (range, (place, _)) in ranges.iter().zip(WORDS) {
                let Some((low, high)) = range else { continue };
                let place = if place.is_empty() { String::new() } else { format!("{place} ") };
                lines.push(format!("  {word} camber {place}{}..{} deg\n", tenths(*low), tenths(*high)));
            }
        }
        pick.shuffle(&mut lines);
        lines.concat()
    }

    /// The last word of the list that has one and names the corner is the closest.
    fn of(ranges: &[Option<Range>; 9], corner: usize) -> Option<Range> {
        (0..9).rev().find_map(|at| ranges[at].filter(|_| WORDS[at].1[corner]))
    }
}

fn pick_small(pick: &mut Pick) -> i32 {
    1 + pick.below(120) as i32
}

fn both(a: Range, b: Range) -> Range {
    (a.0.min(b.0), a.1.max(b.1))
}

/// What holds at a corner: the usual and the possible, by the words of the reference.
fn holds(class: Option<&Says>, car: &Says, corner: usize) -> (Range, Range) {
    let usual = [Some(car), class].into_iter().flatten().find_map(|says| Says::of(&says.usual, corner));
    let mut possible = POSSIBLE;
    for says in [class, Some(car)].into_iter().flatten() {
        possible = Says::of(&says.possible, corner).unwrap_or(possible);
        possible = Says::of(&says.usual, corner).map_or(possible, |usual| both(possible, usual));
    }
    (usual.unwrap_or(USUAL), possible)
}

#[test]
fn the_most_particular_holds() {
    for seed in 0..books(60, 3000) {
        let pick = &mut Pick::new(seed);
        let (class, own, other) = (Says::new(pick), Says::new(pick), Says::new(pick));
        let mut declared = [
            format!("class kart \"Karts\"\n{}", class.lines(pick)),
            format!("car lark \"Lark\"  class Kart\n{}", own.lines(pick)),
            format!("car wren \"Wren\"\n{}", other.lines(pick)),
            "car finch \"Finch\"  class kart\n".to_owned(),
            "car robin \"Robin\"\n".to_owned(),
        ];
        pick.shuffle(&mut declared);
        let none = Says::default();
        let cars = [
            ("lark", Some(&class), &own),
            ("wren", None, &other),
            ("finch", Some(&class), &none),
            ("robin", None, &none),
        ];
        let book = declared.concat();
        let mut files = vec![("book".to_owned(), book.clone())];
        let mut lines: Vec<(String, u32, bool, bool)> = Vec::new();
        for (car, class, own) in cars {
            // A file each: of one check no more than a hundred messages of a file are told.
            let mut text = String::new();
            for (corner, (place, _)) in CORNERS.iter().enumerate() {
                let (usual, possible) = holds(class, own, corner);
                let outside = |value: i32, range: Range| value < range.0 || value > range.1;
                for value in
                    [usual.0, usual.1, possible.0, possible.1].into_iter().flat_map(|end| end - 1..=end + 1)
                {
                    let typed = f64::from(value) / 10.0;
                    text += &format!("\n2026-05-01 {car}\n  read camber {place} {typed:.1} deg\n");
                    let refused = outside(value, possible);
                    lines.push((
                        car.to_owned(),
                        text.lines().count() as u32,
                        !refused && outside(value, usual),
                        refused,
                    ));
                }
            }
            files.push((car.to_owned(), text));
        }
        let named: Vec<(String, &str)> =
            files.iter().map(|(name, text)| (format!("{name}.sline"), text.as_str())).collect();
        let named: Vec<(&str, &str)> = named.iter().map(|(name, text)| (name.as_str(), *text)).collect();
        let made = compiled(&named);
        let place =
            |span: stringline::source::Span| (made.files.path(span.file).to_owned(), made.files.line(span));
        let said: Vec<((String, u32), &str)> = made
            .diagnostics
            .iter()
            .filter_map(|one| Some((place(one.at.as_ref()?.span), one.check)))
            .collect();
        for (car, line, asked, refused) in lines {
            let at = (format!("{car}.sline"), line);
            let has = |check: &str| said.contains(&(at.clone(), check));
            let got = (has("value-implausible"), has("value-impossible"));
            let typed = named
                .iter()
                .find(|(name, _)| *name == at.0)
                .and_then(|(_, text)| text.lines().nth(line as usize - 1));
            assert_eq!(got, (asked, refused), "seed {seed}, {car}: {typed:?}\n{book}");
        }
        assert!(!said.iter().any(|(_, check)| *check == "range-unclear"), "seed {seed}\n{book}");
        let camber = made.book.vocabulary.find("camber").unwrap();
        for (car, class, own) in cars {
            let at = made.book.cars.iter().position(|one| &*one.named.name == car).unwrap();
            for (corner, (_, place)) in CORNERS.iter().enumerate() {
                let normal = made.book.normal(Some(CarId::from(at)), camber, *place);
                let (usual, possible) = holds(class, own, corner);
                let tenths = |si: f64| (si.to_degrees() * 10.0).round() as i32;
                let got = [normal.usual.unwrap(), normal.possible.unwrap()]
                    .map(|one| (tenths(one.low), tenths(one.high)));
                assert_eq!(got, [usual, possible], "seed {seed}, {car} {place:?}\n{book}");
            }
        }
    }
}

/// Quantities, their unit, the number of decimals, and where values lie outside the usual and within the possible.
const FAR: [(&str, &str, usize, (f64, f64), bool); 12] = [
    ("camber", "deg", 1, (0.8, 1.9), true),
    ("camber", "deg", 2, (-7.9, -5.5), true),
    ("tyre-cold", "bar", 2, (0.40, 0.95), true),
    ("tyre-cold", "psi", 1, (6.0, 13.5), true),
    ("weight", "kg", 1, (12.0, 60.0), true),
    ("weight", "lb", 0, (40.0, 150.0), true),
    ("tyre-diameter", "mm", 0, (160.0, 230.0), true),
    ("ride-height", "in", 3, (0.5, 1.4), true),
    ("toe-in", "mm", 1, (5.0, 8.0), true),
    ("sprocket-rear", "", 0, (102.0, 138.0), false),
    ("tyre-circumference", "in", 3, (17.0, 29.0), true),
    ("wheelbase", "in", 2, (41.0, 44.0), false),
];

#[test]
fn the_line_that_is_offered_silences_what_it_is_offered_for() {
    let mut offers = 0;
    for seed in 0..books(48, 3000) {
        let pick = &mut Pick::new(seed);
        let (quantity, unit, decimals, (low, high), corners) = FAR[seed as usize % FAR.len()];
        let events = 1 + pick.below(5);
        let which = if pick.below(2) == 0 { 4 } else { 1 + pick.below(3) };
        let mut book = "circuit ring \"Ring\"  length 2 km\n".to_owned();
        for event in 0..events {
            book += &format!("event meet-{event} 2026-05-{:02} at ring\n", 2 + 2 * event);
        }
        let head = "car lark \"Lark\"  toe-over 400 mm\n";
        book += head;
        let mut typed: Vec<f64> = Vec::new();
        for event in 0..events {
            book += &format!("\n2026-05-{:02} lark at meet-{event}\n", 2 + 2 * event);
            let verb = ["read", "left", "set"][pick.below(3)];
            let mut line = format!("  {verb} {quantity}");
            for (place, _) in CORNERS.iter().take(if corners { which } else { 1 }) {
                let value = low + (high - low) * pick.below(1000) as f64 / 1000.0;
                let value = format!("{value:.decimals$}");
                typed.push(value.parse().unwrap());
                line += &if corners { format!(" {place} {value}") } else { format!(" {value}") };
            }
            book += &format!("{line} {unit}\n");
        }
        let made = compiled(&[("book.sline", &book)]);
        let far: Vec<_> = made.diagnostics.iter().filter(|one| one.check == "value-implausible").collect();
        assert_eq!(far.len(), events, "seed {seed}: each line is asked about\n{book}");
        let errors =
            |of: &Compiled| of.diagnostics.iter().filter(|one| one.severity == Severity::Error).count();
        assert_eq!(errors(&made), 0, "seed {seed}\n{book}");
        let offered: Vec<&str> = far
            .iter()
            .filter_map(|one| {
                one.cure.as_deref()?.split_once("type under `car lark`: `")?.1.strip_suffix('`')
            })
            .collect();
        assert_eq!(offered.len(), usize::from(events >= 3), "seed {seed}: once, after three events\n{book}");
        let Some(line) = offered.first() else { continue };
        offers += 1;
        let pasted = book.replace(head, &format!("{head}  {line}\n"));
        let after = compiled(&[("book.sline", &pasted)]);
        let messages = |of: &Compiled| of.diagnostics.iter().map(|one| one.check).collect::<Vec<_>>();
        let rest: Vec<&str> =
            messages(&made).into_iter().filter(|check| *check != "value-implausible").collect();
        assert_eq!(messages(&after), rest, "seed {seed}\n{pasted}");
        // It is no wider than a step beyond what was typed: the next slip is still asked about.
        let most = typed.iter().copied().fold(f64::MIN, f64::max);
        let slip = format!("{:.decimals$}", most * 10.0);
        let place = if corners { " LF" } else { "" };
        let last = format!("\n2026-06-20 lark\n  read {quantity}{place} {slip} {unit}\n");
        let with = compiled(&[("book.sline", &format!("{pasted}{last}"))]);
        let told = |of: &Compiled| {
            let tells = |check: &str| check == "value-implausible" || check == "value-impossible";
            of.diagnostics.iter().filter(|one| tells(one.check)).count()
        };
        if most > 0.0 {
            assert_eq!(told(&with), 1, "seed {seed}\n{pasted}{last}");
        }
    }
    assert!(offers > 8, "{offers} offers");
}
