//! What a line about money with a mistake names: jobs, clients and cars that its sum may belong to, and what it was for.
//!
//! Read off its words as they stand, since a line with a mistake may not come apart into clauses. Must not know what is booked.

use crate::book::Book;
use crate::book::entry::CostKind;
use crate::book::model::{CarId, ClientId, JobId};
use crate::book::names::Thing;
use crate::book::spoken_for::outside_quotes;

/// What it names, each once, in the order of the line.
#[derive(Debug, Default)]
pub struct Mentioned {
    pub jobs: Vec<JobId>,
    /// Clients, without the one behind `to`.
    pub clients: Vec<ClientId>,
    pub cars: Vec<CarId>,
    /// The client right behind `to`: he pays, and nobody else.
    pub to: Option<ClientId>,
    /// It says `on` something.
    pub on: bool,
    pub kind: Option<CostKind>,
}

/// What a line names outside its quotes and before its reason.
pub fn of(book: &Book, text: &str) -> Mentioned {
    let mut said = Mentioned::default();
    let mut before = "";
    for word in outside_quotes(text) {
        if word.eq_ignore_ascii_case("because") {
            break;
        }
        said.on |= word.eq_ignore_ascii_case("on");
        match book.names.find(word) {
            Some(Thing::Job(job)) => once(&mut said.jobs, job),
            Some(Thing::Client(client)) if before.eq_ignore_ascii_case("to") => said.to = Some(client),
            Some(Thing::Client(client)) => once(&mut said.clients, client),
            Some(Thing::Car(car)) => once(&mut said.cars, car),
            _ => said.kind = said.kind.or(CostKind::find(word)),
        }
        before = word;
    }
    said
}

fn once<T: PartialEq>(list: &mut Vec<T>, one: T) {
    if !list.contains(&one) {
        list.push(one);
    }
}
