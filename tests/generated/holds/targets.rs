//! What the fuzz targets hold of their bytes. The targets and the replay of what they once found both ask here, so that one cannot
//! hold less than the other.

use super::super::book::{Knobs, write};
use super::readers::{
    Look, hidden_may_be_anything, hidden_may_be_anything_to_a_buyer, now_ends_at_the_sale, sold_is_settled,
    sums_add_up,
};
use super::told::{client, told};
use super::{Broken, Files, compiled, layout};

/// The book that the bytes make for `books`: honest, or every other one with slips.
pub fn files(bytes: &[u8]) -> Option<Files> {
    let (how, rest) = bytes.split_first()?;
    let slips = if how % 2 == 1 { 12 } else { 0 };
    Some(write(rest, Knobs { slips, loud_titles: how % 4 > 1, ..Knobs::default() }).files())
}

/// Any book: `format` changes no meaning and leaves nothing to do, every sum a reader sees adds up from lines that he sees, and every
/// view is JSON.
pub fn books(bytes: &[u8]) -> Option<Broken> {
    let files = files(bytes)?;
    let untidy = layout::untidy(&files, u64::from(bytes[0] >> 2));
    layout::keeps_the_meaning(&untidy).or_else(|| sums_add_up(&files)).or_else(|| {
        let book = compiled(&files);
        let names: Vec<String> = book.book.clients.iter().map(|one| one.named.typed.to_string()).collect();
        let readers = names.iter().filter_map(|name| client(&book, name));
        readers.flat_map(|reader| told(&book, reader, false, &|_| true)).find_map(|(section, text)| {
            // A table is rows of cells: `tests/tables`.
            if section.starts_with("table ") {
                return None;
            }
            // A trace is one view after another.
            let mut views = serde_json::Deserializer::from_str(&text).into_iter::<serde_json::Value>();
            let wrong = views.find_map(Result::err)?;
            Some(Broken { property: "every view is JSON", section, shows: wrong.to_string() })
        })
    })
}

/// Honest books: a seller's book ends at his sale, what is sold is settled there, what is hidden may be anything.
pub fn readers(bytes: &[u8]) -> Option<Broken> {
    let (how, rest) = bytes.split_first()?;
    // Half of them with cars that are sold on.
    let written = write(rest, Knobs { resale: *how > 127, ..Knobs::default() });
    let files = written.files();
    let look = Look { pages: false, wanted: &|_| true };
    let reader = 1 + usize::from(*how) % (written.clients.len() - 1);
    now_ends_at_the_sale(&files, &look)
        .or_else(|| sold_is_settled(&files, &look))
        .or_else(|| {
            let changed = written.changed_for(1 << reader);
            hidden_may_be_anything(&files, &changed, written.clients[reader].name, &look)
        })
        .or_else(|| hidden_may_be_anything_to_a_buyer(&written))
}
