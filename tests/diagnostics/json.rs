//! The JSON document, read back with `serde_json`.

use super::{book, files};
use serde_json::{Value, json};
use stringline::diagnostics::{Diagnostic, Severity, json};
use stringline::source::{FileId, Span};

#[test]
fn every_field_is_there() {
    let (files, diagnostics) = book();
    let text = json::render(&diagnostics, &files);
    let read: Value = serde_json::from_str(&text).unwrap();
    assert_eq!((&read["errors"], &read["warnings"], &read["notes"]), (&json!(1), &json!(1), &json!(1)));
    assert_eq!(
        read["diagnostics"][0],
        json!({
            "check": "old-value-differs",
            "severity": "error",
            "message": "the front spring rate was 80 N/mm, not 75",
            "at": {
                "path": "2026/may.sline",
                "line": 3, "column": 25, "end_line": 3, "end_column": 27,
                "text": "75",
                "words": "says 75 N/mm",
            },
            "also": [{
                "path": "2026/april.sline",
                "line": 2, "column": 31, "end_line": 2, "end_column": 38,
                "text": "80 N/mm",
                "words": "was set to 80 N/mm here",
            }],
            "cure": "write `80 -> 85`, or `? -> 85` if nobody knows",
            "times": 1,
        })
    );
    assert_eq!(read["diagnostics"][1]["times"], 200);
    assert_eq!(read["diagnostics"][2]["at"], Value::Null);
    assert_eq!(read["diagnostics"][2]["cure"], Value::Null);
}

#[test]
fn keys_keep_their_order() {
    let files = files(&[("a.sline", "x\n")]);
    let one = Diagnostic::new("c", Severity::Note, Span::new(FileId(0), 0, 2), "m");
    let expected = r#"{
  "diagnostics": [
    {
      "check": "c",
      "severity": "note",
      "message": "m",
      "at": {
        "path": "a.sline",
        "line": 1,
        "column": 1,
        "end_line": 2,
        "end_column": 1,
        "text": "x\n",
        "words": ""
      },
      "also": [],
      "cure": null,
      "times": 1
    }
  ],
  "errors": 0,
  "warnings": 0,
  "notes": 1
}
"#;
    assert_eq!(json::render(&[one], &files), expected);
}

#[test]
fn an_empty_list_is_a_whole_document() {
    let read: Value = serde_json::from_str(&json::render(&[], &files(&[]))).unwrap();
    assert_eq!(read, json!({"diagnostics": [], "errors": 0, "warnings": 0, "notes": 0}));
}

#[test]
fn a_very_long_mark_is_cut() {
    let files = files(&[("a.sline", &"ü".repeat(100_000))]);
    let one = Diagnostic::new("c", Severity::Note, Span::new(FileId(0), 0, 200_000), "m");
    let read: Value = serde_json::from_str(&json::render(&[one], &files)).unwrap();
    let at = &read["diagnostics"][0]["at"];
    assert_eq!(at["text"].as_str().unwrap().chars().count(), 1000);
    assert_eq!(at["end_column"], 100_001);
}
