//! Jobs and promises on the season's page and the first page.

use super::figures::section;
use super::html::{read, words};
use super::{demo, page, pages, text};

#[test]
fn the_season_tells_its_jobs_with_what_was_found_and_how_late() {
    let pages = pages(&demo());
    let jobs = |car: &str| section(&page(&pages, &format!("{car}-2026.html")).html, "jobs");
    let bittern = jobs("bittern");
    // Opened 8 June, closed 24 June; opened 29 June, promised for 20 August, closed on the 22nd.
    for said in [
        "j-01: align the rear-left flange with the gearbox done in 16 days",
        "24 June 2026: done: 0.8 mm shim under the rear-left flange",
        "29 June 2026: promised to The Varga syndicate for 20 August 2026; 2 days late",
        "16 lines of work",
    ] {
        assert!(bittern.contains(said), "no {said:?} in {bittern}");
    }
    let plover = jobs("plover");
    assert!(plover.contains("promised to The shop's own for 26 June 2026; 10 days late"), "{plover}");
    let curlew = jobs("curlew");
    assert!(curlew.contains("promised to T. Okafor-Lind before quern-27, by 16 April 2027"), "{curlew}");
}

#[test]
fn what_is_still_to_do_stands_first_and_on_the_first_page() {
    let compiled = text(
        "car a \"A\"  client c\nclient c \"C\"\nevent e 2026-05-02..02 at k\ncircuit k \"K\"\npart p q\nkind q \"part\" fits front on a\n\
         2026-04-01 a\n  job j-1 \"seal <weeps>\"\n  done j-1 \"lip worn\"\n  job j-2 \"strut\"  on-part p\n  job j-3 \"paint\"  planned\n\
         \x20 defer j-2 to winter because of the <maker>\n  promise j-3 to c until 2026-04-02 \"in <red>\"\n\
         2026-04-05\n  job rig \"mend the rig\"\n\
         2026-04-09 a\n  promise j-3 until 2026-04-20\n  read fuel 5 L  on j-2\n",
    );
    let pages = pages(&compiled);
    let html = &page(&pages, "a-2026.html").html;
    assert!(!html.contains("<weeps>") && !html.contains("<maker>") && !html.contains("<red>"));
    let jobs = section(html, "jobs");
    let at = |what: &str| jobs.find(what).unwrap_or_else(|| panic!("no {what:?} in {jobs}"));
    assert!(at("j-2: strut put off to winter; q p") < at("j-3: paint planned"), "{jobs}");
    assert!(at("j-3: paint planned") < at("j-1: seal <weeps> done the same day"), "{jobs}");
    at("put off to winter because of the <maker>");
    at("promised to C for 2 April 2026: in <red>; promised anew 7 days after that");
    at("1 line of work");
    assert!(!jobs.contains("rig"), "{jobs}");
    let index = words(&read(&page(&pages, "index.html").html));
    assert!(index.contains("jobs to do 2: j-2 (strut), put off to winter; j-3 (paint), planned"), "{index}");
    assert!(index.contains("Jobs of the shop itself rig: mend the rig open"), "{index}");
}

/// Pages change when the book does, not with the day they are made on: an open promise is told as of the last line.
#[test]
fn an_open_promise_does_not_count_days_to_today() {
    let book =
        "car a \"A\"  client c\nclient c \"C\"\n2026-04-01 a\n  job j-1 \"seal\"  promised 2026-04-05\n";
    let jobs = |book: &str| section(&page(&pages(&text(book)), "a-2026.html").html, "jobs");
    assert!(jobs(book).ends_with("promised to C for 5 April 2026 book.sline:4"), "{}", jobs(book));
    let later = jobs(&format!("{book}2026-04-08 a\n  set fuel 5 L\n"));
    assert!(later.contains("for 5 April 2026; not done, 3 days after it when the book ends"), "{later}");
}
