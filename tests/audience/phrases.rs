//! Names in free text: what is found, what only looks like it.

use proptest::prelude::*;
use stringline::book::phrases::Phrases;
use stringline::book::telling::telling;

fn phrases(names: &[&str]) -> Phrases {
    let mut all = Phrases::default();
    for name in names {
        all.add(name, 0, |_| false);
    }
    all
}

fn found<'a>(names: &[&str], text: &'a str) -> Vec<&'a str> {
    phrases(names).find(text).into_iter().map(|one| &text[one.at]).collect()
}

#[test]
fn plural_and_possessive() {
    for text in [
        "Smith",
        "smith",
        "SMITH",
        "Smiths",
        "Smith's",
        "Smith\u{2019}s",
        "Smiths'",
        "Smiths\u{2019}",
        "(Smith)",
    ] {
        assert_eq!(found(&["smith"], text).len(), 1, "{text}");
    }
    assert_eq!(found(&["party"], "the Parties of"), ["Parties"]);
    assert_eq!(found(&["jones"], "the Joneses'"), ["Joneses"]);
    assert_eq!(found(&["orrs"], "Orr's car"), ["Orr's"]);
    assert_eq!(found(&["wolf"], "the Wolves"), ["Wolves"]);
}

#[test]
fn only_whole_words() {
    for text in ["blacksmith", "smithy", "smithson", "Smith2", "s mith", "smi-th"] {
        assert_eq!(found(&["smith"], text), [""; 0], "{text}");
    }
}

/// Composed, decomposed, left out, in full width, with marks that are not seen, over Markdown's marks.
#[test]
fn however_it_is_written() {
    for text in [
        "M\u{fc}ller",
        "Mu\u{308}ller",
        "MULLER",
        "\u{ff2d}\u{fc}ller",
        "M\u{fc}l\u{ad}ler",
        "M\u{fc}l\u{200b}ler",
        "**M\u{fc}l**ler",
    ] {
        assert_eq!(found(&["m\u{fc}ller"], text).len(), 1, "{text}");
        assert_eq!(found(&["mu\u{308}ller"], text).len(), 1, "{text}");
    }
    assert_eq!(found(&["o'brien"], "OBrien, O\u{2019}Brien's").len(), 2);
    assert_eq!(found(&["stra\u{df}er"], "STRASSER").len(), 1);
}

#[test]
fn names_of_several_words() {
    assert_eq!(found(&["t-okafor-lind"], "T. Okafor-Lind's"), ["T. Okafor-Lind's"]);
    assert_eq!(found(&["The Varga syndicate"], "of the  Varga\tsyndicate,"), ["the  Varga\tsyndicate"]);
    assert_eq!(
        found(&["cp-1", "cp-1-2", "cp-12"], "cp-12, cp 1, cp-1-2"),
        ["cp-12", "cp 1", "cp-1", "cp-1-2"]
    );
    assert_eq!(found(&["ned larkin"], "ned\nlarkin"), [""; 0], "not over a line's end");
}

#[test]
fn what_tells_who_it_is() {
    assert_eq!(telling("The Orr family"), ["the", "orr"]);
    assert_eq!(telling("T. Okafor-Lind"), ["okafor", "lind"]);
    assert_eq!(telling("the voles"), ["the", "voles"]);
    assert_eq!(telling("P. van der Meer"), ["meer"]);
}

proptest! {
    /// A name is found wherever it stands as a word of its own, and every place found holds whole characters.
    #[test]
    fn a_name_is_found_in_any_company(before in "\\PC{0,20}", after in "\\PC{0,20}") {
        let text = format!("{before} Quorl's {after}");
        let places = phrases(&["quorl"]).find(&text);
        prop_assert!(places.iter().any(|one| one.at.start <= before.len() + 1 && one.at.end > before.len() + 1));
        for one in places {
            prop_assert!(text.get(one.at).is_some());
        }
    }

    #[test]
    fn any_text_is_read(text in "\\PC{0,40}", name in "\\PC{0,12}") {
        for one in phrases(&[&name]).find(&text) {
            prop_assert!(text.get(one.at).is_some());
        }
    }
}
