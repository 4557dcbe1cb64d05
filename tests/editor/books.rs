//! Which book a file belongs to, and whose text of it counts.

use super::{Client, FOLDER, file};
use serde_json::{Value, json};

const CAR: &str = "car heron \"Heron\"\n";
const LINE: &str = "2025-05-03 heron\n  say \"fine\"\n";

#[test]
fn the_files_of_one_root_are_one_book_and_two_roots_are_two() {
    let mut client = Client::new(&["file:///no-such-folder/one", "file:///no-such-folder/two"]);
    let (one, two) = ("file:///no-such-folder/one/sub/day.sline", "file:///no-such-folder/two/day.sline");
    client.open("file:///no-such-folder/one/cars.sline", CAR);
    client.open(one, LINE);
    assert_eq!(client.checks(one), Vec::<String>::new());
    client.open(two, LINE);
    assert_eq!(client.checks(two), ["name-unknown"]);
}

#[test]
fn a_file_outside_every_root_belongs_to_its_folder() {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("cars.sline"), CAR);
    client.open("file:///no-such-folder/elsewhere/day.sline", LINE);
    assert_eq!(client.checks("file:///no-such-folder/elsewhere/day.sline"), ["name-unknown"]);
    client.open("file:///no-such-folder/elsewhere/cars.sline", CAR);
    client.wrong("file:///no-such-folder/elsewhere/cars.sline");
    client.change("file:///no-such-folder/elsewhere/day.sline", None, LINE);
    assert_eq!(client.checks("file:///no-such-folder/elsewhere/day.sline"), Vec::<String>::new());
}

#[test]
fn of_roots_in_one_another_the_nearest_counts() {
    let mut client = Client::new(&["file:///no-such-folder", "file:///no-such-folder/inner"]);
    client.open("file:///no-such-folder/cars.sline", CAR);
    client.open("file:///no-such-folder/inner/day.sline", LINE);
    assert_eq!(client.checks("file:///no-such-folder/inner/day.sline"), ["name-unknown"]);
}

/// No folder was opened: each text's own folder is its book, and the one further up has the lower one's files too.
#[test]
fn a_file_further_down_is_of_the_book_above_it_too() {
    let mut client = Client::new(&[]);
    let (day, cars) = ("file:///no-such-folder/a/day.sline", "file:///no-such-folder/a/b/cars.sline");
    client.open(day, LINE);
    assert_eq!(client.checks(day), ["name-unknown"]);
    client.open(cars, CAR);
    client.until(|client| client.count(day) == Some(0));
    client.change(cars, None, "car hermit \"Hermit\"\n");
    client.until(|client| client.count(day) == Some(1));
    assert_eq!(client.told[day].1[0]["code"], "name-unknown");
}

#[cfg(unix)]
#[test]
fn a_file_that_is_opened_by_a_link_is_that_file() {
    let folder = tempfile::tempdir().unwrap();
    let address = stringline::editor::address::of(folder.path());
    std::fs::write(folder.path().join("cars.sline"), CAR).unwrap();
    std::fs::write(folder.path().join("day.sline"), LINE).unwrap();
    std::os::unix::fs::symlink("day.sline", folder.path().join("today.sline")).unwrap();
    let mut client = Client::new(&[&address]);
    let today = format!("{address}/today.sline");
    client.open(&today, "2025-05-03 teal\n  say \"fine\"\n");
    assert!(client.checks(&today).contains(&"name-unknown".to_owned()));
    assert_eq!(client.of("textDocument/documentSymbol", &today)[0]["name"], "2025-05-03 teal");
}

/// What is there and cannot be read is not taken for nothing.
#[cfg(unix)]
#[test]
fn a_folder_that_cannot_be_read_is_said() {
    let folder = tempfile::tempdir().unwrap();
    let round = folder.path().join("round");
    std::os::unix::fs::symlink("round", &round).unwrap();
    let address = stringline::editor::address::of(&round);
    let mut client = Client::new(&[&address]);
    let day = format!("{address}/day.sline");
    client.open(&day, LINE);
    let (code, words) =
        client.ask("textDocument/documentSymbol", json!({ "textDocument": { "uri": day } })).unwrap_err();
    let said = format!("the folder `{}` cannot be opened: ", round.display());
    assert!(code == -32803 && words.starts_with(&said), "{words}");
    client.until(|client| !client.shown.is_empty());
    assert!(client.shown[0].starts_with(&format!("stringline: {said}")), "{:?}", client.shown);
}

#[test]
fn a_text_that_is_no_file_is_a_book_by_itself() {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("cars.sline"), CAR);
    client.open("draft:1", LINE);
    assert_eq!(client.checks("draft:1"), ["name-unknown"]);
}

#[test]
fn unsaved_text_counts_over_the_disk_until_it_is_closed() {
    let folder = tempfile::tempdir().unwrap();
    // A blank and a letter beyond ASCII in the name: an address has them coded.
    let root = folder.path().join("book é 1");
    std::fs::create_dir(&root).unwrap();
    std::fs::write(root.join("cars.sline"), CAR).unwrap();
    std::fs::write(root.join("day.sline"), LINE).unwrap();
    let address = stringline::editor::address::of(&root);
    assert!(address.ends_with("/book%20%C3%A9%201"), "{address}");
    assert_eq!(stringline::editor::address::path(&address), root);
    let (cars, day) = (format!("{address}/cars.sline"), format!("{address}/day.sline"));
    let mut client = Client::new(&[&address]);
    client.open(&day, LINE);
    assert_eq!(client.checks(&day), Vec::<String>::new());
    // The declaration is gone from the other file, unsaved: the open one is told of anew, and so is a file that is not open.
    client.open(&cars, "car hermit \"Hermit\"\n");
    client.wrong(&cars);
    client.until(|client| client.count(&day) == Some(1));
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": cars } }));
    client.change(&day, None, LINE);
    assert_eq!(client.checks(&day), Vec::<String>::new());
    // Edits reach files that are not open.
    let renamed =
        client.at("textDocument/rename", (&day, LINE), "her^on\n", &json!({ "newName": "teal" })).unwrap();
    let files: Vec<&String> = renamed["changes"].as_object().unwrap().keys().collect();
    assert_eq!(files, [&cars, &day]);
    assert_eq!(std::fs::read_to_string(root.join("day.sline")).unwrap(), LINE);
}

#[test]
fn what_changed_on_disk_is_read_when_the_client_says_so() {
    let folder = tempfile::tempdir().unwrap();
    let address = stringline::editor::address::of(folder.path());
    let day = format!("{address}/day.sline");
    let mut client = Client::new(&[&address]);
    client.open(&day, LINE);
    assert_eq!(client.checks(&day), ["name-unknown"]);
    std::fs::write(folder.path().join("cars.sline"), CAR).unwrap();
    client.tell("workspace/didChangeWatchedFiles", json!({ "changes": [] }));
    let symbols = client.of("textDocument/documentSymbol", &day);
    assert_ne!(symbols, Value::Null);
    client.change(&day, None, LINE);
    assert_eq!(client.checks(&day), Vec::<String>::new());
}

#[test]
fn a_root_that_is_closed_takes_its_messages_with_it() {
    let mut client = Client::new(&["file:///no-such-folder"]);
    let (cars, day) = ("file:///no-such-folder/cars.sline", "file:///no-such-folder/inner/day.sline");
    client.open(cars, CAR);
    client.open(day, LINE);
    assert_eq!(client.checks(day), Vec::<String>::new());
    let folders =
        |added: &[Value], removed: &[Value]| json!({ "event": { "added": added, "removed": removed } });
    let inner = json!({ "uri": "file:///no-such-folder/inner", "name": "inner" });
    for (change, wanted) in
        [(folders(std::slice::from_ref(&inner), &[]), 1), (folders(&[], std::slice::from_ref(&inner)), 0)]
    {
        client.tell("workspace/didChangeWorkspaceFolders", change);
        client.until(|client| client.count(day) == Some(wanted));
    }
}
