//! One indented line: its clock, its verb, and the reader for that verb.

use super::Reader;
use crate::book::clauses;
use crate::book::dates::{clock, offset};
use crate::book::entry::{Audience, By, Entry, EntryId, Extra, HeadId, ItemId, PartFacts, Subject, Verb};
use crate::book::names::Thing;
use crate::book::read::near::near_verb;
pub(super) use crate::book::read::verb::verb_of;
use crate::book::side::Side;
use crate::book::spoken_for::audience_of_broken;
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::VerbGroup;
use crate::source::Span;
use crate::syntax::{Cursor, Line, LineKind, Shape, Word};

/// A chunk's mistakes beyond this many get no did-you-mean.
const MOST_SUGGESTIONS: usize = 200;

/// A line being read.
pub(super) struct Reading<'a> {
    pub cur: Cursor<'a>,
    pub entry: Entry,
    pub extra: Extra,
    /// Where the items of this line start.
    pub items: ItemId,
    /// A mistake of it has its message: no second one.
    pub said: bool,
    /// What it may survive.
    pub side: Side,
}

impl Reader<'_> {
    /// Reads a line and enters it; its id.
    pub(super) fn line(&mut self, line: &Line, parent: Option<EntryId>) -> EntryId {
        let bad = line.kind == LineKind::Bad;
        let words = if bad { self.chunk.salvaged_of(line) } else { self.chunk.words_of(line) };
        let mut cur = Cursor::new(self.chunk.file, self.text, words, (line.start, line.end));
        // Only the first mistakes of a file are shown; the nearest of twenty thousand names takes its time.
        cur.suggests = self.out.troubles.len() < MOST_SUGGESTIONS;
        let said = cur.said();
        let troubles = self.out.troubles.len();
        let no_car = (self.no_car, self.out.heads.last().map(|head| head.car_unknown));
        let mut reading = Reading {
            cur,
            entry: self.blank(said, parent, Verb::Note),
            extra: Extra::default(),
            items: self.out.items.next_key(),
            said: false,
            side: Side::default(),
        };
        let read = match line.kind {
            LineKind::Note => {
                self.note(&mut reading);
                Ok(())
            }
            LineKind::Bad => {
                // Said by syntax already. What it was about is read as far as it can be: that is not known any more.
                (reading.entry.broken, reading.said) = (true, true);
                let time = |word: Word| matches!(word.shape, Shape::Word | Shape::Clock);
                while reading.cur.peek().is_some_and(|word| !time(word)) {
                    reading.cur.bump();
                }
                self.verb_line(&mut reading)
            }
            _ => self.verb_line(&mut reading),
        };
        let mistake = reading.side.mistake.take();
        reading.entry.broken |= read.is_err();
        // One line, one message: the first mistake's.
        if let Some(trouble) = mistake.or(read.err())
            && !(reading.said || self.follows(&trouble))
        {
            self.trouble(trouble);
        }
        if bad {
            self.out.troubles.truncate(troubles);
            // Whether it is about a car is not known.
            self.no_car = no_car.0;
            if let Some((head, unknown)) = self.out.heads.as_vec().last_mut().zip(no_car.1) {
                head.car_unknown = unknown;
            }
            // Who might read it may stand in what is wrong with it.
            reading.extra.audience = Some(Audience::Shop);
        } else if reading.entry.broken {
            let whole = Cursor::new(self.chunk.file, self.text, words, (line.start, line.end));
            let audience = [reading.extra.audience, audience_of_broken(whole)];
            reading.extra.audience = audience.into_iter().flatten().min();
        }
        let items = self.out.items.len() - reading.items.index();
        reading.entry.items = reading.items;
        reading.entry.item_count = u16::try_from(items).unwrap_or(u16::MAX);
        self.enter(reading.entry, reading.extra)
    }

    fn blank(&self, span: Span, parent: Option<EntryId>, verb: Verb) -> Entry {
        Entry {
            file: span.file,
            start: span.start,
            end: span.end,
            head: self.out.heads.last_key().unwrap_or(HeadId::new(0)),
            parent,
            items: self.out.items.next_key(),
            extra: None,
            subject: Subject::Nothing,
            clock: (-1, -1),
            item_count: 0,
            quantity: None,
            by: By::Nobody,
            verb,
            void: false,
            broken: false,
            withheld: false,
        }
    }

    pub(super) fn enter(&mut self, mut entry: Entry, extra: Extra) -> EntryId {
        if !extra.is_empty() {
            entry.extra = Some(self.out.extras.push(extra));
        }
        self.out.entries.push(entry)
    }

    /// Whether a line lacks only what its car's declaration would say, had it been read: that has its message.
    fn follows(&self, trouble: &Trouble) -> bool {
        let Some(head) = self.out.heads.last() else { return false };
        let car = head.car.map(Thing::Car);
        let unread = if car.is_some() { self.book.unread.may_be(car, "toe-over") } else { head.car_unknown };
        matches!(trouble.what, What::ToeUnderspecified { direction: false, share: false, over: true })
            && unread
    }

    fn verb_line(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        if let Some(word) = reading.cur.take(Shape::Clock) {
            self.clock(reading, word);
        } else if let Some(span) = no_clock(&mut reading.cur) {
            // The rest of the line is read all the same: what it was about is not lost with its time.
            if !reading.said {
                self.trouble(Trouble { span, what: What::ClockImpossible });
            }
            (reading.entry.broken, reading.said) = (true, true);
        }
        let whole = reading.cur.clone();
        let Some(word) = reading.cur.take(Shape::Word) else {
            return Err(Trouble { span: reading.cur.here(), what: What::VerbUnknown { near: None } });
        };
        let text = reading.cur.str(word);
        let span = reading.cur.span(word);
        let Some(verb) = verb_of(text) else {
            let near = near_verb(self.book, &reading.cur, text).or_else(|| self.near_stint(reading, text));
            if !reading.said {
                self.trouble(Trouble { span, what: What::VerbUnknown { near: near.clone() } });
            }
            (reading.entry.broken, reading.said) = (true, true);
            let troubles = self.out.troubles.len();
            self.meant((reading, whole), near.as_deref(), span);
            self.out.troubles.truncate(troubles);
            return Ok(());
        };
        self.by_verb(reading, verb, span)
    }

    /// The rest of a line whose verb cannot be read: what the nearest verb would have touched is not known any more; where none is near,
    /// whatever the line names.
    fn meant<'a>(
        &mut self,
        (reading, whole): (&mut Reading<'a>, Cursor<'a>),
        near: Option<&str>,
        span: Span,
    ) {
        if near == Some("|") {
            return;
        }
        let mut words = near.unwrap_or_default().split(' ');
        let verb = words.next().and_then(verb_of);
        let Some(verb) = verb else {
            self.names_only(reading, whole);
            return;
        };
        // `refuel 20 L` is `fill fuel 20 L`: its quantity is in the one word.
        if let Some(quantity) = words.next().and_then(|word| self.book.vocabulary.find(word)) {
            reading.entry.verb = verb;
            reading.entry.quantity = Some(quantity);
            return;
        }
        // The line is broken already, and has its message.
        let _ = self.by_verb(reading, verb, span);
    }

    /// A line of which only what it names can be read: of its parts nobody knows where they are, of its quantity no value, and where it has a
    /// beginning and an end, the car may have run.
    fn names_only<'a>(&mut self, reading: &mut Reading<'a>, whole: Cursor<'a>) {
        self.unread.push(self.out.entries.next_key());
        let named = self.named(whole.clone(), true);
        if let Some((first, more)) = named.parts.split_first() {
            reading.entry.verb = Verb::Remove;
            reading.entry.subject = Subject::Part(*first);
            let facts = PartFacts { more: more.to_vec(), ..PartFacts::default() };
            reading.extra.parts = Some(Box::new(facts));
            return;
        }
        let mut cur = whole;
        if let Some(quantity) = self.quantity_ahead(&mut cur) {
            reading.entry.verb = Verb::Set;
            reading.entry.quantity = Some(quantity);
            self.may_touch(&cur, quantity);
            return;
        }
        let label = reading.cur.peek().filter(|word| matches!(word.shape, Shape::Word | Shape::Code));
        if reading.entry.clock.1 >= 0 && reading.entry.parent.is_none() && label.is_some() {
            reading.entry.verb = Verb::Run;
            let _ = self.run(reading);
        }
    }

    /// Reads the rest of a line by its verb.
    fn by_verb(&mut self, reading: &mut Reading<'_>, verb: Verb, span: Span) -> Result<(), Trouble> {
        reading.entry.verb = verb;
        reading.side = Side::of(verb);
        if verb.group().needs_car() {
            self.needs_car(reading, verb, span);
        }
        match verb.group() {
            VerbGroup::Setting(setting) => {
                self.setting(reading, setting)?;
            }
            VerbGroup::Bench => self.bench(reading)?,
            VerbGroup::Compare => self.compare(reading)?,
            VerbGroup::Row(row) => self.row(reading, row)?,
            VerbGroup::Run => {
                self.run(reading)?;
            }
            VerbGroup::Stretch(stretch) => self.stretch(reading, stretch)?,
            VerbGroup::Laps => self.laps(reading)?,
            VerbGroup::Result => {
                self.result(reading)?;
            }
            VerbGroup::Correct => {
                self.correct(reading)?;
            }
            VerbGroup::Words => self.words(reading)?,
            VerbGroup::Try => {
                self.try_line(reading)?;
            }
            VerbGroup::Waive => self.waive(reading)?,
            VerbGroup::Void => self.void(reading)?,
            VerbGroup::Job(job) => self.job_line(reading, job)?,
            VerbGroup::Cost => self.cost_line(reading)?,
            VerbGroup::Stock(stock) => self.stock_line(reading, stock)?,
            VerbGroup::Handed => self.handed_line(reading)?,
            VerbGroup::Hit => {
                self.hit(reading)?;
            }
            VerbGroup::Part(part) => self.part_line(reading, part)?,
            // A note is no word of a line: `verb_of` leaves it out.
            VerbGroup::Note => return Err(Trouble { span, what: What::VerbUnknown { near: None } }),
        }
        Ok(())
    }

    /// The line's times, each perhaps with an offset behind it: `01:10 +01:00..01:30 +00:00`. A time that no day has is said,
    /// and the rest of the line is read: that the car ran is known.
    fn clock(&mut self, reading: &mut Reading<'_>, word: Word) {
        let cur = &mut reading.cur;
        let mut span = cur.span(word);
        let mut faces = clock(cur.str(word));
        let mut offsets = (None, None);
        let mut good = true;
        while let Some(next) = cur.peek().filter(|next| is_offset(cur.str(*next))) {
            let (ahead, end) =
                cur.str(next).split_once("..").map_or((cur.str(next), None), |(a, b)| (a, Some(b)));
            let ranges = faces.is_some_and(|faces| faces.1 >= 0);
            let slot = if ranges { &mut offsets.1 } else { &mut offsets.0 };
            good &= slot.is_none() && !(ranges && end.is_some());
            *slot = offset(ahead);
            good &= slot.is_some();
            if let Some(end) = end {
                faces = faces.zip(clock(end)).map(|(start, end)| (start.0, end.0));
            }
            span = span.to(cur.span(next));
            cur.bump();
        }
        let Some(faces) = faces.filter(|_| good) else {
            reading.entry.broken = true;
            reading.said = true;
            self.trouble(Trouble { span, what: What::ClockImpossible });
            return;
        };
        reading.entry.clock = faces;
        if offsets != (None, None) {
            self.out.offsets.push((self.out.entries.next_key(), offsets));
        }
    }

    /// A note's time; the note itself begins at its bar.
    fn note(&mut self, reading: &mut Reading<'_>) {
        if let Some(word) = reading.cur.take(Shape::Clock) {
            self.clock(reading, word);
            let text = reading.cur.peek().map_or(reading.entry.start, |text| text.start.saturating_sub(1));
            reading.entry.start = text;
        }
    }

    /// Of a line about a car under a head that names none: which car is meant is not known, of none of the head's lines. Said once a block.
    pub(super) fn needs_car(&mut self, reading: &mut Reading<'_>, verb: Verb, span: Span) {
        let Some(head) = self.out.heads.as_vec().last_mut() else { return };
        if head.car.is_some() || head.car_unknown && !self.no_car {
            return;
        }
        head.car_unknown = true;
        if !(self.no_car || reading.said) {
            self.trouble(Trouble { span, what: What::NoCar(verb.word()) });
        }
        self.no_car = true;
        (reading.entry.broken, reading.said) = (true, true);
    }

    /// Whether the line above could not be read: what it was is not known, and a line under it cannot be judged. Such a
    /// line is kept as broken, without a message of its own.
    pub(super) fn under_broken_note(&self, reading: &mut Reading<'_>) -> bool {
        let above = reading.entry.parent.and_then(|above| self.out.entries.get(above));
        let unread = reading.entry.parent.is_some_and(|above| self.unread.contains(&above));
        let lost = unread || above.is_some_and(|above| above.broken && above.verb == Verb::Note);
        reading.entry.broken |= lost;
        lost
    }

    /// Reads the clauses that end most lines.
    pub(super) fn clauses(&self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let names = &self.book.names;
        let Reading { cur, entry, extra, side, .. } = reading;
        clauses::read(cur, names, &mut entry.by, extra, side, |_, _| Ok(false))
    }

    /// `say` and `think`: quoted words, and for `say` phases with free words.
    fn words(&self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let Reading { cur, extra, entry, .. } = reading;
        if cur.is_done() {
            let wants =
                if entry.verb == Verb::Say { "the driver's words" } else { "what you think, in quotes" };
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: entry.verb.word(), wants },
            });
        }
        while let Some(word) = cur.peek() {
            let text = cur.str(word);
            // A driver is `on the brakes`; a job is known by its name.
            let on_job = text.eq_ignore_ascii_case("on")
                && cur
                    .peek_at(1)
                    .is_some_and(|next| matches!(self.book.names.find(cur.str(next)), Some(Thing::Job(_))));
            if word.shape == Shape::Because
                || word.shape == Shape::Word && matches!(text, "by" | "with" | "during" | "after")
                || on_job
                || clauses::means_audience(cur)
            {
                break;
            }
            cur.bump();
            if word.shape != Shape::Comma {
                extra.words.push(cur.span(word));
            }
        }
        self.clauses(reading)
    }

    fn waive(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let Reading { cur, extra, entry, .. } = reading;
        let Some(word) = cur.take(Shape::Word) else {
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: "waive", wants: "the name of a check" },
            });
        };
        if entry.parent.is_none()
            && self
                .out
                .heads
                .last()
                .is_none_or(|head| !head.is_empty() || self.out.entries.next_key() != head.first)
        {
            return Err(Trouble {
                span: cur.span(word),
                what: What::OutOfPlace { line: "waive", under: "the line it answers, indented deeper" },
            });
        }
        extra.check = Some(cur.span(word));
        self.clauses(reading)?;
        if reading.extra.because.is_none() {
            let what = What::Incomplete { verb: "waive", wants: "`because` and the reason" };
            return Err(Trouble { span: reading.cur.here(), what });
        }
        Ok(())
    }

    fn void(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        if self.under_broken_note(reading) {
            return Ok(());
        }
        let holds = |above: &Entry| {
            above.verb.has_values()
                || matches!(above.verb, Verb::Compare | Verb::Points | Verb::Sweep | Verb::Lift | Verb::Laps)
        };
        let parent = reading.entry.parent;
        let Some(above) = parent.filter(|above| self.out.entries.get(*above).is_some_and(holds)) else {
            let what = What::OutOfPlace { line: "void", under: "the reading it voids, indented deeper" };
            return Err(Trouble { span: reading.cur.said(), what });
        };
        let read = self.clauses(reading);
        if let Some(above) = self.out.entries.get_mut(above) {
            // How much of it was to be void is not known.
            let lost = read.is_err() || reading.entry.broken;
            above.void |= !lost;
            above.broken |= lost;
            // Laps are the run's, which stands.
            let run = Some(&*above).filter(|above| above.verb == Verb::Laps).and_then(Entry::run);
            if let Some(run) = run.and_then(|run| self.out.runs.get_mut(run)) {
                run.times.clear();
                run.yellow = 0;
            }
        }
        read
    }
}

impl Reader<'_> {
    /// `10:05..10:52 ada` under a session: a driver's stint without its verb.
    fn near_stint(&self, reading: &Reading<'_>, text: &str) -> Option<String> {
        let above = reading.entry.parent.and_then(|above| self.out.entries.get(above))?;
        let names = &self.book.names;
        let person = names.find(text).and_then(|thing| names.person(thing));
        person.filter(|_| above.verb == Verb::Run).map(|_| format!("stint {text}"))
    }
}

/// What was meant for a time in front of a verb, such as `11:00..11:4O`: goes past it.
fn no_clock(cur: &mut Cursor<'_>) -> Option<Span> {
    let like_one = |text: &str| {
        text.starts_with(|first: char| first.is_ascii_digit()) && (text.contains(':') || text.contains(".."))
    };
    let first = cur.peek().filter(|word| word.shape != Shape::Word && like_one(cur.str(*word)))?;
    let mut ahead = 1;
    let mut last = first;
    while let Some(next) = cur.peek_at(ahead).filter(|_| ahead <= MOST_OF_CLOCK) {
        if next.shape == Shape::Word && verb_of(cur.str(next)).is_some() {
            (0..ahead).for_each(|_| cur.bump());
            return Some(cur.span(first).to(cur.span(last)));
        }
        last = next;
        ahead += 1;
    }
    None
}

/// Words that a time with a slip in it may have come apart into.
const MOST_OF_CLOCK: usize = 4;

/// Whether a word behind a clock time is an offset: `+01:00`, or `+01:00..01:30` with the end of the times.
pub(super) fn is_offset(text: &str) -> bool {
    text.starts_with(['+', '-', '\u{2212}']) && text.contains(':')
}
