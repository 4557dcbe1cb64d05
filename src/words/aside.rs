//! What a text says but for where in the book it stands.
//!
//! Must not know whose text it is.

/// How the name of a ledger ends.
const LEDGER: &str = ".sline";

/// A text without the lines that it names, so that two texts that differ in nothing else are the same: `bench.sline:12, 14`, `:14…20 (5 lines)` of the page's own ledger, `line 14`.
#[must_use]
pub fn without_lines(text: &str) -> String {
    let numbers = |c: char| c.is_ascii_digit() || matches!(c, ',' | ' ' | '…' | '·' | ':');
    let counts = |c: char| c.is_ascii_digit();
    let mut out = String::new();
    let mut rest = text;
    while let Some((at, mark)) = rest.char_indices().find(|(at, each)| names_a_line(rest, *at, *each)) {
        let (before, after) = rest.split_at(at);
        out.push_str(before);
        if let Some(without) = out.strip_suffix(LEDGER) {
            let name = without.rfind(|c: char| c.is_whitespace() || c == '(').map_or(0, |at| at + 1);
            out.truncate(name);
        }
        rest = match mark {
            ':' => after.trim_start_matches(numbers),
            _ => after.trim_start_matches(counts),
        };
        // How many lines stand there is said where not all of them are named.
        let many = rest.strip_prefix('(').map(|many| many.trim_start_matches(counts));
        rest = many.and_then(|many| many.strip_prefix(" lines)")).unwrap_or(rest);
    }
    out.push_str(rest);
    out
}

/// Whether the number of a line begins here: behind a ledger's name or by itself `:14`, behind `line ` a bare number.
fn names_a_line(text: &str, at: usize, each: char) -> bool {
    let Some((before, after)) = text.split_at_checked(at) else { return false };
    let number = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
    match each {
        ':' => {
            let begins = before.ends_with(|c: char| c.is_whitespace() || matches!(c, '(' | '·'));
            (before.is_empty() || begins || before.ends_with(LEDGER)) && after.get(1..).is_some_and(number)
        }
        '0'..='9' => before.ends_with(" line ") || before.ends_with("(line ") || before == "line ",
        _ => false,
    }
}
