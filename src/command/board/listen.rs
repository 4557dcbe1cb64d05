//! Takes requests on this machine's own address and answers them with what the board has.
//!
//! Must not know how a book is read, nor what is on a page.

use super::event::{Event, Shown};
use crate::board::{Ask, Board, Door, POLICY, Refused, SCRIPT, STYLE, Want};
use anyhow::Context as _;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::Sender;
use std::time::Duration;
use tiny_http::{Header, Request, Response, Server};

/// A browser that waits for news is told after so long that there are none, and asks again.
const PATIENCE: Duration = Duration::from_secs(20);

/// So many requests are worked on at once: two for each tab of a busy browser.
const MOST: usize = 64;

/// Listens at a port of the loopback address, or at any that is free; which.
///
/// # Errors
/// When the port is somebody else's.
pub(super) fn bind(port: u16) -> anyhow::Result<(Server, u16)> {
    let server = Server::http(format!("127.0.0.1:{port}"))
        .map_err(|error| anyhow::anyhow!("cannot listen at port {port} of this machine: {error}"))?;
    let port = server.server_addr().to_ip().context("the system gave no port")?.port();
    Ok((server, port))
}

/// Who answers.
#[derive(Debug, Clone)]
pub(super) struct Listener {
    board: Arc<Board>,
    door: Door,
    events: Sender<Event>,
    busy: Arc<AtomicUsize>,
}

impl Listener {
    pub fn new(board: Arc<Board>, door: Door, events: Sender<Event>) -> Self {
        Self { board, door, events, busy: Arc::default() }
    }

    /// Answers every request, each on a thread of its own: some wait.
    pub fn serve(self, server: &Server) {
        loop {
            let request = match server.recv() {
                Ok(request) => request,
                Err(error) => {
                    let why = format!("the system lets nobody in any more: {error}");
                    let _ = self.events.send(Event::Ended(why));
                    return;
                }
            };
            if self.busy.fetch_add(1, Ordering::Relaxed) >= MOST {
                self.busy.fetch_sub(1, Ordering::Relaxed);
                refuse(request, Refused { status: 503, reason: "too many wait already" });
                continue;
            }
            let listener = self.clone();
            std::thread::spawn(move || {
                listener.answer(request);
                listener.busy.fetch_sub(1, Ordering::Relaxed);
            });
        }
    }

    fn answer(&self, request: Request) {
        let method = request.method().to_string();
        let headers: Vec<(&str, &str)> =
            request.headers().iter().map(|one| (one.field.as_str().as_str(), one.value.as_str())).collect();
        let ask = Ask { method: &method, target: request.url(), headers: &headers };
        match self.door.wants(&ask) {
            Err(refused) => refuse(request, refused),
            Ok(Want::Script) => send(request, 200, "text/javascript; charset=utf-8", SCRIPT),
            Ok(Want::Style) => send(request, 200, "text/css; charset=utf-8", STYLE),
            Ok(Want::Page(page)) => {
                let copy = self.board.copy(&page);
                send(request, if copy.found { 200 } else { 404 }, HTML, &copy.html);
            }
            Ok(Want::News { page, seen }) => self.news(request, &page, &seen),
        }
    }

    /// Who asks for what comes after a copy has painted that.
    fn news(&self, request: Request, page: &str, seen: &str) {
        if let Some(after) = self.board.painted(page, seen).and_then(|saved| saved.elapsed().ok()) {
            let _ = self.events.send(Event::Shown(Shown { page: page.to_owned(), after }));
        }
        match self.board.news(page, seen, PATIENCE) {
            Some(copy) => send(request, 200, HTML, &copy.html),
            None => send(request, 204, HTML, ""),
        }
    }
}

const HTML: &str = "text/html; charset=utf-8";

fn refuse(request: Request, Refused { status, reason }: Refused) {
    send(request, status, "text/plain; charset=utf-8", &format!("{reason}\n"));
}

fn send(request: Request, status: u16, kind: &str, body: &str) {
    let mut response = Response::from_string(body).with_status_code(status);
    let heads = [
        ("Content-Type", kind),
        ("Content-Security-Policy", POLICY),
        ("Cache-Control", "no-store"),
        ("Referrer-Policy", "no-referrer"),
        ("X-Content-Type-Options", "nosniff"),
        ("Cross-Origin-Resource-Policy", "same-origin"),
        ("Cross-Origin-Opener-Policy", "same-origin"),
    ];
    for (name, value) in heads.into_iter().chain((status == 405).then_some(("Allow", "GET, HEAD"))) {
        if let Ok(header) = Header::from_bytes(name, value) {
            response.add_header(header);
        }
    }
    // Whoever asked may have gone meanwhile.
    let _ = request.respond(response);
}
