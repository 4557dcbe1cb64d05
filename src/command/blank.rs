//! `stringline blank`: a dated head with a car's usual lines, ready to paste and edit.

use super::ask;
use super::output::{Format, Output, compile};
use crate::answer;
use crate::answer::blank::{Blank, build, gone};
use std::fmt::Write as _;

/// Print a dated head with a car's usual lines and the old values filled in, to paste and edit
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline blank [OPTIONS] [BOOK] <CAR> [EVENT]",
    after_help = "Every line but the head is a comment: take the `#` off the lines you use and mend their values.\n\
                  A line is usual when the car had it at two events, or three times.\n\
                  The first word is the book's folder if it names one and a car follows; `.` is the current one.\n\n\
                  Example:\n  stringline blank bittern quern-1 >> bittern.sline\n  stringline blank ledgers/2026 bittern"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the event (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!("blank wants a car and perhaps an event, such as `stringline blank bittern quern-1`");
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let compiled = compile(book.as_deref(), output)?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let event = words.get(1).map(|name| ask::event(&compiled, name)).transpose()?;
    let date = match event.and_then(|event| compiled.book.events.get(event)) {
        Some(event) if (event.first..=event.last).contains(&compiled.today) => compiled.today,
        Some(event) => event.first,
        None => compiled.today,
    };
    let moment = ask::moment(&compiled, car, Some(&date.to_string()))?;
    if let (Some(sold), Some(declared)) = (gone(&compiled, car, moment.rank), compiled.book.cars.get(car)) {
        let car = &declared.named.typed;
        anyhow::bail!(
            "{car} was sold on {sold}: nothing is typed of it after that, unless it is in the shop's care and its head says `for` whom"
        );
    }
    let view = build(&compiled, car, event, date, moment.rank);
    output.result(&match arguments.format {
        Format::Text => text(&view),
        Format::Json => answer::json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

fn text(view: &Blank) -> String {
    let mut out = format!("{}\n", view.head);
    if view.lines.is_empty() {
        out += "  # No line is usual for this car yet: one becomes so when it stood at two events, or three times.\n";
        return out;
    }
    out += "  # Take the # off the lines you use and mend their values.\n";
    for line in &view.lines {
        let _ = writeln!(out, "  # {}{}", "  ".repeat(line.depth - 1), line.text);
    }
    out
}
