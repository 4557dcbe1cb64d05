//! The resolved model: what a book declares and what its dated blocks say, with typed ids.
//!
//! Must not know rendering, nor what was true before an entry (that is `history`). Nothing here stops at a mistake:
//! it becomes a [`Trouble`] and the rest is read.

pub mod alike;
pub mod calendar;
pub mod clauses;
pub mod dates;
pub mod declare;
pub mod due_dates;
pub mod entry;
pub mod figure;
pub mod model;
pub mod names;
pub mod phrases;
pub mod place;
mod read;
mod single;
mod spread;
pub mod sums;
pub mod telling;
pub mod trouble;
mod values;

use crate::source::{Files, LoadTrouble, Span};
use crate::syntax::{Chunk, Tree};
use crate::vocabulary::Vocabulary;
pub use clauses::CLAUSES;
pub use declare::BuiltIn;
use entry::{Entry, EntryId, Extra, ExtraId, Head, HeadId, Item, ItemId, Run, RunId};
use model::{
    Amount, Baseline, BaselineId, Car, CarId, Circuit, CircuitId, Client, ClientId, Event, EventId, Exchange,
    Gauge, GaugeId, Job, JobId, Kind, KindId, Named, Part, PartId, Person, PersonId, Rule, RuleId, Shop,
    Spec, SpecId,
};
use names::Names;
use place::Place;
use rayon::prelude::*;
use rustc_hash::FxHashMap;
pub use trouble::{Trouble, What};
use typed_index_collections::TiVec;
pub use values::ends_values;

/// A whole book. It holds spans, not text; keep the [`Files`] beside it.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// The shop.
    pub shop: Shop,
    /// People.
    pub people: TiVec<PersonId, Person>,
    /// Clients.
    pub clients: TiVec<ClientId, Client>,
    /// Circuits.
    pub circuits: TiVec<CircuitId, Circuit>,
    /// Events.
    pub events: TiVec<EventId, Event>,
    /// Gauges.
    pub gauges: TiVec<GaugeId, Gauge>,
    /// Cars.
    pub cars: TiVec<CarId, Car>,
    /// Kinds of part.
    pub kinds: TiVec<KindId, Kind>,
    /// Specs.
    pub specs: TiVec<SpecId, Spec>,
    /// Parts.
    pub parts: TiVec<PartId, Part>,
    /// Rates of exchange, in file order.
    pub exchanges: Vec<Exchange>,
    /// Named setups.
    pub baselines: TiVec<BaselineId, Baseline>,
    /// Class rules.
    pub rules: TiVec<RuleId, Rule>,
    /// Jobs, in the order of the text.
    pub jobs: TiVec<JobId, Job>,
    /// Quantities, built in and the book's own.
    pub vocabulary: Vocabulary,
    /// Figures, built in and the book's own.
    pub figures: figure::Figures,
    /// Every declared name.
    pub names: Names,
    /// Dated heads in file order.
    pub heads: TiVec<HeadId, Head>,
    /// Which of them are about each car.
    pub(crate) of_car: TiVec<CarId, Vec<HeadId>>,
    /// The specs of each kind.
    pub(crate) specs_of: TiVec<KindId, Vec<SpecId>>,
    /// Entries in file order.
    pub entries: TiVec<EntryId, Entry>,
    /// Their values.
    pub items: TiVec<ItemId, Item>,
    /// What some say beyond their values.
    pub extras: TiVec<ExtraId, Extra>,
    /// Sessions as typed, in file order.
    pub runs: TiVec<RunId, Run>,
    /// The offsets typed behind clock times that come twice.
    pub offsets: FxHashMap<EntryId, dates::Offsets>,
    /// What is wrong with lines so far.
    pub troubles: Vec<Trouble>,
    /// What is wrong with the book as a whole: files that could not be read, or nothing in it. Each at [`Span::BOOK`].
    pub missing: Vec<Trouble>,
}

/// Chunks read between two joins: enough to keep all cores busy.
const WAVE: usize = 96;

/// Compiles a tree into a book. Takes the tree, so that its words are freed as they are read.
#[must_use]
pub fn compile(files: &Files, tree: Tree, load: Vec<LoadTrouble>) -> Book {
    let BuiltIn { vocabulary, figures, .. } = built_in();
    let mut book = Book { vocabulary: vocabulary.clone(), figures: figures.clone(), ..Book::default() };
    for trouble in load {
        match &trouble {
            LoadTrouble::NotUtf8 { span, .. } => book.trouble(*span, What::Load(trouble)),
            LoadTrouble::Unreadable { .. } | LoadTrouble::Loop { .. } => {
                book.missing.push(Trouble { span: Span::BOOK, what: What::Load(trouble) });
            }
        }
    }
    for chunk in &tree.chunks {
        for trouble in &chunk.troubles {
            book.trouble(trouble.span, What::Syntax(trouble.mistake));
        }
    }
    declare::declare(&mut book, files, &tree.chunks);
    // A wave at a time: what a wave took is free again for the next, so the peak is the book and one wave.
    let mut chunks = tree.chunks.into_iter();
    loop {
        let wave: Vec<Chunk> = chunks.by_ref().take(WAVE).collect();
        if wave.is_empty() {
            break;
        }
        let parts: Vec<read::Part> = {
            let book = &book;
            wave.into_par_iter().map(|chunk: Chunk| read::read_chunk(book, files, &chunk)).collect()
        };
        read::append(&mut book, parts);
    }
    if !book.names.refused.is_empty() {
        let refused = std::mem::take(&mut book.names.refused);
        book.troubles.retain(|trouble| {
            !(matches!(trouble.what, What::NameUnknown { .. })
                && refused.contains(names::folded(files.text(trouble.span)).as_str()))
        });
    }
    book.index_heads();
    book.specs_of = vec![Vec::new(); book.kinds.len()].into();
    for (id, spec) in (0..).map(SpecId::new).zip(&book.specs) {
        if let Some(list) = book.specs_of.get_mut(spec.kind) {
            list.push(id);
        }
    }
    if book.heads.is_empty() && book.cars.is_empty() && book.troubles.is_empty() && book.missing.is_empty() {
        book.missing.push(Trouble { span: Span::BOOK, what: What::EmptyBook });
    }
    book
}

/// The built-in vocabulary and figures, read once; its troubles are empty, as a test asserts.
pub fn built_in() -> &'static BuiltIn {
    static BUILT_IN: std::sync::OnceLock<BuiltIn> = std::sync::OnceLock::new();
    BUILT_IN.get_or_init(declare::read_built_in)
}

/// Whether a word opens a clause of an entry, a fact of a head or a session, or a property of a declaration.
#[must_use]
pub fn opens(word: &str) -> bool {
    clauses::is_clause(word)
        || declare::is_property(word)
        || declare::LINES_WITH_FACTS.iter().any(|of| declare::is_name_of(of, word))
        || ["best", "laps", "written"].iter().any(|fact| word.eq_ignore_ascii_case(fact))
}

impl Book {
    /// Notes which blocks are about which car, once all are there.
    pub(crate) fn index_heads(&mut self) {
        self.of_car = vec![Vec::new(); self.cars.len()].into();
        for (at, head) in self.heads.iter_enumerated() {
            if let Some(list) = head.car.and_then(|car| self.of_car.get_mut(car)) {
                list.push(at);
            }
        }
    }

    /// Notes a mistake.
    pub fn trouble(&mut self, span: Span, what: What) {
        self.troubles.push(Trouble { span, what });
    }

    /// The dated heads about a car, in file order.
    pub fn heads_of(&self, car: CarId) -> impl Iterator<Item = &Head> {
        let list = self.of_car.get(car).map_or(&[][..], Vec::as_slice);
        list.iter().filter_map(|at| self.heads.get(*at))
    }

    /// The specs of a kind, in the order they are declared.
    pub fn specs_of(&self, kind: KindId) -> impl Iterator<Item = (SpecId, &Spec)> {
        let list = self.specs_of.get(kind).map_or(&[][..], Vec::as_slice);
        list.iter().filter_map(|id| Some((*id, self.specs.get(*id)?)))
    }

    /// What an entry says beyond its values.
    #[must_use]
    pub fn extra(&self, entry: &Entry) -> Option<&Extra> {
        self.extras.get(entry.extra?)
    }

    /// An entry's values.
    #[must_use]
    pub fn items_of(&self, entry: &Entry) -> &[Item] {
        let first = entry.items.index();
        self.items.raw.get(first..first + entry.item_count as usize).unwrap_or_default()
    }

    /// A part's kind, where it could be read.
    #[must_use]
    pub fn kind_of(&self, part: PartId) -> Option<&Kind> {
        self.kinds.get(self.parts.get(part)?.kind?)
    }

    /// The limits of a part's life, and the name of the spec or the kind that states them; a spec's own outrank the kind's.
    #[must_use]
    pub fn limits(&self, part: PartId) -> (&[Amount], &str) {
        let Some(part) = self.parts.get(part) else { return (&[], "") };
        self.limits_of(part.kind, part.spec)
    }

    /// The same for a part of that kind and spec.
    #[must_use]
    pub fn limits_of(&self, kind: impl Into<Option<KindId>>, spec: Option<SpecId>) -> (&[Amount], &str) {
        let spec = spec.and_then(|spec| self.specs.get(spec));
        if let Some(spec) = spec.filter(|spec| !spec.life.is_empty()) {
            return (&spec.life, &spec.named.typed);
        }
        kind.into()
            .and_then(|kind| self.kinds.get(kind))
            .map_or((&[], ""), |kind| (&kind.life, &kind.named.typed))
    }

    /// A place as typed in a ledger.
    #[must_use]
    pub fn place_word(&self, place: Place) -> String {
        place.word(&self.names.positions)
    }

    /// The head an entry stands under.
    #[must_use]
    pub fn head(&self, entry: &Entry) -> Option<&Head> {
        self.heads.get(entry.head)
    }

    /// The session an entry states, for `run`.
    #[must_use]
    pub fn run(&self, entry: &Entry) -> Option<&Run> {
        if entry.verb == entry::Verb::Run { self.runs.get(entry.run()?) } else { None }
    }

    /// Entries that belong to the entry at `index`: those directly under it, in order.
    pub fn under(&self, index: EntryId) -> impl Iterator<Item = (EntryId, &Entry)> {
        let head = self.entries.get(index).map(|entry| entry.head);
        self.entries
            .iter_enumerated()
            .skip(index.index() + 1)
            .take_while(move |(_, entry)| {
                // What belongs to it stands right below it.
                Some(entry.head) == head && entry.parent.is_some_and(|parent| parent >= index)
            })
            .filter(move |(_, entry)| entry.parent == Some(index))
    }
}
