//! `stint`, `stage` and `stop`: what a session was made of, on lines under its `run`.

use super::Reader;
use super::line::Reading;
use super::run::{Ran, fact, lap_time};
use crate::book::clause::Clause;
use crate::book::clauses::{self, look_up};
use crate::book::entry::{By, Stretch, Subject, Verb};
use crate::book::names::{Names, Thing};
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::StretchVerb;
use crate::syntax::{Cursor, Shape};

impl Reader<'_> {
    /// `stint DRIVER [47 min] [22 laps] [best 1:42.3]`, `stage LABEL [at CIRCUIT] 12.4 km [8:31.2] [road 14 km]`, `stop [3 min] ["words"]`.
    pub(super) fn stretch(&mut self, reading: &mut Reading<'_>, verb: StretchVerb) -> Result<(), Trouble> {
        if self.under_broken_note(reading) {
            return Ok(());
        }
        let above = reading.entry.parent.and_then(|above| self.out.entries.get(above));
        let Some(above) = above.filter(|above| above.verb == Verb::Run) else {
            let what =
                What::OutOfPlace { line: Verb::from(verb).word(), under: "its `run`, indented deeper" };
            return Err(Trouble { span: reading.cur.said(), what });
        };
        let Some(run) = above.run() else {
            // The run has no label, and a message that says so.
            reading.entry.broken = true;
            return Ok(());
        };
        reading.entry.subject = Subject::Run(run);
        let entry = self.out.entries.next_key();
        let mut stretch = Stretch {
            entry,
            label: None,
            course: None,
            minutes: None,
            laps: None,
            best: None,
            distance: None,
            road: None,
        };
        let mut ran = Ran::default();
        let read = self.stretch_words(reading, verb, &mut stretch, &mut ran);
        // Of a line with a mistake nobody knows what was run.
        if read.is_ok() && !reading.entry.broken {
            let Ran { minutes, laps, best, distance, road, .. } = ran;
            // A stage is as long as the road it is on, where its line does not say.
            let length = stretch.course.and_then(|course| self.book.circuits.get(course)?.length);
            let distance = distance.or(length);
            stretch = Stretch { minutes: minutes.or(stretch.minutes), laps, best, distance, road, ..stretch };
        }
        if let Some(run) = self.out.runs.get_mut(run) {
            run.stretches.push(stretch);
        }
        read
    }

    fn stretch_words(
        &self,
        reading: &mut Reading<'_>,
        verb: StretchVerb,
        stretch: &mut Stretch,
        ran: &mut Ran,
    ) -> Result<(), Trouble> {
        let names = &self.book.names;
        let Reading { cur, entry, extra, side, .. } = reading;
        match verb {
            StretchVerb::Stint => {
                if let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word)
                    && let Some(person) =
                        names.find(cur.str(word)).and_then(|thing: Thing| names.person(thing))
                {
                    entry.by = By::Person(person);
                    cur.bump();
                } else if !cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("by")) {
                    // How long it was counts, whoever drove.
                    side.forgive(no_driver(cur, names));
                    extra.unclear.add(Clause::By);
                    cur.take(Shape::Word);
                }
            }
            StretchVerb::Stage => {
                stretch.label = Some(clauses::label(cur)?);
                if cur.take_keyword("at") {
                    let circuit = |thing: Thing| match thing {
                        Thing::Circuit(id) => Some(id),
                        _ => None,
                    };
                    stretch.course = Some(look_up(cur, names, "circuit", circuit)?);
                    cur.bump();
                }
            }
            StretchVerb::Stop => {}
        }
        clauses::read(cur, names, &mut entry.by, extra, side, |cur, _| {
            if verb == StretchVerb::Stage
                && let Some(word) = cur.peek().filter(|word| matches!(word.shape, Shape::Lap | Shape::Clock))
            {
                ran.said.once("time", cur.span(word))?;
                stretch.minutes = Some(lap_time(cur, word)? / 60.0);
                cur.bump();
                return Ok(true);
            }
            fact(cur, ran)
        })
    }
}

/// What a stint without a driver lacks.
fn no_driver(cur: &Cursor<'_>, names: &Names) -> Trouble {
    if cur.peek().is_some_and(|word| word.shape == Shape::Word) {
        let found = look_up(cur, names, "person", |thing| names.person(thing));
        return found.err().unwrap_or(Trouble { span: cur.here(), what: What::NameMissing("person") });
    }
    let wants = "who drove; its times stand in front, `10:05..10:52 stint ada`";
    Trouble { span: cur.here(), what: What::Incomplete { verb: "stint", wants } }
}
