//! Whether an edit keeps what was typed: every number and every word but the wrong one.
//!
//! A cure says in words what might stand there; only what was typed, put right, is an edit. So nothing that is offered can lose a reading, bring in a
//! number that nobody read, or take away words that somebody wrote. Must not know any check.

use crate::book::names::folded;

/// Words after which what a cure quotes is an example.
const EXAMPLES: [&str; 2] = ["such as", "so:"];

/// What a cure quotes, but for patterns that somebody has to fill in, and for examples: those are words of the message.
pub(super) fn quoted(cure: &str) -> Vec<&str> {
    let mut example = false;
    let mut found = Vec::new();
    for (index, piece) in cure.split('`').enumerate() {
        if index % 2 == 0 {
            // An example goes as far as its clause.
            let clause = piece.rsplit(';').next().unwrap_or(piece);
            example =
                (example && clause.len() == piece.len()) || EXAMPLES.iter().any(|word| clause.contains(word));
        } else if !example && !is_pattern(piece) {
            found.push(piece);
        }
    }
    found
}

fn is_pattern(text: &str) -> bool {
    let filled_in = |word: &str| word.len() > 1 && word.chars().all(|c| c.is_ascii_uppercase());
    text.contains("...") || text.split_whitespace().any(filled_in)
}

/// Whether new words in the place of old ones keep them.
pub(super) fn keeps(old: &str, new: &str) -> bool {
    keeps_numbers(old, new) && keeps_words(old, new)
}

/// The digits of what is a number, and of no name.
fn digits(text: &str) -> Vec<char> {
    let mut digits: Vec<char> = text
        .split_whitespace()
        .filter(|word| is_number(word))
        .flat_map(str::chars)
        .filter(char::is_ascii_digit)
        .collect();
    digits.sort_unstable();
    digits
}

fn is_number(word: &str) -> bool {
    word.trim_start_matches(['+', '-', '.', ',', '\u{2212}', '\u{b1}'])
        .starts_with(|c: char| c.is_ascii_digit())
}

/// Whether the same digits stand in both. A day and a time may be written out: `3/5/25` and `9:5` lack a century and noughts.
fn keeps_numbers(old: &str, new: &str) -> bool {
    let (was, is) = (digits(old), digits(new));
    let dated = new.split_whitespace().any(|word| word.parse::<jiff::civil::Date>().is_ok());
    let written_out = |digits: &[char]| -> Vec<char> {
        let mut kept: Vec<char> = digits.iter().copied().filter(|digit| *digit != '0').collect();
        kept.sort_unstable();
        kept
    };
    if was == is {
        return true;
    }
    if was.is_empty() || !(dated || new.contains(':')) {
        return false;
    }
    let (was, mut is) = (written_out(&was), written_out(&is));
    if was == is {
        return true;
    }
    // The century.
    let two = is.iter().position(|digit| *digit == '2').filter(|_| dated);
    two.is_some_and(|index| {
        is.remove(index);
        was == is
    })
}

/// Whether all words stand in both but one that another takes the place of. Words in quotes are somebody's own: they all stay.
fn keeps_words(old: &str, new: &str) -> bool {
    let words = |text: &str| -> Vec<String> {
        let pieces = text.split(|c: char| c.is_whitespace() || "\",|".contains(c));
        let named = |word: &&str| word.contains(char::is_alphabetic) && !is_number(word);
        pieces.filter(named).map(folded).collect()
    };
    let (was, is) = (words(old), words(new));
    let lost = was.iter().filter(|word| !is.contains(word)).count();
    let in_place = is.iter().any(|word| !was.contains(word));
    lost == 0 || lost == 1 && in_place && !old.contains('"')
}
