//! `stringline editor`: speaks the Language Server Protocol over standard input and output.
//!
//! Messages are read on a thread of their own and worked on by another; this one writes, through the one door there is.

use super::output::Output;
use super::{CLEAN, ERRORS, TROUBLE};
use crate::editor::{Ended, serve};
use lsp_server::{Connection, Message};
use std::sync::mpsc;

/// Talk with an editor: mistakes and cures while typing
#[derive(Debug, clap::Args)]
#[command(
    after_help = "An editor starts it and speaks the Language Server Protocol with it over standard input and output; \
                  nobody types to it. The reference has what to put into an editor's settings.\n\n\
                  Example:\n  stringline editor"
)]
pub struct Arguments {
    /// Over standard input and output; there is no other way, and most clients say so
    #[arg(long)]
    stdio: bool,
}

/// A message as it goes over the wire.
#[derive(serde::Serialize)]
struct Wire {
    jsonrpc: &'static str,
    #[serde(flatten)]
    message: Message,
}

pub(super) fn run(arguments: &Arguments, output: &mut Output<'_>) -> anyhow::Result<u8> {
    let Arguments { stdio: _ } = arguments;
    let (ours, client) = Connection::memory();
    let Connection { sender, receiver } = client;
    let (broken, heard) = mpsc::channel();
    std::thread::spawn(move || {
        let mut input = std::io::stdin().lock();
        loop {
            match Message::read(&mut input) {
                Ok(Some(message)) => {
                    if sender.send(message).is_err() {
                        return;
                    }
                }
                Ok(None) => return,
                Err(error) => {
                    let _ = broken.send(error.to_string());
                    return;
                }
            }
        }
    });
    let now = output.now;
    let server = std::thread::spawn(move || serve(&ours, now));
    while let Ok(message) = receiver.recv() {
        output.wire(&crate::visible::json_line(&Wire { jsonrpc: "2.0", message }));
    }
    let ended = server.join().map_err(|_| anyhow::anyhow!("the conversation with the editor broke off"))?;
    if let Ok(reason) = heard.try_recv() {
        anyhow::bail!("the editor's message could not be read: {reason}");
    }
    Ok(match ended {
        Ended::Orderly => CLEAN,
        // The protocol's own: `exit` without `shutdown` before it.
        Ended::Abrupt => ERRORS,
        Ended::Gone => TROUBLE,
    })
}
