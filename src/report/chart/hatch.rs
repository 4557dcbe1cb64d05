//! Hatchings of bars, so that they are told apart without colour.
//!
//! Must not know what the bars are.

use super::scale::place;
use std::fmt::Write as _;

/// Height of a bar; the templates have the same.
pub const BAR: f64 = 17.0;

/// A hatching over a bar from its left end and its top, as a path: none for the first, then rising, falling, upright, level lines,
/// both slants, upright and level, close upright, close rising.
pub fn hatch(which: usize, x: f64, y: f64, wide: f64) -> String {
    hatched(which, x, y, (wide, BAR))
}

/// The same over a bar of another height.
pub fn hatched(which: usize, x: f64, y: f64, (wide, high): (f64, f64)) -> String {
    let mut path = String::new();
    let mut line = |x1: f64, y1: f64, x2: f64, y2: f64| {
        let _ = write!(path, "M{} {}L{} {}", place(x1), place(y1), place(x2), place(y2));
    };
    let slant = |step: f64, rising: bool, line: &mut dyn FnMut(f64, f64, f64, f64)| {
        let mut at = step - high;
        while at < wide {
            // From (at, one edge) to (at + high, the other), kept within the bar.
            let (from, to) = (at.max(0.0), (at + high).min(wide));
            let (a, b) = (from - at, to - at);
            let edge = |run: f64| if rising { y + high - run } else { y + run };
            line(x + from, edge(a), x + to, edge(b));
            at += step;
        }
    };
    let upright = |step: f64, line: &mut dyn FnMut(f64, f64, f64, f64)| {
        let mut at = step;
        while at < wide {
            line(x + at, y, x + at, y + high);
            at += step;
        }
    };
    let level = |line: &mut dyn FnMut(f64, f64, f64, f64)| {
        for at in [4.0, 8.5, 13.0].into_iter().filter(|at| *at < high) {
            line(x, y + at, x + wide, y + at);
        }
    };
    match which {
        1 => slant(6.0, true, &mut line),
        2 => slant(6.0, false, &mut line),
        3 => upright(4.0, &mut line),
        4 => level(&mut line),
        5 => {
            slant(8.0, true, &mut line);
            slant(8.0, false, &mut line);
        }
        6 => {
            upright(5.0, &mut line);
            level(&mut line);
        }
        7 => upright(2.0, &mut line),
        8 => slant(3.0, true, &mut line),
        _ => {}
    }
    path
}
