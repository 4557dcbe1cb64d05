//! The layout of ledgers: what is typed may be laid out otherwise, what is said may not change.

mod examples;
mod properties;

use stringline::source::{Disk, Memory, World};
use stringline::syntax::layout;
use stringline::{Compiled, compile};

/// Lays a text out, no line kept.
fn laid(text: &str) -> String {
    layout(text, &|_| false, &stringline::book::opens)
}

/// Every file of the demo book.
fn demo() -> Vec<(String, String)> {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026");
    let (files, _) = Disk { root }.load().unwrap();
    files.iter().map(|(_, file)| (file.path.clone(), file.text.clone())).collect()
}

fn compiled(files: &[(String, String)]) -> Compiled {
    let pairs: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    compile(&Memory::new(&pairs, crate::checks::now())).unwrap()
}
