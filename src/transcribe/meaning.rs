//! What a column is: one of a few words, or the beginning of a ledger line.
//!
//! Must not know any cell.

use super::mapping::Mapping;
use crate::book::Book;
use crate::book::entry::Verb;
use crate::book::names::nearest;
use crate::units::{DimensionId, table};
use crate::vocabulary::{Form, QuantityId};
use crate::words;
use std::collections::BTreeMap;

macro_rules! known {
    ($($name:ident $word:literal $what:literal),* $(,)?) => {
        /// A column that says something of its row's session or lap.
        #[derive(Debug, Clone, Copy, PartialEq, Eq)]
        pub enum Word { $(#[doc = $what] $name),* }
        impl Word {
            /// Every word with what it says.
            pub const ALL: &[(&'static str, Self, &'static str)] = &[$(($word, Self::$name, $what)),*];
        }
    };
}
known! {
    Date "date" "the day, with or without a time behind it",
    Car "car" "the car, by its name in the book",
    Event "event" "the event, by its name in the book",
    Session "session" "the session's label",
    Start "start" "when the session began; without a session, when the row was read",
    End "end" "when it was over",
    Driver "driver" "who drove",
    Minutes "minutes" "how many minutes it ran",
    Laps "laps" "how many laps it had",
    Best "best" "its best lap",
    Lap "lap" "the lap's number, of a row that is one lap",
    LapTime "lap-time" "the lap's time",
    Mark "mark" "in-lap, out-lap, box or yellow",
    Gauge "gauge" "what the row was read with",
    Note "note" "words",
}

/// What a column is.
#[derive(Debug, Clone, PartialEq)]
pub enum Meaning {
    /// One of the words.
    Word(Word),
    /// A value of a ledger line: `read tyre-cold LF psi`.
    Value(Value),
    /// A condition of the session: `with air C`.
    Condition {
        /// Its word.
        key: String,
        /// Its unit; none where a bare number is complete.
        unit: Option<String>,
    },
}

/// What the columns of a sheet are, by their place.
pub type Columns = BTreeMap<usize, Meaning>;

/// A value of a ledger line.
#[derive(Debug, Clone, PartialEq)]
pub struct Value {
    /// `read`, `set`, `found` or `left`.
    pub verb: Verb,
    /// Of what.
    pub quantity: QuantityId,
    /// The quantity's word as the mapping has it.
    pub word: String,
    /// Where, as the mapping has it.
    pub place: Option<String>,
    /// The unit of every cell.
    pub unit: Option<String>,
    /// Of a toe, how its number is to be taken: `total` or `each`.
    pub form: Option<String>,
    /// Whether the cells are words.
    pub text: bool,
}

impl Meaning {
    /// Whether two columns would say the same thing of a row.
    #[must_use]
    pub fn same(&self, other: &Self) -> bool {
        match (self, other) {
            (Self::Value(one), Self::Value(two)) => {
                one.verb == two.verb && one.quantity == two.quantity && one.place == two.place
            }
            (Self::Condition { key, .. }, Self::Condition { key: other, .. }) => key == other,
            (one, two) => one == two,
        }
    }
}

/// The verbs that a column may begin with.
const VERBS: [Verb; 4] = [Verb::Read, Verb::Set, Verb::Found, Verb::Left];

/// Of every column of a mapping what it is.
///
/// # Errors
/// A sentence about the first that cannot be read.
pub fn all(mapping: &Mapping, book: &Book) -> Result<Vec<(String, Meaning)>, String> {
    let read = |(column, text): (&String, &String)| {
        let meaning = meaning(text, book).map_err(|wrong| format!("of the column `{column}`: {wrong}"))?;
        Ok((column.clone(), meaning))
    };
    mapping.columns.iter().map(read).collect()
}

/// Reads what a mapping says of one column.
///
/// # Errors
/// A sentence.
pub fn meaning(text: &str, book: &Book) -> Result<Meaning, String> {
    let mut said = text.split_whitespace();
    let first = said.next().unwrap_or_default().to_lowercase();
    let rest: Vec<&str> = said.collect();
    if let Some((_, word, _)) = Word::ALL.iter().find(|(word, ..)| *word == first) {
        return match rest.first() {
            None => Ok(Meaning::Word(*word)),
            Some(more) => Err(format!("nothing may stand behind `{first}`, and `{more}` does")),
        };
    }
    match (VERBS.iter().find(|verb| verb.word() == first), first.as_str()) {
        (Some(verb), _) => value(*verb, &rest, book).map(Meaning::Value),
        (None, "with") => condition(&rest),
        (None, _) => {
            let words = Word::ALL.iter().map(|(word, ..)| *word);
            let all: Vec<&str> = words.chain(VERBS.iter().map(|verb| verb.word())).chain(["with"]).collect();
            let cure = nearest(&first, all.iter().copied())
                .map_or_else(|| format!("it may be {}", words::or(&all)), words::did_you_mean);
            Err(format!("`{text}` says nothing of a column; {cure}"))
        }
    }
}

fn value(verb: Verb, rest: &[&str], book: &Book) -> Result<Value, String> {
    let Some((&word, rest)) = rest.split_first() else {
        return Err(format!("what is {} is missing, as in `read tyre-cold LF psi`", verb.word()));
    };
    let word = word.to_lowercase();
    let Some((quantity, _)) = book.vocabulary.find_spelt(&word) else {
        let near = nearest(&word, book.vocabulary.iter().map(|(_, one)| &*one.name));
        return Err(format!("`{word}` is no quantity{}", words::or_nearest(near)));
    };
    let known = book.vocabulary.get(quantity);
    if known.form != Form::One {
        return Err(format!("`{word}` is several numbers in one, which no column can say; type it by hand"));
    }
    let (mut place, mut unit, mut form) = (None, None, None);
    for said in rest {
        if place.is_none() && unit.is_none() && book.names.place(said).is_some() {
            place = Some((*said).to_owned());
        } else if unit.is_none()
            && !known.dimension.get().is_text()
            && table().find_one(said, known.dimension).is_some()
        {
            unit = Some((*said).to_owned());
        } else if form.is_none()
            && known.dimension == DimensionId::TOE
            && ["total", "each"].iter().any(|word| said.eq_ignore_ascii_case(word))
        {
            form = Some(said.to_lowercase());
        } else {
            return Err(format!(
                "`{said}` is no place, and no unit of `{word}`; a line goes `{} {word} LF {}`",
                verb.word(),
                usual(known.dimension)
            ));
        }
    }
    let dimension = known.dimension.get();
    if unit.is_none() && !dimension.bare && !dimension.is_text() {
        return Err(format!(
            "`{word}` needs its unit, as in `{} {word} {}`",
            verb.word(),
            usual(known.dimension)
        ));
    }
    Ok(Value { verb, quantity, word, place, unit, form, text: dimension.is_text() })
}

fn usual(dimension: DimensionId) -> &'static str {
    dimension.get().usual.first().copied().unwrap_or_default()
}

fn condition(rest: &[&str]) -> Result<Meaning, String> {
    let is_word = |word: &&str| crate::book::names::is_name(word);
    match rest {
        [key] if is_word(key) => Ok(Meaning::Condition { key: key.to_lowercase(), unit: None }),
        [key, unit] if is_word(key) && table().knows(unit) => {
            Ok(Meaning::Condition { key: key.to_lowercase(), unit: Some((*unit).to_owned()) })
        }
        [_, unit] => Err(format!("`{unit}` is no unit")),
        _ => Err("a condition goes `with air C`".to_owned()),
    }
}
