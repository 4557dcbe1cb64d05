//! Lines about pages that left the house: `handed`.
//!
//! Must not know what stood on the page.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::{self, client_here, event_here};
use crate::book::entry::Verb;
use crate::book::handed::{HandedFacts, HandedPage, PagePrint};
use crate::book::names::nearest;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape};

impl Reader<'_> {
    /// `handed setup-sheet at pell-2 to orr 4f3a-91c2-07b1`, `handed season 2025 to orr ...`.
    pub(super) fn handed_line(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let Reading { cur, .. } = reading;
        let (span, text) = (cur.here(), cur.peek().map_or("", |word| cur.str(word)));
        if cur.is_done() {
            return Err(incomplete(cur, "the page, such as `letter` or `setup-sheet`"));
        }
        let Some(page) = HandedPage::find(text) else {
            let near = nearest(text, HandedPage::ALL.iter().map(|page| page.word()));
            return Err(Trouble { span, what: What::PageUnknown { near } });
        };
        cur.bump();
        if page.is_of_car() {
            self.needs_car(reading, Verb::Handed, span);
        }
        let year = if page == HandedPage::Season { Some(self.year_here(&mut reading.cur)) } else { None };
        let mut event = None;
        let mut to = None;
        let names = &self.book.names;
        let Reading { cur, entry, extra, side, .. } = reading;
        clauses::read(cur, names, &mut entry.by, extra, side, |cur, _| {
            if page.takes_event() && cur.take_keyword("at") {
                event = Some(event_here(cur, names)?);
            } else if cur.take_keyword("to") {
                to = Some((client_here(cur, names)?, print_here(cur)?));
            } else {
                return Ok(false);
            }
            Ok(true)
        })?;
        let Some((client, print)) = to else {
            return Err(incomplete(cur, "`to`, the client, and the page's fingerprint"));
        };
        let head = self.out.heads.last();
        let event = event.or_else(|| head.filter(|_| page.takes_event())?.event);
        if page.is_of_event() && event.is_none() {
            return Err(incomplete(cur, "`at` and the event that it is for"));
        }
        let facts = HandedFacts { page, year, event, client, print };
        extra.handed = Some(Box::new(facts));
        Ok(())
    }

    /// The year of a season, where one is typed; that of the head else.
    fn year_here(&self, cur: &mut Cursor<'_>) -> i16 {
        let typed = cur.peek().filter(|word| word.shape == Shape::Number);
        let year = typed.and_then(|word| cur.str(word).parse::<i16>().ok()).filter(|year| *year > 0);
        if year.is_some() {
            cur.bump();
        }
        year.unwrap_or_else(|| self.out.heads.last().map_or(0, |head| head.date.year()))
    }
}

fn incomplete(cur: &Cursor<'_>, wants: &'static str) -> Trouble {
    Trouble { span: cur.here(), what: What::Incomplete { verb: Verb::Handed.word(), wants } }
}

/// The fingerprint behind the client, whatever its first digit makes of it.
fn print_here(cur: &mut Cursor<'_>) -> Result<PagePrint, Trouble> {
    let span = cur.here();
    let read = cur.peek().and_then(|word| PagePrint::read(cur.str(word)));
    let print = read.ok_or(Trouble { span, what: What::PrintUnreadable })?;
    cur.bump();
    Ok(print)
}
