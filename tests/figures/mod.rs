//! Figures, from ledger lines through `trace --format json`, against published values.
//!
//! Each test names its source. Tolerances are what the published figure supports; 1e-9 relative against a closed form.
//! Every figure got here is also worked out again from its own trace ([`evaluate`]), and each of its input lines is taken
//! out in turn: the figure must then be missing.

mod air;
mod brakes;
mod engine;
mod evaluate;
mod fuel;
mod gearing;
mod sweep;
mod tyres;
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
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let path = folder.to_string_lossy().into_owned();
    let mut arguments = vec!["stringline", "trace", path.as_str()];
    arguments.extend(words);
    arguments.extend(["--format", "json"]);
    let mut output = Output { out: &mut out, err: &mut err, color: false, width: 100, now: Some(now()) };
    run(arguments.iter().map(std::ffi::OsString::from), &mut output);
    std::fs::remove_dir_all(&folder).unwrap();
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
        let kept: Vec<&str> = book
            .lines()
            .enumerate()
            .filter(|(index, _)| *index as u64 + 1 != line)
            .map(|(_, text)| text)
            .collect();
        let less = kept.join("\n");
        let (without, _) = trace(&less, words);
        assert!(
            !without["value_si"].is_number(),
            "{words:?}: without line {line} it is still {}",
            without["value_si"]
        );
    }
    value
}

/// |a - b| within `tolerance` of b, absolute.
pub fn close(value: &Value, key: &str, expected: f64, tolerance: f64) {
    let got = value[key].as_f64().unwrap_or_else(|| panic!("no {key} in {value}"));
    assert!((got - expected).abs() <= tolerance, "{key} {got}, expected {expected} ± {tolerance}");
}
