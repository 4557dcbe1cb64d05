//! Who is let in: readers of this machine with the token of this run, from pages that it handed out.

use stringline::board::{Ask, Door, Want};

const PORT: u16 = 4321;
const HOST: (&str, &str) = ("Host", "127.0.0.1:4321");

fn door() -> Door {
    Door::new(PORT, [0xab; 16])
}

fn token() -> String {
    "ab".repeat(16)
}

fn asked(method: &str, target: &str, headers: &[(&str, &str)]) -> Result<Want, u16> {
    door().wants(&Ask { method, target, headers }).map_err(|refused| refused.status)
}

#[test]
fn what_stands_behind_the_token_is_handed_out() {
    assert_eq!(door().address("index.html"), format!("http://127.0.0.1:4321/{}/index.html", token()));
    let at = |rest: &str| asked("GET", &format!("/{}/{rest}", token()), &[HOST]);
    let page = |name: &str| Ok(Want::Page(name.to_owned()));
    assert_eq!(at(""), page("index.html"));
    assert_eq!(at("index.html"), page("index.html"));
    assert_eq!(at("heron-quern-1_2.html"), page("heron-quern-1_2.html"));
    // What stands behind a page's name is the browser's own affair.
    assert_eq!(at("index.html?x"), page("index.html"));
    let (name, seen) = ("index.html".to_owned(), "0aF9".to_owned());
    assert_eq!(at("news/index.html?seen=0aF9"), Ok(Want::News { page: name, seen }));
    assert_eq!(at(stringline::board::SCRIPT_NAME), Ok(Want::Script));
    assert_eq!(at(stringline::board::STYLE_NAME), Ok(Want::Style));
    for none in [
        "..",
        "../index.html",
        "/index.html",
        "a/index.html",
        "index.htm",
        "INDEX.html",
        "%2e%2e/a.html",
        "a%00.html",
        "news/index.html",
        "news/index.html?seen=x",
        "news/?seen=0",
        "a b.html",
        "\u{e4}.html",
        "follow.js/",
        "a\\b.html",
    ] {
        assert_eq!(at(none), Err(404), "{none}");
    }
}

/// Common practice: names that point at this machine from elsewhere, pages of other places, and requests that would write are turned away.
#[test]
fn who_comes_from_elsewhere_is_turned_away() {
    let target = format!("/{}/index.html", token());
    let with =
        |headers: &[(&str, &str)]| asked("GET", &target, headers).map_or_else(|status| status, |_| 200);
    assert_eq!(with(&[HOST]), 200);
    assert_eq!(with(&[("host", "localhost:4321")]), 200);
    for host in [
        "127.0.0.1",
        "127.0.0.1:80",
        "pit.example:4321",
        "127.0.0.1:4321.pit.example",
        "0.0.0.0:4321",
        "[::1]:4321",
        "",
    ] {
        assert_eq!(with(&[("Host", host)]), 403, "{host}");
    }
    assert_eq!(with(&[]), 403, "no host");
    assert_eq!(with(&[HOST, HOST]), 403, "two hosts");
    assert_eq!(with(&[HOST, ("Origin", "http://127.0.0.1:4321")]), 200);
    for origin in [
        "null",
        "http://pit.example",
        "https://127.0.0.1:4321",
        "http://127.0.0.1:4322",
        "http://127.0.0.1:4321.pit.example",
    ] {
        assert_eq!(with(&[HOST, ("Origin", origin)]), 403, "{origin}");
    }
    for (site, status) in
        [("same-origin", 200), ("none", 200), ("same-site", 403), ("cross-site", 403), ("x", 403)]
    {
        assert_eq!(with(&[HOST, ("Sec-Fetch-Site", site)]), status, "{site}");
    }
    for method in ["POST", "PUT", "DELETE", "PATCH", "OPTIONS", "CONNECT", "TRACE", "get", ""] {
        assert_eq!(asked(method, &target, &[HOST]), Err(405), "{method}");
    }
    assert!(asked("HEAD", &target, &[HOST]).is_ok());
}

#[test]
fn without_the_token_there_is_nothing() {
    let token = token();
    for wrong in ["", "/", "/index.html", "//index.html", "/ab/index.html", "index.html"] {
        assert_eq!(asked("GET", wrong, &[HOST]), Err(404), "{wrong}");
    }
    for at in 0..token.len() {
        let mut wrong = token.clone();
        wrong.replace_range(at..=at, "0");
        assert_eq!(asked("GET", &format!("/{wrong}/index.html"), &[HOST]), Err(404));
    }
    for wrong in [format!("{token}0"), token[1..].to_owned(), token.to_uppercase()] {
        assert_eq!(asked("GET", &format!("/{wrong}/index.html"), &[HOST]), Err(404));
    }
}
