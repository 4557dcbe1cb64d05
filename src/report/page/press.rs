//! The template engine: templates inside the binary, strict about names, escaping by the `.html` of their names.
//!
//! Must not know what a view holds.

use crate::report::Page;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{Environment, UndefinedBehavior};

/// A template by its name.
macro_rules! templates {
    ($($name:literal,)*) => {
        &[$(($name, include_str!(concat!("../../../report-templates/", $name)))),*]
    };
}

/// Every template.
const TEMPLATES: &[(&str, &str)] = templates![
    "base.html",
    "parts.html",
    "style.css",
    "index.html",
    "season.html",
    "timeline.html",
    "figures.html",
    "diff.html",
    "bench.html",
    "charts/corners.svg",
    "charts/drift.svg",
    "charts/plot.svg",
    "charts/strip.svg",
];

/// The engine with all templates read.
pub(in crate::report) struct Press {
    environment: Environment<'static>,
}

/// A page that could not be made.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Failed {
    /// The page's file name.
    pub page: String,
    /// What is wrong with its template.
    pub reason: String,
}

impl Press {
    pub fn new() -> Result<Self, String> {
        let mut environment = Environment::new();
        environment.set_undefined_behavior(UndefinedBehavior::Strict);
        let syntax = SyntaxConfig::builder().trim_blocks(true).lstrip_blocks(true).build();
        environment.set_syntax(syntax.map_err(|error| format!("template syntax: {error:#}"))?);
        for (name, text) in TEMPLATES {
            environment.add_template(name, text).map_err(|error| format!("template {name}: {error:#}"))?;
        }
        Ok(Self { environment })
    }

    /// Fills a template with a view.
    pub fn page(
        &self,
        template: &str,
        file: &str,
        title: String,
        view: &impl serde::Serialize,
    ) -> Result<Page, Failed> {
        let html = self.environment.get_template(template).and_then(|template| template.render(Serde(view)));
        html.map(|html| Page { name: file.to_owned(), title, html })
            .map_err(|error| Failed { page: file.to_owned(), reason: format!("{error:#}") })
    }
}
