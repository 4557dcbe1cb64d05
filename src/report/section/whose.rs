//! Whose a car is, in one line under a title.
//!
//! Must not know any page.

use crate::book::model::CarId;
use crate::history::order::Rank;
use crate::report::teller::Teller;

/// "bittern · The Varga syndicate · class SR-2".
pub(in crate::report) fn subtitle(tell: &Teller<'_>, car: CarId) -> String {
    let Some(declared) = tell.cx.book.cars.get(car) else { return String::new() };
    let mut words = vec![declared.named.typed.to_string()];
    // Once it was sold whoever has it now; a client's own book knows nobody else.
    let (book, history) = (tell.cx.book, tell.cx.history);
    let owner = if tell.is_cut() {
        tell.compiled.reader.filter(|_| tell.compiled.his.contains(&car))
    } else {
        history.parts.owner(book, car, Rank::END)
    };
    let client = owner.and_then(|client| book.clients.get(client));
    words.extend(client.map(|client| client.named.title.clone()));
    if !declared.class.is_empty() {
        words.push(format!("class {}", declared.class));
    }
    words.join(" · ")
}
