//! What a turn of a setting is worth: slopes through no change, by closed forms; and what ends a chain of readings.

mod balance;
mod books;
mod chains;
mod fits;
mod hot;
mod traced;

use stringline::Compiled;
use stringline::answer::worth::{TurnWorth, WorthAnswer, build};
use stringline::history::order::Rank;

/// A car whose camber is read, and shimmed.
pub const SHOP: &str = r#"shop "Invented"
kind upright  fits LF RF
part up-1 upright
part up-2 upright
gauge cg-1 "camber gauge"  reads camber  resolution 0.1 deg
gauge cg-2 "another"  reads camber  resolution 0.1 deg
person ned "Ned"
client orr "Orr"
quantity camber-shim length corner  "shims behind the upper arm"
quantity wedge-block length corner  "blocks under the spring"
car heron "Heron"  client orr

2025-05-01 heron
  set camber-shim LF 3 RF 3 mm
  set wedge-block LF 0 RF 0 mm
  fit up-1 LF

2025-05-02 heron
"#;

pub fn book(lines: &str) -> Compiled {
    crate::checks::compile_text(&format!("{SHOP}{lines}"))
}

pub fn said(compiled: &Compiled) -> WorthAnswer {
    build(compiled, crate::history::car(compiled, "heron"), Rank::END)
}

/// The only turn that something is said of.
pub fn only(lines: &str) -> TurnWorth {
    let mut all = said(&book(lines));
    assert_eq!(all.turns.len(), 1, "{:?}", all.turns.iter().map(|one| &one.sentence).collect::<Vec<_>>());
    all.turns.remove(0)
}

/// Readings of camber LF with the shims at 3 and 4 mm by turns; a line between the first two where it is asked for.
pub fn shimmed(cambers: &[&str], between: &str) -> String {
    let mut text = String::new();
    for (index, camber) in cambers.iter().enumerate() {
        if index > 0 {
            let (from, to) = if index % 2 == 1 { (3, 4) } else { (4, 3) };
            text += &format!("  set camber-shim LF {from} -> {to} mm\n");
        }
        if index == 1 {
            text += between;
        }
        text += &format!("  read camber LF {camber} deg\n");
    }
    text
}
