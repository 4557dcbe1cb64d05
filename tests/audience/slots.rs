//! A canary in every slot the language has for free words and sums, found by its own tables: verbs, clauses, properties of
//! declarations. A new one without a canary fails here.
//!
//! One season stands twice in the book: of the reader's car, where every free word names the other client in many shapes, and of
//! the other client's car, where every word and every sum is a canary. Whoever reads finds none of either.

use super::{canaries, put};
use crate::command::said_on;
use std::collections::BTreeSet;
use std::fmt::Write as _;
use std::path::Path;
use stringline::book::clause::CLAUSES;
use stringline::book::declare::{DECLARATIONS, names_of};
use stringline::book::entry::Verb;
use stringline::diagnostics::Severity;

/// In a template `{t}` is quoted words, `{r}` bare words to the end of the line, `{w}` one word, `{m}` a sum that the reader pays
/// and `{s}` one that he may not see.
const SHOP: &str = include_str!("../fixtures/audience-slots/shop.txt");
const PARTS: &str = include_str!("../fixtures/audience-slots/parts.txt");
const SEASON: &str = include_str!("../fixtures/audience-slots/season.txt");
/// What only the reader's own ledger has: lines that have to do with the other client.
const BETWEEN: &str = include_str!("../fixtures/audience-slots/between.txt");
const SOLD: &str = include_str!("../fixtures/audience-slots/sold.txt");

/// What is called otherwise in the other client's season.
const OTHER: [(&str, &str); 9] = [
    ("heron", "qwren"),
    ("orr", "qsmith"),
    ("ned", "qott"),
    ("cp-", "qp-"),
    ("sp-", "qsp-"),
    ("hub-", "qhub-"),
    ("j-", "qj-"),
    ("base-", "qbase-"),
    ("nut", "washer"),
];

/// How the other client, who drives for him, his car and a part of it may be written. The small letters of none may be found.
const NAMES: &str = "Qsmith, the Qsmiths' own, QSMITH\u{2019}S, Qsmi\u{300}th, q\u{ad}smith, **Qs**mith, Qvarga, Qvargas, Qott, \
                     Qlind's, Qwren, qp-1, QS-77/B, qj-1, qbase-1";
const STEMS: [&str; 12] =
    ["qsm", "qs**", "qvar", "qott", "qlind", "qwren", "qp-", "qsp-", "qhub-", "qj-", "qs-77", "qbase"];

/// Properties whose value is no free word and no sum: a name, a number, a date, a word of the language; or whose sum is his.
const CLOSED: [(&str, &str); 84] = [
    ("shop", "currency"),
    ("shop", "zone"),
    ("shop", "rate"),
    ("client", "unbilled"),
    ("exchange", "from"),
    ("rule", "at"),
    ("rule", "min"),
    ("rule", "max"),
    ("rule", "from"),
    ("rule", "until"),
    ("circuit", "length"),
    ("event", "at"),
    ("event", "entered"),
    ("event", "zone"),
    ("event", "sessions"),
    ("event", "on"),
    ("gauge", "reads"),
    ("gauge", "resolution"),
    ("gauge", "repeats"),
    ("gauge", "valid-until"),
    ("car", "client"),
    ("car", "units"),
    ("car", "cylinders"),
    ("car", "gears"),
    ("car", "body"),
    ("car", "drive"),
    ("car", "toe-over"),
    ("car", "every"),
    ("car", "usual"),
    ("car", "possible"),
    ("class", "usual"),
    ("class", "possible"),
    ("kind", "fits"),
    ("kind", "carried"),
    ("kind", "on"),
    ("kind", "inside"),
    ("kind", "life"),
    ("kind", "valid"),
    ("kind", "safety"),
    ("kind", "gives"),
    ("kind", "carries"),
    ("kind", "clicks"),
    ("kind", "from"),
    ("kind", "one-use"),
    ("kind", "must"),
    ("kind", "keep"),
    ("kind", "consumable"),
    ("kind", "every"),
    ("spec", "of"),
    ("spec", "life"),
    ("spec", "valid"),
    ("part", "spec"),
    ("part", "opening"),
    ("part", "made"),
    ("part", "serviced"),
    ("part", "fitted"),
    ("part", "valid-until"),
    ("part", "tag"),
    ("spec", "tag"),
    ("part", "paid"),
    ("part", "client"),
    ("quantity", "of"),
    ("quantity", "show"),
    ("quantity", "usual"),
    ("quantity", "possible"),
    ("quantity", "disturbed-by"),
    ("quantity", "pair"),
    ("quantity", "triple"),
    ("quantity", "counter"),
    ("quantity", "relative"),
    ("quantity", "supply"),
    ("quantity", "rear-axle"),
    ("figure", "show"),
    ("figure", "step"),
    ("figure", "in-code"),
    ("figure", "is"),
    ("figure", "when"),
    ("figure", "plain"),
    ("figure", "inferred"),
    ("figure", "estimated"),
    ("figure", "at"),
    ("job", "planned"),
    ("job", "on-part"),
    ("job", "promised"),
];
/// Facts of jobs and of money lines, likewise.
const CLOSED_FACTS: [(&str, &str); 5] =
    [("job", "until"), ("cost", "split"), ("cost", "among"), ("cost", "unbilled"), ("cost", "back")];
/// Clauses, likewise; `into`, `on` and `by` take names, `for` a reader.
const CLOSED_CLAUSES: [&str; 9] = ["by", "over", "at", "during", "after", "lap", "into", "on", "for"];
/// Verbs whose lines have no free word.
const CLOSED_VERBS: [Verb; 4] = [Verb::Laps, Verb::Points, Verb::Sweep, Verb::Lift];

fn templates() -> [&'static str; 5] {
    [SHOP, PARTS, SEASON, BETWEEN, SOLD]
}

/// Whether a line of the templates that opens with `of` has a slot right after the word.
fn has_slot(of: Option<&str>, word: &str) -> bool {
    let lines = templates().into_iter().flat_map(str::lines);
    let mut opens = lines.filter(|line| of.is_none_or(|of| verb_of(line) == of));
    opens.any(|line| {
        let words: Vec<&str> = line.split_whitespace().collect();
        words
            .windows(2)
            .any(|pair| pair[0] == word && (pair[1].starts_with('{') || is_slot_later(&words, word)))
    })
}

/// `about WORD TEXT`, `fits PLACE`, `tag QUANTITY TEXT`: the slot is the word after next.
fn is_slot_later(words: &[&str], word: &str) -> bool {
    let at = words.iter().position(|one| *one == word).unwrap_or(words.len());
    matches!(word, "reference" | "about" | "must" | "careful")
        && words[at..].iter().take(5).any(|one| one.starts_with('{'))
}

/// The first word of a line, a clock time left out.
fn verb_of(line: &str) -> &str {
    let mut words = line.split_whitespace();
    let first = words.next().unwrap_or_default();
    if first.starts_with(|c: char| c.is_ascii_digit()) { words.next().unwrap_or_default() } else { first }
}

#[test]
fn every_slot_of_the_tables_has_a_canary() {
    let mut wrong = Vec::new();
    let mut once = BTreeSet::new();
    for (of, name) in CLOSED.into_iter().chain(CLOSED_FACTS) {
        if !once.insert((of, name)) || !names_of(of).contains(&name) {
            wrong.push(format!("{of} {name} is closed twice, or there is none"));
        }
    }
    for of in DECLARATIONS.into_iter().chain(["job", "cost"]) {
        for name in names_of(of) {
            let closed = CLOSED.contains(&(of, name)) || CLOSED_FACTS.contains(&(of, name));
            let verbs: &[&str] = match of {
                "cost" => &["cost", "credit", "quote", "hours", "paid"],
                // Its facts stand on lines of their own.
                "figure" => &["figure", "source", "convention", "must", "careful"],
                of => &[of],
            };
            if closed == verbs.iter().any(|verb| has_slot(Some(verb), name)) {
                wrong.push(format!("{of} {name}: {}", if closed { "is not closed" } else { "no canary" }));
            }
        }
    }
    for clause in CLAUSES {
        if CLOSED_CLAUSES.contains(&clause) == has_slot(None, clause) {
            wrong.push(format!("clause {clause}"));
        }
    }
    for verb in Verb::ALL {
        let lines = [SEASON, BETWEEN, SOLD].into_iter().flat_map(str::lines);
        let has = lines
            .filter(|line| line.starts_with(' ') && verb_of(line) == verb.word())
            .any(|line| line.contains('{'));
        if CLOSED_VERBS.contains(verb) == has {
            wrong.push(format!("verb {}", verb.word()));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// A template with its slots filled: those of the reader's own book, or of the other client's.
fn fill(template: &str, n: &mut usize, his: bool) -> String {
    let mut out = String::new();
    let mut rest = template;
    while let Some((before, after)) = rest.split_once('{') {
        *n += 1;
        out += before;
        let (slot, after) = after.split_once('}').unwrap();
        let _ = match (slot, his) {
            ("t", true) => write!(out, "\"vx{n}xv {NAMES}\""),
            ("r", true) => write!(out, "vx{n}xv {NAMES}"),
            ("w", true) => write!(out, "vx{n}xv-qsmith"),
            ("m", true) => write!(out, "{}.19 EUR", 1000 + *n),
            ("t", false) => write!(out, "\"hx{n}xh\""),
            ("r" | "w", false) => write!(out, "hx{n}xh"),
            ("m" | "s", _) => write!(out, "{}.37 EUR", 1000 + *n),
            other => panic!("{other:?}"),
        };
        rest = after;
    }
    out + rest
}

/// The season of the other client's car.
fn others(template: &str) -> String {
    OTHER.iter().fold(template.to_owned(), |text, (own, other)| {
        let mut out = String::new();
        let mut last = ' ';
        let mut rest = text.as_str();
        while let Some(c) = rest.chars().next() {
            // `{`: the slots' own letters stay.
            if !last.is_alphanumeric() && last != '-' && last != '{' && rest.starts_with(own) {
                let end = rest[own.len()..].chars().next().unwrap_or(' ');
                if own.ends_with('-') || !(end.is_alphanumeric() || end == '-') {
                    out += other;
                    rest = &rest[own.len()..];
                    last = 'x';
                    continue;
                }
            }
            out.push(c);
            last = c;
            rest = &rest[c.len_utf8()..];
        }
        out
    })
}

fn files() -> Vec<(String, String)> {
    let mut n = 100;
    let mut own = |template: &str| fill(template, &mut n, true);
    let (shop, parts, season, between, sold) = (own(SHOP), own(PARTS), own(SEASON), own(BETWEEN), own(SOLD));
    let (qparts, qseason) = (fill(&others(PARTS), &mut n, false), fill(&others(SEASON), &mut n, false));
    vec![
        ("shop.sline".to_owned(), shop + &parts),
        ("orr-heron.sline".to_owned(), season + &between),
        ("qsmith-teal.sline".to_owned(), sold),
        ("qwren.sline".to_owned(), qparts + &qseason),
    ]
}

#[test]
fn the_book_has_no_error() {
    let files = files();
    let texts: Vec<(&str, &str)> = files.iter().map(|(path, text)| (path.as_str(), text.as_str())).collect();
    let book = stringline::compile(&stringline::source::Memory::new(&texts, crate::checks::now())).unwrap();
    let errors: Vec<String> = book
        .diagnostics
        .iter()
        .filter(|one| one.severity == Severity::Error)
        .map(|one| {
            let at = one.at.as_ref().map_or(0, |mark| book.files.line(mark.span));
            format!("{} {at}: {}", one.check, one.message)
        })
        .collect();
    assert!(errors.is_empty(), "{errors:#?}");
}

/// By command, the words after the book's folder; `OUT` is a folder to write to, `THEN` the book before its first day.
const ASKED: [(&str, &[&[&str]]); 11] = [
    ("altered", &[&["--since", "THEN"], &["--since", "THEN", "--format", "json"]]),
    ("back-to-back", &[&["heron", "--all"], &["teal", "--format", "json"]]),
    ("worth", &[&["heron"], &["teal", "--format", "json"]]),
    ("report", &[&["--out", "OUT"], &["--out", "OUT", "--car", "heron"]]),
    ("tables", &[&["--out", "TABLES"], &["--out", "TABLES", "--format", "json"]]),
    (
        "state",
        &[
            &["heron"],
            &["heron", "pell-1"],
            &["teal", "2025-05-20"],
            &["heron", "2025-05-05", "--format", "json"],
            &["heron", "--format", "json"],
        ],
    ),
    (
        "diff",
        &[&["heron", "2025-05-04", "2025-12-01"], &["heron", "base-1", "2025-12-01", "--format", "json"]],
    ),
    ("rules", &[&["heron"], &["heron", "2025-06-01", "--format", "json"], &["teal", "--format", "json"]]),
    (
        "costs",
        &[
            &["--lines"],
            &["--lines", "--format", "json"],
            &["--by", "job"],
            &["--by", "client"],
            &["--by", "event", "--format", "json"],
        ],
    ),
    ("trace", &[&["heron", "ride-height", "LF"], &["heron", "tyre-hot", "LF", "--format", "json"]]),
    (
        "sheet",
        &[&["heron"], &["heron", "--now"], &["heron", "--crash"], &["heron", "pell-1", "--format", "json"]],
    ),
];

/// What is asked for the buyer of the car.
const HANDED: [&[&str]; 4] =
    [&[], &["--format", "json"], &["--include", "bench"], &["--include", "prices", "--format", "json"]];

#[test]
fn every_command_for_a_reader_is_asked() {
    // What `board` hands out is what `report` writes: `board::copies`.
    let takes = |command: &clap::Command| {
        command.get_name() != "board" && command.get_arguments().any(|one| one.get_long() == Some("for"))
    };
    let tree = stringline::command::tree();
    let all: BTreeSet<&str> =
        tree.get_subcommands().filter(|one| takes(one)).map(clap::Command::get_name).collect();
    assert_eq!(all, ASKED.iter().map(|(name, _)| *name).collect());
}

/// A book with nothing but what is declared in that one.
fn before_its_first_day(folder: &Path, book: &Path) -> std::path::PathBuf {
    let then = folder.join("then");
    std::fs::create_dir_all(&then).unwrap();
    for file in std::fs::read_dir(book).unwrap().map(|entry| entry.unwrap().path()) {
        let text = std::fs::read_to_string(&file).unwrap();
        let dated = |line: &&str| line.starts_with(|first: char| first.is_ascii_digit());
        let lines: Vec<&str> = text.lines().take_while(|line| !dated(line)).collect();
        std::fs::write(then.join(file.file_name().unwrap()), lines.join("\n") + "\n").unwrap();
    }
    then
}

/// Everything that is said, each with the words that asked for it.
fn told(folder: &Path, reader: Option<&str>) -> Vec<(String, String)> {
    let book = folder.join("book");
    let out = folder.join(reader.unwrap_or("shop"));
    let tables = folder.join(format!("{}-tables", reader.unwrap_or("shop")));
    let then = before_its_first_day(folder, &book);
    let mut all = Vec::new();
    for (command, asked) in ASKED {
        for words in asked {
            let mut line = vec![command, book.to_str().unwrap()];
            line.extend(words.iter().map(|word| match *word {
                "OUT" => out.to_str().unwrap(),
                "TABLES" => tables.to_str().unwrap(),
                "THEN" => then.to_str().unwrap(),
                word => word,
            }));
            line.extend(reader.iter().flat_map(|name| ["--for", name]));
            let said = said_on(&line, 96, "2025-12-01T12:00:00Z");
            // No line reads it, so nothing is worked out, and what is missing is told.
            let code = if words.contains(&"tyre-hot") { "2" } else { "0" };
            assert_eq!(said.code, code, "{line:?}: {}", said.err);
            all.push((line.join(" "), said.out + &said.err));
        }
    }
    let both = std::fs::read_dir(&out).unwrap().chain(std::fs::read_dir(&tables).unwrap());
    for page in both.map(|entry| entry.unwrap().path()) {
        let name = page.file_name().unwrap().to_str().unwrap().to_owned();
        all.push((name.clone(), name + &std::fs::read_to_string(&page).unwrap()));
    }
    all
}

fn handed(folder: &Path) -> Vec<(String, String)> {
    let book = folder.join("book");
    let ask = |words: &&[&str]| {
        let line = [&["handover", book.to_str().unwrap(), "heron"], *words].concat();
        let said = said_on(&line, 96, "2025-12-01T12:00:00Z");
        assert_eq!(said.code, "0", "{line:?}: {}", said.err);
        (words.join(" "), said.out + &said.err)
    };
    HANDED.iter().map(ask).collect()
}

/// What of it may not be found: a name, a word of the other's, a sum of his or the shop's.
fn given_away(folder: &Path, told: &[(String, String)]) -> BTreeSet<String> {
    let mut wrong = BTreeSet::new();
    for (asked, text) in told {
        let text = text.replace(folder.to_str().unwrap(), "");
        let asked = asked.replace(folder.to_str().unwrap(), "");
        for line in text.lines() {
            let small = line.to_lowercase();
            let near = |at: usize| {
                let mut ends = [at.saturating_sub(60), (at + 60).min(small.len())];
                for end in &mut ends {
                    while !small.is_char_boundary(*end) {
                        *end -= 1;
                    }
                }
                small[ends[0]..ends[1]].to_owned()
            };
            for stem in STEMS {
                wrong.extend(small.find(stem).map(|at| format!("{asked}: {stem} in {}", near(at))));
            }
            wrong.extend(tags(&small, "hx").iter().map(|tag| format!("{asked}: {tag}")));
            let sums = canaries(line).into_iter().filter(|sum| sum.ends_with(".37"));
            wrong.extend(sums.map(|sum| format!("{asked}: {sum}: {}", near(small.find(&sum).unwrap_or(0)))));
        }
    }
    wrong
}

/// `vx12xv` in a text.
fn tags(text: &str, open: &str) -> BTreeSet<String> {
    let words = text.split(|c: char| !c.is_ascii_alphanumeric());
    let is = |word: &&str| {
        word.strip_prefix(open).is_some_and(|rest| rest.starts_with(|c: char| c.is_ascii_digit()))
    };
    words.filter(is).map(str::to_owned).collect()
}

#[test]
fn no_slot_gives_a_client_the_other() {
    let folder = put("slots-client", &files());
    let told = told(&folder, Some("orr"));
    let wrong = given_away(&folder, &told);
    assert!(wrong.is_empty(), "{} found:\n{}", wrong.len(), wrong.into_iter().collect::<Vec<_>>().join("\n"));
}

#[test]
fn no_slot_gives_a_buyer_the_other() {
    let folder = put("slots-buyer", &files());
    let told = handed(&folder);
    let his: BTreeSet<String> = told.iter().flat_map(|(_, text)| tags(text, "vx")).collect();
    assert!(his.len() > 20, "{}", his.len());
    // A coupling that fits his car and stays on the shop's shelf is named as such, and nothing more is said of it.
    let told: Vec<(String, String)> =
        told.into_iter().map(|(asked, text)| (asked, without_qp_1(&text))).collect();
    let wrong = given_away(&folder, &told);
    assert!(wrong.is_empty(), "{} found:\n{}", wrong.len(), wrong.into_iter().collect::<Vec<_>>().join("\n"));
}

/// A text without the one name that the buyer may read: that word, and no longer one.
fn without_qp_1(text: &str) -> String {
    let is_of_name = |c: char| c.is_alphanumeric() || c == '-';
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once("qp-1") {
        out += before;
        if before.ends_with(is_of_name) || after.starts_with(is_of_name) {
            out += "qp-1";
        }
        rest = after;
    }
    out + rest
}

#[test]
fn only_that_name_goes() {
    assert_eq!(
        without_qp_1("qp-1, \"qp-1\" qp-12 xqp-1 qp-1-a qp-2 Qp-1"),
        ", \"\" qp-12 xqp-1 qp-1-a qp-2 Qp-1"
    );
}

/// What the shop itself is told has it all: every stem, words and sums of the other's. So the look for them can find them.
#[test]
fn the_shop_is_told_all_of_it() {
    let folder = put("slots-shop", &files());
    let found = given_away(&folder, &told(&folder, None));
    let has = |what: &str| found.iter().any(|one| one.contains(what));
    let missing: Vec<&str> = STEMS.into_iter().filter(|stem| !has(&format!(": {stem} in "))).collect();
    assert!(missing.is_empty(), "{missing:?}");
    assert!(has(": hx") && has(".37: "));
}

/// Nor is what is his taken away with the names: the rest of every text that the shop is shown stays, but for the shop's own lines.
#[test]
fn the_rest_of_each_text_stays() {
    let folder = put("slots-rest", &files());
    let all = |reader| {
        let told: String = told(&folder, reader).into_iter().map(|(_, text)| text).collect();
        tags(&told, "vx")
    };
    let (shop, his) = (all(None), all(Some("orr")));
    let text: String = files().into_iter().map(|(_, text)| text).collect();
    let lacks: Vec<&str> = shop
        .difference(&his)
        .filter_map(|tag| text.lines().find(|line| line.contains(tag.as_str())))
        .filter(|line| !NOT_HIS.contains(&verb_of(line)) && !line.contains("for shop"))
        // What the other client paid is his own, in whatever block.
        .filter(|line| !line.trim_start().starts_with("paid qsmith"))
        .collect();
    assert!(lacks.is_empty(), "{lacks:#?}");
    assert!(his.len() > 60, "{}", his.len());
}

/// Lines and declarations that are the shop's own.
const NOT_HIS: [&str; 13] = [
    "bench", "handed", "waive", "void", "points", "lend", "exchange", "kind", "gauge", "spec", "part",
    "rule", "outfit",
];
