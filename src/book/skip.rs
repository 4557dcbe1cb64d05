//! What may be gone past behind a bad clause, and what may not: a line stands in spite of a bad clause only where nothing of
//! the rest can be anything else than what it was.
//!
//! Gone past are the clause's keyword and its argument, up to the next comma, clause or quoted words. A word there (or the next
//! one behind it) that names or nearly names something, or is one of the verb's own, may be a fact of the line: then nothing of
//! the line is believed. Must not know how a clause is read, nor what a line does.

use super::clause::Clause;
use super::names::{Names, Thing, folded, near_any};
use super::side::Side;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, table};

/// Moves past the argument of a bad clause, from right behind its keyword; of a word that is no clause (`None`), past that
/// word. Whether the line stands.
#[must_use]
pub fn argument(cur: &mut Cursor<'_>, names: &Names, side: &Side, clause: Option<Clause>) -> bool {
    let mut gone = 0;
    let mut number = false;
    // Whether a word that is no unit stands since the last number: a condition's number has one before it.
    let mut worded = false;
    let reason = clause == Some(Clause::Because);
    while let Some(word) = cur.peek() {
        let text = cur.str(word);
        let after_number = std::mem::take(&mut number);
        match word.shape {
            // A reason goes on behind its commas; quoted words are the line's.
            Shape::Comma if reason => {}
            // Two who did it: neither is taken.
            Shape::Comma
                if clause == Some(Clause::By)
                    && cur.peek_at(1).is_some_and(|next| is_who(names, cur.str(next))) =>
            {
                cur.bump();
            }
            Shape::Comma | Shape::Text | Shape::Because => break,
            _ if is_number(text, word) => {
                number = true;
                if !has_number(side, clause, gone, worded) {
                    return false;
                }
                worded = false;
                gone += 1;
            }
            Shape::Word | Shape::Code | Shape::Odd => {
                if is_keyword(word, text) {
                    // Whether it is one of the reason's words or a clause behind it, nobody knows: where any clause
                    // only adds to the fact it is read, elsewhere nothing is believed.
                    if reason && !side.stray {
                        return false;
                    }
                    break;
                }
                let own = side.own.iter().any(|own| text.eq_ignore_ascii_case(own));
                let unit = is_unit(text) && !own && names.find(text).is_none();
                let asked = if reason { clause } else { clause.filter(|_| gone == 0) };
                let who = asked == Some(Clause::By) && is_who(names, text);
                if !(who || unit && after_number) && means(cur, names, side, text, asked) {
                    return false;
                }
                // More words than the clause has are the line's own.
                let more = gone > 0 && !after_number;
                if more && !(side.stray || reason || clause == Some(Clause::With)) {
                    return false;
                }
                worded |= !unit && !after_number;
                gone += 1;
            }
            _ if side.stray || reason => {}
            _ => return false,
        }
        cur.bump();
    }
    let mut ahead = 0;
    while cur.peek_at(ahead).is_some_and(|word| word.shape == Shape::Comma) {
        ahead += 1;
    }
    let next = cur.peek_at(ahead).filter(|word| matches!(word.shape, Shape::Word | Shape::Code | Shape::Odd));
    !next.is_some_and(|word| {
        let text = cur.str(word);
        !is_keyword(word, text) && means(cur, names, side, text, None)
    })
}

fn is_keyword(word: Word, text: &str) -> bool {
    word.shape == Shape::Word && Clause::find(text).is_some()
}

/// A number, or what was meant for one: `2o`, `~6`.
fn is_number(text: &str, word: Word) -> bool {
    let code = matches!(word.shape, Shape::Code | Shape::Odd);
    word.shape == Shape::Number || code && !text.starts_with(char::is_alphabetic)
}

/// Whether a number after so many words is the clause's own.
fn has_number(side: &Side, clause: Option<Clause>, gone: usize, worded: bool) -> bool {
    match clause {
        Some(Clause::With) => worded,
        Some(Clause::Over | Clause::At | Clause::Lap) => side.stray || gone == 0 && !side.counts,
        _ => side.stray,
    }
}

fn is_who(names: &Names, text: &str) -> bool {
    names.find(text).is_some_and(|thing| matches!(thing, Thing::Gauge(_)) || names.person(thing).is_some())
}

fn is_unit(text: &str) -> bool {
    DimensionId::all().any(|dimension| table().find_one(text, dimension).is_some())
}

/// Whether a word may be a fact of its own: the name of something, or nearly; a word of the verb's own, or nearly. `asked` is
/// the clause that it stands behind: who did it can be nothing but a person's name with a slip in it, and of a reason's plain
/// words (`torn`) only one slip makes a name (`orr`).
fn means(cur: &Cursor<'_>, names: &Names, side: &Side, text: &str, asked: Option<Clause>) -> bool {
    let by = asked == Some(Clause::By);
    let reason = asked == Some(Clause::Because);
    let own = side.own.iter().copied().chain(["unsure", "good", "failed"]);
    let meant = |name: String| {
        !reason || !text.is_ascii() || strsim::osa_distance(&folded(text), &folded(&name)) <= 1
    };
    if names.place(text).is_some()
        || names.find(text).is_some()
        || !by && names.refused.contains(folded(text).as_str())
        || text.eq_ignore_ascii_case("ok")
        || near_any(text, own).is_some_and(meant)
    {
        return true;
    }
    let told = |thing: Thing| match thing {
        Thing::Person(_) => !by,
        Thing::Car(_)
        | Thing::Kind(_)
        | Thing::Part(_)
        | Thing::Client(_)
        | Thing::Event(_)
        | Thing::Outfit(_)
        | Thing::Position(_) => true,
        Thing::Circuit(_) | Thing::Gauge(_) | Thing::Baseline(_) | Thing::Rule(_) | Thing::Job(_) => false,
    };
    // Where no nearest name is looked for any more, any word may be near one.
    !cur.suggests || names.near_any(text, told).is_some_and(meant)
}
