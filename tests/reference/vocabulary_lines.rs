//! `grammar/vocabulary.sline`, line by line, read with a small reader of its own: this must hold whatever the
//! loader of `src/vocabulary/` makes of the file.

use super::grammar;
use std::collections::BTreeSet;

/// One `quantity` line, its parts as typed.
pub struct Line {
    pub name: String,
    pub dimension: String,
    pub places: Vec<String>,
    /// Unit spellings: those of `show` and of the two ranges.
    pub units: Vec<String>,
    pub usual: Option<(f64, f64)>,
    pub possible: Option<(f64, f64)>,
    pub disturbed_by: Vec<String>,
    pub text: String,
}

/// The words that open a property, after the places.
const PROPERTIES: [&str; 13] = [
    "of",
    "area",
    "show",
    "usual",
    "possible",
    "disturbed-by",
    "needs",
    "pair",
    "triple",
    "supply",
    "counter",
    "relative",
    "rear-axle",
];

/// Every `quantity` line of the vocabulary.
pub fn lines() -> Vec<Line> {
    grammar("vocabulary.sline").lines().filter(|line| line.starts_with("quantity ")).map(read).collect()
}

fn read(line: &str) -> Line {
    let (head, text) = line.split_once('"').unwrap_or_else(|| panic!("no sentence: {line}"));
    let text = text.strip_suffix('"').unwrap_or_else(|| panic!("the sentence does not end the line: {line}"));
    let mut words = head.split_whitespace().skip(1).peekable();
    let mut next = || words.next().unwrap_or_default().to_owned();
    let mut out = Line {
        name: next(),
        dimension: next(),
        places: Vec::new(),
        units: Vec::new(),
        usual: None,
        possible: None,
        disturbed_by: Vec::new(),
        text: text.to_owned(),
    };
    let mut property = String::new();
    for word in words {
        if PROPERTIES.contains(&word) {
            word.clone_into(&mut property);
            continue;
        }
        let bare = word.trim_end_matches(',').to_owned();
        match property.as_str() {
            "" => out.places.push(bare),
            "show" => out.units.push(bare),
            "usual" | "possible" => match word.split_once("..") {
                Some((low, high)) => {
                    let range = Some((number(low, line), number(high, line)));
                    if property == "usual" { out.usual = range } else { out.possible = range }
                }
                None => out.units.push(bare),
            },
            "disturbed-by" => out.disturbed_by.push(bare),
            "of" => assert_eq!(bare, "part", "{line}"),
            "area" | "needs" => {}
            other => panic!("`{bare}` after `{other}`: {line}"),
        }
    }
    out
}

fn number(text: &str, line: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("`{text}` is no number: {line}"))
}

#[test]
fn no_name_stands_twice() {
    let mut seen = BTreeSet::new();
    for line in lines() {
        assert!(seen.insert(line.name.clone()), "{} stands twice", line.name);
    }
}

#[test]
fn places_are_the_five_words() {
    for line in lines() {
        assert!(!line.places.is_empty(), "{}", line.name);
        for place in &line.places {
            assert!(
                ["corner", "axle", "car", "cylinder", "gear"].contains(&place.as_str()),
                "{}: {place}",
                line.name
            );
        }
    }
}

#[test]
fn what_disturbs_is_a_quantity_or_a_hit() {
    let lines = lines();
    for line in &lines {
        for cause in &line.disturbed_by {
            assert!(
                cause == "hit" || lines.iter().any(|other| other.name == *cause),
                "{}: {cause}",
                line.name
            );
            assert_ne!(cause, &line.name, "nothing disturbs itself");
        }
    }
}

#[test]
fn the_usual_lies_within_the_possible() {
    for line in lines() {
        let name = &line.name;
        for (low, high) in [line.usual, line.possible].into_iter().flatten() {
            assert!(low < high, "{name}");
        }
        if let (Some(usual), Some(possible)) = (line.usual, line.possible) {
            assert!(possible.0 <= usual.0 && usual.1 <= possible.1, "{name}");
        }
    }
}

#[test]
fn a_sentence_says_what_it_is() {
    for line in lines() {
        assert!(line.text.split_whitespace().count() >= 3, "{}: {:?}", line.name, line.text);
    }
}
