//! Lines about jobs: `job` opens one, `done` closes it, `defer` puts it off, `promise` says by when.
//!
//! Must not know whether a job is open on a date; `history` does.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::{self, client_here, event_here, job_here};
use crate::book::dates::date;
use crate::book::declare::{is_name_of, no_date, of_date};
use crate::book::entry::{CostFacts, JobFacts, Subject, Until, Verb};
use crate::book::names::Thing;
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::book::verbs::JobVerb;
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

impl Reader<'_> {
    /// `job NAME "what is to be done" [planned] [on-part PART] [at EVENT] [promised DAY]`,
    /// `done NAME "what was found"`, `defer NAME to WHEN`, `promise NAME [to CLIENT] until DAY`.
    pub(super) fn job_line(&mut self, reading: &mut Reading<'_>, verb: JobVerb) -> Result<(), Trouble> {
        if verb == JobVerb::Job {
            if !self.own_job(reading) {
                // Its name was refused when the names were read, with a message of its own.
                reading.entry.broken = true;
                return Ok(());
            }
        } else {
            reading.entry.subject = Subject::Job(job_here(&mut reading.cur, &self.book.names)?);
        }
        let mut facts = JobFacts::default();
        let mut rate = None;
        let Reading { cur, entry, extra, side, .. } = reading;
        let read = clauses::read(cur, &self.book.names, &mut entry.by, extra, side, |cur, _| {
            self.job_fact(cur, verb, &mut facts, &mut rate)
        });
        let until = facts.until.is_some();
        extra.job_facts = Some(Box::new(facts));
        read?;
        let missing = |wants| {
            let what = What::Incomplete { verb: Verb::from(verb).word(), wants };
            Err(Trouble { span: cur.here(), what })
        };
        match verb {
            JobVerb::Job if extra.words.is_empty() => return missing("what is to be done, in quotes"),
            JobVerb::Defer if !until => {
                return missing("`to` and until when: a date, an event, or `winter`");
            }
            JobVerb::Promise if !until => {
                return missing("`until` and a date, or the event it is to be ready for");
            }
            JobVerb::Job | JobVerb::Done | JobVerb::Defer | JobVerb::Promise => {}
        }
        if let Some((rate, left_out)) = rate {
            self.out.troubles.extend(left_out);
            let rate = Some(rate);
            reading.extra.costs = Some(Box::new(CostFacts { rate, ..CostFacts::default() }));
        }
        Ok(())
    }

    /// Whether the name here is the job that this line opens; moves past it.
    fn own_job(&self, reading: &mut Reading<'_>) -> bool {
        let cur = &mut reading.cur;
        let Some(word) = cur.peek() else { return false };
        let Some(Thing::Job(job)) = self.book.names.find(cur.str(word)) else { return false };
        let own = self.book.jobs.get(job).is_some_and(|job| job.named.declared == cur.said());
        if own {
            cur.bump();
            reading.entry.subject = Subject::Job(job);
        }
        own
    }

    /// One fact of a line about a job; `false` leaves the word to the clauses.
    fn job_fact(
        &self,
        cur: &mut Cursor<'_>,
        verb: JobVerb,
        facts: &mut JobFacts,
        rate: &mut Option<sums::Typed>,
    ) -> Result<bool, Trouble> {
        let names = &self.book.names;
        if verb == JobVerb::Job && cur.take_keyword("planned") {
            facts.planned = true;
        } else if verb == JobVerb::Job && cur.take_keyword("on-part") {
            facts.part = Some(self.part_here(cur)?);
        } else if cur.take_keyword("at") {
            facts.event = Some(event_here(cur, names)?);
        } else if verb == JobVerb::Job && cur.take_keyword("promised") {
            facts.until = Some(self.until(cur, "promised", false)?);
        } else if verb == JobVerb::Job && cur.take_keyword("rate") {
            let goes_on = |word: &str| clauses::is_clause(word) || is_name_of("job", word);
            *rate = Some(sums::rate(cur, self.book.shop.currency, &goes_on)?);
        } else if verb == JobVerb::Promise && cur.take_keyword("until") {
            facts.until = Some(self.until(cur, "until", false)?);
        } else if verb == JobVerb::Promise && cur.take_keyword("to") {
            facts.client = Some(client_here(cur, names)?);
        } else if verb == JobVerb::Defer && cur.take_keyword("to") {
            facts.until = Some(self.until(cur, "to", true)?);
        } else {
            return Ok(false);
        }
        Ok(true)
    }

    /// A day, an event, or (where `words` are allowed) `winter` or quoted words.
    pub(super) fn until(
        &self,
        cur: &mut Cursor<'_>,
        property: &'static str,
        words: bool,
    ) -> Result<(Until, Span), Trouble> {
        let span = cur.here();
        if let Some(word) = cur.take(Shape::Date) {
            let text = cur.str(word);
            if text.contains("..") {
                let what = What::PropertyValue { property, wants: "one date, such as 2026-06-26" };
                return Err(Trouble { span, what });
            }
            let day = date(text).map_err(|trouble| Trouble { span, what: of_date(trouble) })?;
            return Ok((Until::Day(day), span));
        }
        let winter = words && cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("winter"));
        if winter || words && cur.peek().is_some_and(|word| word.shape == Shape::Text) {
            cur.bump();
            return Ok((Until::Words(span), span));
        }
        if cur.peek().is_none_or(|word| word.shape != Shape::Word || clauses::is_clause(cur.str(word))) {
            let wants = if words { "a date, an event, or `winter`" } else { "a date, or an event" };
            return Err(no_date(cur, property, wants));
        }
        let event = event_here(cur, &self.book.names)?;
        Ok((Until::Event(event), span))
    }
}
