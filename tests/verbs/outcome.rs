//! What a book amounts to, as text without line numbers: states, uses, failures, sessions. Reports are held to it too.

use std::fmt::Write as _;
use stringline::Compiled;
use stringline::book::model::{CarId, PartId};
use stringline::history::order::Rank;
use stringline::history::{moment, usage};
use stringline::report;

/// States of every car, places and use of every part, sessions; and what the checks say.
pub fn outcome(compiled: &Compiled) -> String {
    facts(compiled) + &messages(compiled)
}

/// The same without messages.
pub fn facts(compiled: &Compiled) -> String {
    let (book, history) = (&compiled.book, &compiled.history);
    let end = moment::end(history).rank;
    let mut text = String::new();
    for (index, car) in book.cars.iter().enumerate() {
        let id = CarId::from(index);
        for slot in compiled.facts().on(id, end).slots() {
            let value = |event: Option<stringline::history::slots::SlotEvent>| event.map(|event| event.value);
            writeln!(
                text,
                "{} {} {:?} asked {:?} read {:?} stale {}",
                car.named.name,
                book.vocabulary.get(slot.quantity).name,
                slot.place,
                value(slot.held.asked),
                value(slot.held.read),
                slot.held.stale.is_some(),
            )
            .unwrap();
        }
        for (_, session) in history.sessions.of(id) {
            writeln!(
                text,
                "{:?} {:?} {:?} {:?}",
                session.minutes, session.laps, session.best, session.driver
            )
            .unwrap();
        }
    }
    for (index, part) in book.parts.iter().enumerate() {
        let id = PartId::from(index);
        let lines = history.parts.get(id);
        let places: Vec<String> = lines.stays.iter().map(|stay| format!("{:?}", stay.at)).collect();
        let since = usage::since_rebuild(history, id, end);
        let total = usage::of_part(book, history, id, Rank::START, end);
        let life = usage::of_part(book, history, id, since, end);
        writeln!(
            text,
            "{} {places:?} failed {} total {} life {}",
            part.named.name,
            lines.failures.len(),
            total.minutes,
            life.minutes
        )
        .unwrap();
    }
    for track in &history.slots.tracks {
        if let stringline::history::slots::Owner::Part(part) = track.owner {
            let values: Vec<f64> = track.events.iter().map(|event| event.value).collect();
            writeln!(text, "{} {values:?}", book.parts[part].named.name).unwrap();
        }
    }
    text
}

/// What the checks say, without line numbers.
fn messages(compiled: &Compiled) -> String {
    let mut text = String::new();
    for one in &compiled.diagnostics {
        writeln!(text, "{} {}", one.check, one.at.as_ref().map_or("", |mark| compiled.files.text(mark.span)))
            .unwrap();
    }
    text
}

/// The season pages (not the index, which counts lines), without line numbers: those move when any line goes.
pub fn pages(compiled: &Compiled) -> String {
    let pages = stringline::report::render(compiled, report::Options::default()).unwrap();
    let mut text = String::new();
    for page in pages.iter().filter(|page| page.name != "index.html") {
        let body = page
            .html
            .split("<footer")
            .next()
            .unwrap_or_default()
            .replace("<span class=\"file\">book.sline</span>:", ", line ");
        let body = body.replace("book.sline:", ", line ");
        let body = body.as_str();
        let mut rest = body;
        // Line numbers stand in source spans and after the word "line".
        let marks = ["class=\"src\">", "class=\"at\"", ", line ", ". Page "];
        while let Some(at) = marks.into_iter().filter_map(|mark| rest.find(mark)).min() {
            let source = rest[at..].starts_with("class");
            let end = if rest[at..].starts_with(". Page ") {
                // A page's fingerprint is made of its line numbers too.
                rest[at..].find('<').map_or(rest.len(), |end| at + end)
            } else if source {
                rest[at..].find("</span>").map_or(rest.len(), |end| at + end)
            } else {
                let from = at + ", line ".len();
                // Several lines of one file: `, line 70, 76`.
                from + rest[from..]
                    .find(|each: char| !each.is_ascii_digit() && !matches!(each, ',' | ' '))
                    .unwrap_or(0)
            };
            text.push_str(&rest[..at]);
            rest = &rest[end..];
        }
        text.push_str(rest);
    }
    text
}
