//! `stringline load`: what goes in the box for an event, as one page.

use super::alone::{To, write};
use super::ask;
use super::output::Output;
use crate::report::{Alone, NoPage};

/// Write the page of what to load for an event, or of what happened there
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline load [OPTIONS] [BOOK] [EVENT]",
    after_help = "Without EVENT: the next that a car of the book goes to. The list is as the book stood on the event's eve, or stands now.\n\
                  The page goes to the screen or into a file, needs nothing beside it, and can be mailed.\n\n\
                  Example:\n  stringline load ledgers/2026 --out load.html\n  stringline load quern-2 --out load.html"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the event (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// The page of what happened at EVENT, of all cars: results, laps, changes, failures, costs; without EVENT, at the last
    #[arg(long)]
    ran: bool,
    /// The page of what the book still lacks of EVENT, with what to type; without EVENT, of the last ones of each car
    #[arg(long, conflicts_with = "ran")]
    lacks: bool,
    /// As of the end of that day, and not of the book's last line
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    #[command(flatten)]
    to: To,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if arguments.words.len() > 2 {
        anyhow::bail!("load wants an event at most, such as `stringline load quern-2`");
    }
    let (book, words) = ask::split(&arguments.words, 0, 2)?;
    let compiled = ask::at(arguments.revision.compile(book.as_deref(), output)?, arguments.at.as_deref())?;
    let event = words.first().map(|typed| ask::event(&compiled, typed)).transpose()?;
    let none = |why: NoPage| match why {
        _ if arguments.ran || arguments.lacks => match words.first() {
            Some(event) => format!("no car of the book ran at {event}"),
            None => "no car of the book has run at an event".to_owned(),
        },
        NoPage::NoEvent => {
            "no car of the book goes to an event that lies ahead; name one that is past".to_owned()
        }
        _ => format!(
            "no car of the book went to {}, or goes there",
            words.first().map_or("it", String::as_str)
        ),
    };
    let which = match event {
        event if arguments.ran => Alone::Event(event),
        event if arguments.lacks => Alone::Monday(event),
        event => Alone::Load(event),
    };
    write(&compiled, (which, None), &arguments.to, none, output)
}
