//! `stringline rules`: a car under its class's rules, or another's, and its dated items.

use super::ask;
use super::output::{Format, Output};
use super::table::{Rows, left, width};
use crate::answer::dated::{DatedStanding, DatedView};
use crate::answer::rules::{AlsoPlace, RuleView, Rules, build};
use crate::answer::{LedgerLine, json};
use crate::book::names::same;
use crate::figures::Missing;
use crate::words::{
    self,
    dated::{Ends, MAY_BE_OFF},
};
use std::fmt::Write as _;

/// Say how a car stands by the rules of its class, and until when its dated items are good
#[derive(Debug, clap::Args)]
#[command(
    override_usage = "stringline rules [OPTIONS] [BOOK] <CAR> [AT]",
    after_help = "AT is EVENT, EVENT/SESSION, EVENT/start, EVENT/end, a date or a baseline, and decides which rules are in \
                  force; without it, today by the clock (for a car that was sold, the day of its sale), or the day after --at.\n\
                  Each reading is judged by the rule of its own day. A margin smaller than the gauge's error is no pass.\n\
                  Local rulebooks outrank every rule here, and a person checks the car.\n\n\
                  Example:\n  stringline rules ledgers/2026 bittern quern-2\n  stringline rules plover --class SR-2"
)]
pub struct Arguments {
    /// The book's folder (may be left out), the car, the moment (may be left out)
    #[arg(value_name = "WORDS")]
    words: Vec<std::ffi::OsString>,
    /// Judge by the rules of another class: what would fail, and by how much
    #[arg(long, value_name = "CLASS")]
    class: Option<String>,
    /// As of the end of that day, and not of today
    #[arg(long, value_name = "DATE")]
    at: Option<String>,
    /// Only what this client may read
    #[arg(long = "for", value_name = "CLIENT")]
    reader: Option<String>,
    /// How to say it
    #[arg(long, value_enum, default_value_t = Format::Text)]
    format: Format,
    #[command(flatten)]
    revision: super::revision::OfRevision,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    if !(1..=3).contains(&arguments.words.len()) {
        anyhow::bail!("rules wants a car and perhaps a moment, such as `stringline rules bittern quern-2`");
    }
    let (book, words) = ask::split(&arguments.words, 1, 3)?;
    let typed = words.get(1).map(String::as_str);
    if typed.is_some() && arguments.at.is_some() {
        anyhow::bail!("a moment after the car and --at both say when; leave one of them out");
    }
    let compiled = ask::at(arguments.revision.compile(book.as_deref(), output)?, arguments.at.as_deref())?;
    let compiled = ask::read_by(compiled, arguments.reader.as_deref())?;
    let car = ask::car(&compiled, words.first().map_or("", String::as_str))?;
    let moment = ask::moment(&compiled, car, typed)?;
    if let Some(class) = &arguments.class
        && !compiled.book.rules.iter().any(|rule| same(&rule.class, class))
    {
        let classes =
            compiled.book.rules.iter().map(|rule| rule.class.as_str()).filter(|class| !class.is_empty());
        let near = crate::book::names::nearest(class, classes);
        let near = words::or_nearest(near);
        anyhow::bail!("the book has no rule of a class `{class}`{near}");
    }
    let view = build(&compiled, car, &moment, typed, arguments.class.as_deref());
    output.result(&match arguments.format {
        Format::Text => text(&view, output.width),
        Format::Json => json(&view),
    });
    Ok(super::verdict(&compiled, output))
}

fn text(view: &Rules, columns: usize) -> String {
    let class = match (view.class.as_str(), view.what_if) {
        ("", _) if view.class_unread.is_some() => "class not known".to_owned(),
        ("", _) => "no class".to_owned(),
        (class, true) => format!("what if it ran in class {class}"),
        (class, false) => format!("class {class}"),
    };
    let days = if view.day == view.last_day {
        view.day.clone()
    } else {
        format!("{} to {}", view.day, view.last_day)
    };
    let when = if view.day == view.last_day { "that day" } else { "on those days" };
    let mut out = format!(
        "{}: {}\n{class}, by the rules of {}, {}; {}\n",
        view.car.name, view.car.title, days, view.day_by, view.at.words
    );
    if let Some(declared) = &view.class_unread {
        out += &format!(
            "\nThe class it runs in could not be read ({declared}): which rules are in force for it is not known.\n"
        );
    }
    for one in &view.unread {
        out += &format!(
            "\nRule {} could not be read ({}): what it limits is not known.\n",
            one.rule, one.declared
        );
    }
    if view.rules.is_empty() && (!view.unread.is_empty() || view.class_unread.is_some()) {
        let _ = writeln!(out, "\nNo other rule is in force for it {when}.");
    } else if view.rules.is_empty() {
        let _ = writeln!(out, "\nNo rule is in force for it {when}.");
    } else {
        out += "\nrules in force, and the last value: what was read, or as set where it says so\n";
        let mut table = Rows::default();
        let names = most(&view.rules, |one| width(&one.rule));
        let whats = most(&view.rules, |one| width(&what(one)));
        let values = most(&view.rules, |one| width(&value(one)));
        for one in &view.rules {
            let line = format!(
                "  {}  {}  {}  {}",
                left(&one.rule, names),
                left(&what(one), whats),
                left(&value(one), values),
                outcome(one)
            );
            table.push(&line, one.date.as_deref().unwrap_or(""), &one.line.iter().collect::<Vec<_>>());
            notes(&mut table, one);
        }
        table.write(&mut out, 6, columns);
    }
    if !view.readings.is_empty() {
        out += "\nvalues, by the rule of their day (alike ones once)\n";
        let mut table = Rows::default();
        let whats = most(&view.readings, |one| width(&read(one)));
        let rules = most(&view.readings, |one| width(&one.rule) + width(&one.limits) + 2);
        // A reading that says the same as the one before it for that rule is one too many to read.
        let mut said: std::collections::BTreeMap<&str, (String, String)> = std::collections::BTreeMap::new();
        for one in &view.readings {
            let others = one.also.iter().map(|also| format!(" {} {}", also.place, also.value.text));
            let now = (read(one), outcome(one) + &others.collect::<String>());
            if said.insert(&one.rule, now.clone()).is_some_and(|before| before == now) {
                continue;
            }
            let line = format!(
                "  {}  {}  {}",
                left(&read(one), whats),
                left(&format!("{}, {}", one.rule, one.limits), rules),
                outcome(one)
            );
            table.push(&line, one.date.as_deref().unwrap_or(""), &one.line.iter().collect::<Vec<_>>());
            also(&mut table, one);
        }
        table.write(&mut out, 6, columns);
    }
    if !view.dated.is_empty() {
        out += "\ngood until a day\n";
        let mut table = Rows::default();
        let parts = most(&view.dated, |one| width(&part(one)));
        for one in &view.dated {
            let line = format!("  {}  {}", left(&part(one), parts), standing(one));
            let lines: Vec<&LedgerLine> = one.line.iter().collect();
            table.push(&line, "", &lines);
            if one.doubtful {
                table.under(MAY_BE_OFF.to_owned());
            }
        }
        table.write(&mut out, 6, columns);
    }
    out +=
        "\nLocal rulebooks outrank these rules and years, and a person checks the car before it goes out.\n";
    out
}

fn most<T>(list: &[T], of: impl Fn(&T) -> usize) -> usize {
    list.iter().map(of).max().unwrap_or(0)
}

/// "ride-height at least 48 mm".
fn what(one: &RuleView) -> String {
    format!("{} {}", one.subject, one.limits)
}

/// "51 mm LF, good to 1 mm".
fn value(one: &RuleView) -> String {
    let Some(value) = &one.value else { return "-".to_owned() };
    let place = one.place.as_ref().map_or_else(String::new, |place| format!(" {place}"));
    let error = one.error.as_ref().map_or_else(String::new, |error| format!(" ± {}", error.text));
    let set = if one.as_set { ", as set" } else { "" };
    format!("{}{place}{error}{set}", value.text)
}

/// "found ride-height LF 44 mm".
fn read(one: &RuleView) -> String {
    let place = one.place.as_ref().map_or_else(String::new, |place| format!(" {place}"));
    let value = one.value.as_ref().map_or("-", |value| value.text.as_str());
    // The newest line under a figure is of something else.
    format!(
        "{}{place} {value} {}",
        one.subject,
        one.verb.map_or_else(String::new, |verb| format!("({verb})"))
    )
}

/// "+3 mm, passes".
fn outcome(one: &RuleView) -> String {
    let margin = one.margin.as_ref().map_or_else(String::new, |margin| format!("{}, ", margin.text));
    let words = match one.verdict {
        "passes" if one.as_set => "passes as set, not read",
        "fails" if one.as_set => "FAILS as set",
        "passes" => "passes",
        "inside-error" => "inside the gauge's error: no pass",
        "fails" if one.mended => "fails as found",
        "fails" => "FAILS",
        "not-known" => "not known",
        "no-reading" => "nothing read",
        "other-state" => "read in another state",
        _ => "its unit does not fit",
    };
    format!("{margin}{words}")
}

/// The other corners of the same reading that break the rule too.
fn also(table: &mut Rows, one: &RuleView) {
    let place = |also: &AlsoPlace| format!("{} {} ({})", also.place, also.value.text, also.margin.text);
    if !one.also.is_empty() {
        let places: Vec<String> = one.also.iter().map(place).collect();
        table.under(format!("also {}", words::and(&places)));
    }
}

fn notes(table: &mut Rows, one: &RuleView) {
    also(table, one);
    if let Some(other) = &one.outranked_by {
        table.under(format!("outranked there by {other}, of a local rulebook"));
    }
    if !one.within.is_empty() {
        table.under(one.within.clone());
    }
    if let Some(lacks) = &one.lacks {
        table.under(format!("the rule wants `with {lacks}`, which the reading does not say"));
    }
    if let (Some(from), Some(date)) = (&one.from, &one.date)
        && date < from
    {
        table.under(format!("read before this rule started on {from}"));
    }
    if let Some(stale) = &one.stale {
        table.under(format!("stale, {}", words::stale::since(&stale.to_string())));
    }
    for careful in &one.careful {
        table.under(careful.clone());
    }
    if let Some(missed) = &one.missed {
        let day = missed.date.as_ref().map_or_else(String::new, |day| format!(", {day}"));
        let why = Missing { needs: missed.needs.clone() };
        table.under(words::not_of(&format!("{}{day}", missed.session), &why));
    }
}

fn part(one: &DatedView) -> String {
    let place = one.place.as_ref().map_or_else(String::new, |place| format!(" {place}"));
    format!("{} {}{place}", one.kind, one.part)
}

fn standing(one: &DatedView) -> String {
    let mut text = match (&one.last_good_day, one.standing) {
        (Some(day), DatedStanding::Passed) => format!("OVER since {day}"),
        (Some(day), DatedStanding::EndsDuring) => {
            format!("good until {day}, {}", Ends::DuringEvent.words().to_uppercase())
        }
        (Some(day), _) => format!("good until {day}"),
        (None, _) => "nobody can say until when".to_owned(),
    };
    if let (Some(rule), Some(since)) = (&one.by_rule, &one.since) {
        let _ = write!(text, " ({rule} {since})");
    } else if one.last_good_day.is_some() {
        text += " (as stated)";
    }
    if let Some(hit) = &one.impact {
        let _ = write!(text, "; LOOK AT IT: hit, {hit}");
    }
    text
}
