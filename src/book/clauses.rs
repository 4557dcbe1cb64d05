//! Clauses after a line's values: `by`, `with`, `over`, `at`, `during`, `after`, `because` and the rest, in any order.
//!
//! Must not know verbs, nor any state.

use super::clause::{CLAUSES, Clause};
use super::declare::is_name_of;
use super::entry::{Audience, By, Extra, Failure, Verb};
use super::model::{CarId, CircuitId, ClientId, Condition, EventId, JobId, KindId, PartId};
use super::names::{Names, Thing, folded};
use super::side::Side;
use super::single::one;
use super::skip;
use super::taken;
use super::trouble::{Trouble, What};
use super::values;
use crate::source::Span;
use crate::syntax::{Cursor, Shape, Word};
use crate::units::{DimensionId, UnitId, table};

/// Whether a word opens a clause.
#[must_use]
pub fn is_clause(word: &str) -> bool {
    Clause::find(word).is_some()
}

/// Whether `for` and who may read the line stand here.
#[must_use]
pub fn names_audience(cur: &Cursor<'_>) -> bool {
    let word = |ahead: usize| cur.peek_at(ahead).map_or("", |word| cur.str(word));
    word(0).eq_ignore_ascii_case("for") && Audience::find(word(1)).is_some()
}

/// The same, or one slip in who may read it, behind the line's last words: `for shpo`. A driver's `for slow corners` is neither.
#[must_use]
pub fn means_audience(cur: &Cursor<'_>) -> bool {
    if names_audience(cur) {
        return true;
    }
    let is_for = cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("for"));
    let Some(next) = cur.peek_at(1).filter(|word| is_for && word.shape == Shape::Word) else { return false };
    let said = folded(cur.str(next));
    let near = Audience::ALL.into_iter().any(|one| strsim::osa_distance(&said, one.word()) <= 1);
    let last = cur.peek_at(2).is_none_or(|word| ends_words(cur, word));
    near && last
}

/// Whether plain words end before this one.
fn ends_words(cur: &Cursor<'_>, word: Word) -> bool {
    match word.shape {
        Shape::Because | Shape::Comma | Shape::Text => true,
        Shape::Word => is_clause(cur.str(word)),
        _ => false,
    }
}

/// Whether the `for` here is one of a condition's words (`damp for an hour`): no audience, nor one that is not said.
fn is_plain_for(cur: &Cursor<'_>) -> bool {
    let is_for = cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("for"));
    is_for && !means_audience(cur) && cur.peek_at(1).is_some_and(|next| !ends_words(cur, next))
}

macro_rules! names_here {
    ($($name:ident $wanted:literal $variant:ident $id:ident),* $(,)?) => {
        $(#[doc = concat!("Reads the name of a ", $wanted, " and goes past it.")]
        ///
        /// # Errors
        /// Unknown, or of another sort; then it stays where it was.
        pub fn $name(cur: &mut Cursor<'_>, names: &Names) -> Result<$id, Trouble> {
            let found = look_up(cur, names, $wanted, |thing| match thing {
                Thing::$variant(id) => Some(id),
                _ => None,
            })?;
            cur.bump();
            Ok(found)
        })*
    };
}
names_here! {
    car_here "car" Car CarId,
    circuit_here "circuit" Circuit CircuitId,
    client_here "client" Client ClientId,
    event_here "event" Event EventId,
    job_here "job" Job JobId,
    kind_here "kind of part" Kind KindId,
    part_here "part" Part PartId,
}

/// The kinds of dimension a condition's value may have, in the order they are tried.
const CONDITION_KINDS: [DimensionId; 12] = [
    DimensionId::MASS,
    DimensionId::VOLUME,
    DimensionId::TEMPERATURE,
    DimensionId::PRESSURE,
    DimensionId::LENGTH,
    DimensionId::TIME,
    DimensionId::ANGLE,
    DimensionId::SPEED,
    DimensionId::ROTATION,
    DimensionId::TORQUE,
    DimensionId::VOLTAGE,
    DimensionId::RATIO,
];

/// Looks up a name of a wanted sort and says what is wrong if it is none.
///
/// # Errors
/// Unknown, or of another sort.
pub fn look_up<T>(
    cur: &Cursor<'_>,
    names: &Names,
    wanted: &'static str,
    pick: impl Fn(Thing) -> Option<T>,
) -> Result<T, Trouble> {
    let word = cur.peek().filter(|word| matches!(word.shape, Shape::Word | Shape::Code | Shape::Odd));
    let Some(word) = word else {
        return Err(Trouble { span: cur.here(), what: What::NameMissing(wanted) });
    };
    let text = cur.str(word);
    let span = cur.span(word);
    match names.find(text) {
        Some(thing) => pick(thing).ok_or_else(|| Trouble {
            span,
            what: What::NameWrongSort {
                wanted,
                is: thing.sort(),
                declared: names.declared(text).unwrap_or(span),
            },
        }),
        None => Err(Trouble {
            span,
            what: What::NameUnknown {
                wanted,
                near: cur.suggests.then(|| names.near(text, |thing| pick(thing).is_some())).flatten(),
            },
        }),
    }
}

/// The word, if it opens what a verb takes and a line says once: a clause, or a word of the verb's own.
fn single(word: &str) -> Option<&'static str> {
    let is = |one: &&&'static str| word.eq_ignore_ascii_case(one);
    let own = ["until", "ran", "unused", "invoice", "rate", "split", "promised", "on-part"]
        .iter()
        .find(is)
        .copied();
    own.or_else(|| Clause::find(word).filter(|clause| clause.says_one_thing()).map(Clause::word))
}

/// Reads clauses to the end of the line. A word that is none is handed to `other`, which moves past what it takes
/// and says whether it took anything. A mistake in a clause that only adds to the line goes to `side`, and the rest is read, if
/// the rest can be nothing else than what it was (`skip`).
///
/// # Errors
/// The line's one mistake.
pub fn read<'a>(
    cur: &mut Cursor<'a>,
    names: &Names,
    by: &mut By,
    extra: &mut Extra,
    side: &mut Side,
    mut other: impl FnMut(&mut Cursor<'a>, &mut Extra) -> Result<bool, Trouble>,
) -> Result<(), Trouble> {
    let mut reached = None;
    let mut first: [Option<Span>; Clause::ALL.len()] = [None; _];
    let mut taken: Vec<(&'static str, Span)> = Vec::new();
    while let Some(word) = cur.peek() {
        if reached.replace(word.start) == Some(word.start) {
            debug_assert!(false, "reading clauses goes on");
            cur.bump();
            continue;
        }
        let span = cur.span(word);
        // What the verb itself takes stands once too.
        let single =
            Some(word).filter(|word| word.shape == Shape::Word).and_then(|word| single(cur.str(word)));
        if let Some((said, before)) =
            single.and_then(|single| taken.iter().find(|(other, _)| *other == single))
        {
            return Err(Trouble { span: cur.span(word), what: What::ClauseTwice(said, *before) });
        }
        if other(cur, extra)? {
            taken.extend(single.map(|single| (single, span)));
            continue;
        }
        let from = cur.clone();
        let named =
            Some(word).filter(|word| word.shape == Shape::Word).and_then(|word| Clause::find(cur.str(word)));
        let idle = side.verb.zip(named).filter(|(_, clause)| !side.takes.has(*clause));
        let (clause, read) = match (word.shape, named) {
            (Shape::Word, _) if let Some((verb, clause)) = idle => {
                (named, Err(taken::not_taken(cur, names, verb, clause)))
            }
            (Shape::Because, _) => (Some(Clause::Because), because(cur, extra)),
            (Shape::Text, _) => {
                cur.bump();
                extra.words.push(span);
                continue;
            }
            (Shape::Comma, _) => {
                cur.bump();
                continue;
            }
            // `because, ...`: with something glued to it, it is no reason's keyword.
            (_, Some(Clause::Because)) => (named, Err(Trouble { span, what: What::BecauseEmpty })),
            (_, Some(Clause::With)) => {
                with(cur, names, extra, side)?;
                continue;
            }
            (Shape::Word, Some(twice)) if let Some(Some(before)) = first.get(twice as usize) => {
                (named, Err(Trouble { span, what: What::ClauseTwice(twice.word(), *before) }))
            }
            (Shape::Word, _) => {
                let single = named.filter(|clause| clause.says_one_thing());
                if let Some(slot) = single.and_then(|clause| first.get_mut(clause as usize)) {
                    *slot = Some(span);
                }
                (named, clause(cur, names, side.verb, by, extra))
            }
            _ => (None, Err(Trouble { span, what: What::WordUnexpected { near: None } })),
        };
        let Err(trouble) = read else { continue };
        *cur = from;
        if clause.is_some() {
            cur.bump();
        }
        let survives = clause.map_or(side.stray, |clause| side.adds.has(clause));
        if !(survives && skip::argument(cur, names, side, clause)) {
            return Err(trouble);
        }
        side.forgive(trouble);
        if let Some(clause) = clause {
            extra.unclear.add(clause);
        }
    }
    let unclear = extra.unclear;
    for clause in Clause::ALL.into_iter().filter(|clause| unclear.has(*clause)) {
        forget(clause, by, extra);
    }
    Ok(())
}

/// `with` and its conditions. Of a bad one nothing is known; the others are what they are.
fn with(cur: &mut Cursor<'_>, names: &Names, extra: &mut Extra, side: &mut Side) -> Result<(), Trouble> {
    cur.bump();
    let mut first = true;
    loop {
        let from = cur.clone();
        let known = extra.conditions.len();
        if let Some(trouble) = no_condition(cur, names, side.verb) {
            if !skip::argument(cur, names, side, Some(Clause::With)) {
                return Err(trouble);
            }
            side.forgive(trouble);
            extra.unclear.add(Clause::With);
            if !cur.take_comma() {
                return Ok(());
            }
            continue;
        }
        let mut read = condition(cur, "", &mut extra.conditions, std::mem::take(&mut first));
        // `with fuel 2o L`: what a condition's number was meant to be.
        if let (Ok(false), Some(odd)) = (&read, cur.peek().filter(|word| word.shape == Shape::Odd)) {
            read = Err(Trouble { span: cur.span(odd), what: What::NumberBad });
        }
        let trouble = match read {
            Ok(true) => continue,
            Ok(false) => return Ok(()),
            Err(trouble) => trouble,
        };
        extra.conditions.truncate(known);
        *cur = from;
        if !(side.adds.has(Clause::With) && skip::argument(cur, names, side, Some(Clause::With))) {
            return Err(trouble);
        }
        side.forgive(trouble);
        extra.unclear.add(Clause::With);
        if !cur.take_comma() {
            return Ok(());
        }
    }
}

/// A gauge is no condition, nor is a person, nor on a line that puts a part somewhere another part: `read camber ... with cg-1`.
fn no_condition(cur: &Cursor<'_>, names: &Names, verb: Option<Verb>) -> Option<Trouble> {
    let word = cur.peek().filter(|word| word.shape == Shape::Word)?;
    let said = cur.str(word);
    let number = cur.peek_at(1).is_some_and(|next| next.shape == Shape::Number);
    let part_line = verb.is_some_and(|verb| verb.moves_part() && verb != Verb::Rebuild);
    let cure = match names.find(said).filter(|_| !number)? {
        Thing::Gauge(_) | Thing::Person(_) => Some(format!("`by {said}`")),
        Thing::Part(_) if part_line => Some(format!("a line of its own for {said}")),
        _ => return None,
    };
    let verb = verb.map_or("", Verb::word);
    Some(Trouble { span: cur.span(word), what: What::ClauseNotTaken { clause: "with", verb, cure } })
}

/// What a bad clause would have said is not known, whatever the same word said before on the line.
fn forget(clause: Clause, by: &mut By, extra: &mut Extra) {
    extra.unclear.add(clause);
    match clause {
        Clause::By => *by = By::Nobody,
        Clause::On => extra.job = None,
        // Nobody reads more than he would have.
        Clause::For => extra.audience = Some(Audience::Shop),
        Clause::Because => extra.because = None,
        Clause::During => extra.during = None,
        Clause::After => extra.after = None,
        Clause::Lap => extra.lap = None,
        Clause::Over => extra.over = None,
        Clause::At => extra.at = None,
        Clause::FoundBy => failure(extra).found_by = None,
        Clause::Mode => failure(extra).mode = None,
        Clause::Mechanism => failure(extra).mechanism = None,
        Clause::Cause => failure(extra).cause = None,
        Clause::From | Clause::To => extra.from = None,
        // Those that could be read are known.
        Clause::With | Clause::Into => {}
    }
}

/// The words after `because`, which the word itself holds.
fn because(cur: &mut Cursor<'_>, extra: &mut Extra) -> Result<(), Trouble> {
    let Some(word) = cur.take(Shape::Because) else { return Ok(()) };
    if word.len == 0 {
        let line = cur.line();
        let before = cur.text.get(line.start as usize..word.start as usize).unwrap_or_default();
        let end = line.start + before.trim_end().len() as u32;
        let start = end.saturating_sub("because".len() as u32);
        return Err(Trouble { span: Span::new(cur.file, start, end), what: What::BecauseEmpty });
    }
    extra.because = Some(cur.span(word));
    Ok(())
}

fn clause(
    cur: &mut Cursor<'_>,
    names: &Names,
    verb: Option<Verb>,
    by: &mut By,
    extra: &mut Extra,
) -> Result<(), Trouble> {
    let keyword = cur.peek();
    if let Some(verb) = verb.filter(|verb| !taken::by_client(*verb))
        && cur.peek_at(1).is_some_and(|who| matches!(names.find(cur.str(who)), Some(Thing::Client(_))))
        && cur.peek().is_some_and(|by| cur.str(by).eq_ignore_ascii_case("by"))
    {
        return Err(taken::not_taken(cur, names, verb, Clause::By));
    }
    if cur.take_keyword("by") {
        let gauge = verb.is_none_or(taken::by_gauge);
        *by = look_up(cur, names, if gauge { "gauge or person" } else { "person" }, |thing| match thing {
            Thing::Gauge(id) => gauge.then_some(By::Gauge(id)),
            _ => names.person(thing).map(By::Person),
        })?;
        let before = cur.here();
        cur.bump();
        if let Some(other) = and_who(cur, names) {
            return Err(Trouble { span: cur.span(other), what: What::ClauseTwice("by", before) });
        }
    } else if cur.take_keyword("over") {
        extra.over = Some(one(cur, DimensionId::LENGTH)?.si);
    } else if cur.take_keyword("at") {
        let kind = kind_of_next(cur);
        extra.at = Some(one(cur, kind.unwrap_or(DimensionId::PRESSURE))?);
    } else if cur.take_keyword("during") {
        extra.during = Some(label(cur)?);
    } else if cur.take_keyword("after") {
        extra.after = Some(label(cur)?);
    } else if cur.take_keyword("lap") {
        lap_number(cur, extra)?;
    } else if cur.take_keyword("from") {
        let behind = cur.clone();
        let span = phrase(cur, "from", "where from")?;
        let mut text = cur.text.get(span.start as usize..span.end as usize).unwrap_or_default();
        if text.eq_ignore_ascii_case("full") && cur.peek().is_some_and(|word| is_end(cur.str(word))) {
            text = cur.peek().map_or(text, |word| cur.str(word));
            cur.bump();
        }
        if text.eq_ignore_ascii_case("full-hard") || text.eq_ignore_ascii_case("hard") {
            extra.from_hard = Some(true);
        } else if text.eq_ignore_ascii_case("full-soft") || text.eq_ignore_ascii_case("soft") {
            extra.from_hard = Some(false);
        } else if let (Some(verb), Some(from)) = (verb.filter(|verb| taken::from_is_an_end(*verb)), keyword) {
            return Err(taken::no_end(&behind, from, names, verb));
        } else {
            extra.from = Some(span);
        }
    } else if cur.take_keyword("to") {
        extra.from = Some(phrase(cur, "to", "where to")?);
    } else if cur.take_keyword("on") {
        extra.job = Some(job_here(cur, names)?);
    } else if cur.take_keyword("for") {
        let span = cur.here();
        let audience = cur.peek().and_then(|word| Audience::find(cur.str(word)));
        let wants = "who may read the line: `shop`, `client` or `buyer`";
        let audience = audience.ok_or(Trouble { span, what: What::Incomplete { verb: "for", wants } })?;
        // Said twice, nobody reads it whom one of the two leaves out.
        extra.audience = Some(extra.audience.map_or(audience, |before| before.min(audience)));
        cur.bump();
    } else if cur.take_keyword("mode") {
        failure(extra).mode = Some(phrase(cur, "mode", "how it shows, in a word")?);
    } else if cur.take_keyword("mechanism") {
        failure(extra).mechanism = Some(phrase(cur, "mechanism", "what wore or broke it, in a word")?);
    } else if cur.take_keyword("cause") {
        failure(extra).cause = Some(phrase(cur, "cause", "why, in a word (`unknown` is honest)")?);
    } else if cur.take_keyword("found-by") {
        failure(extra).found_by = Some(phrase(cur, "found-by", "how it was found, in a word")?);
    } else if cur.take_keyword("unsure") || cur.take_keyword("ok") {
        // Moved past it already; the word before the cursor is the flag.
        extra.words.push(Span::new(cur.file, cur.here().start, cur.here().start));
    } else {
        let span = cur.here();
        let text = cur.peek().map_or("", |word| cur.str(word));
        return Err(Trouble {
            span,
            // Of two letters one is no slip: `in` is not `on`.
            what: What::WordUnexpected {
                near: super::names::nearest(text, CLAUSES.into_iter()).filter(|_| text.chars().count() > 2),
            },
        });
    }
    Ok(())
}

/// A second name behind a comma: `by ned, orr`.
fn and_who(cur: &Cursor<'_>, names: &Names) -> Option<Word> {
    let other = cur.peek().filter(|comma| comma.shape == Shape::Comma).and_then(|_| cur.peek_at(1))?;
    let thing = names.find(cur.str(other))?;
    (matches!(thing, Thing::Gauge(_)) || names.person(thing).is_some()).then_some(other)
}

/// The cars named here, with commas between; moves past them.
///
/// # Errors
/// When one of them names none.
pub fn cars(cur: &mut Cursor<'_>, names: &Names) -> Result<Vec<CarId>, Trouble> {
    let mut cars = Vec::new();
    loop {
        cars.push(car_here(cur, names)?);
        if !cur.take_comma() {
            return Ok(cars);
        }
    }
}

fn failure(extra: &mut Extra) -> &mut Failure {
    extra.failure.get_or_insert_with(Box::default)
}

/// A session's label.
///
/// # Errors
/// When no word follows.
pub fn label(cur: &mut Cursor<'_>) -> Result<Span, Trouble> {
    match cur.peek() {
        Some(word) if matches!(word.shape, Shape::Word | Shape::Code | Shape::Number) => {
            cur.bump();
            Ok(cur.span(word))
        }
        _ => Err(Trouble { span: cur.here(), what: What::NameMissing("session") }),
    }
}

fn lap_number(cur: &mut Cursor<'_>, extra: &mut Extra) -> Result<(), Trouble> {
    let bad = Trouble { span: cur.here(), what: What::NumberBad };
    let Some(word) = cur.take(Shape::Number) else { return Err(bad) };
    // `lap 1x`: no number, nor a word behind one.
    let end = cur.span(word).end;
    let glued = cur.peek().is_some_and(|next| next.shape == Shape::Word && next.start == end);
    let number = cur.str(word).parse::<u32>().ok().filter(|_| !glued);
    extra.lap = Some(number.ok_or(bad)?);
    Ok(())
}

/// One word or one quoted text.
///
/// # Errors
/// When neither follows.
pub fn phrase(cur: &mut Cursor<'_>, verb: &'static str, wants: &'static str) -> Result<Span, Trouble> {
    match cur.peek() {
        Some(word)
            if matches!(word.shape, Shape::Word | Shape::Text | Shape::Code | Shape::Number | Shape::Odd) =>
        {
            cur.bump();
            Ok(cur.span(word))
        }
        _ => Err(Trouble { span: cur.here(), what: What::Incomplete { verb, wants } }),
    }
}

/// The kind of dimension whose unit stands after the number here.
fn kind_of_next(cur: &Cursor<'_>) -> Option<DimensionId> {
    let unit = cur.peek_at(1).filter(|word| word.shape == Shape::Word)?;
    let text = cur.str(unit);
    CONDITION_KINDS.into_iter().find(|kind| table().find_one(text, *kind).is_some())
}

/// What a condition is measured in: the usual ones in their own kind of unit, fuel in a weight of it too; any other in what was typed.
fn kind_of(key: &str, typed: Option<DimensionId>) -> Option<DimensionId> {
    let usual = kind_of_key(key);
    let weighed = usual == Some(DimensionId::VOLUME) && typed == Some(DimensionId::MASS);
    if weighed { typed } else { usual.or(typed) }
}

/// What the usual conditions are measured in: without a unit they cannot be compared.
fn kind_of_key(key: &str) -> Option<DimensionId> {
    let is = |word: &str| key.eq_ignore_ascii_case(word);
    if is("driver") {
        Some(DimensionId::MASS)
    } else if is("fuel") {
        Some(DimensionId::VOLUME)
    } else if is("air") || is("track") {
        Some(DimensionId::TEMPERATURE)
    } else {
        None
    }
}

/// Reads `driver 78 kg, fuel 20 L, bars off` of a declaration: up to the next property of what is declared (`of`).
///
/// # Errors
/// The first condition that cannot be read.
pub fn conditions(cur: &mut Cursor<'_>, of: &str, out: &mut Vec<Condition>) -> Result<(), Trouble> {
    let mut first = true;
    while condition(cur, of, out, std::mem::take(&mut first))? {}
    Ok(())
}

/// Reads one condition; whether another may follow. Where it is not the `first`, there need be none.
///
/// Nor is the next property of a declaration (`of`; of a line nothing) a word of it.
fn condition(cur: &mut Cursor<'_>, of: &str, out: &mut Vec<Condition>, first: bool) -> Result<bool, Trouble> {
    let next_property = |word: &str| is_name_of(of, word);
    let key = cur.peek().filter(|word| matches!(word.shape, Shape::Word | Shape::Text | Shape::Code));
    let missing = || {
        let wants = "a condition, such as `driver 78 kg`";
        Trouble { span: cur.here(), what: What::Incomplete { verb: "with", wants } }
    };
    let Some(key) = key else { return if first { Err(missing()) } else { Ok(false) } };
    if key.shape == Shape::Word && (values::ends_values(cur.str(key)) || next_property(cur.str(key))) {
        // `with by ned`: the next clause, and no condition.
        return if first { Err(missing()) } else { Ok(false) };
    }
    cur.bump();
    let mut said = cur.span(key);
    let mut value = None;
    while let Some(word) = cur.peek() {
        match word.shape {
            // A second number is no part of it.
            Shape::Number if value.is_none() => {
                let kind = kind_of(cur.str(key), kind_of_next(cur));
                let item = one(cur, kind.unwrap_or(DimensionId::RATIO))?;
                let unit: UnitId = item.unit();
                value = Some((item.si, unit));
                // The unit belongs to what was said.
                said = said.to(cur.before().map_or(item.span(cur.file), |word| cur.span(word)));
            }
            Shape::Word if next_property(cur.str(word)) => break,
            Shape::Word
                if !values::ends_values(cur.str(word)) && !is_clause(cur.str(word))
                    || said == cur.span(key) && is_state(cur, cur.str(key))
                    || is_plain_for(cur) =>
            {
                // `driver 71 kg fuel 8 L`: a second number is another condition, whose comma was forgotten.
                let number = |word: Word| word.shape == Shape::Number;
                if value.is_some() && cur.peek_at(1).is_some_and(number) {
                    break;
                }
                cur.bump();
                said = said.to(cur.span(word));
            }
            _ => break,
        }
    }
    out.push(Condition { key: cur.span(key), said, value });
    let next = cur.peek().filter(|word| word.shape == Shape::Word && !values::ends_values(cur.str(*word)));
    let next =
        next.filter(|word| value.is_some() && !is_clause(cur.str(*word)) && !next_property(cur.str(*word)));
    let comma_forgotten = next.is_some() && cur.peek_at(1).is_some_and(|word| word.shape == Shape::Number);
    Ok(cur.take_comma() || comma_forgotten)
}

/// Whether the `on` here says how the condition is (`bars on`), rather than which job the line belongs to (`hot on j-02`).
fn is_state(cur: &Cursor<'_>, key: &str) -> bool {
    let on = cur.peek().is_some_and(|word| cur.str(word).eq_ignore_ascii_case("on"));
    let job = cur.peek_at(1).is_some_and(|next| next.shape == Shape::Word && !is_clause(cur.str(next)));
    on && (!job || key.eq_ignore_ascii_case("bars"))
}

/// The ends that clicks are counted from.
fn is_end(word: &str) -> bool {
    word.eq_ignore_ascii_case("hard") || word.eq_ignore_ascii_case("soft")
}
