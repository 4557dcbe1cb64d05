//! Every `match` that tells verbs apart names them all: a new verb does not compile until somebody has said what it does there.
//!
//! Read off the source, since the compiler takes a wildcard without a word. What counts as a wildcard: an arm without `if` that takes
//! whatever verb stands where another arm names one, be it `_`, a name, or a group of which other arms tell the members apart.

use crate::source_text::rust;
use std::collections::BTreeSet;

/// The text without comments, and without what is in quotes.
fn bare(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    let mut rest = text.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '/' if rest.peek() == Some(&'/') => {
                while rest.peek().is_some_and(|next| *next != '\n') {
                    rest.next();
                }
            }
            '"' => {
                while let Some(next) = rest.next() {
                    match next {
                        '\\' => {
                            rest.next();
                        }
                        '"' => break,
                        _ => {}
                    }
                }
                out.push_str("\"\"");
            }
            // A character, not a lifetime: `'{'` or `'\''`.
            '\'' => {
                let ahead: Vec<char> = rest.clone().take(3).collect();
                let long = match ahead.as_slice() {
                    ['\\', _, '\'', ..] => 3,
                    [_, '\'', ..] => 2,
                    _ => 0,
                };
                for _ in 0..long {
                    rest.next();
                }
                out.push('\'');
            }
            _ => out.push(c),
        }
    }
    out
}

/// Cuts at every separator that stands in no brackets.
fn cut(text: &str, separator: char) -> Vec<&str> {
    let (mut pieces, mut deep, mut from) = (Vec::new(), 0, 0);
    for (index, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' => deep += 1,
            ')' | ']' | '}' => deep -= 1,
            _ if c == separator && deep == 0 => {
                pieces.push(&text[from..index]);
                from = index + c.len_utf8();
            }
            _ => {}
        }
    }
    pieces.push(&text[from..]);
    pieces
}

/// Where the bracket that opens at the start of the text closes.
fn closes(text: &str) -> usize {
    let mut deep = 0;
    for (index, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' => deep += 1,
            ')' | ']' | '}' => deep -= 1,
            _ => {}
        }
        if deep == 0 {
            return index;
        }
    }
    text.len()
}

/// The patterns of each `match` of a text, those without a guard apart: (pattern, has a guard).
fn matches(text: &str) -> Vec<Vec<(String, bool)>> {
    let text = bare(text);
    let mut all = Vec::new();
    for (start, _) in text.match_indices("match ") {
        if text[..start].ends_with(|c: char| c.is_alphanumeric() || c == '_') {
            continue;
        }
        // What is matched holds no brace that opens outside its own brackets.
        let Some(open) = cut_before_brace(&text[start..]) else { continue };
        let body = &text[start + open..];
        let mut rest = &body[1..closes(body)];
        let mut arms = Vec::new();
        while let Some(arrow) = arrow(rest) {
            let pattern = rest[..arrow].trim().trim_start_matches('|').trim();
            let words: Vec<&str> = pattern.split_whitespace().collect();
            let guard = words.iter().position(|word| *word == "if");
            arms.push((words[..guard.unwrap_or(words.len())].join(" "), guard.is_some()));
            let after = rest[arrow + 2..].trim_start();
            rest = if after.starts_with('{') {
                after[closes(after) + 1..].trim_start().trim_start_matches(',')
            } else {
                let piece = cut(after, ',')[0].len();
                after.get(piece + 1..).unwrap_or_default()
            };
        }
        all.push(arms);
    }
    all
}

fn cut_before_brace(text: &str) -> Option<usize> {
    let mut deep = 0;
    for (index, c) in text.char_indices() {
        match c {
            '(' | '[' => deep += 1,
            ')' | ']' => deep -= 1,
            '{' if deep == 0 => return Some(index),
            '{' => deep += 1,
            '}' => deep -= 1,
            ';' if deep == 0 => return None,
            _ => {}
        }
        if deep < 0 {
            return None;
        }
    }
    None
}

fn arrow(text: &str) -> Option<usize> {
    let mut deep = 0;
    for (index, c) in text.char_indices() {
        match c {
            '(' | '[' | '{' => deep += 1,
            ')' | ']' | '}' => deep -= 1,
            '=' if deep == 0 && text[index..].starts_with("=>") => return Some(index),
            _ => {}
        }
    }
    None
}

fn names_verb(pattern: &str) -> bool {
    pattern.contains("Verb::") || pattern.contains("VerbGroup::")
}

/// A name or `_`: takes everything.
fn takes_all(pattern: &str) -> bool {
    let name = pattern.trim_start_matches("ref ").trim_start_matches("mut ");
    name == "_" || name.starts_with(|c: char| c.is_lowercase() || c == '_') && name.chars().all(is_of_name)
}

fn is_of_name(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

/// The name before a pattern's bracket and what is in it: `Some(x)`, `(a, b)`.
fn opened(pattern: &str) -> Option<(&str, Vec<&str>)> {
    let open = pattern.find('(')?;
    let inside = pattern.get(open + 1..)?.strip_suffix(')')?;
    (closes(&pattern[open..]) == pattern.len() - open - 1)
        .then(|| (&pattern[..open], cut(inside, ',').into_iter().map(str::trim).collect()))
}

/// The pattern that takes a verb unseen, among those for one place.
fn wildcard(arms: &[(String, bool)]) -> Option<String> {
    let all: Vec<(&str, bool)> = arms
        .iter()
        .flat_map(|(arm, guard)| cut(arm, '|').into_iter().map(|piece| (piece.trim(), *guard)))
        .collect();
    if !all.iter().any(|(pattern, _)| names_verb(pattern)) {
        return None;
    }
    // Of a tuple, what takes the whole takes the verb with it.
    if let Some((pattern, _)) = all.iter().find(|(pattern, guard)| takes_all(pattern) && !guard) {
        return Some((*pattern).to_owned());
    }
    let names: BTreeSet<&str> =
        all.iter().filter_map(|(pattern, _)| opened(pattern)).map(|(name, _)| name).collect();
    for name in names {
        let lists = all.iter().filter_map(|(pattern, _)| opened(pattern)).filter(|(outer, _)| *outer == name);
        let most = lists.map(|(_, list)| list.len()).max().unwrap_or(0);
        for index in 0..most {
            let here: Vec<(String, bool)> = all
                .iter()
                .filter_map(|(pattern, guard)| Some((opened(pattern)?, *guard)))
                .filter(|((outer, _), _)| *outer == name)
                .filter_map(|((_, list), guard)| Some(((*list.get(index)?).to_owned(), guard)))
                .collect();
            if let Some(found) = wildcard(&here) {
                return Some(found);
            }
        }
    }
    None
}

fn wrong(text: &str) -> Vec<String> {
    matches(text)
        .into_iter()
        .filter_map(|arms| wildcard(&arms).map(|found| format!("`{found}` beside {}", arms[0].0)))
        .collect()
}

#[test]
fn no_match_on_verbs_has_a_wildcard() {
    let mut seen = 0;
    let mut all = Vec::new();
    for (path, text) in rust("src") {
        seen += matches(&text).iter().filter(|arms| arms.iter().any(|(arm, _)| names_verb(arm))).count();
        all.extend(wrong(&text).into_iter().map(|what| format!("{path}: {what}")));
    }
    assert!(seen > 15, "{seen}");
    assert!(all.is_empty(), "{all:#?}");
}

#[test]
fn a_wildcard_is_noticed() {
    let found = |arms: &str| wrong(&format!("fn f() {{ match one.verb {{ {arms} }} }}"));
    assert_eq!(found("Verb::Set => 1, _ => 2,").len(), 1);
    assert_eq!(found("Verb::Set => { let x = \"}\"; 1 } verb => 2").len(), 1);
    assert_eq!(found("Some(Verb::Set) => 1, Some(_) => 2, None => 3").len(), 1);
    assert_eq!(found("(Verb::Set | Verb::Fit, ..) => 1, (_, Some(x)) => 2").len(), 1);
    assert_eq!(found("(Some(x), Some(Verb::Set)) => 1, (Some(_), _) => 2, (None, None) => 3").len(), 1);
    assert_eq!(
        found("VerbGroup::Part(PartVerb::Fit) => 1, VerbGroup::Part(_) | VerbGroup::Run => 2").len(),
        1
    );
    assert_eq!(found("Verb::Set => 1, _ if odd => 2, Verb::Fit | Verb::Run => match x { _ => 3 }").len(), 0);
    assert_eq!(found("VerbGroup::Part(_) => 1, VerbGroup::Run => 2 // _ => 3").len(), 0);
    assert_eq!(found("(Verb::Set, None) => '{', (Verb::Fit, _) => 2").len(), 0);
    assert_eq!(found("1 => Verb::Set, _ => Verb::Fit").len(), 0);
    assert_eq!(wrong("match a { 1 => match b.verb { Verb::Set => 1, _ => 2 }, _ => 3 }").len(), 1);
}
