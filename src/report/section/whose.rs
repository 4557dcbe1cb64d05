//! Whose a car is, in one line under a title.
//!
//! Must not know any page.

use crate::book::model::CarId;
use crate::report::teller::Teller;

/// "bittern · The Varga syndicate · class SR-2".
pub(in crate::report) fn subtitle(tell: &Teller<'_>, car: CarId) -> String {
    let Some(declared) = tell.cx.book.cars.get(car) else { return String::new() };
    let mut words = vec![declared.named.typed.to_string()];
    let client = declared.client.and_then(|client| tell.cx.book.clients.get(client));
    words.extend(client.map(|client| client.named.title.clone()));
    if !declared.class.is_empty() {
        words.push(format!("class {}", declared.class));
    }
    words.join(" · ")
}
