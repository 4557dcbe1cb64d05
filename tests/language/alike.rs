//! Names as people type them on two machines: accents composed or not, letters of another alphabet.

use proptest::prelude::*;
use stringline::book::alike::skeleton;
use stringline::book::names::{folded, is_name, same};
use stringline::source::Memory;
use stringline::{Compiled, compile};
use unicode_normalization::UnicodeNormalization as _;
use unicode_security::confusable_detection;

fn book(text: &str) -> Compiled {
    compile(&Memory::new(&[("a.sline", text)], "2026-12-01T12:00:00Z".parse().unwrap())).unwrap()
}

/// The short cut for ASCII holds to the table of Unicode Technical Standard 39.
#[test]
fn the_skeleton_of_ascii_is_the_standards() {
    for c in (b'!'..=b'~').map(char::from).filter(|c| is_name(&c.to_string())) {
        let text = c.to_string();
        let standard: String = confusable_detection::skeleton(&text.to_lowercase()).collect();
        assert_eq!(skeleton(&text), standard.to_lowercase(), "{c}");
    }
}

/// A book of every sort of name; `{n}` is a suffix that stands in each.
const EVERY_SORT: &str = "\
shop \"S\"  currency EUR  zone Europe/Dublin
person p{n} \"P\"
client c{n} \"C\"
circuit t{n} \"T\"
event e{n} 2026-05-01..02 at t{n} \"E\"
gauge g{n} \"G\"
kind k{n} \"K\"
  fits car
spec s{n} of k{n} \"S\"
car a{n} \"A\" client c{n} class L{n}
part x{n} k{n}  spec s{n}
quantity q{n} length car
baseline b{n} a{n} e{n} \"B\"
rule r{n} class L{n}  q{n} max 90 mm

2026-05-01 a{n} at e{n} by p{n}
  job j{n} \"J\"
  fit x{n} by p{n}
  set q{n} 80 mm with g{n}
  run z{n} 20 min
  read q{n} 80 mm after z{n} with g{n} on j{n}
2026-05-02 a{n} at e{n} by p{n}
  remove x{n}
  done j{n}
";

/// A book that writes its names by turns as `first` (where declared) and `then` (where used), and as `first` throughout.
fn by_turns(first: &str, then: &str) -> [Compiled; 2] {
    let (declared, used) = EVERY_SORT.split_once("\n\n").unwrap();
    let mixed = format!("{}\n\n{}", declared.replace("{n}", first), used.replace("{n}", then));
    [mixed, EVERY_SORT.replace("{n}", first)].map(|text| book(&text))
}

/// What a book says without where: another spelling moves columns.
fn said(compiled: &Compiled) -> Vec<(&str, String)> {
    compiled.diagnostics.iter().map(|one| (one.check, one.message.nfc().collect())).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    /// Whichever way accents are typed, it is the same name, of every sort: declared one way and used the other.
    #[test]
    fn a_name_is_the_same_however_its_accents_are_typed(
        name in "[éñüößçŵṩởÅøāżģąị가각나한ऩड़やバ]{1,6}", upper in any::<bool>(),
    ) {
        let name = if upper { name.to_uppercase() } else { name };
        let (composed, taken_apart): (String, String) = (name.nfc().collect(), name.nfd().collect());
        for (first, then) in [(&composed, &taken_apart), (&taken_apart, &composed)] {
            let [mixed, one] = by_turns(first, then);
            prop_assert_eq!(said(&mixed), said(&one));
            prop_assert!(said(&mixed).iter().all(|(check, _)| !check.starts_with("name-") && !check.contains("unknown")),
                "{:?}", said(&mixed));
            prop_assert_eq!(&mixed.book.cars.as_slice()[0].named.name, &one.book.cars.as_slice()[0].named.name);
            prop_assert_eq!(mixed.book.entries.len(), one.book.entries.len());
        }
    }

    /// What two words are compared by does not depend on how they are typed.
    #[test]
    fn folding_does_not_see_the_spelling(text in "\\PC{0,12}") {
        let (composed, taken_apart): (String, String) = (text.nfc().collect(), text.nfd().collect());
        prop_assert_eq!(folded(&composed), folded(&taken_apart));
        prop_assert!(same(&composed, &taken_apart));
        prop_assert_eq!(folded(&folded(&text)), folded(&text));
        prop_assert_eq!(skeleton(&composed), skeleton(&taken_apart));
    }
}

/// A name that only looks like one is refused with the letter that is another.
#[test]
fn a_look_alike_in_use_is_told_apart() {
    let compiled = book("car teal \"Teal\"\n\n2026-05-01 t\u{435}al\n  note \"n\"\n");
    let one = compiled.diagnostics.iter().find(|one| one.check == "name-unknown").unwrap();
    let cure = one.cure.as_deref().unwrap();
    assert_eq!(cure, "`teal` only looks like it (its `\u{435}` is U+0435, not U+0065)");
    let compiled = book("kind k \"K\"\npart p\u{430}d k\ncar a \"A\"\n\n2026-05-01 a\n  remove pad\n");
    assert!(
        compiled
            .diagnostics
            .iter()
            .any(|one| one.check == "serial-unknown" && one.message.contains("looks like"))
    );
}
