//! No file uses one that, by whatever way, uses it: whoever reads a file need not read what reads it.
//!
//! A file uses another where it names something that the other defines. Declaring a module and handing a name on (`pub use`) use
//! nothing, so a folder's first file may stand above its files or below them, but not both.

use super::source::Crate;
use crate::source_text::rust;
use std::collections::{BTreeMap, BTreeSet};

/// The circles there are, each with its reason.
const LISTED: [(&[&str], &str); 3] = [
    (
        &["audience/scope.rs", "audience/sums.rs"],
        "what a reader owns decides which sums are his, and whose the sums are decides which lines he may read",
    ),
    (
        &[
            "check/list.rs",
            "check/mod.rs",
            "check/waive.rs",
            "check/waive/unknown.rs",
            "check/waive/unused.rs",
        ],
        "a waiver is looked up in the list of all checks, and what is wrong with a waiver is said by checks of that list",
    ),
    (
        &["units/number.rs", "units/ruler.rs", "units/trouble.rs"],
        "a number that cannot be one tells the numbers it may have been meant as, and a fraction is one form of a number",
    ),
];

/// Every circle: files of which each uses each other, by whatever way.
fn circles(uses: &BTreeMap<&str, BTreeSet<&str>>) -> BTreeSet<Vec<String>> {
    let reached = |from: &str| {
        let (mut seen, mut todo) = (BTreeSet::new(), vec![from.to_owned()]);
        while let Some(one) = todo.pop() {
            for other in uses.get(one.as_str()).into_iter().flatten() {
                if seen.insert((*other).to_owned()) {
                    todo.push((*other).to_owned());
                }
            }
        }
        seen
    };
    let all: BTreeMap<&str, BTreeSet<String>> = uses.keys().map(|file| (*file, reached(file))).collect();
    let mut found = BTreeSet::new();
    for (file, below) in &all {
        let circle: Vec<String> = below
            .iter()
            .filter(|other| all.get(other.as_str()).is_some_and(|back| back.contains(*file)))
            .cloned()
            .collect();
        if circle.len() > 1 {
            found.insert(circle);
        }
    }
    found
}

fn of(files: &[(&str, &str)]) -> Vec<Vec<String>> {
    circles(&Crate::of(files.iter().copied()).uses()).into_iter().collect()
}

#[test]
fn no_files_use_one_another_in_a_circle_that_is_not_listed() {
    let texts = rust("src");
    let below = texts.iter().filter_map(|(path, text)| Some((path.strip_prefix("src/")?, text.as_str())));
    let ours = Crate::of(below.filter(|(path, _)| *path != "main.rs"));
    let uses = ours.uses();
    let edges: usize = uses.values().map(BTreeSet::len).sum();
    assert!(
        uses.len() > 400 && edges > 2000,
        "{} files, {edges} uses: is the source still read?",
        uses.len()
    );
    let listed: BTreeSet<Vec<String>> =
        LISTED.iter().map(|(files, _)| files.iter().map(|file| (*file).to_owned()).collect()).collect();
    let found = circles(&uses);
    let named = |circle: &Vec<String>| {
        let of = |file: &String| {
            let inside: Vec<&str> = uses[file.as_str()]
                .iter()
                .copied()
                .filter(|other| circle.iter().any(|one| one == other))
                .collect();
            format!("  {file} uses {}", inside.join(", "))
        };
        circle.iter().map(of).collect::<Vec<_>>().join("\n")
    };
    let new: Vec<String> = found.difference(&listed).map(named).collect();
    assert!(new.is_empty(), "a circle of files:\n{}", new.join("\n\n"));
    let gone: Vec<_> = listed.difference(&found).collect();
    assert!(gone.is_empty(), "no longer a circle, so no longer to be listed: {gone:#?}");
}

#[test]
fn two_files_that_use_each_other_are_a_circle() {
    let one = ("a/one.rs", "use super::two::Two;\npub struct One(Two);\n");
    let two = ("a/two.rs", "pub struct Two;\npub fn of() -> Option<crate::a::one::One> { None }\n");
    let top = ("a/mod.rs", "pub mod one;\npub mod two;\n");
    let circle = vec![vec!["a/one.rs".to_owned(), "a/two.rs".to_owned()]];
    assert_eq!(of(&[one, two, top]), circle);
    // By a name that a third file hands on, by one brought in with all others, in a macro, and by a module's name.
    let handing = ("a/mod.rs", "mod one;\nmod two;\npub use one::One;\npub use two::Two;\n");
    for one in [
        "use super::Two;\npub struct One(Two);\n",
        "use super::two::*;\npub struct One(Two);\n",
        "use super::two;\npub struct One;\nfn say() { println!(\"{}\", two::of()) }\n",
        "pub struct One;\nconst X: usize = size_of::<crate::a::Two>();\n",
    ] {
        assert_eq!(of(&[("a/one.rs", one), two, handing]), circle, "{one}");
    }
}

#[test]
fn longer_ways_are_found_and_a_parent_with_its_child() {
    let files = [
        ("a.rs", "use crate::b::B;\npub struct A(B);\n"),
        ("b.rs", "use crate::c::{self, C};\npub struct B(C);\n"),
        ("c.rs", "pub struct C;\nfn made() { crate::a::A; }\n"),
    ];
    assert_eq!(of(&files), [["a.rs", "b.rs", "c.rs"].map(str::to_owned)]);
    let parent = ("a/mod.rs", "mod child;\npub struct Both;\npub fn run() { child::run(); }\n");
    let child = ("a/child.rs", "use super::Both;\npub fn run() -> Both { Both }\n");
    assert_eq!(of(&[parent, child]), [["a/child.rs", "a/mod.rs"].map(str::to_owned)]);
}

#[test]
fn what_is_no_use_makes_no_circle() {
    // Declared, handed on, in a comment or a text, behind a point, or of the same name and another place.
    let parent = ("a/mod.rs", "mod child;\npub use child::run;\npub struct Both;\n");
    let child = ("a/child.rs", "use super::Both;\npub fn run() -> Both { Both }\n");
    assert_eq!(of(&[parent, child]), Vec::<Vec<String>>::new());
    let one = ("one.rs", "use crate::two::Two;\npub struct One;\nfn x(of: Two) { of.one() }\n");
    let two = (
        "two.rs",
        "// crate::one::One\n/// [`crate::one::One`]\npub struct Two;\nconst X: &str = \"crate::one::One\";\n",
    );
    assert_eq!(of(&[one, two]), Vec::<Vec<String>>::new());
}
