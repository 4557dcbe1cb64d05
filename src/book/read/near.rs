//! The verb that was meant where a line begins with none: near in its letters, or a word for the same thing; and what follows
//! on the line is what such a verb wants. Must not know what a line does.

use crate::book::Book;
use crate::book::clauses::is_clause;
use crate::book::entry::Verb;
use crate::book::handed::HandedPage;
use crate::book::names::{Thing, folded, nearest};
use crate::book::read::verb::verb_of;
use crate::book::verbs::{JobVerb, PartVerb, StretchVerb, VerbGroup};
use crate::syntax::{Cursor, Shape};

/// The verb, or `|`; the cursor stands behind the word that is none.
pub(super) fn near_verb(book: &Book, cur: &Cursor<'_>, text: &str) -> Option<String> {
    let text = &*text.to_ascii_lowercase();
    match meant(text) {
        Some("result") => result(cur, text).then(|| format!("result {text}")),
        Some("fill") if text.starts_with("refuel") => {
            cur.peek().is_some_and(|next| next.shape == Shape::Number).then(|| "fill fuel".to_owned())
        }
        Some(verb) => Some(verb).filter(|verb| fits(book, cur, verb)).map(str::to_owned),
        None => nearest(text, Verb::ALL.iter().map(|verb| verb.word()).filter(|verb| fits(book, cur, verb))),
    }
}

/// Words that people type for one of ours.
fn meant(text: &str) -> Option<&'static str> {
    Some(match text {
        "pull" | "take-off" => "remove",
        "change" | "replace" => "swap",
        "install" | "mount" => "fit",
        "measure" | "measured" | "check" | "checked" => "read",
        "calibrate" | "calibrated" | "compared" => "compare",
        "shelf" | "store" => "shelve",
        "note" | "notes" => "|",
        "session" | "ran" => "run",
        "broke" | "broken" => "failed",
        "oil" | "fluid" => "fill",
        "crash" | "impact" => "hit",
        "task" | "todo" | "open" => "job",
        "close" | "closed" | "finished" => "done",
        "finish" | "retired" | "grid" | "penalty" | "points" | "prize" => "result",
        "pit" | "pitted" | "pit-stop" | "pitstop" => "stop",
        "driver" | "drove" | "drive" => "stint",
        "refuel" | "refuelled" | "refueled" => "fill",
        "trial" | "experiment" | "plan" | "planned" => "try",
        "postpone" | "postponed" => "defer",
        "promised" => "promise",
        "labour" | "labor" | "worked" | "hour" => "hours",
        "costs" | "bill" | "fee" | "spent" => "cost",
        "pay" | "payment" | "deposit" | "received" => "paid",
        "loan" | "lent" | "loaned" => "lend",
        "borrowed" => "borrow",
        "returned" | "back" => "return",
        "counted" | "stock" | "stocktake" => "count",
        "used" => "use",
        "refund" => "credit",
        "estimate" | "quoted" => "quote",
        "bought" | "purchase" => "buy",
        "gave" | "given" | "mailed" | "sent" => "handed",
        _ => return None,
    })
}

/// Whether a word of a `result` stands alone: `finish 3`, `retired "gearbox"`.
fn result(cur: &Cursor<'_>, text: &str) -> bool {
    let shape = cur.peek().map(|next| next.shape);
    if text == "retired" {
        matches!(shape, None | Some(Shape::Text | Shape::Because))
    } else {
        shape == Some(Shape::Number)
    }
}

/// Whether what stands behind the word is what a line of that verb begins with.
fn fits(book: &Book, cur: &Cursor<'_>, verb: &str) -> bool {
    let Some(verb) = verb_of(verb) else { return true };
    let alone = [Verb::Void, Verb::Stop];
    let Some(next) = cur.peek() else { return alone.contains(&verb) };
    let text = cur.str(next);
    let names = |wanted: fn(Thing) -> bool| book.names.find(text).is_some_and(wanted);
    let number = next.shape == Shape::Number;
    let quoted = next.shape == Shape::Text;
    let place = book.names.place(text).is_some();
    let plain = next.shape == Shape::Word && !is_clause(text);
    match verb.group() {
        VerbGroup::Setting(_) => quantity(book, cur, text),
        VerbGroup::Bench => names(|thing| matches!(thing, Thing::Part(_))),
        VerbGroup::Compare => names(|thing| matches!(thing, Thing::Gauge(_))),
        VerbGroup::Row(_) => number || place,
        VerbGroup::Part(part) => {
            let behind = |word: &str| words(cur).any(|other| other.eq_ignore_ascii_case(word));
            let whole = match part {
                PartVerb::Swap | PartVerb::Move => behind("->") || behind("\u{2192}"),
                PartVerb::Build => behind("into"),
                PartVerb::Strip | PartVerb::Borrow => behind("from"),
                PartVerb::Lend => behind("to"),
                PartVerb::Fit
                | PartVerb::Remove
                | PartVerb::Rebuild
                | PartVerb::Shelve
                | PartVerb::Quarantine
                | PartVerb::Release
                | PartVerb::Scrap
                | PartVerb::Buy
                | PartVerb::Sell
                | PartVerb::Failed
                | PartVerb::Inspect
                | PartVerb::Service
                | PartVerb::Return => true,
            };
            let any =
                |thing| matches!(thing, Thing::Part(_) | Thing::Kind(_) | Thing::Car(_) | Thing::Outfit(_));
            whole && names(any)
        }
        VerbGroup::Hit => place || quoted,
        VerbGroup::Run => plain && !place,
        VerbGroup::Laps => next.shape == Shape::Lap || plain && !place,
        VerbGroup::Words => plain || quoted,
        VerbGroup::Try => quantity(book, cur, text) || names(|thing| matches!(thing, Thing::Kind(_))),
        VerbGroup::Waive => plain && text.contains('-'),
        VerbGroup::Void => next.shape == Shape::Because,
        // It is opened under a name that is new.
        VerbGroup::Job(JobVerb::Job) => plain && !place,
        VerbGroup::Job(JobVerb::Done | JobVerb::Defer | JobVerb::Promise) => {
            names(|thing| matches!(thing, Thing::Job(_)))
        }
        VerbGroup::Cost if verb == Verb::Paid => number || names(|thing| matches!(thing, Thing::Client(_))),
        VerbGroup::Cost => number,
        VerbGroup::Handed => plain && HandedPage::find(text).is_some(),
        VerbGroup::Stock(_) => names(|thing| matches!(thing, Thing::Kind(_))),
        VerbGroup::Stretch(StretchVerb::Stint) => {
            book.names.find(text).is_some_and(|thing| book.names.person(thing).is_some())
        }
        VerbGroup::Stretch(StretchVerb::Stage) => plain && !place,
        VerbGroup::Stretch(StretchVerb::Stop) => number || quoted,
        VerbGroup::Result => plain && !place,
        VerbGroup::Correct => quantity(book, cur, text),
        VerbGroup::Note => true,
    }
}

/// The words from here on.
fn words<'a>(cur: &'a Cursor<'_>) -> impl Iterator<Item = &'a str> {
    (0..).map_while(|ahead| cur.peek_at(ahead)).map(|word| cur.str(word))
}

/// Whether a quantity stands here, in one word or in two.
fn quantity(book: &Book, cur: &Cursor<'_>, text: &str) -> bool {
    let name = folded(text);
    let stem = name.strip_suffix("-in").or_else(|| name.strip_suffix("-out")).unwrap_or(&name);
    let joined = || cur.peek_at(1).map(|next| folded(&format!("{text}-{}", cur.str(next))));
    [Some(name.as_str()), Some(stem)].into_iter().flatten().any(|name| book.vocabulary.find(name).is_some())
        || joined().is_some_and(|joined| book.vocabulary.find(&joined).is_some())
}
