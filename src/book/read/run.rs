//! `run` and `laps`, and what a session or a part of one ran.

use super::Reader;
use super::line::Reading;
use crate::book::clauses;
use crate::book::entry::{EntryId, Run, RunId, Subject, Verb};
use crate::book::names::same;
use crate::book::single::{number, of_number};
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::{LAP_MARKS, YELLOW};
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, Number, table};

/// What a `run`, `stint`, `stage` or `stop` line says was run.
#[derive(Debug, Clone, Default)]
pub(super) struct Ran {
    pub minutes: Option<f64>,
    pub laps: Option<u32>,
    pub best: Option<f64>,
    pub launches: Option<u32>,
    pub heat_cycles: Option<u32>,
    pub distance: Option<f64>,
    pub road: Option<f64>,
    /// Where each of them stands.
    pub said: Said,
}

/// What a line says once, and where it does.
#[derive(Debug, Clone, Default)]
pub(super) struct Said(Vec<(&'static str, Span)>);

impl Said {
    /// Notes that it stands there; a message where it stands already.
    pub(super) fn once(&mut self, what: &'static str, span: Span) -> Result<(), Trouble> {
        if let Some((_, first)) = self.0.iter().find(|(said, _)| *said == what) {
            return Err(Trouble { span, what: What::FactTwice(what, *first) });
        }
        self.0.push((what, span));
        Ok(())
    }

    /// Where it stands.
    pub(super) fn at(&self, what: &str) -> Option<Span> {
        self.0.iter().find(|(said, _)| *said == what).map(|(_, span)| *span)
    }
}

impl Reader<'_> {
    /// `run LABEL [20 min] [14 laps] [best 1:08.42] [1 launch] [12 km] [road 40 km] [by DRIVER] [with ...]`.
    pub(super) fn run(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let label = clauses::label(&mut reading.cur)?;
        let mut ran = Ran::default();
        let names = &self.book.names;
        let Reading { cur, entry, extra, side, .. } = &mut *reading;
        let nested = Trouble {
            span: cur.said(),
            what: What::OutOfPlace { line: "run", under: "its date, at the block's own indent" },
        };
        let read = clauses::read(cur, names, &mut entry.by, extra, side, |cur, _| fact(cur, &mut ran));
        // A session under another line is that one's, or its own: how long the car ran is not known.
        let read = if entry.parent.is_some() { read.and(Err(nested)) } else { read };
        if read.is_err() {
            // That the car ran is known, and when, as far as its times say; nothing else of the line is.
            ran = Ran::default();
        }
        let Ran { minutes, laps, best, launches, heat_cycles, distance, road, .. } = ran;
        let run = Run {
            entry: self.out.entries.next_key(),
            label,
            minutes,
            laps,
            best,
            launches,
            heat_cycles,
            distance,
            road,
            times: Vec::new(),
            yellow: 0,
            stretches: Vec::new(),
        };
        reading.entry.subject = Subject::Run(self.out.runs.push(run));
        read
    }

    /// The session that a line under it, or with its label, is about; `None` where a run above has no label, and a message that says so.
    /// `mark` says which words are none.
    pub(super) fn session(
        &mut self,
        reading: &mut Reading<'_>,
        line: &'static str,
        mark: fn(&str) -> bool,
    ) -> Result<Option<RunId>, Trouble> {
        let above = reading
            .entry
            .parent
            .and_then(|above| self.out.entries.get(above))
            .filter(|above| above.verb == Verb::Run);
        let mut at = above.and_then(super::super::entry::Entry::run);
        let cur = &mut reading.cur;
        if let Some(word) = cur.peek().filter(|word| matches!(word.shape, Shape::Word | Shape::Code)) {
            let wanted = cur.str(word);
            let first = self.out.heads.last().map_or(EntryId::new(0), |head| head.first);
            let labels = self.out.runs.iter_enumerated().rev().take_while(|(_, run)| run.entry >= first);
            let text = |run: &Run| {
                self.text.get(run.label.start as usize..run.label.end as usize).unwrap_or_default()
            };
            let named = labels.clone().find(|(_, run)| same(text(run), wanted)).map(|(at, _)| at);
            if named.is_none() && !mark(wanted) && self.refused_above(wanted) {
                // The line that would have told of it has its message.
                reading.entry.broken = true;
                return Ok(None);
            }
            if named.is_none() && !mark(wanted) {
                let own = above.and_then(|above| self.out.runs.get(above.run()?));
                let near = match own {
                    Some(own) => Some(text(own).to_owned()),
                    None => crate::book::names::nearest(wanted, labels.map(|(_, run)| text(run))),
                };
                return Err(Trouble {
                    span: cur.span(word),
                    what: What::NameUnknown { wanted: "session", near },
                });
            }
            if named.is_some() && at.is_some() && named != at {
                // Two runs claim it: the one above and the one named.
                let what = What::OutOfPlace { line, under: "the run that it names" };
                return Err(Trouble { span: cur.span(word), what });
            }
            if named.is_some() {
                at = named;
                cur.bump();
            }
        }
        reading.entry.broken |= at.is_none() && above.is_some();
        Ok(at)
    }

    /// Whether a line of this block that has a mistake says that word, so that it may have been the session.
    fn refused_above(&self, wanted: &str) -> bool {
        let Some(head) = self.out.heads.last() else { return false };
        let broken = |at: usize| {
            let (before, after) =
                (self.text.get(..at).unwrap_or_default(), self.text.get(at..).unwrap_or_default());
            let lines = [before.rsplit('\n').next(), after.split('\n').next()].into_iter().flatten();
            let word = |c: char| !(c.is_alphanumeric() || matches!(c, '-' | '.'));
            lines.flat_map(|line| line.split(word)).any(|said| same(said, wanted))
        };
        let here = self.out.troubles.iter().rev().take_while(|trouble| trouble.span.start >= head.span.start);
        let syntax = self.chunk.troubles.iter().filter(|trouble| trouble.span.start >= head.span.start);
        let spans = here.map(|trouble| trouble.span).chain(syntax.map(|trouble| trouble.span));
        spans.take(64).any(|span| broken(span.start as usize))
    }

    /// `laps s1 1:11.2 1:09.8 in-lap`, or under its run without the label.
    pub(super) fn laps(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        if self.under_broken_note(reading) {
            return Ok(());
        }
        let mark = |text: &str| LAP_MARKS.iter().any(|mark| text.eq_ignore_ascii_case(mark));
        let session = self.session(reading, "laps", mark)?;
        let cur = &mut reading.cur;
        let Some(at) = session else {
            if reading.entry.broken {
                return Ok(());
            }
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: "laps", wants: "the session's label" },
            });
        };
        let mut times = Vec::new();
        let mut yellow = 0;
        while let Some(word) = cur.peek() {
            match word.shape {
                Shape::Lap | Shape::Number | Shape::Clock => {
                    times.push((lap_time(cur, word)?, false));
                    cur.bump();
                }
                Shape::Comma => cur.bump(),
                Shape::Word if LAP_MARKS.iter().any(|mark| cur.str(word).eq_ignore_ascii_case(mark)) => {
                    if times.is_empty() {
                        let wants = "each mark behind the lap that it marks: `2:20.1 out-lap`";
                        let what = What::Incomplete { verb: "laps", wants };
                        return Err(Trouble { span: cur.span(word), what });
                    }
                    if let Some((_, slow)) = times.last_mut() {
                        *slow = true;
                        yellow += u32::from(cur.str(word).eq_ignore_ascii_case(YELLOW));
                    }
                    cur.bump();
                }
                _ => break,
            }
        }
        if times.is_empty() {
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: "laps", wants: "lap times" },
            });
        }
        reading.entry.subject = Subject::Run(at);
        self.clauses(reading)?;
        if let Some(run) = self.out.runs.get_mut(at).filter(|_| !reading.entry.broken) {
            run.times = times;
            run.yellow = yellow;
        }
        Ok(())
    }
}

/// One fact of a session; `false` when the word starts none.
pub(super) fn fact(cur: &mut Cursor<'_>, run: &mut Ran) -> Result<bool, Trouble> {
    if cur.take_keyword("best") {
        let Some(word) = cur.peek() else {
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete { verb: "best", wants: "a lap time" },
            });
        };
        run.said.once("best lap", cur.span(word))?;
        run.best = Some(lap_time(cur, word)?);
        cur.bump();
        return Ok(true);
    }
    let road = cur.take_keyword("road");
    let Some(word) = cur.peek() else {
        let what = What::Incomplete { verb: "road", wants: "how far, such as `road 41 km`" };
        return if road { Err(Trouble { span: cur.here(), what }) } else { Ok(false) };
    };
    let lap = word.shape == Shape::Word && cur.str(word).eq_ignore_ascii_case("lap");
    if let Some(count) = cur.peek_at(1).filter(|next| lap && next.shape == Shape::Number) {
        // A session has laps, not one lap of them.
        let near = Some(format!("{} laps", cur.str(count)));
        return Err(Trouble {
            span: cur.span(word).to(cur.span(count)),
            what: What::WordUnexpected { near },
        });
    }
    if word.shape != Shape::Number {
        let what = What::Incomplete { verb: "road", wants: "how far, such as `road 41 km`" };
        return if road { Err(Trouble { span: cur.span(word), what }) } else { Ok(false) };
    }
    let typed = number(cur, word)?;
    let span = cur.span(word);
    cur.bump();
    let Some(unit) = cur.peek().filter(|word| word.shape == Shape::Word) else {
        return Err(Trouble { span, what: What::UnitUnknown { wanted: DimensionId::USE, near: None } });
    };
    let text = cur.str(unit);
    let whole = || -> Result<Option<u32>, Trouble> {
        if typed.value >= 0.0 && typed.value.fract() == 0.0 && typed.value < 1e6 {
            Ok(Some(typed.value as u32))
        } else {
            Err(Trouble { span, what: What::NumberBad })
        }
    };
    if typed.value < 0.0 {
        return Err(Trouble { span, what: What::NumberBad });
    }
    if road {
        let Some(length) = table().find_one(text, DimensionId::DISTANCE) else {
            let near = crate::units::suggest(text, DimensionId::DISTANCE);
            let what = What::UnitUnknown { wanted: DimensionId::DISTANCE, near };
            return Err(Trouble { span: cur.span(unit), what });
        };
        run.said.once("road", span)?;
        run.road = Some(length.get().to_si(typed.value));
        cur.bump();
        return Ok(true);
    }
    match text.to_ascii_lowercase().as_str() {
        "lap" | "laps" => {
            run.laps = whole()?;
            run.said.once("laps", span)?;
        }
        "launch" | "launches" => {
            run.launches = whole()?;
            run.said.once("launches", span)?;
        }
        "heat-cycle" | "heat-cycles" => {
            run.heat_cycles = whole()?;
            run.said.once("heat cycles", span)?;
        }
        _ => {
            if let Some(time) = table().find_one(text, DimensionId::TIME) {
                run.said.once("minutes", span)?;
                run.minutes = Some(time.get().to_si(typed.value) / 60.0);
            } else if let Some(length) = table().find_one(text, DimensionId::DISTANCE) {
                run.said.once("distance", span)?;
                run.distance = Some(length.get().to_si(typed.value));
            } else {
                let near = crate::units::suggest(text, DimensionId::USE);
                return Err(Trouble {
                    span: cur.span(unit),
                    what: What::UnitUnknown { wanted: DimensionId::USE, near },
                });
            }
        }
    }
    cur.bump();
    Ok(true)
}

/// A lap time, seconds.
pub(super) fn lap_time(cur: &Cursor<'_>, word: Word) -> Result<f64, Trouble> {
    let text = cur.str(word);
    // `1:08` without decimals has the shape of a clock time; here it is minutes and seconds.
    Number::parse_lap(text).map(|lap| lap.value).map_err(|trouble| of_number(cur.span(word), &trouble))
}
