//! Figures, from ledger lines through `trace --format json`, against published values.
//!
//! Each test names its source. Tolerances are what the published figure supports; 1e-9 relative against a closed form.
//! Every figure got here is also worked out again from its own trace ([`evaluate`]), and each of its input lines is taken
//! out in turn: the figure must then be missing.

mod account;
mod adjusted;
mod air;
mod alignment;
mod bench;
mod bench_life;
mod bench_shape;
mod brakes;
mod cg;
mod declared;
mod engine;
mod evaluate;
mod finder;
mod fuel;
mod gearing;
mod invariance;
mod kinds;
mod limits;
mod own;
mod own_session;
mod perch;
mod powers;
mod readings;
mod roll;
mod shared;
mod springs;
mod stood;
mod supposing;
mod sweep;
mod trade;
mod tyres;
mod uncertainty;
mod weights;

use crate::checks::now;
use serde_json::Value;
use stringline::command::{output::Output, run};

/// Runs `trace --format json` on a book of this text; the JSON and the exit code.
pub fn trace(book: &str, words: &[&str]) -> (Value, String) {
    static COUNT: std::sync::atomic::AtomicU32 = std::sync::atomic::AtomicU32::new(0);
    let count = COUNT.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
    let folder = std::env::temp_dir().join(format!("stringline-trace-{}-{count}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    std::fs::write(folder.join("book.sline"), book).unwrap();
    let got = run_trace(&folder.to_string_lossy(), words);
    std::fs::remove_dir_all(&folder).unwrap();
    got
}

/// Runs `trace --format json` on a folder.
fn run_trace(path: &str, words: &[&str]) -> (Value, String) {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let mut arguments = vec!["stringline", "trace", path];
    arguments.extend(words);
    arguments.extend(["--format", "json"]);
    let mut output = Output {
        out: &mut out,
        err: &mut err,
        color: false,
        terminal: false,
        quiet: false,
        width: 100,
        now: Some(now()),
    };
    run(arguments.iter().map(std::ffi::OsString::from), &mut output);
    let value = serde_json::from_slice(&out).unwrap_or(Value::Null);
    (value, String::from_utf8(err).unwrap())
}

/// A figure's value in the unit asked for, after the checks every figure must stand: it is evaluated again from its own trace,
/// and it goes missing when an input line goes.
pub fn figure(book: &str, words: &[&str]) -> Value {
    let (value, err) = trace(book, words);
    assert!(value["value_si"].is_number(), "{words:?}: {value} {err}");
    evaluate::again(&value);
    for line in evaluate::lines(&value) {
        let less = without_line(book, line);
        let (without, _) = trace(&less, words);
        assert!(
            !without["value_si"].is_number(),
            "{words:?}: without line {line} it is still {}",
            without["value_si"]
        );
    }
    value
}

/// The book without its line of that number.
fn without_line(book: &str, line: u64) -> String {
    let mut less = String::new();
    for (_, text) in book.lines().enumerate().filter(|(index, _)| *index as u64 + 1 != line) {
        less.push_str(text);
        less.push('\n');
    }
    less
}

/// As [`figure`], for figures that a line less leaves poorer, not missing (a mean of repeats, a bar beside the springs):
/// taken out, each input line must change the value, its uncertainty or how much is under it.
pub fn changes(book: &str, words: &[&str]) -> Value {
    let (value, err) = trace(book, words);
    assert!(value["value_si"].is_number(), "{words:?}: {value} {err}");
    evaluate::again(&value);
    let lines = evaluate::lines(&value);
    for line in &lines {
        let less = without_line(book, *line);
        let (without, _) = trace(&less, words);
        let same = without["value_si"] == value["value_si"]
            && without["u_si"] == value["u_si"]
            && evaluate::lines(&without).len() >= lines.len();
        assert!(!same, "{words:?}: line {line} makes no difference");
    }
    value
}

/// A figure of the demo book, evaluated again from its own trace.
pub fn demo(words: &[&str]) -> Value {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("ledgers/2026");
    let value = run_trace(&root.to_string_lossy(), words).0;
    assert!(value["value_si"].is_number(), "{words:?}: {value}");
    evaluate::again(&value);
    value
}

/// What is missing for a figure, in one string; panics when it can be had.
pub fn missing(book: &str, words: &[&str]) -> String {
    let (value, err) = trace(book, words);
    let list = value["missing"].as_array().unwrap_or_else(|| panic!("{words:?}: {value} {err}"));
    list.iter().map(|one| one.as_str().unwrap()).collect::<Vec<_>>().join("; ")
}

/// |a - b| within `tolerance` of b, absolute.
pub fn close(value: &Value, key: &str, expected: f64, tolerance: f64) {
    let got = value[key].as_f64().unwrap_or_else(|| panic!("no {key} in {value}"));
    assert!((got - expected).abs() <= tolerance, "{key} {got}, expected {expected} ± {tolerance}");
}
