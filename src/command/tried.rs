//! A book in which a car wears an outfit that it did not: what stands after the moment is taken out, and the outfit is fitted on the
//! days after it.
//!
//! Nothing of it is written anywhere. Must not know what is asked about it.

use crate::Compiled;
use crate::audience::until;
use crate::book::model::{CarId, OutfitId};
use crate::history::order::Rank;
use crate::source::SourceFile;
use jiff::civil::Date;

/// The book with the outfits fitted one after the other, each on a day of its own after the last line, and those days.
///
/// # Errors
/// When an outfit is another car's, or no day comes after.
pub(super) fn tried(
    compiled: &Compiled,
    car: CarId,
    (rank, date): (Rank, Date),
    outfits: &[OutfitId],
) -> anyhow::Result<(Compiled, Vec<Date>)> {
    let name = &compiled.book.cars[car].named.name;
    let lines = compiled.history.order.rank.iter_enumerated().filter(|(_, at)| **at < rank);
    let last = lines.filter_map(|(entry, _)| compiled.history.order.date(&compiled.book, entry)).max();
    let mut day = last.map_or(date, |last| last.max(date));
    let (mut text, mut days) = (String::new(), Vec::new());
    for id in outfits {
        let outfit = &compiled.book.outfits[*id];
        if outfit.car != Some(car) {
            anyhow::bail!("`{}` is no outfit of `{name}`", outfit.named.typed);
        }
        day = day.tomorrow().map_err(|_| anyhow::anyhow!("no day comes after {day}"))?;
        text += &format!("{day} {name}\n  fit {}\n", outfit.named.name);
        days.push(day);
    }
    let file = SourceFile { path: "what is tried".to_owned(), text };
    Ok((until(compiled, rank, file), days))
}
