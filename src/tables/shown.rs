//! What a reader of the tables is shown of a book: the names by which rows are told apart and found, and where a line stands.
//!
//! A thing that is not his has no row, so whatever names it names nothing. Of two things that are called the same (a name declared twice,
//! or covered by the same marks) the later has a number behind its name. Must not know any table.

use super::cell::Cell;
use crate::Compiled;
use crate::book::entry::{By, Entry, EntryId, Head};
use crate::book::model::{
    CarId, CircuitId, ClientId, EventId, GaugeId, JobId, KindId, Named, PartId, PersonId, RuleId, SpecId,
};
use crate::book::names::Thing;
use crate::book::place::Place;
use crate::book::verbs::VerbGroup;
use crate::history::order::Rank;
use crate::history::parts::Stay;
use crate::history::sessions::{Session, SessionId};
use crate::ids::Arena;
use crate::source::Span;
use crate::syntax::unquote;
use crate::units::{DimensionId, UnitId, si};
use rustc_hash::{FxHashMap, FxHashSet};
use std::borrow::Cow;

/// Names by id; `None` for what has no row.
type Names<K> = Arena<K, Option<String>>;

/// A book as it is put into tables.
#[derive(Debug)]
pub struct Shown<'a> {
    /// The book.
    pub compiled: &'a Compiled,
    /// The client whose book it is, as asked for.
    pub reader: Option<String>,
    /// Whether figures are worked out as each car left each of its events, and not at the end of the book alone.
    pub each_event: bool,
    cars: Names<CarId>,
    events: Names<EventId>,
    circuits: Names<CircuitId>,
    clients: Names<ClientId>,
    people: Names<PersonId>,
    gauges: Names<GaugeId>,
    kinds: Names<KindId>,
    specs: Names<SpecId>,
    parts: Names<PartId>,
    jobs: Names<JobId>,
    rules: Names<RuleId>,
    /// By session its number; 0 for one that has no row.
    sessions: Arena<SessionId, i64>,
    /// The same by the line of it.
    runs: FxHashMap<EntryId, i64>,
}

/// Makes names of one list unlike one another.
#[derive(Default)]
struct Unlike(FxHashSet<String>);

impl Unlike {
    fn name(&mut self, scope: &str, typed: &str) -> String {
        let plain = crate::visible::text(typed.trim()).into_owned();
        let plain = if plain.is_empty() { "?".to_owned() } else { plain };
        let mut name = plain.clone();
        let mut number = 2_u64;
        while !self.0.insert(format!("{scope}\n{name}")) {
            name = format!("{plain} ({number})");
            number += 1;
        }
        name
    }
}

fn names<K: From<usize> + Copy, T>(
    all: &Arena<K, T>,
    named: impl Fn(&T) -> &Named,
    is_shown: impl Fn(K, &T) -> bool,
) -> Names<K>
where
    usize: From<K>,
{
    let mut unlike = Unlike::default();
    let each =
        |(index, one): (usize, &T)| is_shown(K::from(index), one).then(|| unlike.name("", &named(one).typed));
    all.iter().enumerate().map(each).collect::<Vec<_>>().into()
}

/// Who drove or read on lines that are the reader's: of others he has no row, though he may know that they are there.
fn met(compiled: &Compiled) -> FxHashSet<PersonId> {
    let lines = compiled.book.entries.iter().filter(|entry| !entry.withheld);
    let tells = |group: VerbGroup| {
        matches!(group, VerbGroup::Setting(_) | VerbGroup::Bench | VerbGroup::Run | VerbGroup::Stretch(_))
    };
    let by = |entry: &Entry| if let By::Person(person) = entry.by { Some(person) } else { None };
    lines.filter(|entry| tells(entry.verb.group())).filter_map(by).collect()
}

impl<'a> Shown<'a> {
    /// Of a book, as its reader has it.
    #[must_use]
    pub fn new(compiled: &'a Compiled, reader: Option<&str>) -> Self {
        let book = &compiled.book;
        let found = |named: &Named| book.names.find(&named.name);
        let cars = names(&book.cars, |car| &car.named, |_, car| !car.withheld);
        let sessions = &compiled.history.sessions;
        let (mut numbers, mut runs, mut last) =
            (Arena::with_capacity(sessions.all.len()), FxHashMap::default(), 0);
        for session in &sessions.all {
            // That his own car ran counts, whoever may read the line.
            if cars.get(session.car).is_none_or(Option::is_none) {
                numbers.push(0);
                continue;
            }
            last += 1;
            numbers.push(last);
            runs.insert(session.entry, last);
        }
        let met = met(compiled);
        let mut unlike = Unlike::default();
        let spec = |spec: &crate::book::model::Spec| {
            Some(unlike.name(&spec.kind.index().to_string(), &spec.named.typed))
        };
        Self {
            compiled,
            reader: reader.map(str::to_owned),
            each_event: false,
            events: names(&book.events, |event| &event.named, |_, _| true),
            circuits: names(&book.circuits, |circuit| &circuit.named, |_, _| true),
            clients: names(
                &book.clients,
                |client| &client.named,
                |id, one| found(&one.named) == Some(Thing::Client(id)),
            ),
            people: names(
                &book.people,
                |person| &person.named,
                |id, one| {
                    found(&one.named).and_then(|thing| book.names.person(thing)) == Some(id)
                        && (compiled.whole.is_none() || met.contains(&id))
                },
            ),
            gauges: names(&book.gauges, |gauge| &gauge.named, |_, _| true),
            kinds: names(&book.kinds, |kind| &kind.named, |_, _| true),
            specs: book.specs.iter().map(spec).collect::<Vec<_>>().into(),
            parts: names(&book.parts, |part| &part.named, |_, part| !part.withheld),
            jobs: names(&book.jobs, |job| &job.named, |id, one| found(&one.named) == Some(Thing::Job(id))),
            rules: names(&book.rules, |rule| &rule.named, |_, _| true),
            cars,
            sessions: numbers,
            runs,
        }
    }

    /// Whether the book is cut for a reader.
    #[must_use]
    pub fn is_cut(&self) -> bool {
        self.compiled.whole.is_some()
    }

    /// The moment from which a part is no more the reader's to know of: it left his cars, is not his own, and went on another's. [`Rank::END`]
    /// of the shop's own book and of a part that comes back to a car of his: that brings its hours.
    #[must_use]
    pub fn until(&self, part: PartId) -> Rank {
        let owner = self.compiled.book.parts.get(part).and_then(|part| part.owner);
        if !self.is_cut() || owner.is_some() && owner == self.compiled.reader {
            return Rank::END;
        }
        let stays = &self.compiled.history.parts.get(part).stays;
        let of_his = |stay: &Stay| stay.car.is_some() && !self.car(stay.car).is_nothing();
        let Some(last) = stays.iter().rposition(of_his) else { return Rank::END };
        let mut later = stays.iter().skip(last + 1);
        later.find(|stay| stay.car.is_some()).map_or(Rank::END, |stay| stay.from)
    }

    /// A line that the reader may read.
    #[must_use]
    pub fn may_read(&self, entry: EntryId) -> bool {
        self.compiled.book.entries.get(entry).is_some_and(|entry| !entry.withheld)
    }

    /// The file and the line where something stands.
    #[must_use]
    pub fn stands(&self, span: Span) -> [Cell<'a>; 2] {
        let files = &self.compiled.files;
        [Cell::from(files.path(span.file)), Cell::from(files.line(span))]
    }

    /// The same of an entry; nothing of one that the reader may not read.
    #[must_use]
    pub fn line(&self, entry: impl Into<Option<EntryId>>) -> [Cell<'a>; 2] {
        let entry = entry.into().and_then(|entry| self.compiled.book.entries.get(entry));
        match entry.filter(|entry| !entry.withheld) {
            Some(entry) => self.stands(entry.span()),
            None => [Cell::Nothing, Cell::Nothing],
        }
    }

    /// The day of an entry; nothing of one that the reader may not read, or whose day nobody knows.
    #[must_use]
    pub fn day(&self, entry: impl Into<Option<EntryId>>) -> Cell<'a> {
        let Some(id) = entry.into().filter(|id| self.may_read(*id)) else { return Cell::Nothing };
        let book = &self.compiled.book;
        let dated = book.entries.get(id).and_then(|entry| book.head(entry)).is_some_and(Head::is_dated);
        Cell::from(self.compiled.history.order.date(book, id).filter(|_| dated))
    }

    /// Words of a ledger, without their quotes.
    #[must_use]
    pub fn words(&self, span: impl Into<Option<Span>>) -> Cell<'a> {
        let text = span.into().map(|span| unquote(self.compiled.files.text(span).trim()));
        Cell::from(text)
    }

    /// A title; nothing where it only repeats the name.
    #[must_use]
    pub fn title(&self, named: &'a Named) -> Cell<'a> {
        if named.title == *named.typed { Cell::Nothing } else { Cell::from(&named.title) }
    }

    /// A place of the car; nothing for the whole of it.
    #[must_use]
    pub fn place(&self, place: Place) -> Cell<'a> {
        if place == Place::CAR { Cell::Nothing } else { Cell::from(self.compiled.book.place_word(place)) }
    }

    /// What the SI values of a kind of quantity are counted in; of a kind that takes several sorts of units, by the unit typed.
    #[must_use]
    pub fn si(&self, kind: DimensionId, unit: Option<UnitId>) -> Cell<'a> {
        let typed = || unit.map_or("", |unit| si(unit.get().kind));
        let of_kind = si(kind);
        Cell::from(if of_kind.is_empty() { typed() } else { of_kind })
    }

    /// The number of a session.
    #[must_use]
    pub fn session(&self, id: SessionId) -> Option<i64> {
        self.sessions.get(id).copied().filter(|number| *number > 0)
    }

    /// The number of the session of a `run` line.
    #[must_use]
    pub fn session_of(&self, run: Option<EntryId>) -> Cell<'a> {
        Cell::from(run.and_then(|run| self.runs.get(&run).copied()))
    }

    /// The number of the first session of a car that something after `rank` is true of.
    #[must_use]
    pub fn session_from(&self, car: CarId, rank: Rank) -> Cell<'a> {
        let sessions = &self.compiled.history.sessions;
        let own = sessions.of_car.get(car).map_or(&[][..], Vec::as_slice);
        let first = own.partition_point(|id| sessions.get(*id).during <= rank);
        let shown = own.get(first..).unwrap_or_default().iter().find_map(|id| self.session(*id));
        Cell::from(shown)
    }

    /// Every session that has a row, with its number.
    pub fn all_sessions(&self) -> impl Iterator<Item = (i64, SessionId, &'a Session)> + '_ {
        let all = self.compiled.history.sessions.all.iter_enumerated();
        all.filter_map(|(id, session)| Some((self.session(id)?, id, session)))
    }

    /// Whoever `by` names, where that is a person.
    #[must_use]
    pub fn by_person(&self, by: By) -> Cell<'_> {
        if let By::Person(id) = by { self.person(id) } else { Cell::Nothing }
    }

    /// Whatever `by` names, where that is a gauge.
    #[must_use]
    pub fn by_gauge(&self, by: By) -> Cell<'_> {
        if let By::Gauge(id) = by { self.gauge(id) } else { Cell::Nothing }
    }
}

/// A name of what has a row.
fn shown<K: From<usize>>(names: &Names<K>, id: Option<K>) -> Cell<'_>
where
    usize: From<K>,
{
    let name = id.and_then(|id| names.get(id)).and_then(Option::as_deref);
    name.map_or(Cell::Nothing, |name| Cell::Text(Cow::Borrowed(name)))
}

macro_rules! named {
    ($($what:literal $name:ident $id:ident $list:ident;)*) => {
        impl Shown<'_> {
            $(
                #[doc = concat!("The name of ", $what, "; nothing where it has no row.")]
                #[must_use]
                pub fn $name(&self, id: impl Into<Option<$id>>) -> Cell<'_> {
                    shown(&self.$list, id.into())
                }
            )*
        }
    };
}
named! {
    "a car" car CarId cars;
    "an event" event EventId events;
    "a circuit" circuit CircuitId circuits;
    "a client" client ClientId clients;
    "a person" person PersonId people;
    "a gauge" gauge GaugeId gauges;
    "a kind" kind KindId kinds;
    "a spec" spec SpecId specs;
    "a part" part PartId parts;
    "a job" job JobId jobs;
    "a rule" rule RuleId rules;
}
