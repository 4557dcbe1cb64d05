//! Small books of one car that is weighed, lifted, aligned, raised, hit and shod in any order: more ways for readings not to belong
//! together than a season has.

use super::holds::Files;
use super::holds::together::{Met, inputs_were_true_together};
use super::hunt::books;

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
