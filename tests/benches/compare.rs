//! The table: each figure, its limit, and whether it is kept.
//!
//! Knows the library and the built binary.

use super::generate::{self, File};
use super::measure::{child, cost, median, middle, once};
use super::{derive, facts, lives, mix, pages};
use std::cell::RefCell;
use std::path::Path;
use stringline::diagnostics::Severity;
use stringline::source::{Files, LoadTrouble, SourceFile, World};
use stringline::{Compiled, book, check, compile, costs, history, syntax};

/// A book in memory whose texts are handed over once, so that no copy is on the clock.
struct Given(RefCell<Option<Files>>);

impl Given {
    fn new(files: &Files) -> Self {
        Self(RefCell::new(Some(files.clone())))
    }
}

impl World for Given {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        self.0.borrow_mut().take().map(|files| (files, Vec::new())).ok_or_else(|| "given twice".to_owned())
    }

    fn now(&self) -> jiff::Timestamp {
        // The last day of the generated book's last season.
        jiff::Timestamp::from_second(1_767_182_400).expect("2025-12-31T12:00Z")
    }
}

fn files(book: &[File]) -> Files {
    let file = |(path, text): &File| SourceFile { path: path.clone(), text: text.clone() };
    Files::new(book.iter().map(file).collect())
}

/// Counts lines the plainest way; the sum keeps the walk from being optimised away.
fn walk(files: &Files) -> usize {
    let ends = |(_, file): (_, &SourceFile)| {
        let mut last = 0;
        let mut sum = 0;
        for end in memchr::memchr_iter(b'\n', file.text.as_bytes()) {
            sum += (end - last) & 1;
            last = end;
        }
        sum
    };
    files.iter().map(ends).sum()
}

struct Row {
    what: String,
    value: f64,
    unit: &'static str,
    limit: Option<f64>,
}

fn print(rows: &[Row]) {
    println!("{:<46} {:>12} {:>10}", "what", "value", "limit");
    for Row { what, value, unit, limit } in rows {
        let limits = limit.map_or(String::new(), |limit| format!("{limit:.2} {unit}"));
        let verdict = match limit {
            Some(limit) if value > limit => "OVER",
            Some(_) => "ok",
            None => "",
        };
        println!("{what:<46} {:>12} {limits:>10} {verdict}", format!("{value:.2} {unit}"));
    }
}

/// Seconds of each stage by itself.
struct Stages {
    parse: f64,
    book: f64,
    history: f64,
    costs: f64,
    check: f64,
}

fn one_pass(texts: &Files) -> (Stages, usize) {
    let (parse, tree) = once(|| syntax::parse(texts));
    let (reading, mut model) = once(|| book::compile(texts, tree, Vec::new()));
    let (folding, fold) = once(|| history::fold(&mut model, texts));
    let (costing, costs) = once(|| costs::fold(&model, texts, &fold));
    let today = jiff::civil::date(2025, 12, 31);
    let known = stringline::rules::known::Known::default();
    let cx = check::Context {
        facts: stringline::history::Facts { files: texts, book: &model, history: &fold },
        costs: &costs,
        known: &known,
        today,
    };
    let (checking, all) = once(|| check::check(&cx));
    (Stages { parse, book: reading, history: folding, costs: costing, check: checking }, all.len())
}

/// Runs the stages over and over and prints each, for a profiler.
pub fn stages(lines: usize, times: usize) {
    let texts = files(&generate::book(lines));
    println!("{lines} lines: line walk {:.4} s", median(times, || walk(&texts)));
    println!("parse by the grammar alone {:.4} s", once(|| syntax::parse_by_grammar(&texts)).0);
    for _ in 0..times {
        let (s, messages) = one_pass(&texts);
        println!(
            "parse {:.4}  book {:.4}  history {:.4}  costs {:.4}  checks {:.4} s  ({messages} messages)",
            s.parse, s.book, s.history, s.costs, s.check
        );
    }
}

/// Makes the reports of a book twice and prints how long each took, for a profiler.
pub fn report_only(lines: usize) {
    let compiled = compile(&Given::new(&files(&generate::book(lines)))).expect("a book");
    for _ in 0..2 {
        pages::made(&compiled);
    }
}

/// Lives and due over and over, of the usual book and of one of thirty kinds, for a profiler.
pub fn lives_only(lines: usize, times: usize) {
    for kinds in [3, 30] {
        let texts = files(&generate::book_of(lines, kinds));
        let parsed = median(times, || syntax::parse(&texts));
        let compiled = compile(&Given::new(&texts)).expect("a book");
        about(lines, texts.iter().map(|(_, file)| file.text.len()).sum(), &compiled);
        let lived = lives::measure(&compiled, times);
        println!("{}; {:.2} parses of {parsed:.4} s", lived.words(), lived.seconds() / parsed);
    }
}

/// Measures everything and prints it.
pub fn table(sizes: &[usize], times: usize) {
    let demo = demo();
    let mut rows = Vec::new();
    let mut per_line = Vec::new();
    for lines in sizes {
        let book = generate::book(*lines);
        let made = mix::mix(&book);
        if lines == &sizes[0] {
            if let Some(demo) = &demo {
                mix::print(&mix::mix(demo), &made);
            }
            println!();
        }
        let texts = files(&book);
        let seconds = in_process(*lines, &texts, times, &mut rows);
        per_line.push((*lines, seconds / *lines as f64));
        whole_process(*lines, &book, times, &mut rows);
    }
    let lines = *sizes.last().unwrap_or(&10_000);
    kinds(lines, times, &mut rows);
    if let [.., (short, before), (long, after)] = per_line.as_slice() {
        rows.push(Row {
            what: format!("time a line, {} k against {} k", long / 1000, short / 1000),
            value: after / before,
            unit: "x",
            limit: Some(1.25),
        });
    }
    report(times, &mut rows);
    println!();
    print(&rows);
}

fn in_process(lines: usize, texts: &Files, times: usize, rows: &mut Vec<Row>) -> f64 {
    let bytes: usize = texts.iter().map(|(_, file)| file.text.len()).sum();
    let walked = median(times, || walk(texts));
    let parsed = middle((0..times).map(|_| once(|| syntax::parse(texts)).0).collect());
    let mut seconds = Vec::new();
    let mut derived = (0.0, 0);
    let mut lived = None;
    for time in 0..times {
        let given = Given::new(texts);
        let (took, compiled) = once(|| compile(&given));
        seconds.push(took);
        if time == 0 {
            let compiled = compiled.expect("a book");
            about(lines, bytes, &compiled);
            let (took, had) = once(|| derive::all(&compiled));
            derived =
                (middle((0..times).map(|_| once(|| derive::all(&compiled)).0).collect()).min(took), had);
            lived = Some(lives::measure(&compiled, times));
        }
    }
    let whole = middle(seconds);
    let all: Vec<Stages> = (0..times).map(|_| one_pass(texts).0).collect();
    let stage = |pick: fn(&Stages) -> f64| middle(all.iter().map(pick).collect());
    println!(
        "  line walk {walked:.4} s; parse {:.4}, book {:.4}, history {:.4}, costs {:.4}, checks {:.4} s; together {whole:.4} s",
        stage(|s| s.parse),
        stage(|s| s.book),
        stage(|s| s.history),
        stage(|s| s.costs),
        stage(|s| s.check)
    );
    let k = lines / 1000;
    rows.push(Row {
        what: format!("{k} k: parse, in line walks"),
        value: parsed / walked,
        unit: "x",
        limit: Some(40.0),
    });
    let plain = once(|| syntax::parse_by_grammar(texts)).0;
    rows.push(Row {
        what: format!("{k} k: parse by the grammar alone, in line walks"),
        value: plain / walked,
        unit: "x",
        limit: None,
    });
    // The two limits beside this one, multiplied: a faster parse must not make the check look slower.
    rows.push(Row {
        what: format!("{k} k: check, in line walks"),
        value: whole / walked,
        unit: "x",
        limit: Some(80.0),
    });
    rows.push(Row {
        what: format!("{k} k: check, in parses"),
        value: whole / parsed,
        unit: "x",
        limit: Some(2.0),
    });
    rows.push(Row {
        what: format!("{k} k: costs of every line, in parses"),
        value: stage(|s| s.costs) / parsed,
        unit: "x",
        limit: Some(1.0),
    });
    rows.push(Row {
        what: format!("{k} k: {} figures of all cars, in parses", derived.1),
        value: derived.0 / parsed,
        unit: "x",
        limit: Some(2.0),
    });
    rows.extend(lived.map(|lived| lives_row(lines, "", &lived, parsed)));
    whole
}

/// The whole of `lives` and of `due`, against parsing.
fn lives_row(lines: usize, what: &str, lived: &lives::Measured, parsed: f64) -> Row {
    println!("  {}", lived.words());
    Row {
        what: format!("{} k: lives and due{what}, in parses", lines / 1000),
        value: lived.seconds() / parsed,
        unit: "x",
        limit: Some(2.0),
    }
}

/// A book of thirty kinds: what its lives and what is due cost, and that nothing is refused without a reason.
fn kinds(lines: usize, times: usize, rows: &mut Vec<Row>) {
    let texts = files(&generate::book_of(lines, 30));
    let parsed = middle((0..times).map(|_| once(|| syntax::parse(&texts)).0).collect());
    let compiled = compile(&Given::new(&texts)).expect("a book");
    println!();
    about(lines, texts.iter().map(|(_, file)| file.text.len()).sum(), &compiled);
    rows.push(lives_row(lines, " of 30 kinds", &lives::measure(&compiled, times), parsed));
}

fn about(lines: usize, bytes: usize, compiled: &Compiled) {
    println!(
        "{lines} lines: {:.1} MB, {} entries, {} values, {} parts; {} errors, {} warnings, {} notes",
        bytes as f64 / 1e6,
        compiled.book.entries.len(),
        compiled.book.items.len(),
        compiled.book.parts.len(),
        compiled.count(Severity::Error),
        compiled.count(Severity::Warning),
        compiled.count(Severity::Note)
    );
}

fn whole_process(lines: usize, book: &[File], times: usize, rows: &mut Vec<Row>) {
    let k = lines / 1000;
    let folder = std::env::temp_dir().join(format!("stringline-bench-{}-{lines}", std::process::id()));
    let ledgers = folder.join("book");
    super::write(&ledgers, book);
    let binary = Path::new(env!("CARGO_BIN_EXE_stringline"));
    let path = ledgers.to_str().expect("a plain path");
    let arguments = ["check", path, "--format", "short"];
    let checked = middle((0..times).map(|_| child(binary, &arguments).0).collect());
    println!("  `check` as a process {checked:.4} s");
    let text: usize = book.iter().map(|(_, text)| text.len()).sum();
    if let Some(peak) = cost(binary, &arguments).map(|cost| cost.peak) {
        let megabytes = |bytes: u64| bytes as f64 / f64::from(1 << 20);
        rows.push(Row {
            what: format!("{k} k: peak memory of `check`"),
            value: megabytes(peak),
            unit: "MB",
            limit: Some(megabytes(8 * text as u64) + 32.0),
        });
    }
    let csv = folder.join("facts.csv");
    let compiled = compile(&Given::new(&files(book))).expect("a book");
    std::fs::write(&csv, facts::rows(&compiled)).expect("a file");
    rows.extend(report_rows(k, &pages::pages(&compiled, &ledgers, &folder.join("out"))));
    drop(compiled);
    let sqlite = Path::new("/usr/bin/sqlite3");
    if sqlite.exists() {
        let database = folder.join("facts.db");
        let mut seconds = Vec::new();
        for _ in 0..times {
            let _ = std::fs::remove_file(&database);
            let create = format!("create table entries({})", facts::COLUMNS);
            let import = format!(".import {} entries", csv.display());
            let (took, code) =
                child(sqlite, &[database.to_str().expect("a plain path"), &create, ".mode csv", &import]);
            if code == Some(0) {
                seconds.push(took);
            }
        }
        let imported = middle(seconds);
        println!("  sqlite3 imports the same facts in {imported:.4} s");
        rows.push(Row {
            what: format!("{k} k: check, in sqlite3 imports"),
            value: checked / imported,
            unit: "x",
            limit: Some(1.0),
        });
    }
    let _ = std::fs::remove_dir_all(&folder);
}

/// At least 300 pages a second on two cores, in at most 64 MB above what `check` takes.
fn report_rows(k: usize, pages: &pages::Pages) -> Vec<Row> {
    let row = |what: &str, value: f64, unit, limit: f64| Row {
        what: format!("{k} k: {what} ({} pages)", pages.count),
        value,
        unit,
        limit: Some(limit),
    };
    let mut rows = vec![row("report, wall a page", pages.wall, "ms", 1000.0 / 300.0)];
    rows.extend(pages.work.map(|work| row("report, work a page", work, "ms", 2.0 * 1000.0 / 300.0)));
    rows.extend(pages.memory.map(|memory| row("report, memory above check", memory, "MB", 64.0)));
    rows
}

const DEMO: &str = concat!(env!("CARGO_MANIFEST_DIR"), "/ledgers/2026");

/// The demo book's files, where it is there.
fn demo() -> Option<Vec<File>> {
    let mut files: Vec<File> = std::fs::read_dir(DEMO)
        .ok()?
        .filter_map(|entry| {
            let path = entry.ok()?.path();
            Some((path.display().to_string(), std::fs::read_to_string(path).ok()?))
        })
        .collect();
    files.sort();
    Some(files)
}

/// The reports of the demo book, once the command is there.
fn report(times: usize, rows: &mut Vec<Row>) {
    let binary = Path::new(env!("CARGO_BIN_EXE_stringline"));
    if demo().is_none() || child(binary, &["report", "--help"]).1 != Some(0) {
        return;
    }
    let out = std::env::temp_dir().join(format!("stringline-bench-report-{}", std::process::id()));
    let arguments = ["report", DEMO, "--out", out.to_str().expect("a plain path")];
    let seconds = middle((0..times).map(|_| child(binary, &arguments).0).collect());
    let _ = std::fs::remove_dir_all(&out);
    rows.push(Row {
        what: "reports of the demo book".to_owned(),
        value: seconds,
        unit: "s",
        limit: Some(1.0),
    });
}
