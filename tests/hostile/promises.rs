//! What is promised of the whole program and can be read off its source: no network but this machine's own address for one command, no other program
//! but git and the browser, no script in a page that is written.

use crate::source_text::texts;
use std::path::Path;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// How a line of code would reach another machine or start another program.
fn reaches_out(line: &str) -> Option<&'static str> {
    let code = line.split("//").next().unwrap_or_default();
    [
        "std::net",
        "TcpStream",
        "TcpListener",
        "UdpSocket",
        "UnixStream",
        "os::unix::net",
        "std::process::Command",
        "process::Command",
    ]
    .into_iter()
    .find(|way| code.contains(way))
}

#[test]
fn the_source_opens_no_socket_and_starts_no_program() {
    let files = texts("src");
    assert!(files.len() > 100);
    for (path, text) in files {
        for (number, line) in text.lines().enumerate() {
            assert_eq!(reaches_out(line), None, "{path}:{}: {line}", number + 1);
            // One file listens, another opens the browser, and both only for one command.
            let ours = path.contains("command/board/");
            for way in ["tiny_http", "notify::", "open::that"] {
                assert!(
                    ours || !line.split("//").next().unwrap_or_default().contains(way),
                    "{path}:{}: {line}",
                    number + 1
                );
            }
        }
    }
    assert!(reaches_out("let s = std::net::TcpStream::connect(a)?;").is_some());
    assert!(reaches_out("std::process::Command::new(\"git\")").is_some());
    assert_eq!(reaches_out("std::process::ExitCode::from(2)"), None);
}

/// No package that is built in, directly or through another, is there to open sockets, but the one that `board` listens with (`board::live` holds that it
/// does so at the loopback address alone) and the one that the watcher of files waits with (its sockets are features that are not asked for).
#[test]
fn no_dependency_opens_sockets() {
    const SOCKETS: [&str; 30] = [
        "async-io",
        "async-net",
        "async-std",
        "attohttpc",
        "axum",
        "curl",
        "curl-sys",
        "h2",
        "hickory-resolver",
        "hyper",
        "isahc",
        "minreq",
        "native-tls",
        "openssl",
        "openssl-sys",
        "polling",
        "quinn",
        "reqwest",
        "rustls",
        "smol",
        "socket2",
        "ssh2",
        "surf",
        "tokio",
        "tonic",
        "trust-dns-resolver",
        "tungstenite",
        "ureq",
        "websocket",
        "git2",
    ];
    let lock = std::fs::read_to_string(root().join("Cargo.lock")).unwrap();
    let names: Vec<&str> =
        lock.lines().filter_map(|line| line.strip_prefix("name = \"")?.strip_suffix('"')).collect();
    assert!(names.contains(&"clap") && names.len() > 50);
    for name in names {
        assert!(!SOCKETS.contains(&name), "{name} opens sockets");
    }
}

/// What of a template would run, or fetch something.
fn lives(text: &str) -> Option<&'static str> {
    let small = text.to_ascii_lowercase();
    let tags = [
        "<script",
        "javascript:",
        "<iframe",
        "<object",
        "<embed",
        "<link",
        "<base",
        "@import",
        "url(",
        "http-equiv=\"refresh",
    ];
    let handler = small.match_indices(" on").any(|(at, _)| {
        let rest = &small[at + 3..];
        let end = rest.find(|c: char| !c.is_ascii_lowercase()).unwrap_or(rest.len());
        end > 2 && rest[end..].starts_with("=\"")
    });
    tags.into_iter().find(|tag| small.contains(tag)).or_else(|| handler.then_some("on...="))
}

#[test]
fn no_template_has_a_script_or_fetches_anything() {
    let files = texts("report-templates");
    let templates: Vec<_> = files
        .iter()
        .filter(|(path, _)| Path::new(path).extension().is_some_and(|end| end != "md" && end != "json"))
        .collect();
    assert!(templates.len() > 30);
    for (path, text) in templates {
        assert_eq!(lives(text), None, "{path}");
    }
    assert!(
        lives("<p onclick=\"x()\">").is_some()
            && lives("<SCRIPT>").is_some()
            && lives("<p class=\"on\">").is_none()
    );
}
