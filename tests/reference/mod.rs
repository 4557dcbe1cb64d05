//! The reference in `grammar/`: the built-in vocabulary, the unit page and the editor files say the same as the code.

mod checks_page;
mod editors;
pub mod examples;
mod units_page;
mod vocabulary_lines;
mod vocabulary_rows;
mod vocabulary_units;

/// A file of `grammar/`, read when the test runs.
fn grammar(name: &str) -> String {
    let path = grammar_path(name);
    std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

fn grammar_path(name: &str) -> std::path::PathBuf {
    std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar").join(name)
}
