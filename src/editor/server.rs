//! The conversation with one client: what came in, in order; what goes out.
//!
//! Must not know how an answer is made. Whatever waits is taken in before anything is compiled, so that of many changes only the
//! newest text is, and a request that was called back is not answered twice.

use super::desk::{Buffer, Desk};
use super::said::{Changed, Closed, Folders, Opened};
use super::text::Text;
use super::{address, answers, offer, pages, told};
use crate::source::{Aside, reason};
use lsp_server::{Connection, ErrorCode, Message, Notification, Request, RequestId, Response};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::{Path, PathBuf};

/// How a conversation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The client asked to shut down, then to exit.
    Orderly,
    /// The client asked to exit without shutting down.
    Abrupt,
    /// The client went away.
    Gone,
}

/// How far the conversation is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Phase {
    /// Before `initialize`.
    New,
    /// At work.
    Open,
    /// After `shutdown`.
    Closing,
}

/// What was told of a file.
struct Told {
    /// Of which book.
    root: PathBuf,
    /// To which address.
    address: String,
    /// Of which version, where it is open.
    version: Option<i32>,
    list: Vec<lsp_types::Diagnostic>,
}

struct Server<'a> {
    connection: &'a Connection,
    desk: Desk,
    phase: Phase,
    /// Whether the client can be asked to tell what changes on disk.
    watches: bool,
    /// Where pages are put that are opened from an editor.
    aside: Option<Aside>,
    /// How many of them the client was asked to open.
    wishes: u32,
    waiting: VecDeque<Message>,
    /// Requests that were called back before they were answered.
    called_back: BTreeSet<RequestId>,
    /// What was told of each file last.
    published: BTreeMap<PathBuf, Told>,
    /// Reasons for which a book could not be opened, that were said.
    said: BTreeMap<PathBuf, String>,
}

/// Talks with one client until it goes. `now` is the instant of the run, `None` for the clock.
#[must_use]
pub fn serve(connection: &Connection, now: Option<jiff::Timestamp>) -> Ended {
    let mut server = Server {
        connection,
        desk: Desk::new(now),
        phase: Phase::New,
        watches: false,
        aside: None,
        wishes: 0,
        waiting: VecDeque::new(),
        called_back: BTreeSet::new(),
        published: BTreeMap::new(),
        said: BTreeMap::new(),
    };
    loop {
        // What came meanwhile may call back what waits.
        server.take_in();
        let Some(message) = server.waiting.pop_front() else {
            server.publish();
            if !server.waiting.is_empty() || server.take_in() {
                continue;
            }
            match connection.receiver.recv() {
                Ok(message) => server.note(message),
                Err(_) => return Ended::Gone,
            }
            continue;
        };
        match message {
            Message::Request(request) => server.request(request),
            Message::Notification(one) if one.method == "exit" => {
                return if server.phase == Phase::Closing { Ended::Orderly } else { Ended::Abrupt };
            }
            Message::Notification(one) if server.phase == Phase::Open => server.notification(one),
            Message::Notification(_) | Message::Response(_) => {}
        }
    }
}

impl Server<'_> {
    /// Takes in whatever came. Whether anything did.
    fn take_in(&mut self) -> bool {
        let before = self.waiting.len();
        while let Ok(message) = self.connection.receiver.try_recv() {
            self.note(message);
        }
        self.waiting.len() > before
    }

    fn note(&mut self, message: Message) {
        if let Message::Notification(one) = &message
            && one.method == "$/cancelRequest"
        {
            let id = one.params.get("id").cloned().and_then(|id| serde_json::from_value(id).ok());
            let waits = |id: &RequestId| {
                self.waiting.iter().any(|one| matches!(one, Message::Request(one) if one.id == *id))
            };
            self.called_back.extend(id.filter(waits));
            return;
        }
        self.waiting.push_back(message);
    }

    fn send(&self, message: impl Into<Message>) {
        // A client that is gone wants no more.
        let _ = self.connection.sender.send(message.into());
    }

    fn refuse(&self, id: RequestId, code: ErrorCode, words: &str) {
        self.send(Response::new_err(id, code as i32, words.to_owned()));
    }

    fn request(&mut self, request: Request) {
        if self.called_back.remove(&request.id) {
            return self.refuse(request.id, ErrorCode::RequestCanceled, "called back");
        }
        match (self.phase, request.method.as_str()) {
            (Phase::New, "initialize") => {
                self.begin(&request.params);
                self.phase = Phase::Open;
                self.send(Response::new_ok(request.id, offer::answer()));
            }
            (Phase::New, _) => {
                self.refuse(request.id, ErrorCode::ServerNotInitialized, "`initialize` comes first");
            }
            (Phase::Closing, _) => {
                self.refuse(request.id, ErrorCode::InvalidRequest, "only `exit` comes after `shutdown`");
            }
            (Phase::Open, "initialize") => {
                self.refuse(request.id, ErrorCode::InvalidRequest, "`initialize` comes once");
            }
            (Phase::Open, "shutdown") => {
                self.phase = Phase::Closing;
                self.send(Response::new_ok(request.id, Value::Null));
            }
            (Phase::Open, "workspace/executeCommand") => match self.open_page(&request.params) {
                Ok(()) => self.send(Response::new_ok(request.id, Value::Null)),
                Err(words) => self.refuse(request.id, ErrorCode::RequestFailed, &words),
            },
            (Phase::Open, _) => self.answer(request),
        }
    }

    fn answer(&mut self, request: Request) {
        let Some(answer) = answers::of(&request.method) else {
            let words = format!("`{}` is no request of this server", request.method);
            return self.refuse(request.id, ErrorCode::MethodNotFound, &words);
        };
        let address = request.params.pointer("/textDocument/uri").and_then(Value::as_str);
        let Some(address) = address else {
            return self.refuse(request.id, ErrorCode::InvalidParams, "which text is meant is not said");
        };
        let path = address::path(address);
        let root = self.desk.root(&path);
        if let Err(reason) = self.desk.compiled(&root) {
            return self.refuse(request.id, ErrorCode::RequestFailed, &reason);
        }
        match answer(&self.desk, &root, &path, &request.params) {
            Ok(value) => self.send(Response::new_ok(request.id, value)),
            Err(words) => self.refuse(request.id, ErrorCode::RequestFailed, &words),
        }
    }

    /// Writes a page aside and asks the client to open it.
    fn open_page(&mut self, params: &Value) -> Result<(), String> {
        let asked = params.pointer("/arguments/0").unwrap_or(&Value::Null);
        let address = asked.get("uri").and_then(Value::as_str);
        let ours = params.get("command").and_then(Value::as_str) == Some(pages::COMMAND);
        let Some(address) = address.filter(|_| ours) else {
            return Err("This is no command of this server.".to_owned());
        };
        let root = self.desk.root(&address::path(address));
        let compiled = self.desk.compiled(&root)?.ok_or("No text of this book is open.")?;
        let (which, html) = pages::made(compiled, asked)?;
        let cannot = |error: std::io::Error| format!("The page cannot be written: {}", reason(&error));
        let aside = match &self.aside {
            Some(aside) => aside,
            None => self.aside.insert(Aside::new().map_err(cannot)?),
        };
        self.wishes += 1;
        // A page that is still looked at stays what it is.
        let path = aside.put(&format!("{which}-{}.html", self.wishes), &html).map_err(cannot)?;
        let id = RequestId::from(format!("page-{}", self.wishes));
        let wish = json!({ "uri": address::of(&path), "external": true });
        self.send(Request::new(id, "window/showDocument".to_owned(), wish));
        Ok(())
    }

    /// The roots that the client opened, and what it can do.
    fn begin(&mut self, params: &Value) {
        let watches = params.pointer("/capabilities/workspace/didChangeWatchedFiles/dynamicRegistration");
        self.watches = watches.and_then(Value::as_bool).unwrap_or(false);
        let shows = params.pointer("/capabilities/window/showDocument/support");
        self.desk.shows = shows.and_then(Value::as_bool).unwrap_or(false);
        let folders = params.get("workspaceFolders").and_then(Value::as_array).map(Vec::as_slice);
        for folder in folders.unwrap_or_default() {
            if let Some(address) = folder.get("uri").and_then(Value::as_str) {
                self.desk.open_root(address);
            }
        }
        if folders.is_none_or(<[Value]>::is_empty)
            && let Some(address) = params.get("rootUri").and_then(Value::as_str)
        {
            self.desk.open_root(address);
        }
    }

    fn notification(&mut self, one: Notification) {
        let method = one.method.clone();
        let address = one.params.pointer("/textDocument/uri").and_then(Value::as_str).map(str::to_owned);
        let Err(reason) = self.noted(one) else { return };
        // A notification has no answer; but whoever types must not believe that it is checked.
        if !method.starts_with("textDocument/did") {
            return;
        }
        if let Some(address) = &address {
            self.desk.close(address);
        }
        let which = address.map_or_else(|| "A text".to_owned(), |address| format!("`{address}`"));
        self.show(&format!(
            "{which} is not checked as it is typed until it is opened again: what the editor said of it cannot be read ({method}: {reason})"
        ));
    }

    /// Says something to whoever types.
    fn show(&self, words: &str) {
        let shown = json!({ "type": 1, "message": format!("stringline: {words}") });
        self.send(Notification::new("window/showMessage".to_owned(), shown));
    }

    fn noted(&mut self, one: Notification) -> serde_json::Result<()> {
        match one.method.as_str() {
            "textDocument/didOpen" => {
                let opened = serde_json::from_value::<Opened>(one.params)?.text_document;
                self.desk.put(Buffer { address: opened.uri, version: opened.version, text: opened.text });
            }
            "textDocument/didChange" => self.changed(serde_json::from_value(one.params)?),
            "textDocument/didClose" => {
                let closed: Closed = serde_json::from_value(one.params)?;
                self.desk.close(&closed.text_document.uri);
            }
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => self.desk.all_stale(),
            "workspace/didChangeWorkspaceFolders" => {
                let folders: Folders = serde_json::from_value(one.params)?;
                for folder in &folders.event.removed {
                    self.desk.close_root(&folder.uri);
                }
                for folder in &folders.event.added {
                    self.desk.open_root(&folder.uri);
                }
            }
            "initialized" => self.watch(),
            _ => {}
        }
        Ok(())
    }

    /// Asks to be told of ledgers that change on disk, where the client takes such a wish.
    fn watch(&self) {
        if self.watches {
            let watchers = json!([{ "globPattern": "**/*.sline" }]);
            let one = json!({
                "id": "ledgers",
                "method": "workspace/didChangeWatchedFiles",
                "registerOptions": { "watchers": watchers },
            });
            let id = RequestId::from("ledgers".to_owned());
            let wish = json!({ "registrations": [one] });
            self.send(Request::new(id, "client/registerCapability".to_owned(), wish));
        }
    }

    fn changed(&mut self, changed: Changed) {
        let address = changed.text_document.uri;
        let Some(buffer) = self.desk.buffer(&address::path(&address)) else { return };
        let mut text = buffer.text.clone();
        for change in changed.content_changes {
            text = match change.range {
                Some(range) => Text::new(&text).replaced(range, &change.text),
                None => change.text,
            };
        }
        self.desk.put(Buffer { address, version: changed.text_document.version, text });
    }

    /// Compiles what changed and tells what is wrong in it, unless something newer has come meanwhile.
    fn publish(&mut self) {
        for root in self.desk.untold() {
            let all = match self.desk.compiled(&root) {
                Ok(Some(_)) => {
                    self.said.remove(&root);
                    self.desk.book(&root).map(|compiled| told::of_book(&self.desk, &root, compiled))
                }
                Ok(None) => None,
                Err(reason) => {
                    if self.said.insert(root.clone(), reason.clone()).is_none_or(|before| before != reason) {
                        self.show(&reason);
                    }
                    None
                }
            };
            // What was typed while this was compiled makes it old: it is not told, the newer is.
            self.take_in();
            let text = |one: &Message| matches!(one, Message::Notification(one) if one.method.starts_with("textDocument/did"));
            if self.waiting.iter().any(text) {
                return;
            }
            self.tell(&root, all.unwrap_or_default());
            self.desk.was_told(&root);
        }
    }

    /// Sends what is new: a file that is as it was told before is not told of again, but for a newer version of an open one.
    fn tell(&mut self, root: &Path, all: BTreeMap<PathBuf, Vec<lsp_types::Diagnostic>>) {
        let of_book =
            self.published.iter().filter(|(path, told)| told.root == *root && !all.contains_key(*path));
        let gone: Vec<PathBuf> = of_book.map(|(path, _)| path.clone()).collect();
        for path in gone {
            if let Some(told) = self.published.remove(&path) {
                self.unsay(&told);
            }
        }
        for (path, list) in all {
            let version = self.desk.buffer(&path).map(|buffer| buffer.version);
            // A client that opens a file may write its address otherwise than it was told under.
            let address = self.desk.address_of(&path);
            let before = match self.published.remove(&path) {
                Some(told) if told.address != address => {
                    self.unsay(&told);
                    None
                }
                before => before,
            };
            let same = before.as_ref().map_or(list.is_empty(), |told| told.list == list);
            let newer = version.is_some() && before.is_none_or(|told| told.version != version);
            if !same || newer {
                self.send_list(&address, version, &list);
            }
            self.published.insert(path, Told { root: root.to_owned(), address, version, list });
        }
    }

    /// What was wrong in a file is so no more.
    fn unsay(&self, told: &Told) {
        if !told.list.is_empty() {
            self.send_list(&told.address, None, &[]);
        }
    }

    fn send_list(&self, address: &str, version: Option<i32>, list: &[lsp_types::Diagnostic]) {
        let mut told = json!({ "uri": address, "diagnostics": list });
        if let (Some(version), Some(told)) = (version, told.as_object_mut()) {
            told.insert("version".to_owned(), json!(version));
        }
        self.send(Notification::new("textDocument/publishDiagnostics".to_owned(), told));
    }
}
