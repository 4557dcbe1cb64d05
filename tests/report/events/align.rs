//! On the flat: did it move, or was it set? By hand: a gauge of 0.1 deg leaves 0.05 open of each reading, so that 0.5 deg are five widths.

use super::{in_order, of_book, of_demo};

const BOOK: &str = "circuit c \"C\" length 2 km\nevent e 2026-05-02 at c \"E\"\ngauge cg-1 \"camber gauge\"  reads camber  resolution 0.1 deg\n\
                    car heron \"Heron\"\n\
                    2026-04-01 heron\n  left camber -2.7 -2.7 -1.6 -1.5 deg  by cg-1\n\
                    2026-05-02 heron at e\n  10:00..10:20 run s1  12 laps\n";

fn flat(lines: &str) -> String {
    of_book(&format!("{BOOK}{lines}"), "heron-alignment.html")
}

#[test]
fn the_demo_says_which_corner_moved() {
    in_order(
        &of_demo("curlew-alignment.html"),
        &[
            "camber",
            "RF moved +0.5 deg, 5 gauge widths, since 4 Apr (",
            "no impact between); LF, LR and RR as left.",
        ],
    );
}

#[test]
fn it_moved_or_was_as_left() {
    let found = "2026-05-04 heron\n  found camber -2.7 -2.2 -1.7 -1.5 deg  by cg-1\n";
    let said = flat(&format!("  hit RF \"kerb\" during s1\n{found}"));
    assert!(
        said.contains(
            "RF moved +0.5 deg, 5 gauge widths, since 1 Apr (24 km, 1 impact between); LF, LR and RR as left."
        ),
        "{said}"
    );
    let said = flat("2026-05-04 heron\n  found camber -2.7 -2.7 -1.6 -1.5 deg  by cg-1\n");
    assert!(said.contains("all as left."), "{said}");
}

/// What a line set in between did not move by itself; what was found is held against that.
#[test]
fn what_was_set_between_did_not_move() {
    let said = flat(
        "  set camber LF -3.0 RF -3.0 deg  because it pushes\n2026-05-04 heron\n  found camber -3.0 -2.8 -1.6 -1.5 deg  by cg-1\n",
    );
    in_order(
        &said,
        &[
            "LF was set between, 2 May, and found as set",
            "RF was set between, 2 May, and found +0.2 deg",
            "LR and RR as left",
        ],
    );
    assert!(!said.contains("moved"), "{said}");
}

/// A line with a mistake between leaves it open.
#[test]
fn a_line_with_a_mistake_between_tells_nothing() {
    let said =
        flat("  set camber LF -3,0 deg\n2026-05-04 heron\n  found camber -3.0 -2.7 -1.6 -1.5 deg  by cg-1\n");
    in_order(&said, &["cannot be told to be as left", "as left"]);
    assert!(!said.contains("LF moved"), "{said}");
}

/// What was only read since is newer than what was left, and than what was found.
#[test]
fn a_later_reading_stands_against_how_it_was_left() {
    let read = "2026-05-04 heron\n  read camber -2.7 -2.2 -1.6 -1.5 deg  by cg-1\n";
    let said = flat(read);
    assert!(said.contains("RF moved +0.5 deg, 5 gauge widths, since 1 Apr"), "{said}");
    let found = "2026-05-03 heron\n  found camber -2.7 -2.7 -1.6 -1.5 deg  by cg-1\n";
    assert!(flat(&format!("{found}{read}")).contains("RF moved +0.5 deg, 5 gauge widths"), "{said}");
}
