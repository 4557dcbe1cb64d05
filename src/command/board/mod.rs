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
use std::time::Duration;
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
    let latest = listener.latest();
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
    while let Ok(event) = events.recv() {
        match event {
            Event::Saved => {
                settle(&events, output);
                let Some(read) = source.again() else { continue };
                let said = match &read.stand {
                    Ok(stand) => {
                        if let Err(error) = watch.follow(&source.folders(&stand.compiled.files)) {
                            output.message(&format!("stringline: {error:#}\n"));
                        }
                        source::counts(stand)
                    }
                    Err(trouble) => trouble.clone(),
                };
                latest.saved(read.saved);
                board.lay(read.stand);
                output.counted(&format!("saved: {said}\n"));
            }
            Event::Shown(shown) => told(&shown, output),
            Event::Ended(why) => anyhow::bail!("{why}"),
        }
        output.push();
    }
    Ok(CLEAN)
}

/// Waits until the disk is quiet.
fn settle(events: &mpsc::Receiver<Event>, output: &mut Output<'_>) {
    loop {
        match events.recv_timeout(SETTLE) {
            Ok(Event::Saved) => {}
            Ok(Event::Shown(shown)) => told(&shown, output),
            Ok(Event::Ended(_)) | Err(RecvTimeoutError::Timeout | RecvTimeoutError::Disconnected) => return,
        }
    }
}

fn told(shown: &Shown, output: &mut Output<'_>) {
    output.counted(&format!("{} shows it, {} ms after it was saved\n", shown.page, shown.after.as_millis()));
}
