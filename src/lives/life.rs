//! One part's lives, read off its stays, its failures and its rebuilds.
//!
//! Must not know other parts, nor statistics.

use crate::book::Book;
use crate::book::entry::{EntryId, Verb};
use crate::book::model::{Clock, PartId, SpecId};
use crate::history::History;
use crate::history::order::Rank;
use crate::history::partly;
use crate::history::parts::{PartHistory, Rebuild, Stay, Where};
use crate::history::sessions::Session;
use crate::history::tally::Tally;
use crate::history::untold::may_have_run;
use crate::sorted;
use jiff::civil::Date;

/// How a life stands or ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum End {
    /// Still on a car.
    Running,
    /// On a car when the car, or the part with it, was sold: how it went on is not in this book.
    RunningSold,
    /// Off while good: on the shelf, in quarantine, scrapped or sold.
    Good(Where),
    /// A rebuild ended it while it was good; the line.
    Rebuilt(EntryId),
    /// It failed; the line that says so.
    Failed(EntryId),
    /// Never on a car, and nothing known of any use before the book: it has not begun.
    Unused,
    /// It ran on after a failure without any work in the book: no life that could be told apart. The failure's line.
    Unmended(EntryId),
}

/// One life: from new or from a rebuild to a failure, the next rebuild, or now.
#[derive(Debug, Clone)]
pub struct Life {
    /// Whose.
    pub part: PartId,
    /// 1 from new, 2 after the first rebuild.
    pub number: u32,
    /// Its spec.
    pub spec: Option<SpecId>,
    /// First rank.
    pub from: Rank,
    /// One past the last rank that counts for it; [`Rank::END`] while it may still run.
    pub until: Rank,
    /// What it ran in the book since it was new or rebuilt.
    pub run: Tally,
    /// How much of that it had run when this life began: something only for a life that goes on after a failure with
    /// nothing made new, which is as old as it was.
    pub start: Option<Box<Tally>>,
    /// Whether it began with a rebuild, or goes on from a life that did.
    pub renewed: bool,
    /// The date it first went on a car in this life.
    pub first: Option<Date>,
    /// The date it ended; `None` while it may still run.
    pub ended: Option<Date>,
    /// How.
    pub end: End,
    /// It came to the shop used: what it had run before is known at best, and such parts are only seen because they
    /// lived that long.
    pub came_used: bool,
}

/// How long a life was on one clock.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Lived {
    /// Seconds, metres or a count, with what it had run before the book.
    pub value: f64,
    /// How much of it is from before the book; `None` where that is not known.
    pub before: Option<f64>,
    /// Something is not known: the value is a lower bound.
    pub at_least: bool,
}

impl Life {
    /// Its length on a clock. Months are calendar time, not lived, and come out as not known.
    #[must_use]
    pub fn on(&self, book: &Book, clock: Clock) -> Lived {
        let (value, at_least) = self.run.on(clock);
        let before = self.before(book, clock);
        Lived { value: value + before.unwrap_or(0.0), before, at_least: at_least || before.is_none() }
    }

    /// Its age when it began; `None` where that is not known. Nothing from new or from a rebuild.
    #[must_use]
    pub fn began_at(&self, book: &Book, clock: Clock) -> Option<f64> {
        let Some(start) = &self.start else { return Some(0.0) };
        let (value, at_least) = start.on(clock);
        self.before(book, clock).filter(|_| !at_least).map(|before| before + value)
    }

    /// What it had run before the book: nothing after a rebuild, else as declared.
    fn before(&self, book: &Book, clock: Clock) -> Option<f64> {
        if self.renewed {
            return Some(0.0);
        }
        let part = book.parts.get(self.part)?;
        let stated = part.opening.iter().find(|amount| amount.clock == clock);
        stated.map(|amount| amount.value).or(part.opening_new.then_some(0.0))
    }

    /// Whether it may still run: on a car, or good and kept.
    #[must_use]
    pub const fn may_run(&self) -> bool {
        matches!(
            self.end,
            End::Running | End::Unused | End::Good(Where::Shelf | Where::New | Where::Inside(_))
        )
    }
}

/// What may end a life, or begin one.
#[derive(Clone, Copy)]
enum Mark {
    Failed(EntryId),
    Mended,
    Rebuilt(EntryId),
}

/// The lives of a part, as the book knew them at the moment before rank `cut`.
#[must_use]
pub fn of(book: &Book, history: &History, part: PartId, cut: Rank) -> Vec<Life> {
    let told = history.parts.get(part);
    let stays = sorted::until(&told.stays, |stay| stay.from < cut);
    let mut marks = marks(book, history, told, cut);
    marks.reverse();
    // Few failures say the lap or the stage; the others count whole sessions.
    let lapped: Vec<EntryId> = told
        .failures
        .iter()
        .copied()
        .filter(|failure| partly::is_told(book, history, *failure) && known(book, history, *failure, cut))
        .collect();
    let mut lives = vec![begin(book, told, part)];
    for stay in stays {
        let Some(car) = stay.car else {
            away(book, history, told, (stay.from, stay.until.min(cut)), cut, (&mut marks, &mut lives));
            continue;
        };
        let Some(odometer) = history.odometer(car) else { continue };
        let mut places = odometer.between(stay.from, stay.until.min(cut));
        let sure = odometer.between(stay.from, history.parts.sure(part, stay).min(cut)).end;
        while let Some(rank) = odometer.rank(places.start).filter(|_| !places.is_empty()) {
            while let Some((rank, mark)) = marks.pop_if(|(at, _)| *at <= rank) {
                apply(book, history, &mut lives, rank, mark);
            }
            // All the sessions up to the next mark belong to one life.
            let next = marks.last().map_or(places.end, |(at, _)| odometer.between(rank, *at).end);
            // From a line with a mistake on nobody knows whether it ran.
            let bound = if places.start < sure { sure } else { places.end };
            let leg = places.start..next.min(places.end).min(bound);
            places.start = leg.end;
            unmended(&mut lives, rank);
            let Some(life) = lives.last_mut() else { continue };
            if leg.start >= sure {
                life.run.unsure();
                continue;
            }
            if let Some(whole) = odometer.leg(leg.clone()).filter(|_| lapped.is_empty()) {
                life.run.add_leg(whole);
                continue;
            }
            for session in history.sessions.ran_at(car, leg) {
                life.run.add(&partly::up_to(book, history, &lapped, session));
            }
        }
    }
    while let Some((rank, mark)) = marks.pop() {
        apply(book, history, &mut lives, rank, mark);
    }
    untold(history, part, cut, &mut lives);
    for life in &mut lives {
        life.first = first(book, history, stays, life);
    }
    close(book, history, stays, cut, &mut lives);
    lives
}

/// What a part may have run that no session tells of makes its life "at least", and those that go on from that.
fn untold(history: &History, part: PartId, cut: Rank, lives: &mut [Life]) {
    let told = history.parts.get(part);
    let mut new = Rank::START;
    for life in lives {
        if told.rebuilds.iter().any(|rebuild| rebuild.rank == life.from) {
            new = life.from;
        }
        if may_have_run(history, part, new, life.until.min(cut)) {
            life.run.unsure();
        }
        if let Some(start) = life.start.as_deref_mut().filter(|_| may_have_run(history, part, new, life.from))
        {
            start.unsure();
        }
    }
}

/// Adds what a part ran while it was lent in a stay off every car; what it ran counts up to the line that says so.
fn away(
    book: &Book,
    history: &History,
    told: &PartHistory,
    (from, until): (Rank, Rank),
    cut: Rank,
    (marks, lives): (&mut Vec<(Rank, Mark)>, &mut Vec<Life>),
) {
    for loan in told.lent_between(from, until) {
        // The stay in which it comes back is the next one.
        if loan.out.0 < from {
            continue;
        }
        let end = loan.back.map_or(cut, |(back, _)| back.min(cut));
        while let Some((rank, mark)) = marks.pop_if(|(at, _)| *at < end) {
            apply(book, history, lives, rank, mark);
        }
        if let Some(life) = lives.last_mut() {
            life.run.add_away(loan.ran(book, cut));
        }
    }
}

/// The life from new.
fn begin(book: &Book, told: &PartHistory, part: PartId) -> Life {
    let declared = book.parts.get(part);
    let bought = || told.lines.iter().any(|line| book.entries[*line].verb == Verb::Buy);
    Life {
        part,
        number: 1,
        spec: declared.and_then(|part| part.spec),
        from: Rank::START,
        until: Rank::END,
        run: Tally::default(),
        start: None,
        renewed: false,
        first: None,
        ended: None,
        end: End::Running,
        came_used: opened(book, part) && bought(),
    }
}

impl Life {
    /// The life after this one: from nothing after a rebuild, else as old as this one was.
    fn next(&self, rank: Rank, renewed: bool) -> Self {
        let run = if renewed { Tally::default() } else { self.run.clone() };
        Self {
            number: self.number + 1,
            from: rank,
            until: Rank::END,
            start: (!renewed && !run.is_empty()).then(|| Box::new(run.clone())),
            run,
            renewed: renewed || self.renewed,
            first: None,
            ended: None,
            end: End::Running,
            came_used: self.came_used && !renewed,
            ..*self
        }
    }
}

/// The session that a line that says a part failed comes after: the one that its `after` names.
fn named<'a>(book: &Book, history: &'a History, failure: EntryId) -> Option<&'a Session> {
    let entry = &book.entries[failure];
    book.extra(entry).and_then(|extra| extra.after)?;
    history.sessions.named.get(&failure).map(|id| history.sessions.get(*id))
}

/// When such a line was said: where it stands, or after the session that it names.
fn said(book: &Book, history: &History, failure: EntryId) -> Rank {
    named(book, history, failure).map_or(history.order.rank[failure], |session| session.after)
}

/// Whether it was said at the moment before rank `cut`. The moment after a session is one in which all of it is known.
fn known(book: &Book, history: &History, failure: EntryId, cut: Rank) -> bool {
    match named(book, history, failure) {
        Some(session) => session.after <= cut,
        None => history.order.rank[failure] < cut,
    }
}

/// Failures, mends and rebuilds in order. A failure in a session counts to the end of that session, whenever it was found.
fn marks(book: &Book, history: &History, told: &PartHistory, cut: Rank) -> Vec<(Rank, Mark)> {
    let mut marks: Vec<(Rank, Mark)> = Vec::new();
    for failure in &told.failures {
        if !known(book, history, *failure, cut) {
            continue;
        }
        let said = said(book, history, *failure);
        let run = history.during(book, *failure).filter(|_| book.entries[*failure].verb == Verb::Failed);
        // What broke at a stop ran up to it.
        let stop = book.entries[*failure].parent.filter(|above| Some(*above) != run);
        let end = |run: EntryId| match stop {
            Some(_) => said.max(history.order.rank[run].next()),
            None => history.sessions.over(run).unwrap_or(history.order.rank[run].next()),
        };
        let rank = run.map_or(said, end);
        marks.push((rank, Mark::Failed(*failure)));
    }
    let known = |work: &&Rebuild| work.rank < cut;
    marks.extend(told.mends.iter().filter(known).map(|mend| (mend.rank, Mark::Mended)));
    let rebuilds = told.rebuilds.iter().filter(known);
    marks.extend(rebuilds.map(|rebuild| (rebuild.rank, Mark::Rebuilt(rebuild.entry))));
    marks.sort_by_key(|(rank, _)| *rank);
    marks
}

fn apply(book: &Book, history: &History, lives: &mut Vec<Life>, rank: Rank, mark: Mark) {
    let date = |entry: EntryId| history.order.date(book, entry);
    let Some(life) = lives.last_mut() else { return };
    match mark {
        Mark::Failed(entry) => {
            // A second line about the same break adds nothing.
            if matches!(life.end, End::Running) {
                (life.end, life.until, life.ended) = (End::Failed(entry), rank, history.day_of(book, entry));
            }
        }
        Mark::Mended => {
            if matches!(life.end, End::Failed(_) | End::Unmended(_)) {
                let next = life.next(rank, false);
                lives.push(next);
            }
        }
        Mark::Rebuilt(entry) => {
            if matches!(life.end, End::Running) {
                (life.end, life.until, life.ended) = (End::Rebuilt(entry), rank, date(entry));
            }
            let next = life.next(rank, true);
            lives.push(next);
        }
    }
}

/// A session after a failure that nothing has put right.
fn unmended(lives: &mut Vec<Life>, rank: Rank) {
    let Some(last) = lives.last() else { return };
    if let End::Failed(entry) = last.end {
        let next = Life { end: End::Unmended(entry), ..last.next(rank, false) };
        lives.push(next);
    }
}

/// The date it first went on a car within its life.
fn first(book: &Book, history: &History, stays: &[Stay], life: &Life) -> Option<Date> {
    let stay =
        stays.iter().find(|stay| stay.car.is_some() && stay.until > life.from && stay.from < life.until)?;
    let date = |entry: EntryId| history.order.date(book, entry);
    let put = date(stay.entry);
    // A rebuild in its place starts the life where it stands.
    let begun = history
        .parts
        .get(life.part)
        .rebuilds
        .iter()
        .find(|rebuild| rebuild.rank == life.from)
        .and_then(|rebuild| date(rebuild.entry));
    if stay.from < life.from { begun.or(put) } else { put }
}

/// How the last life stands.
fn close(book: &Book, history: &History, stays: &[Stay], cut: Rank, lives: &mut [Life]) {
    for life in lives.iter_mut() {
        let used = !life.renewed && opened(book, life.part)
            || life.start.is_some()
            || may_have_run(history, life.part, life.from, life.until.min(cut));
        if life.first.is_none() && !used && matches!(life.end, End::Running | End::Rebuilt(_)) {
            life.end = End::Unused;
        }
    }
    let Some(last) = lives.last_mut().filter(|life| life.end == End::Running) else { return };
    let Some(stay) = stays.last() else {
        last.end = End::Good(Where::New);
        return;
    };
    let before = stays.iter().rev().nth(1);
    last.end = match stay.at {
        _ if stay.car.is_some() => End::Running,
        // One that came off a car and lies with the client it was sold to was not sold running.
        Where::Sold
            if before.is_some_and(|before| before.car.is_some())
                && history.parts.get(last.part).was_sold_by(stay.entry) =>
        {
            End::RunningSold
        }
        // An assembly was sold with it inside.
        Where::Inside(_)
            if before.is_some_and(|before| before.car.is_some())
                && sold(history, stay.at, cut.min(stay.from.next())) =>
        {
            End::RunningSold
        }
        there => End::Good(there),
    };
    if last.end != End::Running {
        // It ended when it came off, wherever it went from there.
        let off = history.parts.get(last.part).came_off(cut).unwrap_or(stay);
        last.ended = history.order.date(book, off.entry);
    }
}

/// Whether something is known of its use before the book.
fn opened(book: &Book, part: PartId) -> bool {
    book.parts.get(part).is_some_and(|part| part.opening.iter().any(|amount| amount.value > 0.0))
}

/// Whether the assembly that a part is inside of had been sold by then.
fn sold(history: &History, there: Where, cut: Rank) -> bool {
    let mut at = there;
    // Assemblies never hold themselves; the count guards against a book that says so.
    for _ in 0..64 {
        match at {
            Where::Inside(assembly) => {
                let stay = history.parts.get(assembly).at(cut);
                if stay.is_some_and(|stay| history.parts.get(assembly).was_sold_by(stay.entry)) {
                    return true;
                }
                at = stay.map_or(Where::New, |stay| stay.at);
            }
            _ => return false,
        }
    }
    false
}
