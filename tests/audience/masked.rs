//! What is masked for a reader and what stays; which paths he is told.

use stringline::audience::{Reader, cut, purchase};
use stringline::book::model::CarId;
use stringline::book::names::Thing;
use stringline::source::covered::signed;
use stringline::source::{FileId, Memory};
use stringline::{Compiled, compile, visible};

const DECLARED: &str = "\
shop \"Hollin Lane Works\"  currency EUR
client orr \"The Orr family\"
client smith \"The Quill syndicate\"
client house \"The Larkins\"
client hollin \"The shop's own\"  unbilled
person ned \"Ned Tarrow\"
person ott \"Ott Vessel\"
person ada \"Ada Brook\"
car heron \"Heron\"  client orr
car kite \"Kite\"  client orr
car wren \"Wren, the other\"  client smith
kind coupling  fits LR RR
part cp-1 coupling
";

fn book(files: &[(&str, &str)]) -> Compiled {
    let mut all = vec![("all/declared.sline", DECLARED)];
    all.extend(files);
    all.sort_unstable();
    compile(&Memory::new(&all, crate::checks::now())).unwrap()
}

fn read(book: &Compiled, client: &str) -> Compiled {
    let Some(Thing::Client(client)) = book.book.names.find(client) else { panic!("no {client}") };
    cut(book, &Reader::Client(client))
}

/// The lines of the reader's copy that are not blank.
fn lines(files: &[(&str, &str)], client: &str) -> Vec<String> {
    let his = read(&book(files), client);
    let text: String = his.files.iter().map(|(_, file)| signed(&file.text)).collect();
    text.lines().map(str::trim).filter(|line| !line.is_empty()).map(str::to_owned).collect()
}

/// What becomes of the words of a driver's remark on his own car.
fn said(words: &str) -> String {
    let head = "2025-05-01 by ned\n  | swept\n2025-05-03 wren\n  09:00..09:20 run s1  by ott\n2025-05-04 heron by ada\n";
    let text = format!("{head}  think \"{words}\"\n");
    let last = lines(&[("a.sline", &text)], "orr").pop().unwrap();
    last.strip_prefix("think \"").and_then(|rest| rest.strip_suffix('"')).unwrap().to_owned()
}

#[test]
fn who_is_masked() {
    assert_eq!(said("smith, Smiths', the Quills, SMITH\u{2019}s"), "___, ___', the ___, ___");
    assert_eq!(said("Wren, wren's and Ott's, Vessel"), "___, ___ and ___, ___");
    assert_eq!(said("cp-1 is theirs, cp-12 not"), "___ is theirs, cp-12 not");
}

/// His own, the shop, its people, whoever stands on his lines; an ordinary word; what only begins like a name.
#[test]
fn what_stays() {
    for words in [
        "Orr's Heron",
        "Hollin Lane",
        "Ned Tarrow",
        "Ada Brook",
        "a house, the House",
        "blacksmith, quilling",
    ] {
        assert_eq!(said(words), words);
    }
    assert_eq!(said("Larkin, of the Larkins"), "___, of ___");
}

/// What cannot be seen inside a name does not keep it from being found.
#[test]
fn a_name_with_something_unseen_in_it() {
    let unseen = (0x80..=0xe_0fff_u32).filter_map(char::from_u32).filter(|c| visible::hides(*c));
    let unseen: Vec<char> = unseen.filter(|c| !c.is_control() && !c.is_whitespace()).collect();
    assert!(unseen.len() > 4000);
    // The planes of tags are alike: one in sixty-four of them.
    for c in unseen.iter().filter(|c| u32::from(**c) < 0xe_0000 || u32::from(**c) % 64 == 1) {
        assert_eq!(said(&format!("ask Smi{c}th")), "ask ___", "U+{:04X}", u32::from(*c));
    }
}

/// Another client's sum stands in no words of the line either, however it is written.
#[test]
fn sums_in_words() {
    let words = "1 200 EUR, 127 eur, 5k EUR, EUR 12 345.60, €7, 3 quid; 44 minutes, 2 all round";
    let text = format!("2025-05-04 heron\n  cost 10.00 EUR parts \"{words}\"  to smith\n");
    let last = lines(&[("a.sline", &text)], "orr").pop().unwrap();
    assert_eq!(
        last,
        "cost ___ EUR parts \"___ EUR, ___ eur, ___ EUR, EUR ___, €___, ___ quid; 44 minutes, 2 all round\"  to ___"
    );
}

/// A note is masked as it is read: over marks and entities.
#[test]
fn in_a_note() {
    let note = |text: &str| {
        let text = format!("2025-05-04 heron\n  | for client: {text}\n");
        lines(&[("a.sline", &text)], "orr").pop().unwrap()
    };
    assert_eq!(note("ask Smith, please"), "for client: ask ..., please");
    for text in ["**Sm**ith", "S&#109;ith", "Sm\\ith", "*S*`mi`th", "&#115;mith's", "[Smi](x)th"] {
        let shown = note(text);
        assert!(!shown.to_lowercase().contains("ith") && !shown.contains("th's"), "{text}: {shown}");
    }
}

/// Two sessions called by others' names stay two.
#[test]
fn labels_stay_apart() {
    let text = "2025-05-04 heron\n  09:00..09:20 run smith\n  10:00..10:20 run quill\n  hit RF \"post\" during quill\n";
    let his = lines(&[("a.sline", text)], "orr");
    assert_eq!(his[1..], ["09:00..09:20 run ___1", "10:00..10:20 run ___2", "hit RF \"post\" during ___2"]);
}

fn paths(files: &[(&str, &str)], client: &str) -> Vec<String> {
    let his = read(&book(files), client);
    (0..his.files.len() as u32).map(|file| his.files.path(FileId(file)).to_owned()).collect()
}

#[test]
fn a_path_is_kept_only_where_it_is_his() {
    let before = "2025-05-04 heron\n  read rake 6 mm\n2025-05-10 heron\n  sell heron to smith\n";
    let after = "2025-06-04 heron for smith\n  read rake 7 mm\n";
    let kite = "2025-05-04 kite\n  read rake 5 mm\n";
    let files = [
        ("orr/heron.sline", before),
        ("smith/heron.sline", after),
        ("house/kite.sline", kite),
        ("kites/a.sline", kite),
    ];
    let orr = paths(&files, "orr");
    // Who declares has no path; a folder of somebody else's name has none, be it an ordinary word.
    assert_eq!(orr[1..], ["book-1.sline", "kites/a.sline", "orr/heron.sline", "book.sline"]);
    let smith = paths(&files, "smith");
    assert!(smith.contains(&"smith/heron.sline".to_owned()), "{smith:?}");
    assert!(smith.iter().all(|path| !path.contains("orr") && !path.contains("kite")), "{smith:?}");
}

#[test]
fn a_mixed_ledger_has_no_path() {
    let mixed = "2025-05-04 heron\n  read rake 6 mm\n2025-05-04 wren\n  read rake 6 mm\n";
    assert!(!paths(&[("mixed.sline", mixed)], "orr").contains(&"mixed.sline".to_owned()));
    let book = book(&[("mixed.sline", mixed)]);
    let buyer = cut(&book, &Reader::Buyer(purchase(&book, CarId::new(0), None)));
    assert!(buyer.files.iter().all(|(_, file)| file.path.starts_with("book")));
    assert_eq!(buyer.commit, None);
}

/// A name that is not his is never suggested.
#[test]
fn nothing_hidden_is_suggested() {
    let his = read(&book(&[("a.sline", "2025-05-04 heron\n  read rake 6 mm\n")]), "orr");
    assert_eq!(his.book.names.near("wrem", |_| true), None);
    assert_eq!(his.book.names.near("herom", |_| true).as_deref(), Some("heron"));
}

/// In a ledger that is not his alone his lines are the first, the second and so on; in his own they stand where they stand.
#[test]
fn lines_are_counted_as_far_as_he_reads() {
    let mixed =
        "# swept\n2025-05-04 wren\n  read rake 6 mm\n\n2025-05-04 heron\n  read rake 7 mm\n  | shop: wren\n";
    let own = "\n\n2025-05-05 heron\n\n  read rake 8 mm\n";
    let his = read(&book(&[("mixed.sline", mixed), ("own.sline", own)]), "orr");
    let at = |words: &str| {
        let entry =
            his.book.entries.iter().find(|entry| his.files.text(entry.span()).contains(words)).unwrap();
        (his.files.path(entry.file), his.files.line(entry.span()), his.files.line_column(entry.span()))
    };
    assert_eq!(at("7 mm"), ("book-1.sline", 2, (2, 3)));
    assert_eq!(at("8 mm"), ("own.sline", 5, (5, 3)));
}
