//! What is worded alike everywhere is worded in one place: no file but those of `src/words` joins a list, asks whether a name was meant,
//! or puts a line's number behind its path.

use crate::source_text::rust;

/// A turn of phrase in the source, and the word of `src/words` that says it.
const TURNS: [(&str, &str); 7] = [
    ("did you mean", "did_you_mean"),
    (" and {last}", "and"),
    (" or {last}", "or"),
    ("join(\" and \")", "and"),
    ("join(\" or \")", "or"),
    ("\"day\" } else { \"days\" }", "days"),
    ("== 1 { one } else", "count"),
];

/// What says them with a reason of its own.
const OTHERWISE: [(&str, &str); 1] =
    // A sentence of its own about what was typed, not about a name.
    [("src/check/typing/fraction_lost_space.rs", "did you mean")];

/// `"{}:{}", line.path, line.line`, with whatever stands before it.
fn puts_line_behind_path(line: &str) -> bool {
    let code = line.split("//").next().unwrap_or_default();
    let parts = code.split_once("{}:{}").map(|(_, rest)| rest);
    parts.is_some_and(|rest| rest.contains(".path") || rest.contains("path("))
}

/// `if n == 1 { "lap" } else { "laps" }`: a noun and its plural.
fn counts_by_itself(line: &str) -> bool {
    let code = line.split("//").next().unwrap_or_default();
    let Some((_, rest)) = code.split_once("== 1 { \"") else { return false };
    let Some((one, rest)) = rest.split_once("\" } else { \"") else { return false };
    rest.split_once('"').is_some_and(|(many, _)| many == format!("{one}s"))
}

#[test]
fn a_turn_of_phrase_stands_in_one_place() {
    let mut wrong = Vec::new();
    for (path, text) in rust("src") {
        if path.starts_with("src/words/") {
            continue;
        }
        for (number, line) in text.lines().enumerate() {
            let code = line.split("//").next().unwrap_or_default().to_lowercase();
            for (turn, word) in TURNS {
                if code.contains(turn) && !OTHERWISE.contains(&(path.as_str(), turn)) {
                    wrong.push(format!("{path}:{}: words::{word} says it", number + 1));
                }
            }
            if counts_by_itself(line) {
                wrong.push(format!("{path}:{}: words::count says it", number + 1));
            }
            // A message with a column is the editors' own form, and no turn of phrase.
            if puts_line_behind_path(line) && !line.contains("{}:{}:") {
                wrong.push(format!("{path}:{}: words::place says it", number + 1));
            }
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn a_copy_is_noticed() {
    assert!(counts_by_itself(r#"    let noun = if n == 1 { "lap" } else { "laps" };"#));
    assert!(!counts_by_itself(r#"    let it = if n == 1 { "it touches" } else { "they touch" };"#));
    assert!(puts_line_behind_path(r#"    let src = format!("{}:{}", line.path, line.line);"#));
    assert!(puts_line_behind_path(r#"write!(out, "at {}:{}.", files.path(file), 3)"#));
    assert!(!puts_line_behind_path(r#"let pair = format!("{}:{}", width, height); // line.path"#));
    assert!(rust("src/words").iter().any(|(_, text)| text.contains("did you mean")));
    for (path, turn) in OTHERWISE {
        assert!(
            rust("src").iter().any(|(other, text)| other == path && text.to_lowercase().contains(turn)),
            "{path}"
        );
    }
}
