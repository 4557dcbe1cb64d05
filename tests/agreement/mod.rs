//! The fast reader of lines and the grammar agree: the same words, lines and mistakes, whatever is typed.

use proptest::prelude::*;
use stringline::source::{Disk, World as _};
use stringline::syntax::{lines_by_fast, parse_lines_only, words_by_grammar};

/// Asserts that both read a text alike.
fn agree(text: &str) {
    let (fast, grammar) = (parse_lines_only(text), words_by_grammar(text));
    let lines = |chunk: &stringline::syntax::Chunk| -> Vec<String> {
        chunk.lines.iter().map(|line| format!("{line:?} {:?}", chunk.words_of(line))).collect()
    };
    assert_eq!(lines(&fast), lines(&grammar), "{text:?}");
    assert_eq!(fast.troubles, grammar.troubles, "{text:?}");
}

/// Every line of the demo book, the vocabulary and the fixtures.
pub fn ledger_lines() -> &'static [String] {
    static LINES: std::sync::LazyLock<Vec<String>> = std::sync::LazyLock::new(read_lines);
    &LINES
}

fn read_lines() -> Vec<String> {
    let mut lines = Vec::new();
    for folder in ["ledgers", "tests/fixtures", "grammar"] {
        for (_, text) in ledger_files(folder) {
            lines.extend(text.lines().map(str::to_owned));
        }
    }
    assert!(lines.len() > 150);
    lines
}

/// The ledgers below one of the project's folders: path and text.
pub fn ledger_files(folder: &str) -> Vec<(String, String)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let Ok((files, _)) = (Disk { root }).load() else { return Vec::new() };
    files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect()
}

#[test]
fn on_every_ledger_of_the_project() {
    let lines = ledger_lines();
    for line in lines {
        agree(line);
    }
    let text = lines.join("\n");
    agree(&text);
    // Else this test would hold while the fast reader read nothing.
    // Formulas are the grammar's to read: the share is of what a shop types by the thousand.
    let usual = ["ledgers", "tests/fixtures"].into_iter().flat_map(ledger_files);
    let text = usual.map(|(_, text)| text).collect::<Vec<_>>().join("\n");
    let said = words_by_grammar(&text).lines.len();
    assert!(lines_by_fast(&text) * 100 > said * 95, "{} of {said}", lines_by_fast(&text));
}

#[test]
fn on_lines_at_the_edges_of_each_rule() {
    for line in [
        "  09:35",
        "  09:35 ",
        "  09:35,",
        "  09:35 , x",
        "  9:35..10:5 run s1",
        "  9:35..10:05, run s1",
        "  109:35 run",
        "  because",
        "  because of it",
        "  set because of it",
        "  set because, of it",
        "  set because",
        "  set because  ",
        "  set BECAUSE Of it # no, really",
        "  set because of it #",
        "  set because # it",
        "  set because-of it",
        "  set x 5 3/16 in",
        "  3/16 5 3/16 5  3/16",
        "  5, 3/16",
        "  set x 13/8 41/11 60/80 71/78/84 1/0",
        "  set x 26psi 5d54' 0d05' 5-3/16 1.5.5 1:08.42 1:08 1..5 -5..0.5 1..",
        "  set x -.5 .5 +.5 - -5 +5 +-5 --5 5- 5+ +1/4 +/- 0.4 5% 5^2",
        "  set x -> y ->y - > ?, ? ?x",
        "  set x,y",
        "  set x, y,",
        "  set x ,y",
        "  set x , y",
        "  set x,, y",
        "  say \"a\" \"b\", \"c\"",
        "  say \"a\"b",
        "  say \"a",
        "  say \"a\u{201D} b\"",
        "  say \"a\u{2014}b\" c",
        "  say \"a\u{E2}\u{20AC}\u{9C}b\"",
        "  say \"\"",
        "  set x # comment",
        "  set x #",
        "  set x ## comment",
        "  set x #comment",
        "  set x# comment",
        "  set x 5# comment",
        "  set x \"a\"# comment",
        "  set x, # comment",
        "  #comment",
        "  # comment",
        "#",
        "  |",
        "  | note # not a comment",
        "|note",
        "|",
        "  set x\u{A0}5",
        "  set x 5\u{A0}mm",
        "  set x 5 \u{A0}",
        "  set x 5 \u{B0}C",
        "  set x 5\u{B0}C",
        "  set x 5 N\u{B7}m",
        "  set\tx\t5\t",
        "  set x 5\r",
        "  set x 5 \r",
        "2026-04-18",
        "2026-04-18 ",
        "2026-04-18, x",
        "2026-04-18..19 x",
        "2026-04-18x",
        "2026-04-18 because of it",
        "2026-04-18 # comment",
        "2026-4-18 x",
        "20260-04-18 x",
        "26 x",
        "car",
        "car,",
        "because x",
        "because",
        "%x y",
        "\"x\" y",
        "car x # comment",
        "car (x) a*b c&d e@f g~h i^2 _x 'y z'",
        "   ",
        "\t",
        "",
    ] {
        agree(line);
        agree(&format!("2026-04-18 x\n{line}\n  set y 5"));
    }
}

/// Pieces that lines are made of, and some that they should not be.
const PIECES: [&str; 52] = [
    "set",
    "camber",
    "LF",
    "-3.2",
    "5",
    "3/16",
    "+1/4",
    "41/11",
    "->",
    "-",
    "?",
    ",",
    ", ",
    " ",
    "  ",
    "\t",
    "deg",
    "N/mm",
    "26psi",
    "5d54'",
    "09:35",
    "09:35..09:55",
    "1:08.42",
    "2026-04-18",
    "2026-04-18..19",
    "because",
    "#",
    "##",
    "|",
    "\"",
    "\"a b\"",
    "\u{201C}",
    "\u{201D}",
    "\u{A0}",
    "\u{B0}C",
    "N\u{B7}m",
    "\u{2212}5",
    "\u{2013}",
    "\u{2192}",
    "+/- 0.4",
    "\u{B1}0.4",
    ".",
    "..",
    "1..5",
    "\r",
    "'",
    "(",
    "205/55R16",
    "75W-90",
    "with",
    "by",
    "\u{1F3C1}",
];

proptest! {
    #![proptest_config(ProptestConfig { cases: 4000, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn on_lines_of_pieces(picks in prop::collection::vec(0..PIECES.len(), 0..14), indent in 0..3_usize, glue in any::<u32>()) {
        let mut line = " ".repeat(indent);
        for (at, pick) in picks.into_iter().enumerate() {
            if at > 0 && glue >> at & 1 == 0 {
                line.push(' ');
            }
            line.push_str(PIECES[pick]);
        }
        agree(&line);
    }

    #[test]
    fn on_any_text(text in "\\PC{0,40}", indent in 0..3_usize) {
        agree(&format!("{}{text}", " ".repeat(indent)));
    }

    #[test]
    fn on_mutated_ledger_lines(pick in any::<prop::sample::Index>(), at in any::<prop::sample::Index>(), piece in 0..PIECES.len(), cut in 0..4_usize) {
        let lines = ledger_lines();
        let mut line: Vec<char> = pick.get(lines).chars().collect();
        if !line.is_empty() {
            let at = at.index(line.len());
            let end = (at + cut).min(line.len());
            line.splice(at..end, PIECES[piece].chars());
        }
        agree(&line.into_iter().collect::<String>());
    }
}
