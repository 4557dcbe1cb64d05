//! Lines about money and hours to postings.
//!
//! Must not know parts in stock, nor how totals are made.

use super::keys::{self, Shares};
use super::mentioned::{self, Mentioned};
use super::posting::{Belongs, Kind, Posting};
use super::problem::{Problem, Unshared};
use super::ran::Ran;
use super::rate::{self, Hourly};
use super::{SoldCar, Stocked};
use crate::book::Book;
use crate::book::entry::{CostFacts, CostKind, Entry, EntryId, PartFacts, Verb};
use crate::book::model::{CarId, ClientId, JobId, PartId};
use crate::history::order::Rank;
use crate::history::{Facts, History};
use crate::money::{Amount, Currency, Minutes, Rates, share};
use crate::sorted;
use crate::source::Files;
use rayon::prelude::*;

/// What booking works with.
#[derive(Clone, Copy)]
pub struct With<'a> {
    pub facts: Facts<'a>,
    pub rates: &'a Rates,
    pub ran: &'a Ran<'a>,
    pub home: Option<Currency>,
}

impl<'a> std::ops::Deref for With<'a> {
    type Target = Facts<'a>;

    fn deref(&self) -> &Facts<'a> {
        &self.facts
    }
}

/// What some lines or parts were booked as.
#[derive(Debug, Clone, Default)]
pub struct Booked {
    pub postings: Vec<Posting>,
    pub problems: Vec<Problem>,
    pub stock: Vec<Stocked>,
    pub sold: Vec<SoldCar>,
}

impl Booked {
    /// All of them together, the postings in the order things happened.
    #[must_use]
    pub fn all(with: With<'_>, mut chunks: Vec<Self>) -> Self {
        let mut all = Self::default();
        for chunk in &mut chunks {
            all.stock.append(&mut chunk.stock);
            all.sold.append(&mut chunk.sold);
            chunk.problems.drain(..).for_each(|problem| all.problem(problem));
        }
        // The place in the lists breaks ties, so that shares of one line keep their order.
        let rank =
            |posting: &Posting| with.history.order.rank.get(posting.entry).copied().unwrap_or(Rank::START);
        let mut order: Vec<(Rank, &Posting)> = (chunks.par_iter())
            .flat_map_iter(|booked| booked.postings.iter().map(|posting| (rank(posting), posting)))
            .collect();
        order.par_sort_by_key(|(rank, _)| *rank);
        all.postings = order.into_par_iter().map(|(_, posting)| posting.clone()).collect();
        let mut problems = unexchanged(&all.postings, with);
        problems.append(&mut all.problems);
        all.problems = problems;
        all
    }

    /// Notes what is wrong; hours without a rate only once, with a count.
    fn problem(&mut self, problem: Problem) {
        if let Problem::HoursWithoutRate { more: again, .. } = problem
            && let Some(more) = self.problems.iter_mut().find_map(|known| match known {
                Problem::HoursWithoutRate { more, .. } => Some(more),
                _ => None,
            })
        {
            *more += again + 1;
            return;
        }
        self.problems.push(problem);
    }
}

/// The fold at work.
pub struct Fold<'a> {
    pub book: &'a Book,
    pub history: &'a History,
    pub booked: Booked,
    files: &'a Files,
    rates: &'a Rates,
    ran: &'a Ran<'a>,
    home: Option<Currency>,
}

impl<'a> Fold<'a> {
    pub fn new(With { facts: Facts { files, book, history }, rates, ran, home }: With<'a>) -> Self {
        Self { book, history, booked: Booked::default(), files, rates, ran, home }
    }

    /// Where a line belongs, from its head and its job.
    pub fn belongs(&self, index: EntryId) -> Option<Belongs> {
        let entry = self.book.entries.get(index)?;
        let head = self.book.head(entry)?;
        let job = self.book.extra(entry).and_then(|extra| extra.job);
        let of_job = || self.history.jobs.all.get(job?)?.car;
        let car = head.car.or_else(of_job);
        // Past midnight it is not its head's.
        let date = self.history.order.date(self.book, index).unwrap_or(head.date);
        Some(Belongs { date, car, client: self.client(car, index), event: head.event, job })
    }

    /// Who pays for a car at the moment of a line: whoever owns it then.
    pub fn client(&self, car: Option<CarId>, index: EntryId) -> Option<ClientId> {
        let rank = self.history.order.rank.get(index).copied().unwrap_or(Rank::START);
        self.history.parts.owner(self.book, car?, rank)
    }

    /// Enters a posting; its sum is exchanged for the shop's currency where a rate says how.
    pub fn post(&mut self, index: EntryId, to: Belongs, kind: Kind, amount: Option<Amount>) -> &mut Posting {
        let mut posting = Posting {
            entry: index,
            date: to.date,
            car: to.car,
            client: to.client,
            event: to.event,
            job: to.job,
            kind,
            amount,
            back: matches!(kind, Kind::Sold | Kind::Prize),
            exchanged: None,
            minutes: Minutes::default(),
            unbilled: false,
            part: None,
            price: None,
            share: None,
            named: false,
        };
        if let (Some(amount), Some(home)) =
            (amount, self.home.filter(|home| Some(*home) != amount.map(|sum| sum.currency)))
            && let Some((sum, rate)) = self.rates.convert(amount, home, to.date)
        {
            posting.amount = Some(sum);
            posting.exchanged = Some(Box::new((amount, rate)));
        }
        self.booked.postings.push_mut(posting)
    }

    fn hours(&mut self, index: EntryId, facts: &CostFacts, to: Belongs) {
        let minutes = facts.minutes.unwrap_or_default();
        let hourly = rate::hourly(self.book, self.history, facts, to);
        let amount = match hourly {
            Hourly::Of(rate) if facts.minutes.is_some() => minutes.at(rate),
            _ => None,
        };
        if hourly == Hourly::Unsaid && facts.minutes.is_some() {
            self.booked.problem(Problem::HoursWithoutRate { entry: index, more: 0 });
        }
        let posting = self.post(index, to, Kind::Labour, amount);
        posting.minutes = minutes;
        posting.unbilled = hourly == Hourly::Unbilled;
    }

    /// Of a line under a head that names no car that there is: whichever it may be about bears it, or does not.
    fn perhaps(&mut self, index: EntryId, kind: Kind, to: Belongs, back: bool) {
        let Some(entry) = self.book.entries.get(index).filter(|_| to.car.is_none()) else { return };
        for car in self.book.may_be_of(entry.head) {
            let client = to.client.or_else(|| self.client(Some(car), index));
            self.post(index, Belongs { car: Some(car), client, ..to }, kind, None).back |= back;
        }
    }

    fn cost(&mut self, index: EntryId, facts: &CostFacts, to: Belongs, credit: bool) {
        let sum = facts.sum.map(|sum| if credit { sum.negated() } else { sum });
        let kind = Kind::from(facts.kind);
        let named = facts.client.is_some();
        let Some(split) = &facts.split else {
            let posting = self.post(index, to, kind, sum);
            (posting.back, posting.named) = (posting.back || credit, named);
            return;
        };
        let (cars, shares) = match keys::weights(self.ran, split, to.event, to.date) {
            Ok(both) => both,
            Err(why) => {
                self.booked.problems.push(Problem::SplitKeyEmpty { entry: index, why });
                let posting = self.post(index, to, kind, sum);
                (posting.back, posting.named) = (posting.back || credit, named);
                return;
            }
        };
        // The line is exchanged and rounded first, then shared: the shares add up to it.
        let whole = self.post(index, to, kind, sum).clone();
        self.booked.postings.pop();
        if let Shares::NotKnown { untimed: Some(session) } = shares {
            self.booked
                .problems
                .push(Problem::SplitKeyEmpty { entry: index, why: Unshared::Untimed(session) });
        }
        let shares = whole.amount.zip(shares.known()).map(|(whole, weights)| {
            let shares = whole.minor().and_then(|units| share::out(units, weights)).unwrap_or_default();
            shares.into_iter().map(|units| Amount::of_minor(units, whole.currency)).collect::<Vec<_>>()
        });
        for (at, car) in cars.iter().enumerate() {
            let client = facts.client.or_else(|| self.client(Some(*car), index));
            self.booked.postings.push(Posting {
                car: Some(*car),
                client,
                amount: shares.as_ref().and_then(|shares| shares.get(at).copied().flatten()),
                back: credit,
                named,
                share: Some((at as u32, cars.len() as u32)),
                ..whole.clone()
            });
        }
    }

    /// A part that changes cars at an agreed value: minus there, plus here.
    fn transfer(&mut self, index: EntryId, part: PartId, facts: &PartFacts, to: Belongs) {
        let Some(here) = facts.car.filter(|_| facts.money.is_some() || facts.money_lost) else { return };
        let value = facts.money;
        let stays = &self.history.parts.get(part).stays;
        let rank = self.history.rank(self.book, index);
        let (earlier, later) = sorted::parted(stays, |stay| stay.from < rank);
        let own = later.iter().take_while(|stay| stay.from == rank).position(|stay| stay.entry == index);
        let before =
            own.and_then(|at| earlier.iter().chain(later.iter().take(at)).last()).and_then(|stay| stay.car);
        let there = before.or(to.car);
        let from = Belongs { car: there, client: self.client(there, index), ..to };
        let into = Belongs { car: Some(here), client: self.client(Some(here), index), ..to };
        let there = self.post(index, from, Kind::Transfer, value.map(Amount::negated));
        (there.part, there.back) = (Some(part), true);
        self.post(index, into, Kind::Transfer, value).part = Some(part);
    }

    /// A part that changed hands by a line with a mistake, if any word of it may be a sum.
    fn lost_sum(&mut self, index: EntryId, entry: &Entry, to: Belongs) {
        let sum = |word: &str| {
            let mut bytes = word.bytes();
            bytes.next().is_some_and(|first| first.is_ascii_digit()) || Currency::find(word).is_some()
        };
        if !self.files.text(entry.span()).split_whitespace().any(sum) {
            return;
        }
        let kind = if entry.verb == Verb::Sell { Kind::Sold } else { Kind::Transfer };
        let said = mentioned::of(self.book, self.files.text(entry.span()));
        for (at, to) in self.concerned(index, said, to).into_iter().enumerate() {
            let posting = self.post(index, to, kind, None);
            // Whoever else it names may have to pay it.
            (posting.part, posting.back) = (entry.part(), at == 0);
        }
    }

    /// A line about money with a mistake: what it says is lost, that it cost something is not, to whomever it names.
    fn lost(&mut self, index: EntryId, entry: &Entry, facts: &CostFacts, to: Belongs) {
        let mut said = mentioned::of(self.book, self.files.text(entry.span()));
        let kind =
            if entry.verb == Verb::Hours { Kind::Labour } else { said.kind.unwrap_or(facts.kind).into() };
        if kind == Kind::Prize {
            // What was won makes no job cheaper.
            (said.jobs, said.on) = (Vec::new(), false);
        }
        let back = matches!(entry.verb, Verb::Credit | Verb::Result);
        for to in self.concerned(index, said, to) {
            self.post(index, to, kind, None).back |= back;
        }
    }

    /// Where the money of a line with a mistake may belong: where its head says, and to every job, client and car that it names.
    fn concerned(&self, index: EntryId, said: Mentioned, to: Belongs) -> Vec<Belongs> {
        let Mentioned { jobs, clients, cars, to: payer, on, .. } = said;
        let mut own = to;
        if let Some(payer) = payer {
            own.client = Some(payer);
        }
        own.job = own.job.or(jobs.first().copied());
        let mut all = vec![own];
        let of_job = |job: JobId| self.history.jobs.all.get(job).and_then(|job| job.car);
        // A job that nobody can make out may be any of the car's.
        let any = self
            .book
            .jobs
            .keys()
            .filter(|job| on && jobs.is_empty() && to.job.is_none() && of_job(*job) == to.car);
        for job in jobs.iter().copied().filter(|job| own.job != Some(*job)).chain(any) {
            let car = of_job(job).or(to.car);
            all.push(Belongs { job: Some(job), car, client: self.client(car, index), ..to });
        }
        let cars = cars.into_iter().filter(|car| to.car != Some(*car));
        all.extend(cars.map(|car| Belongs {
            car: Some(car),
            client: self.client(Some(car), index),
            job: None,
            ..to
        }));
        let known: Vec<Option<ClientId>> = all.iter().map(|to| to.client).collect();
        let clients = clients.into_iter().filter(|client| !known.contains(&Some(*client)));
        all.extend(clients.map(|client| Belongs { client: Some(client), ..to }));
        all
    }

    fn sale(&mut self, index: EntryId, entry: &Entry, facts: &PartFacts, to: Belongs) {
        if facts.money.is_none() && !facts.money_lost {
            return;
        }
        let Some(part) = entry.part() else {
            if let (Some(car), Some(price)) = (facts.car, facts.money) {
                self.booked.sold.push(SoldCar { car, price, entry: index });
            }
            return;
        };
        // What it brings goes to the car it came off, in stock to the shop: never to the buyer's own, which it may go on next.
        let rank = self.history.rank(self.book, index);
        let before = self.history.parts.get(part).stays.iter().filter(|stay| stay.from < rank);
        let last = before.rev().find_map(|stay| stay.car);
        let buys = |car: CarId| facts.buyer.is_some() && self.client(Some(car), index) == facts.buyer;
        let car = to.car.filter(|car| !buys(*car) || last == Some(*car)).or(last);
        let from = Belongs { car, client: self.client(car, index), ..to };
        self.post(index, from, Kind::Sold, facts.money.map(Amount::negated)).part = Some(part);
        // Who buys owes the sum, as he does of a part that is moved to his car: what he pays then is for something that was booked.
        if let Some(buyer) = facts.buyer {
            let into = Belongs { car: None, client: Some(buyer), job: None, ..to };
            self.post(index, into, Kind::Transfer, facts.money).part = Some(part);
        }
    }
}

/// Posts those of the lines that state money or hours.
pub fn lines(with: With<'_>, stated: &[EntryId]) -> Booked {
    let book = with.book;
    let mut fold = Fold::new(with);
    for index in stated.iter().copied() {
        let Some(entry) = book.entries.get(index) else { continue };
        if matches!(entry.verb, Verb::Quote | Verb::Hit | Verb::Paid | Verb::Borrow) {
            continue;
        }
        let Some(mut to) = fold.belongs(index) else { continue };
        if entry.broken && matches!(entry.verb, Verb::Sell | Verb::Move) && entry.part().is_some() {
            // Whether it stated a sum its mistake may hide; what it would have brought or cost is not known.
            fold.lost_sum(index, entry, to);
            continue;
        }
        let Some(extra) = book.extra(entry) else { continue };
        if let Some(facts) = &extra.costs {
            to.event = facts.event.or(to.event);
            to.client = facts.client.or(to.client);
            // What was won makes no job cheaper.
            to.job = to.job.filter(|_| facts.kind != CostKind::Prize);
            let back = matches!(entry.verb, Verb::Credit | Verb::Result);
            if entry.broken {
                fold.lost(index, entry, facts, to);
            } else if entry.verb == Verb::Hours {
                fold.hours(index, facts, to);
                fold.perhaps(index, Kind::Labour, to, back);
            } else {
                fold.cost(index, facts, to, back);
                if facts.split.is_none() {
                    fold.perhaps(index, Kind::from(facts.kind), to, back);
                }
            }
        } else if let Some(facts) = extra.parts.as_deref().filter(|_| !entry.broken) {
            if entry.verb == Verb::Buy {
                // A number of a kind is paid for when it comes, however much that was; a part with a name when it is first fitted.
                let kind = facts.kind.filter(|_| facts.count.is_some() && entry.part().is_none());
                if let Some(kind) = kind {
                    let books = book.kinds.get(kind).map_or(Kind::Parts, |kind| kind.books.into());
                    fold.post(index, to, books, facts.money);
                }
            } else if fold.history.parts.not_ours.contains(&index) {
                // A sum for what is not the shop's is nobody's.
            } else if entry.verb == Verb::Sell {
                fold.sale(index, entry, facts, to);
            } else if entry.verb == Verb::Move
                && let Some(part) = entry.part()
            {
                fold.transfer(index, part, facts, to);
            }
        }
    }
    fold.booked
}

/// Currencies that stayed apart from the shop's: the first line of each.
fn unexchanged(postings: &[Posting], with: With<'_>) -> Vec<Problem> {
    let home = with.home;
    let mut problems: Vec<Problem> = Vec::new();
    // Without a currency of the shop's own, the first one booked is the one that others stay apart from.
    let home = home.or_else(|| postings.iter().find_map(|posting| posting.amount).map(|sum| sum.currency));
    for posting in postings {
        let Some(other) = posting.amount.map(|sum| sum.currency).filter(|each| Some(*each) != home) else {
            continue;
        };
        // A rate with a mistake has its message.
        if home.is_some_and(|home| with.rates.has_lost(other, home)) {
            continue;
        }
        let known = problems.iter_mut().find_map(|problem| match problem {
            Problem::ExchangeMissing { currency, more, .. } if *currency == other => Some(more),
            _ => None,
        });
        match known {
            Some(more) => *more += 1,
            None => {
                problems.push(Problem::ExchangeMissing { entry: posting.entry, currency: other, more: 0 });
            }
        }
    }
    problems
}
