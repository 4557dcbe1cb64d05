//! A season's page: what its cover says first, what is folded and where its anchors are, and its footnotes.

use super::figures::section;
use super::html::{attribute, read, words};
use super::{demo, page, pages, text};

/// A car that was at one circuit in three years.
const YEARS: &str = r#"client c "C"
car a "A"  client c  class X-1
circuit k "K Park"  length 2.5 km
gauge g-1 "camber gauge"  reads camber  resolution 0.1 deg
gauge g-2 "blocks"  reads ride-height  resolution 1 mm
event k-23 2023-05-02..02 at k
event k-24 2024-05-02..02 at k
event k-26 2026-05-02..03 at k
event k-27 2027-04-10..11 at k "K Park, April"
2023-05-02 a at k-23
  run s1 20 min 8 laps best 1:07.00
2024-05-02 a at k-24
  run s1 20 min 8 laps best 1:09.50
  run s2 20 min 8 laps best 1:08.90
2026-05-02 a at k-26
  read camber LF -3.0 RF -3.1 LR -2.0 RR -2.0 deg by g-1
    void because the gauge slipped
  read camber LF -3.1 RF -3.1 LR -2.0 RR -2.0 deg by g-1
  run s1 20 min 8 laps best 1:08.18
2026-06-01 a
  job j-1 "seal weeps"
  read ride-height LF 50 RF 50 LR 55 RR 55 mm by g-2
"#;

#[test]
fn the_cover_says_what_comes_next_what_is_open_and_last_time_s_best_lap() {
    let pages = pages(&text(YEARS));
    let said = words(&read(&page(&pages, "a-2026.html").html));
    for wanted in [
        "events 1 days 1 sessions 1 laps 8 min 20 h 0.33 km 20.00 failures 0 jobs open j-1 (seal weeps) book.sline:21 next event K Park, April, 10–11 April 2027 book.sline:9",
        // 68.18 s less 68.90 s: the last year before that has a lap there, and not the best of all.
        "1:08.18 k-26 s1, 2 May 2026 book.sline:19 Before: 1:08.90 in 2024 (k-24 s2), -0.72 s book.sline:14",
    ] {
        assert!(said.contains(wanted), "no {wanted:?} in {said}");
    }
    let first = words(&read(&page(&pages, "a-2023.html").html));
    assert!(!first.contains("Before:"), "{first}");
    assert!(
        words(&read(&page(&pages, "a-2024.html").html))
            .contains("Before: 1:07.00 in 2023 (k-23 s1), +1.90 s")
    );
}

#[test]
fn the_footnotes_have_the_gauges_used_and_what_was_not_used() {
    let notes = section(&page(&pages(&text(YEARS)), "a-2026.html").html, "method");
    for wanted in [
        "sums added up from the sessions' lines book.sline:19",
        "a lap K Park, 2.5 km book.sline:3",
        "void 1 reading kept and not used book.sline:16",
        "2 gauges used, and how finely each reads",
        "camber gauge reads to 0.1 deg; 1 line by it book.sline:4",
        "blocks reads to 1 mm; 1 line by it book.sline:5",
    ] {
        assert!(notes.contains(wanted), "no {wanted:?} in {notes}");
    }
    let none = section(&page(&pages(&text(YEARS)), "a-2023.html").html, "method");
    assert!(!none.contains("used, and how finely") && !none.contains("reads to"), "{none}");
}

/// What is long is folded, and is there without script; a link to an event leads to the line that opens it.
#[test]
fn chapters_are_folded_and_their_ids_stand_on_what_opens_them() {
    let pages = pages(&demo());
    for car in ["bittern", "curlew", "teal", "plover"] {
        let html = &page(&pages, &format!("{car}-2026.html")).html;
        let pieces = read(html);
        assert!(!html.contains("<details open"), "{car}");
        let summaries: Vec<&str> = attribute(&pieces, "id")
            .into_iter()
            .filter(|(tag, _)| *tag == "summary")
            .map(|(_, id)| id)
            .collect();
        let targets: Vec<&str> = attribute(&pieces, "href")
            .into_iter()
            .filter_map(|(_, href)| href.strip_prefix("#event-"))
            .collect();
        assert!(targets.len() > 3, "{car}");
        for event in targets {
            assert!(summaries.contains(&format!("event-{event}").as_str()), "{car}: event-{event}");
        }
        // Every fold says what is in it, with a count.
        let folds = ["<details class=\"fold\">", "<details class=\"chapter"];
        for fold in folds.into_iter().flat_map(|kind| html.split(kind).skip(1)) {
            let said = fold.split("<summary").nth(1).unwrap().split("</summary>").next().unwrap();
            let said = words(&read(&format!("<p{said}</p>")));
            assert!(said.contains(|c: char| c.is_ascii_digit()), "{car}: {said}");
        }
    }
    let said = words(&read(&page(&pages, "bittern-2026.html").html));
    assert!(said.contains("quern-1: Quern Park, April 18–19 April 2026: 2 days, 8 sessions,"), "{said}");
}

/// Two springs at the corner that was hit, one of them looked at before the year was over and one only in the next.
#[test]
fn the_cover_names_what_nobody_has_looked_at_since_an_impact() {
    let book = r#"car a "A"
kind spring "spring"  fits LF RF
part s-1 spring  opening new
part s-2 spring  opening new
part s-3 spring  opening new
2025-05-02 a
  fit s-1 RF
  fit s-2 LF
  run s1 20 min 8 laps
  hit RF "tyre wall"
2025-05-10 a
  swap spring RF s-1 -> s-3
2026-02-01 a
  inspect s-1 good
"#;
    let pages = pages(&text(book));
    let cover = |year: &str| words(&read(&page(&pages, &format!("a-{year}.html")).html));
    let first = cover("2025");
    assert!(
        first.contains("not looked at spring s-1, since the impact of 2 May 2025 book.sline:10"),
        "{first}"
    );
    assert!(!first.contains("not looked at spring s-1, s-2"), "{first}");
    assert!(!cover("2026").contains("not looked at"), "{}", cover("2026"));
}

/// Both corners of one crash, and a part that went to another car before anybody looked at it: each is told where it is now.
#[test]
fn one_day_is_told_once_and_a_part_on_another_car_is_that_car_s() {
    let book = r#"car a "A"
car b "B"
kind spring "spring"  fits LF RF
part s-1 spring  opening new
part s-2 spring  opening new
2025-05-02 a
  fit s-1 RF
  fit s-2 LF
  run s1 20 min 8 laps
  hit RF "wall"
  hit LF "wall"
"#;
    let cover = |book: &str| words(&read(&page(&pages(&text(book)), "a-2025.html").html));
    let both = cover(book);
    assert!(
        both.contains("not looked at spring s-1 and spring s-2, since the impact of 2 May 2025 book.sline"),
        "{both}"
    );
    let moved = cover(&format!("{book}2025-05-03 a\n  remove s-1\n2025-05-04 b\n  fit s-1 RF\n"));
    assert!(moved.contains("not looked at spring s-2, since"), "{moved}");
    let index = words(&read(&page(&pages(&text(book)), "index.html").html));
    assert!(
        index.contains("spring RF s-1 since the impact at RF")
            && index.contains("spring LF s-2 since the impact at LF"),
        "{index}"
    );
}

/// What a turn is worth stands on the season of a car that was weighed between its turns, each with the lines it was read on.
#[test]
fn a_car_weighed_between_its_turns_has_what_they_are_worth() {
    let ledger = std::fs::read_to_string("tests/fixtures/worth/heron.sline").unwrap();
    let said = words(&read(&page(&pages(&text(&ledger)), "heron-2025.html").html));
    for wanted in [
        "What a turn is worth Cross-weight is 50.4 %, and 50.0 % is asked. By this car's own moves: LF",
        "The car's own moves are the surer",
        "The car from above: what stood on the 4 pads, and what should the car from above LF weight 147.2 → 148.4 kg turned -0.25 turn expected 147.7 kg",
        "by springs and tracks -0.62 %, and the car's own moves do not say that. book.sline:",
        "look for bind, a bar left on",
        "weigh, or read, again after it.",
    ] {
        assert!(said.contains(wanted), "{wanted}\nin {said}");
    }
}

/// An uncertainty that is there is never told as nothing.
#[test]
fn no_value_is_exact_for_want_of_digits() {
    let book = "car heron \"Heron\"\n\n2025-05-01 heron\n  left weight LF 36.4 RF 36.3 LR 36.1 RR 37.0 kg  with driver 50 kg, fuel 2 L\n  09:00..09:10 run s1\n    read fuel-used 1.3 L\n";
    let all = pages(&super::text(book));
    for page in all.iter().chain(&pages(&demo())) {
        for rest in page.html.split("<span class=\"small\">u ").skip(1) {
            let digits = rest.split('<').next().unwrap();
            assert!(digits.contains(|digit: char| ('1'..='9').contains(&digit)), "{}: u {digits}", page.name);
        }
    }
}

/// The lines of an outfit stand in one file, the reason for which they are fitted in another; neither hides words of the other,
/// wherever in their files they stand.
#[test]
fn an_outfit_s_lines_have_all_their_words() {
    let declared = "car a \"A\"\nkind pad \"pad\"  fits LF on a\npart p-1 pad\n";
    let outfit = "outfit wet a \"Wet\"\n  fit p-1 LF\n  set pad-compound LF \"soft\"\n";
    let day = "2026-05-02 a\n  fit wet because rain\n  run s1 20 min\n";
    for (before, between) in
        [("", ""), ("# swept\n", ""), ("", "# swept\n"), ("# swept\n# and swept\n# and once more\n", "# x\n")]
    {
        let shop = format!("{declared}{before}{outfit}");
        let files = [("a.sline", format!("{between}{day}")), ("shop.sline", shop)];
        let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (*path, text.as_str())).collect();
        let world = stringline::source::Memory::new(&files, crate::checks::now());
        let pages = pages(&stringline::compile(&world).unwrap());
        let said = words(&read(&page(&pages, "a-2026.html").html));
        for wanted in ["fit p-1 LF because rain", "set pad-compound LF \"soft\" because rain"] {
            assert!(said.contains(wanted), "no {wanted:?} in {said}");
        }
    }
}

/// What was filled on top of nobody knows how much has no mistake, and no page says it has one.
#[test]
fn what_is_filled_on_top_of_the_unknown_is_no_mistake() {
    let book = text(
        "car a \"A\"\ncircuit k \"K\"\nevent k-26 2026-05-02 at k\n2026-05-02 a at k-26\n  fill fuel +10 L\n  10:00..10:10 run s1\n",
    );
    assert!(book.diagnostics.is_empty(), "{:?}", book.diagnostics);
    for page in pages(&book) {
        assert!(!page.html.contains("a line with an error"), "{}", page.name);
    }
    let season = words(&read(&page(&pages(&book), "a-2026.html").html));
    assert!(season.contains("filled on top of nobody knows how much"), "{season}");
}
