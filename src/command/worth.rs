//! `stringline worth`: what a turn of each setting is worth on a car, by its own lines.

use super::ask;
use super::output::{Format, Output};
use super::table::wrap;
use crate::answer::json;
use crate::answer::worth::{WorthAnswer, build};
use crate::history::order::Rank;
use std::fmt::Write as _;

/// Say what a turn of each setting is worth on this car
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline worth [OPTIONS] [BOOK] <CAR>",
    after_help = "Readings with nothing between them but turns of one setting are compared: cross weight by perch, camber by shim, ride height \
                  by turn. Three moves are the least, and nothing is said beyond the furthest that was tried.\n\
                  Intervals hold what they are of in 95 cases of 100. It plans the next turn; weigh again after it.\n\n\
                  Example:\n  stringline worth ledgers/2026 bittern"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    #[command(flatten)]
    of: super::of_reader::OfReader,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=2).contains(&arguments.words.len()) {
        anyhow::bail!("worth wants a car, such as `stringline worth bittern`");
    }
    let (book, words) = ask::split(&arguments.words, 1, 2)?;
    let compiled = arguments.of.compile(book.as_deref(), output)?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let view = build(&compiled, car, Rank::END);
    output.result(&match arguments.format {
        Format::Text => text(&view, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

fn text(view: &WorthAnswer, columns: usize) -> String {
    let mut out = format!("{}: {}\n", view.car.name, view.car.title);
    if view.turns.is_empty() && view.hot.is_empty() && view.few.is_empty() {
        out += "\nNothing was read before and after one setting alone was turned.\n";
    }
    for one in &view.turns {
        let _ = write!(out, "\n{}", wrap(&one.sentence, 0, columns));
        if let Some(statics) = &one.statics {
            out += &wrap(&statics.sentence, 2, columns);
        }
    }
    for one in &view.hot {
        let _ = write!(out, "\n{}", wrap(&one.sentence, 0, columns));
    }
    if !view.look_for.is_empty() {
        let _ = write!(out, "\n{}", wrap(view.look_for, 0, columns));
    }
    if !view.few.is_empty() {
        out += "\nNot often enough:\n";
        for one in &view.few {
            out += &wrap(&one.sentence, 2, columns);
        }
    }
    if let Some(balance) = &view.balance {
        out += "\n";
        for sentence in &balance.sentences {
            out += &wrap(sentence, 0, columns);
        }
    }
    out
}
