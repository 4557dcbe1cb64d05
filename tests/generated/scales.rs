//! Books of a car whose load on every wheel is known, weighed in part: any of the four pads and the whole car, on lines of one block in
//! any order, each read to half a division of its scale. What the book makes of them is never further from the truth than those halves
//! leave open; a reading more takes no figure away; the check speaks of a pad where the figure has none, and only there.

use super::hunt::books;
use std::collections::BTreeMap;
use stringline::book::model::CarId;
use stringline::book::place::Place;
use stringline::figures::Calc;
use stringline::history::moment;
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
}

/// Kilograms under standard gravity.
const KG: f64 = 9.806_65;

/// The truth and the lines that read some of it: LF, RF, LR, RR, all of them, in kilograms.
struct Weighed {
    truth: [f64; 4],
    /// What a scale shows of each pad, and of the whole car.
    shown: [f64; 5],
    /// The division of the pads, and of the other scale.
    divisions: [f64; 2],
    seed: u64,
}

impl Weighed {
    fn new(seed: u64) -> Self {
        let mut pick = Pick(seed.wrapping_mul(0x9E37_79B9_7F4A_7C15) | 1);
        let truth: [f64; 4] = std::array::from_fn(|_| 100.0 + pick.below(200_000) as f64 / 1000.0);
        let divisions = [[0.1, 0.5, 1.0][pick.below(3) as usize], [0.5, 1.0, 2.0][pick.below(3) as usize]];
        let round = |value: f64, division: f64| (value / division).round() * division;
        let whole = truth.iter().sum();
        let mut shown = [0.0; 5];
        for (at, pad) in truth.iter().enumerate() {
            shown[at] = round(*pad, divisions[0]);
        }
        shown[4] = round(whole, divisions[1]);
        Self { truth, shown, divisions, seed }
    }

    /// The lines of the readings in `which`, in an order of the seed's own; of the pads some share a line.
    fn book(&self, which: u32, later: u32) -> String {
        let mut pick = Pick(self.seed.wrapping_mul(0xD134_2543_DE82_EF95) | 1);
        let [pads, bridge] = self.divisions;
        let mut book = format!(
            "gauge pads \"pads\"  reads weight  resolution {pads} kg\ngauge bridge \"bridge\"  reads total-weight  resolution {bridge} kg\n\
             car wren \"Wren\"\n  reference driver 78 kg, fuel 20 L, bars off\n"
        );
        for (day, which) in [(3, which), (4, later)] {
            if which == 0 {
                continue;
            }
            book += &format!("\n2026-05-{day:02} wren\n");
            let mut readings: Vec<usize> = (0..5).filter(|at| which & 1 << at != 0).collect();
            for at in (1..readings.len()).rev() {
                readings.swap(at, pick.below(at as u64 + 1) as usize);
            }
            let mut open = false;
            for at in readings {
                if at == 4 {
                    book += &format!(
                        "{}  read total-weight {:.1} kg  by bridge\n",
                        if open { "  by pads\n" } else { "" },
                        self.shown[4]
                    );
                    open = false;
                    continue;
                }
                let kg = if open { " " } else { "  read weight " };
                book += &format!("{kg}{} {:.1} kg", ["LF", "RF", "LR", "RR"][at], self.shown[at]);
                open = pick.below(2) == 0;
                if !open {
                    book += "  by pads\n";
                }
            }
            if open {
                book += "  by pads\n";
            }
        }
        book
    }

    /// Each figure's true value, and by how much the halves of a division may move it: exact for sums, with a little over for shares.
    fn allowed(&self) -> BTreeMap<(&'static str, Place), (f64, f64)> {
        let [lf, rf, lr, rr] = self.truth;
        let whole = lf + rf + lr + rr;
        let [pad, bridge] = self.divisions.map(|division| division / 2.0);
        let mut all = BTreeMap::new();
        // The whole car less three pads is off by the half of each at most; so is whatever takes its place.
        let most = bridge + 4.0 * pad + 1e-6;
        let sums = [
            (("corner-weight", Place::LF), lf),
            (("corner-weight", Place::RF), rf),
            (("corner-weight", Place::LR), lr),
            (("corner-weight", Place::RR), rr),
            (("axle-weight", Place::FRONT), lf + rf),
            (("axle-weight", Place::REAR), lr + rr),
            (("left-side-weight", Place::CAR), lf + lr),
            (("right-side-weight", Place::CAR), rf + rr),
            (("total-weight", Place::CAR), whole),
        ];
        all.extend(sums.map(|(key, value)| (key, (value * KG, most * KG))));
        let shares = [("cross-weight", rf + lr), ("front-weight", lf + rf), ("left-weight", lf + lr)];
        // A share of two numbers that are both off: of each by all there is.
        let off = 2.0 * most / (whole - most);
        all.extend(shares.map(|(name, part)| ((name, Place::CAR), (part / whole, off))));
        all
    }
}

/// What the book makes of it: each figure's value, and the messages of the check.
fn made(
    text: &str,
    figures: &BTreeMap<(&'static str, Place), (f64, f64)>,
) -> (BTreeMap<(&'static str, Place), f64>, Vec<String>) {
    let files = [("wren.sline", text)];
    let book = stringline::compile(&Memory::new(&files, crate::checks::now())).unwrap();
    let mut calc = Calc::new(book.facts(), CarId::new(0), &moment::end(&book.history));
    let got = figures.keys().filter_map(|key| Some((*key, calc.named(key.0, key.1).ok()?.value))).collect();
    (got, book.diagnostics.iter().map(|one| format!("{}: {}", one.check, one.message)).collect())
}

#[test]
fn no_weight_is_further_from_the_truth_than_its_scales() {
    let mut met = [0; 3];
    for seed in 0..books(60, 4_000) {
        let weighed = Weighed::new(seed);
        let allowed = weighed.allowed();
        let mut of_subset = BTreeMap::new();
        for which in 1..32_u32 {
            let text = weighed.book(which, 0);
            let (got, said) = made(&text, &allowed);
            for (key, value) in &got {
                let (truth, room) = allowed[key];
                assert!(
                    (value - truth).abs() <= room,
                    "seed {seed}, {key:?}: {value} for {truth} ± {room}\n{text}"
                );
            }
            // What is read alone is what it gives.
            let corners = (which & 15).count_ones();
            let whole = corners == 4 || corners == 3 && which & 16 != 0;
            assert_eq!(
                got.contains_key(&("cross-weight", Place::CAR)),
                whole || which & 16 != 0 && crossed(which),
                "{text}"
            );
            assert_eq!(
                got.contains_key(&("total-weight", Place::CAR)),
                which & 16 != 0 || corners == 4,
                "{text}"
            );
            met[usize::from(whole)] += 1;
            // The message and the figures agree: a pad is said to be missing where there is none worked out in its place.
            let incomplete = said.iter().filter(|one| one.starts_with("set-incomplete")).count();
            assert_eq!(incomplete, usize::from(corners > 0 && !whole), "{said:?}\n{text}");
            assert!(!said.iter().any(|one| one.starts_with("pads-against-total")), "{said:?}\n{text}");
            let all = Place::CORNERS.iter().all(|corner| got.contains_key(&("corner-weight", *corner)));
            assert_eq!(all, whole, "{text}");
            of_subset.insert(which, got);
        }
        for (which, got) in &of_subset {
            for more in (0..5).map(|at| which | 1 << at).filter(|more| more != which) {
                let lost = got.keys().find(|key| !of_subset[&more].contains_key(key));
                assert!(
                    lost.is_none(),
                    "seed {seed}: with more read {lost:?} is gone\n{}",
                    weighed.book(more, 0)
                );
            }
        }
        // The next day something is read once more: nothing is lost, and nothing moves from the truth.
        let mut pick = Pick(seed | 1);
        for _ in 0..6 {
            let (first, later) = (1 + pick.below(31) as u32, 1 + pick.below(31) as u32);
            let text = weighed.book(first, later);
            let (got, _) = made(&text, &allowed);
            for (key, value) in &got {
                let (truth, room) = allowed[key];
                assert!(
                    (value - truth).abs() <= room,
                    "seed {seed}, {key:?}: {value} for {truth} ± {room}\n{text}"
                );
            }
            let both = of_subset[&first].keys().chain(of_subset[&later].keys());
            let lost = both.into_iter().find(|key| !got.contains_key(key));
            assert!(lost.is_none(), "seed {seed}: {lost:?} is gone\n{text}");
            met[2] += 1;
        }
    }
    // A law that never meets its case holds of anything.
    assert!(met.iter().all(|count| *count > 0), "{met:?}");
}

/// Whether both pads of one diagonal were read.
fn crossed(which: u32) -> bool {
    which & 0b0110 == 0b0110 || which & 0b1001 == 0b1001
}
