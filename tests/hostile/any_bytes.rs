//! Any bytes at all, and ledger lines with something broken in them, through the whole pipeline and every renderer.

use super::{book, render};
use crate::agreement::ledger_lines;
use proptest::prelude::*;

/// The bytes as `Disk` would make text of them.
fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).into_owned()
}

/// A shop to put lines into, so that they mean something.
const SHOP: &str = "shop \"A\"  currency EUR  zone Europe/Dublin\nperson ned \"Ned\"\ncircuit pell \"P\"  length 1.2 km\n\
    event pell-1 2026-04-18..19 at pell \"P\"\ngauge cg-1 \"c\"  reads camber  resolution 0.1 deg\n\
    car bittern \"B\"  units metric\n  cylinders 4\n  toe-over 400 mm\n\
    kind coupling \"c\"  fits LR RR  life 300 min\nkind damper \"d\"  fits LF RF LR RR  carries rebound, bump\n\
    part cp-1 coupling  opening new\npart cp-2 coupling\npart dm-1 damper\n\n2026-04-18 bittern at pell-1\n";

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn bytes_never_panic(bytes in prop::collection::vec(any::<u8>(), 0..400)) {
        render(&book(&[("a.sline", &text(&bytes))]));
        render(&book(&[("a.sline", &format!("{SHOP}  {}", text(&bytes)))]));
    }

    #[test]
    fn mutated_ledgers_never_panic(
        picks in prop::collection::vec(any::<prop::sample::Index>(), 1..40),
        changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>(), 0..3_u8), 0..12),
    ) {
        let lines = ledger_lines();
        let mut bytes = SHOP.as_bytes().to_vec();
        for pick in picks {
            bytes.extend(pick.get(lines).as_bytes());
            bytes.push(b'\n');
        }
        for (at, byte, how) in changes {
            let at = at.index(bytes.len());
            match how {
                0 => bytes[at] = byte,
                1 => bytes.insert(at, byte),
                _ => drop(bytes.remove(at)),
            }
        }
        render(&book(&[("a.sline", &text(&bytes))]));
    }

    #[test]
    fn lines_in_another_order_never_panic(seed in any::<u64>()) {
        let mut lines: Vec<&String> = ledger_lines().iter().collect();
        let mut state = seed;
        for at in (1..lines.len()).rev() {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            lines.swap(at, (state >> 33) as usize % (at + 1));
        }
        let text: Vec<&str> = lines.iter().take(300).map(|line| line.as_str()).collect();
        render(&book(&[("a.sline", &text.join("\n"))]));
    }
}
