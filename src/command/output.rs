//! Where a command writes: results and messages, and whether a person reads them on a terminal.
//!
//! This is the one door to a terminal. What goes through it is made visible (`crate::visible`), so that nothing typed into a
//! book, a file's name or an argument steers one. Only this file writes to the two streams; `tests/command/door.rs` reads
//! the source for it.

use super::TROUBLE;
use super::home::folder;
use super::watched::Watched;
use crate::diagnostics::terminal;
use crate::source::{Disk, Files, LoadTrouble, World};
use crate::visible;
use std::io::Write;
use std::process::ExitCode;

/// What wipes a terminal's line away.
const WIPE: &str = "\r\u{1b}[K";

/// The two streams.
pub struct Output<'a> {
    /// Results.
    pub out: &'a mut dyn Write,
    /// Messages.
    pub err: &'a mut dyn Write,
    /// Whether messages may be coloured.
    pub color: bool,
    /// Whether messages go to a terminal, where a line may be drawn over.
    pub terminal: bool,
    /// Whether counts of what was done are left out.
    pub quiet: bool,
    /// Columns of the terminal, or 100.
    pub width: usize,
    /// The instant of the run, for tests; `None` for the clock.
    pub now: Option<jiff::Timestamp>,
}

impl std::fmt::Debug for Output<'_> {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.debug_struct("Output")
            .field("color", &self.color)
            .field("width", &self.width)
            .finish_non_exhaustive()
    }
}

impl Output<'_> {
    /// The same streams, as they were asked for on the command line.
    pub(super) fn asked(&mut self, color: bool, quiet: bool) -> Output<'_> {
        let terminal = self.terminal && !quiet;
        Output { out: &mut *self.out, err: &mut *self.err, color, terminal, quiet, ..*self }
    }

    /// Writes a result. A closed pipe is not an error of ours.
    pub fn result(&mut self, text: &str) {
        self.out(&visible::text(text));
    }

    /// Writes words as a shell splits them: the vertical tab between them stays.
    pub fn words(&mut self, text: &str) {
        let visible: Vec<String> = text.split('\u{b}').map(|word| visible::text(word).to_string()).collect();
        self.out(&visible.join("\u{b}"));
    }

    /// Says how much was done, where nobody asked for quiet.
    pub fn counted(&mut self, text: &str) {
        if !self.quiet {
            self.result(text);
        }
    }

    /// Writes a page as a result.
    pub fn page(&mut self, html: &str) {
        self.out(&visible::html(html));
    }

    /// Writes a message to a program, of one line of JSON in which nothing hides, and sends it off: its length in bytes, a blank line, itself.
    pub fn wire(&mut self, json: &str) {
        self.out(&format!("Content-Length: {}\r\n\r\n{json}", json.len()));
        let _ = self.out.flush();
    }

    /// Sends off what was written so far, where the command goes on.
    pub fn push(&mut self) {
        let _ = self.out.flush();
        let _ = self.err.flush();
    }

    /// Writes a message.
    pub fn message(&mut self, text: &str) {
        self.err(&visible::text(text));
    }

    /// Writes messages that may be coloured: the colours stay.
    pub fn colored(&mut self, messages: &terminal::Colored) {
        self.err(&visible::styled(messages.text()));
    }

    /// Draws a line over the one that stands there, without a line end; an empty one wipes it away.
    pub fn over(&mut self, line: &str) {
        self.err(&format!("{WIPE}{}", visible::text(line)));
    }

    fn out(&mut self, visible: &str) {
        let _ = self.out.write_all(visible.as_bytes());
    }

    fn err(&mut self, visible: &str) {
        let _ = self.err.write_all(visible.as_bytes());
    }
}

/// Does a command's work on streams that remember whether what was written arrived. What did not is said, and ends with
/// [`TROUBLE`]; a closed pipe wants no more and is nothing to speak of.
pub(super) fn watched(output: &mut Output<'_>, work: impl FnOnce(&mut Output<'_>) -> ExitCode) -> ExitCode {
    let (mut out, mut err) = (Watched::new(&mut *output.out), Watched::new(&mut *output.err));
    let code = work(&mut Output { out: &mut out, err: &mut err, ..*output });
    let lost = out.end();
    if let Some(reason) = &lost {
        let nowhere = &mut std::io::sink();
        Output { out: nowhere, err: &mut err, ..*output }
            .message(&format!("stringline: the result could not be written whole: {reason}\n"));
    }
    if lost.is_some() || err.end().is_some() { ExitCode::from(TROUBLE) } else { code }
}

/// A format for messages or results.
#[derive(Debug, Clone, Copy, PartialEq, Eq, clap::ValueEnum)]
pub enum Format {
    /// For people.
    Text,
    /// For programs.
    Json,
}

/// The files that were given, or those of the current folder, at the run's instant.
#[must_use]
pub fn files_world(given: Option<&std::path::Path>, output: &Output<'_>) -> At<Disk> {
    At {
        world: Disk { root: given.unwrap_or_else(|| std::path::Path::new(".")).to_owned() },
        now: output.now,
    }
}

/// A world whose clock may be set by a test.
#[derive(Debug)]
pub struct At<W> {
    /// The world.
    pub world: W,
    /// The instant; `None` for the world's own.
    pub now: Option<jiff::Timestamp>,
}

impl<W: World> World for At<W> {
    fn load(&self) -> Result<(Files, Vec<LoadTrouble>), String> {
        self.world.load()
    }

    fn now(&self) -> jiff::Timestamp {
        self.now.unwrap_or_else(|| self.world.now())
    }

    fn commit(&self) -> Option<String> {
        self.world.commit()
    }
}

/// Compiles the book in a folder, or the one that a file lives in.
///
/// # Errors
/// When it cannot be opened.
pub fn compile(given: Option<&std::path::Path>, output: &Output<'_>) -> anyhow::Result<crate::Compiled> {
    crate::compile(&At { world: Disk { root: folder(given) }, now: output.now }).map_err(anyhow::Error::msg)
}
