//! A shop's own templates, and what is said when one does not fit.

use super::command::{ends, folder, report};
use std::fs;
use std::path::Path;

const BOOK: &str = "car a \"A\"\n2026-05-01 a\n  set wing-angle 5 deg\n";

/// Runs the report with a folder of templates; exit code, messages, and the pages written.
fn with(name: &str, templates: &[(&str, &str)]) -> (String, String, Vec<(String, String)>) {
    let (folder, book) = folder(name, BOOK);
    let own = folder.join("own");
    for (name, text) in templates {
        let path = own.join(name);
        fs::create_dir_all(path.parent().unwrap()).unwrap();
        fs::write(path, text).unwrap();
    }
    let out = folder.join("out");
    let (out_typed, own_typed) = (out.display().to_string(), own.display().to_string());
    let (code, _, said) = report(&[&book, "--out", &out_typed, "--templates", &own_typed]);
    (code, said.replace(&own_typed, "OWN"), all(&out))
}

fn all(out: &Path) -> Vec<(String, String)> {
    let Ok(entries) = fs::read_dir(out) else { return Vec::new() };
    let mut pages: Vec<_> = entries
        .map(|entry| {
            let path = entry.unwrap().path();
            let text = fs::read_to_string(&path).unwrap();
            (path.file_name().unwrap().to_str().unwrap().to_owned(), text)
        })
        // The report's own list of what it wrote is no page.
        .filter(|(name, _)| !name.starts_with('.'))
        .collect();
    pages.sort();
    pages
}

#[test]
fn one_template_is_the_shops_and_the_others_stay() {
    let season = "{% extends \"base.html\" %}{% block main %}<p>Our own {{ frame.title }}{% include \"mark.svg\" %}</p>{% endblock %}";
    let (code, said, pages) = with("own", &[("season.html", season), ("mark.svg", "<b>&</b>")]);
    assert_eq!((code, said.as_str()), (ends(0), ""));
    assert_eq!(pages.len(), 6);
    assert!(pages.iter().any(|(_, page)| page.contains("<p>Our own A: season 2026<b>&</b></p>")));
    assert!(pages.iter().any(|(_, page)| page.contains("Where each car is now")));
}

#[test]
fn what_is_typed_stays_words_in_a_shops_template_of_any_name() {
    let book = BOOK.replace("\"A\"", "\"<i onx=1>\"");
    let (folder, book) = folder("own-hostile", &book);
    let own = folder.join("own");
    fs::create_dir_all(&own).unwrap();
    fs::write(own.join("season.html"), "{% include 'x.svg' %}{% include 'x.css' %}").unwrap();
    fs::write(own.join("x.svg"), "{{ frame.title }}").unwrap();
    fs::write(own.join("x.css"), "{{ frame.title }}").unwrap();
    let out = folder.join("out");
    report(&[&book, "--out", &out.display().to_string(), "--templates", &own.display().to_string()]);
    let html = fs::read_to_string(out.join("a-2026.html")).unwrap();
    assert_eq!(html.matches("&lt;i onx=1&gt;").count(), 2, "{html}");
    assert!(!html.contains("<i onx"));
}

#[test]
fn a_fault_names_the_file_the_line_and_the_words_and_costs_only_its_pages() {
    for (season, said) in [
        (
            "one\n{{ frame.titel }}\n",
            "OWN/season.html:2: the page's view has no such value, at `frame.titel`",
        ),
        (
            "\n\n{% if nothing.at.all %}{% endif %}",
            "OWN/season.html:3: the page's view has no such value, at `nothing",
        ),
        ("{% for x in setup %}\n{{ x.name }}", "OWN/season.html:2: syntax error"),
        ("{{ frame.title|shout }}", "OWN/season.html:1: unknown filter: filter shout is unknown, at `shout`"),
        ("{% include \"none.html\" %}", "OWN/season.html:1: template not found: "),
    ] {
        let (code, message, pages) = with("fault", &[("season.html", season)]);
        assert_eq!(code, ends(2), "{season}");
        assert!(message.contains(said), "{season}: {message}");
        assert!(message.contains("without it there is no a-2026.html"), "{message}");
        assert_eq!(message.lines().count(), 1, "{message}");
        assert_eq!(
            pages.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(),
            ["a-alignment.html", "a-now.html", "a-spares.html", "index.html", "lacks.html"]
        );
    }
}

#[test]
fn a_shared_template_that_cannot_be_read_is_one_message() {
    let (code, message, pages) = with("shared", &[("base.html", "{{ one\n")]);
    assert_eq!(code, ends(2));
    assert!(message.contains("OWN/base.html:"), "{message}");
    assert!(message.contains("without it there is no index.html, lacks.html, a-2026.html"), "{message}");
    assert_eq!(message.lines().count(), 1, "{message}");
    assert!(pages.is_empty());
}

#[test]
fn a_folder_that_is_no_folder_of_templates_is_said() {
    let (code, message, _) = with("idle", &[("sesaon.html", "x")]);
    assert_eq!(code, ends(0));
    assert!(message.contains("sesaon.html takes the place of none of ours"), "{message}");
    assert!(message.contains("did you mean `season.html`?"), "{message}");
    let (folder, book) = folder("no-templates", BOOK);
    let out = folder.join("out").display().to_string();
    let none = folder.join("none").display().to_string();
    let (code, _, message) = report(&[&book, "--out", &out, "--templates", &none]);
    assert_eq!(code, ends(2));
    assert!(message.contains("cannot read the templates in"), "{message}");
    fs::create_dir_all(&none).unwrap();
    fs::write(Path::new(&none).join("base.html"), b"\xff\xfe").unwrap();
    let (code, _, message) = report(&[&book, "--out", &out, "--templates", &none]);
    assert_eq!(code, ends(2));
    assert!(message.contains("cannot read the template ") && message.contains("base.html"), "{message}");
    assert!(!Path::new(&out).exists());
}
