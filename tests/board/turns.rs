//! Who waits is told as soon as the page is otherwise, and not before.

use super::{compiled, stand};
use std::sync::Arc;
use std::sync::mpsc::channel;
use std::time::Duration;
use stringline::board::{Board, News};

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
    assert_eq!(board.news("heron-now.html", &copy.print, Duration::ZERO), News::Same);
    board.lay(Ok(stand(compiled(&text("-3.2")))));
    assert_eq!(board.news("heron-now.html", &copy.print, Duration::ZERO), News::Same);
    assert_eq!(board.news("heron-now.html", "", Duration::ZERO), News::Changed(copy));
}

#[test]
fn only_who_looks_at_what_changed_is_told() {
    let board = Arc::new(of("-3.2"));
    let (told, heard) = channel();
    for page in ["heron-now.html", "wren-now.html"] {
        let seen = board.copy(page).print.clone();
        let (board, told) = (Arc::clone(&board), told.clone());
        std::thread::spawn(move || {
            if let News::Changed(copy) = board.news(page, &seen, LONG) {
                let _ = told.send((page, copy.html.clone()));
            }
        });
    }
    board.lay(Ok(stand(compiled(&text("-2.9")))));
    let (page, html) = heard.recv_timeout(LONG).unwrap();
    assert_eq!(page, "heron-now.html");
    assert!(html.contains("\u{2212}2.9") && !html.contains("\u{2212}3.2"));
    // Then the other's: a mistake stands on the strip of every page.
    board.lay(Ok(stand(compiled(&(text("-2.9") + "  set camber LF -2.9\n")))));
    let (page, html) = heard.recv_timeout(LONG).unwrap();
    assert_eq!(page, "wren-now.html");
    assert!(html.contains("1 error"));
}

#[test]
fn a_book_that_cannot_be_read_leaves_the_last_and_says_so() {
    let board = of("-3.2");
    let before = board.copy("heron-now.html");
    board.lay(Err("there is no folder `<b>`".to_owned()));
    let News::Changed(now) = board.news("heron-now.html", &before.print, Duration::ZERO) else {
        panic!("no news")
    };
    assert!(
        now.found && now.html.contains("\u{2212}3.2") && now.html.contains("there is no folder `&lt;b&gt;`")
    );
    board.lay(Ok(stand(compiled(&text("-3.2")))));
    assert_eq!(board.news("heron-now.html", &now.print, Duration::ZERO), News::Changed(before));
}

/// A page that goes with the line that it was about, and comes back with it.
#[test]
fn a_page_that_goes_comes_back() {
    let board = of("-3.2");
    let before = board.copy("heron-now.html");
    board.lay(Ok(stand(compiled("car wren \"Wren\"\n2025-05-10 wren\n  say \"fine\"\n"))));
    let News::Changed(gone) = board.news("heron-now.html", &before.print, Duration::ZERO) else {
        panic!("no news")
    };
    assert!(!gone.found && gone.html.contains("has no page heron-now.html"));
    assert_eq!(board.news("heron-now.html", &gone.print, Duration::ZERO), News::Same);
    board.lay(Ok(stand(compiled(&text("-3.2")))));
    assert_eq!(board.news("heron-now.html", &gone.print, Duration::ZERO), News::Changed(before));
}
