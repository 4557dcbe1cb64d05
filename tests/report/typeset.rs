//! Amounts in print: ISO 80000-1, 7.3.1 sets groups of three apart by a small space.

use crate::demo::DEMO;
use stringline::report::typeset::{digits, minus, signs};
use stringline::report::{Options, render};

#[test]
fn amounts_are_set_as_amounts_and_nothing_else_is() {
    for (typed, shown) in [
        ("25515.50", "25\u{202f}515.50"),
        ("at least 1234567 km", "at least 1\u{202f}234\u{202f}567 km"),
        ("-12345", "\u{2212}12\u{202f}345"),
        ("1104.40", "1104.40"),
        ("0.12345678", "0.12345678"),
        ("cp-01", "cp-01"),
        ("12345a", "12345a"),
        ("1:07.18", "1:07.18"),
        ("-", "-"),
        ("", ""),
        ("-0.72 s (-3)", "\u{2212}0.72 s (\u{2212}3)"),
    ] {
        assert_eq!(digits(typed), shown);
    }
    assert_eq!(minus("2026-04-18 quern-2 -3.2"), "2026-04-18 quern-2 \u{2212}3.2");
}

#[test]
fn no_page_has_a_hyphen_for_a_minus() {
    let options = Options { parts: true, ..Options::default() };
    let mut found = Vec::new();
    for page in render(&DEMO, options).unwrap() {
        let (_, body) = page.html.split_once("<body").unwrap();
        // Between two tags; what is to be typed stands in `code` and `pre` and is left as it is typed.
        let mut typed = false;
        for piece in body.split('<') {
            let (tag, text) = piece.split_once('>').unwrap_or(("", piece));
            match tag.split(' ').next() {
                Some("code" | "pre") => typed = true,
                Some("/code" | "/pre") => typed = false,
                _ => {}
            }
            let text = format!(" {text}");
            let minus = text.match_indices('-').any(|(at, _)| {
                text[..at].ends_with([' ', '(', '\n'])
                    && text[at + 1..].starts_with(|next: char| next.is_ascii_digit())
            });
            if minus && !typed {
                found.push(format!("{}: {}", page.name, text.trim()));
            }
        }
    }
    assert_eq!(found, Vec::<String>::new());
}

#[test]
fn a_minus_stands_where_a_number_begins_and_nowhere_else() {
    for (typed, shown) in [
        ("<td>-3.2</td>", "<td>\u{2212}3.2</td>"),
        ("<td>\n -3 (-4 to -1)</td>", "<td>\n \u{2212}3 (\u{2212}4 to \u{2212}1)</td>"),
        // Names, dates, ranges, and what goes on behind an element that ends.
        ("<p>cp-01 2026-04-18 3-4 - 5 -x</p>", "<p>cp-01 2026-04-18 3-4 - 5 -x</p>"),
        ("<p><b>cp</b>-01</p>", "<p><b>cp</b>-01</p>"),
        ("<p><b>cp</b> -01</p>", "<p><b>cp</b> \u{2212}01</p>"),
        // In a tag, and in what is to be typed.
        ("<a title=\"x > -3\" y='-1'>-2</a>", "<a title=\"x > -3\" y='-1'>\u{2212}2</a>"),
        (
            "<code class=\"x\">set -3 <b>-4</b></code> -5",
            "<code class=\"x\">set -3 <b>-4</b></code> \u{2212}5",
        ),
        ("<pre>-1</pre><codes>-2</codes>", "<pre>-1</pre><codes>\u{2212}2</codes>"),
        ("<style>a { x: -1 }</style>", "<style>a { x: -1 }</style>"),
        // No tag, no end.
        ("a < -3", "a < \u{2212}3"),
        ("<p -3", "<p -3"),
        ("-3", "\u{2212}3"),
        ("-", "-"),
        ("", ""),
    ] {
        assert_eq!(signs(typed), shown);
        assert_eq!(signs(shown), shown);
    }
}
