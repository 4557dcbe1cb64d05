//! The clock of one block: when each of its lines was, by the times typed and by the order of its lines.
//!
//! The rule. A typed time is an instant of the block's zone. Where the clock shows it twice, the offset behind it decides; else
//! the lines above, where only one of the two is not before them (for a session, before the end of the last); else, for a session, the minutes typed. What is then left
//! is asked about, and nothing is counted from it. A time that the clock skips is none. A time earlier than a line above, or than the head's, is the
//! next day's where the block has gone past midnight already; else it is asked about, and its line stands where it is typed.
//! A session whose end is not after its start ends the next day, unless it would then be too long to believe.
//!
//! Must not know other blocks, but for the moment that the lines above in the file have reached.

mod parts;

use super::problem::{Problem, Typed};
use super::rank::{Length, Order};
use super::time::{Face, Zone};
use super::within::{Edge, Within, Wrong};
use crate::book::Book;
use crate::book::dates::Offsets;
use crate::book::entry::{Entry, EntryId, Head, HeadId, RunId, Verb};
use crate::book::verbs::VerbGroup;
use jiff::civil::Date;

/// Longest session, in minutes, that is taken to have gone past midnight on the word of its times alone. A slip of the
/// twelve-hour clock (01:10 for 13:10) makes a session longer than this.
pub const LONGEST_PAST_MIDNIGHT: i32 = 720;

/// The clock of a block as it is read from line to line.
pub(super) struct Clock<'a> {
    pub book: &'a Book,
    pub zone: &'a mut Zone,
    pub head: &'a Head,
    pub order: &'a mut Order,
    pub problems: &'a mut Vec<Problem>,
    /// The moment that the last line so far was over at.
    now: i32,
    /// The latest moment that any line so far was over at: a line within a session does not undo that the session ended.
    latest: i32,
    /// The latest moment that a line so far stands at, or the time of the head; `None` before the first.
    floor: Option<i32>,
    /// The last time typed, as an instant, where it stands, and whether that ran back behind what stands above it.
    told: Option<(i32, Typed, bool)>,
    /// The last line of the block's own.
    last: Option<EntryId>,
    /// Whether a clock time decides where `now` is.
    decided: bool,
    /// The session whose parts are read.
    within: Option<Within>,
}

/// The instants that a time could be, the earlier first: one, or the two of a time that comes twice.
#[derive(Debug, Clone, Copy, Default)]
struct Instants([Option<i32>; 2]);

impl Instants {
    fn iter(&self) -> impl Iterator<Item = i32> + use<> {
        self.0.into_iter().flatten()
    }

    fn len(&self) -> usize {
        self.iter().count()
    }

    /// Those that are so; `None` where none is.
    fn only(&self, is: impl Fn(i32) -> bool) -> Option<Self> {
        let only = Self(self.0.map(|one| one.filter(|at| is(*at))));
        (only.len() > 0).then_some(only)
    }

    /// Those not before a moment; all, where every one is.
    fn from(self, bound: Option<i32>) -> Self {
        bound.and_then(|bound| self.only(|at| at >= bound)).unwrap_or(self)
    }
}

/// A session by its line.
struct Ran {
    start: i32,
    end: i32,
    length: Length,
    /// Whether its start is known.
    sure: bool,
    /// The moment that it was over at the earliest.
    over: i32,
}

/// When a line starts.
struct Start {
    /// The instants it could be.
    at: Instants,
    /// The date on the clock.
    date: Date,
    /// It is before a line above.
    backward: bool,
}

/// Why a typed time is no instant.
type Fault = fn(Typed, Date) -> Problem;

fn skipped(typed: Typed, date: Date) -> Problem {
    Problem::ClockSkipped { typed, date }
}

fn elsewhere(typed: Typed, date: Date) -> Problem {
    Problem::ClockOffsetWrong { typed, date }
}

fn instants(face: Face) -> Result<Instants, Fault> {
    match face {
        Face::Once(at) => Ok(Instants([Some(at), None])),
        Face::Twice(first, second) => Ok(Instants([Some(first), Some(second)])),
        Face::Never => Err(skipped),
        Face::Elsewhere => Err(elsewhere),
    }
}

impl<'a> Clock<'a> {
    /// Begins a block; `reached` is the moment that the file's lines above have come to on its day.
    pub fn begin(
        book: &'a Book,
        zone: &'a mut Zone,
        (id, head): (HeadId, &'a Head),
        reached: Option<i32>,
        order: &'a mut Order,
        problems: &'a mut Vec<Problem>,
    ) -> Self {
        let now = zone.day_start(head.date);
        let mut clock = Self {
            book,
            zone,
            head,
            order,
            problems,
            now,
            latest: now,
            floor: None,
            told: None,
            last: None,
            decided: false,
            within: None,
        };
        if let Some(typed) = head.clock {
            clock.head_time(id, typed as i16, reached);
        }
        if !clock.decided
            && let Some(reached) = reached.filter(|reached| *reached > clock.now)
            && clock.first_told().is_none_or(|first| first >= reached)
        {
            // A block without a time comes after what is typed above it.
            clock.now = reached;
        }
        clock.latest = clock.now;
        clock
    }

    fn head_time(&mut self, id: HeadId, typed: i16, reached: Option<i32>) {
        let date = self.head.date;
        let at = match instants(self.zone.face(date, typed, self.head.offset)) {
            Ok(at) => at.from(reached),
            Err(fault) => {
                self.problems.push(fault(Typed::Head(id), date));
                return;
            }
        };
        self.decided = at.len() == 1;
        let first = at.iter().next().unwrap_or(self.now);
        (self.now, self.floor, self.told) = (first, Some(first), Some((first, Typed::Head(id), false)));
        if at.len() > 1 {
            self.problems.push(Problem::ClockTwice { typed: Typed::Head(id), date });
        }
    }

    /// The earliest instant of the first time that stands on a line of the block's own.
    fn first_told(&mut self) -> Option<i32> {
        let book = self.book;
        let mut own = self.head.lines().filter(|index| book.entries[*index].parent.is_none());
        let first = own.find(|index| book.entries[*index].clock.0 >= 0)?;
        let (from, _) = self.offsets(first);
        let face = self.zone.face(self.head.date, book.entries[first].clock.0, from);
        instants(face).ok()?.iter().next()
    }

    fn offsets(&self, index: EntryId) -> Offsets {
        if self.book.offsets.is_empty() {
            return (None, None);
        }
        self.book.offsets.get(&index).copied().unwrap_or_default()
    }

    /// Reads every line; the moment the block ends at.
    pub fn read(mut self) -> i32 {
        for index in self.head.lines() {
            let entry = &self.with_its_parts(index);
            let mut own = None;
            if entry.parent.is_some() {
                own = self.line_under(index, entry);
            } else if entry.clock.0 < 0 {
                self.stand(index, self.now);
            } else {
                match self.start(index, entry) {
                    Ok(start) => self.line(index, entry, &start),
                    Err(problem) => self.lose(index, problem),
                }
            }
            if self.order.decided[index] || own.is_some() {
                let at = own.unwrap_or(self.order.at[index]);
                let date = self.zone.date_near(self.head.date, at);
                if date > self.head.date {
                    self.order.dates.insert(index, date);
                }
            }
        }
        self.latest
    }

    /// A line stands at a moment, which the lines below do not come before.
    fn stand(&mut self, index: EntryId, at: i32) {
        self.order.at[index] = at;
        self.order.decided[index] = self.decided;
        self.floor = self.floor.max(Some(at));
        self.last = Some(index);
        self.go_on(at);
        // Its laps and its result are about a session, and no session.
        let run =
            Some(&self.book.entries[index]).filter(|entry| entry.verb == Verb::Run).and_then(Entry::run);
        if let Some(end) = run.and_then(|run| self.order.ends.get_mut(run)) {
            *end = at;
        }
    }

    /// The block has come to a moment.
    fn go_on(&mut self, at: i32) {
        self.now = at;
        self.latest = self.latest.max(at);
    }

    /// A line whose time is none: what it says is not known to have been, and it stands where it is typed.
    fn lose(&mut self, index: EntryId, problem: Problem) {
        if !self.book.entries[index].broken {
            self.problems.push(problem);
        }
        self.order.lost.push(index);
        self.decided = false;
        self.stand(index, self.now);
    }

    /// The line whose time a session's is: its own, or that of its first part with one.
    fn timed(&self, index: EntryId) -> EntryId {
        let entry = &self.book.entries[index];
        let run = entry.run().filter(|_| entry.verb == Verb::Run && entry.clock.0 < 0);
        let mut parts =
            run.and_then(|run| self.book.runs.get(run)).into_iter().flat_map(|run| &run.stretches);
        let first = parts.find(|part| self.book.entries[part.entry].clock.0 >= 0);
        first.map_or(index, |part| part.entry)
    }

    /// The session that a line stands right under, as its parts are read.
    fn session_above(&mut self, entry: &Entry) -> Option<(Within, RunId)> {
        let above = entry.parent?;
        let run = self.book.entries.get(above).filter(|above| above.verb == Verb::Run)?.run()?;
        let known = self.within.filter(|within| within.run == above);
        let begins = || {
            // Where it begins twice by the clock it begins all the same.
            let timed = self.book.entries[above].clock.0 >= 0 || self.order.begun.contains(&run);
            Within::of(above, self.order.at[above], self.order.ends[run], timed)
        };
        Some((known.unwrap_or_else(begins), run))
    }

    /// A part of a session: when it was.
    fn part(&mut self, index: EntryId, entry: &Entry, mut within: Within, run: RunId) {
        let parts = self.book.runs.get(run).map_or(&[][..], |run| run.stretches.as_slice());
        let typed = parts.get(within.read).filter(|part| part.entry == index).and_then(|part| part.minutes);
        within.read += 1;
        let date = self.zone.date_near(self.head.date, within.start);
        let offsets = self.offsets(index);
        let (spell, wrong) = within.place(self.zone, date, (entry.clock, offsets), typed.map(whole));
        let before = within.last;
        let there = wrong.is_none_or(|(wrong, _)| matches!(wrong, Wrong::Back(_) | Wrong::EndsFirst));
        if entry.clock.0 >= 0 && there {
            within.last = Some(index);
        }
        if let Some((wrong, edge)) = wrong.filter(|_| !entry.broken) {
            let typed = if edge == Edge::End { Typed::End(index) } else { Typed::Start(index) };
            self.problems.push(match wrong {
                Wrong::Skipped(date) => skipped(typed, date),
                Wrong::Elsewhere(date) => elsewhere(typed, date),
                Wrong::EndsFirst => Problem::EndsFirst { entry: index },
                Wrong::Back(_) if before.is_some() => {
                    let above = before.unwrap_or(index);
                    let ended = self.order.spells.get(&above).is_some_and(|spell| spell.clocked.is_some());
                    let before = if ended { Typed::End(above) } else { Typed::Start(above) };
                    Problem::TimesBackward { entry: index, before }
                }
                Wrong::Back(_) | Wrong::Outside => Problem::OutsideSession { entry: index, run: within.run },
            });
        }
        let above = within.run;
        self.order.at[index] = spell.start;
        self.order.decided[index] = self.order.decided[above] && wrong.is_none();
        self.order.spells.insert(index, spell);
        self.within = Some(within);
    }

    /// A line under another happens when that does: under a session, at its end. Its own time must be one all the same, and the day is that of its
    /// own time, where the session has it: that moment is what comes back.
    fn line_under(&mut self, index: EntryId, entry: &Entry) -> Option<i32> {
        let session = self.session_above(entry);
        if let (Some((within, run)), VerbGroup::Stretch(_)) = (session, entry.verb.group()) {
            self.part(index, entry, within, run);
            return None;
        }
        let (mut at, decided) = under(self.book, entry, self.order);
        let mut own = None;
        if let Some((within, _)) = session.filter(|_| entry.clock.0 >= 0) {
            let date = self.zone.date_near(self.head.date, within.start);
            let offset = self.offsets(index).0;
            let note = entry.verb == Verb::Note;
            match within.moment(self.zone, date, (entry.clock.0, offset)) {
                Ok(moment) => {
                    own = Some(moment).filter(|_| self.order.decided[within.run]);
                    at = if note { moment } else { at };
                }
                Err(Wrong::Outside) if note && !entry.broken => {
                    self.problems.push(Problem::OutsideSession { entry: index, run: within.run });
                }
                Err(_) => {}
            }
        }
        self.order.at[index] = at;
        self.order.decided[index] = decided;
        if entry.clock.0 < 0 {
            return None;
        }
        let offsets = self.offsets(index);
        let typed =
            [(Typed::Start(index), entry.clock.0, offsets.0), (Typed::End(index), entry.clock.1, offsets.1)];
        for (typed, clock, offset) in typed.into_iter().filter(|(_, clock, _)| *clock >= 0) {
            let date = self.zone.date_near(self.head.date, at);
            let Err(fault) = instants(self.zone.face(date, clock, offset)) else { continue };
            // Before midnight, of a session that ended after it.
            if date > self.head.date && instants(self.zone.face(self.head.date, clock, offset)).is_ok() {
                continue;
            }
            if !entry.broken {
                self.problems.push(fault(typed, date));
            }
            self.order.lost.push(index);
            return None;
        }
        own
    }

    /// When a line's time is, on the block's day or, where that has gone past midnight, the next.
    fn start(&mut self, index: EntryId, entry: &Entry) -> Result<Start, Problem> {
        let (offset, _) = self.offsets(index);
        let floor = self.floor.unwrap_or(i32::MIN);
        let today = self.head.date;
        let next = today.tomorrow().unwrap_or(today);
        let past = self.floor.is_some() && self.latest >= self.zone.day_start(next);
        let mut found = instants(self.zone.face(today, entry.clock.0, offset));
        // `02:10 -04:00 run` is more likely a session's two times than an offset that nothing needs.
        if entry.verb == Verb::Run && entry.clock.1 < 0 && offset.is_some_and(|ahead| ahead < 0) {
            let (before, after) = self.zone.offsets(today, entry.clock.0);
            found = if before == after { Err(elsewhere) } else { found };
        }
        if let Some(at) = found.as_ref().ok().and_then(|at| at.only(|at| at >= floor)) {
            return Ok(self.clear(at, today, entry.verb == Verb::Run));
        }
        if past {
            let at = instants(self.zone.face(next, entry.clock.0, offset))
                .map_err(|fault| fault(Typed::Start(index), next))?;
            let latest = self.latest;
            if let Some(at) = at.only(|at| at >= floor && at - latest <= LONGEST_PAST_MIDNIGHT) {
                return Ok(self.clear(at, next, entry.verb == Verb::Run));
            }
        }
        let at = found.map_err(|fault| fault(Typed::Start(index), today))?;
        Ok(Start { at, date: today, backward: true })
    }

    /// Of two instants a session's is the one after the last line was over; any other line may have been within the session above.
    fn clear(&self, at: Instants, date: Date, runs: bool) -> Start {
        Start { at: at.from(Some(self.now).filter(|_| self.decided && runs)), date, backward: false }
    }

    /// A line with a time of its own.
    fn line(&mut self, index: EntryId, entry: &Entry, start: &Start) {
        let first = start.at.iter().next().unwrap_or(self.now);
        if start.backward {
            self.runs_back(index, first);
        }
        self.told = Some((first, Typed::Start(index), start.backward));
        let floor = self.floor.filter(|_| start.backward).map(|floor| floor.max(self.now));
        let run = entry.run().filter(|_| entry.verb == Verb::Run);
        let typed = run.and_then(|run| self.book.runs.get(run)).and_then(|run| run.minutes);
        let ran = if run.is_some() && entry.clock.1 >= 0 {
            match self.session(index, entry, start, typed) {
                Ok(ran) => ran,
                Err((problem, date)) => {
                    // Its start is known.
                    self.go_on(if start.backward { self.now } else { first.max(self.now) });
                    self.lose(index, problem);
                    // An end past midnight is none: the lines below are past midnight all the same.
                    if date > start.date {
                        let midnight = self.zone.day_start(date);
                        self.go_on(self.now.max(midnight));
                    }
                    return;
                }
            }
        } else {
            let sure = start.at.len() == 1;
            if !sure && !start.backward {
                let typed = Typed::Start(self.timed(index));
                self.problems.push(Problem::ClockTwice { typed, date: start.date });
            }
            let by_parts = run.filter(|_| sure);
            let (end, over, slip) =
                by_parts.map_or((None, first, false), |run| self.over_by_parts(index, run, first));
            match (end, typed) {
                (Some(end), None) if !slip => {
                    Ran { start: first, end, length: Length::Known(end - first), sure, over }
                }
                (Some(long), None) => {
                    let length = Length::Slip(long - first);
                    Ran { start: first, end: first, length, sure, over: first }
                }
                // Minutes typed may be without its stops.
                (_, typed) => {
                    let over = if slip { first } else { over };
                    let end = typed.map_or(first, |typed| over.max(first + whole(typed)));
                    Ran { start: first, end, length: Length::Untold, sure, over: over.max(end) }
                }
            }
        };
        self.decided = ran.sure && !start.backward;
        self.stand(index, floor.unwrap_or(ran.start));
        if let Some(run) = run {
            self.order.lengths[run] = ran.length;
            // When a session was whose start cannot have been is not known; only how long.
            if !start.backward {
                if ran.sure {
                    self.order.begun.insert(run);
                }
                self.order.ends[run] = ran.end;
                self.go_on(ran.over.max(self.now));
            }
        }
    }

    /// A time earlier than a line above: said once, and not again of the lines that follow it in time.
    fn runs_back(&mut self, index: EntryId, at: i32) {
        if self.told.is_some_and(|(before, _, back)| back && at >= before) {
            return;
        }
        let later = self.told.filter(|(before, ..)| at < *before).map(|(_, line, _)| line);
        if let Some(before) = later.or(self.last.map(Typed::Start)) {
            self.problems.push(Problem::TimesBackward { entry: self.timed(index), before });
        }
    }

    /// Start and end of a session, and what its times say of its length.
    fn session(
        &mut self,
        index: EntryId,
        entry: &Entry,
        start: &Start,
        typed: Option<f64>,
    ) -> Result<Ran, (Problem, Date)> {
        let (from, to) = entry.clock;
        let offsets = self.offsets(index);
        let first = start.at.iter().next().unwrap_or(self.now);
        let agrees =
            |pair: &(i32, i32)| typed.is_some_and(|typed| (typed - f64::from(pair.1 - pair.0)).abs() <= 1.0);
        let pairs = |ends: Instants| -> Vec<(i32, i32)> {
            let all = start.at.iter().flat_map(|start| ends.iter().map(move |end| (start, end)));
            all.filter(|(start, end)| end > start).collect()
        };
        let same = instants(self.zone.face(start.date, to, offsets.1));
        if let Err(fault) = same
            && to > from
        {
            return Err((fault(Typed::End(index), start.date), start.date));
        }
        let mut all = pairs(same.unwrap_or_default());
        let mut shortest = 0;
        // Only that the clock goes back between them puts the end after the start: that is said.
        let mut odd = !all.is_empty() && to <= from && offsets == (None, None);
        let unknown = |length, over: i32| {
            let end = first + typed.map_or(0, whole);
            Ran { start: first, end, length, sure: start.at.len() == 1, over: over.max(end) }
        };
        if all.is_empty() {
            let next = start.date.tomorrow().unwrap_or(start.date);
            let ends = instants(self.zone.face(next, to, offsets.1))
                .map_err(|fault| (fault(Typed::End(index), next), next))?;
            all = pairs(ends);
            shortest = all.iter().map(|(start, end)| end - start).min().unwrap_or(0);
            all.retain(|pair| pair.1 - pair.0 <= LONGEST_PAST_MIDNIGHT || agrees(pair));
        }
        if all.iter().any(agrees) {
            all.retain(agrees);
            odd = false;
        }
        let Some(&(start_at, end)) = all.first() else {
            // A slip of the pen: the end is not known, and the rest of the day stays where it is.
            return Ok(unknown(Length::Slip(shortest), first));
        };
        let sure = all.iter().all(|pair| pair.0 == start_at);
        if all.len() == 1 || agrees(&(start_at, end)) {
            // The minutes fit both starts: how long it was is known, and not when.
            if !sure && !start.backward {
                self.problems.push(Problem::ClockTwice { typed: Typed::Start(index), date: start.date });
            }
            let length = if odd { Length::Back(end - start_at) } else { Length::Known(end - start_at) };
            return Ok(Ran { start: start_at, end, length, sure, over: end });
        }
        let lengths = || all.iter().map(|(start, end)| end - start);
        let length = Length::Either(lengths().min().unwrap_or(0), lengths().max().unwrap_or(0));
        // Minutes that agree with neither have their own message.
        if typed.is_none() {
            let (typed, date) = if start.at.len() > 1 {
                (Typed::Start(index), start.date)
            } else {
                (Typed::End(index), self.zone.date_near(start.date, end))
            };
            self.problems.push(Problem::ClockTwice { typed, date });
        }
        let over = all.iter().map(|pair| pair.1).min().unwrap_or(first);
        Ok(unknown(length, over))
    }
}

/// Minutes as typed, as whole ones; no slip of the pen carries a session past the end of time.
fn whole(minutes: f64) -> i32 {
    libm::ceil(minutes).clamp(0.0, 1e6) as i32
}

/// When the line above a line is over, and whether times say so.
fn under(book: &Book, entry: &Entry, order: &Order) -> (i32, bool) {
    let mut next = entry.parent;
    let mut known = (0, false);
    while let Some((above, parent)) = next.and_then(|above| Some((above, book.entries.get(above)?))) {
        known = (order.at[above], order.decided[above]);
        if let Some(spell) = order.spells.get(&above) {
            // What is done at a stop is done when it begins; what stands under a stint or a stage is of its end.
            return (if parent.verb == Verb::Stop { spell.start } else { spell.end }, known.1);
        }
        if parent.verb == Verb::Run {
            let end = parent.run().and_then(|run| order.ends.get(run)).copied().unwrap_or(known.0);
            // Its end may be either of two, or is a slip: a line that is of its end is not known to have been then.
            let length = parent.run().and_then(|run| order.lengths.get(run));
            let unsure = matches!(length, Some(Length::Either(..) | Length::Slip(_)));
            return (end.max(known.0), known.1 && !unsure);
        }
        next = parent.parent.filter(|higher| *higher < above);
    }
    known
}
