//! What a line still says with one bad clause: every verb by every clause, in a table made by hand.

use super::{BOOK, outcome};
use crate::checks::compile_text;
use std::fmt::Write as _;
use stringline::Compiled;
use stringline::book::CLAUSES;
use stringline::book::entry::{Audience, Entry, Verb};
use stringline::book::model::CarId;
use stringline::diagnostics::Severity;
use stringline::history::order::Rank;

/// Clauses as `CLAUSES` has them: `by with over at during after lap from to into on for because found-by mode mechanism
/// cause`. `+`: the fact stands without what the clause says. `-`: the clause is part of the fact, and nothing is believed.
/// `.`: among a driver's words it is one more of them. Among the values of a line a `lap` is a unit, and how a part fails is no clause.
const SURVIVES: [(&str, &str); 58] = [
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
    ("buy", "-----------------"),
    ("sell", "-----------------"),
    ("failed", "++++--+---+++++++"),
    ("inspect", "++++--+---+++++++"),
    ("service", "++++--+---+++++++"),
    ("hit", "+++++-+++++++++++"),
    ("lend", "++++--+---+++++++"),
    ("borrow", "-----------------"),
    ("return", "++++--+---+++++++"),
    ("count", "++++--+++-+++++++"),
    ("use", "++++--+++-+++++++"),
    ("run", "++++--+++-+++++++"),
    ("stint", "++++--+++-+++++++"),
    ("stage", "++++--+++-+++++++"),
    ("stop", "++++--+++-+++++++"),
    ("result", "-----------------"),
    ("correct", "++--------++++---"),
    ("laps", "+++++++++-+++++++"),
    ("say", "++..++.....++...."),
    ("think", "++..++.....++...."),
    ("try", "++----+---+++++++"),
    ("waive", "+++++++++-++-++++"),
    ("void", "+++++++++++++++++"),
    ("job", "-----------------"),
    ("done", "-----------------"),
    ("defer", "-----------------"),
    ("promise", "-----------------"),
    ("hours", "-----------------"),
    ("cost", "-----------------"),
    ("credit", "-----------------"),
    ("quote", "-----------------"),
    ("paid", "-----------------"),
    ("handed", "-----------------"),
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
            // The line itself has one message, whichever.
            let said = said && spoilt.book.troubles.len() == usize::from(mark != '.');
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
                     spec std of coupling  price 38.00 EUR\npart cp-1 coupling  spec std\nperson ned \"Ned\"\n\
                     kind seat  fits cockpit on heron\npart seat-1 seat\n\n2025-05-10 heron\n";

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

/// The facts of the line, or none where it is not believed; it has one message.
fn believed(lines: &str) -> Option<String> {
    let compiled = small(lines);
    assert_eq!(errors(&compiled).len(), 1, "{lines}: {:?}", errors(&compiled));
    let broken = compiled.book.entries.iter().any(|entry| entry.broken);
    (!broken).then(|| facts(&compiled))
}

/// `fit cp-1 LR on wren` may mean the other car, `by LR` the place: which of the two is nobody's to guess.
#[test]
fn a_line_stands_only_where_the_rest_can_be_nothing_else() {
    for line in [
        "fit cp-1 LR on wren",
        "fit cp-1 LR on wrem",
        "fit cp-1 by LR",
        "fit cp-1 on j-9 LR",
        "fit cp-1 LR because, RR",
        "fit cp-1 LR for clinet, RR",
        "fit cp-1 LR for day",
        "fit seat-1 at ~6 cockpit",
        "move cp-1 -> LR at ~60 wren",
        "move cp-1 -> LR 20.00 EUR by nobdy",
        "move cp-1 -> LR 2o.00 EUR by nobdy",
        "remove cp-1 LR because, failed",
        "remove cp-1 LR by nobdy, good",
        "remove cp-1 LR by nobdy, godo",
        "remove cp-1 LR by nobdy unsure",
        "remove cp-1 LR by nobdy RRR",
        "sell heron for day",
        "sell heron by nobdy",
        "buy cp-1 by nobdy",
        "hit LR \"wall\" on wren",
        "hit LR RR \"wall\"",
        "hit LR \"wall\" for shpo, orr",
        "cost 46.00 EUR parts because, fuel",
        "cost 300.00 EUR entry by split minuts",
        "cost 20.00 EUR for day",
        "hours 2 h for wren",
        "hours 2 h for shpo",
        "done j-1 \"torn\" by nobdy",
        "run s1 by nobdy 10 laps",
        "run s1 over 12 laps",
        "run s1 with fuel 2o L 10 laps",
        "run s1 with fuel 2o L 12 km",
        "fit cp-1 LR because, torn by ned",
        "fit cp-1 LR because, it was oor",
        "fit cp-1 LR because, it came from ned",
        "found rake 6 mm because, low at 2 bar",
        "found rake 6 mm with fuel 2o L 7 mm",
        "run s1 at 10 laps",
        "found rake by 6 mm",
        "found rake 6 mm by nobdy else",
        "found rake 6 mm with 7 mm",
        "found rake 6 mm with fuel 2o L RR",
    ] {
        assert_eq!(believed(&format!("  {line}\n")), None, "{line}");
    }
}

/// What stands says what the line without the bad clause says.
#[test]
fn what_stands_is_what_it_was() {
    for (bad, good) in [
        ("fit cp-1 LR on j-9", "fit cp-1 LR"),
        ("fit cp-1 LR on j-9, \"as it came\"", "fit cp-1 LR \"as it came\""),
        ("fit cp-1 LR because, it was torn", "fit cp-1 LR"),
        ("fit cp-1 LR BECAUSE, it was torn", "fit cp-1 LR"),
        ("found rake 6 mm with fuel 2o L", "found rake 6 mm"),
        ("found rake 6 mm with fuel 2o L, driver 7x kg", "found rake 6 mm"),
        ("found rake 6 mm with fuel 2o L, driver 78 kg by neb", "found rake 6 mm with driver 78 kg"),
        // The one that it may be is a person, whichever.
        ("found rake 6 mm by nde", "found rake 6 mm"),
        ("failed cp-1 during s6 lap 1x", "failed cp-1 during s6"),
        ("hit LR \"wall\" during s6 lap 1x", "hit LR \"wall\" during s6"),
        ("hit LR \"wall\" during s6 lap", "hit LR \"wall\" during s6"),
        ("hit LR \"wall\" because, during s6", "hit LR \"wall\" during s6"),
        ("hit LR because, \"wall\"", "hit LR \"wall\""),
        ("hit LR \"wall\" on j-9, during s6", "hit LR \"wall\" during s6"),
        ("hit LR \"wall\" on, by, during s6", "hit LR \"wall\" during s6"),
        ("run s7 with fuel 2 xx, 10 laps", "run s7 10 laps"),
        ("found rake 6 mm with by ned", "found rake 6 mm by ned"),
        ("found rake 6 mm with, driver 78 kg", "found rake 6 mm with driver 78 kg"),
        ("found rake 6 mm by, with driver 78 kg,", "found rake 6 mm with driver 78 kg"),
    ] {
        let above = "  run s6 10 min\n  fit cp-1 LR\n";
        let above = if bad.starts_with("fit") { "  run s6 10 min\n" } else { above };
        let whole = small(&format!("{above}  {good}\n"));
        assert!(errors(&whole).is_empty(), "{good}: {:?}", errors(&whole));
        let compiled = small(&format!("{above}  {bad}\n"));
        let (entry, wanted) = (compiled.book.entries.last().unwrap(), whole.book.entries.last().unwrap());
        assert!(!entry.broken, "{bad}: {:?}", errors(&compiled));
        assert_eq!(errors(&compiled).len(), 1, "{bad}: {:?}", errors(&compiled));
        assert_eq!(facts(&compiled), facts(&whole), "{bad}");
        let label = |compiled: &Compiled, entry: &Entry| {
            let during = compiled.book.extra(entry).and_then(|extra| extra.during);
            during.map(|span| compiled.files.text(span).to_owned())
        };
        assert_eq!(label(&compiled, entry), label(&whole, wanted), "{bad}");
        assert_eq!(entry.by, wanted.by, "{bad}");
        let words = |compiled: &Compiled, entry: &Entry| {
            compiled.book.extra(entry).map_or(0, |extra| extra.words.len())
        };
        assert_eq!(words(&compiled, entry), words(&whole, wanted), "{bad}");
        let conditions = |compiled: &Compiled, entry: &Entry| {
            compiled.book.extra(entry).map_or(0, |extra| extra.conditions.len())
        };
        assert_eq!(conditions(&compiled, entry), conditions(&whole, wanted), "{bad}");
    }
}

/// Whatever else it says: a bad `for` before or behind a good one, two good ones, and on lines that are not believed.
#[test]
fn an_audience_only_ever_narrows() {
    for (line, wanted) in [
        ("fit cp-1 LR for clinet for buyer", Audience::Shop),
        ("fit cp-1 LR for buyer for clinet", Audience::Shop),
        ("fit cp-1 LR for shop for client", Audience::Shop),
        ("hit LR \"wall\" for clinet, for buyer", Audience::Shop),
        ("job j-1 \"twice\" for shop", Audience::Shop),
        ("found rake 6,5 mm for shop", Audience::Shop),
        ("found rake 6,5 mm for clinet", Audience::Shop),
        ("found rake 6 mm with fuel 20 L for", Audience::Shop),
        ("found rake 6 mm with fuel 20 L for shpo, driver 70 kg", Audience::Shop),
        ("say push for shpo, then loose", Audience::Shop),
        ("hit LR \"wall\" because, no grip for shpo", Audience::Shop),
        ("fit cp-1 LR because, no grip for shop", Audience::Shop),
    ] {
        let compiled = small(&format!("  {line}\n"));
        let entry = compiled.book.entries.last().unwrap();
        let audience = compiled.book.extra(entry).and_then(|extra| extra.audience);
        assert_eq!(audience, Some(wanted), "{line}");
    }
    // Opened twice: the second is refused by its name. And an answer to a line that is none.
    for lines in [
        "  job j-1 \"one\"\n  job j-1 \"two\" for shop\n",
        "  fnd rake 6 mm\n    void because x for shop\n    void for shop\n",
    ] {
        let compiled = small(lines);
        let entry = compiled.book.entries.last().unwrap();
        assert!(entry.broken, "{lines}");
        let audience = compiled.book.extra(entry).and_then(|extra| extra.audience);
        assert_eq!(audience, Some(Audience::Shop), "{lines}");
    }
}

/// `for slow corners` are a driver's words; `for shpo` at their end is not.
#[test]
fn plain_words_are_no_audience() {
    for words in
        ["too stiff for slow corners", "too stiff for slow", "good for shot brakes", "push for a lap"]
    {
        let compiled = small(&format!("  say {words}\n"));
        assert!(errors(&compiled).is_empty(), "{words}: {:?}", errors(&compiled));
        let extra = compiled.book.extra(compiled.book.entries.first().unwrap()).unwrap();
        assert_eq!((extra.audience, extra.words.len()), (None, words.split(' ').count()), "{words}");
    }
    for words in ["push for shpo", "push for clinet by ned", "push for buyr because it did"] {
        let compiled = small(&format!("  say {words}\n"));
        let extra = compiled.book.extra(compiled.book.entries.first().unwrap()).unwrap();
        assert_eq!((extra.audience, errors(&compiled).len()), (Some(Audience::Shop), 1), "{words}");
    }
}

/// A condition has one number; what else the line says is the line's.
#[test]
fn a_condition_takes_no_fact_of_its_session() {
    let compiled = small("  run s6 10 min with fuel 20 L 12 km\n");
    assert!(errors(&compiled).is_empty(), "{:?}", errors(&compiled));
    assert_eq!(compiled.book.runs.iter().next().and_then(|run| run.distance), Some(12_000.0));
    let extra = compiled.book.extra(compiled.book.entries.first().unwrap()).unwrap();
    let litres: Vec<f64> =
        extra.conditions.iter().filter_map(|one| one.value).map(|(si, _)| si * 1000.0).collect();
    assert_eq!(litres, [20.0]);
    let compiled = small("  found rake 6 mm with fuel 20 L 12 km\n");
    assert_eq!(errors(&compiled).len(), 1, "{:?}", errors(&compiled));
}

/// What a believed line says hides no other mistake; what its bad clause names does not draw a second message.
#[test]
fn a_line_that_stands_explains_nothing() {
    let compiled = small("  fit cp-1 LR by nobdy\n  remove cp-1\n  remove cp-1\n");
    let said: Vec<String> =
        errors(&compiled).iter().map(|one| one.split(':').next().unwrap().to_owned()).collect();
    assert_eq!(said, ["name-unknown", "pull-not-there"]);
    // Refused, it may have fitted the part.
    let compiled = small("  fit cp-1 LR by LR\n  remove cp-1\n");
    assert_eq!(errors(&compiled).len(), 1, "{:?}", errors(&compiled));
}

/// Laps that are void, or of a line that is not believed, are no session's best.
#[test]
fn void_laps_are_nobodys() {
    for (under, listed) in
        [("", 2), ("\n      void because the beacon slipped", 0), ("\n      void LF", 0), ("  by LR", 0)]
    {
        let compiled = small(&format!("  run s6 10 min\n    laps 1:10.1 1:09.8{under}\n"));
        let laps = compiled.book.runs.iter().next().map(|run| run.times.len());
        assert_eq!(laps, Some(listed), "{under}: {:?}", errors(&compiled));
    }
}

/// A reading is void or it is not: of one that somebody tried to void nothing is believed.
#[test]
fn a_bad_void_leaves_its_reading_in_doubt() {
    let compiled = small("  found rake 6 mm\n    void LF\n");
    let entries: Vec<_> = compiled.book.entries.iter().map(|entry| (entry.void, entry.broken)).collect();
    assert_eq!(entries, [(false, true), (false, true)]);
    let compiled = small("  found rake 6 mm\n    void on j-9\n");
    let entries: Vec<_> = compiled.book.entries.iter().map(|entry| (entry.void, entry.broken)).collect();
    assert_eq!(entries, [(true, false), (false, false)]);
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
