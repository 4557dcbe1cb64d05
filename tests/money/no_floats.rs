//! No binary fraction where money is. Clippy denies the arithmetic and the types there (`float_arithmetic` and
//! `disallowed_types` in each `mod.rs`); this reads the source once more, so that the rule holds without Clippy too.

use crate::source_text::rust;

/// The folders of money.
const FOLDERS: [&str; 3] = ["src/money", "src/costs", "src/answer/costs"];

/// What is binary about a line of Rust, comments and texts left out; `None` for nothing.
fn binary(line: &str) -> Option<&'static str> {
    let code = line.split("//").next().unwrap_or_default();
    // Between an even and an odd quote stands code.
    let code: String = code.split('"').step_by(2).collect::<Vec<_>>().join("\"\"");
    let word = |each: char| each.is_ascii_alphanumeric() || each == '_';
    for token in code.split(|each: char| !word(each) && each != '.') {
        let parts: Vec<&str> = token.split('.').collect();
        if parts.iter().any(|part| {
            ["f32", "f64", "libm"].contains(part) || part.ends_with("_f64") || part.ends_with("_f32")
        }) {
            return Some("a type");
        }
        let digits =
            |part: &&str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit() || byte == b'_');
        // `0.5` and `2.`; not `self.0` nor `0..5`.
        if parts.len() == 2 && digits(&parts[0]) && (digits(&parts[1]) || parts[1].is_empty()) {
            return Some("a number");
        }
    }
    None
}

#[test]
fn no_binary_fraction_in_money() {
    for folder in FOLDERS {
        let files = rust(folder);
        assert!(files.len() >= 4, "{folder}: {}", files.len());
        let head = files.iter().find(|(name, _)| *name == format!("{folder}/mod.rs")).unwrap();
        assert!(head.1.contains("#![deny(clippy::float_arithmetic, clippy::disallowed_types)]"), "{folder}");
        for (name, text) in files {
            for (number, line) in text.lines().enumerate() {
                assert_eq!(binary(line), None, "{name}:{}: {line}", number + 1);
            }
        }
    }
}

/// The lint speaks up: each of these lines is caught, each of those is left alone.
#[test]
fn the_lint_fires() {
    for line in [
        "let share = total as f64 / 3.0;",
        "fn rate(value: f32) {}",
        "let half = 0.5;",
        "let twice = x * 2.;",
        "value.to_f64()",
        "libm::round(x)",
        "let x: Vec<f64> = Vec::new();",
    ] {
        assert!(binary(line).is_some(), "{line}");
    }
    for line in [
        "self.0.checked_add(other.0)",
        "for at in 0..10 {",
        "// 0.5 of f64",
        "\"0.5 f64\"",
        "round::to(value, 2)",
        "a.1.cmp(&b.1)",
    ] {
        assert_eq!(binary(line), None, "{line}");
    }
}
