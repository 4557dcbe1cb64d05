//! `grammar/checks.md` is made from the checks themselves, so that it cannot say anything else.
//!
//! `UPDATE=1 cargo test --test all checks_page` writes it anew.

use super::{grammar, grammar_path};
use std::fmt::Write as _;
use stringline::check::{CHECKS, Check};

const HEAD: &str = "\
# Checks

Every message of `stringline check` names its check in brackets. An **error**: a number in a report would be wrong. A **warning**: it may
be wrong, or something is about to go wrong. A **note**: you will want to know. A warning or a note is answered in place, on a line
under the one it is about: `waive NAME because ...`.

This page is made from the checks by a test (`UPDATE=1 cargo test --test all checks_page`); `stringline why NAME` prints the same.
";

#[test]
fn the_page_says_what_the_checks_say() {
    let page = render();
    if std::env::var_os("UPDATE").is_some() {
        std::fs::write(grammar_path("checks.md"), &page).expect("grammar/ can be written");
    }
    let committed = grammar("checks.md").replace("\r\n", "\n");
    assert!(committed == page, "grammar/checks.md is stale: UPDATE=1 cargo test --test all checks_page");
}

fn render() -> String {
    let mut checks: Vec<&Check> = CHECKS.iter().copied().collect();
    checks.sort_by_key(|check| check.family);
    let mut page = HEAD.to_owned();
    let mut family = None;
    for check in &checks {
        if family != Some(check.family) {
            family = Some(check.family);
            let _ =
                write!(page, "\n## {}\n\n| check | | looks for |\n|---|---|---|\n", check.family.heading());
            for one in checks.iter().filter(|one| one.family == check.family) {
                let brief = one.brief.replace('|', "\\|");
                let _ = writeln!(page, "| [`{0}`](#{0}) | {1} | {brief} |", one.name, one.severity.word());
            }
        }
        let _ = write!(
            page,
            "\n### {}\n\n{}. {}\n\n{}\n\nNot like this:\n\n{}\nBut:\n\n{}",
            check.name,
            capital(check.severity.word()),
            capital(&ended(check.brief)),
            check.why.trim(),
            fenced(check.wrong),
            fenced(check.right)
        );
    }
    page
}

/// Ledger lines in a fence, without the indent they all have.
fn fenced(lines: &str) -> String {
    let lines = lines.trim_matches('\n');
    let least = lines
        .lines()
        .filter(|line| !line.trim().is_empty())
        .map(|line| line.len() - line.trim_start().len())
        .min()
        .unwrap_or(0);
    let text: Vec<&str> =
        lines.lines().map(|line| line.get(least..).unwrap_or_default().trim_end()).collect();
    format!("```\n{}\n```\n", text.join("\n"))
}

fn ended(text: &str) -> String {
    if text.ends_with(['.', '?', '!']) { text.to_owned() } else { format!("{text}.") }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_uppercase().collect::<String>() + letters.as_str())
}
