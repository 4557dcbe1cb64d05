//! How a conversation begins, goes wrong and ends.

use super::{Client, FOLDER, file};
use lsp_server::{Connection, Message, Notification, Request, RequestId};
use serde_json::{Value, json};
use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Duration;
use stringline::editor::{Ended, serve};

#[test]
fn a_request_before_initialize_is_refused_and_a_second_initialize_too() {
    let mut client = Client::before_initialize();
    // JSON-RPC codes as the protocol's specification lists them.
    assert_eq!(client.ask("textDocument/hover", json!({})).unwrap_err().0, -32002);
    client.ask("initialize", json!({ "capabilities": {} })).unwrap();
    assert_eq!(client.ask("initialize", json!({ "capabilities": {} })).unwrap_err().0, -32600);
    assert_eq!(client.exit(), Ended::Abrupt);
}

#[test]
fn an_unknown_method_and_params_that_say_nothing_are_refused_and_the_rest_goes_on() {
    let mut client = Client::new(&[FOLDER]);
    let (code, words) = client.ask("textDocument/nonsense", json!({})).unwrap_err();
    assert_eq!((code, words.as_str()), (-32601, "`textDocument/nonsense` is no request of this server"));
    assert_eq!(client.ask("textDocument/hover", json!([1, 2])).unwrap_err().0, -32602);
    let nowhere =
        json!({ "textDocument": { "uri": file("none.sline") }, "position": { "line": 9, "character": 9 } });
    assert_eq!(client.ask("textDocument/hover", nowhere).unwrap(), Value::Null);
    client.tell("textDocument/didChange", json!({ "nonsense": true }));
    client.tell("$/nonsense", json!({}));
    client.open(&file("a.sline"), "car heron \"Heron\"\n");
    assert_eq!(client.checks(&file("a.sline")), Vec::<String>::new());
    assert_eq!(client.ask("shutdown", Value::Null).unwrap(), Value::Null);
    assert_eq!(client.ask("textDocument/hover", json!({})).unwrap_err().0, -32600);
    assert_eq!(client.exit(), Ended::Orderly);
}

#[test]
fn a_client_that_goes_without_a_word_ends_the_server() {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("a.sline"), "car heron \"Heron\"\n");
    assert_eq!(client.die(), Ended::Gone);
}

/// A request that is called back while the one before it is answered is not answered. The server's answers go through a channel that holds
/// none: it stands still until the client takes each.
#[test]
fn a_request_that_is_called_back_in_time_is_refused() {
    let (sender, theirs) = crossbeam_channel::unbounded();
    let (ours, receiver) = crossbeam_channel::bounded(0);
    let ask = |id: i32, method: &str, params: Value| {
        sender.send(Request::new(RequestId::from(id), method.to_owned(), params).into()).unwrap();
    };
    let text = json!({ "textDocument": { "uri": file("a.sline") } });
    ask(1, "initialize", json!({ "capabilities": {} }));
    ask(2, "textDocument/documentSymbol", text.clone());
    ask(3, "textDocument/documentSymbol", text.clone());
    ask(4, "textDocument/documentSymbol", text);
    let now = super::NOW.parse().unwrap();
    let server = std::thread::spawn(move || serve(&Connection { sender: ours, receiver: theirs }, Some(now)));
    let answer = || match receiver.recv_timeout(Duration::from_mins(2)).unwrap() {
        Message::Response(one) => (one.id, one.response_result.map_err(|error| error.code)),
        other => panic!("{other:?}"),
    };
    // By then all wait; at the second answer only the last two do.
    assert_eq!(answer().0, 1.into());
    assert_eq!(answer(), (2.into(), Ok(Value::Null)));
    for id in [999, 4] {
        sender.send(Notification::new("$/cancelRequest".to_owned(), json!({ "id": id })).into()).unwrap();
    }
    assert_eq!([answer(), answer()], [(3.into(), Ok(Value::Null)), (4.into(), Err(-32800))]);
    drop(sender);
    assert_eq!(server.join().unwrap(), Ended::Gone);
}

/// Addresses come as the client writes them: blanks and letters beyond ASCII in them are against the letter of RFC 3986 and no reason to
/// leave a text unread.
#[test]
fn a_text_whose_address_is_not_coded_is_checked_all_the_same() {
    let mut client = Client::new(&[FOLDER]);
    let address = file("caf\u{E9} [1] day.sline");
    client.open(&address, "2025-05-03 nobody\n  set camber LF -2 deg\n");
    assert_eq!(client.checks(&address), ["name-unknown"]);
    client.change(&address, None, "car heron \"Heron\"\n");
    assert_eq!(client.checks(&address), Vec::<String>::new());
    client.change(&address, None, "2025-05-03 nobody\n");
    client.wrong(&address);
    client.tell("textDocument/didClose", json!({ "textDocument": { "uri": address } }));
    client.until(|client| client.count(&address) == Some(0));
}

/// A change that cannot be read would leave another text here than is typed: whoever types is told, and what was said of it is taken back.
#[test]
fn a_change_that_cannot_be_read_is_said() {
    let mut client = Client::new(&[FOLDER]);
    let address = file("day.sline");
    client.open(&address, "2025-05-03 nobody\n");
    assert_eq!(client.checks(&address), ["name-unknown"]);
    let change =
        json!({ "textDocument": { "uri": address, "version": 9 }, "contentChanges": [{ "range": 1 }] });
    client.tell("textDocument/didChange", change);
    client.until(|client| !client.shown.is_empty() && client.count(&address) == Some(0));
    let said = format!("stringline: `{address}` is not checked as it is typed until it is opened again: ");
    assert!(client.shown[0].starts_with(&said), "{:?}", client.shown);
    // What is not about a text may be another protocol version's.
    client.tell("workspace/didChangeWorkspaceFolders", json!({ "nonsense": true }));
    client.open(&address, "2025-05-03 nobody\n");
    assert_eq!(client.checks(&address), ["name-unknown"]);
    assert_eq!(client.shown.len(), 1);
}

/// Only a client that says it can is asked to tell what changes on disk.
#[test]
fn ledgers_on_disk_are_watched_where_the_client_can() {
    for (able, wanted) in [(json!(true), 1), (json!(false), 0), (Value::Null, 0)] {
        let mut client = Client::before_initialize();
        let can = json!({ "workspace": { "didChangeWatchedFiles": { "dynamicRegistration": able } } });
        client.ask("initialize", json!({ "capabilities": can })).unwrap();
        client.tell("initialized", json!({}));
        client.ask("textDocument/nonsense", json!({})).unwrap_err();
        assert_eq!(client.asked.len(), wanted);
        for one in &client.asked {
            assert_eq!(one.method, "client/registerCapability");
            let wish = &one.params["registrations"][0];
            assert_eq!(wish["method"], "workspace/didChangeWatchedFiles");
            assert_eq!(wish["registerOptions"]["watchers"], json!([{ "globPattern": "**/*.sline" }]));
        }
        // The client's answer is no request.
        for one in client.asked.clone() {
            client.send(lsp_server::Response::new_ok(one.id, Value::Null));
        }
        client.ask("shutdown", Value::Null).unwrap();
    }
}

/// The program itself: `bytes` on its standard input, then nothing more. What it printed and its exit code.
fn program(bytes: &[u8]) -> (String, String, Option<i32>) {
    program_into(bytes, Stdio::piped())
}

fn program_into(bytes: &[u8], out: Stdio) -> (String, String, Option<i32>) {
    let mut program = Command::new(env!("CARGO_BIN_EXE_stringline"))
        .args(["editor", "--stdio"])
        .stdin(Stdio::piped())
        .stdout(out)
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    program.stdin.take().unwrap().write_all(bytes).unwrap();
    let done = program.wait_with_output().unwrap();
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (text(done.stdout), text(done.stderr), done.status.code())
}

fn framed(message: &Value) -> String {
    let body = message.to_string();
    format!("Content-Length: {}\r\n\r\n{body}", body.len())
}

#[test]
fn the_program_speaks_over_its_streams() {
    let words = [
        json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": { "capabilities": {} } }),
        json!({ "jsonrpc": "2.0", "id": 2, "method": "shutdown" }),
        json!({ "jsonrpc": "2.0", "method": "exit" }),
    ];
    let (out, err, code) = program(words.iter().map(framed).collect::<String>().as_bytes());
    assert_eq!((err.as_str(), code), ("", Some(0)));
    let answers: Vec<&str> = out.split("Content-Length: ").skip(1).collect();
    let [first, second] = answers.as_slice() else { panic!("{out}") };
    for (answer, id) in [(first, 1), (second, 2)] {
        let (length, body) = answer.split_once("\r\n\r\n").unwrap();
        assert_eq!(length.parse::<usize>().unwrap(), body.len());
        let body: Value = serde_json::from_str(body).unwrap();
        assert_eq!((&body["jsonrpc"], &body["id"]), (&json!("2.0"), &json!(id)));
    }
}

#[test]
fn a_client_that_dies_in_mid_message_leaves_no_process_behind() {
    let whole = framed(
        &json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": { "capabilities": {} } }),
    );
    let (_, err, code) = program(&whole.as_bytes()[..whole.len() - 9]);
    assert_eq!(code, Some(2), "{err}");
    assert!(err.starts_with("stringline: the editor's message could not be read: "), "{err}");
    // `exit` without `shutdown` is 1 by the protocol.
    let exit = framed(&json!({ "jsonrpc": "2.0", "method": "exit" }));
    let (_, err, code) = program(format!("{whole}{exit}").as_bytes());
    assert_eq!((err.as_str(), code), ("", Some(1)));
    // Between two messages there is nothing to say.
    let (_, err, code) = program(whole.as_bytes());
    assert_eq!((err.as_str(), code), ("", Some(2)));
}

#[cfg(target_os = "linux")]
#[test]
fn an_answer_that_does_not_arrive_is_said() {
    let full = std::fs::File::options().write(true).open("/dev/full").unwrap();
    let words = framed(
        &json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": { "capabilities": {} } }),
    );
    let (_, err, code) = program_into(words.as_bytes(), full.into());
    let said = "stringline: the result could not be written whole: no space left on device\n";
    assert_eq!((err.as_str(), code), (said, Some(2)));
}

/// What would steer a terminal or cannot be seen goes over the wire as an escape (RFC 8259), and arrives as it was typed.
#[test]
fn what_hides_is_escaped_on_the_wire() {
    let text = "car heron \"Heron\"\n2025-05-03 heron\n  sett\u{202E}x camber\n";
    let open = json!({ "textDocument": { "uri": file("a.sline"), "languageId": "sline", "version": 1, "text": text } });
    let words = [
        json!({ "jsonrpc": "2.0", "id": 1, "method": "initialize", "params": { "capabilities": {} } }),
        json!({ "jsonrpc": "2.0", "method": "textDocument/didOpen", "params": open }),
        json!({ "jsonrpc": "2.0", "id": 2, "method": "textDocument/documentSymbol", "params": { "textDocument": { "uri": file("a.sline") } } }),
    ];
    let (out, _, _) = program(words.iter().map(framed).collect::<String>().as_bytes());
    assert!(!out.contains('\u{202E}') && out.contains("sett\\u202ex camber"), "{out}");
}
