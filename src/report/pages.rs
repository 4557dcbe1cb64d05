//! The template engine: templates inside the binary, strict about names, escaping by the `.html` of their names.
//!
//! Must not know what a view holds.

use super::Page;
use minijinja::syntax::SyntaxConfig;
use minijinja::value::Serde;
use minijinja::{Environment, UndefinedBehavior};

const TEMPLATES: &[(&str, &str)] = &[
    ("base.html", include_str!("../../report-templates/base.html")),
    ("parts.html", include_str!("../../report-templates/parts.html")),
    ("index.html", include_str!("../../report-templates/index.html")),
    ("season.html", include_str!("../../report-templates/season.html")),
    ("jobs.html", include_str!("../../report-templates/jobs.html")),
    ("timeline.html", include_str!("../../report-templates/timeline.html")),
    ("diff.html", include_str!("../../report-templates/diff.html")),
    ("figures.html", include_str!("../../report-templates/figures.html")),
    ("bench.html", include_str!("../../report-templates/bench.html")),
    ("charts/corners.svg", include_str!("../../report-templates/charts/corners.svg")),
    ("charts/drift.svg", include_str!("../../report-templates/charts/drift.svg")),
    ("charts/plot.svg", include_str!("../../report-templates/charts/plot.svg")),
    ("charts/strip.svg", include_str!("../../report-templates/charts/strip.svg")),
    ("style.css", include_str!("../../report-templates/style.css")),
];

/// The engine with all templates read.
pub(super) struct Engine {
    environment: Environment<'static>,
}

impl Engine {
    pub(super) fn new() -> Result<Self, String> {
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
    pub(super) fn page(
        &self,
        template: &str,
        name: &str,
        title: &str,
        view: &impl serde::Serialize,
    ) -> Result<Page, String> {
        let html = self
            .environment
            .get_template(template)
            .and_then(|template| template.render(Serde(view)))
            .map_err(|error| format!("page {name}: {error:#}"))?;
        Ok(Page { name: name.to_owned(), title: title.to_owned(), html })
    }
}
