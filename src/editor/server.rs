//! The conversation with one client: what came in, in order; what goes out.
//!
//! Must not know how an answer is made. Whatever waits is taken in before anything is compiled, so that of many changes only the
//! newest text is, and a request that was called back is not answered twice.

use super::desk::{Buffer, Desk};
use super::text::Text;
use super::{address, answers, offer, told};
use lsp_server::{Connection, ErrorCode, Message, Notification, Request, RequestId, Response};
use lsp_types::{
    DidChangeTextDocumentParams, DidChangeWorkspaceFoldersParams, DidCloseTextDocumentParams,
    DidOpenTextDocumentParams,
};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet, VecDeque};
use std::path::{Path, PathBuf};

/// How a conversation ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Ended {
    /// The client asked to shut down, then to exit.
    Orderly,
    /// The client went away, or asked to exit without shutting down.
    Abrupt,
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
    /// Of which version, where it is open.
    version: Option<i32>,
    list: Vec<lsp_types::Diagnostic>,
}

struct Server<'a> {
    connection: &'a Connection,
    desk: Desk,
    phase: Phase,
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
        waiting: VecDeque::new(),
        called_back: BTreeSet::new(),
        published: BTreeMap::new(),
        said: BTreeMap::new(),
    };
    loop {
        if server.waiting.is_empty() && server.take_in() {
            continue;
        }
        let Some(message) = server.waiting.pop_front() else {
            server.publish();
            if !server.waiting.is_empty() || server.take_in() {
                continue;
            }
            match connection.receiver.recv() {
                Ok(message) => server.note(message),
                Err(_) => return Ended::Abrupt,
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
        if self.waiting.is_empty() {
            self.take_in();
        }
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

    /// The roots that the client opened.
    fn begin(&mut self, params: &Value) {
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
        // What cannot be read is nobody's: a notification has no answer.
        let _ = self.noted(one);
    }

    fn noted(&mut self, one: Notification) -> serde_json::Result<()> {
        match one.method.as_str() {
            "textDocument/didOpen" => {
                let opened = serde_json::from_value::<DidOpenTextDocumentParams>(one.params)?.text_document;
                let address = opened.uri.as_str().to_owned();
                self.desk.put(Buffer { address, version: opened.version, text: opened.text });
            }
            "textDocument/didChange" => self.changed(serde_json::from_value(one.params)?),
            "textDocument/didClose" => {
                let closed: DidCloseTextDocumentParams = serde_json::from_value(one.params)?;
                self.desk.close(closed.text_document.uri.as_str());
            }
            "textDocument/didSave" | "workspace/didChangeWatchedFiles" => self.desk.all_stale(),
            "workspace/didChangeWorkspaceFolders" => {
                let folders: DidChangeWorkspaceFoldersParams = serde_json::from_value(one.params)?;
                for folder in &folders.event.removed {
                    self.desk.close_root(folder.uri.as_str());
                }
                for folder in &folders.event.added {
                    self.desk.open_root(folder.uri.as_str());
                }
            }
            _ => {}
        }
        Ok(())
    }

    fn changed(&mut self, changed: DidChangeTextDocumentParams) {
        let address = changed.text_document.uri.as_str();
        let Some(buffer) = self.desk.buffer(&address::path(address)) else { return };
        let mut text = buffer.text.clone();
        for change in changed.content_changes {
            text = match change.range {
                Some(range) => Text::new(&text).replaced(range, &change.text),
                None => change.text,
            };
        }
        self.desk.put(Buffer { address: address.to_owned(), version: changed.text_document.version, text });
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
                        let shown = json!({ "type": 1, "message": format!("stringline: {reason}") });
                        self.send(Notification::new("window/showMessage".to_owned(), shown));
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
            if self.published.remove(&path).is_some_and(|told| !told.list.is_empty()) {
                self.send_list(&path, None, &[]);
            }
        }
        for (path, list) in all {
            let version = self.desk.buffer(&path).map(|buffer| buffer.version);
            let before = self.published.get(&path);
            let same = before.map_or(list.is_empty(), |told| told.list == list);
            let newer = version.is_some() && before.is_none_or(|told| told.version != version);
            if !same || newer {
                self.send_list(&path, version, &list);
            }
            self.published.insert(path, Told { root: root.to_owned(), version, list });
        }
    }

    fn send_list(&self, path: &Path, version: Option<i32>, list: &[lsp_types::Diagnostic]) {
        let mut told = json!({ "uri": self.desk.address_of(path), "diagnostics": list });
        if let (Some(version), Some(told)) = (version, told.as_object_mut()) {
            told.insert("version".to_owned(), json!(version));
        }
        self.send(Notification::new("textDocument/publishDiagnostics".to_owned(), told));
    }
}
