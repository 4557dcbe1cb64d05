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
                  stringline sheet bittern barrows-1 --crash --out crash.html\n  \
                  stringline sheet bittern --align --out flat.html"
)]
#[expect(
    clippy::struct_excessive_bools,
    reason = "flags of the command line, of which clap lets one through"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the event (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// The page for between sessions: the setup now, the last sessions, what was said before
    #[arg(long, group = "page")]
    now: bool,
    /// The page after an impact: the last one, or the last at EVENT
    #[arg(long, group = "page")]
    crash: bool,
    /// The sheet for the alignment bay: what was left last, what was found since, boxes to write in
    #[arg(long, group = "page")]
    align: bool,
    /// The card for the scrutineers of EVENT: rules with margins, dated items, torque
    #[arg(long, group = "page")]
    card: bool,
    /// The page for when something breaks: what goes in its place, what that does to the other car, the line to type
    #[arg(long, group = "page")]
    spare: bool,
    /// Power and fuel: whether the injectors cover it, by how much, and what that rests on
    #[arg(long, group = "page")]
    power: bool,
    /// The engine check: which cylinder stands out, whether it gets worse, and until when
    #[arg(long, group = "page")]
    engine: bool,
    /// With --now: when the driver said these words before, and what was changed then, such as "entry push"
    #[arg(long, value_name = "WORDS", requires = "now")]
    said: Option<String>,
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

impl Arguments {
    /// The page that is of the book's end, by its flag.
    fn of_end(&self) -> Option<&'static str> {
        let flags = [
            (self.now, "now"),
            (self.align, "align"),
            (self.spare, "spare"),
            (self.power, "power"),
            (self.engine, "engine"),
        ];
        flags.into_iter().find(|(on, _)| *on).map(|(_, name)| name)
    }
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!("sheet wants a car and perhaps an event, such as `stringline sheet bittern quern-2`");
    }
    if arguments.said.as_deref().is_some_and(|said| !said.chars().any(char::is_alphanumeric)) {
        anyhow::bail!("--said wants the driver's words, such as `--said \"entry push\"`");
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let compiled = ask::at(arguments.revision.compile(book.as_deref(), output)?, arguments.at.as_deref())?;
    let compiled = ask::read_by(compiled, arguments.reader.as_deref())?;
    let name = words.first().map_or("", String::as_str);
    let car = ask::car(&compiled, name)?;
    let event = words.get(1).map(|typed| ask::event(&compiled, typed)).transpose()?;
    let which = match event {
        Some(_) if arguments.of_end().is_some() => {
            anyhow::bail!(
                "--{} is of the book's end, not of an event",
                arguments.of_end().unwrap_or_default()
            )
        }
        _ if arguments.now => Alone::Now(car),
        _ if arguments.align => Alone::Alignment(car),
        _ if arguments.spare => Alone::Spare(car),
        _ if arguments.power => Alone::Power(car),
        _ if arguments.engine => Alone::Engine(car),
        _ if arguments.card => Alone::Card(car, event),
        _ if arguments.crash => Alone::Crash(car, event),
        _ => Alone::Setup(car, event),
    };
    let at = words.get(1).map_or_else(String::new, |event| format!(" at {event}"));
    let none = |why: NoPage| match why {
        NoPage::NoEvent => format!("{name} has run at no event of this book, and goes to none"),
        NoPage::NoLine => format!("the book has no line about {name}"),
        NoPage::NoHit => format!("the book has no line that {name} was hit{at}"),
        NoPage::NoCylinder => {
            format!("nothing was read of {name}'s cylinders: no leak-down, compression or valve lash")
        }
        NoPage::ShopsOwn => {
            "--spare tells of other cars: it is the shop's own page, for no client".to_owned()
        }
        NoPage::NotThere => {
            format!("{name} ran no session{at}, and the event does not lie ahead of it")
        }
    };
    write(&compiled, (which, arguments.said.as_deref()), &arguments.to, none, output)
}
