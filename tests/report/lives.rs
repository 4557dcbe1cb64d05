//! The pages of part lives against the season's own plan: who ran where, for how long, how it ended.
//!
//! The plan's table of lives (55 min carried in, 292 min when cp-01 failed on 6 June after s3, and so on) was worked out before
//! the demo book was written and without this program.

use super::html::{attribute, read, words};
use super::{demo, page, pages, text};
use stringline::report::Options;
use stringline::report::Page;
use stringline::report::render;

fn said(pages: &[Page], name: &str) -> String {
    words(&read(&page(pages, name).html))
}

/// The rows of the table whose class it is, each as its words.
fn rows(page: &Page, class: &str) -> Vec<String> {
    let html = &page.html;
    let table = html.split(&format!("<table class=\"{class}\">")).nth(1).expect("the table");
    let body = table.split("<tbody>").nth(1).unwrap().split("</tbody>").next().unwrap();
    body.split("<tr").skip(1).map(|row| words(&read(&format!("<tr{row}")))).collect()
}

#[test]
fn a_kinds_page_says_the_verdict_and_every_life() {
    let pages = pages(&demo());
    let coupling = page(&pages, "lives-coupling.html");
    let all = said(&pages, "lives-coupling.html");
    // The verdict comes before anything else, and the caution stands.
    assert!(
        all.find("Does aramid last longer than std? Cannot tell yet").unwrap()
            < all.find("Every life (12)").unwrap()
    );
    assert!(
        all.contains("std The limit of 300 min is more than half of them last (249 min): shorten it. 5 of 9 lives failed")
            && all.contains("aramid None of 3 lives has failed in 354 min.")
    );
    assert!(all.contains("Statistics plan, they do not certify.") && all.contains("Its failure can hurt."));
    let rows = rows(coupling, "all points");
    for (at, minutes, where_and_how) in [
        (0, "292", "bittern LR 1 Mar 2026 – 6 Jun 2026"),
        (2, "208", "plover prop"),
        (3, "75", "failed split, tear; cause misaligned; found by inspection"),
        (4, "249", "bittern RR"),
        (7, "226", "bittern RR, plover prop"),
        (9, "177", "running"),
        (11, "95", "bittern RR"),
    ] {
        assert!(rows[at].contains(minutes) && rows[at].contains(where_and_how), "{}", rows[at]);
    }
    assert_eq!(rows.len(), 12);
    assert!(rows[0].contains("55 min of it already run when the book began bittern.sline:"), "{}", rows[0]);
    let bearing = said(&pages, "lives-bearing.html");
    assert!(bearing.contains("rumble 1 wb-05"), "{bearing}");
}

#[test]
fn a_part_page_tells_the_whole_travel_and_comes_only_when_asked() {
    let compiled = demo();
    let pages = pages(&compiled);
    let steps = rows(page(&pages, "part-cp-08.html"), "travel");
    // Two cars on one day: 54 minutes on the one, 172 on the other, and 28 June counts once.
    assert!(steps[1].starts_with("on bittern RR from 27 Jun 2026, barrows-1 after s3"), "{}", steps[1]);
    assert!(steps[1].contains("54 min, 2 days barrows-1 s4 to barrows-1 s6, 3 sessions"), "{}", steps[1]);
    assert!(steps[2].starts_with("on plover prop from 28 Jun 2026, barrows-1 after s6"), "{}", steps[2]);
    assert!(steps[2].contains("172 min, 5 days barrows-1 s7 to quern-2 s6, 14 sessions"), "{}", steps[2]);
    assert!(steps[2].ends_with("226 min, 6 days"), "{}", steps[2]);
    let first = said(&pages, "part-cp-04.html");
    assert!(first.contains("failed: split, tear, misaligned 7 Jun 2026, ardwell-1 s6"), "{first}");
    assert!(first.contains("9 June 2026: scrap cp-04 because torn down one side"), "{first}");
    assert!(said(&pages, "part-ar-01.html").contains("123 min left 177 of 300 min parts.sline:3"));
    let without = render(&compiled, Options::default()).unwrap();
    assert!(without.iter().all(|page| !page.name.starts_with("part-")));
    let links = |pages: &[Page]| {
        let kind = read(&page(pages, "lives-coupling.html").html);
        attribute(&kind, "href").iter().filter(|(_, href)| href.starts_with("part-")).count()
    };
    assert_eq!((links(&pages), links(&without)), (12, 0));
}

#[test]
fn nested_parts_keep_their_own_travel() {
    let compiled = text(
        "circuit o length 2 km\nevent e 2026-05-02..03 at o\ncar a \"A\"\ncar b \"B\"\nkind hub \"hub\"  fits LF RF\n\
         kind bearing \"bearing\"  inside hub\npart h-1 hub  opening new\npart w-1 bearing  opening new\n\
         2026-05-01 a\n  build w-1 into h-1\n  fit h-1 LF\n\
         2026-05-02 a at e\n  10:00..10:20 run s1 5 laps\n  11:00..11:30 run s2 8 laps\n  12:00 remove h-1 LF\n\
         2026-05-03 b at e\n  09:00 fit h-1 RF\n  10:00..10:10 run s1 3 laps\n\
         2026-05-04\n  rebuild h-1 with all\n",
    );
    assert_eq!(compiled.diagnostics.len(), 0, "{:?}", compiled.diagnostics);
    let pages = pages(&compiled);
    let steps = rows(page(&pages, "part-w-1.html"), "travel");
    let find = |start: &str| {
        steps.iter().find(|step| step.starts_with(start)).unwrap_or_else(|| panic!("{start}: {steps:#?}"))
    };
    assert!(find("in h-1, on a LF").contains("50 min, 1 day e s1 to e s2, 2 sessions"));
    assert!(find("in h-1, on b RF").ends_with("60 min, 2 days"));
    assert!(find("rebuilt").starts_with("rebuilt with what it is in 4 May 2026"));
    // It went in once, though the hub changed cars.
    let hub = &page(&pages, "part-h-1.html").html;
    let inner = hub.split("id=\"inner\"").nth(1).unwrap().split("</section>").next().unwrap();
    assert_eq!(inner.matches("w-1").count(), inner.matches("href=\"part-w-1.html\"").count() * 2);
    assert!(words(&read(inner)).contains("1 May 2026 book.sline:10 still in it"));
    // And it has a row of its own, by the hub's place.
    assert!(said(&pages, "a-2026-parts.html").contains("in the hub LF w-1"));
}

#[test]
fn the_parts_of_a_season_are_told_session_by_session() {
    let pages = pages(&demo());
    let page = page(&pages, "bittern-2026-parts.html");
    let coupling = page.html.split("id=\"kind-1\"").nth(1).unwrap().split("</section>").next().unwrap();
    let told = words(&read(coupling));
    // A change between two sessions of one day: cp-01 to s3 of Saturday, cp-04 from s4.
    for row in [
        "LR cp-01, std quern-1 s1 ardwell-1 s3, failed 11",
        "LR cp-04, std ardwell-1 s4 ardwell-1 s6, failed 3",
        "LR cp-07, std ardwell-1 s7 barrows-1 s6 8",
        "RR cp-08, std barrows-1 s4 barrows-1 s6 3",
        "RR ar-02, aramid quern-2 s1 quern-2 s4 4",
        "RR ar-03, aramid quern-2 s5 quern-2 s8 4",
    ] {
        assert!(told.contains(row), "{row}: {told}");
    }
    // Too short for its name in the drawing, so a letter stands for it.
    assert!(told.contains("LR (a is cp-04)"), "{told}");
    // Fifteen bars begin after the first session; a clutch pack, seals and what is dated stayed where they were.
    assert!(
        said(&pages, "bittern-2026-parts.html")
            .contains("15 changes of parts: 9 at quern-2, 4 at ardwell-1 and 2 at barrows-1.")
    );
    assert!(
        said(&pages, "bittern-2026-parts.html")
            .contains("No change all year clutch pack bellhousing ck-02 bittern.sline:18")
    );
    let plover = said(&pages, "plover-2026-parts.html");
    assert!(plover.contains("prop cp-08, std barrows-1 s7 quern-2 s6 14"), "{plover}");
}

#[test]
fn the_wall_list_is_as_of_the_books_last_line() {
    let pages = pages(&demo());
    let all = said(&pages, "due.html");
    assert!(
        all.contains("Due before quern-27")
            && all.contains("17–18 April 2027 , as the book stood on 14 November 2026"),
        "{all}"
    );
    assert!(all.contains("bittern 162.5 min an event, the mean of its 4 events"), "{all}");
    let rows = rows(page(&pages, "due.html"), "wall");
    // 177 of 300 minutes with 162.5 to come: the limit falls in what is planned.
    assert!(rows[0].contains("replace bittern LR coupling ar-01"), "{}", rows[0]);
    assert!(rows[0].contains("177 min of 300 min after: 339.5 min"), "{}", rows[0]);
    let ticks = page(&pages, "due.html").html.matches("class=\"tick\"").count();
    assert!(ticks > rows.len());
    // Whatever the clock says, the same page.
    let later =
        stringline::source::Memory::new(&[("book.sline", BOOK)], "2027-09-01T12:00:00Z".parse().unwrap());
    let (then, now) = (text(BOOK), stringline::compile(&later).unwrap());
    let find = |compiled| super::pages(compiled).into_iter().find(|page| page.name == "due.html").unwrap();
    assert_eq!(find(&then), find(&now));
    // An event that is over by the last line is no next one.
    let over = text(&BOOK.replace("event f 2026-06-06..07 at c \"F\"\n", ""));
    assert!(super::pages(&over).iter().all(|page| page.name != "due.html"));
}

const BOOK: &str = "circuit c \"C\" length 2 km\nevent e 2026-05-02..03 at c \"E\"\nevent f 2026-06-06..07 at c \"F\"\ncar a \"A\"\n\
                    kind belt \"belt\"  fits front rear  life 60 min  must\npart b-1 belt  opening new\npart b-2 belt\n\
                    2026-05-01 a\n  fit b-1 front\n  fit b-2 rear\n2026-05-03 a at e\n  10:00..10:40 run s1 10 laps\n";

#[test]
fn the_season_says_what_life_is_left() {
    let of_demo = pages(&demo());
    let bittern = said(&of_demo, "bittern-2026.html");
    assert!(
        bittern.contains("123 min left 177 of 300 min parts.sline:3 339.5 min expected after quern-27"),
        "{bittern}"
    );
    assert!(bittern.contains("22 heat cycles left 8 of 30 heat-cycles"), "{bittern}");
    let pages = pages(&text(BOOK));
    let season = said(&pages, "a-2026.html");
    assert!(season.contains("20 min left 40 of 60 min book.sline:5 80 min expected after f"), "{season}");
    // What b-2 had run before is not known: nobody says that it has life left.
    assert!(season.contains("not known at least 40 of 60 min"), "{season}");
    let past = text(&format!("{BOOK}2027-01-02 a\n  set wing-angle 5 deg\n"));
    let season = said(&super::pages(&past), "a-2026.html");
    assert!(season.contains("20 min left") && !season.contains("expected after"), "{season}");
}

#[test]
fn every_one_of_these_pages_is_two_steps_from_the_first() {
    let pages = pages(&demo());
    let reached = |from: &str| -> Vec<String> {
        let pieces = read(&page(&pages, from).html);
        let all = attribute(&pieces, "href").into_iter().map(|(_, href)| href.to_owned());
        all.filter(|href| !href.starts_with('#')).collect()
    };
    let mut near: std::collections::BTreeSet<String> = reached("index.html").into_iter().collect();
    assert!(!near.iter().any(|href| href.starts_with("part-")), "the first page lists no parts");
    for page in near.clone() {
        near.extend(reached(&page));
    }
    for page in &pages {
        assert!(near.contains(&page.name), "{} is far", page.name);
    }
}

#[test]
fn a_kind_without_a_life_to_count_still_has_its_page() {
    let compiled = text(
        "car a \"A\"\nkind k \"K\"  fits front\nkind unused \"U\"  fits rear\npart p k\npart q unused\n2026-05-01 a\n  fit p front\n\
         \x20 10:00..10:20 run s1 5 laps\n",
    );
    let pages = pages(&compiled);
    let known = said(&pages, "lives-k.html");
    assert!(known.contains("at least 20") && known.contains("No life could be counted yet."), "{known}");
    assert!(!page(&pages, "lives-k.html").html.contains("<svg"));
    assert!(said(&pages, "lives-unused.html").contains("never fitted"));
}
