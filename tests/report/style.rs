//! A page takes along only the rules of its style that something on it can take.

use stringline::report::style::worn;

/// A page with this style and this body.
fn page(style: &str, body: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<style>\n{style}</style>\n</head>\n{body}\n</html>\n"
    )
}

/// What is left of a style beside a body.
fn left(style: &str, body: &str) -> String {
    let html = worn(page(style, body));
    let (_, rest) = html.split_once("<style>\n").unwrap();
    let (kept, rest) = rest.split_once("</style>").unwrap();
    assert_eq!(rest, page("", body).split_once("</style>").unwrap().1, "the page beside its style stands");
    kept.to_owned()
}

const BODY: &str = "<body class=\"of-now\"><p class=\"a b-c\" title=\"x > y\" id=\"here\">text <b>bold</b></p><svg viewBox='0 0 1 1'></svg></body>";

#[test]
fn a_rule_that_nothing_can_take_goes() {
    for (style, expected) in [
        // By class, by element, by id, whatever stands between them.
        (".a { x: y }", ".a{x: y}\n"),
        (".z { x: y }", ""),
        ("p.a > .b-c { x: y }", "p.a > .b-c{x: y}\n"),
        ("p.a > .b- { x: y }", ""),
        ("h2 { x: y }", ""),
        ("#here { x: y } #there { x: y }", "#here{x: y}\n"),
        // Of a list those stay that can.
        (".z, p, h2 b, svg { x: y }", "p, svg{x: y}\n"),
        // The root, elements whatever their letters, everything.
        (
            "html { x: y } :root { x: y } * { x: y } SVG { x: y }",
            "html{x: y}\n:root{x: y}\n*{x: y}\nSVG{x: y}\n",
        ),
        // States and what stands in brackets are taken as given; what stands outside is not.
        ("p:not(.z) { x: y } p:hover::before { x: y }", "p:not(.z){x: y}\np:hover::before{x: y}\n"),
        (".z:not(.a) { x: y }", ""),
        ("[open] { x: y } p[data-q=\".z\"] { x: y }", "[open]{x: y}\np[data-q=\".z\"]{x: y}\n"),
        // Rules inside others that hold them; one that holds nothing any more goes as a whole.
        ("@media print { .z { x: y } .a { x: y } }", "@media print{\n.a{x: y}\n}\n"),
        ("@media print { .z { x: y } }", ""),
        (
            "@media print { @supports (x: y) { .a { x: y } } }",
            "@media print{\n@supports (x: y){\n.a{x: y}\n}\n}\n",
        ),
        // What is no list of selectors stays.
        (
            "@page { margin: 1cm; @bottom-right { content: \".z { }\" } }",
            "@page{margin: 1cm; @bottom-right { content: \".z { }\" }}\n",
        ),
        ("@keyframes go { from { x: y } to { x: z } }", "@keyframes go{from { x: y } to { x: z }}\n"),
        // A comment goes, a bracket in words is no bracket.
        ("/* .a } */ .z { content: \"}\" } .a { content: \"{.z\" }", ".a{content: \"{.z\"}\n"),
    ] {
        assert_eq!(left(style, BODY), expected, "{style}");
    }
}

#[test]
fn what_is_no_style_is_left_alone() {
    for html in ["", "<style>\n", "<body><style>\n.z { x: y }</style>", "<html>\n<p>no style</p>"] {
        assert_eq!(worn(html.to_owned()), html);
    }
    // Brackets that never close, words that go on for ever: no panic, and what follows them is what a browser makes of it.
    for style in [
        ".a {",
        "@media print { .a {",
        "}}}",
        "\"",
        ".a, , { x: y }",
        "@",
        "<",
        &"{".repeat(9_000),
        &"@media print {".repeat(9_000),
    ] {
        let _ = left(style, BODY);
    }
}

#[test]
fn a_word_counts_wherever_a_tag_has_it_and_nowhere_else() {
    for body in [
        "<body><p class=z>",
        "<body><p title=\"a > b\" class='y z'>",
        "<body>< p <p class=\"z\">",
        "<body><p title=\"z",
    ] {
        assert_eq!(left(".z { x: y }", body), ".z{x: y}\n", "{body}");
    }
    for body in ["<body>z", "<body><p class=\"zz z-z\">z</p> .z < z"] {
        assert_eq!(left(".z { x: y }", body), "", "{body}");
    }
}
