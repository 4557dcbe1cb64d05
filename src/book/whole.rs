//! A book: declarations and entries, resolved to typed ids.
//!
//! Must not know how a line is read.

use crate::book::correction::Correction;
use crate::book::dates::Offsets;
use crate::book::entry::{Entry, EntryId, Extra, ExtraId, Head, HeadId, Item, ItemId, Run, RunId, Verb};
use crate::book::meaning::Meanings;
use crate::book::model::{
    Baseline, BaselineId, Car, CarId, Circuit, CircuitId, Class, ClassId, Client, ClientId, Event, EventId,
    Exchange, Gauge, GaugeId, Job, JobId, Kind, KindId, LifeAmount, Outfit, OutfitId, Part, PartId, Person,
    PersonId, Rule, RuleId, Shop, Spec, SpecId,
};
use crate::book::names::{Names, Thing};
use crate::book::place::Place;
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::VerbGroup;
use crate::ids::Arena;
use crate::source::Span;
use crate::vocabulary::Vocabulary;
use rustc_hash::FxHashMap;

/// A whole book. It holds spans, not text; keep the [`Files`] beside it.
#[derive(Debug, Clone, Default)]
pub struct Book {
    /// The shop.
    pub shop: Shop,
    /// People.
    pub people: Arena<PersonId, Person>,
    /// Clients.
    pub clients: Arena<ClientId, Client>,
    /// Circuits.
    pub circuits: Arena<CircuitId, Circuit>,
    /// Events.
    pub events: Arena<EventId, Event>,
    /// Gauges.
    pub gauges: Arena<GaugeId, Gauge>,
    /// Cars.
    pub cars: Arena<CarId, Car>,
    /// Kinds of part.
    pub kinds: Arena<KindId, Kind>,
    /// Specs.
    pub specs: Arena<SpecId, Spec>,
    /// Parts.
    pub parts: Arena<PartId, Part>,
    /// Rates of exchange, in file order.
    pub exchanges: Vec<Exchange>,
    /// Those with a mistake: which rate was meant is not known.
    pub lost_rates: Vec<crate::money::exchange::LostRate>,
    /// Properties of declarations that could not be read.
    pub unread: crate::book::lost::Unread,
    /// Named setups.
    pub baselines: Arena<BaselineId, Baseline>,
    /// Classes that say what is normal in them.
    pub classes: Arena<ClassId, Class>,
    /// Parts and settings that go on together.
    pub outfits: Arena<OutfitId, Outfit>,
    /// Class rules.
    pub rules: Arena<RuleId, Rule>,
    /// Jobs, in the order of the text.
    pub jobs: Arena<JobId, Job>,
    /// Quantities, built in and the book's own.
    pub vocabulary: Vocabulary,
    /// Figures, built in and the book's own.
    pub figures: crate::book::figure::Figures,
    /// What the shop says that words of a driver mean.
    pub meanings: Meanings,
    /// Every declared name.
    pub names: Names,
    /// Dated heads in file order.
    pub heads: Arena<HeadId, Head>,
    /// Which of them are about each car.
    pub(crate) of_car: Arena<CarId, Vec<HeadId>>,
    /// The specs of each kind.
    pub(crate) specs_of: Arena<KindId, Vec<SpecId>>,
    /// Entries in file order.
    pub entries: Arena<EntryId, Entry>,
    /// Their values.
    pub items: Arena<ItemId, Item>,
    /// Of heads that name no car that there is, the cars that they may be about: see [`Book::may_be_of`].
    pub meant: FxHashMap<HeadId, Vec<CarId>>,
    /// What some say beyond their values.
    pub extras: Arena<ExtraId, Extra>,
    /// Sessions as typed, in file order.
    pub runs: Arena<RunId, Run>,
    /// The offsets typed behind clock times that come twice.
    pub offsets: FxHashMap<EntryId, Offsets>,
    /// What `correct` lines put right, by the value: found once the order of lines is known.
    pub corrections: FxHashMap<ItemId, Correction>,
    /// What is wrong with lines so far.
    pub troubles: Vec<Trouble>,
    /// What is wrong with the book as a whole: files that could not be read, or nothing in it. Each at [`Span::BOOK`].
    pub missing: Vec<Trouble>,
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
        self.items.within(entry.items..entry.items.plus(entry.item_count.into()))
    }

    /// The further numbers of the value at an item of a line, where it is a pair or a triple.
    pub fn further(&self, at: ItemId) -> impl Iterator<Item = &Item> {
        self.items.within(at.plus(1)..).iter().take_while(|item| item.is_further())
    }

    /// A part's kind, where it could be read.
    #[must_use]
    pub fn kind_of(&self, part: PartId) -> Option<&Kind> {
        self.kinds.get(self.parts.get(part)?.kind?)
    }

    /// The limits of a part's life, and the name of the spec or the kind that states them; a spec's own outrank the kind's.
    #[must_use]
    pub fn limits(&self, part: PartId) -> (&[LifeAmount], &str) {
        let Some(part) = self.parts.get(part) else { return (&[], "") };
        self.limits_of(part.kind, part.spec)
    }

    /// Whether something that limits its life stands in a declaration that could not be read.
    #[must_use]
    pub fn limits_lost(&self, part: PartId) -> bool {
        let Some(part) = self.parts.get(part) else { return false };
        let spec = part.spec.and_then(|spec| self.specs.get(spec));
        let own = part.lost.life || spec.is_some_and(|spec| spec.lost.life);
        let outranked = spec.is_some_and(|spec| !spec.life.is_empty());
        let kind = part.kind.and_then(|kind| self.kinds.get(kind)).filter(|_| !outranked);
        own || kind.is_some_and(|kind| kind.lost.life)
    }

    /// The same for a part of that kind and spec.
    #[must_use]
    pub fn limits_of(&self, kind: impl Into<Option<KindId>>, spec: Option<SpecId>) -> (&[LifeAmount], &str) {
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

    /// The name of a thing as it is typed where it is declared.
    #[must_use]
    pub fn typed(&self, thing: Thing) -> Option<&str> {
        let named = match thing {
            Thing::Car(id) => &self.cars.get(id)?.named,
            Thing::Kind(id) => &self.kinds.get(id)?.named,
            Thing::Part(id) => &self.parts.get(id)?.named,
            Thing::Person(id) => &self.people.get(id)?.named,
            Thing::Client(id) => &self.clients.get(id)?.named,
            Thing::Circuit(id) => &self.circuits.get(id)?.named,
            Thing::Event(id) => &self.events.get(id)?.named,
            Thing::Gauge(id) => &self.gauges.get(id)?.named,
            Thing::Baseline(id) => &self.baselines.get(id)?.named,
            Thing::Rule(id) => &self.rules.get(id)?.named,
            Thing::Job(id) => &self.jobs.get(id)?.named,
            Thing::Outfit(id) => &self.outfits.get(id)?.named,
            Thing::Position(_) => return None,
        };
        Some(&named.typed)
    }

    /// The cars that a block is about: that of its head; where that names none that there is, those that it may have meant.
    #[must_use]
    pub fn may_be_of(&self, id: HeadId) -> Vec<CarId> {
        let Some(head) = self.heads.get(id) else { return Vec::new() };
        match (head.car, self.meant.get(&id)) {
            (Some(car), _) => vec![car],
            (None, Some(meant)) => meant.clone(),
            (None, None) if head.car_unknown => self.cars.keys().collect(),
            (None, None) => Vec::new(),
        }
    }

    /// The head an entry stands under.
    #[must_use]
    pub fn head(&self, entry: &Entry) -> Option<&Head> {
        self.heads.get(entry.head)
    }

    /// The session an entry states, for `run`.
    #[must_use]
    pub fn run(&self, entry: &Entry) -> Option<&Run> {
        if entry.verb == crate::book::entry::Verb::Run { self.runs.get(entry.run()?) } else { None }
    }

    /// The `run` that a line stands under, be it under a stint, a stage or a stop of it.
    #[must_use]
    pub fn session_above(&self, entry: &Entry) -> Option<EntryId> {
        let line = |at: EntryId| self.entries.get(at);
        let above = entry.parent?;
        let divides = matches!(line(above)?.verb.group(), VerbGroup::Stretch(_));
        let run = if divides { line(above)?.parent? } else { above };
        line(run).filter(|run| run.verb == Verb::Run).map(|_| run)
    }

    /// Entries that belong to the entry at `index`: those directly under it, in order.
    pub fn under(&self, index: EntryId) -> impl Iterator<Item = (EntryId, &Entry)> {
        let head = self.entries.get(index).map(|entry| entry.head);
        self.entries
            .iter_from(index.plus(1))
            .take_while(move |(_, entry)| {
                // What belongs to it stands right below it.
                Some(entry.head) == head && entry.parent.is_some_and(|parent| parent >= index)
            })
            .filter(move |(_, entry)| entry.parent == Some(index))
    }
}
