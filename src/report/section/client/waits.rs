//! What waits on a client's cars besides jobs: parts that nobody has looked at since an impact, dated items that are over.
//!
//! Must not know chances.

use crate::book::entry::EntryId;
use crate::book::model::{CarId, PartId};
use crate::history::dated;
use crate::history::order::Rank;
use crate::report::section::fact::Fact;
use crate::report::section::unseen::unseen;
use crate::report::section::{stops, until};
use crate::report::teller::Teller;
use crate::report::words;
use std::collections::BTreeSet;

/// What waits, parts after an impact first.
///
/// And the names of the parts it tells of.
pub(super) fn waits(tell: &Teller<'_>, own: &[CarId]) -> (Vec<Fact>, BTreeSet<String>) {
    let cx = &tell.cx;
    let mut told: BTreeSet<String> = BTreeSet::new();
    let mut list = Vec::new();
    let waiting = own.iter().flat_map(|car| unseen(tell, *car, Rank::END));
    for (part, hit, now) in waiting {
        let where_now = if now.car.is_some() {
            "it is still fitted: look at it before it runs".to_owned()
        } else {
            let off = cx.history.parts.get(part).came_off(Rank::END);
            let day = off.and_then(|off| cx.date(off.entry));
            let since = day.map_or_else(String::new, |day| format!(" since {}", words::date(day)));
            format!("off the car{since}; it is not refitted before it is looked at")
        };
        told.insert(cx.part(part).to_owned());
        let day = cx.date(hit.entry).map_or_else(String::new, |day| format!(" of {}", words::date(day)));
        let date = out_of_date(tell, part, hit.car);
        let kind = cx.kind_of(part).replace('-', " ");
        list.push(Fact {
            word: named(tell, own, hit.car, &format!("{kind} {}", cx.part(part))),
            text: format!(
                "not looked at since the impact{day} at {}; {where_now}{date}",
                place(tell, hit.entry)
            ),
            src: tell.src_of(hit.entry),
        });
    }
    let end = cx.history.order.entries.next_key();
    for car in own.iter().copied() {
        let next = stops::ahead(tell, car).first().copied();
        for one in until::until(tell, car, next, end) {
            if one.wrong.is_empty() || told.contains(&one.part) {
                continue;
            }
            let day =
                if one.until == words::DASH { String::new() } else { format!("good until {}: ", one.until) };
            told.insert(one.part.clone());
            list.push(Fact {
                word: named(tell, own, car, &format!("{} {}", one.what, one.part)),
                text: format!("{day}{}", one.wrong),
                src: one.src,
            });
        }
    }
    (list, told)
}

/// "; good only until 31 March 2027", where that is before the end of the car's next event.
fn out_of_date(tell: &Teller<'_>, part: PartId, car: CarId) -> String {
    let cx = &tell.cx;
    let next = stops::ahead(tell, car).first().and_then(|event| cx.book.events.get(*event));
    let last = dated::of_part(cx.book, cx.history, part, Rank::END).and_then(|one| one.last_good_day);
    let over = next.zip(last).filter(|(event, last)| *last < event.last);
    over.map_or_else(String::new, |(_, last)| format!("; good only until {}", words::date(last)))
}

/// "RF": the place of an impact.
fn place(tell: &Teller<'_>, line: EntryId) -> String {
    let hit = tell.cx.book.entries.get(line).and_then(|entry| tell.cx.book.extra(entry));
    let place = hit.and_then(|extra| extra.parts.as_ref()).and_then(|facts| facts.place);
    place.map_or_else(String::new, |place| tell.cx.place(place))
}

/// With the car's name where he has several.
fn named(tell: &Teller<'_>, own: &[CarId], car: CarId, what: &str) -> String {
    if own.len() == 1 { what.to_owned() } else { format!("{} {what}", tell.cx.car(car)) }
}
