//! The conversation with an editor, in process over a pair of connected channels: what a client sends, what it gets.

mod addresses;
mod books;
mod conversation;
mod edits;
mod hints;
mod kept;
mod moments;
mod names;
mod neovim;
mod offered;
mod pages;
mod positions;
mod requests;

use lsp_server::{Connection, Message, Notification, Request, RequestId, Response};
use serde_json::{Value, json};
use std::collections::BTreeMap;
use std::thread::JoinHandle;
use std::time::Duration;
use stringline::editor::{Ended, serve};

/// A folder that is not on this machine: the book is what is open.
const FOLDER: &str = "file:///no-such-folder/book";

/// The run's instant.
const NOW: &str = "2025-06-20T12:00:00Z";

/// A client, and the server it talks with.
pub struct Client {
    connection: Option<Connection>,
    server: Option<JoinHandle<Ended>>,
    last: i32,
    version: i32,
    /// What was told of each file last, and of which version.
    pub told: BTreeMap<String, (Option<i64>, Value)>,
    /// What was said to whoever types.
    pub shown: Vec<String>,
    /// What the server asked of the client.
    pub asked: Vec<Request>,
}

impl Client {
    /// One that opened these folders.
    pub fn new(roots: &[&str]) -> Self {
        let mut client = Self::before_initialize();
        let folders: Vec<Value> = roots.iter().map(|root| json!({ "uri": root, "name": root })).collect();
        let answer = client.ask("initialize", json!({ "capabilities": {}, "workspaceFolders": folders }));
        assert_eq!(answer.unwrap()["capabilities"]["positionEncoding"], "utf-16");
        client.tell("initialized", json!({}));
        client
    }

    pub fn before_initialize() -> Self {
        let (ours, theirs) = Connection::memory();
        let now = NOW.parse().unwrap();
        let server = std::thread::spawn(move || serve(&theirs, Some(now)));
        Self {
            connection: Some(ours),
            server: Some(server),
            last: 0,
            version: 0,
            told: BTreeMap::new(),
            shown: Vec::new(),
            asked: Vec::new(),
        }
    }

    pub fn send(&self, message: impl Into<Message>) {
        self.connection.as_ref().unwrap().sender.send(message.into()).unwrap();
    }

    pub fn tell(&mut self, method: &str, params: Value) {
        self.send(Notification::new(method.to_owned(), params));
    }

    /// Sends a request without waiting; its number.
    pub fn begin(&mut self, method: &str, params: Value) -> RequestId {
        self.last += 1;
        let id = RequestId::from(self.last);
        self.send(Request::new(id.clone(), method.to_owned(), params));
        id
    }

    /// Sends a request and waits for its answer; a refusal is its code and words.
    pub fn ask(&mut self, method: &str, params: Value) -> Result<Value, (i32, String)> {
        let id = self.begin(method, params);
        self.answer(&id)
    }

    pub fn answer(&mut self, id: &RequestId) -> Result<Value, (i32, String)> {
        loop {
            match self.next() {
                Message::Response(Response { id: of, response_result }) if of == *id => {
                    return response_result.map_err(|error| (error.code, error.message));
                }
                other => self.note(&other),
            }
        }
    }

    fn next(&self) -> Message {
        let wait = Duration::from_mins(2);
        self.connection.as_ref().unwrap().receiver.recv_timeout(wait).expect("the server says something")
    }

    fn note(&mut self, message: &Message) {
        if let Message::Request(one) = message {
            self.asked.push(one.clone());
        }
        let Message::Notification(one) = message else { return };
        if one.method == "textDocument/publishDiagnostics" {
            let address = one.params["uri"].as_str().unwrap().to_owned();
            let told = (one.params["version"].as_i64(), one.params["diagnostics"].clone());
            self.told.insert(address, told);
        }
        if one.method == "window/showMessage" {
            self.shown.push(one.params["message"].as_str().unwrap().to_owned());
        }
    }

    pub fn open(&mut self, address: &str, text: &str) {
        self.version += 1;
        let document =
            json!({ "uri": address, "languageId": "sline", "version": self.version, "text": text });
        self.tell("textDocument/didOpen", json!({ "textDocument": document }));
    }

    /// Replaces the whole text, or a range of it.
    pub fn change(&mut self, address: &str, range: Option<Value>, text: &str) {
        self.version += 1;
        let mut change = json!({ "text": text });
        if let Some(range) = range {
            change["range"] = range;
        }
        let document = json!({ "uri": address, "version": self.version });
        self.tell("textDocument/didChange", json!({ "textDocument": document, "contentChanges": [change] }));
    }

    /// What is wrong in a file, once the server has told of the newest version.
    pub fn wrong(&mut self, address: &str) -> Vec<Value> {
        let newest = i64::from(self.version);
        loop {
            if let Some((Some(version), list)) = self.told.get(address)
                && *version == newest
            {
                return list.as_array().unwrap().clone();
            }
            let message = self.next();
            self.note(&message);
        }
    }

    /// Waits for what the server says unasked, until something holds.
    pub fn until(&mut self, holds: impl Fn(&Self) -> bool) {
        while !holds(self) {
            let message = self.next();
            self.note(&message);
        }
    }

    /// How much is wrong in a file, as it was told last.
    pub fn count(&self, address: &str) -> Option<usize> {
        self.told.get(address).and_then(|(_, list)| list.as_array()).map(Vec::len)
    }

    /// The names of the checks that speak of a file.
    pub fn checks(&mut self, address: &str) -> Vec<String> {
        self.wrong(address).iter().map(|one| one["code"].as_str().unwrap().to_owned()).collect()
    }

    /// A request about the place where some words stand in a text, and so many bytes on.
    pub fn at(
        &mut self,
        method: &str,
        (address, text): (&str, &str),
        words: &str,
        more: &Value,
    ) -> Result<Value, (i32, String)> {
        let mut params = json!({ "textDocument": { "uri": address }, "position": place(text, words) });
        for (key, value) in more.as_object().into_iter().flatten() {
            params[key] = value.clone();
        }
        self.ask(method, params)
    }

    /// A request about a whole file.
    pub fn of(&mut self, method: &str, address: &str) -> Value {
        self.ask(method, json!({ "textDocument": { "uri": address } })).unwrap()
    }

    pub fn exit(mut self) -> Ended {
        self.tell("exit", Value::Null);
        self.server.take().unwrap().join().unwrap()
    }

    /// Goes away without a word.
    pub fn die(mut self) -> Ended {
        self.connection = None;
        self.server.take().unwrap().join().unwrap()
    }
}

/// The position of the first `^` that is left out of some words: `camb^er LF` stands after `camb`.
pub fn place(text: &str, words: &str) -> Value {
    let mark = words.find('^').expect("where in the words");
    let plain = words.replace('^', "");
    let at = text.find(&plain).unwrap_or_else(|| panic!("`{plain}` stands nowhere")) + mark;
    let before = &text[..at];
    let line = before.matches('\n').count();
    let column = before.rsplit('\n').next().unwrap().encode_utf16().count();
    json!({ "line": line, "character": column })
}

pub fn file(name: &str) -> String {
    format!("{FOLDER}/{name}")
}
