//! Whatever is typed: laying out twice is laying out once, and the tree stays the same.

use super::{demo, laid};
use proptest::prelude::*;
use stringline::syntax::{Chunk, Shape, layout, parse_lines_only, unquote};

/// Kind, parent and words of a line.
type Said = (String, u32, Vec<(Shape, String)>);

/// What a text says: kind, parent and words of each line.
fn said(text: &str) -> Vec<Said> {
    let chunk: Chunk = parse_lines_only(text);
    chunk
        .lines
        .iter()
        .map(|line| {
            let words = chunk.words_of(line).iter().map(|word| {
                let typed = word.text(text);
                let typed = if word.shape == Shape::Text { unquote(typed) } else { typed };
                (word.shape, typed.to_owned())
            });
            (format!("{:?}", line.kind), line.parent, words.collect())
        })
        .collect()
}

fn holds(text: &str) {
    let once = laid(text);
    assert_eq!(said(text), said(&once), "typed {text:?}, laid {once:?}");
    assert_eq!(once, laid(&once), "typed {text:?}");
    // Lines kept for their errors change nothing of that.
    let kept = layout(text, &|line| line % 3 == 0, &stringline::book::opens);
    assert_eq!(said(text), said(&kept), "typed {text:?}, laid {kept:?}");
}

fn blank() -> impl Strategy<Value = String> {
    prop::sample::select(vec![" ", " ", " ", "  ", "\t", "   ", " \t", "\u{A0}"]).prop_map(str::to_owned)
}

fn word() -> impl Strategy<Value = String> {
    prop::sample::select(vec![
        "set",
        "found",
        "camber",
        "LF",
        "RF",
        "-3.2",
        "-3.1",
        "deg",
        "by",
        "cg-1",
        "with",
        "driver",
        "78",
        "kg,",
        "5",
        "3/16",
        "5-3/16",
        "in",
        "70",
        "->",
        "80",
        "N/mm",
        "because",
        "it",
        "# x",
        "#",
        "##",
        "\"a  b\"",
        "\u{201C}a b\u{201D}",
        "26psi",
        "09:35..09:55",
        "run",
        "s1",
        "14",
        "laps",
        "best",
        "1:08.42",
        "\u{B1} 0.4",
        "+/- 0.4",
        "?",
        "-",
        "72.1,",
        "| note",
        "41/11",
        "5d54'",
        "75W-90",
        "1,5",
        "\"",
        "over",
        "400",
        "mm",
        "during",
        "2026-04-18",
        "bittern",
        "at",
        "\r",
    ])
    .prop_map(str::to_owned)
}

fn line() -> impl Strategy<Value = String> {
    (
        prop::sample::select(vec!["", "", "  ", "  ", "    ", "\t", " ", "   ", "\t ", "      "]),
        prop::collection::vec((word(), blank()), 0..9),
        prop::sample::select(vec!["\n", "\n", "\n", "\r\n", "  \n", "\t\r\n", "\r\r\n", "\n\n\n"]),
    )
        .prop_map(|(indent, words, end)| {
            let words: String = words.into_iter().map(|(word, blank)| word + &blank).collect();
            format!("{indent}{words}{end}")
        })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn lines_put_together_of_ledger_words(lines in prop::collection::vec(line(), 0..12)) {
        holds(&lines.concat());
    }

    #[test]
    fn a_block_with_a_head(lines in prop::collection::vec(line(), 0..12)) {
        holds(&format!("2026-04-18 bittern\n{}", lines.concat()));
    }

    #[test]
    fn any_text(text in "[ -~\\n\\t\\r\u{201C}\u{201D}\u{A0}é]{0,120}") {
        holds(&text);
    }

    #[test]
    fn the_demo_book_with_slips(at in 0_usize..20_000, cut in 0_usize..4, put in "[ \\t\\n\\r\",#|/0-9a-z-]{0,3}") {
        let files = demo();
        let (_, text) = &files[at % files.len()];
        // A part of it is enough, and quicker.
        let start = text.floor_char_boundary(at % text.len());
        let part = &text[start..text.floor_char_boundary(start + 600)];
        let from = part.floor_char_boundary(at % part.len().max(1));
        let to = part.floor_char_boundary(from + cut);
        holds(&format!("{}{put}{}", &part[..from], part.get(to..).unwrap_or_default()));
    }
}
