//! One table of every name a book declares, and the nearest to one that it does not.
//!
//! Must not know what the things do.

use super::alike;
use super::model::{
    BaselineId, CarId, CircuitId, ClientId, EventId, GaugeId, JobId, KindId, OutfitId, PartId, PersonId,
    RuleId, SpecId,
};
use super::place::Place;
pub use crate::book::folded::folded;
use crate::source::Span;
use rustc_hash::FxHashMap;
use std::borrow::Cow;
use std::collections::{BTreeMap, BTreeSet};
use unicode_normalization::char::is_combining_mark;
use unicode_normalization::{UnicodeNormalization as _, is_nfc};

/// What a name stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Thing {
    /// A car.
    Car(CarId),
    /// A kind of part.
    Kind(KindId),
    /// A part.
    Part(PartId),
    /// A person.
    Person(PersonId),
    /// A client.
    Client(ClientId),
    /// A circuit.
    Circuit(CircuitId),
    /// An event.
    Event(EventId),
    /// A gauge.
    Gauge(GaugeId),
    /// A named setup.
    Baseline(BaselineId),
    /// Parts and settings that go on together.
    Outfit(OutfitId),
    /// A class rule.
    Rule(RuleId),
    /// A position that a kind declares.
    Position(Place),
    /// A job, named by the line that opens it.
    Job(JobId),
}

impl Thing {
    /// The word for messages.
    #[must_use]
    pub const fn sort(self) -> &'static str {
        match self {
            Self::Car(_) => "car",
            Self::Kind(_) => "kind of part",
            Self::Part(_) => "part",
            Self::Person(_) => "person",
            Self::Client(_) => "client",
            Self::Circuit(_) => "circuit",
            Self::Event(_) => "event",
            Self::Gauge(_) => "gauge",
            Self::Baseline(_) => "baseline",
            Self::Outfit(_) => "outfit",
            Self::Rule(_) => "rule",
            Self::Position(_) => "position",
            Self::Job(_) => "job",
        }
    }
}

/// Every declared name.
#[derive(Debug, Clone, Default)]
pub struct Names {
    things: FxHashMap<Box<str>, (Thing, Span)>,
    /// Specs belong to their kind: two kinds may each have a `std`.
    specs: FxHashMap<(KindId, Box<str>), (SpecId, Span)>,
    /// Declared positions in order of first use.
    pub positions: Vec<Box<str>>,
    /// Names (lower case) whose declaration was refused: it has its message, and their users must not have another.
    pub refused: BTreeSet<Box<str>>,
    /// The same of quantities and figures: the name alone.
    pub refused_quantities: BTreeSet<Box<str>>,
    /// Positions that share their name with a kind of part: where a kind is wanted the kind is meant, where a place the place.
    beside_kinds: FxHashMap<Box<str>, Place>,
    /// By client, the same one as a person: clients drive their own cars.
    pub client_people: Vec<PersonId>,
    /// Names in order of declaration, for did-you-mean.
    order: Vec<(Box<str>, Thing)>,
}

/// Calls `f` with the text as names are compared, without allocating for ASCII in lower case.
pub fn lowered<R>(text: &str, f: impl FnOnce(&str) -> R) -> R {
    if text.bytes().all(|byte| byte.is_ascii() && !byte.is_ascii_uppercase()) {
        return f(text);
    }
    f(&folded(text))
}

/// A word as it is shown: as typed, but composed.
#[must_use]
pub fn composed(text: &str) -> Cow<'_, str> {
    if text.is_ascii() || is_nfc(text) { Cow::Borrowed(text) } else { Cow::Owned(text.nfc().collect()) }
}

/// Whether two words are the same name.
#[must_use]
pub fn same(a: &str, b: &str) -> bool {
    a.eq_ignore_ascii_case(b) || !(a.is_ascii() && b.is_ascii()) && folded(a) == folded(b)
}

/// Whether a character is a mark on the letter before it, such as an accent.
#[must_use]
pub fn is_mark(c: char) -> bool {
    !c.is_ascii() && is_combining_mark(c) && !crate::visible::hides(c)
}

/// Whether a name may have this character, wherever it stands: letters and digits, `-` and `.`.
fn is_letter(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '-' | '.')
}

/// Whether a word may be a name: letters and digits, with `-` and `.`, and marks on letters.
#[must_use]
pub fn is_name(text: &str) -> bool {
    text.chars().all(|c| is_letter(c) || is_mark(c)) && text.chars().next().is_some_and(is_letter)
}

impl Names {
    /// Declares a name (lower case).
    ///
    /// # Errors
    /// Where the name was declared first; the first stands.
    pub fn add(&mut self, name: &str, thing: Thing, at: Span) -> Result<(), Span> {
        if let Some((_, first)) = self.things.get(name) {
            return Err(*first);
        }
        self.things.insert(name.into(), (thing, at));
        self.order.push((name.into(), thing));
        Ok(())
    }

    /// Notes the words of a declaration that was refused: one of them is the name that its users mean.
    pub fn refuse(&mut self, line: &str) {
        let line = composed(line);
        let words = line.split(|each: char| !(is_letter(each) || is_mark(each)));
        let names = words.filter(|word| word.starts_with(char::is_alphabetic) && word.len() < 64);
        self.refused.extend(names.take(32).map(|word| Box::from(folded(word))));
    }

    /// Declares a spec of a kind.
    ///
    /// # Errors
    /// Where the kind's spec of that name was declared first.
    pub fn add_spec(&mut self, kind: KindId, name: &str, spec: SpecId, at: Span) -> Result<(), Span> {
        if let Some((_, first)) = self.specs.get(&(kind, name.into())) {
            return Err(*first);
        }
        self.specs.insert((kind, name.into()), (spec, at));
        Ok(())
    }

    /// Every name but those of specs, in order of declaration, with what it stands for and where it is declared.
    pub fn all(&self) -> impl Iterator<Item = (&str, Thing, Span)> {
        self.order.iter().filter_map(|(name, thing)| {
            let (_, at) = self.things.get(name)?;
            Some((&**name, *thing, *at))
        })
    }

    /// What the word stands for, whatever its capitals.
    #[must_use]
    pub fn find(&self, word: &str) -> Option<Thing> {
        lowered(word, |name| self.things.get(name).map(|(thing, _)| *thing))
    }

    /// Where the word is declared.
    #[must_use]
    pub fn declared(&self, word: &str) -> Option<Span> {
        lowered(word, |name| self.things.get(name).map(|(_, at)| *at))
    }

    /// A kind's spec.
    #[must_use]
    pub fn spec(&self, kind: KindId, word: &str) -> Option<SpecId> {
        lowered(word, |name| self.specs.get(&(kind, name.into())).map(|(spec, _)| *spec))
    }

    /// A position's place, declared on first use.
    ///
    /// # Errors
    /// What the word stands for already, if it is no position.
    pub fn position(&mut self, word: &str, at: Span) -> Result<Place, Thing> {
        match self.find(word) {
            Some(Thing::Position(place)) => Ok(place),
            Some(Thing::Kind(_)) => {
                let name = folded(word);
                if let Some(place) = self.beside_kinds.get(name.as_str()) {
                    return Ok(*place);
                }
                let place = Place::position(self.positions.len() as u16);
                self.positions.push(name.as_str().into());
                self.beside_kinds.insert(name.into(), place);
                Ok(place)
            }
            Some(other) => Err(other),
            None => {
                let place = Place::position(self.positions.len() as u16);
                let name = folded(word);
                self.positions.push(name.as_str().into());
                self.things.insert(name.as_str().into(), (Thing::Position(place), at));
                self.order.push((name.into(), Thing::Position(place)));
                Ok(place)
            }
        }
    }

    /// The place that a word names: a standard one or a declared position.
    #[must_use]
    pub fn place(&self, word: &str) -> Option<Place> {
        Place::parse(word).or_else(|| {
            if self.positions.is_empty() {
                return None;
            }
            match self.find(word) {
                Some(Thing::Position(place)) => Some(place),
                Some(Thing::Kind(_)) => lowered(word, |name| self.beside_kinds.get(name).copied()),
                _ => None,
            }
        })
    }

    /// The person that a name after `by` stands for: a person, or a client at the wheel.
    #[must_use]
    pub fn person(&self, thing: Thing) -> Option<PersonId> {
        match thing {
            Thing::Person(id) => Some(id),
            Thing::Client(id) => self.client_people.get(id.index()).copied(),
            _ => None,
        }
    }

    /// The names as a reader may have them: none that is not his is ever suggested, and positions are masked where they name
    /// somebody. What he asks for is still found under its own name, and under the masked one where only one thing has that.
    pub fn cut(&mut self, keeps: impl Fn(Thing) -> bool, mask: impl Fn(&str) -> String) {
        let Self {
            things,
            specs: _,
            positions,
            refused,
            refused_quantities,
            beside_kinds: _,
            client_people: _,
            order,
        } = self;
        for name in positions {
            *name = mask(name).into();
        }
        refused.clear();
        refused_quantities.clear();
        let mut masked: BTreeMap<Box<str>, Vec<(Thing, Span)>> = BTreeMap::new();
        order.retain(|(name, thing)| {
            let shown = mask(name);
            if keeps(*thing) && shown != **name {
                let at = things.get(name).map_or(Span::default(), |(_, at)| *at);
                masked.entry(shown.as_str().into()).or_default().push((*thing, at));
            }
            keeps(*thing) && shown == **name
        });
        for (name, list) in masked {
            if let [one] = list.as_slice() {
                things.entry(name).or_insert(*one);
            }
        }
    }

    /// The nearest declared name of a wanted sort.
    #[must_use]
    pub fn near(&self, word: &str, wanted: impl Fn(Thing) -> bool) -> Option<String> {
        let names = self.order.iter().filter(|(_, thing)| wanted(*thing)).map(|(name, _)| &**name);
        nearest(word, names)
    }

    /// A declared name of a wanted sort that may be meant, where several are as near the first of them: for what is then in doubt.
    #[must_use]
    pub fn near_any(&self, word: &str, wanted: impl Fn(Thing) -> bool) -> Option<String> {
        let names = self.order.iter().filter(|(_, thing)| wanted(*thing)).map(|(name, _)| &**name);
        near_any(word, names)
    }

    /// What is declared of a wanted sort under names that are near enough to be meant.
    #[must_use]
    pub fn all_near(&self, word: &str, wanted: impl Fn(Thing) -> bool) -> Vec<Thing> {
        let Some(slip) = Slip::new(word) else { return Vec::new() };
        let names = self.order.iter().filter(|(_, thing)| wanted(*thing));
        names.filter(|(name, _)| slip.of(name).is_some()).map(|(_, thing)| *thing).collect()
    }
}

/// A word that is no name, to be held against names.
#[derive(Debug)]
struct Slip {
    word: String,
    /// What looks the same is meant, however many of its letters are of another alphabet.
    look: Option<String>,
    allowed: usize,
}

impl Slip {
    /// `None` for a word that is too long to be one.
    fn new(word: &str) -> Option<Self> {
        let word = folded(word);
        let length = word.chars().count();
        let look = (!word.is_ascii()).then(|| alike::skeleton(&word));
        (length <= 64).then_some(Self { word, look, allowed: if length <= 5 { 1 } else { 2 } })
    }

    /// By how many slips it is that name, if it is near enough to be meant: one in a word of up to five letters, two in a longer one; none
    /// where the two look the same.
    fn of(&self, name: &str) -> Option<usize> {
        if self.look.as_ref().is_some_and(|look| *look == alike::skeleton(name)) {
            return Some(0);
        }
        if name.len().abs_diff(self.word.len()) > self.allowed * 2 {
            return None;
        }
        let plain = name.bytes().any(|letter| letter.is_ascii_uppercase()).then(|| folded(name));
        let slips = strsim::osa_distance(&self.word, plain.as_deref().unwrap_or(name));
        (slips <= self.allowed).then_some(slips)
    }
}

/// The nearest of some words, where one is nearest, if it is near enough to be meant.
pub fn nearest<'a>(word: &str, among: impl Iterator<Item = &'a str>) -> Option<String> {
    near(word, among).filter(|(_, alone)| *alone).map(|(name, _)| name)
}

/// The same, of several that are as near the first.
pub fn near_any<'a>(word: &str, among: impl Iterator<Item = &'a str>) -> Option<String> {
    near(word, among).map(|(name, _)| name)
}

/// The nearest, and whether no other is as near.
fn near<'a>(word: &str, among: impl Iterator<Item = &'a str>) -> Option<(String, bool)> {
    let slip = Slip::new(word)?;
    let mut best: Option<(usize, &str)> = None;
    let mut alone = true;
    for (slips, name) in among.filter_map(|name| Some((slip.of(name)?, name))) {
        match best {
            Some((least, known)) if slips == least => alone &= slips == 0 || known == name,
            Some((least, _)) if slips > least => {}
            _ => (best, alone) = (Some((slips, name)), true),
        }
    }
    best.map(|(_, name)| (name.to_owned(), alone))
}
