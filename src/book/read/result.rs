//! `result`: what came of a session, or of the event.

use super::Reader;
use super::line::Reading;
use super::run::{Said, lap_time};
use crate::book::clauses;
use crate::book::entry::{CostFacts, CostKind, ResultFacts, Subject};
use crate::book::names::nearest;
use crate::book::side::RESULT;
use crate::book::single::number;
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::syntax::{Cursor, Shape};
use crate::units::{DimensionId, table};

fn is_word(text: &str) -> bool {
    RESULT.iter().any(|word| text.eq_ignore_ascii_case(word))
}

impl Reader<'_> {
    /// `result [SESSION] [grid 5] [finish 3] [class 1] [laps-down 1] [penalty 10 s] [points 18] [prize 250 GBP] [retired] ["words"]`.
    pub(super) fn result(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let cur = &reading.cur;
        let mut words = (0..).map_while(|ahead| cur.peek_at(ahead));
        if words.any(|word| cur.str(word).eq_ignore_ascii_case("prize")) {
            // Until it is read: a mistake before it takes the sum, and not that there was one.
            let costs = CostFacts { kind: CostKind::Prize, ..CostFacts::default() };
            reading.extra.costs = Some(Box::new(costs));
        }
        if self.under_broken_note(reading) {
            return Ok(());
        }
        let session = self.session(reading, "result", is_word)?;
        if reading.entry.broken {
            return Ok(());
        }
        if let Some(run) = session {
            reading.entry.subject = Subject::Run(run);
        }
        let (mut facts, mut prize, mut once) = (ResultFacts::default(), None, Said::default());
        let mut slip = None;
        let crate::book::Book { names, shop, .. } = self.book;
        let super::line::Reading { cur, entry, extra, side, .. } = reading;
        let read = clauses::read(cur, names, &mut entry.by, extra, side, |cur, _| {
            let at = cur.here();
            if cur.take_keyword("prize") {
                once.once("prize", at)?;
                let (sum, left_out) =
                    sums::sum(cur, shop.currency, &|word| is_word(word) || clauses::is_clause(word))?;
                (prize, slip) = (Some(sum), left_out);
                return Ok(true);
            }
            fact(cur, &mut facts, &mut once)
        });
        let said = !reading.extra.words.is_empty();
        if let Some(sum) = prize {
            let costs = CostFacts { sum: Some(sum), kind: CostKind::Prize, ..CostFacts::default() };
            reading.extra.costs = Some(Box::new(costs));
        }
        if read.is_ok() && facts == ResultFacts::default() && prize.is_none() && !said {
            let wants = "what came of it, such as `grid 5 finish 3` or `retired \"driveshaft\"`";
            let span = reading.cur.here();
            return Err(Trouble { span, what: What::Incomplete { verb: "result", wants } });
        }
        reading.extra.result = Some(Box::new(facts));
        self.out.troubles.extend(slip.filter(|_| read.is_ok()));
        read
    }
}

/// One fact; `false` leaves the word to the clauses.
fn fact(cur: &mut Cursor<'_>, facts: &mut ResultFacts, once: &mut Said) -> Result<bool, Trouble> {
    let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else { return Ok(false) };
    let text = cur.str(word).to_ascii_lowercase();
    // Penalties add up; everything else is said once.
    if let Some(said) = RESULT.iter().find(|said| text == **said && **said != "penalty") {
        once.once(said, cur.span(word))?;
    }
    let count = match text.as_str() {
        "grid" => &mut facts.grid,
        "finish" => &mut facts.finish,
        "class" => &mut facts.class,
        "laps-down" => &mut facts.laps_down,
        "penalty" => {
            cur.bump();
            facts.penalty = Some(facts.penalty.unwrap_or(0.0) + seconds(cur)?);
            return Ok(true);
        }
        "points" => {
            cur.bump();
            let wants = "how many, none or more, such as `points 12.5`";
            let bad = Trouble { span: cur.here(), what: What::Incomplete { verb: "points", wants } };
            let Some(typed) = cur.take(Shape::Number) else { return Err(bad) };
            let points = number(cur, typed)?.value;
            if points < 0.0 {
                return Err(bad);
            }
            facts.points = Some(points);
            return Ok(true);
        }
        "retired" => {
            cur.bump();
            facts.retired = true;
            return Ok(true);
        }
        _ if clauses::is_clause(&text) => return Ok(false),
        _ => {
            let near = nearest(&text, RESULT.into_iter());
            return Err(Trouble { span: cur.span(word), what: What::WordUnexpected { near } });
        }
    };
    cur.bump();
    let wants = if text == "laps-down" {
        "a whole number of laps, such as `laps-down 2`"
    } else {
        "a place, from 1 on, such as `grid 5 finish 3`"
    };
    let bad = Trouble { span: cur.here(), what: What::Incomplete { verb: "result", wants } };
    let Some(typed) = cur.take(Shape::Number) else { return Err(bad) };
    let whole = cur.str(typed).parse::<u32>().ok().filter(|place| *place < 10_000);
    *count = Some(whole.filter(|place| *place > 0 || text == "laps-down").ok_or(bad)?);
    Ok(true)
}

/// A time with its unit, or minutes and seconds as a lap time is typed; seconds.
fn seconds(cur: &mut Cursor<'_>) -> Result<f64, Trouble> {
    let wants =
        "a time, `penalty 10 s` or `penalty 1:10`: laps lost are `laps-down`, places lost are in `finish`";
    let missing = Trouble { span: cur.here(), what: What::Incomplete { verb: "penalty", wants } };
    if let Some(word) = cur.peek().filter(|word| matches!(word.shape, Shape::Lap | Shape::Clock)) {
        cur.bump();
        return lap_time(cur, word);
    }
    let Some(word) = cur.take(Shape::Number) else { return Err(missing) };
    let typed = number(cur, word)?;
    let unit = cur.peek().filter(|word| word.shape == Shape::Word);
    let Some(unit) = unit.and_then(|unit| table().find_one(cur.str(unit), DimensionId::TIME)) else {
        return Err(missing);
    };
    if typed.value < 0.0 {
        return Err(Trouble { span: cur.span(word), ..missing });
    }
    cur.bump();
    Ok(unit.get().to_si(typed.value))
}
