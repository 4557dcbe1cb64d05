//! Notes, from Markdown to HTML that cannot do harm.
//!
//! Raw HTML is shown as the text it is, an image becomes its alternative text, and a link goes only to http, https or
//! mailto, or to a relative place; any other is shown as its words. Headings become bold lines, so that a note never
//! disturbs the page's outline. Must not know the book.

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd, html};

/// The HTML of a note.
#[must_use]
pub fn html(note: &str) -> String {
    let options = Options::ENABLE_TABLES | Options::ENABLE_STRIKETHROUGH;
    let mut links: Vec<bool> = Vec::new();
    let events = Parser::new_ext(note, options).filter_map(|event| match event {
        Event::Html(text) | Event::InlineHtml(text) => Some(Event::Text(text)),
        Event::Start(Tag::Image { .. }) | Event::End(TagEnd::Image) => None,
        Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
            let safe = is_safe(&dest_url);
            links.push(safe);
            safe.then_some(Event::Start(Tag::Link { link_type, dest_url, title, id }))
        }
        Event::End(TagEnd::Link) => links.pop().unwrap_or(false).then_some(Event::End(TagEnd::Link)),
        Event::Start(Tag::HtmlBlock | Tag::Heading { .. }) => Some(Event::Start(Tag::Paragraph)),
        Event::End(TagEnd::HtmlBlock | TagEnd::Heading(_)) => Some(Event::End(TagEnd::Paragraph)),
        other => Some(other),
    });
    let mut out = String::new();
    html::push_html(&mut out, events);
    out
}

/// Whether a link may be followed: http, https, mailto, or a relative place without any scheme.
fn is_safe(target: &str) -> bool {
    // Browsers drop blanks and control characters inside a scheme: `java\nscript:` is a scheme to them.
    let plain: String =
        target.chars().filter(|c| !c.is_whitespace() && !c.is_control()).collect::<String>().to_lowercase();
    if plain.starts_with("//") || plain.starts_with('\\') || plain.starts_with("/\\") {
        return false;
    }
    let end = plain.find(['/', '?', '#']).unwrap_or(plain.len());
    match plain.get(..end).and_then(|start| start.split_once(':')) {
        Some((scheme, _)) => matches!(scheme, "http" | "https" | "mailto"),
        None => !plain.is_empty(),
    }
}
