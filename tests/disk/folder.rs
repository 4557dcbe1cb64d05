//! The folder a report writes into: what the book no longer has goes, what no report wrote stays, and pages of another reader or
//! book are not mixed with ours.

use super::{Folder, asked, ended, leavings, names, said, stringline};
use std::fs;
use std::path::{Path, PathBuf};

const LIST: &str = ".stringline-pages";
const SHOP: &str = "shop \"Hollin Lane Garage\"  currency EUR  zone Europe/Dublin\nclient orr \"Orr\"\nclient lisk \"Lisk\"\n";
const HERON: &str = "car heron \"Heron\"  client orr\n2025-05-10 heron\n  set wing-angle 5 deg\n2026-05-10 heron\n  set wing-angle 6 deg\n";
const WREN: &str = "car wren \"Wren\"  client lisk\n2025-06-10 wren\n  set wing-angle 5 deg\n2026-06-10 wren\n  set wing-angle 6 deg\n";

/// A book with two cars, of two clients, over two years; and a folder for pages.
struct Case {
    folder: Folder,
}

impl Case {
    fn new(name: &str) -> Self {
        let case = Self { folder: Folder::new(&format!("folder-{name}")) };
        for (name, text) in [("shop", SHOP), ("heron", HERON), ("wren", WREN)] {
            case.folder.file(format!("book/{name}.sline"), text);
        }
        case
    }

    fn out(&self) -> PathBuf {
        self.folder.0.join("pages")
    }

    fn page(&self, name: &str) -> PathBuf {
        self.out().join(name)
    }

    fn book(&self, name: &str, more: &[&str]) -> (Option<i32>, String, String) {
        let mut command = stringline(["report"]);
        command.arg(self.folder.0.join(name)).arg("--out").arg(self.out()).args(more);
        ended(&command.output().unwrap())
    }

    /// Runs the report, which ends well and says nothing else.
    fn clean(&self, more: &[&str]) -> String {
        let (code, out, err) = self.book("book", more);
        assert_eq!((code, err.as_str()), (Some(0), ""), "{more:?}");
        out
    }

    /// Runs the report, which refuses and touches nothing.
    fn refused(&self, book: &str, more: &[&str], words: &str) {
        let before = self.files();
        let (code, out, err) = self.book(book, more);
        assert_eq!((code, out.as_str()), (Some(2), ""), "{more:?}: {err}");
        assert!(err.contains(words), "{more:?}: {err}");
        assert_eq!(err.lines().count(), 1, "{err}");
        assert!(self.files() == before, "{more:?}: something was touched");
    }

    fn files(&self) -> Vec<(std::ffi::OsString, Option<Vec<u8>>)> {
        names(&self.out())
            .into_iter()
            .map(|name| (name.clone(), fs::read(self.out().join(name)).ok()))
            .collect()
    }

    fn pages(&self) -> Vec<String> {
        let names = names(&self.out()).into_iter().map(|name| name.into_string().unwrap());
        names.filter(|name| name.as_bytes().ends_with(b".html")).collect()
    }

    fn list(&self) -> String {
        fs::read_to_string(self.page(LIST)).unwrap()
    }
}

#[test]
fn pages_that_the_book_no_longer_has_go() {
    let case = Case::new("gone");
    case.clean(&[]);
    assert!(case.page("wren-2025.html").exists());
    case.folder.file("book/wren.sline", "");
    let out = case.clean(&[]);
    assert!(out.contains(", 5 that the book no longer has removed;"), "{out}");
    assert!(case.pages().iter().all(|name| !name.contains("wren")), "{:?}", case.pages());
    assert!(!case.list().contains("wren"));
    // The folder is the same as one that never had them.
    let files = case.files();
    fs::remove_dir_all(case.out()).unwrap();
    case.clean(&[]);
    let fresh: Vec<_> = case.files();
    assert!(files == fresh);
    // JSON names them.
    case.folder.file("book/heron.sline", HERON.replace("2025-05-10", "2026-05-09"));
    let json: serde_json::Value = serde_json::from_str(&case.clean(&["--format", "json"])).unwrap();
    assert_eq!(json["removed"], serde_json::json!(["heron-2025.html"]));
    assert_eq!(json["left"], serde_json::json!([]));
}

#[test]
fn what_no_report_wrote_stays() {
    let case = Case::new("foreign");
    case.clean(&[]);
    let mine = ["notes.html", "wren.txt", "wren-2024.html", "sub/wren-2025.html"];
    for name in mine {
        case.folder.file(format!("pages/{name}"), "mine");
    }
    // One page changed by hand, one replaced by a link to it.
    let changed = case.page("wren-2025.html");
    fs::write(&changed, fs::read_to_string(&changed).unwrap() + "<!-- mine -->").unwrap();
    let linked = case.page("wren-2026.html");
    fs::rename(&linked, case.page("moved.html")).unwrap();
    #[cfg(unix)]
    std::os::unix::fs::symlink("moved.html", &linked).unwrap();
    case.folder.file("book/wren.sline", "");
    for _ in 0..2 {
        let (code, _, err) = case.book("book", &[]);
        assert_eq!(code, Some(0));
        assert!(err.contains("wren-2025.html; it is left: somebody has changed it\n"), "{err}");
        #[cfg(unix)]
        assert!(err.contains("wren-2026.html; it is left: it is no ordinary file any more\n"), "{err}");
        for name in mine {
            assert_eq!(fs::read_to_string(case.page(name)).unwrap(), "mine");
        }
        assert!(changed.exists() && case.page("moved.html").exists() && !case.page("wren-now.html").exists());
    }
}

/// What the disk refuses is a trouble; `left` is for what somebody changed.
#[cfg(unix)]
#[test]
fn what_the_disk_will_not_remove_is_a_trouble() {
    let case = Case::new("stuck");
    case.clean(&[]);
    case.folder.file("book/heron.sline", HERON.replace("2025-05-10", "2026-05-09"));
    // A name that no disk takes: that needs no rights.
    let list = case.list();
    let long = format!("{}.html", "a".repeat(300));
    fs::write(case.page(LIST), format!("{list}page 0123456789abcdef0123456789abcdef - - {long}\n")).unwrap();
    for format in ["text", "json"] {
        let (code, out, err) = case.book("book", &["--format", format]);
        assert_eq!(code, Some(2), "{err}");
        assert!(err.contains("what the book no longer has: ") && err.contains(&long), "{err}");
        assert_eq!(err.lines().count(), 1, "{err}");
        assert!(out.contains(if format == "json" { "\"left\": []" } else { "written" }), "{out}");
    }
    fs::write(case.page(LIST), list).unwrap();
    case.clean(&[]);
    // A page that stays where it is, and one beside it that somebody changed.
    case.folder.file("book/wren.sline", WREN.replace("2025-06-10", "2026-06-09"));
    case.folder.file("book/heron.sline", "");
    let changed = case.page("heron-2026.html");
    fs::write(&changed, "mine").unwrap();
    let Some(held) = super::Held::hold(&case.page("wren-2025.html")) else { return };
    // Where the whole folder is held no page can be written either: the list says so first.
    if held.mounted {
        let (code, out, err) = case.book("book", &["--format", "json"]);
        assert_eq!(code, Some(2), "{err}");
        assert!(err.contains("cannot remove from ") && err.contains(": wren-2025.html\n"), "{err}");
        let json: serde_json::Value = serde_json::from_str(&out).unwrap();
        assert_eq!(json["left"], serde_json::json!(["heron-2026.html"]));
        assert!(!json["removed"].as_array().unwrap().contains(&"wren-2025.html".into()), "{out}");
    }
    drop(held);
    let (code, out, _) = case.book("book", &["--format", "json"]);
    let json: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!((code, &json["removed"]), (Some(0), &serde_json::json!(["wren-2025.html"])));
}

#[test]
fn another_readers_pages_are_refused() {
    let case = Case::new("reader");
    case.clean(&[]);
    for more in [&["--for", "orr"][..], &["--for", "lisk"], &["--for", "orr", "--car", "heron"]] {
        case.refused("book", more, "holds the pages of another reader; choose another folder");
    }
    // Emptied of its pages, it is free, whatever list is left.
    for name in case.pages() {
        fs::remove_file(case.page(&name)).unwrap();
    }
    case.clean(&["--for", "orr"]);
    assert!(case.pages().iter().all(|name| !name.contains("wren")));
    case.clean(&["--for", "orr"]);
    case.refused("book", &["--for", "lisk"], "another reader");
    case.refused("book", &[], "another reader");
}

#[test]
fn another_books_pages_are_refused_and_a_grown_or_moved_book_is_the_same() {
    let case = Case::new("book");
    case.clean(&[]);
    // Last year's book of the same shop and cars; another shop's with the same cars and dates; another's altogether.
    case.folder
        .file("last/a.sline", format!("{SHOP}{}{}", HERON.replace("202", "201"), WREN.replace("202", "201")));
    case.folder.file("else/a.sline", format!("{}{HERON}{WREN}", SHOP.replace("Hollin Lane", "Mill")));
    case.folder.file("other/a.sline", "car plover \"P\"\n2025-05-10 plover\n  set wing-angle 5 deg\n");
    for book in ["last", "else", "other"] {
        case.refused(book, &[], "holds the pages of another book; choose another folder");
    }
    // Moved, grown, with a slip in the shop's line and a car's, it is still the same book.
    fs::rename(case.folder.0.join("book"), case.folder.0.join("moved")).unwrap();
    case.folder.file("moved/shop.sline", SHOP.replace("shop ", "shpo "));
    case.folder.file("moved/wren.sline", WREN.replace("car wren", "carr wren"));
    case.folder.file("moved/heron.sline", format!("{HERON}2026-07-01 heron\n  set wing-angle 7 deg\n"));
    let (code, _, err) = case.book("moved", &[]);
    assert_eq!(code, Some(1), "{err}");
    // The same book in another folder makes the same bytes, the list too.
    let before = case.files();
    fs::rename(case.folder.0.join("moved"), case.folder.0.join("elsewhere")).unwrap();
    fs::remove_dir_all(case.out()).unwrap();
    case.book("elsewhere", &[]);
    let plain = |files: Vec<(std::ffi::OsString, Option<Vec<u8>>)>| -> Vec<_> {
        files.into_iter().filter(|(name, _)| name != LIST).collect()
    };
    assert!(plain(case.files()) == plain(before));
}

#[test]
fn a_narrowed_run_touches_only_its_own_scope() {
    let case = Case::new("narrow");
    case.clean(&[]);
    let all = case.files();
    let of = |files: &[(std::ffi::OsString, Option<Vec<u8>>)], word: &str| -> Vec<_> {
        files.iter().filter(|(name, _)| name.to_string_lossy().contains(word)).cloned().collect()
    };
    // Both cars lose a year and change the other.
    case.folder.file(
        "book/heron.sline",
        "car heron \"Heron\"  client orr\n2026-05-10 heron\n  set wing-angle 7 deg\n",
    );
    case.folder
        .file("book/wren.sline", "car wren \"Wren\"  client lisk\n2026-06-10 wren\n  set wing-angle 7 deg\n");
    let (code, _, err) = case.book("book", &["--car", "heron"]);
    assert_eq!(
        (code, err.as_str()),
        (Some(0), "stringline: index.html is of a wider run and is left as it was\n")
    );
    let now = case.files();
    assert!(of(&now, "wren") == of(&all, "wren") && of(&now, "index") == of(&all, "index"));
    assert!(!case.page("heron-2025.html").exists() && of(&now, "heron-2026") != of(&all, "heron-2026"));
    // A year alone: only what is of that year goes.
    let (code, _, _) = case.book("book", &["--season", "2026"]);
    assert_eq!(code, Some(0));
    assert!(case.page("wren-2025.html").exists());
    assert!(of(&case.files(), "wren-2026") != of(&all, "wren-2026"));
    // The whole again: as if it had been run alone.
    case.clean(&[]);
    let whole = case.files();
    fs::remove_dir_all(case.out()).unwrap();
    case.clean(&[]);
    let fresh = case.files();
    let pages = |files: &[(std::ffi::OsString, Option<Vec<u8>>)]| of(files, ".html");
    assert!(pages(&whole) == pages(&fresh));
    // A narrowed run into an empty folder has a first page, which is its own the next time.
    fs::remove_dir_all(case.out()).unwrap();
    case.clean(&["--car", "heron"]);
    case.clean(&["--car", "heron"]);
    assert!(case.page("index.html").exists());
}

#[test]
fn a_list_that_is_damaged_or_leads_out_is_refused() {
    let case = Case::new("damaged");
    case.clean(&[]);
    let list = case.list();
    let outside = case.folder.file("outside.html", "mine");
    let print = "0123456789abcdef0123456789abcdef";
    let spoilt = [
        String::new(),
        "\n".to_owned(),
        "hello\n".to_owned(),
        list.replace("pages 1", "pages 2"),
        list.replacen("reader ", "reader x", 1),
        list.split_inclusive('\n').filter(|line| !line.starts_with("reader")).collect(),
        format!("{list}page\n"),
        format!("{list}page {print} - - ../outside.html\n"),
        format!("{list}page {print} - - {}\n", outside.display()),
        format!("{list}page {print} - - sub/x.html\n"),
        format!("{list}page {print} - - ..\\x.html\n"),
        format!("{list}page {print} - - .hidden.html\n"),
        format!("{list}page {print} - - a.sline\n"),
        format!("{list}page {print} - year a.html\n"),
        format!("{list}page {print} car - a.html\n"),
        format!("{list}page short - - a.html\n"),
        format!("{list}remove everything\n"),
    ];
    for text in spoilt {
        fs::write(case.page(LIST), &text).unwrap();
        case.refused("book", &[], "is damaged; choose another folder");
    }
    fs::write(case.page(LIST), b"stringline pages 1\n\xff\n").unwrap();
    case.refused("book", &[], "is damaged");
    // A line that a killed run had begun is no damage.
    fs::write(case.page(LIST), format!("{list}page 0123")).unwrap();
    case.clean(&[]);
    assert_eq!(case.list(), list);
    #[cfg(unix)]
    {
        fs::rename(case.page(LIST), case.page("list")).unwrap();
        std::os::unix::fs::symlink("list", case.page(LIST)).unwrap();
        case.refused("book", &[], "is no ordinary file");
    }
    assert_eq!(fs::read_to_string(outside).unwrap(), "mine");
}

#[test]
fn pages_without_a_list_are_nobodys() {
    let case = Case::new("no-list");
    case.clean(&[]);
    fs::remove_file(case.page(LIST)).unwrap();
    let words = "holds pages of a report, such as heron-2025.html, and no list of them, so that nobody can tell whose they are";
    case.refused("book", &[], words);
    case.refused("book", &["--for", "orr"], words);
    // Other people's pages, and one of ours that stands alone, hold nobody up.
    for name in case.pages() {
        fs::remove_file(case.page(&name)).unwrap();
    }
    case.folder.file("pages/notes.html", "mine");
    let sheet = case.page("sheet.html").display().to_string();
    assert_eq!(said(["sheet", "tests/fixtures/command/book", "heron", "--out", &sheet]).0, Some(0));
    // So do the other pages that are made alone: the one that goes with a car to its buyer says how the book stands, too.
    for (command, page) in [("handover", "heron-book.html"), ("load", "load.html")] {
        let page = case.page(page).display().to_string();
        let words = [command, "tests/fixtures/command/sold", "heron", "--out", &page];
        let words =
            if command == "load" { &["load", "ledgers/2026", "--out", &page][..] } else { &words[..] };
        assert_eq!(said(words).0, Some(0), "{command}");
    }
    case.clean(&[]);
    for name in ["notes.html", "sheet.html", "heron-book.html", "load.html"] {
        assert!(case.page(name).exists(), "{name}");
    }
}

/// Every page there is, the shop's and a reader's, is known by its foot: the words there and those in the program are the same.
#[test]
fn every_page_without_its_list_is_known() {
    let case = Case::new("feet");
    for more in [&["--parts"][..], &["--for", "orr"]] {
        let _ = fs::remove_dir_all(case.out());
        case.clean(more);
        fs::remove_file(case.page(LIST)).unwrap();
        let all = case.folder.0.join("all");
        let _ = fs::remove_dir_all(&all);
        fs::rename(case.out(), &all).unwrap();
        let pages = names(&all);
        assert!(pages.len() > 4 && pages.contains(&"index.html".into()), "{pages:?}");
        for name in pages {
            fs::create_dir_all(case.out()).unwrap();
            fs::copy(all.join(&name), case.out().join(&name)).unwrap();
            let words = format!("holds pages of a report, such as {}, and no list", name.display());
            case.refused("book", more, &words);
            fs::remove_dir_all(case.out()).unwrap();
        }
    }
}

#[test]
fn the_list_names_nothing_that_its_reader_may_not_know() {
    let case = Case::new("list");
    case.clean(&["--for", "orr"]);
    let list = case.list();
    let disk = case.folder.0.to_string_lossy().into_owned();
    let hidden = ["wren", "lisk", "Hollin", "2025-06", disk.as_str(), "sline\n", "book"];
    let words = list.lines().filter(|line| !line.starts_with('#')).collect::<Vec<_>>().join("\n");
    for word in hidden {
        assert!(!words.contains(word), "{word}: {list}");
    }
    // Nor by its number: with everything of the other client's changed, the list says the same of whose it is and what there is.
    let said = |list: &str| -> Vec<String> {
        let page = |line: &str| {
            line.strip_prefix("page ").and_then(|page| page.split_once(' ')).map(|(_, page)| page.to_owned())
        };
        list.lines().map(|line| page(line).unwrap_or_else(|| line.to_owned())).collect()
    };
    case.folder.file("book/wren.sline", WREN.replace("wren", "knot").replace("-06-", "-07-"));
    fs::remove_dir_all(case.out()).unwrap();
    case.clean(&["--for", "orr"]);
    assert_eq!(said(&case.list()), said(&list));
}

#[test]
fn runs_at_one_time_wait_for_each_other() {
    let case = Case::new("together");
    let start = |more: &[&str]| {
        let mut command = stringline(["report"]);
        command.arg(case.folder.0.join("book")).arg("--out").arg(case.out()).args(more);
        command.stdout(std::process::Stdio::null()).stderr(std::process::Stdio::null()).spawn().unwrap()
    };
    for _ in 0..5 {
        let _ = fs::remove_dir_all(case.out());
        let runs = [start(&[]), start(&["--for", "orr"]), start(&[]), start(&["--for", "lisk"])];
        let codes = runs.map(|mut child| child.wait().unwrap().code());
        // One reader came first; the others were refused, or were the same reader.
        assert!(codes.iter().all(|code| matches!(code, Some(0 | 2))), "{codes:?}");
        assert!(codes.contains(&Some(0)), "{codes:?}");
        let (heron, wren) = (case.page("heron-now.html").exists(), case.page("wren-now.html").exists());
        let whole = codes[0] == Some(0) && codes[2] == Some(0) && heron && wren;
        assert!(
            whole || codes[1] == Some(0) && heron && !wren || codes[3] == Some(0) && wren && !heron,
            "{codes:?}"
        );
        assert_eq!(leavings(&case.out()), [] as [PathBuf; 0]);
    }
}

#[cfg(unix)]
#[test]
fn a_folder_that_is_held_for_long_is_left() {
    if !asked("ten seconds of waiting for a folder that another run holds") {
        return;
    }
    let case = Case::new("held");
    case.clean(&[]);
    case.folder.file("book/heron.sline", HERON.replace(" set", "   set"));
    let hold = |path: &Path| {
        let file = fs::File::open(path).unwrap();
        file.try_lock().unwrap();
        file
    };
    let held = [hold(&case.out()), hold(&case.folder.0.join("book"))];
    case.refused("book", &[], "another run is writing into");
    let (code, _, err) = said([Path::new("format"), &case.folder.0.join("book")]);
    assert_eq!(code, Some(2));
    assert!(
        err.contains("`heron.sline` is in a folder where another run is at work; it is left as it is."),
        "{err}"
    );
    drop(held);
    case.clean(&[]);
}

#[cfg(unix)]
#[test]
fn a_page_never_goes_through_a_link() {
    let case = Case::new("planted");
    let ledger = case.folder.0.join("book/heron.sline");
    fs::create_dir_all(case.out()).unwrap();
    std::os::unix::fs::symlink(&ledger, case.page("index.html")).unwrap();
    case.clean(&[]);
    assert_eq!(fs::read_to_string(&ledger).unwrap(), HERON);
    assert!(fs::symlink_metadata(case.page("index.html")).unwrap().is_file());
}
