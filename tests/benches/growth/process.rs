//! One command on one book, as a process: its own processor time, and an end to it.
//!
//! Must not know what is in the book.

use nix::sys::resource::{UsageWho, getrusage};
use std::path::PathBuf;
use std::process::{Command as Process, Stdio};

/// Kilobytes of memory that a run may have.
const KILOBYTES: u32 = 6_000_000;

/// A command as it is measured.
pub struct Command {
    pub word: &'static str,
    arguments: &'static [&'static str],
    /// Whether `--quick` measures it too.
    pub quick: bool,
}

/// `BOOK` and `OUT` stand for the folders.
pub const COMMANDS: [Command; 5] = [
    Command { word: "check", arguments: &["check", "BOOK"], quick: true },
    Command { word: "state", arguments: &["state", "BOOK", "car-0"], quick: true },
    Command { word: "due", arguments: &["due", "BOOK"], quick: true },
    Command { word: "costs", arguments: &["costs", "BOOK"], quick: true },
    Command { word: "report", arguments: &["report", "BOOK", "--out", "OUT"], quick: false },
];

/// What came of a run.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ran {
    /// Processor seconds, user and system, over all its threads.
    Took(f64),
    /// It was ended at the given seconds or ran out of memory.
    TooLong,
    /// It could not do what it was asked for.
    Refused,
}

/// A folder that holds one book at a time and is removed with its owner.
pub struct Folder {
    at: PathBuf,
    binary: PathBuf,
}

impl Folder {
    /// Of the program that was built along, or of another one.
    pub fn new(binary: Option<&str>) -> Self {
        let folder = std::env::temp_dir().join(format!("stringline-growth-{}", std::process::id()));
        std::fs::create_dir_all(folder.join("book")).expect("a folder");
        let built = env!("CARGO_BIN_EXE_stringline");
        Self { at: folder, binary: PathBuf::from(binary.unwrap_or(built)) }
    }

    pub fn hold(&self, text: &str) {
        std::fs::write(self.at.join("book/growth.sline"), text).expect("a file");
    }

    /// Runs a command on the book, for so many processor seconds at most.
    pub fn run(&self, command: &Command, seconds: u32) -> Ran {
        let out = self.at.join("out");
        let _ = std::fs::remove_dir_all(&out);
        let limits = format!("ulimit -t {seconds}; ulimit -v {KILOBYTES}; exec \"$0\" \"$@\"");
        let before = spent();
        let status = Process::new("sh")
            .args(["-c", &limits])
            .arg(&self.binary)
            .args(command.arguments.iter().map(|word| match *word {
                "BOOK" => self.at.join("book"),
                "OUT" => out.clone(),
                word => PathBuf::from(word),
            }))
            .stdin(Stdio::null())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .status()
            .expect("a shell");
        let took = spent() - before;
        let _ = std::fs::remove_dir_all(&out);
        match status.code() {
            // A book with errors is said with 1; there are none, but that is the test's to hold.
            Some(0 | 1) => Ran::Took(took),
            Some(2) => Ran::Refused,
            _ => Ran::TooLong,
        }
    }
}

impl Drop for Folder {
    fn drop(&mut self) {
        let _ = std::fs::remove_dir_all(&self.at);
    }
}

/// Processor seconds of every process that was started and has ended.
fn spent() -> f64 {
    let usage = getrusage(UsageWho::RUSAGE_CHILDREN).expect("usage");
    let seconds = |time: nix::sys::time::TimeVal| time.tv_sec() as f64 + time.tv_usec() as f64 / 1e6;
    seconds(usage.user_time()) + seconds(usage.system_time())
}
