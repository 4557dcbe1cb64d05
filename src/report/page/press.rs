//! The template engine: templates inside the binary or a shop's own in their place, strict about names, escaping everything.
//!
//! Must not know what a view holds, nor where a shop keeps its templates.

use crate::report::{style, typeset};
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{AutoEscape, Environment, Error, ErrorKind, UndefinedBehavior};
use std::collections::BTreeMap;

/// A template by its name.
macro_rules! templates {
    ($($name:literal,)*) => {
        &[$(($name, include_str!(concat!("../../../report-templates/", $name)))),*]
    };
}

/// What filling in a shop's template may cost, in the engine's own count: about one for each step of a template and one for
/// each 64 bytes that it writes or reads. A template that goes round for ever ends here with a message, in seconds. Counted
/// on the demo book with our own templates, a car's season takes 370 000 (800 for each of its lines) and a sheet 0.6 for each
/// byte of its view. A view grows with its book, so a page may take a hundred for each byte of it as JSON, whatever the size
/// of the book, and this much more, which is forty seasons.
const FUEL: u64 = 1 << 24;
const FUEL_OF_A_BYTE: u64 = 100;

/// Every template.
pub(in crate::report) const TEMPLATES: &[(&str, &str)] = templates![
    "base.html",
    "above.html",
    "above.css",
    "parts.html",
    "style.css",
    "index.html",
    "season.html",
    "season.css",
    "jobs.html",
    "legality.html",
    "money.html",
    "timeline.html",
    "winter.html",
    "figures.html",
    "crash.html",
    "diff.html",
    "load.html",
    "monday.html",
    "nav.html",
    "engine.html",
    "power.html",
    "spare.html",
    "now.html",
    "plan.html",
    "best.html",
    "tried.html",
    "ready.html",
    "sheet.html",
    "sheet.css",
    "bench.html",
    "alignment.html",
    "card.html",
    "event.html",
    "event.css",
    "flat.css",
    "client.html",
    "costs.html",
    "due.html",
    "lives.html",
    "part.html",
    "usage.html",
    "due.css",
    "letter.css",
    "lives.css",
    "handover.html",
    "charts/bars.svg",
    "charts/corners.svg",
    "charts/drift.svg",
    "charts/ladder.svg",
    "charts/life.svg",
    "charts/plot.svg",
    "charts/rates.svg",
    "charts/runs.svg",
    "charts/stack.svg",
    "charts/strip.svg",
    "charts/usage.svg",
    "charts/year.svg",
];

/// A shop's own templates, by name: `season.html`, `charts/plot.svg`. One of a name of ours takes its place.
pub type Own = BTreeMap<String, String>;

/// The engine with all templates read.
pub(in crate::report) struct Press<'a> {
    environment: Environment<'a>,
    /// Templates that cannot be read, and why.
    broken: BTreeMap<&'a str, Fault>,
    /// Whether there are templates that are not ours, so that one may go round for ever.
    watched: bool,
}

/// What is wrong with a template.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Fault {
    /// The template.
    pub template: String,
    /// The line, from 1; 0 where it is not known.
    pub line: usize,
    /// What is wrong, and with which words of the line.
    pub reason: String,
}

impl Fault {
    /// In words, with where the template is.
    #[must_use]
    pub fn told(&self, place: &str) -> String {
        let line = if self.line > 0 { format!(":{}", self.line) } else { String::new() };
        format!("{place}{line}: {}", self.reason)
    }
}

/// A page that could not be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failed {
    /// The page's file name.
    pub page: String,
    /// Why.
    pub fault: Fault,
}

impl<'a> Press<'a> {
    pub fn new(own: &'a Own) -> Self {
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        environment.set_auto_escape_callback(|_| AutoEscape::Html);
        super::filters::add(&mut environment);
        // Errors then say which words of the template they are about.
        environment.set_debug(true);
        if let Ok(syntax) = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build() {
            environment.set_syntax(syntax);
        }
        let ours = TEMPLATES.iter().filter(|(name, _)| !own.contains_key(*name)).copied();
        let theirs = own.iter().map(|(name, text)| (name.as_str(), text.as_str()));
        let mut broken = BTreeMap::new();
        for (name, text) in ours.chain(theirs) {
            if let Err(error) = environment.add_template(name, text) {
                broken.insert(name, fault(&error, name));
            }
        }
        Self { environment, broken, watched: !own.is_empty() }
    }

    /// Fills a template with a view.
    pub fn page(
        &self,
        template: &'static str,
        file: &str,
        title: String,
        view: &impl serde::Serialize,
    ) -> Result<Page, Failed> {
        let fuelled = self.watched.then(|| {
            let mut environment = self.environment.clone();
            environment.set_fuel(Some(FUEL + FUEL_OF_A_BYTE * size(view)));
            environment
        });
        let environment = fuelled.as_ref().unwrap_or(&self.environment);
        let html = environment.get_template(template).and_then(|template| template.render(Serde(view)));
        html.map(|html| Page {
            name: file.to_owned(),
            title,
            template,
            html: style::worn(typeset::signs(&html)),
        })
        .map_err(|error| Failed { page: file.to_owned(), fault: self.fault(&error, template) })
    }

    /// The fault at the root of an error. A template that is not there because it could not be read has a fault of its own.
    fn fault(&self, error: &Error, template: &str) -> Fault {
        let mut root = error;
        while let Some(deeper) =
            std::error::Error::source(root).and_then(<dyn std::error::Error>::downcast_ref)
        {
            root = deeper;
        }
        let missing = root.kind() == ErrorKind::TemplateNotFound;
        let named = |name: &&&str| root.detail().is_some_and(|words| words.contains(&format!("{name:?}")));
        match self.broken.keys().find(named).filter(|_| missing).and_then(|name| self.broken.get(name)) {
            Some(fault) => fault.clone(),
            None => fault(root, template),
        }
    }
}

/// An error in plain words.
fn fault(error: &Error, template: &str) -> Fault {
    let words = error.range().and_then(|range| error.template_source()?.get(range)).unwrap_or_default();
    let words = words.split_whitespace().collect::<Vec<_>>().join(" ");
    let at = if words.is_empty() { String::new() } else { format!(", at `{words}`") };
    let reason = match (error.kind(), error.detail()) {
        (ErrorKind::OutOfFuel, _) => {
            format!("it goes on and on, far longer than the page has anything to say{at}")
        }
        (ErrorKind::UndefinedError, _) => format!("the page's view has no such value{at}"),
        (kind, Some(detail)) => format!("{kind}: {detail}{at}"),
        (kind, None) => format!("{kind}{at}"),
    };
    Fault { template: error.name().unwrap_or(template).to_owned(), line: error.line().unwrap_or(0), reason }
}

/// Bytes of a view as JSON, counted and thrown away.
fn size(view: &impl serde::Serialize) -> u64 {
    struct Count(u64);
    impl std::io::Write for Count {
        fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
            self.0 += bytes.len() as u64;
            Ok(bytes.len())
        }

        fn flush(&mut self) -> std::io::Result<()> {
            Ok(())
        }
    }
    let mut count = Count(0);
    // A view is plain data: what of it could not be written would not be filled in either.
    let _ = serde_json::to_writer(&mut count, view);
    count.0
}

/// One page: a file name and its HTML.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Page {
    /// File name, safe on every system.
    pub name: String,
    /// What it is, in a few words.
    pub title: String,
    /// The template it was made with.
    pub template: &'static str,
    /// The whole document.
    pub html: String,
}
