//! The pages of a car that are opened from above a dated head: its setup sheet for that event, and what it is now.
//!
//! Must not know what stands on a page, nor where one is put.

use super::leaf::Leaf;
use crate::Compiled;
use crate::book::entry::Head;
use crate::book::names::Thing;
use crate::report::{Alone, Own, Report};
use serde_json::{Value, json};

/// The command by which a client asks for a page.
pub const COMMAND: &str = "stringline.page";

/// The commands of a head: title, and what is asked for with it.
#[must_use]
pub fn of_head(page: &Leaf<'_>, head: &Head) -> Vec<Value> {
    let book = &page.compiled.book;
    let Some(car) = head.car.filter(|_| page.desk.shows) else { return Vec::new() };
    let name = book.typed(Thing::Car(car)).unwrap_or_default();
    let event = head.event.and_then(|event| book.typed(Thing::Event(event)));
    let last = book.heads_of(car).all(|other| other.date <= head.date);
    let address = page.desk.address_of(&page.path);
    let command = |title: &str, event: Option<&str>| {
        let asked = json!({ "uri": address, "car": name, "event": event });
        json!({ "title": title, "command": COMMAND, "arguments": [asked] })
    };
    let sheet = event.map(|event| command("setup sheet", Some(event)));
    sheet.into_iter().chain(last.then(|| command("as it is now", None))).collect()
}

/// A page that was asked for, and which it is: the setup sheet where an event is named, else what the car is now.
///
/// # Errors
/// Why there is none, in a sentence.
pub fn made(compiled: &Compiled, asked: &Value) -> Result<(&'static str, String), String> {
    let word = |key: &str| asked.get(key).and_then(Value::as_str);
    let found = |key: &str| word(key).and_then(|word| compiled.book.names.find(word));
    let Some(Thing::Car(car)) = found("car") else { return Err("The book has no such car.".to_owned()) };
    let (name, which) = match (word("event"), found("event")) {
        (None, _) => ("now", Alone::Now(car)),
        (Some(_), Some(Thing::Event(event))) => ("sheet", Alone::Setup(car, Some(event))),
        (Some(_), _) => return Err("The book has no such event.".to_owned()),
    };
    let own = Own::new();
    let none = || "The book has no such page of this car.".to_owned();
    let report = Report::alone(compiled, which, &own).map_err(|_| none())?;
    let mut made = None;
    report.stream(&mut |page| made = page.ok());
    made.map(|page| (name, page.html)).ok_or_else(none)
}
