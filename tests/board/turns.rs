//! Who waits is told as soon as the page is otherwise, and not before.

use super::{compiled, stand};
use std::sync::Arc;
use std::sync::mpsc::channel;
use std::time::Duration;
use stringline::board::Board;

const LONG: Duration = Duration::from_mins(1);

fn text(camber: &str) -> String {
    format!(
        "car heron \"Heron\"\ncar wren \"Wren\"\n2025-05-10 heron\n  set camber LF {camber} deg\n2025-05-10 wren\n  say \"fine\"\n"
    )
}

fn of(camber: &str) -> Board {
    Board::new(stand(compiled(&text(camber))))
}

#[test]
fn the_same_page_is_no_news() {
    let board = of("-3.2");
    let copy = board.copy("heron-now.html");
    assert!(copy.found);
    assert_eq!(board.news("heron-now.html", &copy.print, Duration::ZERO), None);
    board.lay(Ok(stand(compiled(&text("-3.2")))), None);
    assert_eq!(board.news("heron-now.html", &copy.print, Duration::ZERO), None);
    assert_eq!(board.news("heron-now.html", "", Duration::ZERO), Some(copy));
}

#[test]
fn only_who_looks_at_what_changed_is_told() {
    let board = Arc::new(of("-3.2"));
    let (told, heard) = channel();
    for page in ["heron-now.html", "wren-now.html"] {
        let seen = board.copy(page).print.clone();
        let (board, told) = (Arc::clone(&board), told.clone());
        std::thread::spawn(move || {
            if let Some(copy) = board.news(page, &seen, LONG) {
                let _ = told.send((page, copy.html.clone()));
            }
        });
    }
    board.lay(Ok(stand(compiled(&text("-2.9")))), None);
    let (page, html) = heard.recv_timeout(LONG).unwrap();
    assert_eq!(page, "heron-now.html");
    assert!(html.contains("\u{2212}2.9") && !html.contains("\u{2212}3.2"));
    // Then the other's: a mistake stands on the strip of every page.
    board.lay(Ok(stand(compiled(&(text("-2.9") + "  set camber LF -2.9\n")))), None);
    let (page, html) = heard.recv_timeout(LONG).unwrap();
    assert_eq!(page, "wren-now.html");
    assert!(html.contains("1 error"));
}

/// It is told once when what somebody has on his screen was saved: of a page that changed, from who had an older one.
#[test]
fn when_a_save_was_painted_is_told_once() {
    let board = of("-3.2");
    let saved = Some(std::time::SystemTime::UNIX_EPOCH);
    let (heron, wren) = (board.copy("heron-now.html"), board.copy("wren-now.html"));
    board.lay(Ok(stand(compiled(&text("-2.9")))), saved);
    // The older copy is no answer, nor is a page that did not change, nor one that somebody opens just now.
    assert_eq!(board.painted("heron-now.html", &heron.print), None);
    assert_eq!(board.news("wren-now.html", &wren.print, Duration::ZERO), None);
    assert_eq!(board.painted("wren-now.html", &wren.print), None);
    let now = board.copy("heron-now.html");
    assert_eq!(board.painted("heron-now.html", &now.print), None);
    assert_eq!(board.news("heron-now.html", &heron.print, Duration::ZERO), Some(now.clone()));
    assert_eq!(board.painted("heron-now.html", &heron.print), None);
    assert_eq!(board.painted("heron-now.html", &now.print), saved);
    assert_eq!(board.painted("heron-now.html", &now.print), None);
}

#[test]
fn a_book_that_cannot_be_read_leaves_the_last_and_says_so() {
    let board = of("-3.2");
    let before = board.copy("heron-now.html");
    board.lay(Err("there is no folder `<b>`".to_owned()), None);
    let Some(now) = board.news("heron-now.html", &before.print, Duration::ZERO) else { panic!("no news") };
    assert!(
        now.found && now.html.contains("\u{2212}3.2") && now.html.contains("there is no folder `&lt;b&gt;`")
    );
    board.lay(Ok(stand(compiled(&text("-3.2")))), None);
    assert_eq!(board.news("heron-now.html", &now.print, Duration::ZERO), Some(before));
}

/// A page that goes with the line that it was about, and comes back with it.
#[test]
fn a_page_that_goes_comes_back() {
    let board = of("-3.2");
    let before = board.copy("heron-now.html");
    board.lay(Ok(stand(compiled("car wren \"Wren\"\n2025-05-10 wren\n  say \"fine\"\n"))), None);
    let Some(gone) = board.news("heron-now.html", &before.print, Duration::ZERO) else { panic!("no news") };
    assert!(!gone.found && gone.html.contains("has no page heron-now.html"));
    assert_eq!(board.news("heron-now.html", &gone.print, Duration::ZERO), None);
    board.lay(Ok(stand(compiled(&text("-3.2")))), None);
    assert_eq!(board.news("heron-now.html", &gone.print, Duration::ZERO), Some(before));
}
