//! `try`: a trial declared before it is run. It sets nothing.
//!
//! Must not know what the car stands at, nor which orders tell.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::{is_clause, part_here};
use crate::book::entry::{Flags, Item};
use crate::book::model::KindId;
use crate::book::names::{Thing, folded};
use crate::book::place::Place;
use crate::book::tried::{LevelAt, Tried, TryFacts, TryLevel, TryTrouble, near};
use crate::book::trouble::{Trouble, What};
use crate::book::values::{Context, Mode};
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word, unquote};
use crate::vocabulary::QuantityId;

/// The word before the letters of the runs.
const ORDER: &str = "order";

/// A setting as typed.
struct Typed {
    letter: char,
    at: Word,
    words: Vec<Word>,
}

impl Reader<'_> {
    /// `try bar-hole front A 1, B 3 order A B A B A`, `try damper LF A dm-1, B dm-2 order A B A B A`.
    pub(super) fn try_line(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let cur = &mut reading.cur;
        let (of, direction) = self.tried(cur)?;
        let mut places: Vec<(Place, Word)> = Vec::new();
        while let Some(word) = cur.peek().filter(|word| letter(cur, *word).is_none()) {
            let Some(place) = self.book.names.place(cur.str(word)) else { break };
            places.push((place, word));
            cur.bump();
        }
        let mut typed = settings(cur)?;
        if let [one] = typed.as_slice() {
            return Err(Trouble { span: cur.span(one.at), what: What::Tried(TryTrouble::OneLevel) });
        }
        lend_units(&mut typed);
        let (order, order_span) = order(cur, &typed)?;
        let mut levels: Vec<TryLevel> = Vec::new();
        for one in &typed {
            let stands = match of {
                Tried::Setting(id) => {
                    LevelAt::Values(self.try_values(cur, (id, direction), &places, &one.words)?)
                }
                Tried::Parts(kind) => self.try_parts(cur, kind, &one.words)?,
            };
            let words = one.words.iter().map(|word| cur.span(*word)).collect();
            let level = TryLevel { letter: one.letter, words, stands };
            if let Some(trouble) = levels.iter().find_map(|before| self.against(cur, before, &level)) {
                return Err(Trouble { span: cur.span(one.at), what: What::Tried(trouble) });
            }
            levels.push(level);
        }
        let places = match levels.first().map(|level| &level.stands) {
            Some(LevelAt::Values(items)) => {
                Item::by_value(items).filter_map(|one| Some(one.first()?.place)).collect()
            }
            _ => places.into_iter().map(|(place, _)| place).collect(),
        };
        reading.extra.tried = Some(Box::new(TryFacts { of, places, levels, order, order_span }));
        self.clauses(reading)
    }

    /// What is to be compared: a kind of part or a quantity.
    fn tried(&self, cur: &mut Cursor<'_>) -> Result<(Tried, i8), Trouble> {
        let named = cur.peek().and_then(|word| self.book.names.find(cur.str(word)));
        if let Some(Thing::Kind(kind)) = named {
            cur.bump();
            return Ok((Tried::Parts(kind), 0));
        }
        let (id, direction) = self.quantity(cur, "try")?;
        Ok((Tried::Setting(id), direction))
    }

    /// The values of a setting, as a `set` line would have them: its words behind each place.
    fn try_values(
        &mut self,
        cur: &Cursor<'_>,
        (id, direction): (QuantityId, i8),
        places: &[(Place, Word)],
        typed: &[Word],
    ) -> Result<Vec<Item>, Trouble> {
        let mut words: Vec<Word> = Vec::new();
        for (_, place) in places {
            words.push(*place);
            words.extend(typed);
        }
        if places.is_empty() {
            words.extend(typed);
        }
        let ends = words.first().zip(words.last()).map_or((0, 0), |(a, b)| (a.start, b.end()));
        let mut line = Cursor::new(cur.file, self.text, &words, ends);
        line.suggests = cur.suggests;
        let (of_head, context): (_, Context) = self.context(cur, direction)?;
        let mut items = Vec::new();
        let book = self.book;
        self.values.read(&mut line, book, id, Mode::Set, context, &mut items)?;
        if let Some(word) = line.peek() {
            return Err(Trouble { span: cur.span(word), what: What::WordUnexpected { near: None } });
        }
        // It plans one value a place: no old one, no repeat, none that is left out.
        let not_one = Flags::OLD | Flags::UNKNOWN | Flags::NOT_READ | Flags::REPEAT;
        if let Some(item) = items.iter().find(|item| item.is(not_one)) {
            let what = if item.is(Flags::OLD) { What::ArrowBad } else { What::ValueMissing(id) };
            return Err(Trouble { span: item.span(cur.file), what });
        }
        self.possible_of(id, (Mode::Set, of_head), &items, cur)?;
        Ok(items)
    }

    /// A spec of the kind, or parts of it.
    fn try_parts(&self, cur: &Cursor<'_>, kind: KindId, typed: &[Word]) -> Result<LevelAt, Trouble> {
        let names = &self.book.names;
        if let [word] = typed
            && let Some(spec) = names.spec(kind, cur.str(*word))
        {
            return Ok(LevelAt::Spec(spec));
        }
        let ends = typed.first().zip(typed.last()).map_or((0, 0), |(a, b)| (a.start, b.end()));
        let mut line = Cursor::new(cur.file, self.text, typed, ends);
        line.suggests = cur.suggests;
        let mut parts = Vec::new();
        while let Some(word) = line.peek() {
            let part = part_here(&mut line, names)?;
            if self.book.parts.get(part).and_then(|part| part.kind) != Some(kind) {
                let what = What::Tried(TryTrouble::OtherKind(kind));
                return Err(Trouble { span: cur.span(word), what });
            }
            parts.push(part);
        }
        Ok(LevelAt::Parts(parts))
    }

    /// What is wrong with a setting beside one above it.
    fn against(&self, cur: &Cursor<'_>, before: &TryLevel, level: &TryLevel) -> Option<TryTrouble> {
        let same = match (&before.stands, &level.stands) {
            (LevelAt::Values(a), LevelAt::Values(b)) => {
                let places = |items: &[Item]| items.iter().map(|item| item.place).collect::<Vec<_>>();
                if places(a) != places(b) {
                    return Some(TryTrouble::OtherPlaces(before.letter));
                }
                let text = |item: &Item| folded(unquote(self.text_of(item.span(cur.file))));
                a.iter().zip(b).all(|(a, b)| {
                    a.flags == b.flags
                        && if a.is(Flags::TEXT) { text(a) == text(b) } else { near(a.si, b.si) }
                })
            }
            (a, b) => a == b,
        };
        same.then_some(TryTrouble::SameTwice(before.letter))
    }

    fn text_of(&self, span: Span) -> &str {
        self.text.get(span.start as usize..span.end as usize).unwrap_or_default()
    }
}

/// The letter that a word is, a capital.
fn letter(cur: &Cursor<'_>, word: Word) -> Option<char> {
    let text = cur.str(word);
    let alone = word.shape == Shape::Word && text.len() == 1;
    text.chars().next().filter(|first| alone && first.is_ascii_alphabetic()).map(|it| it.to_ascii_uppercase())
}

fn incomplete(span: Span, wants: &'static str) -> Trouble {
    Trouble { span, what: What::Incomplete { verb: "try", wants } }
}

/// `A 1, B 3`: up to the order, or to whatever stands there in its place.
fn settings(cur: &mut Cursor<'_>) -> Result<Vec<Typed>, Trouble> {
    let wants = "a letter with each setting, such as `A 1, B 3`";
    let ends = |cur: &Cursor<'_>, word: Word| {
        let text = cur.str(word);
        let stops = text.eq_ignore_ascii_case(ORDER) || is_clause(text);
        matches!(word.shape, Shape::Comma | Shape::Because) || word.shape == Shape::Word && stops
    };
    let mut all: Vec<Typed> = Vec::new();
    loop {
        let Some((at, letter)) = cur.peek().and_then(|word| Some((word, letter(cur, word)?))) else {
            return Err(incomplete(cur.here(), wants));
        };
        cur.bump();
        if let Some(first) = all.iter().find(|one| one.letter == letter) {
            let what = What::Tried(TryTrouble::LetterTwice(cur.span(first.at)));
            return Err(Trouble { span: cur.span(at), what });
        }
        let mut words = Vec::new();
        while let Some(word) = cur.peek().filter(|word| !ends(cur, *word)) {
            words.push(word);
            cur.bump();
        }
        if words.is_empty() {
            return Err(incomplete(cur.here(), wants));
        }
        all.push(Typed { letter, at, words });
        if !cur.take_comma() {
            return Ok(all);
        }
    }
}

/// A unit covers the bare numbers before it: a setting that ends in a number has the words that stand behind the next one's.
fn lend_units(all: &mut [Typed]) {
    let mut lent: Vec<Word> = Vec::new();
    for one in all.iter_mut().rev() {
        let number = |word: &Word| matches!(word.shape, Shape::Number | Shape::Ratio | Shape::Tolerance);
        match one.words.iter().rposition(number) {
            Some(last) if last + 1 == one.words.len() => one.words.extend(&lent),
            Some(last) => lent = one.words.get(last + 1..).unwrap_or_default().to_vec(),
            None => {}
        }
    }
}

/// `order A B A B A`: the settings of the runs.
fn order(cur: &mut Cursor<'_>, typed: &[Typed]) -> Result<(Vec<usize>, Span), Trouble> {
    let wants = "`order` and the letters of the runs, such as `order A B A B A`";
    if !cur.take_keyword(ORDER) {
        return Err(incomplete(cur.here(), wants));
    }
    let mut order = Vec::new();
    let mut span: Option<Span> = None;
    while let Some((word, letter)) = cur.peek().and_then(|word| Some((word, letter(cur, word)?))) {
        let here = cur.span(word);
        let Some(level) = typed.iter().position(|one| one.letter == letter) else {
            let known = typed.iter().map(|one| one.letter).collect();
            return Err(Trouble { span: here, what: What::Tried(TryTrouble::LetterUnknown(known)) });
        };
        order.push(level);
        span = Some(span.map_or(here, |span| span.to(here)));
        cur.bump();
        cur.take_comma();
    }
    let Some(span) = span else { return Err(incomplete(cur.here(), wants)) };
    if let Some((_, unused)) = typed.iter().enumerate().find(|(level, _)| !order.contains(level)) {
        let what = What::Tried(TryTrouble::LetterUnused(unused.letter));
        return Err(Trouble { span, what });
    }
    Ok((order, span))
}
