//! What the fuzzer starts from and what it once found, replayed: `tests/fuzz/seeds`.

use super::{book, render};
use crate::generated::holds::targets;

#[test]
fn every_seed_goes_through() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/seeds");
    let mut seeds: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    seeds.sort();
    assert!(seeds.len() >= 5);
    for seed in seeds {
        let bytes = std::fs::read(&seed).unwrap();
        let text = String::from_utf8_lossy(&bytes);
        let half = text.floor_char_boundary(text.len() / 2);
        render(&book(&[("a.sline", &text)]));
        render(&book(&[("a.sline", &text[..half]), ("b.sline", &text[half..])]));
    }
}

/// The streams of choices that the targets `books` and `readers` start from and what they once found: `tests/fuzz/streams`. Each is put
/// through both, whichever found it.
#[test]
fn every_stream_makes_a_book_that_holds() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fuzz/streams");
    let mut streams: Vec<_> = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path()).collect();
    streams.sort();
    assert!(streams.len() >= 5);
    for stream in streams {
        let bytes = std::fs::read(&stream).unwrap();
        let files = targets::files(&bytes).unwrap_or_default();
        let texts: Vec<(&str, &str)> =
            files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
        render(&book(&texts));
        for (target, broken) in [("books", targets::books(&bytes)), ("readers", targets::readers(&bytes))] {
            assert!(broken.is_none(), "{target}, {}: {broken:#?}", stream.display());
        }
    }
}
