//! `stringline sheet`: one page about a car, to print or to mail.

use super::alone::{To, write};
use super::ask;
use super::output::Output;
use crate::report::{Alone, NoPage};

/// Write one page about a car: its setup sheet for an event, what it is between sessions, or after an impact
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline sheet [OPTIONS] [BOOK] <CAR> [EVENT]",
    after_help = "Without EVENT: the car's next event, else its last. The setup is that before the car's first session there; for an event \
                  ahead, as the book ends.\n\
                  The page goes to the screen or into a file, needs nothing beside it, and can be mailed.\n\n\
                  Example:\n  stringline sheet ledgers/2026 bittern quern-2 --out sheet.html\n  stringline sheet bittern --now --out now.html\n  \
                  stringline sheet bittern barrows-1 --crash --out crash.html"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the event (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// The page for between sessions: the setup now, the last sessions, what was said before
    #[arg(long, conflicts_with = "crash")]
    now: bool,
    /// The page after an impact: the last one, or the last at EVENT
    #[arg(long)]
    crash: bool,
    /// As of the end of that day, and not of the book's last line
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    #[command(flatten)]
    to: To,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!("sheet wants a car and perhaps an event, such as `stringline sheet bittern quern-2`");
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let compiled = ask::at(arguments.revision.compile(book.as_deref(), output)?, arguments.at.as_deref())?;
    let compiled = ask::read_by(compiled, arguments.reader.as_deref())?;
    let name = words.first().map_or("", String::as_str);
    let car = ask::car(&compiled, name)?;
    let event = words.get(1).map(|typed| ask::event(&compiled, typed)).transpose()?;
    if arguments.now && event.is_some() {
        anyhow::bail!("--now is of the book's end, not of an event");
    }
    let which = match (arguments.now, arguments.crash) {
        (true, _) => Alone::Now(car),
        (_, true) => Alone::Crash(car, event),
        _ => Alone::Setup(car, event),
    };
    let at = words.get(1).map_or_else(String::new, |event| format!(" at {event}"));
    let none = |why: NoPage| match why {
        NoPage::NoEvent => format!("{name} has run at no event of this book, and goes to none"),
        NoPage::NoLine => format!("the book has no line about {name}"),
        NoPage::NoHit => format!("the book has no line that {name} was hit{at}"),
        NoPage::NotThere | NoPage::ShopsOwn => {
            format!("{name} ran no session{at}, and the event does not lie ahead of it")
        }
    };
    write(&compiled, which, &arguments.to, none, output)
}
