//! How a conversation begins, goes wrong and ends.

use super::{Client, FOLDER, file};
use serde_json::{Value, json};
use std::io::Write as _;
use std::process::{Command, Stdio};
use stringline::editor::Ended;

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
    assert_eq!(client.die(), Ended::Abrupt);
}

/// Each request is answered once, a called-back one too: with the code that the protocol has for it, or with its answer where that was
/// on its way already.
#[test]
fn a_request_that_is_called_back_is_answered_once() {
    let mut client = Client::new(&[FOLDER]);
    client.open(&file("a.sline"), "car heron \"Heron\"\n");
    let asked = json!({ "textDocument": { "uri": file("a.sline") } });
    for _ in 0..20 {
        let id = client.begin("textDocument/documentSymbol", asked.clone());
        client.tell("$/cancelRequest", json!({ "id": 999 }));
        client.tell("$/cancelRequest", serde_json::to_value(json!({ "id": id })).unwrap());
        if let Err((code, _)) = client.answer(&id) {
            assert_eq!(code, -32800);
        }
        assert_eq!(client.of("textDocument/documentSymbol", &file("a.sline")).as_array().unwrap().len(), 1);
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
