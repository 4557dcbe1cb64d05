//! What a reader has to do with: which lines are about his cars, which parts concern him, and so what becomes of each line.
//!
//! Must not know how a line is emptied or blanked.

use super::policy::{Shows, fact, of_verb, stated};
use super::{Fate, Reader, sums};
use crate::Compiled;
use crate::book::ends_values;
use crate::book::entry::{Entry, EntryId, Verb};
use crate::book::model::{CarId, ClientId, JobId, PartId};
use crate::book::names::nearest;
use crate::book::verbs::VerbGroup;
use crate::history::order::Rank;
use crate::history::parts::{Sale, Where};
use crate::source::FileId;
use rustc_hash::FxHashMap;
use std::collections::BTreeSet;

/// A reader's view of whose everything is.
pub(super) struct Scope<'a> {
    pub(super) compiled: &'a Compiled,
    pub(super) reader: Reader,
    /// Parts that were ever on his cars, go along with one, or might have.
    pub(super) parts: BTreeSet<PartId>,
    /// Parts that a buyer gets.
    pub(super) going: BTreeSet<PartId>,
    /// Lines whose sums are the reader's to read, by where they stand.
    paid: FxHashMap<(FileId, u32), bool>,
    /// Of payments of which it is known, who paid, by where the line stands.
    payers: FxHashMap<(FileId, u32), ClientId>,
    /// When parts that concern him were on which car, until they concern him no more.
    aboard: FxHashMap<CarId, Vec<(Rank, Rank)>>,
    /// Of parts whose price was booked, who pays it.
    priced: FxHashMap<PartId, Option<ClientId>>,
    /// Jobs that their own line keeps from him: there is none for him.
    secret: BTreeSet<JobId>,
    /// Of each of his parts the last rank at which it concerns him.
    until: FxHashMap<PartId, Rank>,
}

impl<'a> Scope<'a> {
    pub(super) fn new(compiled: &'a Compiled, reader: &Reader) -> Self {
        let mut scope = Self {
            compiled,
            reader: *reader,
            parts: BTreeSet::new(),
            going: BTreeSet::new(),
            paid: FxHashMap::default(),
            payers: sums::payers(compiled),
            aboard: FxHashMap::default(),
            until: FxHashMap::default(),
            secret: BTreeSet::new(),
            priced: sums::priced(compiled),
        };
        let all = || compiled.book.parts.keys();
        scope.going = all().filter(|part| scope.goes_along(*part)).collect();
        // Declared as his, or sold to him, alone or on a car.
        let own = |part: PartId| {
            let sold = compiled.history.parts.get(part).owners.iter().filter_map(|(_, owner)| *owner);
            compiled.book.parts[part].owner.into_iter().chain(sold).any(|owner| scope.is_self(owner))
        };
        scope.parts =
            all().filter(|part| scope.was_on(*part) || scope.going.contains(part) || own(*part)).collect();
        let sort = |part: &PartId| compiled.book.parts.get(*part).map(|part| (part.kind, part.spec));
        let sorts: BTreeSet<_> = scope.parts.iter().filter_map(sort).collect();
        let spares: Vec<PartId> = all()
            .filter(|part| sort(part).is_some_and(|sort| sorts.contains(&sort)) && scope.is_left(*part))
            .collect();
        scope.parts.extend(spares);
        for part in &scope.parts {
            let until = scope.concerns_until(*part);
            scope.until.insert(*part, until);
            for stay in compiled.history.parts.get(*part).stays.iter().filter(|stay| stay.from <= until) {
                if let Some(car) = stay.car {
                    let until = stay.until.min(until.next());
                    scope.aboard.entry(car).or_default().push((stay.from, until));
                }
            }
        }
        scope.aboard.values_mut().for_each(join);
        let opens = compiled.book.entries.iter().filter(|entry| entry.verb == Verb::Job);
        let kept = opens.filter(|entry| scope.is_kept(entry)).filter_map(Entry::job);
        scope.secret = kept.collect();
        scope.paid = sums::paid(&scope);
        scope
    }

    /// The last rank at which a part concerns the reader: of one that he sold, alone or with its car, that sale's, unless it comes back to
    /// him: bought back, or onto a car of his. On a car that comes back it concerns him until it leaves that.
    fn concerns_until(&self, part: PartId) -> Rank {
        let history = self.compiled.history.parts.get(part);
        let Reader::Client(_) = self.reader else { return Rank::END };
        let book = &self.compiled.book;
        let facts = |entry: EntryId| {
            book.entries.get(entry).and_then(|line| book.extra(line)).and_then(|extra| extra.parts.as_deref())
        };
        let his = |(rank, entry): &(Rank, EntryId)| {
            let head = book.entries.get(*entry).and_then(|line| book.head(line)).and_then(|head| head.car);
            let car = facts(*entry).and_then(|facts| facts.car).or(head);
            car.is_some_and(|car| self.owns(car, *rank))
        };
        let Some((rank, _)) = history.sold.iter().rev().find(|sold| his(sold)).copied() else {
            return Rank::END;
        };
        let bought = |(at, entry): &(Rank, EntryId)| {
            *at > rank && facts(*entry).and_then(|facts| facts.buyer).is_some_and(|buyer| self.is_self(buyer))
        };
        let mut later = history.stays.iter().filter(|stay| stay.until > rank);
        if history.sold.iter().any(bought)
            || later.clone().any(|stay| self.owns_during(stay.car, stay.from.max(rank), stay.until))
        {
            return Rank::END;
        }
        match later.next().filter(|stay| stay.from <= rank) {
            Some(stay) if stay.car.is_some_and(|car| self.is_away(car, rank.next())) => stay.until,
            _ => rank,
        }
    }

    /// Whether a car is his at some moment between two ranks: at the first of them, or from a sale on.
    fn owns_during(&self, car: Option<CarId>, from: Rank, until: Rank) -> bool {
        let Some(car) = car else { return false };
        let last = match self.reader {
            Reader::Buyer(purchase) => purchase.until,
            Reader::Client(_) => Rank::END,
        };
        let sales = self.compiled.history.parts.sales_of(car).map(|sale| sale.rank);
        let sold = sales.filter(|rank| *rank >= from && *rank < until);
        sold.chain([from]).any(|rank| self.owns(car, rank.next().min(last)))
    }

    /// Whether a car was his before that rank and is not any more: what it does then is a stranger's.
    pub(super) fn was_his(&self, car: CarId, rank: Rank) -> bool {
        let Reader::Client(client) = self.reader else { return false };
        let parts = &self.compiled.history.parts;
        let owner = |rank: Rank| parts.owner(&self.compiled.book, car, rank) == Some(client);
        !owner(rank) && parts.sales_of(car).any(|sale| sale.rank < rank && owner(sale.rank))
    }

    /// Whether a car was his before that rank, is not then, and comes back to him: what it does in between is told of it as a fact, and
    /// what is set on it then he does not know.
    pub(super) fn is_away(&self, car: CarId, rank: Rank) -> bool {
        let Reader::Client(client) = self.reader else { return false };
        let back = |sale: &Sale| sale.rank >= rank && sale.to == Some(client);
        self.was_his(car, rank) && self.compiled.history.parts.sales_of(car).any(back)
    }

    /// Whether a line sells a car of his that comes back to him, or is one of the sales by which it does: to him it never left.
    fn is_round_trip(&self, entry: &Entry, rank: Rank) -> bool {
        let facts = self.compiled.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let car =
            facts.and_then(|facts| facts.car).filter(|_| entry.verb == Verb::Sell && entry.part().is_none());
        car.is_some_and(|car| self.is_away(car, rank.next()) || self.is_away(car, rank))
    }

    /// Cars that he has sold, each with the line that sold it.
    pub(super) fn sold(&self) -> Vec<(CarId, EntryId)> {
        let Reader::Client(client) = self.reader else { return Vec::new() };
        let (book, parts) = (&self.compiled.book, &self.compiled.history.parts);
        let gone = book.cars.keys().filter(|car| parts.owner(book, *car, Rank::END) != Some(client));
        gone.filter_map(|car| {
            let mut his =
                parts.sales_of(car).filter(|sale| parts.owner(book, car, sale.rank) == Some(client));
            Some((car, his.next_back()?.entry))
        })
        .collect()
    }

    /// Whether a car was his from the first line of the book to the last.
    pub(super) fn always_owns(&self, car: CarId) -> bool {
        let parts = &self.compiled.history.parts;
        match self.reader {
            Reader::Client(client) => {
                let sold = parts.sales_of(car).any(|sale| sale.to != Some(client));
                parts.owner(&self.compiled.book, car, Rank::START) == Some(client) && !sold
            }
            Reader::Buyer(purchase) => purchase.car == car,
        }
    }

    /// Whether a car is his at the moment of a rank.
    pub(super) fn owns(&self, car: CarId, rank: Rank) -> bool {
        match self.reader {
            Reader::Client(client) => {
                self.compiled.history.parts.owner(&self.compiled.book, car, rank) == Some(client)
            }
            Reader::Buyer(purchase) => purchase.car == car && rank <= purchase.until,
        }
    }

    /// Whether a car is his at any time.
    pub(super) fn knows(&self, car: CarId) -> bool {
        let parts = &self.compiled.history.parts;
        match self.reader {
            Reader::Client(client) => {
                parts.owner(&self.compiled.book, car, Rank::START) == Some(client)
                    || parts.sales_of(car).any(|sale| sale.to == Some(client))
            }
            Reader::Buyer(purchase) => purchase.car == car,
        }
    }

    /// Whether a client is the reader himself.
    pub(super) fn is_self(&self, client: ClientId) -> bool {
        match self.reader {
            Reader::Client(reader) => reader == client,
            Reader::Buyer(purchase) => purchase.to == Some(client),
        }
    }

    /// Whether a part was on a car of his while it was his.
    fn was_on(&self, part: PartId) -> bool {
        let history = &self.compiled.history.parts;
        let until = match self.reader {
            Reader::Buyer(purchase) => purchase.until,
            Reader::Client(_) => Rank::END,
        };
        let mut stays = history.get(part).stays.iter().filter(|stay| stay.from <= until);
        stays.any(|stay| self.owns_during(stay.car, stay.from, stay.until))
    }

    /// Whether a buyer gets a part: it is on the car, or the sale names it.
    fn goes_along(&self, part: PartId) -> bool {
        let Reader::Buyer(purchase) = self.reader else { return false };
        let (book, parts) = (&self.compiled.book, &self.compiled.history.parts);
        let sold = purchase.sale.and_then(|sale| book.entries.get(sale));
        let facts = sold.and_then(|sale| book.extra(sale)).and_then(|extra| extra.parts.as_ref());
        parts.get(part).at(purchase.until).is_some_and(|stay| stay.car == Some(purchase.car))
            || facts.is_some_and(|facts| facts.more.contains(&part))
    }

    /// Whether a part of the shop's own lies on its shelf that fits the very car a buyer gets: a spare he may ask after.
    fn is_left(&self, part: PartId) -> bool {
        let Reader::Buyer(purchase) = self.reader else { return false };
        let (book, parts) = (&self.compiled.book, &self.compiled.history.parts);
        let kind = book.parts.get(part).and_then(|part| part.kind.and_then(|kind| book.kinds.get(kind)));
        let fits = kind.is_some_and(|kind| kind.fits.iter().any(|fit| fit.cars.contains(&purchase.car)));
        let (told, then) = (parts.get(part), purchase.until.next());
        fits && told.is_shops(then) && told.at(then).is_some_and(|stay| stay.at == Where::Shelf)
    }

    /// Whether a spare that stays with the shop came off a car that the buyer does not get, and was never on his: its name says that it
    /// stays, and no more.
    pub(super) fn is_anothers_spare(&self, part: PartId) -> bool {
        let Reader::Buyer(purchase) = self.reader else { return false };
        let stays = &self.compiled.history.parts.get(part).stays;
        let elsewhere = stays.iter().any(|stay| stay.car.is_some_and(|car| car != purchase.car));
        elsewhere && !self.going.contains(&part) && !self.was_on(part)
    }

    /// Whether a part that concerns him was on that car at that moment.
    fn aboard(&self, car: CarId, rank: Rank) -> bool {
        let Some(spans) = self.aboard.get(&car) else { return false };
        let next = spans.partition_point(|(from, _)| *from <= rank);
        next.checked_sub(1).and_then(|last| spans.get(last)).is_some_and(|(_, until)| rank < *until)
    }

    /// Whether a part that concerns him carries what a line sets or reads, on whosever car it is then.
    fn carries(&self, entry: &Entry, rank: Rank) -> bool {
        let (book, history) = (&self.compiled.book, &self.compiled.history);
        let Some((car, quantity)) = book.head(entry).and_then(|head| head.car).zip(entry.quantity) else {
            return false;
        };
        let parts = history.slots.carrying(book, &history.parts).carried_on(car, quantity, rank);
        parts.iter().any(|part| self.until.get(part).is_some_and(|until| rank <= *until))
    }

    fn is_about(&self, entry: &Entry, rank: Rank) -> bool {
        let facts = self.compiled.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let more = facts.into_iter().flat_map(|facts| facts.more.iter().chain(&facts.other));
        let part = if entry.verb.is_about_job() { None } else { entry.part() };
        let concerns = |part: &PartId| self.until.get(part).is_some_and(|until| rank <= *until);
        part.iter().chain(more).any(concerns)
    }

    /// Whether the line's own audience reaches him.
    fn reaches(&self, entry: &Entry) -> bool {
        let (book, files) = (&self.compiled.book, &self.compiled.files);
        if let Some(audience) = stated(book, files, entry) {
            return audience >= self.reader.level();
        }
        let asked = matches!(self.reader, Reader::Buyer(purchase) if purchase.bench);
        asked && matches!(entry.verb, Verb::Bench | Verb::Points)
            || of_verb(entry.verb) >= self.reader.level()
    }

    /// Whether a line says itself that it is not for him.
    fn is_kept(&self, entry: &Entry) -> bool {
        let said = stated(&self.compiled.book, &self.compiled.files, entry);
        said.is_some_and(|audience| audience < self.reader.level())
    }

    /// Whether there is a job for him at all: not one that its own line keeps from him, whatever other lines say of it.
    pub(super) fn has_job(&self, job: JobId) -> bool {
        !self.secret.contains(&job)
    }

    /// Whether a payment is his own.
    pub(super) fn pays(&self, entry: &Entry) -> bool {
        let payer = self.payers.get(&(entry.file, entry.start));
        matches!(self.reader, Reader::Client(_)) && payer.is_some_and(|client| self.is_self(*client))
    }

    /// When a line was; the start of the book for one that has no place in it.
    pub(super) fn rank(&self, entry: EntryId) -> Rank {
        self.compiled.history.order.rank.get(entry).copied().unwrap_or(Rank::START)
    }

    /// Whether a line with a mistake is of a car that was his then, and he would read it if it had none.
    pub(super) fn reads_but_for_mistake(&self, index: EntryId, entry: &Entry) -> bool {
        let car = self.compiled.book.head(entry).and_then(|head| head.car);
        let his = entry.broken && car.is_some_and(|car| self.owns(car, self.rank(index)));
        let text = self.compiled.files.text(entry.span());
        let words = || text.split_whitespace().take_while(|word| !word.eq_ignore_ascii_case("because"));
        // A `for` that is typed wrong may hide it from him.
        let slip = |word: &str| !ends_values(word) && nearest(word, std::iter::once("for")).is_some();
        // A line that the grammar refuses and that has no clause on it says nothing of who may read it.
        let by_verb = || of_verb(entry.verb) >= self.reader.level() && !words().any(ends_values);
        his && !words().any(slip) && (self.reaches(entry) || by_verb())
    }

    /// Whether a line sells him a car: from then on what is about it is his.
    fn gets(&self, entry: &Entry) -> bool {
        let facts = self.compiled.book.extra(entry).and_then(|extra| extra.parts.as_deref());
        let buyer = facts.filter(|facts| facts.car.is_some()).and_then(|facts| facts.buyer);
        entry.verb == Verb::Sell && entry.part().is_none() && buyer.is_some_and(|buyer| self.is_self(buyer))
    }

    /// The cars that are his at the end of the book; of a client who has none left those that were.
    pub(super) fn his(&self) -> Vec<CarId> {
        let (book, parts) = (&self.compiled.book, &self.compiled.history.parts);
        let known: Vec<CarId> = book.cars.keys().filter(|car| self.knows(*car)).collect();
        let Reader::Client(client) = self.reader else { return known };
        let has = |car: &CarId| parts.owner(book, *car, Rank::END) == Some(client);
        let now: Vec<CarId> = known.iter().copied().filter(has).collect();
        if now.is_empty() { known } else { now }
    }

    /// Whether the fact on a line counts for him, whoever may read its words; of a car that is his then, or was and comes back to him.
    fn concerns(&self, entry: &Entry, (own, away): (bool, bool), rank: Rank) -> bool {
        let car = self.compiled.book.head(entry).and_then(|head| head.car);
        match fact(entry.verb) {
            Shows::None => false,
            Shows::OfCar => own || away || car.is_some_and(|car| self.aboard(car, rank)),
            Shows::OfItself => own || self.is_about(entry, rank) || self.gets(entry),
        }
    }

    /// What becomes of a line; `above` of the line it stands under.
    pub(super) fn fate(&self, index: EntryId, entry: &Entry, above: Option<Fate>) -> Fate {
        let rank = self.rank(index);
        let Some(head) = self.compiled.book.head(entry) else { return Fate::Gone };
        if matches!(self.reader, Reader::Buyer(purchase) if rank > purchase.until) {
            return Fate::Gone;
        }
        let own = head.car.is_some_and(|car| self.owns(car, rank));
        let away = head.car.is_some_and(|car| self.is_away(car, rank));
        if self.is_round_trip(entry, rank) {
            return Fate::Gone;
        }
        if entry.verb == Verb::Paid && !self.pays(entry) {
            return Fate::Gone;
        }
        // Who was handed what is on nobody's page: `altered` tells a client of his own.
        if entry.verb == Verb::Handed {
            return Fate::Gone;
        }
        if entry.verb.is_about_job() && entry.job().is_some_and(|job| !self.has_job(job)) {
            return Fate::Gone;
        }
        let under = above.is_none_or(|above| above == Fate::Read);
        // Points stand under a bench line and go with it.
        let inherits = matches!(entry.verb, Verb::Points) && above == Some(Fate::Read);
        if entry.broken {
            // What a line that cannot be read holds, nobody can say: none of its words go out. What it leaves in doubt of his cars and
            // parts is as much in doubt to him; a job may be the shop's alone.
            let job = || entry.job().is_none_or(|job| self.has_job(job));
            return match entry.verb.group() {
                VerbGroup::Part(_) | VerbGroup::Hit if self.concerns(entry, (own, away), rank) => Fate::Fact,
                VerbGroup::Job(_) if job() && self.reads_but_for_mistake(index, entry) => Fate::Fact,
                VerbGroup::Run | VerbGroup::Stretch(_) if own || away => Fate::Fact,
                VerbGroup::Setting(_) | VerbGroup::Correct if own || away || self.carries(entry, rank) => {
                    Fate::Unknown
                }
                VerbGroup::Bench if self.is_about(entry, rank) => Fate::Unknown,
                VerbGroup::Run
                | VerbGroup::Stretch(_)
                | VerbGroup::Result
                | VerbGroup::Correct
                | VerbGroup::Setting(_)
                | VerbGroup::Bench
                | VerbGroup::Compare
                | VerbGroup::Row(_)
                | VerbGroup::Part(_)
                | VerbGroup::Hit
                | VerbGroup::Laps
                | VerbGroup::Words
                | VerbGroup::Try
                | VerbGroup::Waive
                | VerbGroup::Void
                | VerbGroup::Job(_)
                | VerbGroup::Cost
                | VerbGroup::Stock(_)
                | VerbGroup::Handed
                | VerbGroup::Note => Fate::Gone,
            };
        }
        if is_everyones(entry) {
            return if self.reaches(entry) { Fate::Read } else { Fate::Gone };
        }
        if own || head.car.is_none() && self.is_about(entry, rank) || inherits {
            // In a block of the shop's own a line says itself whom it is for; a bench line goes where it is asked for.
            let open = own
                || inherits
                || stated(&self.compiled.book, &self.compiled.files, entry).is_some()
                || entry.verb == Verb::Bench;
            if open && under && (inherits || self.reaches(entry)) {
                return Fate::Read;
            }
        }
        let concerns = self.concerns(entry, (own, away), rank);
        let group = entry.verb.group();
        let setting = matches!(group, VerbGroup::Setting(_) | VerbGroup::Correct);
        let unknown = setting && (own || away || self.carries(entry, rank))
            || group == VerbGroup::Bench && self.is_about(entry, rank);
        match (concerns, unknown) {
            (true, _) => Fate::Fact,
            (false, true) => Fate::Unknown,
            (false, false) => Fate::Gone,
        }
    }

    /// Whether a sum on a line may be read, or counted: the line says so, the reader is the client who pays, or it was asked for.
    pub(super) fn money(&self, entry: &Entry) -> bool {
        if let Some(paid) = self.paid.get(&(entry.file, entry.start)) {
            return *paid;
        }
        sums::of_line(self, entry)
    }

    /// Whether he pays for a part: who its price was booked to; of one that was paid for before the book, and will be bought anew,
    /// whose the first car was that it went on.
    pub(super) fn pays_for(&self, part: PartId) -> bool {
        if let Some(payer) = self.priced.get(&part) {
            return payer.is_some_and(|payer| self.is_self(payer));
        }
        let stays = &self.compiled.history.parts.get(part).stays;
        let first = stays.iter().find_map(|stay| stay.car.map(|car| (car, stay.from)));
        first.is_some_and(|(car, rank)| self.owns(car, rank.next()))
    }
}

/// Joins spans that touch.
fn join(spans: &mut Vec<(Rank, Rank)>) {
    spans.sort_unstable();
    let mut joined: Vec<(Rank, Rank)> = Vec::with_capacity(spans.len());
    for (from, until) in spans.drain(..) {
        match joined.last_mut().filter(|last| last.1 >= from) {
            Some(last) => last.1 = last.1.max(until),
            None => joined.push((from, until)),
        }
    }
    *spans = joined;
}

/// Whether a line says nothing of the car that it stands under: what compares gauges is everyone's, as gauges are, whoever wrote it in
/// whatever block.
pub(super) fn is_everyones(entry: &Entry) -> bool {
    entry.verb == Verb::Compare
}
