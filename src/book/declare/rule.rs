//! `rule`: a limit on a quantity or a figure, of a class or of a local rulebook, with the days it is in force.
//!
//! Must not know readings, nor which figures there are: a name that is no quantity is kept for the stage that knows them.

use super::place::{no_date, of_date};
use super::words::is_minutes;
use super::{enter, names_of, text_value};
use crate::book::clauses::{conditions, look_up};
use crate::book::model::{Limit, Local, Rule, RuleId, Subject};
use crate::book::names::{Thing, folded, lowered};
use crate::book::single::{number, one};
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::source::Span;
use crate::syntax::{Cursor, Shape};
use jiff::civil::Date;

pub(super) fn new_rule(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Rule(RuleId::from(book.rules.len()));
    enter(book, &named.name, thing, named.declared);
    book.rules.push(Rule {
        named,
        class: String::new(),
        local: None,
        subject: None,
        places: Vec::new(),
        min: None,
        max: None,
        from: None,
        until: None,
        conditions: Vec::new(),
        broken: false,
    });
    thing
}

pub(super) fn rule_property(book: &mut Book, id: RuleId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    let done = property(book, id, cur);
    if !matches!(done, Ok(true)) {
        book.rules[id].broken = true;
    }
    done
}

fn property(book: &mut Book, id: RuleId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("class") {
        book.rules[id].class = text_value(cur, "class")?;
    } else if cur.take_keyword("at") {
        let local = look_up(cur, &book.names, "event or circuit", |thing| match thing {
            Thing::Event(id) => Some(Local::Event(id)),
            Thing::Circuit(id) => Some(Local::Circuit(id)),
            _ => None,
        })?;
        cur.bump();
        book.rules[id].local = Some(local);
    } else if cur.take_keyword("min") {
        book.rules[id].min = Some(limit(book, id, cur, "min")?);
    } else if cur.take_keyword("max") {
        book.rules[id].max = Some(limit(book, id, cur, "max")?);
    } else if cur.take_keyword("from") {
        book.rules[id].from = Some(date(cur, "from")?);
    } else if cur.take_keyword("until") {
        book.rules[id].until = Some(date(cur, "until")?);
    } else if cur.take_keyword("with") {
        let mut list = Vec::new();
        conditions(cur, "rule", &mut list)?;
        book.rules[id].conditions.extend(list);
    } else {
        return Ok(subject(book, id, cur));
    }
    Ok(true)
}

/// The quantity or figure, and the places it is limited at.
fn subject(book: &mut Book, id: RuleId, cur: &mut Cursor<'_>) -> bool {
    let Some(word) = cur.peek().filter(|word| word.shape == Shape::Word) else { return false };
    let text = cur.str(word);
    if book.rules[id].subject.is_some() {
        return false;
    }
    // What is only there so that a figure can be read is that figure.
    let quantity = lowered(text, |name| book.vocabulary.find(name)).filter(|id| !book.figures.made(*id));
    let lower = folded(text);
    // A property with one slip of the finger is not a figure of that name.
    let slip = |property: &&str| property.len() > 2 && strsim::osa_distance(property, &lower) == 1;
    if quantity.is_none() && names_of("rule").iter().any(slip) {
        return false;
    }
    cur.bump();
    book.rules[id].subject = Some(quantity.map_or(Subject::Figure(cur.span(word)), Subject::Quantity));
    while let Some(place) =
        cur.peek().filter(|word| word.shape == Shape::Word).and_then(|word| book.names.place(cur.str(word)))
    {
        book.rules[id].places.push(place);
        cur.bump();
        cur.take_comma();
    }
    true
}

/// `48 mm`. The value of a figure is kept as typed: which units it takes is for the stage that knows figures.
fn limit(book: &Book, id: RuleId, cur: &mut Cursor<'_>, side: &'static str) -> Result<Limit, Trouble> {
    let here = cur.here();
    match book.rules[id].subject {
        None => Err(Trouble {
            span: here,
            what: What::PropertyValue { property: side, wants: "the quantity or figure before it" },
        }),
        Some(Subject::Quantity(quantity)) => {
            let item = one(cur, book.vocabulary.get(quantity).dimension)?;
            let unit = cur.before().filter(|word| word.start > item.start).map(|word| cur.span(word));
            let value = item.unit().get().from_si(item.si);
            Ok(Limit { value, decimals: item.decimals, typed: item.span(cur.file), unit })
        }
        Some(Subject::Figure(_)) => {
            let Some(word) = cur.take(Shape::Number) else {
                return Err(Trouble { span: here, what: What::NumberBad });
            };
            let number = number(cur, word)?;
            let after = cur.peek().filter(|word| word.shape == Shape::Word);
            let unit = after.filter(|word| is_minutes(cur) || !super::is_name_of("rule", cur.str(*word)));
            if unit.is_some() {
                cur.bump();
            }
            let unit = unit.map(|word| cur.span(word));
            Ok(Limit { value: number.value, decimals: number.decimals, typed: cur.span(word), unit })
        }
    }
}

fn date(cur: &mut Cursor<'_>, property: &'static str) -> Result<(Date, Span), Trouble> {
    let Some(word) = cur.take(Shape::Date) else {
        return Err(no_date(cur, property, "a day, such as 2026-08-01"));
    };
    let span = cur.span(word);
    let day = crate::book::dates::date(cur.str(word));
    Ok((day.map_err(|trouble| Trouble { span, what: of_date(trouble) })?, span))
}

/// Says what the whole declaration lacks, once its lines are read.
pub(super) fn complete(book: &mut Book, id: RuleId) {
    let rule = &mut book.rules[id];
    if rule.broken {
        return;
    }
    let wants = if rule.class.is_empty() && rule.local.is_none() {
        "`class` and the class it is for, or `at` and the event or circuit whose rulebook it is from"
    } else if rule.subject.is_none() {
        "the quantity or the figure it limits"
    } else if rule.min.is_none() && rule.max.is_none() {
        "`min` or `max` and a value"
    } else {
        return;
    };
    rule.broken = true;
    let span = rule.named.declared;
    book.trouble(span, What::Incomplete { verb: "rule", wants });
}
