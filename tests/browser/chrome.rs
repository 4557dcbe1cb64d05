//! A headless Chromium, driven by its own protocol over a pair of pipes (Chrome `DevTools` Protocol, version 1.3).
//!
//! Must not know what is on a page.

use serde_json::{Value, json};
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdin, Command, Stdio};
use std::sync::mpsc::{Receiver, RecvTimeoutError, Sender, channel};
use std::time::Duration;

/// An answer that takes longer is none.
const PATIENCE: Duration = Duration::from_mins(3);
/// So long a browser lives at most: one that hangs and takes no more words would be waited for without end.
const LIFE: Duration = Duration::from_mins(15);

/// A browser with one tab. It ends with its owner.
pub struct Chrome {
    /// Dropped, it calls off the end of an overlong life.
    #[expect(dead_code, reason = "held to be dropped")]
    alive: Sender<()>,
    child: Child,
    to: ChildStdin,
    from: Receiver<Value>,
    session: String,
    last: u64,
    events: Vec<Value>,
    /// Of its own, for this browser's files.
    pub folder: PathBuf,
}

/// What a page did while it was open, other than show itself.
#[derive(Debug, Default, PartialEq, Eq)]
pub struct Deeds {
    /// Console messages, uncaught errors and the browser's own complaints.
    pub said: Vec<String>,
    /// Requests but for the page itself.
    pub asked: Vec<String>,
    /// Dialogs opened.
    pub dialogs: Vec<String>,
}

impl Chrome {
    pub fn new(name: &str) -> Self {
        let folder = std::env::temp_dir().join(format!("stringline-browser-{}-{name}", std::process::id()));
        let _ = std::fs::remove_dir_all(&folder);
        std::fs::create_dir_all(&folder).unwrap();
        // The protocol's pipes are descriptors 3 and 4 of the browser; a shell makes them of the usual two.
        let mut child = Command::new("sh")
            .args(["-c", "exec chromium \"$@\" 3<&0 4>&1 </dev/null >/dev/null 2>&1", "sh"])
            .args([
                "--remote-debugging-pipe",
                "--headless",
                "--no-sandbox",
                "--disable-gpu",
                "--disable-quic",
            ])
            .args(["--no-first-run", "--disable-background-networking", "--disable-component-update"])
            .args(["--disable-sync", "--hide-scrollbars", "--force-color-profile=srgb"])
            .arg(format!("--user-data-dir={}", folder.join("profile").display()))
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .spawn()
            .expect("a shell");
        let to = child.stdin.take().unwrap();
        let mut out = BufReader::new(child.stdout.take().unwrap());
        let (sender, from) = channel();
        std::thread::spawn(move || {
            let mut bytes = Vec::new();
            while out.read_until(0, &mut bytes).is_ok_and(|n| n > 0) {
                bytes.pop();
                let Ok(message) = serde_json::from_slice(&bytes) else { break };
                if sender.send(message).is_err() {
                    break;
                }
                bytes.clear();
            }
        });
        let (alive, ended) = channel::<()>();
        let number = child.id().to_string();
        std::thread::spawn(move || {
            if ended.recv_timeout(LIFE) == Err(RecvTimeoutError::Timeout) {
                let _ = Command::new("kill").args(["-KILL", &number]).status();
            }
        });
        let mut chrome =
            Self { alive, child, to, from, session: String::new(), last: 0, events: Vec::new(), folder };
        let target = chrome.call("Target.createTarget", &json!({ "url": "about:blank" }));
        let attached =
            chrome.call("Target.attachToTarget", &json!({ "targetId": target["targetId"], "flatten": true }));
        attached["sessionId"].as_str().expect("a session").clone_into(&mut chrome.session);
        for domain in ["Page", "Runtime", "Network", "Log"] {
            chrome.call(&format!("{domain}.enable"), &json!({}));
        }
        chrome
    }

    /// Calls a method of the protocol and waits for its answer.
    pub fn call(&mut self, method: &str, parameters: &Value) -> Value {
        self.last += 1;
        let mut message = json!({ "id": self.last, "method": method, "params": parameters });
        if !self.session.is_empty() {
            message["sessionId"] = json!(self.session);
        }
        let mut bytes = serde_json::to_vec(&message).unwrap();
        bytes.push(0);
        self.to.write_all(&bytes).expect("chromium is installed and runs (Debian: apt-get install chromium)");
        loop {
            let message = self.next().unwrap_or_else(|| panic!("no answer to {method}"));
            if message["id"] == self.last {
                assert!(message["error"].is_null(), "{method}: {}", message["error"]);
                return message["result"].clone();
            }
            self.event(message);
        }
    }

    fn next(&mut self) -> Option<Value> {
        self.from.recv_timeout(PATIENCE).ok()
    }

    fn event(&mut self, message: Value) {
        if message["method"] == "Page.javascriptDialogOpening" {
            // A dialog holds everything up until it is answered; the answer's own answer may come at any time.
            let answer = json!({
                "id": 0, "method": "Page.handleJavaScriptDialog", "params": { "accept": true },
                "sessionId": self.session,
            });
            let mut bytes = serde_json::to_vec(&answer).unwrap();
            bytes.push(0);
            self.to.write_all(&bytes).unwrap();
        }
        self.events.push(message);
    }

    /// How wide the window is, and whether it is dark.
    pub fn window(&mut self, width: u32, dark: bool) {
        let size = json!({ "width": width, "height": 800, "deviceScaleFactor": 1, "mobile": false });
        self.call("Emulation.setDeviceMetricsOverride", &size);
        let scheme = if dark { "dark" } else { "light" };
        let media = json!({ "features": [{ "name": "prefers-color-scheme", "value": scheme }] });
        self.call("Emulation.setEmulatedMedia", &media);
    }

    /// Opens a file and waits until it stands there whole.
    pub fn open(&mut self, path: &Path) {
        self.visit(&format!("file://{}", path.display()));
    }

    /// Opens an address and waits until what is there stands whole.
    pub fn visit(&mut self, url: &str) {
        self.events.clear();
        self.call("Page.navigate", &json!({ "url": url }));
        while !self.events.iter().any(|event| event["method"] == "Page.loadEventFired") {
            let message = self.next().unwrap_or_else(|| panic!("{url} never loads"));
            self.event(message);
        }
    }

    /// The value of an expression in the page.
    pub fn value(&mut self, expression: &str) -> Value {
        let wanted = json!({ "expression": expression, "returnByValue": true, "awaitPromise": true });
        let answer = self.call("Runtime.evaluate", &wanted);
        assert!(answer["exceptionDetails"].is_null(), "{}", answer["exceptionDetails"]);
        answer["result"]["value"].clone()
    }

    /// What the page has done since it was opened.
    pub fn deeds(&mut self) -> Deeds {
        // Whatever it did before this answer has been told by then.
        self.value("new Promise((done) => setTimeout(() => done(0), 0))");
        let mut deeds = Deeds::default();
        for event in &self.events {
            let said = &event["params"];
            match event["method"].as_str().unwrap_or_default() {
                "Runtime.consoleAPICalled" | "Runtime.exceptionThrown" | "Log.entryAdded" => {
                    deeds.said.push(said.to_string());
                }
                "Network.requestWillBeSent" if said["type"] != "Document" => {
                    deeds.asked.push(said["request"]["url"].to_string());
                }
                "Page.javascriptDialogOpening" => deeds.dialogs.push(said["message"].to_string()),
                _ => {}
            }
        }
        deeds
    }

    /// The open page as a PDF on paper of so many inches.
    pub fn pdf(&mut self, inches: (f64, f64)) -> Vec<u8> {
        let paper = json!({ "paperWidth": inches.0, "paperHeight": inches.1, "printBackground": false });
        let answer = self.call("Page.printToPDF", &paper);
        base64(answer["data"].as_str().expect("a PDF"))
    }
}

impl Drop for Chrome {
    fn drop(&mut self) {
        let _ = self.to.write_all(b"{\"id\":0,\"method\":\"Browser.close\"}\0");
        for _ in 0..50 {
            if matches!(self.child.try_wait(), Ok(Some(_))) {
                break;
            }
            std::thread::sleep(Duration::from_millis(100));
        }
        let _ = self.child.kill();
        let _ = self.child.wait();
        let _ = std::fs::remove_dir_all(&self.folder);
    }
}

/// The bytes of a base64 text (RFC 4648, section 4).
pub fn base64(text: &str) -> Vec<u8> {
    let value = |byte: u8| match byte {
        b'A'..=b'Z' => Some(byte - b'A'),
        b'a'..=b'z' => Some(byte - b'a' + 26),
        b'0'..=b'9' => Some(byte - b'0' + 52),
        b'+' => Some(62),
        b'/' => Some(63),
        _ => None,
    };
    let digits: Vec<u8> = text.bytes().filter_map(value).collect();
    digits
        .chunks(4)
        .flat_map(|four| {
            let whole = four.iter().fold(0_u32, |whole, digit| whole << 6 | u32::from(*digit));
            let whole = whole << (6 * (4 - four.len()));
            let bytes = whole.to_be_bytes();
            bytes[1..four.len()].to_vec()
        })
        .collect()
}
