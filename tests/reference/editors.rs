//! Each declaration, verb and place of the language reference is known to both editor files.

use super::grammar;

/// The first code span of each table row under a heading, its first word.
fn first_words(page: &str, heading: &str) -> Vec<String> {
    let section = page.split("\n## ").find(|part| part.starts_with(heading)).unwrap_or_default();
    let rows = section.lines().filter_map(|line| line.strip_prefix("| `"));
    let words = rows.filter_map(|row| row.split(['`', ' ']).next());
    words.filter(|word| word.chars().all(|c| c.is_ascii_lowercase())).map(str::to_owned).collect()
}

#[test]
fn editors_know_every_declaration_and_verb() {
    let page = grammar("README.md");
    let declarations = first_words(&page, "3. Declarations");
    let verbs = first_words(&page, "5. The verbs");
    assert!(declarations.len() >= 11 && verbs.len() >= 32, "{declarations:?} {verbs:?}");
    let sub_lines = ["points", "sweep", "lift"].map(str::to_owned);
    for file in ["editors/stringline.vim", "editors/sline.tmLanguage.json"] {
        let text = grammar(file);
        let known: Vec<&str> = text.split(|c: char| !c.is_ascii_alphabetic() && c != '-').collect();
        for word in declarations.iter().chain(&verbs).chain(&sub_lines) {
            assert!(known.contains(&word.as_str()), "{file} does not know `{word}`");
        }
        for place in ["LF", "RF", "LR", "RR", "FL", "FR", "RL", "front", "rear", "left", "right", "all"] {
            assert!(known.contains(&place), "{file} does not know `{place}`");
        }
    }
}

#[test]
fn the_textmate_grammar_is_json_and_its_includes_exist() {
    let text = grammar("editors/sline.tmLanguage.json");
    let json: serde_json::Value = serde_json::from_str(&text).expect("valid JSON");
    assert_eq!(json["scopeName"], "source.sline");
    for include in text.split("\"include\": \"#").skip(1) {
        let name = include.split('"').next().unwrap_or_default();
        assert!(json["repository"][name].is_object(), "#{name} is included but missing");
    }
}
