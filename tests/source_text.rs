//! The project's own files as text, for tests that read the source.

use std::path::Path;

fn below(root: &Path, folder: &Path, all: &mut Vec<(String, String)>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            below(root, &path, all);
        } else {
            let name = path.strip_prefix(root).unwrap().to_str().unwrap().replace('\\', "/");
            all.push((name, std::fs::read_to_string(&path).unwrap()));
        }
    }
}

/// Every file below a folder, in order: its path from the top, with `/` between parts, and its text.
pub fn texts(folder: &str) -> Vec<(String, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut all = Vec::new();
    below(root, &root.join(folder), &mut all);
    all.sort();
    all
}

/// Those of them in Rust.
pub fn rust(folder: &str) -> Vec<(String, String)> {
    texts(folder)
        .into_iter()
        .filter(|(path, _)| Path::new(path).extension().is_some_and(|end| end == "rs"))
        .collect()
}
