//! Finds a unit by its spelling and the kind of quantity wanted.
//!
//! Knows spellings. It must not know numbers, cars or messages. A spelling may belong to units of several
//! kinds (`min`, `g`, `C`, `lb`); the kind wanted decides.

use super::kind::DimensionId;
use super::load;
use super::unit::{Unit, UnitId};
use crate::ids::Arena;
pub(super) use crate::units::plain::PLAIN;
use rustc_hash::FxHashMap;
use std::sync::OnceLock;

/// No spelling is longer; a longer word is not looked at.
const LONGEST: usize = 32;

/// What a spelling turned out to be.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Found {
    /// One unit of the kind wanted.
    One(UnitId),
    /// Several units of the kind wanted (`gal`): name them and ask.
    Ambiguous(Vec<UnitId>),
    /// A unit, but of other kinds.
    WrongKind(Vec<UnitId>),
    /// Not a unit.
    Unknown,
}

/// All units and their spellings.
#[derive(Debug)]
pub struct UnitTable {
    units: Arena<UnitId, Unit>,
    /// Spellings as written.
    exact: FxHashMap<Box<str>, Vec<UnitId>>,
    /// Spellings in small letters.
    loose: FxHashMap<Box<str>, Vec<UnitId>>,
    /// Spellings of the file, in its order, for suggestions.
    pub(super) spellings: Vec<(&'static str, UnitId)>,
    pub(super) hints: Vec<(&'static str, DimensionId, &'static str)>,
    faults: Vec<String>,
    plain: UnitId,
}

/// The unit table, read once.
pub fn table() -> &'static UnitTable {
    static TABLE: OnceLock<UnitTable> = OnceLock::new();
    TABLE.get_or_init(|| UnitTable::new(include_str!("table.txt")))
}

impl UnitTable {
    fn new(text: &'static str) -> Self {
        let loaded = load::load(text);
        let mut table = Self {
            units: Arena::new(),
            exact: FxHashMap::default(),
            loose: FxHashMap::default(),
            spellings: Vec::new(),
            hints: loaded.hints,
            faults: loaded.faults,
            plain: UnitId::new(0),
        };
        for (unit, spellings) in loaded.units {
            let id = UnitId::from(table.units.len());
            if unit.symbol == PLAIN {
                table.plain = id;
            }
            table.units.push(unit);
            for spelling in spellings {
                table.spellings.push((spelling, id));
                for variant in variants(spelling) {
                    insert(&mut table.loose, variant.to_ascii_lowercase(), id);
                    insert(&mut table.exact, variant, id);
                }
            }
        }
        table
    }

    /// What is known about a unit.
    #[must_use]
    pub fn unit(&self, id: UnitId) -> &Unit {
        // An id is only made by this table, of which there is one.
        &self.units[id]
    }

    /// All units, in the order of the file; the weights that units of mass stand for come last.
    pub fn all(&self) -> impl Iterator<Item = (UnitId, &Unit)> {
        self.units.iter_enumerated()
    }

    /// The spellings of a unit as the file gives them, in its order; for the page of units.
    pub fn spellings_of(&self, id: UnitId) -> impl Iterator<Item = &'static str> {
        self.spellings.iter().filter(move |(_, owner)| *owner == id).map(|(spelling, _)| *spelling)
    }

    /// Lines of the table that could not be read; none, as a test asserts.
    #[must_use]
    pub fn faults(&self) -> &[String] {
        &self.faults
    }

    /// The unit of a number that needs none (factor 1); see [`super::Dimension::bare`].
    #[must_use]
    pub fn plain(&self) -> UnitId {
        self.plain
    }

    /// The unit that `spelling` means where `wanted` is asked for: as typed first, then without regard to
    /// capitals.
    #[must_use]
    pub fn find(&self, spelling: &str, wanted: DimensionId) -> Found {
        let exact = self.exact.get(spelling).map_or(&[][..], Vec::as_slice);
        if let Some(found) = self.among(exact, wanted) {
            return found;
        }
        let mut buffer = [0; LONGEST];
        let loose = self.loosely(spelling, &mut buffer);
        if let Some(found) = self.among(loose, wanted) {
            return found;
        }
        let mut others = self.without_weights(exact);
        if others.is_empty() {
            others = self.without_weights(loose);
        }
        if others.is_empty() { Found::Unknown } else { Found::WrongKind(others) }
    }

    /// The unit of exactly that kind, if the spelling means one.
    #[must_use]
    pub fn find_one(&self, spelling: &str, wanted: DimensionId) -> Option<UnitId> {
        let exact = self.exact.get(spelling).map_or(&[][..], Vec::as_slice);
        let mut buffer = [0; LONGEST];
        let found =
            self.among(exact, wanted).or_else(|| self.among(self.loosely(spelling, &mut buffer), wanted));
        match found {
            Some(Found::One(id)) => Some(id),
            _ => None,
        }
    }

    /// Whether the word is a spelling of any unit, as typed.
    #[must_use]
    pub fn knows(&self, spelling: &str) -> bool {
        self.exact.contains_key(spelling)
    }

    /// The answer among candidates; the first kind accepted that has any wins.
    fn among(&self, candidates: &[UnitId], wanted: DimensionId) -> Option<Found> {
        if candidates.is_empty() {
            return None;
        }
        for &kind in wanted.get().accepts {
            let mut hits = candidates.iter().copied().filter(|id| self.unit(*id).kind == kind);
            let Some(first) = hits.next() else { continue };
            let Some(second) = hits.next() else { return Some(Found::One(first)) };
            return Some(Found::Ambiguous([first, second].into_iter().chain(hits).collect()));
        }
        None
    }

    fn loosely(&self, spelling: &str, buffer: &mut [u8; LONGEST]) -> &[UnitId] {
        let Some(small) = buffer.get_mut(..spelling.len()) else { return &[] };
        small.copy_from_slice(spelling.as_bytes());
        small.make_ascii_lowercase();
        let Ok(small) = std::str::from_utf8(small) else { return &[] };
        self.loose.get(small).map_or(&[][..], Vec::as_slice)
    }

    fn without_weights(&self, candidates: &[UnitId]) -> Vec<UnitId> {
        candidates.iter().copied().filter(|id| !self.unit(*id).stands_for_weight).collect()
    }
}

fn insert(map: &mut FxHashMap<Box<str>, Vec<UnitId>>, spelling: String, id: UnitId) {
    let ids = map.entry(spelling.into_boxed_str()).or_default();
    if !ids.contains(&id) {
        ids.push(id);
    }
}

/// The spellings that stand for one of the file: `.` as `·`, `⋅`, `*` or `-`; a power as `²` or `^2`.
fn variants(spelling: &str) -> Vec<String> {
    let mut out = vec![spelling.to_owned()];
    if spelling.contains('.') {
        out.extend(["·", "⋅", "*", "-"].map(|dot| spelling.replace('.', dot)));
    }
    for form in [raise(spelling, false), raise(spelling, true)].into_iter().flatten() {
        out.push(form);
    }
    out
}

/// `cm2` as `cm^2` or `cm²`: a 2 or 3 after a letter, at the end or before a `/`. `None` if there is none.
fn raise(spelling: &str, caret: bool) -> Option<String> {
    let mut out = String::new();
    let mut changed = false;
    let mut before = ' ';
    let mut letters = spelling.chars().peekable();
    while let Some(c) = letters.next() {
        let power =
            matches!(c, '2' | '3') && before.is_alphabetic() && matches!(letters.peek(), None | Some('/'));
        match (power, caret, c) {
            (true, true, _) => out.extend(['^', c]),
            (true, false, '2') => out.push('²'),
            (true, false, _) => out.push('³'),
            (false, _, _) => out.push(c),
        }
        changed |= power;
        before = c;
    }
    changed.then_some(out)
}
