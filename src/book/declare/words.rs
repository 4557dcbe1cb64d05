//! The words of declarations: those that declare, their properties, and those that cannot be names.
//!
//! Must not know what a property means.

use crate::book::entry::Verb;
use crate::book::names::{folded, is_name};
use crate::book::place::Place;
use crate::syntax::{Cursor, Shape, Word};

/// The words that declare something.
pub const DECLARATIONS: [&str; 18] = [
    "shop", "person", "client", "circuit", "event", "gauge", "car", "kind", "spec", "part", "quantity",
    "baseline", "exchange", "rule", "figure", "class", "outfit", "word",
];

/// Lines of dated blocks that have facts of their own, named like properties: those of jobs, and the four about money.
pub const LINES_WITH_FACTS: [&str; 2] = ["job", "cost"];

/// Words that cannot be names, because they mean something where a name may stand.
const RESERVED: [&str; 40] = [
    "by", "with", "over", "during", "at", "from", "to", "into", "found-by", "because", "after", "lap", "on",
    "of", "shop", "person", "client", "circuit", "event", "gauge", "car", "kind", "spec", "part", "quantity",
    "baseline", "exchange", "rule", "all", "front", "rear", "left", "right", "off", "good", "failed", "each",
    "total", "figure", "outfit",
];

/// Whether a word (lower case) means something wherever a name may stand: what was done, a clause, what is declared, a place.
pub(super) fn is_reserved(word: &str) -> bool {
    RESERVED.contains(&word)
        || Verb::ALL.iter().any(|verb| verb.word() == word)
        || Place::parse(word).is_some()
}

/// Whether something that is declared by a word may be called so: the word means nothing else there.
#[must_use]
pub fn can_name(of: &str, word: &str) -> bool {
    let property = names_of(of).iter().any(|known| word.eq_ignore_ascii_case(known));
    let means = property || is_reserved(&folded(word));
    is_name(word) && word.starts_with(char::is_alphabetic) && !means
}

/// The properties a declaration has, for did-you-mean and messages.
#[must_use]
pub fn names_of(of: &str) -> &'static [&'static str] {
    match of {
        "shop" => &["currency", "zone", "rate"],
        "client" => &["rate", "unbilled"],
        "exchange" => &["from"],
        "rule" => &["class", "at", "min", "max", "from", "until", "with"],
        "person" => &["role"],
        "circuit" => &["length"],
        "event" => &["at", "entered", "zone", "sessions", "on"],
        "gauge" => &["reads", "resolution", "repeats", "valid-until"],
        "car" => &[
            "client",
            "class",
            "units",
            "cylinders",
            "gears",
            "drive",
            "body",
            "toe-over",
            "reference",
            "about",
            "every",
            "usual",
            "possible",
        ],
        "class" => &["usual", "possible"],
        "word" => &["means"],
        "kind" => &[
            "fits",
            "on",
            "inside",
            "life",
            "valid",
            "safety",
            "gives",
            "carries",
            "carried",
            "clicks",
            "from",
            "one-use",
            "must",
            "keep",
            "consumable",
            "every",
            "failure-costs",
        ],
        "spec" => &["of", "price", "life", "valid", "tag"],
        "part" => &[
            "client",
            "spec",
            "serial",
            "opening",
            "made",
            "serviced",
            "fitted",
            "valid-until",
            "tag",
            "price",
            "paid",
        ],
        // Its facts stand on the line that opens it.
        "job" => &["planned", "on-part", "promised", "until", "rate"],
        // The four verbs of money share theirs.
        "cost" => &["invoice", "split", "among", "rate", "unbilled", "back"],
        "quantity" => &[
            "of",
            "also",
            "area",
            "show",
            "usual",
            "possible",
            "disturbed-by",
            "needs",
            "pair",
            "triple",
            "counter",
            "relative",
            "rear-axle",
            "supply",
        ],
        "figure" => &[
            "area",
            "show",
            "called",
            "step",
            "in-code",
            "is",
            "when",
            "must",
            "careful",
            "source",
            "convention",
            "plain",
            "inferred",
            "estimated",
            "at",
        ],
        _ => &[],
    }
}

/// Whether a word is a property of any declaration.
#[must_use]
pub fn is_property(word: &str) -> bool {
    // The words of a figure's lines (`is`, `when`, `source`) are ordinary ones elsewhere, and end no value there.
    DECLARATIONS.iter().filter(|of| **of != "figure").any(|of| is_name_of(of, word))
}

/// Whether a word is a property of that declaration, or a fact of that line.
#[must_use]
pub fn is_name_of(of: &str, word: &str) -> bool {
    names_of(of).iter().any(|name| word.eq_ignore_ascii_case(name))
}

/// Whether the word at the cursor is `min` for minutes, and no limit: behind a number, and before none.
pub(super) fn is_minutes(cur: &Cursor<'_>) -> bool {
    let number = |word: Option<Word>| word.is_some_and(|word| word.shape == Shape::Number);
    cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("min"))
        && number(cur.before())
        && !number(cur.peek_at(1))
}
