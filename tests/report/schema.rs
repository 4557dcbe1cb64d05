//! What a shop may lean on when it writes templates of its own: `report-templates/views/*.json`, the shape of the view behind
//! each page, and `report-templates/README.md`, which says it in words. Both are made from the views themselves.
//!
//! `UPDATE=1 cargo test --features schema --test all schema` writes them anew.

use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use stringline::report::{schemas, template_names};

const HEAD: &str = "\
# The pages' templates

`stringline report BOOK --out DIR --templates OWN` takes a template of the folder `OWN` in the place of the one of the same name here;
all others stay as they are. Copy the one that is to look otherwise and change it. A template of another name is there for
others to `include`, `import` or `extends`.

Templates are Jinja templates, read by [minijinja](https://docs.rs/minijinja). Everything from the book is escaped, in every template, and is
to stay so: `|safe` is only for a note's `html`, which is safe already. A name that the view does not have is an error; it is
told with file, line and words, and costs only the pages that need it. `|css` makes a text fit for a style sheet's quotes. Every number in a view is a text already, rounded and with
its unit beside it; where a plain number stands too, it is the same for sorting. Every `src` names the ledger line it comes from. A text that there is nothing to say for is empty.

| template | makes |
|---|---|
";

const MIDDLE: &str = "
`base.html` is what the pages extend: head, title, footer. `parts.html` holds macros that several pages use, `style.css` the looks of all.

## Views

The data behind each page's template, and the types it is made of. `views/*.json` say the same as JSON Schema (draft 2020-12); a field
that is not marked *may be none* is always there. This page is made from the views by a test: `UPDATE=1 cargo test --features schema --test all schema`.
";

/// What to do about two views of one name.
const ONE_NAME: &str = "give one of them #[schemars(rename = \"...\")]";

fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("report-templates")
}

fn stem(template: &str) -> &str {
    template.strip_suffix(".html").unwrap_or(template)
}

/// Holds a committed file to what it must say.
fn held(path: &Path, text: &str) {
    if std::env::var_os("UPDATE").is_some() {
        std::fs::create_dir_all(path.parent().unwrap()).unwrap();
        std::fs::write(path, text).unwrap();
    }
    let committed = std::fs::read_to_string(path).unwrap_or_default().replace("\r\n", "\n");
    assert!(
        committed == text,
        "{} is stale: UPDATE=1 cargo test --features schema --test all schema",
        path.display()
    );
}

#[test]
fn the_committed_schemas_are_those_of_the_views() {
    let mut names = BTreeSet::new();
    for (template, schema) in schemas() {
        let name = format!("{}.json", stem(template));
        let text = serde_json::to_string_pretty(&schema).unwrap() + "\n";
        held(&folder().join("views").join(&name), &text);
        assert!(names.insert(name), "{template} twice");
        assert!(template_names().any(|ours| ours == template), "{template} is no template");
    }
    let there: BTreeSet<String> = std::fs::read_dir(folder().join("views"))
        .unwrap()
        .map(|entry| entry.unwrap().file_name().into_string().unwrap())
        .collect();
    assert_eq!(there, names, "a schema of no page");
}

#[test]
fn the_page_says_what_the_views_hold() {
    held(&folder().join("README.md"), &page());
}

#[test]
fn every_file_that_looks_like_a_template_is_one() {
    let mut files = BTreeSet::new();
    for below in ["", "charts/"] {
        for entry in std::fs::read_dir(folder().join(below)).unwrap() {
            let name = entry.unwrap().file_name().into_string().unwrap();
            if [".html", ".svg", ".css"].iter().any(|ending| name.ends_with(ending)) {
                files.insert(format!("{below}{name}"));
            }
        }
    }
    assert_eq!(files, template_names().map(str::to_owned).collect());
}

fn page() -> String {
    let mut page = HEAD.to_owned();
    let mut types: BTreeMap<String, Value> = BTreeMap::new();
    for (template, schema) in schemas() {
        let root = schema.to_value();
        let title = root["title"].as_str().unwrap().to_owned();
        let _ = writeln!(
            page,
            "| [`{template}`]({template}) | {}, from [{title}](#{}) ([schema](views/{}.json)) |",
            words(&root),
            title.to_lowercase(),
            stem(template)
        );
        for (name, value) in root["$defs"].as_object().into_iter().flatten() {
            let same = types.insert(name.clone(), value.clone());
            assert!(same.is_none_or(|same| same == *value), "two types are called {name}: {ONE_NAME}");
            assert!(!name.ends_with(|c: char| c.is_ascii_digit()), "two types are called {name}: {ONE_NAME}");
        }
        assert!(types.insert(title.clone(), root).is_none(), "two types are called {title}");
    }
    page.push_str(MIDDLE);
    for (name, schema) in &types {
        let _ = write!(page, "\n### {name}\n\n{}\n", words(schema));
        if let Some(choices) = schema.get("oneOf").and_then(Value::as_array) {
            page.push_str("\n| value | |\n|---|---|\n");
            for choice in choices {
                let _ = writeln!(page, "| `{}` | {} |", choice["const"].as_str().unwrap(), words(choice));
            }
        }
        if let Some(fields) = schema.get("properties").and_then(Value::as_object) {
            page.push_str("\n| field | type | holds |\n|---|---|---|\n");
            for (field, value) in fields {
                let _ = writeln!(page, "| `{field}` | {} | {} |", sort(value), words(value));
            }
        }
    }
    page
}

/// What a schema's words are, on one line.
fn words(schema: &Value) -> String {
    let words = schema["description"].as_str().unwrap_or_default();
    let plain = words.split_whitespace().collect::<Vec<_>>().join(" ");
    plain.strip_suffix('.').filter(|cut| !cut.ends_with('.')).unwrap_or(&plain).replace('|', "\\|")
}

/// "text", "list of Row", "Corners, may be none".
fn sort(schema: &Value) -> String {
    if let Some(to) = schema.get("$ref").and_then(Value::as_str) {
        let name = to.rsplit('/').next().unwrap();
        return format!("[{name}](#{})", name.to_lowercase());
    }
    if let Some(choices) = schema.get("anyOf").and_then(Value::as_array) {
        assert_eq!(choices[1]["type"], "null", "{schema}");
        return format!("{}, may be none", sort(&choices[0]));
    }
    match &schema["type"] {
        Value::Array(both) => {
            assert_eq!(both[1], "null");
            format!("{}, may be none", plain(both[0].as_str().unwrap(), schema))
        }
        Value::String(one) => plain(one, schema),
        _ => panic!("no type: {schema}"),
    }
}

fn plain(one: &str, schema: &Value) -> String {
    match one {
        "string" => "text".to_owned(),
        "integer" => "whole number".to_owned(),
        "number" => "number".to_owned(),
        "boolean" => "yes or no".to_owned(),
        "array" => match schema.get("prefixItems").and_then(Value::as_array) {
            Some(items) => items.iter().map(sort).collect::<Vec<_>>().join(" and "),
            None => format!("list of {}", sort(&schema["items"])),
        },
        other => panic!("{other}: {schema}"),
    }
}
