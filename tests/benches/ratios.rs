//! placeholder
use std::time::Instant;
use stringline::source::*;
fn main() {
    let sample = std::fs::read_to_string("grammar/README.md").unwrap();
    let mut block = String::new();
    let mut on = false;
    for l in sample.lines() {
        if l.starts_with("```") {
            on = l == "```sline";
            continue;
        }
        if on && !l.starts_with('#') {
            block.push_str(l);
            block.push('\n');
        }
    }
    let lines = block.lines().count();
    let mut text = String::new();
    let mut n = 0;
    while n < 1_000_000 {
        text.push_str(&block);
        n += lines;
    }
    println!("{} bytes {} lines", text.len(), n);
    let files = Files::new(vec![SourceFile { path: "a.sline".into(), text }]);
    for _ in 0..5 {
        let t = Instant::now();
        let mut c = 0usize;
        let mut last = 0;
        let b = files.get(FileId(0)).unwrap().text.as_bytes();
        for e in memchr::memchr_iter(b'\n', b) {
            c += (e - last) & 1;
            last = e;
        }
        let walk = t.elapsed();
        let t = Instant::now();
        let tree = stringline::syntax::parse(&files);
        let p = t.elapsed();
        let words: usize = tree.chunks.iter().map(|c| c.words.len()).sum();
        let tr: usize = tree.chunks.iter().map(|c| c.troubles.len()).sum();
        println!(
            "{c} walk {walk:?} parse {p:?} ratio {:.1} words {words} troubles {tr}",
            p.as_secs_f64() / walk.as_secs_f64()
        );
    }
}
