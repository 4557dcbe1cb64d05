//! Derived numbers on the demo's pages. What is expected was worked out by hand from the lines named beside it.

use super::html::{Piece, read, words};
use super::{demo, page, pages, text};

/// The words of a section of a page.
pub fn section(html: &str, id: &str) -> String {
    let from = html.find(&format!("<section id=\"{id}\">")).unwrap_or_else(|| panic!("no section {id}"));
    let end = html[from..].find("</section>").unwrap();
    words(&read(&html[from..from + end + "</section>".len()]))
}

#[test]
fn corner_weights_stand_at_the_last_event_and_as_found_after_the_kerb() {
    let pages = pages(&demo());
    let html = &page(&pages, "bittern-2026.html").html;
    let figures = section(html, "figures");
    // Left 22 August: 149.5 151.0 170.5 171.0 kg; (151.0 + 170.5) / 642.0 = 50.08 %.
    assert!(figures.contains("149.5 kg RF 151.0 kg LR 170.5 kg RR 171.0 kg cross 50.08%"), "{figures}");
    // Weighed with the bars off, so that the hole changed on 6 September makes nothing of it stale.
    assert!(figures.contains("cross weight % u 0.02 right front and left rear's share"), "{figures}");
    // Found 156.0 144.5 164.5 177.0 kg: (144.5 + 164.5) / 642.0 = 48.13 %; left on 1 April at 50.00.
    assert!(figures.contains("cross weight, found") && figures.contains("found 48.13 %"), "{figures}");
    // An open chain: formula, inputs, lines, uncertainty (0.5 kg steps: 0.5 / sqrt 12 = 0.14).
    assert!(
        figures.contains(
            "by (rf_w + lr_w) / (lf_w + rf_w + lr_w + rr_w) [common practice; cross is right front"
        ),
        "{figures}"
    );
    assert!(figures.contains("rr_w = 171.0 kg u 0.14 weight RR, measured sb-1 reads to 0.5 kg"), "{figures}");
    assert!(figures.contains("Not to be had, and what is missing"), "{figures}");
}

#[test]
fn drift_and_leak_down_of_an_engine_are_told() {
    let pages = pages(&demo());
    let figures = section(&page(&pages, "curlew-2026.html").html, "figures");
    // Left -2.7, found -2.2 on a gauge of 0.1 deg: five widths. Exhaust lash of c2 0.30 to 0.19 by 0.01 mm: eleven.
    assert!(figures.contains("RF -2.7 → -2.2 deg +5"), "{figures}");
    assert!(figures.contains("c2 0.30 → 0.19 mm -11"), "{figures}");
    // `read leakdown 7 13 6 6 %` before the last event: cylinder 2 is 13 less the median 6 of 7, 6, 6.
    let above = "leakdown above % u 0.4 loss above the median of the other cylinders; derived curlew.sline:265 c1 1.0 c2 7.0";
    assert!(figures.contains(above), "{figures}");
    // After it, 22 at 88.2 hours of the engine.
    assert!(figures.contains("c2 88.2 22 hot curlew.sline:"), "{figures}");
    assert!(figures.contains("Leak-down of each cylinder over the engine's hours"), "{figures}");
    assert!(figures.contains("24 sessions, 1002 min running, 0 impacts"), "{figures}");
}

#[test]
fn what_follows_from_a_change_stands_beside_it() {
    let pages = pages(&demo());
    let derived = section(&page(&pages, "bittern-barrows-1-quern-2.html").html, "derived");
    // sp-01 (69.37 N/mm) out, sp-03 (78.43) in, motion ratio 0.92: 58.71 to 66.39.
    assert!(derived.contains("wheel rate LF 58.71 N/mm 66.4 N/mm +7.7 N/mm"), "{derived}");
    for page in &pages {
        assert!(!page.html.contains("NaN") && !page.html.contains("inf "), "{}", page.name);
    }
}

#[test]
fn the_rate_book_runs_from_soft_to_stiff_with_voids_kept_out() {
    let pages = pages(&demo());
    let html = &page(&pages, "bench.html").html;
    let bars = section(html, "shelf-2");
    // ((493 + 489 + 491) / 3 - 20) / 8 = 58.875; Student's t for two degrees 4.303, s 0.25: ± 0.62.
    assert!(
        bars.contains("bl-02 at 5")
            && bars.contains("58.88 ± 0.62 N/mm – – 15 March 2026, spring rig, Corwin's; 3 repeats, 1 void"),
        "{bars}"
    );
    let whole = words(&read(html));
    assert!(whole.contains("part hole 1 hole 2 hole 3 hole 5 bl-01 13 17 22 – bl-02 24 – 40 59"), "{whole}");
    let order: Vec<usize> = ["bl-01 at 1", "bl-02 at 1", "bl-04 at 2", "bl-02 at 5"]
        .map(|name| bars.find(name).unwrap())
        .to_vec();
    assert!(order.is_sorted(), "{order:?}");
    let springs = section(html, "shelf-1");
    // (2142 + 2136 + 2145) / 3 - 60 over 30 mm: 69.37 against a tag of 70.
    assert!(springs.contains("69.37 ± 0.38 N/mm 70 -0.9 %"), "{springs}");
    let voids = section(html, "voids");
    assert!(
        voids.contains("bl-02 at 5 0 mm 20 N, 8.00 mm 541 N because link bound against the clamp"),
        "{voids}"
    );
    // Fifteen are straight lines through points at two travels; one has a point to show that counts for nothing.
    assert_eq!(html.matches("<figure class=\"chart\">").count(), 1);
    // The void point is hollow in its drawing, and so is the preload typed on the same row.
    let drawing = html.find("Load against travel, bl-02 at 5").unwrap();
    let end = html[drawing..].find("</svg>").unwrap();
    assert_eq!(html[drawing..drawing + end].matches("class=\"hollow\"").count(), 2);
    let index = &page(&pages, "index.html").html;
    assert!(index.contains("href=\"bench.html\""));
}

#[test]
fn every_row_of_figures_names_a_line_and_opens_to_a_chain() {
    let mut rows = 0;
    for page in pages(&demo()) {
        // The pair-finder names its line once, above its rows, and has no chain where a rate is missing.
        for row in page.html.split("<details class=\"fig").skip(1) {
            let (summary, rest) = row.split_once("</summary>").unwrap();
            if row.starts_with(" pair\"") {
                continue;
            }
            assert!(summary.replace("</span>:", ":").contains(".sline:"), "{}: {summary}", page.name);
            assert!(rest.split("</details>").any(|part| part.contains("class=\"step d0\"")), "{summary}");
            rows += 1;
        }
    }
    assert!(rows > 300, "{rows}");
}

#[test]
fn a_pad_not_read_leaves_no_share() {
    let book = "circuit c \"C\" length 2 km\nevent e 2026-05-02..02 at c \"E\"\ncar a \"A\"\n2026-05-01 a\n  \
                left weight LF 150 RF 151 LR 170 kg\n2026-05-02 a at e\n  10:00..10:30 run s1 4 laps\n";
    let html = &page(&pages(&text(book)), "a-2026.html").html.clone();
    let figures = section(html, "figures");
    assert!(!figures.contains("cross weight %"), "{figures}");
    assert!(figures.contains("RR –"), "{figures}");
    assert!(!read(html).iter().any(|piece| matches!(piece, Piece::Text(text) if text.contains("NaN"))));
}

#[test]
fn the_pair_finder_names_the_bars_nearest_to_the_rates_wanted() {
    let pages = pages(&demo());
    let wanted = section(&page(&pages, "bench.html").html, "wanted");
    // `set bar-rate-wanted front 28/54 N/mm`, set and not read; 54 / 28 = 1.929, its root 1.389.
    assert!(
        wanted.contains("bittern front wanted, softest to stiffest: 28 N/mm to 54 N/mm bittern.sline:53"),
        "{wanted}"
    );
    assert!(wanted.contains("stiffest over softest wanted 1.929"), "{wanted}");
    assert!(wanted.contains("longest over shortest 1.389"), "{wanted}");
    // ((265 + 263 + 266) / 3 - 20) / 8 = 30.58, 9.2 % above 28 where bl-02 at 1 is 15 % below; bl-03 at 3 is 54.58.
    assert!(wanted.contains("nearest owned to the softest bl-04 at 2 30.6 N/mm +9.2 %"), "{wanted}");
    assert!(wanted.contains("nearest owned to the stiffest bl-03 at 3 54.6 N/mm +1.1 %"), "{wanted}");
    assert!(wanted.contains("stiffest = 54 N/mm stiffest rate wanted, stated bittern.sline:53"), "{wanted}");
}

#[test]
fn wanted_rates_with_no_bar_on_the_bench_say_what_is_missing() {
    let book = "car a \"A\"\nkind s \"spring\"  fits corner on a\npart s-1 s\n2026-05-01\n  bench s-1 spring-rate 70 N/mm\n\
                2026-05-02 a\n  set bar-rate-wanted rear 20/40 N/mm\n";
    let wanted = section(&page(&pages(&text(book)), "bench.html").html, "wanted");
    assert!(wanted.contains("a rear wanted, softest to stiffest: 20 N/mm to 40 N/mm"), "{wanted}");
    assert!(
        wanted.contains("nearest owned to the softest needs a bar or blade with its rate on the bench –"),
        "{wanted}"
    );
}

#[test]
fn a_toe_typed_as_a_length_keeps_no_false_digits() {
    let figures = section(&page(&pages(&demo()), "bittern-2026.html").html, "figures");
    // Toe-out 1.0 and 4.5 mm: seven widths of half a millimetre.
    assert!(figures.contains("RF 1.0 → 4.5 mm out -7"), "{figures}");
}
