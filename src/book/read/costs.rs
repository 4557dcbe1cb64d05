//! Lines about money and hours: `hours`, `cost`, `credit`, `quote`.

use super::Reader;
use super::line::Reading;
use crate::book::clauses::{self, client_here, event_here};
use crate::book::declare::is_name_of;
use crate::book::entry::{CostFacts, CostKind, Split, SplitKey, Verb};
use crate::book::names::{Thing, nearest};
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::money::Minutes;
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, table};

/// Most parts of a `2:1` that one car may have.
const MOST_PARTS: u32 = 1_000_000;

impl Reader<'_> {
    /// `hours 2.25 h [TEXT]`, `cost 46.00 EUR KIND [TEXT]`, `credit ...`, `quote 720.00 EUR on JOB`, each with its clauses.
    pub(super) fn cost_line(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let mut facts = CostFacts::default();
        let read = self.cost_words(reading, &mut facts);
        // What was read before a mistake is kept: the line leaves a hole where it belongs.
        reading.extra.costs = Some(Box::new(facts));
        read
    }

    fn cost_words(&mut self, reading: &mut Reading<'_>, facts: &mut CostFacts) -> Result<(), Trouble> {
        let verb = reading.entry.verb;
        let Reading { cur, entry, extra, side, .. } = reading;
        let mut slip = None;
        if verb == Verb::Hours {
            facts.minutes = Some(time(cur)?);
        } else if verb == Verb::Paid && cur.peek().is_some_and(|word| word.shape == Shape::Word) {
            facts.client_lost = true;
            facts.client = Some(client_here(cur, &self.book.names)?);
            // `paid orr imre 20.00 EUR`: one of the two.
            let another = cur.peek().and_then(|word| self.book.names.find(cur.str(word)));
            facts.client_lost = another.is_some_and(|thing| matches!(thing, Thing::Client(_)));
            let (sum, left_out) = sums::sum(cur, self.book.shop.currency, &goes_on)?;
            (facts.sum, slip) = (Some(sum), left_out);
        } else {
            let (sum, left_out) = sums::sum(cur, self.book.shop.currency, &goes_on)?;
            facts.sum = Some(sum);
            slip = left_out;
        }
        clauses::read(cur, &self.book.names, &mut entry.by, extra, side, |cur, _| {
            self.cost_fact(cur, verb, facts, &mut slip)
        })?;
        if verb == Verb::Quote && extra.job.is_none() {
            let wants = "`on` and the job that it is for";
            return Err(Trouble { span: cur.here(), what: What::Incomplete { verb: verb.word(), wants } });
        }
        self.out.troubles.extend(slip);
        Ok(())
    }

    /// One fact of a line about money; `false` leaves the word to the clauses.
    fn cost_fact(
        &self,
        cur: &mut Cursor<'_>,
        verb: Verb,
        facts: &mut CostFacts,
        slip: &mut Option<Trouble>,
    ) -> Result<bool, Trouble> {
        let names = &self.book.names;
        let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else { return Ok(false) };
        let text = cur.str(word);
        let money = !matches!(verb, Verb::Hours | Verb::Paid);
        let prize = |kind: &CostKind| *kind == CostKind::Prize;
        if verb == Verb::Paid && cur.take_keyword("back") {
            facts.back = true;
        } else if verb == Verb::Paid {
            // Which car, which event and who is what its job and its client say.
            return Ok(false);
        } else if let Some(kind) =
            CostKind::find(text).filter(|kind| money && (verb == Verb::Credit || !prize(kind)))
        {
            facts.kind = kind;
            cur.bump();
        } else if cur.take_keyword("at") {
            facts.event = Some(event_here(cur, names)?);
        } else if cur.take_keyword("to") {
            facts.client = Some(client_here(cur, names)?);
        } else if matches!(verb, Verb::Cost | Verb::Credit) && cur.take_keyword("invoice") {
            facts.invoice = Some(clauses::phrase(cur, "invoice", "its number, in quotes")?);
        } else if verb == Verb::Hours && cur.take_keyword("rate") {
            let (rate, left_out) = sums::rate(cur, self.book.shop.currency, &goes_on)?;
            facts.rate = Some(rate);
            *slip = left_out;
        } else if verb == Verb::Hours && cur.take_keyword("unbilled") {
            facts.unbilled = true;
        } else if verb != Verb::Quote && cur.take_keyword("split") {
            facts.split = Some(self.split(cur, cur.span(word))?);
        } else if clauses::is_clause(text) {
            return Ok(false);
        } else {
            let kinds =
                CostKind::ALL.into_iter().filter(|(_, kind)| money && (verb == Verb::Credit || !prize(kind)));
            let kinds = kinds.map(|(word, _)| word);
            let near = nearest(text, kinds.chain(words()));
            return Err(Trouble { span: cur.span(word), what: What::WordUnexpected { near } });
        }
        Ok(true)
    }

    /// `split KEY [among CAR, CAR]`, behind its first word.
    fn split(&self, cur: &mut Cursor<'_>, first: crate::source::Span) -> Result<Split, Trouble> {
        let span = cur.here();
        let key = match cur.peek() {
            Some(word) if cur.str(word).contains(':') => parts(cur.str(word)),
            Some(word) => match cur.str(word).to_ascii_lowercase().as_str() {
                "equal" => Some(SplitKey::Equal),
                "minutes" => Some(SplitKey::Minutes),
                "events" => Some(SplitKey::Events),
                _ => None,
            },
            None => None,
        };
        let wants = "what to share it by: `equal`, `minutes`, `events`, or parts such as `2:1`";
        let key = key.ok_or(Trouble { span, what: What::PropertyValue { property: "split", wants } })?;
        cur.bump();
        let among =
            if cur.take_keyword("among") { clauses::cars(cur, &self.book.names)? } else { Vec::new() };
        if let SplitKey::Parts(parts) = &key
            && parts.len() != among.len()
        {
            let wants = "`among` and as many cars as it has parts";
            return Err(Trouble { span, what: What::PropertyValue { property: "split", wants } });
        }
        let last = cur.before().map_or(span, |word| cur.span(word));
        Ok(Split { key, among, span: first.to(last) })
    }
}

/// The words of these lines besides the clauses that all lines have.
fn words() -> impl Iterator<Item = &'static str> {
    crate::book::declare::names_of("cost").iter().copied().chain(["on", "by", "from", "to", "at"])
}

/// Whether a word may follow a sum, so that it is no currency.
fn goes_on(word: &str) -> bool {
    CostKind::find(word).is_some() || clauses::is_clause(word) || is_name_of("cost", word)
}

/// `2:1:1`.
fn parts(text: &str) -> Option<SplitKey> {
    let parts: Option<Vec<u32>> = text.split(':').map(|part| part.parse().ok()).collect();
    let parts = parts.filter(|parts| parts.len() > 1 && parts.iter().all(|part| *part <= MOST_PARTS))?;
    Some(SplitKey::Parts(parts))
}

/// `2.25 h`, `50 min`.
fn time(cur: &mut Cursor<'_>) -> Result<Minutes, Trouble> {
    let wants = "a time with its unit, such as `2.25 h` or `50 min`";
    let missing = |span| Trouble { span, what: What::Incomplete { verb: "hours", wants } };
    let Some(word) = cur.take(Shape::Number) else { return Err(missing(cur.here())) };
    let span = cur.span(word);
    let unit = cur.peek().filter(|word| word.shape == Shape::Word);
    let unit = unit.and_then(|unit| table().find_one(cur.str(unit), DimensionId::TIME));
    let in_hours = match unit.map(|unit| unit.get().shown()) {
        Some("h") => true,
        Some("min") => false,
        _ => return Err(missing(span)),
    };
    cur.bump();
    Minutes::read(cur.str(word), in_hours).map_err(|slip| sums::of_slip(span, slip))
}
