//! What a command's words ask about: the book, the car, the moment.
//!
//! Must not know what is done with them.

use crate::Compiled;
use crate::audience::{self, Reader};
use crate::book::model::{CarId, ClientId, EventId};
use crate::book::names::{Thing, nearest};
use crate::history::{Moment, moment};
use crate::source::shown;
use crate::words;
use std::ffi::OsString;
use std::path::{Path, PathBuf};

/// Tells the book's folder from the words after it. The first word is the folder when there are as many words as the
/// command takes at most, when it names an existing folder or `.sline` file and enough words follow, or when it can be
/// nothing but a path.
///
/// A folder may have any name; the other words are names of the book's, so they are text.
///
/// # Errors
/// When one of those is no text.
pub(super) fn split(
    words: &[OsString],
    least: usize,
    most: usize,
) -> anyhow::Result<(Option<PathBuf>, Vec<String>)> {
    let Some((first, rest)) = words.split_first().filter(|(_, rest)| rest.len() >= least) else {
        return Ok((None, texts(words)?));
    };
    let path = Path::new(first);
    let is_path =
        path.is_absolute() || first.as_encoded_bytes().iter().any(|byte| matches!(byte, b'/' | b'\\'));
    let is_book = words.len() >= most || is_path || path.exists();
    if is_book { Ok((Some(path.to_path_buf()), texts(rest)?)) } else { Ok((None, texts(words)?)) }
}

/// Words that are names of the book's.
///
/// # Errors
/// When one is no text.
pub(super) fn texts(words: &[OsString]) -> anyhow::Result<Vec<String>> {
    let text = |word: &OsString| match word.to_str() {
        Some(text) => Ok(text.to_owned()),
        None => Err(anyhow::anyhow!(
            "`{}` is no text, and nothing in a book is called so",
            shown(Path::new(word))
        )),
    };
    words.iter().map(text).collect()
}

/// The car of that name.
///
/// # Errors
/// What to say when there is none.
pub(super) fn car(compiled: &Compiled, name: &str) -> anyhow::Result<CarId> {
    let book = &compiled.book;
    match book.names.find(name) {
        Some(Thing::Car(id)) if book.cars.get(id).is_some_and(|car| car.withheld) => {
            anyhow::bail!("`{name}` is not a car of the client named after `--for`")
        }
        Some(Thing::Car(id)) => Ok(id),
        Some(other) => anyhow::bail!("`{name}` is a {}, not a car", other.sort()),
        None => {
            let cars: Vec<&str> =
                book.cars.iter().filter(|car| !car.withheld).map(|car| &*car.named.typed).collect();
            let cure = match nearest(name, book.cars.iter().map(|car| &*car.named.name)) {
                Some(near) => words::did_you_mean(near),
                None if cars.is_empty() => {
                    "the book has no car; is it the right folder? It stands before the car's name".to_owned()
                }
                None => format!("the book has {}", words::and_more(&cars)),
            };
            anyhow::bail!("no car is called `{name}`; {cure}")
        }
    }
}

/// The event of that name.
///
/// # Errors
/// What to say when there is none.
pub(super) fn event(compiled: &Compiled, typed: &str) -> anyhow::Result<EventId> {
    let book = &compiled.book;
    match book.names.find(typed) {
        Some(Thing::Event(id)) => Ok(id),
        Some(other) => anyhow::bail!("`{typed}` is a {}, not an event", other.sort()),
        None => {
            let events: Vec<&str> = book.events.iter().map(|event| &*event.named.typed).collect();
            let cure = match book.names.near(typed, |thing| matches!(thing, Thing::Event(_))) {
                Some(near) => words::did_you_mean(near),
                None if events.is_empty() => "the book has no event".to_owned(),
                None => format!("the book has {}", words::and_more(&events)),
            };
            anyhow::bail!("no event is called `{typed}`; {cure}")
        }
    }
}

/// The client of that name.
///
/// # Errors
/// What to say when there is none.
pub(super) fn client(compiled: &Compiled, name: &str) -> anyhow::Result<ClientId> {
    let book = &compiled.book;
    match book.names.find(name) {
        Some(Thing::Client(id)) => Ok(id),
        Some(other) => anyhow::bail!("`{name}` is a {}, not a client", other.sort()),
        None => {
            let near = nearest(name, book.clients.iter().map(|client| &*client.named.name));
            let cure =
                near.map_or_else(|| "`client NAME \"TITLE\"` declares one".to_owned(), words::did_you_mean);
            anyhow::bail!("no client is called `{name}`; {cure}")
        }
    }
}

/// The book as of the end of a day; as it is where none is named.
///
/// # Errors
/// When it is no day.
pub(super) fn at(compiled: Compiled, typed: Option<&str>) -> anyhow::Result<Compiled> {
    let Some(typed) = typed else { return Ok(compiled) };
    let day = typed.parse::<jiff::civil::Date>();
    let day = day.map_err(|_| anyhow::anyhow!("`{typed}` is no day; `--at` wants one such as 2026-05-30"))?;
    Ok(audience::as_of(compiled, day))
}

/// The book as that client may read it; the whole book where none is named.
///
/// # Errors
/// When there is no such client.
pub(super) fn read_by(compiled: Compiled, reader: Option<&str>) -> anyhow::Result<Compiled> {
    let Some(name) = reader else { return Ok(compiled) };
    let client = client(&compiled, name)?;
    Ok(audience::cut(&compiled, &Reader::Client(client)))
}

/// The moment of a car; the end of the book where none is asked for.
///
/// # Errors
/// What to say when it is none.
pub(super) fn moment(compiled: &Compiled, car: CarId, typed: Option<&str>) -> anyhow::Result<Moment> {
    let Some(typed) = typed else { return Ok(moment::end(&compiled.history)) };
    moment::parse(&compiled.book, &compiled.files, &compiled.history, car, typed)
        .map_err(|trouble| anyhow::anyhow!(words::moment::trouble(&trouble)))
}
