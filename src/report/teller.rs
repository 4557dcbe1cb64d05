//! What every view needs to tell: where a line stands, what is wrong with it, what an entry's words are.
//!
//! Must not know templates, nor any one view.

use super::sources;
use super::travels::Travels;
use crate::Compiled;
use crate::answer::trials::planned::{self, PlannedView};
use crate::book::calendar::Calendar;
use crate::book::entry::{By, Condition, Entry, EntryId, Head, Verb};
use crate::book::model::{CarId, EventId, PartId};
use crate::book::registers::registers;
use crate::check::Context;
use crate::diagnostics::{Diagnostic, Severity};
use crate::due::{Ask, Due, due, plan};
use crate::history::order::Rank;
use crate::history::sessions::Session;
use crate::lives::{Lives, lives};
use crate::source::{FileId, Span};
use crate::trials::best::{self, Comparable};
use crate::trials::{self, Planned, Trial};
use jiff::civil::Date;
use std::collections::BTreeMap;
use std::sync::OnceLock;

/// The confidence that the spares of the list before the next event are enough; what `stringline due` takes too.
pub(super) const ENOUGH: f64 = 0.9;

/// A compiled book with its messages by line.
pub(super) struct Teller<'a> {
    pub(super) cx: Context<'a>,
    pub(super) compiled: &'a Compiled,
    /// The driver's words that the page between sessions was asked for; empty where it was not.
    pub(super) asked: String,
    wrong: BTreeMap<(FileId, u32), Vec<usize>>,
    of: BTreeMap<Option<CarId>, Vec<usize>>,
    homes: Vec<Option<(FileId, Date)>>,
    until: Option<Date>,
    lines: Vec<OnceLock<Vec<(Rank, EntryId)>>>,
    failed: OnceLock<BTreeMap<CarId, Vec<(PartId, EntryId)>>>,
    calendar: OnceLock<Calendar>,
    ahead: OnceLock<Calendar>,
    gauges: OnceLock<Vec<bool>>,
    lives: OnceLock<Lives>,
    travels: OnceLock<Travels>,
    due: OnceLock<Option<Due>>,
    dues: Vec<OnceLock<Option<Due>>>,
    due_now: OnceLock<Option<Due>>,
    trials: Vec<OnceLock<Vec<Trial>>>,
    planned: Vec<OnceLock<Vec<(Planned, PlannedView)>>>,
    comparable: Vec<OnceLock<Comparable>>,
}

/// The day of the last block that tells its reader something: he may read a line of it, or it is of a car that was his then; and of what he pays he
/// reads the sum and the day. What others' lines are typed on is no day of his book; what was handed out is no news of any, nor is what a later day
/// says of an earlier one.
pub(super) fn written_until(compiled: &Compiled) -> Option<Date> {
    let (book, history) = (&compiled.book, &compiled.history);
    let his = |head: &Head, car: CarId| {
        let first = history.order.rank.get(head.first).filter(|_| head.first < head.end);
        let owner = history.parts.owner(book, car, first.copied().unwrap_or(Rank::END));
        book.cars.get(car).is_some_and(|car| !car.withheld) && owner == compiled.reader
    };
    let read = |head: &Head| book.entries.within(head.first..head.end).iter().any(|entry| !entry.withheld);
    let shown =
        |head: &Head| compiled.whole.is_none() || read(head) || head.car.is_some_and(|car| his(head, car));
    let told = |head: &&Head| {
        let later = compiled.upto.is_some_and(|day| head.date > day);
        head.is_dated() && !later && shown(head) && !registers(&book.entries, head)
    };
    let paid = |client| compiled.costs.postings.iter().filter(move |one| one.client == Some(client));
    let billed = compiled.reader.into_iter().flat_map(paid).filter_map(|one| book.entries.get(one.entry));
    let billed = billed.filter_map(|line| book.head(line)).filter(|head| head.is_dated());
    book.heads.iter().filter(told).chain(billed).map(|head| head.date).max()
}

impl<'a> Teller<'a> {
    pub(super) fn new(compiled: &'a Compiled) -> Self {
        let cx = compiled.context();
        let mut lines: BTreeMap<(CarId, FileId), u32> = BTreeMap::new();
        let mut homes: Vec<Option<(FileId, Date)>> = vec![None; cx.book.cars.len()];
        for head in &cx.book.heads {
            let Some(car) = head.car else { continue };
            let own = lines.entry((car, head.span.file)).or_default();
            *own += head.lines().len() as u32;
            if let Some(home) = homes.get_mut(car.index()) {
                let last = home.map_or(head.date, |(_, last)| last.max(head.date));
                *home = Some((head.span.file, last));
            }
        }
        for ((car, file), own) in &lines {
            if let Some(Some((home, _))) = homes.get_mut(car.index())
                && lines.get(&(*car, *home)).is_none_or(|most| own > most)
            {
                *home = *file;
            }
        }
        let until = compiled.at.or_else(|| written_until(compiled));
        let (wrong, of) = (BTreeMap::new(), BTreeMap::new());
        let mut tell = Self {
            cx,
            compiled,
            asked: String::new(),
            wrong,
            of,
            homes,
            until,
            lines: cx.book.cars.iter().map(|_| OnceLock::new()).collect(),
            failed: OnceLock::new(),
            calendar: OnceLock::new(),
            ahead: OnceLock::new(),
            gauges: OnceLock::new(),
            lives: OnceLock::new(),
            travels: OnceLock::new(),
            due: OnceLock::new(),
            due_now: OnceLock::new(),
            dues: compiled.book.events.iter().map(|_| OnceLock::new()).collect(),
            trials: cx.book.cars.iter().map(|_| OnceLock::new()).collect(),
            planned: cx.book.cars.iter().map(|_| OnceLock::new()).collect(),
            comparable: cx.book.cars.iter().map(|_| OnceLock::new()).collect(),
        };
        for (index, one) in compiled.diagnostics.iter().enumerate() {
            if let Some(mark) = &one.at {
                let at = (mark.span.file, tell.line(mark.span));
                tell.wrong.entry(at).or_default().push(index);
            }
        }
        for (index, one) in compiled.diagnostics.iter().enumerate() {
            let car = tell.car_of_message(one);
            tell.of.entry(car).or_default().push(index);
        }
        tell
    }

    /// The trials of a car, worked out when first asked for.
    pub(super) fn trials(&self, car: CarId) -> &[Trial] {
        let Some(of_car) = self.trials.get(car.index()) else { return &[] };
        of_car.get_or_init(|| trials::of_car(self.compiled.facts(), car))
    }

    /// The trials that were declared of a car, worked out when first asked for.
    pub(super) fn planned(&self, car: CarId) -> &[(Planned, PlannedView)] {
        let Some(of_car) = self.planned.get(car.index()) else { return &[] };
        of_car.get_or_init(|| planned::of_car(self.compiled, car))
    }

    /// The runs of a car that can be compared, worked out when first asked for.
    pub(super) fn comparable(&self, car: CarId) -> Option<&Comparable> {
        let of_car = self.comparable.get(car.index())?;
        Some(of_car.get_or_init(|| best::comparable(self.compiled.facts(), car)))
    }

    /// The line of a span, from 1.
    pub(super) fn line(&self, span: Span) -> u32 {
        self.cx.files.line(span)
    }

    /// `bittern.sline:261`.
    pub(super) fn src(&self, span: Span) -> String {
        sources::lines(self.cx.files, [span])
    }

    /// The file that has most lines of a car.
    pub(super) fn home(&self, car: CarId) -> Option<FileId> {
        self.homes.get(car.index()).copied().flatten().map(|(file, _)| file)
    }

    /// The date of a car's last block.
    pub(super) fn last_of(&self, car: CarId) -> Option<Date> {
        self.homes.get(car.index()).copied().flatten().map(|(_, date)| date)
    }

    /// The lines of a car's blocks in order, each with its rank; worked out when first asked for.
    pub(super) fn lines_of(&self, car: CarId) -> &[(Rank, EntryId)] {
        let Some(lines) = self.lines.get(car.index()) else { return &[] };
        lines.get_or_init(|| self.cx.history.order.lines_of(self.cx.book, car))
    }

    /// What failed on a car, by the head of the line or, of shop work, by the car that the part came off last; in the order of the
    /// parts. Worked out once.
    pub(super) fn failed_on(&self, car: CarId) -> &[(PartId, EntryId)] {
        let all = self.failed.get_or_init(|| {
            let mut failed: BTreeMap<CarId, Vec<(PartId, EntryId)>> = BTreeMap::new();
            for (part, told) in (0..).map(PartId::new).zip(&self.cx.history.parts.all) {
                for line in &told.failures {
                    let rank = self.cx.rank(*line);
                    let came_off =
                        || told.stays.iter().rev().find(|stay| stay.from < rank && stay.car.is_some())?.car;
                    if let Some(car) = self.cx.car_of(*line).or_else(came_off) {
                        failed.entry(car).or_default().push((part, *line));
                    }
                }
            }
            failed
        });
        all.get(&car).map_or(&[], Vec::as_slice)
    }

    /// Which events each car goes to.
    pub(super) fn calendar(&self) -> &Calendar {
        self.calendar.get_or_init(|| Calendar::of(self.cx.book))
    }

    /// The same of events that are not over by the book's last line.
    pub(super) fn ahead(&self) -> &Calendar {
        self.ahead.get_or_init(|| Calendar::ahead(self.cx.book, self.until.unwrap_or(Date::MIN)))
    }

    /// Which gauges were used at an event.
    pub(super) fn gauges_at_events(&self) -> &[bool] {
        self.gauges.get_or_init(|| crate::due::gauges::at_events(self.cx.book))
    }

    /// Whether the book was cut for one reader: what is the shop's has no page then, nor has what rests on other cars' lives.
    pub(super) const fn is_cut(&self) -> bool {
        self.compiled.whole.is_some()
    }

    /// Whether the book has an error; a reader's, whether a line about his cars cannot be read.
    pub(super) fn any_error(&self) -> bool {
        if self.is_cut() {
            !self.compiled.unread.is_empty()
        } else {
            self.compiled.count(Severity::Error) > 0
        }
    }

    /// The date of the book's last block, or the day asked for: what it knows of, it knows up to then.
    pub(super) fn until(&self) -> Option<Date> {
        self.until
    }

    /// One past the rank of the last line that it tells of: of a moment, what later lines say of before is behind it.
    pub(super) fn end(&self) -> Rank {
        let (book, order) = (self.cx.book, &self.cx.history.order);
        self.compiled.upto.map_or(Rank::from(order.entries.len()), |day| order.after(book, day))
    }

    /// Every life of every part, by the whole book; worked out once.
    pub(super) fn lives(&self) -> &Lives {
        // What is due rests on the same lives, where no line is of a later day than the book's last.
        let whole = |due: &&Due| due.plan.cut >= self.end();
        if let Some(due) = self.due.get().and_then(Option::as_ref).filter(whole) {
            return &due.lives;
        }
        self.lives.get_or_init(|| lives(self.cx.book, self.cx.history, Rank::END))
    }

    /// Who was ever on which car and in what; worked out once.
    pub(super) fn travels(&self) -> &Travels {
        self.travels.get_or_init(|| Travels::new(self.cx.book, self.cx.history))
    }

    /// What is due before the first event that is not over by the book's last line; worked out once. `None` without one.
    pub(super) fn due(&self) -> Option<&Due> {
        let made = || {
            let event = self.next_event()?;
            Some(due(self.cx.facts, Ask { event: Some(event), today: self.until?, confidence: ENOUGH }))
        };
        self.due.get_or_init(made).as_ref()
    }

    /// What is due before an event that is not over by the book's last line; worked out once. `None` of one that is.
    pub(super) fn due_before(&self, event: EventId) -> Option<&Due> {
        if let Some(due) = self.due().filter(|due| due.plan.event == Some(event)) {
            return Some(due);
        }
        let made = || {
            let today = self.until?;
            let ahead = self.cx.book.events.get(event).is_some_and(|event| event.last > today);
            ahead.then(|| due(self.cx.facts, Ask { event: Some(event), today, confidence: ENOUGH }))
        };
        self.dues.get(event.index())?.get_or_init(made).as_ref()
    }

    /// What is due by use and date at the book's last line, whatever is to come; worked out once.
    pub(super) fn due_now(&self) -> Option<&Due> {
        let made = || Some(due(self.cx.facts, Ask { event: None, today: self.until?, confidence: ENOUGH }));
        self.due_now.get_or_init(made).as_ref()
    }

    /// The first event that a car goes to and that is not over by the book's last line. Told by the book, never by the clock: a
    /// page changes when the book does.
    pub(super) fn next_event(&self) -> Option<EventId> {
        plan::next_event(self.cx.book, self.cx.history, self.until?.tomorrow().ok()?)
    }

    /// The line of an entry; empty for the car's own declaration.
    pub(super) fn src_of(&self, entry: EntryId) -> String {
        self.entry(entry).map_or_else(String::new, |entry| self.src(entry.span()))
    }

    pub(super) fn entry(&self, id: impl Into<Option<EntryId>>) -> Option<&'a Entry> {
        self.cx.book.entries.get(id.into()?)
    }

    /// Numbers (from 0) of the messages about the line of a span.
    pub(super) fn messages(&self, span: Span) -> &[usize] {
        self.wrong.get(&(span.file, self.line(span))).map_or(&[], Vec::as_slice)
    }

    /// Messages whose line belongs to the car, with their numbers in the book's list.
    pub(super) fn messages_of(&self, car: CarId) -> impl Iterator<Item = (usize, &'a Diagnostic)> {
        self.messages_about(Some(car))
    }

    /// How many errors the lines about a car have; to a reader, how many of them cannot be read while it is his.
    pub(super) fn errors_of(&self, car: CarId) -> usize {
        if self.is_cut() {
            return self.compiled.unread.get(&car).copied().unwrap_or_default();
        }
        Self::count(self.messages_of(car), Severity::Error)
    }

    /// Messages whose line belongs to no car.
    pub(super) fn messages_of_book(&self) -> impl Iterator<Item = (usize, &'a Diagnostic)> {
        self.messages_about(None)
    }

    fn messages_about(&self, car: Option<CarId>) -> impl Iterator<Item = (usize, &'a Diagnostic)> {
        let list = self.of.get(&car).map_or(&[][..], Vec::as_slice);
        list.iter().filter_map(|index| Some((*index, self.compiled.diagnostics.get(*index)?)))
    }

    /// The date of the block that holds a span.
    pub(super) fn date_at(&self, span: Span) -> Option<Date> {
        let start = self.block_start(span)?;
        self.head_at(span.file, start).map(|head| head.date)
    }

    fn car_of_message(&self, one: &Diagnostic) -> Option<CarId> {
        let span = one.at.as_ref()?.span;
        let start = self.block_start(span)?;
        if let Some(head) = self.head_at(span.file, start) {
            return head.car;
        }
        let cars = self.cx.book.cars.iter();
        let declared = cars.enumerate().find(|(_, car)| {
            let at = car.named.declared;
            at.file == span.file && self.line_start(at) == Some(start)
        });
        declared.map(|(index, _)| CarId::from(index))
    }

    /// First byte of the line that a span starts in.
    fn line_start(&self, span: Span) -> Option<usize> {
        let above = self.cx.files.get(span.file)?.text.get(..span.start as usize)?;
        Some(above.rfind('\n').map_or(0, |end| end + 1))
    }

    /// First byte of the column-0 line that opens the block a span stands in.
    fn block_start(&self, span: Span) -> Option<usize> {
        let text = self.cx.files.get(span.file)?.text.as_str();
        let mut start = self.line_start(span)?;
        loop {
            let first = text.get(start..).and_then(|rest| rest.chars().next());
            if first.is_some_and(|c| !c.is_whitespace() && c != '#') {
                return Some(start);
            }
            let above = text.get(..start)?.strip_suffix('\n')?;
            start = above.rfind('\n').map_or(0, |end| end + 1);
        }
    }

    fn head_at(&self, file: FileId, start: usize) -> Option<&'a crate::book::entry::Head> {
        let heads = &self.cx.book.heads;
        let at = heads.partition_point(|head| (head.span.file, (head.span.start as usize)) < (file, start));
        heads.get(at).filter(|head| head.span.file == file && self.line_start(head.span) == Some(start))
    }

    /// An event's name as typed.
    pub(super) fn event(&self, event: EventId) -> &'a str {
        self.cx.book.events.get(event).map_or("?", |event| &event.named.typed)
    }

    /// An event's title.
    pub(super) fn event_title(&self, event: EventId) -> &'a str {
        self.cx.book.events.get(event).map_or("?", |event| &event.named.title)
    }

    /// A session's label as typed.
    pub(super) fn label(&self, session: &Session) -> &'a str {
        self.cx.text(session.label)
    }

    /// The session that a `run` entry states.
    pub(super) fn session(&self, entry: EntryId) -> Option<&'a Session> {
        let history = self.cx.history;
        let rank = *history.order.rank.get(entry)?;
        let at = history.sessions.all.partition_point(|session| session.rank < rank);
        history.sessions.all.get(at).filter(|session| session.entry == entry)
    }

    /// The person or gauge that `by` names.
    pub(super) fn by(&self, by: By) -> Option<&'a str> {
        match by {
            By::Nobody => None,
            By::Gauge(gauge) => self.cx.book.gauges.get(gauge).map(|gauge| gauge.named.title.as_str()),
            By::Person(person) => self.cx.book.people.get(person).map(|person| person.named.title.as_str()),
        }
    }

    /// Who drove in a session, by name.
    pub(super) fn drivers(&self, session: &Session) -> Vec<&'a str> {
        let drivers = self.cx.history.sessions.drivers(session);
        let name = |driver| self.cx.book.people.get(driver).map(|person| person.named.title.as_str());
        drivers.into_iter().filter_map(name).collect()
    }

    /// Who drove in a session, under which conditions, and how many of its laps were behind flags.
    pub(super) fn about_run(&self, session: &Session) -> Vec<String> {
        let entry = self.entry(session.entry);
        let mut about: Vec<String> = self.drivers(session).into_iter().map(ToOwned::to_owned).collect();
        about.extend(entry.map_or_else(Vec::new, |entry| self.conditions(entry)));
        let yellow = self.cx.book.runs.get(session.run).map_or(0, |run| run.yellow as usize);
        about.extend((yellow > 0).then(|| crate::words::count(yellow, "yellow lap", "yellow laps")));
        about
    }

    /// The words after `because`.
    pub(super) fn because(&self, entry: &Entry) -> Option<&'a str> {
        let span = self.cx.book.extra(entry)?.because?;
        Some(self.cx.text(span).trim()).filter(|text| !text.is_empty())
    }

    /// Conditions of an entry, as typed, each a text with its unit.
    pub(super) fn conditions(&self, entry: &Entry) -> Vec<String> {
        let list = self.cx.book.extra(entry).map_or(&[][..], |extra| extra.conditions.as_slice());
        list.iter().map(|condition| self.condition(condition)).collect()
    }

    /// A condition as typed, with its unit.
    pub(super) fn condition(&self, condition: &Condition) -> String {
        let text = self.cx.text(condition.said).trim().to_owned();
        let unit = condition.value.map_or("", |(_, unit)| unit.get().shown());
        let bare = text.ends_with(|c: char| c.is_ascii_digit()) && !unit.is_empty();
        if bare { format!("{text} {unit}") } else { text }
    }

    /// "quern-2, after s5", "before the first session of quern-2", "28 Jun": when an entry happened, for people.
    pub(super) fn moment(&self, index: EntryId) -> String {
        if self.entry(index).is_none() {
            return "as the car was declared".to_owned();
        }
        let Some(date) = self.cx.history.order.date(self.cx.book, index) else { return String::new() };
        format!("{}{}", super::words::short(date), self.at_event(index, self.cx.rank(index)))
    }

    /// The same with its year, of a line that may count from another rank than its own, as by its `after s6`.
    pub(super) fn since(&self, index: EntryId, rank: Rank) -> String {
        let Some(date) = self.cx.history.order.date(self.cx.book, index) else { return String::new() };
        format!("{} {}{}", super::words::short(date), date.year(), self.at_event(index, rank))
    }

    /// ", quern-2 after s5": where in its event a line counts from; empty for one at no event.
    fn at_event(&self, index: EntryId, rank: Rank) -> String {
        let Some(entry) = self.entry(index) else { return String::new() };
        let Some(head) = self.cx.book.head(entry) else { return String::new() };
        let (Some(car), Some(event)) = (head.car, head.event) else { return String::new() };
        let sessions = self.cx.history.sessions.between(car, Rank::START, rank);
        let before = sessions.last().map(|id| self.cx.history.sessions.get(*id));
        let before = before.filter(|session| session.event == Some(event));
        let during = self.entry(entry.parent).is_some_and(|up| up.verb == Verb::Run);
        match before {
            Some(session) if during => format!(", {} {}", self.event(event), self.label(session)),
            Some(session) => format!(", {} after {}", self.event(event), self.label(session)),
            None => format!(", {} before the first session", self.event(event)),
        }
    }

    /// How many messages of a severity are in a list.
    pub(super) fn count<'d>(
        list: impl Iterator<Item = (usize, &'d Diagnostic)>,
        severity: Severity,
    ) -> usize {
        list.filter(|(_, one)| one.severity == severity).count()
    }
}
