//! Nothing that is typed in a book becomes live HTML.

use super::html::{Piece, assert_nested, attribute, read, words};
use super::{pages, text};
use stringline::report::markdown::html;

const PAYLOADS: [&str; 16] = [
    "<script>alert(1)</script>",
    "a <img src=x onerror=alert(1)> b",
    "<svg/onload=alert(1)>",
    "<a href=\"javascript:alert(1)\">x</a>",
    "[x](javascript:alert(1))",
    "[x](JaVaScRiPt:alert(1))",
    "[x](java&#x0a;script:alert(1))",
    "[x](<java\tscript:alert(1)>)",
    "[x](data:text/html;base64,PHNjcmlwdD4=)",
    "[x](vbscript:msgbox)",
    "[x](//evil.example/x)",
    "![alt words](http://evil.example/pixel.png)",
    "![x](javascript:alert(1))",
    "<javascript:alert(1)>",
    "<!-- --><iframe src=http://evil.example></iframe>",
    "[r]\n\n[r]: javascript:alert(1) \"t\"",
];

fn assert_harmless(name: &str, markup: &str) {
    let pieces = read(markup);
    assert_nested(name, &pieces);
    for piece in &pieces {
        let Piece::Open(tag, attributes) = piece else { continue };
        // A drawing of ours says that it is one.
        let ours = tag == "svg" && attributes.iter().any(|(key, value)| key == "role" && value == "img");
        assert!(
            ours || !["script", "img", "svg", "iframe", "object", "embed", "form"].contains(&tag.as_str()),
            "{name}: <{tag}>"
        );
        for (key, value) in attributes {
            assert!(!key.starts_with("on"), "{name}: {key}={value}");
        }
    }
    for (_, href) in attribute(&pieces, "href") {
        let scheme = href.split_once(':').map(|(scheme, _)| scheme.to_lowercase());
        assert!(
            scheme.is_none_or(|scheme| ["http", "https", "mailto"].contains(&scheme.as_str())),
            "{name}: {href}"
        );
        assert!(!href.starts_with("//"), "{name}: {href}");
    }
    assert!(attribute(&pieces, "src").is_empty(), "{name}");
}

#[test]
fn hostile_notes_become_words() {
    for payload in PAYLOADS {
        assert_harmless(payload, &html(payload));
    }
    assert_eq!(words(&read(&html("<script>alert(1)</script>"))), "<script>alert(1)</script>");
    assert_eq!(html("![alt words](http://evil.example/pixel.png)"), "<p>alt words</p>\n");
    assert_eq!(html("[x](javascript:alert(1))"), "<p>x</p>\n");
}

#[test]
fn honest_notes_keep_their_look() {
    assert_eq!(html("*Nothing* has **run**."), "<p><em>Nothing</em> has <strong>run</strong>.</p>\n");
    assert_eq!(html("# Big"), "<p>Big</p>\n");
    let link = html("[plan](plans/june.pdf) [mail](mailto:a@b.example) [web](https://a.example/x?y=z:1)");
    assert_eq!(attribute(&read(&link), "href").len(), 3);
}

#[test]
fn hostile_names_and_words_are_escaped_everywhere() {
    for payload in PAYLOADS {
        let quoted = payload.replace('"', "'").replace(['\n', '\t'], " ");
        let book = format!(
            "shop \"{quoted}\"\nclient c \"{quoted}\"\ncircuit o \"{quoted}\"  length 2 km\n\
             event e 2026-05-01..02 at o \"{quoted}\"\nevent f 2026-06-01..02 at o \"{quoted}\"\n\
             car a \"{quoted}\"  client c\n  about x \"{quoted}\"\nkind k \"{quoted}\"  fits front\n\
             part p k  serial \"{quoted}\"\n\
             2026-05-01 a at e \"{quoted}\"\n  | {quoted}\n  fit p front  because {quoted}\n\
             \x20 set pad-compound front \"{quoted}\"\n  10:00..10:20 run s1 5 laps best 1:00.0\n\
             \x20   say entry push \"{quoted}\"\n  failed p mode split cause wear\n  {quoted}\n\
             2026-06-01 a at f\n  set pad-compound front \"b {quoted}\"  because {quoted}\n  run s1 5 laps best 1:01.0\n"
        );
        let compiled = text(&book);
        let pages = pages(&compiled);
        assert!(pages.len() >= 2, "{payload}: {:?}", compiled.diagnostics);
        for page in &pages {
            assert_harmless(&format!("{payload} on {}", page.name), &page.html);
        }
    }
}

#[test]
fn a_hostile_path_or_gauge_is_escaped_in_drawings_and_chains_too() {
    let book = "gauge g \"<i onx=1>&\"  reads weight, spring-rate  resolution 0.5 kg\ncircuit c \"C\"  length 2 km\n\
                event e 2026-05-02..02 at c \"<i onx=1>&\"\ncar a \"<i onx=1>&\"\n  cylinders 2\n\
                kind s \"<i onx=1>&\"  fits corner on a\npart s-1 s  serial \"<i onx=1>&\"\n\
                2026-04-30\n  bench s-1 spring-rate  by g\n    points 0 mm 20 N, 8 mm 211 N\n    points 0 mm 20 N, 4 mm 114 N, 8 mm 208 N\n\
                2026-05-01 a\n  read engine-hours 10 h\n  read leakdown 5 6 %  at 7 bar  with hot\n\
                \x20 left weight LF 150 RF 151 LR 170 RR 171 kg  by g\n  found weight LF 150 RF 151 LR 170 RR 171 kg  by g\n\
                2026-05-02 a at e\n  10:00..10:30 run s1 4 laps\n";
    let path = "a<i onx=1>&.sline";
    let world = stringline::source::Memory::new(&[(path, book)], "2026-12-01T12:00:00Z".parse().unwrap());
    let pages = pages(&stringline::compile(&world).unwrap());
    let mut drawings = 0;
    for page in &pages {
        assert!(!page.html.contains("<i onx"), "{}", page.name);
        assert!(!page.html.contains("&amp;lt;"), "{}: escaped twice", page.name);
        assert_nested(&page.name, &read(&page.html));
        drawings += page.html.matches("<svg").count();
    }
    // Pads, leak-down, drift, and the bench line; the season on the first page, the car from above on two, the rates of the bench, the
    // leak-down of the engine check.
    assert_eq!(drawings, 4 + 1 + 2 + 1 + 1);
}
