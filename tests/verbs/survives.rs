//! What a line still says with one bad clause: every verb by every clause, in a table made by hand.

use super::{BOOK, outcome};
use crate::checks::compile_text;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::book::CLAUSES;
use stringline::book::entry::{Audience, Entry, Verb};
use stringline::book::model::{CarId, PartId};
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;

/// Clauses as `CLAUSES` has them: `by with over at during after lap from to into on for because found-by mode mechanism
/// cause`. `+`: the fact stands without what the clause says. `-`: the clause is part of the fact, and nothing is believed.
/// `.`: among a driver's words it is one more of them. Among the values of a line a `lap` is a unit, and how a part fails is no clause.
const SURVIVES: [(&str, &str); 45] = [
    ("set", "++--------++++---"),
    ("adjust", "++--------++++---"),
    ("found", "++--------++++---"),
    ("left", "++--------++++---"),
    ("read", "++--------++++---"),
    ("bench", "++----+---+++++++"),
    ("fill", "++--------++++---"),
    ("torque", "++--------++++---"),
    ("recheck", "++----+---+++++++"),
    ("points", "++----+---+++++++"),
    ("sweep", "++----+---+++++++"),
    ("lift", "++----+---+++++++"),
    ("compare", "++----+---+++++++"),
    ("fit", "++++--+---+++++++"),
    ("remove", "++++--+---+++++++"),
    ("swap", "++++--+---+++++++"),
    ("move", "++++--+---+++++++"),
    ("build", "++++--+---+++++++"),
    ("strip", "++++--+---+++++++"),
    ("rebuild", "+-++--+---+++++++"),
    ("shelve", "++++--+---+++++++"),
    ("quarantine", "++++--+---+++++++"),
    ("release", "++++--+---+++++++"),
    ("scrap", "++++--+---+++++++"),
    ("buy", "++++--+---+++++++"),
    ("sell", "+-++--+---+++++++"),
    ("failed", "++++--+---+++++++"),
    ("inspect", "++++--+---+++++++"),
    ("service", "++++--+---+++++++"),
    ("hit", "+++++-+++++++++++"),
    ("run", "++++--+++-+++++++"),
    ("laps", "+++++++++-+++++++"),
    ("say", "++..++.....++...."),
    ("think", "++..++.....++...."),
    ("waive", "+++++++++-++-++++"),
    ("void", "+++++++++++++++++"),
    ("job", "+++---++--+++++++"),
    ("done", "+++---++--+++++++"),
    ("defer", "+++---++--+++++++"),
    ("promise", "+++---++--+++++++"),
    ("hours", "+++---+----++++++"),
    ("cost", "+++---+----++++++"),
    ("credit", "+++---+----++++++"),
    ("quote", "+++---+----++++++"),
    ("|", "................."),
];

/// The clause with a mistake in it.
fn bad(clause: &str) -> String {
    match clause {
        "by" => "by nobdy".to_owned(),
        "with" => "with fuel 2 xx".to_owned(),
        "over" | "at" | "lap" => format!("{clause} xx"),
        "on" => "on j-9x".to_owned(),
        "for" => "for shpo".to_owned(),
        // Nothing behind it.
        _ => clause.to_owned(),
    }
}

/// The book with the first line of the verb changed.
fn with_line(verb: &str, change: impl Fn(&str) -> String) -> String {
    let mut done = false;
    let mut text = String::new();
    for line in BOOK.lines() {
        let mut words = line.split_whitespace();
        let first = words.next().unwrap_or_default();
        let word = if first.contains(':') { words.next().unwrap_or_default() } else { first };
        if !done && line.starts_with(' ') && word == verb {
            done = true;
            text += &change(line);
        } else {
            text += line;
        }
        text.push('\n');
    }
    assert!(done, "the fixture has no line of `{verb}`");
    text
}

/// The line with the bad clause: before its reason, which takes all that follows.
fn spoilt(line: &str, clause: &str) -> String {
    let (said, reason) = line.split_once(" because ").map_or((line, None), |(said, why)| (said, Some(why)));
    match reason {
        Some(_) if clause == "because" => format!("{said} because"),
        Some(why) => format!("{said}  {} because {why}", bad(clause)),
        None => format!("{line}  {}", bad(clause)),
    }
}

/// The line without the clause, where it has it and is whole without it.
fn without(line: &str, clause: &str) -> String {
    match line.split_once("  by ") {
        Some((before, after)) if clause == "by" => {
            let rest = after.split_once(' ').map_or("", |(_, rest)| rest);
            format!("{before} {rest}")
        }
        _ => line.to_owned(),
    }
}

fn facts(compiled: &Compiled) -> String {
    let mut text = outcome::facts(compiled);
    for job in &compiled.history.jobs.all {
        let steps: Vec<String> = job.steps.iter().map(|step| format!("{:?}", step.status)).collect();
        writeln!(text, "job {steps:?}").unwrap();
    }
    for one in &compiled.costs.postings {
        writeln!(text, "{:?} {:?} {:?} {:?}", one.kind, one.client, one.amount, one.minutes).unwrap();
    }
    text
}

fn errors(compiled: &Compiled) -> Vec<String> {
    let all = compiled.diagnostics.iter().filter(|one| one.severity == Severity::Error);
    all.map(|one| format!("{}: {}", one.check, one.message)).collect()
}

fn first(compiled: &Compiled, verb: Verb) -> Entry {
    *compiled.book.entries.iter().find(|entry| entry.verb == verb).unwrap()
}

#[test]
fn the_table_has_every_verb_and_every_clause() {
    for verb in Verb::ALL {
        let row = SURVIVES.iter().find(|(word, _)| *word == verb.word());
        assert_eq!(row.map(|(_, row)| row.len()), Some(CLAUSES.len()), "{}", verb.word());
    }
}

#[test]
fn a_bad_clause_takes_with_it_what_the_table_says() {
    let mut wrong = Vec::new();
    for (word, row) in SURVIVES.iter().filter(|(word, _)| *word != "|") {
        let verb = *Verb::ALL.iter().find(|verb| verb.word() == *word).unwrap();
        for (clause, mark) in CLAUSES.into_iter().zip(row.chars()) {
            let spoilt = compile_text(&with_line(word, |line| spoilt(line, clause)));
            let (entry, errors) = (first(&spoilt, verb), errors(&spoilt));
            let stands = match mark {
                '+' | '.' => {
                    let good = compile_text(&with_line(word, |line| without(line, clause)));
                    facts(&spoilt) == facts(&good) && !entry.broken
                }
                _ => entry.broken,
            };
            // Of a line that is not believed, others may miss what it said.
            let said = match mark {
                '+' => errors.len() == 1,
                '.' => errors.is_empty(),
                _ => !errors.is_empty(),
            };
            if !stands || !said {
                wrong.push(format!("{word} {clause} {mark}: stands {stands}, {errors:?}"));
            }
            if clause == "for" && mark != '.' {
                let audience = spoilt.book.extra(&entry).and_then(|extra| extra.audience);
                if audience != Some(Audience::Shop) {
                    wrong.push(format!("{word} for: {audience:?}"));
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

const SMALL: &str = "shop \"Side\"  currency EUR  rate 50.00 EUR\nclient orr \"Orr\"\nclient day \"Day\"\n\
                     car heron \"Heron\"  client orr\ncar wren \"Wren\"  client day\n\
                     kind coupling  fits LR RR  on heron, wren\n\
                     spec std of coupling  price 38.00 EUR\npart cp-1 coupling  spec std\n\n2025-05-10 heron\n";

fn small(lines: &str) -> Compiled {
    compile_text(&format!("{SMALL}{lines}"))
}

#[test]
fn an_impact_of_an_unknown_job_is_an_impact() {
    for clause in ["on j-9", "during", "onto the kerb", "with fuel 2o L", "at 60 xx", "because"] {
        let compiled = small(&format!("  read rake 6 mm\n  hit LR \"wall\"  {clause}\n"));
        let hits = compiled.history.disturbances.hits(CarId::new(0), Rank::START, Rank::END);
        assert_eq!((hits.count(), errors(&compiled).len()), (1, 1), "{clause}: {:?}", errors(&compiled));
    }
}

/// `fit cp-1 LR on wren` may mean the other car, `by LR` the place: which of the two is nobody's to guess.
#[test]
fn a_clause_that_names_what_the_line_is_about_is_no_side_clause() {
    for line in ["fit cp-1 LR on wren", "fit cp-1 by LR", "hit LR \"wall\" on wren", "hit LR RR \"wall\""] {
        let compiled = small(&format!("  {line}\n"));
        assert!(compiled.book.entries.first().unwrap().broken, "{line}");
        assert_eq!(errors(&compiled).len(), 1, "{line}");
    }
    // A place behind the bad clause is read.
    let fitted = small("  fit cp-1 on j-9 LR\n");
    let there = format!("{:?}", fitted.history.parts.get(PartId::new(0)).now());
    let good = small("  fit cp-1 LR\n");
    assert_eq!(there, format!("{:?}", good.history.parts.get(PartId::new(0)).now()));
}

/// A sum that cannot be read is not the spec's 38.00, and one whose payer cannot be is nobody's.
#[test]
fn what_a_bad_clause_would_have_said_is_not_made_up() {
    for price in ["45.oo EUR", "45.00 EURR", "EUR 45.00"] {
        let bought = small(&format!("  buy cp-1 {price}\n  fit cp-1 LR\n"));
        assert_eq!(errors(&bought).len(), 1, "{price}: {:?}", errors(&bought));
        assert!(!bought.costs.postings.is_empty(), "{price}");
        assert!(bought.costs.postings.iter().all(|one| one.amount.is_none()), "{:?}", bought.costs.postings);
    }
    for line in ["cost 20.00 EUR to dday", "hours 2 h on j-9", "cost 20.00 EUR split equal among herom, wren"]
    {
        let compiled = small(&format!("  {line}\n"));
        assert_eq!(errors(&compiled).len(), 1, "{line}");
        assert!(compiled.costs.postings.iter().all(|one| one.amount.is_none()), "{line}");
    }
    // Lost before its audience was read, and with an audience that is none.
    for line in ["found rake 6 mm over xx for shop", "say push for shpo", "hours 2 h on j-9 for shpo"] {
        let compiled = small(&format!("  {line}\n"));
        let entry = compiled.book.entries.first().unwrap();
        let audience = compiled.book.extra(entry).and_then(|extra| extra.audience);
        assert_eq!(audience, Some(Audience::Shop), "{line}");
    }
    let said = small("  say loose for a lap\n");
    assert!(errors(&said).is_empty(), "{:?}", errors(&said));
}
