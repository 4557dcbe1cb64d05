//! Pages that are opened from above a head: written aside, and shown by the client.

use super::{Client, FOLDER, file};
use serde_json::{Value, json};

const TEXT: &str = "\
circuit quern \"Quern\"  length 3.1 km
event quern-1 2025-05-03..04 at quern \"First round\"
car heron \"Heron\"
2025-05-03 heron at quern-1
  set camber LF -3.2 deg
  run s1 20 min
2025-06-01 heron
  say \"stands in the shop\"
";

fn client(shows: bool) -> Client {
    let mut client = Client::before_initialize();
    let can = json!({ "window": { "showDocument": { "support": shows } } });
    let folders = json!([{ "uri": FOLDER, "name": "book" }]);
    let answer =
        client.ask("initialize", json!({ "capabilities": can, "workspaceFolders": folders })).unwrap();
    assert_eq!(answer["capabilities"]["executeCommandProvider"]["commands"], json!(["stringline.page"]));
    client.tell("initialized", json!({}));
    client.open(&file("a.sline"), TEXT);
    client
}

#[test]
fn the_pages_of_a_head_are_opened() {
    let mut client = client(true);
    let lenses = client.of("textDocument/codeLens", &file("a.sline"));
    let lenses = lenses.as_array().unwrap();
    let shown: Vec<(&Value, &Value)> =
        lenses.iter().map(|one| (&one["range"]["start"]["line"], &one["command"]["title"])).collect();
    assert_eq!(shown, [(&json!(3), &json!("setup sheet")), (&json!(6), &json!("as it is now"))]);
    let mut paths = Vec::new();
    for (index, lens) in lenses.iter().enumerate() {
        let command = &lens["command"];
        let asked = json!({ "command": command["command"], "arguments": command["arguments"] });
        assert_eq!(client.ask("workspace/executeCommand", asked).unwrap(), Value::Null);
        let wish = &client.asked[index];
        assert_eq!((wish.method.as_str(), &wish.params["external"]), ("window/showDocument", &json!(true)));
        let path = stringline::editor::address::path(wish.params["uri"].as_str().unwrap());
        let html = std::fs::read_to_string(&path).unwrap();
        assert!(html.starts_with("<!DOCTYPE html>") || html.starts_with("<!doctype html>"), "{html}");
        assert!(html.contains("Heron") && html.contains("\u{2212}3.2"), "{html}");
        paths.push(path);
    }
    assert_ne!(paths[0], paths[1]);
    // Nobody else may read them, and they go with the conversation.
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt as _;
        let mode = std::fs::metadata(paths[0].parent().unwrap()).unwrap().permissions().mode();
        assert_eq!(mode & 0o777, 0o700);
    }
    client.ask("shutdown", Value::Null).unwrap();
    client.exit();
    assert!(!paths[0].parent().unwrap().exists());
}

#[test]
fn a_client_that_shows_nothing_is_offered_no_page() {
    let mut client = client(false);
    assert_eq!(client.of("textDocument/codeLens", &file("a.sline")), json!([]));
}

#[test]
fn what_is_no_page_is_refused_in_a_sentence() {
    let mut client = client(true);
    let uri = file("a.sline");
    for (command, asked, words) in [
        ("other", json!({ "uri": uri, "car": "heron" }), "This is no command of this server."),
        ("stringline.page", json!({ "car": "heron" }), "This is no command of this server."),
        ("stringline.page", json!({ "uri": uri, "car": "quern" }), "The book has no such car."),
        (
            "stringline.page",
            json!({ "uri": uri, "car": "heron", "event": "no" }),
            "The book has no such event.",
        ),
        (
            "stringline.page",
            json!({ "uri": "file:///no-such-folder/else/a.sline", "car": "heron" }),
            "No text of this book is open.",
        ),
    ] {
        let refused =
            client.ask("workspace/executeCommand", json!({ "command": command, "arguments": [asked] }));
        assert_eq!(refused.unwrap_err(), (-32803, words.to_owned()));
    }
    assert!(client.asked.is_empty());
}
