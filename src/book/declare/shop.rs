//! `shop`, `person`, `client`.

use super::{enter, hourly, text_value};
use crate::book::model::{Client, ClientId, Person, PersonId};
use crate::book::names::Thing;
use crate::book::trouble::{Trouble, What};
use crate::book::{Book, Named};
use crate::money::Currency;
use crate::syntax::Cursor;

pub(super) fn new_person(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Person(PersonId::from(book.people.len()));
    enter(book, &named.name, thing, named.declared);
    book.people.push(Person { named, role: String::new() });
    thing
}

pub(super) fn new_client(book: &mut Book, named: Named) -> Thing {
    let thing = Thing::Client(ClientId::from(book.clients.len()));
    enter(book, &named.name, thing, named.declared);
    book.names.client_people.push(PersonId::from(book.people.len()));
    book.people.push(Person { named: named.clone(), role: "client".to_owned() });
    book.clients.push(Client { named, rate: None, unbilled: false });
    thing
}

pub(super) fn shop_property(book: &mut Book, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("currency") {
        let span = cur.here();
        let code = text_value(cur, "currency")?;
        let currency = Currency::find(&code).ok_or(Trouble { span, what: What::CurrencyBad })?;
        book.shop.currency = Some(currency);
    } else if cur.take_keyword("rate") {
        book.shop.rate = Some(hourly(book, cur)?);
    } else if cur.take_keyword("zone") {
        let span = cur.here();
        let zone = text_value(cur, "zone")?;
        if jiff::tz::TimeZone::get(&zone).is_err() {
            return Err(Trouble { span, what: What::ZoneUnknown });
        }
        book.shop.zone = Some(zone.into());
    } else {
        return Ok(false);
    }
    Ok(true)
}

pub(super) fn client_property(book: &mut Book, id: ClientId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if cur.take_keyword("rate") {
        book.clients[id].rate = Some(hourly(book, cur)?);
    } else if cur.take_keyword("unbilled") {
        book.clients[id].unbilled = true;
    } else {
        return Ok(false);
    }
    Ok(true)
}

pub(super) fn person_property(book: &mut Book, id: PersonId, cur: &mut Cursor<'_>) -> Result<bool, Trouble> {
    if !cur.take_keyword("role") {
        return Ok(false);
    }
    book.people[id].role = text_value(cur, "role")?;
    Ok(true)
}
