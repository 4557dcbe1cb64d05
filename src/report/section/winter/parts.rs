//! Parts on a car that run out of life or of their date before the end of its next season.
//!
//! Must not know jobs, nor what other cars ran.

use crate::answer::not_done;
use crate::book::entry::EntryId;
use crate::book::model::{Clock, PartId};
use crate::costs::list_price;
use crate::due::limits::{Reach, Standing, standing};
use crate::history::tally::months;
use crate::history::{dated, impact};
use crate::money::Total;
use crate::report::section::aboard::{aboard, what};
use crate::report::section::life_bars::LifeOf;
use crate::report::section::parts;
use crate::report::section::winter::item::Asked;
use crate::report::section::winter::item::WinterItem;
use crate::report::section::winter::item::WinterWhy;
use crate::report::section::winter::item::price;
use crate::report::words;
use crate::words::scale::Scale;
use jiff::civil::Date;

/// The parts on the car that do not last, or not as far as the book can say; those that come before the next event first. Beside them the
/// limits that they come to, for a drawing.
pub(super) fn parts_to_see_to(asked: &Asked<'_, '_>, total: &mut Total) -> (Vec<WinterItem>, Vec<LifeOf>) {
    let tell = asked.desk.tell;
    let mut items = Vec::new();
    for fitted in aboard(tell, asked.car, asked.rank) {
        let Some(part) = fitted.part else { continue };
        let limits = lives(asked, part);
        let drawn = limits.first().map(|(reach, _)| LifeOf {
            what: what(tell, &fitted),
            part: tell.cx.part(part).to_owned(),
            reach: Reach { more: ahead(asked, reach.limit.clock), ..*reach },
        });
        let why: Vec<WinterWhy> = limits.into_iter().map(|(_, why)| why).chain(date(asked, part)).collect();
        if why.is_empty() {
            continue;
        }
        let (price, price_src) = price(asked, list_price(tell.cx.book, tell.cx.history, part), total);
        items.push((
            drawn,
            WinterItem {
                name: tell.cx.part(part).to_owned(),
                about: what(tell, &fitted),
                page: parts::page(asked.desk, part),
                why,
                price,
                price_src,
            },
        ));
    }
    items.sort_by_key(|(_, item)| !item.why.iter().any(|why| why.now));
    let (drawn, items): (Vec<Option<LifeOf>>, _) = items.into_iter().unzip();
    (items, drawn.into_iter().flatten().collect())
}

/// What an event is expected to add; of calendar time, the months until the next is over.
fn ahead(asked: &Asked<'_, '_>, clock: Clock) -> Option<f64> {
    if clock != Clock::Months {
        return asked.event[clock];
    }
    let event = asked.desk.tell.cx.book.events.get(asked.next?)?;
    Some(months(asked.on, event.last).max(0.0))
}

/// The limits of a part that come within an event or a season like the last.
fn lives(asked: &Asked<'_, '_>, part: PartId) -> Vec<(Reach, WinterWhy)> {
    let (tell, cx) = (asked.desk.tell, &asked.desk.tell.cx);
    let lives = crate::lives::life::of(cx.book, cx.history, part, asked.rank);
    let Some(life) = lives.last() else { return Vec::new() };
    let reaches = standing(cx.book, life, asked.on);
    let told = reaches.into_iter().filter_map(|reach| {
        let left = parts::one_left(tell, &reach);
        let (against, now) = against(asked, &reach)?;
        let text = if against.is_empty() { left.text } else { format!("{}: {against}", left.text) };
        let text = format!("{text} ({})", left.of);
        Some((reach, WinterWhy { text, now, because: String::new(), src: left.src }))
    });
    told.collect()
}

/// What a limit does not reach to, if anything, and whether that is the next event.
fn against(asked: &Asked<'_, '_>, reach: &Reach) -> Option<(String, bool)> {
    if reach.standing() == Standing::Over {
        return Some((String::new(), true));
    }
    if reach.now.at_least {
        let why = if reach.now.before.is_none() {
            "what it had run before is not in the book"
        } else {
            "a session does not say how much"
        };
        return Some((why.to_owned(), true));
    }
    let clock = reach.limit.clock;
    let left = reach.left();
    if clock == Clock::Months {
        let until = |day: Date| months(asked.on, day);
        let event = asked.next.and_then(|event| asked.desk.tell.cx.book.events.get(event));
        return if event.is_some_and(|event| left < until(event.last)) {
            Some(("over before the next event is".to_owned(), true))
        } else {
            (left < until(asked.end)).then(|| ("over within the next season".to_owned(), false))
        };
    }
    let scale = Scale::typed(clock, asked.desk.tell.cx.text(reach.limit.typed));
    match asked.event[clock] {
        Some(event) if left < event => Some((format!("less than an event, {}", scale.words(event)), true)),
        _ => {
            let (season, at_least) = asked.season.on(clock);
            (left < season)
                .then(|| (format!("less than this season's {}", scale.told(season, at_least)), false))
        }
    }
}

/// The day until which an item is good, where that comes within the next season, or cannot be told.
fn date(asked: &Asked<'_, '_>, part: PartId) -> Option<WinterWhy> {
    let (tell, cx) = (asked.desk.tell, &asked.desk.tell.cx);
    let hit = |line: EntryId| {
        let day = cx.date(line).map_or_else(String::new, words::short);
        let text = format!("hit {day}, {} since", not_done(cx.book, cx.history, part, asked.rank));
        WinterWhy { text, now: true, because: String::new(), src: tell.src_of(line) }
    };
    if let Some(unseen) = impact::unseen(cx.book, cx.history, part, asked.rank) {
        return Some(hit(unseen.entry));
    }
    let one = dated::of_part(cx.book, cx.history, part, asked.rank)?;
    let at = one.basis.map(|basis| match basis {
        dated::Basis::Counted { at, .. } | dated::Basis::Label { at, .. } => at,
    });
    let declared = cx.book.parts.get(part).map(|part| part.named.declared);
    let why = |text: String, now: bool, src: String| WinterWhy { text, now, because: String::new(), src };
    let src = at.or(declared).map_or_else(String::new, |at| tell.src(at));
    if let Some(line) = one.impact {
        return Some(hit(line));
    }
    let Some(last) = one.last_good_day else {
        return Some(why("good until a day, and the book does not say from when".to_owned(), true, src));
    };
    let event = asked.next.and_then(|event| cx.book.events.get(event));
    let day = words::date(last);
    if last < asked.on {
        Some(why(format!("was good until {day}"), true, src))
    } else if event.is_some_and(|event| last < event.last) {
        Some(why(format!("good until {day}, which is before the next event is over"), true, src))
    } else {
        (last <= asked.end).then(|| why(format!("good until {day}, within the next season"), false, src))
    }
}
