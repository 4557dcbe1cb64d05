//! A moment in words, and why what was typed is none.
//!
//! Must not know who asks.

use super::{and, or_nearest};
use crate::book::Book;
use crate::book::model::EventId;
use crate::history::Moment;
use crate::history::moment::{AskedBy, MomentTrouble, Side, Which};
use crate::source::Files;

/// "quern-1, during s3 (the best lap)", "at the end of 2026-04-18"; nothing of a moment that nobody named.
#[must_use]
pub fn moment(book: &Book, files: &Files, moment: &Moment) -> String {
    which(book, files, &moment.which)
}

fn which(book: &Book, files: &Files, is: &Which) -> String {
    let event = |id: EventId| book.events.get(id).map_or("?", |event| &*event.named.typed);
    match is {
        Which::Unnamed => String::new(),
        Which::End => "at the end of the book".to_owned(),
        Which::Day(date) => format!("at the end of {date}"),
        Which::Arrived(id) => format!("{}, as it arrived", event(*id)),
        Which::Left(id) => format!("{}, as it left", event(*id)),
        Which::Session { event: id, label, side, asked } => {
            let side = match side {
                Side::Before => "before",
                Side::During => "during",
                Side::After => "after",
            };
            let asked = match asked {
                AskedBy::Label => "",
                AskedBy::Last => " (the last session)",
                AskedBy::Best => " (the best lap)",
            };
            format!("{}, {side} {}{asked}", event(*id), files.text(*label))
        }
        Which::Baseline(id, moment) => {
            let name = book.baselines.get(*id).map_or("?", |baseline| &*baseline.named.typed);
            format!("{name} ({})", which(book, files, moment))
        }
    }
}

/// The trouble in a sentence.
#[must_use]
pub fn trouble(trouble: &MomentTrouble) -> String {
    match trouble {
        MomentTrouble::Unknown { typed, near: near @ Some(_) } => {
            format!("`{typed}` is no event, date or baseline of this book{}", or_nearest(near.as_ref()))
        }
        MomentTrouble::Unknown { typed, near: None } => format!(
            "`{typed}` is no event, date or baseline of this book; a moment is `EVENT`, `EVENT/SESSION`, `EVENT/start`, \
             `EVENT/end`, `EVENT/best`, a date such as 2026-04-18, or a baseline"
        ),
        MomentTrouble::NoSession { event, typed, labels } if labels.is_empty() => {
            format!("the car ran no session at {event}, so there is no `{typed}`")
        }
        MomentTrouble::NoSession { event, typed, labels } => {
            format!("the car ran no session `{typed}` at {event}; it ran {}", and(labels))
        }
        MomentTrouble::NotThere { event } => format!("the book has no line about this car at {event}"),
        MomentTrouble::BadBaseline { name } => format!("the baseline `{name}` is not a moment of this car"),
    }
}
