//! What the fuzzer starts from and what it once found, replayed: `tests/fuzz/seeds`.

use super::{book, render};

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
