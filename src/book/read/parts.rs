//! Lines about parts: fit, remove, swap, move, build, strip and the rest, and `hit`.

use super::line::Reading;
use super::run::Said;
use super::stock::how_many;
use super::{Reader, loans};
use crate::book::clause::{CLAUSES, Clause};
use crate::book::clauses::{self, client_here, look_up};
use crate::book::declare::stated;
use crate::book::entry::{PartFacts, Subject, Verb, Verdict};
use crate::book::model::{CarId, OutfitId, PartId};
use crate::book::names::{Names, Thing, nearest};
use crate::book::place::Place;
use crate::book::sums;
use crate::book::trouble::{Trouble, What};
use crate::book::values::ends_values;
use crate::book::verbs::PartVerb;
use crate::money::Currency;
use crate::source::Span;
use crate::syntax::{Cursor, Shape};

/// What stands before and after an arrow.
#[derive(Default)]
struct Side {
    parts: Vec<PartId>,
    car: Option<CarId>,
    place: Option<Place>,
    /// Where each of them stands.
    said: Said,
}

/// What a line names, whatever it says of it.
#[derive(Default)]
pub(super) struct Named {
    pub parts: Vec<PartId>,
    /// How many words name a place, and the first that they name.
    pub places: usize,
    pub place: Option<Place>,
}

/// What is read of a line before it is known whether all of it can be.
#[derive(Default)]
struct Typed {
    before: Side,
    after: Option<Side>,
    facts: PartFacts,
    /// Where its kind, its verdict and the like stand.
    said: Said,
}

impl Reader<'_> {
    /// A line about parts. Every word of it counts: one that the verb has no use for, or a second of what it says once, is a mistake, and a
    /// mistake leaves every part that the line names in doubt.
    pub(super) fn part_line(&mut self, reading: &mut Reading<'_>, verb: PartVerb) -> Result<(), Trouble> {
        let whole = reading.cur.clone();
        let mut typed = Typed::default();
        let read = self.part_facts(reading, verb, &mut typed);
        if read.is_err() {
            let subject = typed.before.parts.first().copied();
            reading.entry.subject = subject.map_or(Subject::Nothing, Subject::Part);
            // Of a name that no part has, whichever was meant may be the one that is bad.
            let worse =
                matches!(verb, PartVerb::Failed | PartVerb::Inspect | PartVerb::Quarantine | PartVerb::Scrap);
            let Named { parts: mut more, places, place } = self.named(whole, !worse);
            more.retain(|part| Some(*part) != subject);
            // Where it would have gone, or what would have gone on, is what a mistake in it leaves in doubt: of two places, anywhere.
            let place = typed.before.place.or(place).filter(|_| places <= 1);
            let outfit = typed.facts.outfit;
            let facts = PartFacts { place, more, outfit, ..PartFacts::default() };
            reading.extra.parts = Some(Box::new(facts));
        }
        read
    }

    /// The parts that words of a line name, or nearly where that is to count, each once, whatever else is wrong with it, and the places.
    pub(super) fn named(&self, mut cur: Cursor<'_>, nearly: bool) -> Named {
        let names = &self.book.names;
        let mut named = Named::default();
        while let Some(word) = cur.peek() {
            cur.bump();
            if !matches!(word.shape, Shape::Word | Shape::Code | Shape::Odd) {
                continue;
            }
            let text = cur.str(word);
            if let Some(place) = names.place(text) {
                named.places += 1;
                named.place = named.place.or(Some(place));
            }
            // Of several that are near, any.
            let near = || {
                let plain =
                    nearly && cur.suggests && !clauses::is_clause(text) && names.place(text).is_none();
                plain.then(|| names.all_near(text, |thing| matches!(thing, Thing::Part(_))))
            };
            let found = names.find(text).map(|thing| vec![thing]).or_else(near).unwrap_or_default();
            for thing in found {
                if let Thing::Part(part) = thing
                    && !named.parts.contains(&part)
                {
                    named.parts.push(part);
                }
            }
        }
        named
    }

    fn part_facts(
        &mut self,
        reading: &mut Reading<'_>,
        verb: PartVerb,
        typed: &mut Typed,
    ) -> Result<(), Trouble> {
        let book = self.book;
        let (mut slip, mut lost) = (None, None);
        {
            let Reading { cur, entry, extra, side: survives, .. } = reading;
            let mut past = false;
            let read = clauses::read(cur, &book.names, &mut entry.by, extra, survives, |cur, _| {
                let arrow = cur.here();
                if cur.take(Shape::Arrow).is_some() {
                    if past {
                        return Err(Trouble { span: arrow, what: What::ArrowBad });
                    }
                    past = true;
                    return Ok(true);
                }
                word(self, cur, (verb, past), typed, (&mut slip, &mut lost))
            });
            let facts = &typed.facts;
            // Whose a sum is may hang on any word of its line.
            let sum = facts.money.is_some() || facts.money_lost;
            let read = read.and_then(|()| survives.mistake.take_if(|_| sum).map_or(Ok(()), Err));
            read?;
        }
        let Typed { before, after, facts, said } = typed;
        if !reading.said {
            self.out.troubles.extend(slip);
        }
        if let Some(lost) = lost {
            reading.side.forgive(lost);
        }
        let line = reading.cur.said();
        let missing =
            |wants| Trouble { span: line, what: What::Incomplete { verb: Verb::from(verb).word(), wants } };
        if let Some(span) = idle(verb, before, said) {
            return Err(Trouble { span, what: What::WordUnexpected { near: None } });
        }
        facts.place = before.place;
        facts.car = before.car;
        if after.is_some() && !matches!(verb, PartVerb::Swap | PartVerb::Move) {
            return Err(Trouble { span: line, what: What::ArrowBad });
        }
        match verb {
            PartVerb::Swap => {
                let (Some(off), Some(on)) =
                    (before.parts.first(), after.iter().find_map(|side| side.parts.first()))
                else {
                    return Err(missing("the part that comes off, `->`, and the part that goes on"));
                };
                if before.parts.len() > 1 {
                    return Err(missing("one part before `->`, and one behind it"));
                }
                reading.entry.subject = Subject::Part(*off);
                facts.other = Some(*on);
                // The place may stand behind what goes on there.
                facts.place = facts.place.or(after.as_ref().and_then(|after| after.place));
                facts.car = facts.car.or(after.as_ref().and_then(|after| after.car));
            }
            PartVerb::Move => {
                let Some(after) = after else { return Err(missing("`->` and the car and place it goes to")) };
                let Some(part) = before.parts.first() else { return Err(missing("the part that moves")) };
                if before.place.is_some() || before.car.is_some() || !after.parts.is_empty() {
                    return Err(missing(
                        "its part alone before `->`, and behind it the car and place it goes to",
                    ));
                }
                reading.entry.subject = Subject::Part(*part);
                facts.place = after.place;
                facts.car = after.car;
            }
            PartVerb::Build | PartVerb::Strip => {
                let wants = if verb == PartVerb::Build {
                    "a part, `into`, and the assembly"
                } else {
                    "a part, `from`, and the assembly"
                };
                let (Some(part), Some(_)) = (before.parts.first(), facts.other) else {
                    return Err(missing(wants));
                };
                reading.entry.subject = Subject::Part(*part);
            }
            PartVerb::Buy if before.parts.is_empty() && facts.kind.is_some() => {
                if facts.count.is_none() {
                    return Err(missing("a part, or a kind and how many of it"));
                }
            }
            PartVerb::Fit if facts.outfit.is_some() => {
                let outfit = facts.outfit;
                reading.extra.parts = Some(Box::new(PartFacts { outfit, ..PartFacts::default() }));
                if reading.entry.parent.is_some() {
                    let wants = "a part and its place here: an outfit stands at the block's own indent";
                    return Err(missing(wants));
                }
                if !before.parts.is_empty() || facts.place.is_some() || facts.car.is_some() {
                    let wants = "a part and its place, or the name of an outfit and nothing else";
                    return Err(missing(wants));
                }
                self.needs_car(reading, Verb::Fit, line);
                self.wears(facts.outfit, line)?;
            }
            PartVerb::Sell | PartVerb::Buy if before.parts.is_empty() => {
                let Some(car) = facts.car else { return Err(missing("a part or a car")) };
                let of_head = self.out.heads.last().and_then(|head| head.car);
                if of_head.is_some_and(|own| own != car) {
                    return Err(missing(
                        "a part, or the car of this head: another car has a head of its own",
                    ));
                }
            }
            PartVerb::Fit
            | PartVerb::Remove
            | PartVerb::Rebuild
            | PartVerb::Shelve
            | PartVerb::Quarantine
            | PartVerb::Release
            | PartVerb::Scrap
            | PartVerb::Buy
            | PartVerb::Sell
            | PartVerb::Failed
            | PartVerb::Inspect
            | PartVerb::Service
            | PartVerb::Lend
            | PartVerb::Borrow
            | PartVerb::Return => {
                let Some(part) = before.parts.first() else { return Err(missing("a part")) };
                reading.entry.subject = Subject::Part(*part);
                facts.more.extend(before.parts.iter().skip(1));
            }
        }
        let whom = facts.loan.as_ref().is_some_and(|loan| loan.whom.is_some());
        if !whom && matches!(verb, PartVerb::Lend | PartVerb::Borrow) {
            return Err(missing(loans::wants(verb)));
        }
        let needs_reason = matches!(verb, PartVerb::Quarantine | PartVerb::Release | PartVerb::Scrap);
        let told = reading.extra.because.is_some() || reading.extra.unclear.has(Clause::Because);
        if needs_reason && !told {
            let what = What::Incomplete { verb: Verb::from(verb).word(), wants: "`because` and the reason" };
            // It is set aside, or back in use, for a reason that nobody told.
            reading.extra.unclear.add(Clause::Because);
            reading.side.forgive(Trouble { span: reading.cur.here(), what });
        }
        if verb == PartVerb::Fit
            && reading.entry.part().is_some_and(|part| book.parts.get(part).is_some())
            && facts.car.is_none()
        {
            self.needs_car(reading, Verb::Fit, line);
        }
        reading.extra.parts = Some(Box::new(std::mem::take(facts)));
        Ok(())
    }

    /// Whether the block's car is the one that an outfit is for.
    fn wears(&self, outfit: Option<OutfitId>, line: Span) -> Result<(), Trouble> {
        let Some(car) = self.out.heads.last().and_then(|head| head.car) else { return Ok(()) };
        let own = outfit.and_then(|outfit| self.book.outfits.get(outfit)).and_then(|outfit| outfit.car);
        if own.is_some_and(|own| own != car) {
            let what = What::PropertyValue { property: "fit", wants: "an outfit of the car of this block" };
            return Err(Trouble { span: line, what });
        }
        Ok(())
    }

    /// `hit RF "tyre wall" during s6`.
    pub(super) fn hit(&mut self, reading: &mut Reading<'_>) -> Result<(), Trouble> {
        let cur = &mut reading.cur;
        let place = cur.peek().and_then(|word| self.book.names.place(cur.str(word)));
        let Some(place) = place else {
            return Err(Trouble {
                span: cur.here(),
                what: What::Incomplete {
                    verb: "hit",
                    wants: "a place: a corner, front, rear, or a position",
                },
            });
        };
        cur.bump();
        reading.extra.parts = Some(Box::new(PartFacts { place: Some(place), ..PartFacts::default() }));
        self.clauses(reading)
    }
}

/// A sum that could not be read: the part is where it is, and how much was paid is unknown. What was meant for the currency
/// is gone past, unless it may be a word of the line's own.
fn lose_sum(
    names: &Names,
    cur: &mut Cursor<'_>,
    facts: &mut PartFacts,
    lost: &mut Option<Trouble>,
    trouble: Trouble,
) -> Result<(), Trouble> {
    if trouble.what == What::CurrencyBad
        && let Some(word) = cur.peek().filter(|word| cur.span(*word) == trouble.span)
    {
        let text = cur.str(word);
        if names.find(text).is_some() || names.place(text).is_some() {
            return Err(trouble);
        }
        cur.bump();
    }
    facts.money = None;
    facts.money_lost = true;
    lost.get_or_insert(trouble);
    Ok(())
}

/// Whether a line of the verb has as many parts as are typed; of others each part has a line of its own.
const fn lists(verb: PartVerb) -> bool {
    matches!(verb, PartVerb::Sell | PartVerb::Lend | PartVerb::Borrow | PartVerb::Return)
}

/// A word that says nothing on a line of the verb, or what the verb cannot mean: a place or a car where it puts the part nowhere and asks
/// for it nowhere, a verdict on what is no look at it.
fn idle(verb: PartVerb, before: &Side, said: &Said) -> Option<Span> {
    let where_it_is = match verb {
        PartVerb::Fit
        | PartVerb::Remove
        | PartVerb::Swap
        | PartVerb::Move
        | PartVerb::Failed
        | PartVerb::Inspect
        | PartVerb::Service
        | PartVerb::Quarantine
        | PartVerb::Scrap => None,
        PartVerb::Build
        | PartVerb::Strip
        | PartVerb::Rebuild
        | PartVerb::Shelve
        | PartVerb::Release
        | PartVerb::Buy
        | PartVerb::Sell
        | PartVerb::Lend
        | PartVerb::Borrow
        | PartVerb::Return => {
            let car = before.said.at(CAR).filter(|_| !before.parts.is_empty());
            before.said.at(PLACE).or(car)
        }
    };
    let bad = match verb {
        PartVerb::Remove | PartVerb::Swap | PartVerb::Strip | PartVerb::Return | PartVerb::Inspect => None,
        PartVerb::Failed | PartVerb::Quarantine => said.at(VERDICT),
        PartVerb::Fit
        | PartVerb::Move
        | PartVerb::Build
        | PartVerb::Rebuild
        | PartVerb::Shelve
        | PartVerb::Release
        | PartVerb::Scrap
        | PartVerb::Buy
        | PartVerb::Sell
        | PartVerb::Service
        | PartVerb::Lend
        | PartVerb::Borrow => said.at(FAILED),
    };
    where_it_is.or(bad)
}

/// What a line about parts says once, as its message calls it.
const PART: &str = "part";
const PLACE: &str = "place";
const CAR: &str = "car";
const KIND: &str = "kind";
const VERDICT: &str = "verdict";
/// Of a verdict, that it is bad: noted beside it, and never told.
const FAILED: &str = "failed";

/// One word of a line about parts; `false` leaves it to the clauses.
fn word(
    reader: &Reader<'_>,
    cur: &mut Cursor<'_>,
    (verb, past): (PartVerb, bool),
    typed: &mut Typed,
    (slip, lost): (&mut Option<Trouble>, &mut Option<Trouble>),
) -> Result<bool, Trouble> {
    let book = reader.book;
    let Typed { before, after, facts, said } = typed;
    let side = if past { after.get_or_insert_with(Side::default) } else { before };
    let Some(word) = cur.peek() else { return Ok(false) };
    let money = matches!(verb, PartVerb::Buy | PartVerb::Sell | PartVerb::Move | PartVerb::Borrow);
    if verb == PartVerb::Buy
        && facts.kind.is_some()
        && side.parts.is_empty()
        && facts.count.is_none()
        && let Some(count) = how_many(cur)
    {
        facts.count = Some(count);
        return Ok(true);
    }
    // `buy nut 3.5 10.00 EUR`: so many of a kind are whole ones.
    let of_kind = verb == PartVerb::Buy && facts.kind.is_some() && facts.count.is_none();
    let number = |ahead: usize| cur.peek_at(ahead).is_some_and(|next| next.shape == Shape::Number);
    if of_kind && side.parts.is_empty() && number(0) && number(1) {
        let what = What::Incomplete { verb: "buy", wants: "how many: a whole number" };
        return Err(Trouble { span: cur.span(word), what });
    }
    if word.shape == Shape::Number && money && (facts.money.is_some() || facts.money_lost) {
        // Two sums: nobody can say which of them it is.
        let trouble = Trouble {
            span: cur.span(word),
            what: What::Incomplete { verb: Verb::from(verb).word(), wants: "one sum, not two" },
        };
        cur.bump();
        if cur.peek().is_some_and(|next| Currency::find(cur.str(next)).is_some()) {
            cur.bump();
        }
        // Of the first it may have been said that its currency is left out.
        lose_sum(&book.names, cur, facts, lost, slip.take().unwrap_or(trouble))?;
        return Ok(true);
    }
    if word.shape == Shape::Number && money {
        let goes_on = |word: &str| ends_values(word) || word.eq_ignore_ascii_case("invoice");
        match sums::sum(cur, book.shop.currency, &goes_on) {
            Ok((sum, left_out)) => {
                facts.money = Some(sum);
                *slip = left_out.or(slip.take());
            }
            Err(trouble) => lose_sum(&book.names, cur, facts, lost, trouble)?,
        }
        return Ok(true);
    }
    if word.shape == Shape::Odd && money && cur.str(word).starts_with(|first: char| first.is_ascii_digit()) {
        // Meant for a number; the currency behind it goes with it.
        let trouble = Trouble { span: cur.span(word), what: What::WordUnexpected { near: None } };
        cur.bump();
        if cur.peek().is_some_and(|next| Currency::find(cur.str(next)).is_some()) {
            cur.bump();
        }
        lose_sum(&book.names, cur, facts, lost, trouble)?;
        return Ok(true);
    }
    if verb == PartVerb::Buy && cur.take_keyword("invoice") {
        facts.invoice = Some(clauses::phrase(cur, "invoice", "its number, in quotes")?);
        return Ok(true);
    }
    if word.shape != Shape::Word {
        return Ok(false);
    }
    let text = cur.str(word);
    let here = cur.span(word);
    let own = |cur: &mut Cursor<'_>, of: PartVerb, word: &str| verb == of && cur.take_keyword(word);
    if own(cur, PartVerb::Build, "into") || own(cur, PartVerb::Strip, "from") {
        said.once("assembly", here)?;
        facts.other = Some(reader.part_here(cur)?);
        return Ok(true);
    }
    if reader.loan_word(cur, verb, facts)? {
        return Ok(true);
    }
    let named = cur.peek_at(1).is_some_and(|next| next.shape == Shape::Word);
    if named && own(cur, PartVerb::Sell, "to") {
        facts.buyer = Some(client_here(cur, &book.names)?);
        return Ok(true);
    }
    if own(cur, PartVerb::Sell, "with") {
        loop {
            facts.more.push(reader.part_here(cur)?);
            if !cur.take_comma() {
                return Ok(true);
            }
        }
    }
    if own(cur, PartVerb::Service, "until") {
        facts.until = Some(stated(cur, "until")?.0);
        return Ok(true);
    }
    if verb == PartVerb::Rebuild && text.eq_ignore_ascii_case("with") {
        facts.all |= cur.peek_at(1).is_some_and(|next| cur.str(next).eq_ignore_ascii_case("all"));
        return Ok(false);
    }
    let (of_line, of_side) = (said, &mut side.said);
    // What a swap takes off and puts on is in one place, on whichever side of the arrow that stands.
    let placed = |of_line: &mut Said, of_side: &mut Said, what: &'static str| {
        of_side.once(what, here)?;
        if verb == PartVerb::Swap { of_line.once(what, here) } else { Ok(()) }
    };
    if text.eq_ignore_ascii_case("good") {
        of_line.once(VERDICT, here)?;
        facts.verdict = Some(Verdict::Good);
    } else if text.eq_ignore_ascii_case("failed") {
        of_line.once(VERDICT, here)?;
        of_line.once(FAILED, here)?;
        facts.verdict = Some(Verdict::Failed);
    } else if let Some(place) = Place::parse(text) {
        placed(of_line, of_side, PLACE)?;
        side.place = Some(place);
    } else {
        match book.names.find(text) {
            Some(Thing::Part(part)) => {
                // Of a swap the arrow between two parts may be what is left out.
                if !lists(verb) && (past || verb != PartVerb::Swap) {
                    of_side.once(PART, here)?;
                }
                side.parts.push(part);
            }
            Some(Thing::Car(car)) => {
                placed(of_line, of_side, CAR)?;
                side.car = Some(car);
            }
            Some(Thing::Kind(kind)) => match book.names.place(text) {
                // A position of the kind's own name: `swap turbo turbo tb-1 -> tb-2` names the kind, then the place.
                Some(place) if verb != PartVerb::Swap || facts.kind.is_some() => {
                    placed(of_line, of_side, PLACE)?;
                    side.place = Some(place);
                }
                _ => {
                    of_line.once(KIND, here)?;
                    facts.kind = Some(kind);
                }
            },
            Some(Thing::Position(place)) => {
                placed(of_line, of_side, PLACE)?;
                side.place = Some(place);
            }
            Some(Thing::Outfit(outfit)) if verb == PartVerb::Fit && facts.outfit.is_none() => {
                facts.outfit = Some(outfit);
            }
            _ => {
                let flag = ["ok", "unsure"].iter().any(|flag| text.eq_ignore_ascii_case(flag));
                if flag || clauses::is_clause(text) {
                    return Ok(false);
                }
                if money && Currency::find(text).is_some() {
                    // The currency before its sum.
                    let trouble = Trouble { span: cur.span(word), what: What::CurrencyBad };
                    cur.bump();
                    cur.take(Shape::Number);
                    lose_sum(&book.names, cur, facts, lost, trouble)?;
                    return Ok(true);
                }
                if verb == PartVerb::Fit && !side.parts.is_empty() && side.place.is_none() {
                    let wants = "a place behind its part: a corner, front, rear, or a position that its kind declares";
                    let what = What::Incomplete { verb: "fit", wants };
                    return Err(Trouble { span: cur.span(word), what });
                }
                if !side.parts.is_empty() && !lists(verb) && book.names.find(text).is_none() {
                    // A second word behind the part that it is about: no part is meant by it.
                    let words = ["good", "failed", "ok", "unsure"].into_iter().chain(CLAUSES);
                    let what = What::WordUnexpected { near: nearest(text, words) };
                    return Err(Trouble { span: cur.span(word), what });
                }
                if verb == PartVerb::Move && past && side.car.is_none() {
                    clauses::car_here(cur, &book.names)?;
                }
                look_up(cur, &book.names, "part", |thing| match thing {
                    Thing::Part(id) => Some(id),
                    _ => None,
                })?;
            }
        }
    }
    cur.bump();
    Ok(true)
}
