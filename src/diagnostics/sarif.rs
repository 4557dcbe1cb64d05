//! The messages as SARIF 2.1.0 (OASIS standard, 27 March 2020), for code-review and build machinery.
//!
//! Must not know any particular check: what a check is about is asked of the caller. Section numbers
//! below are the standard's.

use super::{Diagnostic, Mark, Severity, one_line};
use crate::source::{Files, Places};
use serde::Serialize;
use std::collections::BTreeMap;

const SCHEMA: &str =
    "https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/os/schemas/sarif-schema-2.1.0.json";

/// 3.13, the whole document.
#[derive(Debug, Serialize)]
struct Log<'a> {
    #[serde(rename = "$schema")]
    schema: &'static str,
    version: &'static str,
    runs: [Run<'a>; 1],
}

/// 3.14, one run of the tool.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Run<'a> {
    tool: Tool<'a>,
    /// 3.14.17: our columns count characters, not UTF-16 units.
    column_kind: &'static str,
    results: Vec<Entry<'a>>,
}

/// 3.18.
#[derive(Debug, Serialize)]
struct Tool<'a> {
    driver: Driver<'a>,
}

/// 3.19.
#[derive(Debug, Serialize)]
struct Driver<'a> {
    name: &'static str,
    version: &'static str,
    /// The checks that spoke, by name.
    rules: Vec<Rule<'a>>,
}

/// 3.49, one check.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Rule<'a> {
    id: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    short_description: Option<Text>,
}

/// 3.11, plain text.
#[derive(Debug, Serialize)]
struct Text {
    text: String,
}

/// 3.27, one message.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Entry<'a> {
    rule_id: &'a str,
    rule_index: usize,
    level: Severity,
    message: Text,
    locations: Vec<Location>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    related_locations: Vec<Location>,
    /// 3.27.6: how many times the same mistake stands in the book.
    occurrence_count: u32,
}

/// 3.28, one place.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Location {
    physical_location: Physical,
    #[serde(skip_serializing_if = "Option::is_none")]
    message: Option<Text>,
}

/// 3.29.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Physical {
    artifact_location: Artifact,
    region: Region,
}

/// 3.4.
#[derive(Debug, Serialize)]
struct Artifact {
    uri: String,
}

/// 3.30; the end column is the one past the last character.
#[derive(Debug, Serialize)]
#[serde(rename_all = "camelCase")]
struct Region {
    start_line: u32,
    start_column: u32,
    end_line: u32,
    end_column: u32,
}

/// The messages as one SARIF document; `describe` gives the one-sentence description of a check by its name.
#[must_use]
pub fn render(
    diagnostics: &[Diagnostic],
    files: &Files,
    describe: &dyn Fn(&str) -> Option<String>,
) -> String {
    let places = Places::new(files);
    let mut index: BTreeMap<&str, usize> = diagnostics.iter().map(|one| (one.check, 0)).collect();
    index.values_mut().enumerate().for_each(|(at, slot)| *slot = at);
    let rule = |id: &&'static str| Rule { id, short_description: describe(id).map(|text| Text { text }) };
    let entry = |one| Entry::new(one, &places, &index);
    crate::visible::json(&Log {
        schema: SCHEMA,
        version: "2.1.0",
        runs: [Run {
            tool: Tool {
                driver: Driver {
                    name: "stringline",
                    version: env!("CARGO_PKG_VERSION"),
                    rules: index.keys().map(rule).collect(),
                },
            },
            column_kind: "unicodeCodePoints",
            results: diagnostics.iter().map(entry).collect(),
        }],
    })
}

impl<'a> Entry<'a> {
    fn new(one: &'a Diagnostic, places: &Places<'_>, index: &BTreeMap<&str, usize>) -> Self {
        let mut text = one_line(&one.message);
        if let Some(cure) = &one.cure {
            text = format!("{text} ({})", one_line(cure));
        }
        Self {
            rule_id: one.check,
            rule_index: index.get(one.check).copied().unwrap_or_default(),
            level: one.severity,
            message: Text { text },
            locations: one.at.iter().filter_map(|mark| Location::new(mark, places)).collect(),
            related_locations: one.also.iter().filter_map(|mark| Location::new(mark, places)).collect(),
            occurrence_count: one.times.max(1),
        }
    }
}

impl Location {
    /// `None` for a mark in no file of the book.
    fn new(mark: &Mark, places: &Places<'_>) -> Option<Self> {
        let place = places.place(mark.span)?;
        Some(Self {
            physical_location: Physical {
                artifact_location: Artifact { uri: uri(places.path_bytes(mark.span.file)) },
                region: Region {
                    start_line: place.line,
                    start_column: place.column,
                    end_line: place.end_line,
                    end_column: place.end_column,
                },
            },
            message: (!mark.words.is_empty()).then(|| Text { text: one_line(&mark.words) }),
        })
    }
}

/// A path as a relative URI reference (RFC 3986): every byte but the unreserved ones and `/` is percent-encoded,
/// the colon too, which would read as a scheme.
fn uri(path: &[u8]) -> String {
    let mut out = String::with_capacity(path.len());
    for &byte in path {
        if byte.is_ascii_alphanumeric() || b"-._~/".contains(&byte) {
            out.push(char::from(byte));
        } else {
            out.push('%');
            for half in [byte >> 4, byte & 15] {
                out.extend(char::from_digit(u32::from(half), 16).map(|digit| digit.to_ascii_uppercase()));
            }
        }
    }
    out
}
