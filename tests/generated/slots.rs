//! The generator writes every verb, clause and property of the language's own tables, and few of its lines are wrong.

use super::book::{Knobs, Written, seeded};
use std::collections::{BTreeMap, BTreeSet};
use stringline::Compiled;
use stringline::book::clause::CLAUSES;
use stringline::book::declare::{DECLARATIONS, is_name_of, names_of};
use stringline::book::entry::{Audience, CostKind, Verb};
use stringline::diagnostics::Severity;
use stringline::source::Memory;

/// Books that between them have everything.
const BOOKS: u64 = 60;

fn compiled(written: &Written) -> Compiled {
    let files = written.files();
    let files: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    stringline::compile(&Memory::new(&files, crate::checks::now())).unwrap()
}

/// The words of a line outside its quotes and reason.
fn words(line: &str) -> Vec<String> {
    let outside = line.split('"').step_by(2).collect::<Vec<_>>().join(" ");
    let said = outside.split_inclusive("because").next().unwrap_or_default().to_owned();
    said.split([' ', ',']).filter(|word| !word.is_empty()).map(str::to_owned).collect()
}

#[test]
fn every_verb_clause_and_property_is_written() {
    let mut verbs = BTreeSet::new();
    let mut clauses = BTreeSet::new();
    let mut properties: BTreeMap<&str, BTreeSet<&str>> = BTreeMap::new();
    let mut others = BTreeSet::new();
    for seed in 0..BOOKS {
        let written = seeded(seed, 1500, Knobs::default());
        let book = compiled(&written);
        for entry in book.book.entries.iter().filter(|entry| !entry.broken) {
            verbs.insert(entry.verb);
            let said = words(book.files.text(entry.span()));
            let is_note = entry.verb == Verb::Note;
            clauses.extend(CLAUSES.into_iter().filter(|one| !is_note && said.iter().any(|word| word == one)));
            let of = match entry.verb {
                Verb::Job | Verb::Promise => "job",
                Verb::Hours | Verb::Cost | Verb::Credit | Verb::Quote | Verb::Buy | Verb::Paid => "cost",
                _ => "",
            };
            properties.entry(of).or_default().extend(written_of(of, &said));
            others.extend(
                said.iter()
                    .filter(|word| Audience::find(word).is_some() || CostKind::find(word).is_some())
                    .cloned(),
            );
        }
        let mut of = "";
        for (_, text) in written.files() {
            for line in text.lines() {
                let said = words(line);
                if !line.starts_with(' ') {
                    let first = said.first().map_or("", String::as_str);
                    of = DECLARATIONS.into_iter().find(|one| *one == first).unwrap_or_default();
                }
                properties.entry(of).or_default().extend(written_of(of, &said));
            }
        }
    }
    let missing: Vec<&str> =
        Verb::ALL.iter().filter(|verb| !verbs.contains(verb)).map(|verb| verb.word()).collect();
    assert!(missing.is_empty(), "no book has these verbs: {missing:?}");
    let missing: Vec<&str> = CLAUSES.into_iter().filter(|one| !clauses.contains(one)).collect();
    assert!(missing.is_empty(), "no book has these clauses: {missing:?}");
    for of in DECLARATIONS.into_iter().chain(["job", "cost"]) {
        let said = properties.get(of).cloned().unwrap_or_default();
        let missing: Vec<&&str> = names_of(of).iter().filter(|name| !said.contains(*name)).collect();
        assert!(missing.is_empty(), "no {of} of any book has {missing:?}");
    }
    let words = Audience::ALL.into_iter().map(Audience::word).chain(CostKind::ALL.map(|(word, _)| word));
    let missing: Vec<&str> = words.filter(|word| !others.contains(*word)).collect();
    assert!(missing.is_empty(), "no line has {missing:?}");
}

fn written_of(of: &str, said: &[String]) -> Vec<&'static str> {
    names_of(of_static(of))
        .iter()
        .copied()
        .filter(|name| said.iter().any(|word| is_name_of(of, word) && word == name))
        .collect()
}

fn of_static(of: &str) -> &str {
    of
}

#[test]
fn few_lines_are_wrong() {
    let (mut lines, mut errors, mut clean) = (0, 0, 0);
    let mut checks: BTreeMap<&str, usize> = BTreeMap::new();
    for seed in 0..BOOKS {
        let book = compiled(&seeded(seed, 1500, Knobs::default()));
        lines += book
            .files
            .iter()
            .map(|(_, file)| file.text.lines().filter(|line| !line.trim().is_empty()).count())
            .sum::<usize>();
        let wrong = book.diagnostics.iter().filter(|one| one.severity == Severity::Error);
        let before = errors;
        for one in wrong {
            errors += 1;
            *checks.entry(one.check).or_default() += 1;
        }
        clean += usize::from(errors == before);
    }
    assert!(errors * 20 < lines, "{errors} errors in {lines} lines: {checks:?}");
    assert!(clean as u64 * 2 > BOOKS, "{clean} of {BOOKS} books without an error: {checks:?}");
}

/// With the knob turned there is something to say.
#[test]
fn slips_are_errors() {
    let knobs = Knobs { slips: 10, ..Knobs::default() };
    let count = |knobs: Knobs| {
        (0..10).map(|seed| compiled(&seeded(seed, 800, knobs)).count(Severity::Error)).sum::<usize>()
    };
    let (honest, spoilt) = (count(Knobs::default()), count(knobs));
    assert!(spoilt > honest + 20, "{honest} {spoilt}");
}
