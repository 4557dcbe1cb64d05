//! The built program, asked as a browser asks it, while ledgers are saved as editors save them.

use crate::disk::{Folder, STRINGLINE};
use std::io::{BufRead as _, BufReader, Read as _, Write as _};
use std::net::TcpStream;
use std::process::{Child, ChildStdout, Command, Stdio};
use std::time::Duration;

const SHOP: &str = "car heron \"Heron\"\ncar wren \"Wren\"\n";

/// As most editors save: a new file beside, then in the place of the old.
fn exchange(folder: &Folder, name: &str, text: &str) {
    std::fs::rename(folder.file("new~", text), folder.0.join(name)).unwrap();
}

/// The program while it runs; it ends with its owner.
pub struct Running {
    child: Child,
    said: BufReader<ChildStdout>,
    port: u16,
    token: String,
}

impl Running {
    pub fn start(words: &[&str]) -> Self {
        let mut child = Command::new(STRINGLINE)
            .arg("board")
            .args(words)
            .arg("--no-browser")
            .stdout(Stdio::piped())
            .stderr(Stdio::inherit())
            .spawn()
            .unwrap();
        let mut said = BufReader::new(child.stdout.take().unwrap());
        let mut address = String::new();
        said.read_line(&mut address).unwrap();
        let (port, rest) = address.strip_prefix("http://127.0.0.1:").unwrap().split_once('/').unwrap();
        let (token, page) = rest.split_once('/').unwrap();
        assert_eq!((token.len(), page), (32, "index.html\n"));
        let (port, token) = (port.parse().unwrap(), token.to_owned());
        let mut running = Self { child, said, port, token };
        assert!(running.line().starts_with("the pages of "));
        running
    }

    /// Where a page is.
    pub fn address(&self, page: &str) -> String {
        format!("http://127.0.0.1:{}/{}/{page}", self.port, self.token)
    }

    /// What it says next.
    pub fn line(&mut self) -> String {
        let mut line = String::new();
        self.said.read_line(&mut line).unwrap();
        line
    }

    /// What it says next of a save; what was shown meanwhile, once a save.
    fn saved(&mut self) -> (String, Vec<String>) {
        let mut shown = Vec::new();
        loop {
            let line = self.line();
            if line.starts_with("saved: ") {
                return (line, shown);
            }
            assert!(
                line.starts_with("heron-now.html shows it, ") && line.ends_with(" ms after it was saved\n"),
                "{line:?}"
            );
            shown.push(line);
        }
    }

    fn get(&self, rest: &str) -> (u16, String, String) {
        let host = format!("127.0.0.1:{}", self.port);
        self.raw(&format!("GET /{}/{rest} HTTP/1.0\r\nHost: {host}\r\n\r\n", self.token))
    }

    /// Status, heads, body.
    fn raw(&self, request: &str) -> (u16, String, String) {
        raw(self.port, request).unwrap()
    }
}

impl Drop for Running {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn raw(port: u16, request: &str) -> std::io::Result<(u16, String, String)> {
    let mut stream = TcpStream::connect(("127.0.0.1", port))?;
    stream.set_read_timeout(Some(Duration::from_mins(1)))?;
    stream.write_all(request.as_bytes())?;
    let mut bytes = Vec::new();
    stream.read_to_end(&mut bytes)?;
    let text = String::from_utf8_lossy(&bytes).into_owned();
    let (heads, body) = text.split_once("\r\n\r\n").unwrap_or((&text, ""));
    let status = heads.split(' ').nth(1).and_then(|status| status.parse().ok()).unwrap_or(0);
    Ok((status, heads.to_owned(), body.to_owned()))
}

/// The print of a copy.
fn seen(html: &str) -> String {
    html.split_once("data-seen=\"").unwrap().1.split_once('"').unwrap().0.to_owned()
}

fn day(camber: &str) -> String {
    format!("2025-05-10 heron\n  set camber LF {camber} deg\n")
}

#[test]
fn what_is_saved_is_shown() {
    let folder = Folder::new("board-saved");
    folder.file("shop.sline", SHOP);
    folder.file("heron.sline", day("-3.1"));
    std::fs::create_dir(folder.0.join("more")).unwrap();
    let names = || {
        let mut names: Vec<_> =
            std::fs::read_dir(&folder.0).unwrap().map(|one| one.unwrap().file_name()).collect();
        names.sort();
        names
    };
    let before = names();
    let mut running = Running::start(&[folder.0.to_str().unwrap()]);
    let page = "heron-now.html";
    let (status, heads, first) = running.get(page);
    assert_eq!(status, 200);
    assert!(first.contains("\u{2212}3.1"));
    for head in [
        "Content-Security-Policy: default-src 'none'; script-src 'self';",
        "Cache-Control: no-store",
        "Referrer-Policy: no-referrer",
    ] {
        assert!(heads.contains(head), "{heads}");
    }
    let mut print = seen(&first);
    // Written over, exchanged, and in a folder below; each time whoever waits is told.
    let saves: [(&str, &dyn Fn()); 3] = [
        ("\u{2212}2.2", &|| drop(folder.file("heron.sline", day("-2.2")))),
        ("\u{2212}2.3", &|| exchange(&folder, "heron.sline", &day("-2.3"))),
        ("\u{2212}2.4", &|| {
            drop(folder.file("more/later.sline", "2025-05-11 heron\n  set camber LF -2.4 deg\n"));
        }),
    ];
    let mut shown = 0;
    for (camber, save) in saves {
        let mut news = std::thread::scope(|scope| {
            let waits = scope.spawn(|| running.get(&format!("news/{page}?seen={print}")));
            save();
            waits.join().unwrap()
        });
        shown += running.saved().1.len();
        // A file that is written over stands empty for a moment, and somebody may look just then.
        while !news.2.contains(camber) {
            assert_eq!(news.0, 200);
            news = running.get(&format!("news/{page}?seen={}", seen(&news.2)));
            shown += running.saved().1.len();
        }
        print = seen(&news.2);
    }
    // Saved without a change: nobody is told. What follows is. The browser that asks for more has painted what it had: it is said how long that took.
    let next = format!("news/{page}?seen={print}");
    std::thread::scope(|scope| {
        let waits = scope.spawn(|| {
            let host = format!("localhost:{}", running.port);
            running.raw(&format!("GET /{}/{next} HTTP/1.0\r\nHost: {host}\r\n\r\n", running.token))
        });
        std::thread::sleep(Duration::from_millis(300));
        exchange(&folder, "shop.sline", SHOP);
        std::thread::sleep(Duration::from_millis(300));
        exchange(&folder, "shop.sline", &SHOP.replace("Heron", "Night Heron"));
        assert!(waits.join().unwrap().2.contains("Night Heron"));
    });
    let (last, more) = running.saved();
    assert_eq!(last, "saved: nothing wrong\n");
    shown += more.len();
    assert!((1..=4).contains(&shown), "{shown}");
    assert_eq!(names(), before, "nothing is written");
}

#[test]
fn mistakes_and_a_lost_folder_are_shown() {
    let folder = Folder::new("board-wrong");
    folder.file("shop.sline", SHOP);
    folder.file("heron.sline", day("-3.1"));
    let mut running = Running::start(&[folder.0.to_str().unwrap()]);
    folder.file("heron.sline", "2025-05-10 heron\n  set camber LF -3.1\n");
    while !running.saved().0.starts_with("saved: 1 error") {}
    let (_, _, html) = running.get("index.html");
    assert!(html.contains("heron.sline:2:") && html.contains("error[unit-missing]"));
    std::fs::remove_dir_all(&folder.0).unwrap();
    // Files go one by one: in the end there is no folder.
    while !running.line().contains("there is no folder") {}
    let (status, _, html) = running.get("index.html");
    assert_eq!(status, 200);
    assert!(html.contains("there is no folder"));
}

/// An exchange of the whole folder, as version control may make it, with that above it too.
#[test]
fn a_folder_that_is_made_again_is_followed_again() {
    let folder = Folder::new("board-again");
    let book = folder.0.join("shop/book");
    std::fs::create_dir_all(&book).unwrap();
    let put = |camber: &str| {
        std::fs::create_dir_all(&book).unwrap();
        std::fs::write(book.join("shop.sline"), SHOP).unwrap();
        std::fs::write(book.join("heron.sline"), day(camber)).unwrap();
    };
    put("-3.1");
    let mut running = Running::start(&[book.to_str().unwrap()]);
    for camber in ["-3.2", "-3.3"] {
        std::fs::remove_dir_all(folder.0.join("shop")).unwrap();
        while !running.line().contains("there is no folder") {}
        put(camber);
        // The files come one after the other.
        let (mut tries, shown) = (0, camber.replace('-', "\u{2212}"));
        while !running.get("heron-now.html").2.contains(&shown) {
            tries += 1;
            assert!(tries < 200, "{camber} is not shown");
            std::thread::sleep(std::time::Duration::from_millis(50));
        }
    }
}

#[test]
fn nobody_else_is_answered() {
    let folder = Folder::new("board-door");
    folder.file("shop.sline", SHOP);
    let running = Running::start(&[folder.0.to_str().unwrap()]);
    let host = format!("Host: 127.0.0.1:{}\r\n", running.port);
    let at = format!("/{}/index.html", running.token);
    for (request, status) in [
        (format!("GET {at} HTTP/1.0\r\n{host}\r\n"), 200),
        (format!("GET /index.html HTTP/1.0\r\n{host}\r\n"), 404),
        (format!("GET {at} HTTP/1.0\r\nHost: pit.example\r\n\r\n"), 403),
        (format!("GET {at} HTTP/1.0\r\n\r\n"), 403),
        (format!("GET {at} HTTP/1.0\r\n{host}Origin: http://pit.example\r\n\r\n"), 403),
        (format!("GET {at} HTTP/1.0\r\n{host}Sec-Fetch-Site: cross-site\r\n\r\n"), 403),
        (format!("POST {at} HTTP/1.0\r\n{host}Content-Length: 1\r\n\r\nx"), 405),
        (format!("GET /{}/../shop.sline HTTP/1.0\r\n{host}\r\n", running.token), 404),
        (format!("GET /{}/shop.sline HTTP/1.0\r\n{host}\r\n", running.token), 404),
    ] {
        let (said, _, body) = running.raw(&request);
        assert_eq!(said, status, "{request}");
        assert_eq!(body.contains("Heron"), status == 200, "{request}");
    }
    // Not even words that are no request bring it down.
    for rubbish in ["\r\n\r\n", "GET\r\n\r\n", "\u{0}\u{ff}\r\n\r\n", "GET / HTTP/9.9\r\n\r\n"] {
        let _ = raw(running.port, rubbish);
    }
    assert_eq!(running.raw(&format!("GET {at} HTTP/1.0\r\n{host}\r\n")).0, 200);
}

/// The kernel's own list of who listens (proc(5)): at this port only the loopback address of IPv4, 127.0.0.1, is.
#[test]
#[cfg(target_os = "linux")]
fn it_listens_on_this_machines_own_address_alone() {
    let folder = Folder::new("board-loopback");
    folder.file("shop.sline", SHOP);
    let running = Running::start(&[folder.0.to_str().unwrap()]);
    let port = format!(":{:04X}", running.port);
    let lists =
        ["/proc/net/tcp", "/proc/net/tcp6"].map(|list| std::fs::read_to_string(list).unwrap_or_default());
    let listening: Vec<&str> = lists
        .iter()
        .flat_map(|list| list.lines())
        .filter_map(|line| {
            let mut words = line.split_whitespace().skip(1);
            let (local, _, state) = (words.next()?, words.next()?, words.next()?);
            (state == "0A").then(|| local.strip_suffix(&port)).flatten()
        })
        .collect();
    assert_eq!(listening, ["0100007F"]);
}

#[test]
fn a_port_that_is_taken_a_page_and_a_folder_that_are_not_there_are_said() {
    let folder = Folder::new("board-refused");
    folder.file("shop.sline", SHOP);
    let book = folder.0.to_str().unwrap();
    let running = Running::start(&[book]);
    let missing = folder.0.join("none");
    for (words, sentence) in [
        (
            vec![book, "--port", &running.port.to_string()],
            format!("cannot listen at port {} of this machine", running.port),
        ),
        (
            vec![book, "--page", "robin-now.html"],
            "the book has no page robin-now.html; index.html leads to all of them".to_owned(),
        ),
        (vec![missing.to_str().unwrap()], "there is no folder `".to_owned()),
        (vec![book, "--for", "nobody"], "no client is called `nobody`".to_owned()),
        (vec![book, "--at", "soon"], "`soon` is no day".to_owned()),
    ] {
        let run = Command::new(STRINGLINE).arg("board").args(&words).arg("--no-browser").output().unwrap();
        let said = String::from_utf8(run.stderr).unwrap();
        assert_eq!((run.status.code(), run.stdout.as_slice()), (Some(2), &b""[..]), "{words:?}");
        assert!(said.starts_with("stringline: ") && said.contains(&sentence), "{said}");
    }
}
