//! One door to the terminal: only `command/output.rs` writes to the two streams, and only a terminal renderer makes what
//! may be coloured. This reads the source for it.

use crate::source_text::rust;

/// The door, what remembers whether its words arrived, and the program that hands it the streams.
const DOOR: [&str; 3] = ["src/command/output.rs", "src/command/watched.rs", "src/main.rs"];

/// How a line of code would go past the door.
fn past(line: &str) -> Option<&'static str> {
    let code = line.split("//").next().unwrap_or_default();
    [
        "stdout(",
        "stderr(",
        "print!",
        "println!",
        concat!("dbg", "!"),
        "output.out",
        "output.err",
        "/dev/tty",
        "/dev/std",
        "/proc/self/fd",
    ]
    .into_iter()
    .find(|way| code.contains(way))
}

#[test]
fn nothing_is_written_past_the_door() {
    let files = rust("src");
    assert!(files.len() > 100);
    for (name, text) in files {
        if DOOR.contains(&name.as_str()) {
            continue;
        }
        for (number, line) in text.lines().enumerate() {
            // clap says which of the two streams its words belong on.
            let asked = name == "src/command/mod.rs" && line.trim() == "if error.use_stderr() {";
            // A command has no other stream to write to than the two it is handed.
            let stream = name.starts_with("src/command/")
                && [".write_all(", "io::Write"].iter().any(|way| line.contains(way));
            assert!(asked || past(line).is_none() && !stream, "{name}:{}: {line}", number + 1);
        }
    }
}

/// Whoever writes JSON by another way than the one function that escapes what hides would write it raw.
#[test]
fn json_is_made_where_what_hides_is_escaped() {
    let files = rust("src");
    let makers = files.iter().filter(|(_, text)| text.contains("serde_json::to_string"));
    let found: Vec<&str> = makers.map(|(name, _)| name.as_str()).collect();
    assert_eq!(found, ["src/visible.rs"]);
}

/// The reading speaks up: each of these lines is caught, each of those is left alone.
#[test]
fn the_reading_fires() {
    for line in [
        "let mut out = std::io::stdout().lock();",
        "println!(\"{title}\");",
        "eprint!(\"{title}\");",
        "output.out.write_all(title.as_bytes())?;",
        "write!(output.err, \"{title}\")?;",
        "std::fs::write(\"/dev/tty\", title)?;",
    ] {
        assert!(past(line).is_some(), "{line}");
    }
    for line in [
        "output.result(&text);",
        "output.message(&text);",
        "let _ = writeln!(out, \"{title}\");",
        "// to stdout",
    ] {
        assert_eq!(past(line), None, "{line}");
    }
}
