//! File names that are not text: bytes from end to end, told apart wherever they are shown.

#![cfg(target_os = "linux")]

use super::{Folder, names, said, stringline};
use std::ffi::{OsStr, OsString};
use std::os::unix::ffi::{OsStrExt as _, OsStringExt as _};
use stringline::source::{Disk, shown};

/// A path of these bytes below a folder.
fn path(bytes: &[u8]) -> OsString {
    OsString::from_vec(bytes.to_vec())
}

const SHOP: &str = "shop \"A\"  currency EUR  zone Europe/Dublin\n";

#[test]
fn two_ledgers_that_differ_in_a_stray_byte_stay_two() {
    let folder = Folder::new("stray");
    let one = folder.file(path(b"caf\xe9.sline"), "car heron   \"Heron\"\n");
    let two = folder.file(path(b"caf\xe8.sline"), "car wren   \"Wren\"\n");
    // Spelt out, it is a third; and a fourth has the sign that lossy text would show.
    let three = folder.file(r"caf\xe9.sline", "car plover   \"Plover\"\n");
    let four = folder.file("caf\u{FFFD}.sline", "car knot   \"Knot\"\n");
    folder.file(path(b"deep\xff/shop.sline"), SHOP);
    let compiled = stringline::compile(&Disk { root: folder.0.clone() }).unwrap();
    assert_eq!(compiled.book.cars.len(), 4);
    let mut shown: Vec<_> = compiled.files.iter().map(|(_, file)| file.path.as_str()).collect();
    shown.sort_unstable();
    let all =
        [r"caf\\xe9.sline", r"caf\xe8.sline", r"caf\xe9.sline", "caf\u{FFFD}.sline", r"deep\xff/shop.sline"];
    assert_eq!(shown, all);
    let (code, out, err) = said([OsStr::new("format"), folder.0.as_os_str()]);
    assert_eq!((code, err.as_str()), (Some(0), ""));
    assert!(out.ends_with("4 of 5 files changed\n"), "{out}");
    for (file, text) in [
        (&one, "heron \"Heron\""),
        (&two, "wren \"Wren\""),
        (&three, "plover \"Plover\""),
        (&four, "knot \"Knot\""),
    ] {
        assert_eq!(std::fs::read_to_string(file).unwrap(), format!("car {text}\n"));
    }
    assert_eq!(names(&folder.0).len(), 5, "no other file appeared");
}

#[test]
fn messages_name_the_file_and_sarif_its_very_bytes() {
    let folder = Folder::new("stray-said");
    folder.file(path(b"\xe9.sline"), "car heron \"Heron\"\n2025-05-10 heron\n  set wing-angle 5\n");
    folder.file("shop.sline", SHOP);
    let check = |format: &str| {
        said([OsStr::new("check"), folder.0.as_os_str(), OsStr::new("--format"), OsStr::new(format)])
    };
    assert!(check("short").1.starts_with(r"\xe9.sline:3:"), "{}", check("short").1);
    assert!(check("json").1.contains(r#""path": "\\xe9.sline""#), "{}", check("json").1);
    assert!(check("sarif").1.contains(r#""uri": "%E9.sline""#), "{}", check("sarif").1);
    assert!(check("text").2.contains(r"\xe9.sline:3"), "{}", check("text").2);
}

#[test]
fn a_book_in_a_folder_of_any_name_is_opened_by_every_command() {
    let folder = Folder::new("stray-book");
    let book = folder.0.join(path(b"b\xfck"));
    let file = "car heron \"Heron\"\nkind coupling \"coupling\"  fits LR on heron\nevent pell-1 2025-05-10 \"Pell\"\n2025-05-10 heron at pell-1\n  10:00..10:10 run s1\n  set wing-angle 5 deg\n";
    std::fs::create_dir(&book).unwrap();
    std::fs::write(book.join("book.sline"), format!("{SHOP}{file}")).unwrap();
    let words: [&[&str]; 16] = [
        &["check"],
        &["state", "heron"],
        &["diff", "heron", "pell-1/start", "pell-1/end"],
        &["rules", "heron"],
        &["costs"],
        &["trace", "heron", "wing-angle", "2025-05-10"],
        &["due", "--before", "pell-1"],
        &["lives", "coupling"],
        &["sheet", "heron"],
        &["load", "pell-1"],
        &["handover", "heron"],
        &["blank", "heron"],
        &["format", "--check"],
        &["report", "--out", "REPORT"],
        &["tables", "--out", "TABLES"],
        &["state", "heron", "--format", "json"],
    ];
    for words in words {
        let out = folder.0.join(path(b"p\xffges"));
        let mut command = stringline([words[0]]);
        command.arg(&book);
        for word in &words[1..] {
            let tables = folder.0.join(path(b"t\xffbles"));
            command.arg(match *word {
                "REPORT" => out.as_os_str(),
                "TABLES" => tables.as_os_str(),
                word => OsStr::new(word),
            });
        }
        let output = command.output().unwrap();
        assert_eq!(output.status.code(), Some(0), "{words:?}: {}", String::from_utf8_lossy(&output.stderr));
    }
    assert!(folder.0.join(path(b"p\xffges")).join("index.html").exists());
    // A name of the book's that is no text cannot be one.
    let (code, _, err) = said([OsStr::new("state"), book.as_os_str(), OsStr::from_bytes(b"her\xf2n")]);
    assert_eq!(
        (code, err.as_str()),
        (Some(2), "stringline: `her\\xf2n` is no text, and nothing in a book is called so\n")
    );
}

#[test]
fn no_two_paths_look_alike() {
    use proptest::prelude::*;
    // Few bytes, so that spelt-out escapes, true ones and halves of characters meet often.
    let byte = prop::sample::select(b"\\xfe9u{}1b\xfe\xe9\xc3\xa9\x1b\n\x7f\xef\xbf\xbd".to_vec());
    let name = || prop::collection::vec(byte.clone(), 0..7);
    proptest!(ProptestConfig::with_cases(4000), |(one in name(), two in name())| {
        let (a, b) = (path(&one), path(&two));
        let (a, b) = (shown(std::path::Path::new(&a)), shown(std::path::Path::new(&b)));
        prop_assert_eq!(a == b, one == two);
        prop_assert!(!a.contains(|c: char| c.is_control()));
    });
}
