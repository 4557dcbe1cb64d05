//! `stringline board`: the pages in a browser, kept at what was saved last.
//!
//! The one command that listens: on this machine's own address, to readers who have the token of this run. It writes nothing. One thread reads the book
//! again when it was saved and tells what happened; each request has one of its own.

mod event;
mod listen;
mod source;
mod watch;

use super::CLEAN;
use super::output::Output;
use crate::board::{Board, Door};
use crate::source::shown;
use event::{Event, Shown};
use source::Source;
use std::sync::Arc;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::{Duration, Instant};
use watch::Watch;

/// Show the pages in a browser, and keep them at what was saved last
#[derive(Debug, clap::Args)]
#[command(
    after_help = "The pages are those of `report`, each made when it is looked at; nothing is written. When a ledger is saved, what changed on the page \
                  that stands open is marked, and a strip at its foot says what is wrong in the book. Only this machine's own programs can read \
                  them, and only with the address that is printed: keep it to yourself. Ctrl-C ends it.\n\n\
                  Example:\n  stringline board ledgers/2026\n  stringline board ledgers/2026 --page bittern-now.html"
)]
pub struct Arguments {
    #[command(flatten)]
    book: source::OfBook,
    /// The page to open
    #[arg(long, value_name = "FILE", default_value = "index.html")]
    page: String,
    /// The port to listen at; any that is free without it
    #[arg(long, value_name = "NUMBER", default_value_t = 0, hide_default_value = true)]
    port: u16,
    /// Print the address, and open no browser
    #[arg(long)]
    no_browser: bool,
}

/// An editor saves in several steps; so long after the last of them the book is read.
const SETTLE: Duration = Duration::from_millis(5);
/// Where somebody writes on and on, it is read all the same.
const LONGEST: Duration = Duration::from_millis(100);

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let source = Source::new(arguments.book.clone(), output.now);
    let stand = source.read()?;
    anyhow::ensure!(
        source::has_page(&stand, &arguments.page),
        "the book has no page {}; index.html leads to all of them",
        arguments.page
    );
    let (sender, events) = mpsc::channel();
    let saved = sender.clone();
    let mut watch = Watch::new(move || {
        let _ = saved.send(Event::Saved);
    })?;
    watch.follow(&source.folders(&stand.compiled.files))?;
    if let Some(templates) = source.templates() {
        watch.whole(templates)?;
    }
    let server = listen::bind(arguments.port)?;
    let mut chance = [0; 16];
    getrandom::fill(&mut chance)
        .map_err(|error| anyhow::anyhow!("the system gives no random numbers: {error}"))?;
    let door = Door::new(server.1, chance);
    let address = door.address(&arguments.page);
    let counts = source::counts(&stand);
    let board = Arc::new(Board::new(stand));
    let listener = listen::Listener::new(Arc::clone(&board), door, sender);
    std::thread::spawn(move || listener.serve(&server.0));
    output.result(&format!("{address}\n"));
    output.counted(&format!("the pages of {}; {counts}; Ctrl-C ends it\n", shown(&source.root())));
    output.push();
    if !arguments.no_browser
        && let Err(error) = open::that_detached(&address)
    {
        output.message(&format!(
            "stringline: no browser could be opened ({}); open the address yourself\n",
            crate::source::reason(&error)
        ));
    }
    // Since when the disk has not been quiet.
    let mut since: Option<Instant> = None;
    loop {
        let event = match since {
            Some(since) if since.elapsed() >= LONGEST => Err(RecvTimeoutError::Timeout),
            Some(_) => events.recv_timeout(SETTLE),
            None => events.recv().map_err(RecvTimeoutError::from),
        };
        match event {
            Ok(Event::Saved) => {
                since.get_or_insert_with(Instant::now);
            }
            Ok(Event::Shown(Shown { page, after })) => {
                output.counted(&format!("{page} shows it, {} ms after it was saved\n", after.as_millis()));
            }
            Ok(Event::Ended(why)) => anyhow::bail!("{why}"),
            Err(RecvTimeoutError::Timeout) => {
                since = again(&source, &board, &mut watch, output).then(Instant::now);
            }
            Err(RecvTimeoutError::Disconnected) => return Ok(CLEAN),
        }
        output.push();
    }
}

/// Reads the book again, where it is otherwise. Whether that must be done once more: a folder has come in which something may have been saved already.
fn again(source: &Source, board: &Board, watch: &mut Watch, output: &mut Output<'_>) -> bool {
    let read = source.again();
    let folders = match read.as_ref().map(|read| &read.stand) {
        Some(Ok(stand)) => Some(source.folders(&stand.compiled.files)),
        // Who watched it has gone with it: it may be made again where it was.
        _ => source.above_lost().map(|above| vec![above]),
    };
    let more = match folders.map(|folders| watch.follow(&folders)) {
        Some(Err(error)) => {
            output.message(&format!("stringline: {error:#}\n"));
            false
        }
        Some(Ok(new)) => new,
        None => false,
    };
    let Some(read) = read else { return more };
    let said = read.stand.as_ref().map_or_else(Clone::clone, source::counts);
    board.lay(read.stand, read.saved);
    output.counted(&format!("saved: {said}\n"));
    more
}
