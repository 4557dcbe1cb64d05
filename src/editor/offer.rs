//! What the server says it can do.
//!
//! Must not know how.

use serde_json::{Value, json};

/// The answer to `initialize`.
#[must_use]
pub fn answer() -> Value {
    json!({
        "capabilities": {
            "positionEncoding": "utf-16",
            "textDocumentSync": { "openClose": true, "change": 2, "save": {} },
            "codeActionProvider": { "codeActionKinds": ["quickfix"] },
            "documentSymbolProvider": true,
            "foldingRangeProvider": true,
            "documentFormattingProvider": true,
            "definitionProvider": true,
            "referencesProvider": true,
            "renameProvider": { "prepareProvider": true },
            "hoverProvider": true,
            "completionProvider": { "triggerCharacters": [" "] },
            "semanticTokensProvider": {
                "legend": { "tokenTypes": super::colours::SORTS, "tokenModifiers": [] },
                "full": true,
            },
            "inlayHintProvider": true,
            "codeLensProvider": {},
            "executeCommandProvider": { "commands": [super::pages::COMMAND] },
            "workspace": { "workspaceFolders": { "supported": true, "changeNotifications": true } },
        },
        "serverInfo": { "name": "stringline", "version": env!("CARGO_PKG_VERSION") },
    })
}
