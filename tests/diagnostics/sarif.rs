//! The SARIF document, read back with serde-sarif 0.8.0, whose types are made from the standard's own schema.

use super::{book, files, find};
use serde_sarif::sarif::Sarif;
use stringline::diagnostics::{Diagnostic, Severity, sarif};

fn describe(check: &str) -> Option<String> {
    (check == "unknown-gauge").then(|| "A gauge that no line declares.".to_owned())
}

fn read(diagnostics: &[Diagnostic], files: &stringline::source::Files) -> serde_sarif::sarif::Run {
    let log: Sarif = serde_json::from_str(&sarif::render(diagnostics, files, &describe)).unwrap();
    assert_eq!(serde_json::to_value(&log.version).unwrap(), "2.1.0");
    log.runs.into_iter().next().unwrap()
}

#[test]
fn the_tool_and_its_rules() {
    let (files, diagnostics) = book();
    let driver = read(&diagnostics, &files).tool.driver;
    assert_eq!(driver.name, "stringline");
    assert_eq!(driver.version.as_deref(), Some(env!("CARGO_PKG_VERSION")));
    let rules: Vec<_> = driver
        .rules
        .unwrap()
        .into_iter()
        .map(|rule| (rule.id, rule.short_description.map(|words| words.text)))
        .collect();
    let described = Some("A gauge that no line declares.".to_owned());
    assert_eq!(
        rules,
        [
            ("no-shop-line".to_owned(), None),
            ("old-value-differs".to_owned(), None),
            ("unknown-gauge".to_owned(), described),
        ]
    );
}

#[test]
fn results_levels_and_places() {
    let (files, diagnostics) = book();
    let run = read(&diagnostics, &files);
    assert_eq!(serde_json::to_value(&run.column_kind).unwrap(), "unicodeCodePoints");
    let results = run.results.unwrap();
    let levels: Vec<_> = results.iter().map(|one| serde_json::to_value(one.level).unwrap()).collect();
    assert_eq!(levels, ["error", "warning", "note"]);
    assert_eq!(results.iter().map(|one| one.rule_index).collect::<Vec<_>>(), [Some(1), Some(2), Some(0)]);

    let first = &results[0];
    assert_eq!(first.rule_id.as_deref(), Some("old-value-differs"));
    assert_eq!(
        first.message.text.as_deref(),
        Some("the front spring rate was 80 N/mm, not 75 (write `80 -> 85`, or `? -> 85` if nobody knows)")
    );
    let spot = |location: &serde_sarif::sarif::Location| {
        let place = location.physical_location.clone().unwrap();
        let region = place.region.unwrap();
        (
            place.artifact_location.unwrap().uri.unwrap(),
            [region.start_line, region.start_column, region.end_line, region.end_column].map(Option::unwrap),
        )
    };
    let locations = first.locations.as_ref().unwrap();
    assert_eq!(
        locations.iter().map(spot).collect::<Vec<_>>(),
        [("2026/may.sline".to_owned(), [3, 25, 3, 27])]
    );
    let related = first.related_locations.as_ref().unwrap();
    assert_eq!(
        related.iter().map(spot).collect::<Vec<_>>(),
        [("2026/april.sline".to_owned(), [2, 31, 2, 38])]
    );
    let words = related[0].message.as_ref().unwrap().text.as_deref();
    assert_eq!(words, Some("was set to 80 N/mm here"));

    assert_eq!(results[1].occurrence_count, Some(200));
    assert!(results[2].locations.as_ref().unwrap().is_empty());
}

#[test]
fn paths_are_percent_encoded() {
    // RFC 3986: a colon in the first part would read as a scheme; the bytes of `ü` in UTF-8 are C3 BC.
    let files = files(&[("c: für/50%#?.sline", "x")]);
    let run = read(&[Diagnostic::new("c", Severity::Note, find(&files, 0, "x"), "m")], &files);
    let results = run.results.unwrap();
    let location = &results[0].locations.as_ref().unwrap()[0];
    let artifact = location.physical_location.as_ref().unwrap().artifact_location.as_ref().unwrap();
    assert_eq!(artifact.uri.as_deref(), Some("c%3A%20f%C3%BCr/50%25%23%3F.sline"));
}

#[test]
fn an_empty_run_is_a_whole_document() {
    let run = read(&[], &files(&[]));
    assert!(run.results.unwrap().is_empty() && run.tool.driver.rules.unwrap().is_empty());
}
