//! Who may read what, end to end: a book with a canary in every word and every sum, and what each reader is given of it.

mod canaries;
mod clause;
mod corrections;
mod hidden;
mod interference;
mod masked;
mod mistakes;
mod outfits;
mod phrases;
mod sale;
mod season;
mod slots;

use crate::command::{Said, said_on};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

/// The car's client, the other car's client, the buyer once the car is his, the buyer with the hand-over book, the shop.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Who {
    Seller,
    Other,
    Owner,
    Buyer,
    BuyerWithBench,
    BuyerWithPrices,
    Shop,
}

const ALL: [Who; 7] =
    [Who::Seller, Who::Other, Who::Owner, Who::Buyer, Who::BuyerWithBench, Who::BuyerWithPrices, Who::Shop];

/// The cents of a sum that is a canary, and its letter.
const CENTS: [(&str, char); 8] =
    [("17", 'b'), ("27", 'c'), ("37", 's'), ("47", 'o'), ("57", 't'), ("67", 'r'), ("87", 'u'), ("97", 'q')];

impl Who {
    /// The letters he may find.
    const fn letters(self) -> &'static str {
        match self {
            Self::Seller => "abcegmqt",
            Self::Other => "aemot",
            Self::Owner => "aegry",
            Self::Buyer => "abgmyz",
            Self::BuyerWithBench => "abgkmyz",
            Self::BuyerWithPrices => "abgmquyz",
            Self::Shop => "abcegkmoqrstuyz",
        }
    }

    fn may(self, canary: &str) -> bool {
        self.letters().contains(letter(canary))
    }
}

/// The letter of a canary: of a word its second, of a sum by its cents.
fn letter(canary: &str) -> char {
    match canary.split_once('.') {
        Some((_, cents)) => CENTS.iter().find(|(known, _)| *known == cents).unwrap().1,
        None => canary.chars().nth(1).unwrap(),
    }
}

fn is_word(text: &str) -> bool {
    text.len() == 5 && text.starts_with('Q') && text[2..].bytes().all(|byte| byte.is_ascii_digit())
}

fn is_sum(text: &str) -> bool {
    let digits = |part: &str, n: usize| part.len() == n && part.bytes().all(|byte| byte.is_ascii_digit());
    text.split_once('.').is_some_and(|(whole, cents)| digits(whole, 4) && digits(cents, 2))
}

/// The canaries in a text.
fn canaries(text: &str) -> BTreeSet<String> {
    let words = text.split(|c: char| !c.is_ascii_alphanumeric() && c != '.');
    let ends = words.map(|word| word.trim_matches('.'));
    let parts =
        ends.flat_map(|word| std::iter::once(word).filter(|word| is_sum(word)).chain(word.split('.')));
    parts.filter(|word| is_word(word) || is_sum(word)).map(str::to_owned).collect()
}

/// The canaries of the book.
fn planted() -> BTreeSet<String> {
    book().iter().flat_map(|(name, text)| canaries(&format!("{name} {text}"))).collect()
}

/// Those of them that a text gives away.
fn found(text: &str) -> BTreeSet<String> {
    canaries(text).intersection(&planted()).cloned().collect()
}

/// The book: file names and texts.
fn book() -> Vec<(String, String)> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/fixtures/audience");
    let mut files: Vec<(String, String)> = std::fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .map(|path| {
            let name = path.file_name().unwrap().to_str().unwrap().to_owned();
            (name, std::fs::read_to_string(&path).unwrap().replace("\r\n", "\n"))
        })
        .collect();
    files.sort();
    files
}

/// Puts a book into a folder of its own.
fn put(name: &str, files: &[(String, String)]) -> PathBuf {
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("audience").join(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(folder.join("book")).unwrap();
    for (file, text) in files {
        std::fs::write(folder.join("book").join(file), text).unwrap();
    }
    folder
}

fn say(words: &[&str]) -> String {
    let Said { out, err, code } = said_on(words, 96, "2025-12-01T12:00:00Z");
    // What a reader has no reading for has no number to trace; another's named setup is none to him.
    assert!(code == "0" || matches!(words[0], "trace" | "diff"), "{words:?}: {err}");
    out + &err
}

/// Everything the program says to one reader, as pages, as texts and for programs.
fn told(folder: &Path, who: Who) -> String {
    match who {
        Who::Buyer | Who::BuyerWithBench | Who::BuyerWithPrices => handed_over(folder, who),
        Who::Seller | Who::Other | Who::Owner => asked(folder, who, true),
        Who::Shop => asked(folder, Who::Seller, false) + &asked(folder, Who::Other, false) + &shop(folder),
    }
}

/// What a client is told of his car; what the shop is told of it where it is not for him.
fn asked(folder: &Path, who: Who, for_him: bool) -> String {
    let (client, car, base) = match who {
        Who::Other => ("Qo014", "Qo020", "base-2"),
        Who::Owner => ("Qy016", "heron", "base-1"),
        _ => ("Qc012", "heron", "base-1"),
    };
    // A book whose hidden names were changed calls them otherwise.
    let (client, car) = (real(folder, client), real(folder, car));
    let book = folder.join("book");
    let book = book.to_str().unwrap();
    let mut text = String::new();
    let mut ask = |words: &[&str]| {
        let mut words = words.to_vec();
        if for_him {
            words.extend(["--for", &client]);
        }
        text += &say(&words);
    };
    let out = folder.join(format!("{who:?}-{for_him}"));
    ask(&["report", book, "--car", &car, "--out", out.to_str().unwrap()]);
    for format in ["text", "json"] {
        for at in ["2025-05-10", "2025-12-01"] {
            ask(&["state", book, &car, at, "--format", format]);
            ask(&["rules", book, &car, at, "--format", format]);
        }
        ask(&["rules", book, &car, "2025-06-01", "--class", "S-1", "--format", format]);
        ask(&["diff", book, &car, "2025-05-05", "2025-12-01", "--format", format]);
        ask(&["diff", book, &car, base, "2025-12-01", "--format", format]);
        ask(&["costs", book, "--lines", "--format", format]);
        ask(&["trace", book, &car, "ride-height", "LF", "--format", format]);
        ask(&["trace", book, &car, "tyre-hot", "LF", "--format", format]);
    }
    let tables = folder.join(format!("{who:?}-{for_him}-tables"));
    ask(&["tables", book, "--out", tables.to_str().unwrap()]);
    let both = std::fs::read_dir(out).unwrap().chain(std::fs::read_dir(tables).unwrap());
    let mut pages: Vec<PathBuf> = both.map(|entry| entry.unwrap().path()).collect();
    pages.sort();
    for page in pages {
        text += page.file_name().unwrap().to_str().unwrap();
        text += &std::fs::read_to_string(&page).unwrap();
    }
    // Where the book and the pages are is no part of what he is told.
    text.replace(folder.to_str().unwrap(), "")
}

/// What only the shop asks.
fn shop(folder: &Path) -> String {
    let book = folder.join("book");
    let book = book.to_str().unwrap();
    let asked: [&[&str]; 4] = [
        &["costs", book, "--lines", "--format", "json"],
        &["check", book, "--format", "json"],
        &["due", book, "--before", "pell-2", "--format", "json"],
        &["lives", book, "coupling", "--format", "json"],
    ];
    asked.map(say).concat()
}

fn real(folder: &Path, name: &str) -> String {
    let shop = std::fs::read_to_string(folder.join("book/shop.sline")).unwrap();
    if shop.contains(name) { name.to_owned() } else { name.replacen('Q', "Z", 1) }
}

fn handed_over(folder: &Path, who: Who) -> String {
    let book = folder.join("book");
    let mut text = String::new();
    for format in ["html", "json"] {
        let mut words = vec!["handover", book.to_str().unwrap(), "heron", "--format", format];
        match who {
            Who::BuyerWithBench => words.extend(["--include", "bench"]),
            Who::BuyerWithPrices => words.extend(["--include", "prices"]),
            _ => {}
        }
        text += &say(&words);
    }
    text
}
