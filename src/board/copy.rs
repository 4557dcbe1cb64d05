//! The copy of a page that is handed out: the page, byte for byte, with the strip, its style and its script beside it.
//!
//! Only a copy has a script; a page that is written has none. Must not know what stands on the page.

use super::{SCRIPT_NAME, STYLE_NAME};
use crate::source::fingerprint;
use minijinja::HtmlEscape;
use std::fmt::Write as _;

/// A page as it is handed out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copy {
    /// The document.
    pub html: String,
    /// A copy of the same page with the same print is the same copy.
    pub print: String,
    /// Whether there is such a page.
    pub found: bool,
}

impl Copy {
    /// Of a page, with what the strip says.
    pub(super) fn new(page: &str, html: &str, found: bool, lines: &[String]) -> Self {
        let mut said = String::new();
        for line in lines {
            let _ = write!(said, "<p>{}</p>", HtmlEscape(line));
        }
        let print = fingerprint([html.as_bytes(), said.as_bytes()]);
        let style = format!("<link rel=\"stylesheet\" href=\"{STYLE_NAME}\">\n");
        let strip = format!(
            "<aside id=\"follow\" aria-label=\"The book as it was saved last\" data-page=\"{}\" data-seen=\"{print}\">\
             <div class=\"said\">{said}</div><p class=\"told\" role=\"status\"></p></aside>\n<script src=\"{SCRIPT_NAME}\"></script>\n",
            HtmlEscape(page)
        );
        // A shop's own template may leave them out; a browser takes what stands behind the document for the end of its body.
        let head = html.find("</head>").unwrap_or(0);
        let body = html.rfind("</body>").unwrap_or(html.len()).max(head);
        let cut = |from: usize, to: usize| html.get(from..to).unwrap_or_default();
        let html = [cut(0, head), &style, cut(head, body), &strip, cut(body, html.len())].concat();
        Self { html, print, found }
    }
}

/// A page of one sentence, where there is no other.
pub(super) fn bare(sentence: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, \
         initial-scale=1\">\n<title>No such page</title>\n</head>\n<body>\n<main>\n<h1>No such page</h1>\n<p>{}</p>\n\
         <p><a href=\"index.html\">The first page</a></p>\n</main>\n</body>\n</html>\n",
        HtmlEscape(sentence)
    )
}
