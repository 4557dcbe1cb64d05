//! What a client's notifications say, as far as this server reads them.
//!
//! Addresses stay as they are written: a client may write one that is no address by the letter of RFC 3986, and its text is a text all the
//! same. Must not know what is made of any of it.

use lsp_types::Range;
use serde::Deserialize;

/// `textDocument/didOpen`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct Opened {
    /// The text.
    pub text_document: OpenedText,
}

/// A text that was opened.
#[derive(Debug, Deserialize)]
pub struct OpenedText {
    /// Its address.
    pub uri: String,
    /// Its version.
    pub version: i32,
    /// The whole of it.
    pub text: String,
}

/// `textDocument/didChange`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct Changed {
    /// The text as it is after the changes.
    pub text_document: VersionedText,
    /// The changes, each of the text that the one before left.
    pub content_changes: Vec<Change>,
}

/// A version of a text.
#[derive(Debug, Deserialize)]
pub struct VersionedText {
    /// Its address.
    pub uri: String,
    /// The version.
    pub version: i32,
}

/// One change.
#[derive(Debug, Deserialize)]
pub struct Change {
    /// What is replaced; the whole text where it is left out.
    #[serde(default)]
    pub range: Option<Range>,
    /// What stands there now.
    pub text: String,
}

/// `textDocument/didClose`.
#[derive(Debug, Deserialize)]
#[serde(rename_all = "camelCase")]
pub struct Closed {
    /// The text.
    pub text_document: Named,
}

/// `workspace/didChangeWorkspaceFolders`.
#[derive(Debug, Deserialize)]
pub struct Folders {
    /// What changed.
    pub event: FoldersChanged,
}

/// Roots that came and went.
#[derive(Debug, Deserialize)]
pub struct FoldersChanged {
    /// Those that came.
    pub added: Vec<Named>,
    /// Those that went.
    pub removed: Vec<Named>,
}

/// A text or a folder, by its address alone.
#[derive(Debug, Deserialize)]
pub struct Named {
    /// The address.
    pub uri: String,
}
