//! Which file answers which request.
//!
//! Must not know how.

use super::desk::Desk;
use super::leaf::Leaf;
use super::{colours, completion, fixes, formatting, hints, hover, lens, names, outline};
use lsp_types::{Position, Range};
use serde_json::{Value, json};
use std::path::Path;

/// Answers one request about a text; an error is a sentence for whoever typed.
pub type Answer = fn(&Desk, &Path, &Path, &Value) -> Result<Value, String>;

/// What answers a request; `None` for a method that this server has not.
#[must_use]
pub fn of(method: &str) -> Option<Answer> {
    Some(match method {
        "textDocument/codeAction" => |desk, root, path, params| {
            let Some(range) = range(params) else { return Ok(json!([])) };
            Ok(on(desk, root, path, |page| Value::Array(fixes::of_range(page, root, range))))
        },
        "textDocument/documentSymbol" => |desk, root, path, _| Ok(on(desk, root, path, outline::symbols)),
        "textDocument/foldingRange" => |desk, root, path, _| Ok(on(desk, root, path, outline::folds)),
        "textDocument/formatting" => |desk, root, path, _| Ok(on(desk, root, path, formatting::edits)),
        "textDocument/definition" => {
            |desk, root, path, params| Ok(at(desk, root, path, params, names::definition))
        }
        "textDocument/references" => |desk, root, path, params| {
            let all = params.pointer("/context/includeDeclaration").and_then(Value::as_bool).unwrap_or(true);
            Ok(at(desk, root, path, params, |page, offset| names::references(page, offset, all)))
        },
        "textDocument/prepareRename" => |desk, root, path, params| {
            page(desk, root, path)
                .zip(position(params))
                .map_or(Ok(Value::Null), |(page, place)| names::prepare(&page, page.text.offset(place)))
        },
        "textDocument/rename" => |desk, root, path, params| {
            let new = params.get("newName").and_then(Value::as_str).unwrap_or_default();
            page(desk, root, path).zip(position(params)).map_or(Ok(Value::Null), |(page, place)| {
                names::rename(&page, root, page.text.offset(place), new)
            })
        },
        "textDocument/hover" => |desk, root, path, params| Ok(at(desk, root, path, params, hover::at)),
        "textDocument/completion" => {
            |desk, root, path, params| Ok(at(desk, root, path, params, completion::at))
        }
        "textDocument/semanticTokens/full" => |desk, root, path, _| Ok(on(desk, root, path, colours::all)),
        "textDocument/inlayHint" => |desk, root, path, params| {
            Ok(on(desk, root, path, |page| {
                hints::in_range(page, range(params).unwrap_or_else(|| page.text.whole()))
            }))
        },
        "textDocument/codeLens" => |desk, root, path, _| Ok(on(desk, root, path, lens::all)),
        _ => return None,
    })
}

fn page<'a>(desk: &'a Desk, root: &Path, path: &Path) -> Option<Leaf<'a>> {
    Leaf::new(desk, desk.book(root)?, path)
}

fn on(desk: &Desk, root: &Path, path: &Path, answer: impl FnOnce(&Leaf<'_>) -> Value) -> Value {
    page(desk, root, path).map_or(Value::Null, |page| answer(&page))
}

fn at(
    desk: &Desk,
    root: &Path,
    path: &Path,
    params: &Value,
    answer: impl FnOnce(&Leaf<'_>, usize) -> Value,
) -> Value {
    let Some(place) = position(params) else { return Value::Null };
    on(desk, root, path, |page| answer(page, page.text.offset(place)))
}

fn position(params: &Value) -> Option<Position> {
    serde_json::from_value(params.get("position")?.clone()).ok()
}

fn range(params: &Value) -> Option<Range> {
    serde_json::from_value(params.get("range")?.clone()).ok()
}
