//! Small books of gauges whose true errors are known, held against one another and against references on any days, in any order of
//! lines: what is put right is true within what it says.

use super::hunt::books;
use stringline::Compiled;
use stringline::book::entry::{By, HeldAgainst};
use stringline::book::place::Place;
use stringline::figures::{Calc, Fig};
use stringline::history::Moment;
use stringline::history::order::Rank;
use stringline::source::Memory;

/// Numbers from a seed (Marsaglia's xorshift, 2003).
struct Pick(u64);

impl Pick {
    fn below(&mut self, n: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        (self.0 >> 11) % n
    }

    /// A whole number of millibars from -most to most.
    fn error(&mut self, most: u64) -> i64 {
        self.below(2 * most + 1) as i64 - most as i64
    }
}

const GAUGES: usize = 4;
/// Of each gauge the division, millibars.
const DIVISIONS: [i64; GAUGES] = [10, 10, 20, 50];

/// What a gauge shows of a true pressure: with its error, rounded to its division. Millibars.
fn shows(gauge: usize, errors: &[i64; GAUGES], truth: i64) -> i64 {
    let division = DIVISIONS[gauge];
    (truth + errors[gauge] + division / 2).div_euclid(division) * division
}

fn bar(millibars: i64) -> String {
    format!("{}.{:03}", millibars / 1000, millibars % 1000)
}

/// A story: dated blocks, the true cold and hot pressure, and the errors.
struct Story {
    comparisons: Vec<String>,
    readings: String,
    cold: i64,
    hot: i64,
    errors: [i64; GAUGES],
    with_reference: bool,
}

fn story(seed: u64) -> Story {
    let mut pick = Pick(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
    let errors: [i64; GAUGES] = std::array::from_fn(|_| pick.error(120));
    let with_reference = pick.below(2) == 0;
    let mut comparisons = Vec::new();
    for _ in 0..pick.below(7) {
        let day = format!("2026-{:02}-{:02}", 1 + pick.below(9), 1 + pick.below(28));
        let truth = 1000 + pick.below(1500) as i64;
        let first = pick.below(GAUGES as u64) as usize;
        let second = pick.below(GAUGES as u64 + 1) as usize;
        let head = if pick.below(3) == 0 { format!("{day} wren\n") } else { format!("{day}\n") };
        let a = format!("p{first} {}", bar(shows(first, &errors, truth)));
        let b = if second >= GAUGES || second == first {
            if !with_reference {
                continue;
            }
            format!("reference {}", bar(truth))
        } else {
            format!("p{second} {}", bar(shows(second, &errors, truth)))
        };
        let line = if pick.below(2) == 0 { format!("{a} {b}") } else { format!("{b} {a}") };
        comparisons.push(format!("{head}  compare {line} bar\n"));
    }
    let (cold, hot) = (1200 + pick.below(400) as i64, 1700 + pick.below(400) as i64);
    let (by_cold, by_hot) = (pick.below(GAUGES as u64) as usize, pick.below(GAUGES as u64) as usize);
    let readings = format!(
        "2026-05-10 wren at pell-1\n  read tyre-cold LF {} bar  by p{by_cold}\n  run s1  5 laps\n    read tyre-hot LF {} bar  by p{by_hot}\n",
        bar(shows(by_cold, &errors, cold)),
        bar(shows(by_hot, &errors, hot)),
    );
    Story { comparisons, readings, cold, hot, errors, with_reference }
}

fn compiled(parts: &[&str]) -> Compiled {
    let mut text = "circuit pell \"Pell\"\nevent pell-1 2026-05-10 at pell\ncar wren \"Wren\"\n".to_owned();
    for (gauge, division) in DIVISIONS.iter().enumerate() {
        text +=
            &format!("gauge p{gauge} \"gauge\"  reads tyre-cold, tyre-hot  resolution 0.{division:03} bar\n");
    }
    for part in parts {
        text += part;
    }
    stringline::compile(&Memory::new(&[("wren.sline", &text)], crate::checks::now())).unwrap()
}

/// A figure at the end of the book, with how far off what was put right may be: every reading by half its division, every comparison by
/// what it leaves open. Bar.
fn figure(book: &Compiled, name: &str) -> Option<(f64, f64, usize)> {
    let (car, _) = book.book.cars.iter_enumerated().next()?;
    let (run, _) = book.book.entries.iter_enumerated().find(|(_, entry)| entry.run().is_some())?;
    let moment = Moment { session: Some(run), ..Moment::of_rank(Rank::END) };
    let mut calc = Calc::new(book.facts(), car, &moment);
    let fig = match name {
        "tyre-gain" => calc.named(name, Place::LF).ok()?,
        _ => calc.value(name, Place::LF).ok()?,
    };
    Some((fig.value / 1e5, open(&calc, book, &fig) / 1e5, calc.corrected.len()))
}

fn open(calc: &Calc<'_>, book: &Compiled, fig: &Fig) -> f64 {
    let mut open = 0.0;
    for (root, slope) in &fig.by {
        let typed = calc
            .nodes
            .iter()
            .find(|node| node.span.is_some_and(|span| *root == stringline::figures::calc::Root::Typed(span)));
        let half = typed.and_then(|node| node.entry).map(|entry| match book.book.entries[entry].by {
            By::Gauge(gauge) => book.book.gauges[gauge].resolution.unwrap().si / 2.0,
            _ => 0.0,
        });
        open += slope.abs() * half.unwrap_or_else(|| calc.half(*root));
    }
    open
}

/// Without any comparison the same book says what was typed.
#[test]
fn what_is_put_right_is_true_within_what_it_says() {
    let (mut put_right, mut in_terms, mut mixed) = (0, 0, 0);
    for seed in 0..books(300, 10_000) {
        let story = story(seed);
        let mut parts: Vec<&str> = story.comparisons.iter().map(String::as_str).collect();
        parts.push(&story.readings);
        let book = compiled(&parts);
        let words = || format!("seed {seed}, errors {:?}\n{}", story.errors, parts.concat());
        let plain = compiled(&[&story.readings]);
        let truth =
            [("tyre-cold", story.cold), ("tyre-hot", story.hot), ("tyre-gain", story.hot - story.cold)];
        for (name, truth) in truth {
            let (is, open, corrected) = figure(&book, name).unwrap_or_else(|| panic!("{name}\n{}", words()));
            let (typed, _, none) = figure(&plain, name).unwrap();
            assert_eq!(none, 0, "{}", words());
            if corrected == 0 {
                assert_eq!(
                    is.to_bits(),
                    typed.to_bits(),
                    "{name}: nothing was compared, and it is otherwise\n{}",
                    words()
                );
                continue;
            }
            let lines = [story.cold, story.hot].len();
            assert!(corrected <= 2 * lines, "{}", words());
            let off = (is - truth as f64 / 1000.0).abs();
            // Of a gain by two gauges of which one was led to the reference and the other to nothing, nobody can say.
            if name == "tyre-gain" && !both_known(&book) {
                mixed += 1;
                continue;
            }
            assert!(off <= open + 1e-9, "{name} is {is}, {off} off, and says {open}\n{}", words());
            put_right += usize::from(story.with_reference);
            in_terms += usize::from(!story.with_reference);
            assert!(
                story.with_reference || name == "tyre-gain",
                "{name} alone is nobody's terms\n{}",
                words()
            );
        }
        // The order in which comparisons are typed says nothing.
        let mut turned: Vec<&str> = story.comparisons.iter().rev().map(String::as_str).collect();
        turned.insert(turned.len() / 2, &story.readings);
        let turned = compiled(&turned);
        for name in ["tyre-cold", "tyre-hot", "tyre-gain"] {
            let [a, b] = [&book, &turned].map(|book| figure(book, name).unwrap());
            assert!(
                (a.0 - b.0).abs() < 1e-12 && (a.1 - b.1).abs() < 1e-12,
                "{name}: {a:?} {b:?}\n{}",
                words()
            );
        }
        // Gauges that never change close every ring.
        assert!(book.history.gauges.quarrels().is_empty(), "{}", words());
    }
    assert!(put_right > 20 && in_terms > 20 && mixed > 0, "{put_right} {in_terms} {mixed}");
}

/// Whether both readings are put right against the same thing.
fn both_known(book: &Compiled) -> bool {
    let readings = book.book.entries.iter_enumerated().filter(|(_, entry)| entry.verb.is_reading());
    let against: Vec<Option<_>> = readings
        .map(|(index, entry)| {
            let item = &book.book.items_of(entry)[0];
            book.facts()
                .correction(index, item)
                .map(|(_, by)| (by.terms, by.against == HeldAgainst::Reference))
        })
        .collect();
    let one_gauge = {
        let by: Vec<By> =
            book.book.entries.iter().filter(|entry| entry.verb.is_reading()).map(|entry| entry.by).collect();
        by.windows(2).all(|pair| pair[0] == pair[1])
    };
    one_gauge || against[0].is_some() && against[0] == against[1]
}
